"""The pictures of the first page: there, small, described, and made by the tool itself."""

import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from tests.docs.pages import ROOT
from tools import pictures


def _width(path: Path) -> int:
    return Image.open(io.BytesIO(path.read_bytes())).width


_README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_every_picture_is_shown_and_none_is_left_over() -> None:
    shown = re.findall(r"!\[[^\]]*\]\(docs/pictures/([^)]+)\)", _README)
    assert sorted(shown) == sorted(pictures.PICTURES) == sorted(p.name for p in pictures.FOLDER.iterdir())


def test_every_picture_is_described_for_those_who_do_not_see_it() -> None:
    words = re.findall(r"!\[([^\]]*)\]", _README)
    assert len(words) == len(pictures.PICTURES)
    assert all(len(w.split()) > 8 for w in words)


@pytest.mark.parametrize("name", pictures.PICTURES)
def test_a_picture_is_small_and_sharp(name: str) -> None:
    content = (pictures.FOLDER / name).read_bytes()
    assert len(content) < pictures.LARGEST
    image = Image.open(io.BytesIO(content))
    assert image.format == "PNG"
    assert min(image.size) >= 600
    colours = image.convert("RGB").getcolors(1 << 24)
    assert colours is not None
    assert len(colours) > 8, "the picture is nearly empty"


def test_the_pictures_can_be_made_again(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    needs_program: Callable[[str], str],
) -> None:
    monkeypatch.setenv("CHROMIUM", needs_program("chromium"))
    monkeypatch.setattr(pictures, "FOLDER", tmp_path)
    assert pictures.main() == 0
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(pictures.PICTURES)
    for name in pictures.PICTURES:
        # The width is chosen; the height follows from what is drawn.
        assert _width(tmp_path / name) == _width(ROOT / "docs" / "pictures" / name), name
    assert capsys.readouterr().out.count("kB") == len(pictures.PICTURES)
