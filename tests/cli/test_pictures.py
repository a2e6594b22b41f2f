"""Photographs beside the documents, from the file to the guide, and what is told of one that cannot be used."""

import base64
import io
import re
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from loomwright.cli.main import BAD_INPUT, OK, main
from loomwright.documents.demo import demo_files

_V6 = ("--with", "year=2014", "body=sedan", "engine=3.3", "trim=touring")
_LINES = (
    "    photo: {file: photos/plug-a.jpg, shows: The white plug in its place.}\n"
    "    video: {link: 'https://films.example/kick-panel', at: '3:25', shows: How the kick panel comes off.}\n"
)


def _jpeg(size: tuple[int, int] = (400, 200)) -> bytes:
    """A picture that the camera took lying on its side, black where its upper half is."""
    picture = Image.new("RGB", size, "white")
    picture.paste("black", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    # Source: Exif 2.32, table of the attributes of IFD0: 0x010E is the description, 0x0112 the orientation, of which 6
    # says that the row 0 of the data is the right side of the scene.
    exif[0x010E] = "taken in the yard"
    exif[0x0112] = 6
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    root = tmp_path / "shop"
    for name, text in demo_files().items():
        if name == "vehicles/kestrin-fallow.yaml":
            text = text.replace("  - id: body-a\n", f"  - id: body-a\n{_LINES}", 1)  # noqa: PLW2901
        file = root / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    (root / "vehicles/photos").mkdir()
    return root


def _call(shop: Path, command: str, *more: str) -> int:
    pair = (str(shop / "vehicles/kestrin-fallow.yaml"), str(shop / "kits/rookery-4.yaml"))
    return main([command, *pair, *_V6, *more])


def test_a_photograph_and_a_film_reach_phone_and_paper(shop: Path, tmp_path: Path) -> None:
    (shop / "vehicles/photos/plug-a.jpg").write_bytes(_jpeg((4000, 2000)))
    assert _call(shop, "write", "--out", str(tmp_path / "out")) == OK
    page = (tmp_path / "out/guide.html").read_text(encoding="utf-8")
    (uri,) = re.findall(r'<img src="data:image/jpeg;base64,([^"]+)" alt="The white plug in its place\."', page)
    with Image.open(io.BytesIO(base64.b64decode(uri))) as shown:
        assert shown.size == (450, 900), "stood upright, and made smaller"
        top, foot = shown.convert("L").getpixel((225, 100)), shown.convert("L").getpixel((225, 800))
        assert (top, foot) == (0, 255)
        assert not shown.getexif(), "what the camera wrote stays out of the paper"
    assert "taken in the yard" not in base64.b64decode(uri).decode("latin-1")
    assert '<a href="https://films.example/kick-panel#t=205"' in page
    pages = pypdfium2.PdfDocument(str(tmp_path / "out/guide-a4.pdf"))
    (where,) = [i for i in range(len(pages)) if "kick-panel#t=205" in pages[i].get_textpage().get_text_bounded()]
    assert "The white plug in its place." in pages[where].get_textpage().get_text_bounded()
    read = zxingcpp.read_barcodes(pages[where].render(scale=3).to_pil())
    assert [code.text for code in read] == ["https://films.example/kick-panel#t=205"]
    plan = pypdfium2.PdfDocument(str(tmp_path / "out/wiring-plan-a4.pdf"))
    missing = "".join(page.get_textpage().get_text_bounded() for page in plan)
    assert "The body-module plug A in its place" not in missing.replace("\r\n", " ")
    assert "The brake-switch plug in its place" in missing.replace("\r\n", " ")


def test_the_same_documents_give_the_same_guide(shop: Path, tmp_path: Path) -> None:
    (shop / "vehicles/photos/plug-a.jpg").write_bytes(_jpeg())
    for out in ("one", "two"):
        assert _call(shop, "write", "--out", str(tmp_path / out)) == OK
    for name in ("guide.html", "guide-a4.pdf"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def _refused(shop: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """Return what `check` and `write` tell alike, without the place; nothing is written."""
    assert main(["check", str(shop / "vehicles/kestrin-fallow.yaml")]) == BAD_INPUT
    checked = capsys.readouterr().err
    assert _call(shop, "write", "--out", str(shop / "out")) == BAD_INPUT
    assert capsys.readouterr().err == checked
    assert not (shop / "out").exists()
    lines = (shop / "vehicles/kestrin-fallow.yaml").read_text(encoding="utf-8").split("\n")
    line = 1 + lines.index(_LINES.split("\n", maxsplit=1)[0])
    place = re.match(rf"\S+kestrin-fallow\.yaml:{line}: plugs\[body-a\]\.photo\.file: (.*)\n", checked)
    assert place is not None, checked
    return place[1]


def test_a_photograph_that_is_not_there_is_told(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _refused(shop, capsys) == (
        "found 'photos/plug-a.jpg', no such file, expected a picture beside the document; "
        "correct the name, or put the picture there"
    )


@pytest.mark.parametrize(
    "content", [b"", b"<svg/>", b"\xff\xd8\xff\xe0 no picture", _jpeg()[:200], b"GIF89a" + bytes(40)],
    ids=["empty", "drawing", "only its first bytes", "cut off", "another kind"],
)  # fmt: skip
def test_what_is_no_picture_is_told(content: bytes, shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "vehicles/photos/plug-a.jpg").write_bytes(content)
    assert _refused(shop, capsys).startswith(
        "found 'photos/plug-a.jpg', a file that is no whole picture, expected a JPEG or PNG picture; "
    )


def test_a_link_out_of_the_folder_is_told(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "mine.jpg").write_bytes(_jpeg())
    (shop / "vehicles/photos/plug-a.jpg").symlink_to(tmp_path / "mine.jpg")
    assert "a link that leads out of the folder, expected a picture beside the document" in _refused(shop, capsys)


def test_a_picture_that_unfolds_to_too_many_dots_is_told(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = io.BytesIO()
    Image.new("1", (10_000, 10_000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    (shop / "vehicles/photos/plug-a.jpg").write_bytes(out.getvalue())
    assert "a picture of 10000 by 10000 dots, expected at most 80 million" in _refused(shop, capsys)


def test_a_file_that_is_too_large_is_told_before_it_is_read(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with (shop / "vehicles/photos/plug-a.jpg").open("wb") as stream:
        stream.truncate(40_000_000)
    assert "a picture of 40 MB, expected at most 25 MB" in _refused(shop, capsys)
