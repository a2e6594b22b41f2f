"""Every sheet says which kit, car and installation it belongs to, what it was made from, and by which version."""

from collections.abc import Mapping
from functools import cache

import pypdfium2
import pytest

from loomwright import __version__
from loomwright.documents.reading import FORMAT
from loomwright.papers.blocks import Paper
from loomwright.papers.whole_set import whole_set
from loomwright.sheets import render
from tests.pairs import PAIRS
from tests.papers.builders import Built, built_pair

pairs = pytest.mark.parametrize("pair", PAIRS, ids="-".join)


@cache
def _set(pair: tuple[str, str]) -> Mapping[str, Paper]:
    made = built_pair(pair)
    return whole_set(made.installation, made.proof, made.readings, made.shop, {"tool": f"Loomwright {__version__}"})


def _marks(made: Built) -> dict[str, str]:
    return {
        "kit": made.kit.name, "revision": made.kit.revision, "car": made.job.car.name,
        "installation": made.installation.id, "documents": f"format {FORMAT}", "tool": f"Loomwright {__version__}",
    }  # fmt: skip


@pairs
def test_every_sheet_names_kit_installation_documents_and_tool(pair: tuple[str, str]) -> None:
    made, papers = built_pair(pair), _set(pair)
    assert len(papers) >= 6
    for name, paper in papers.items():
        assert dict(paper.marks) == _marks(made), name
        page = render(paper, "html").decode()
        text = render(paper, "text").decode()
        for key, value in _marks(made).items():
            assert f"<dt>{key}</dt><dd>{value}</dd>" in page, (name, key)
            assert f"{key}: {value}" in text, (name, key)


@pytest.mark.parametrize("form", ["a4", "letter"])
def test_every_printed_page_has_them_at_its_foot(form: str) -> None:
    made, papers = built_pair(PAIRS[0]), _set(PAIRS[0])
    for name, paper in papers.items():
        for page in pypdfium2.PdfDocument(render(paper, form)):  # type: ignore[arg-type]
            said = " ".join(page.get_textpage().get_text_bounded().split())
            for key, value in _marks(made).items():
                assert f"{key} {value}" in said, (name, key)


def test_another_document_gives_another_installation_mark() -> None:
    ids = [built_pair(pair).installation.id for pair in PAIRS]
    assert len(set(ids)) == len(ids)
