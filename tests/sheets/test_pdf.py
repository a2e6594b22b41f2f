"""The PDF: tagged, with bookmarks, of the right size, the same every time, and harmless whatever somebody wrote."""

import io
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pytest

from loomwright.errors import RenderError
from loomwright.papers.blocks import Block, Face, Heading, Paper, Paragraph, Picture, Step, Table
from loomwright.papers.drawings import WiringPlan
from loomwright.sheets import render
from loomwright.sheets.pdf import PageName, render_pdf
from tests.sheets.leaves import squeezed, texts_of
from tests.sheets.sample import long_guide, nasty, sample


def _open(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data))


@cache
def _printed(make: Callable[[], Paper], page: PageName = "a4") -> bytes:
    """Return a paper of the sample as it is printed, typeset once for all tests that look at it."""
    return render_pdf(make(), page)


def _tags(node: Any) -> Iterator[Any]:
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        for child in node:
            yield from _tags(child)
    elif isinstance(node, dict):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from _tags(node["/K"])


def _outline(items: Any) -> Iterator[str]:
    for item in items:
        if isinstance(item, list):
            yield from _outline(item)
        else:
            yield str(item.title)


@pytest.mark.parametrize(
    ("page", "points"),
    [
        # Source: ISO 216, A4 is 210 mm by 297 mm; US Letter is 8.5 in by 11 in; a point is 1/72 in.
        ("a4", (595.28, 841.89)),
        ("us-letter", (612.0, 792.0)),
    ],
)
def test_page_sizes(page: PageName, points: tuple[float, float]) -> None:
    for sheet in _open(_printed(sample, page)).pages:
        assert float(sheet.mediabox.width) == pytest.approx(points[0], abs=0.05)
        assert float(sheet.mediabox.height) == pytest.approx(points[1], abs=0.05)


def test_it_is_tagged_titled_and_has_a_language() -> None:
    # Source: ISO 14289-1 (PDF/UA-1): tagged, document title shown, language set, figures with alternate text.
    reader = _open(_printed(sample))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or bool(root["/MarkInfo"]["/Marked"])
    assert str(root["/Lang"]).startswith("en")
    assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
    assert reader.metadata is not None
    assert reader.metadata.title == "Fitting the North Wind kit"
    assert "pdfuaid" in root["/Metadata"].get_object().get_data().decode("utf-8")
    tags = list(_tags(root["/StructTreeRoot"]))
    kinds = {str(tag["/S"]) for tag in tags}
    assert {"/H1", "/H2", "/Table", "/TH", "/L", "/Figure", "/P"} <= kinds
    figures = [tag for tag in tags if str(tag["/S"]) == "/Figure"]
    assert figures
    assert all(str(figure.get("/Alt", "")) for figure in figures)


def test_bookmarks_lead_to_every_heading_and_step() -> None:
    titles = list(_outline(_open(_printed(sample)).outline))
    for wanted in (
        "Before you start",
        "Is this your car?",
        "Disconnect the battery",
        "Test the brake input",
        "Wiring plan",
    ):
        assert wanted in titles


def test_every_text_of_the_paper_is_in_it() -> None:
    document = pypdfium2.PdfDocument(_printed(sample))
    said = squeezed("".join(page.get_textpage().get_text_bounded() for page in document))
    # Within a step paper shows a plug from one side, the one that the person sees.
    turned = {block.face.words_turned for block in sample().blocks if isinstance(block, Step) and block.face}
    missing = [text for text in texts_of(sample()) if squeezed(text) not in said and text not in turned]
    # An ordinary line of a paper may be broken by the next column in the reading order of the plain text.
    assert [text for text in missing if not _in_words(text, said)] == []


def _in_words(text: str, said: str) -> bool:
    return all(squeezed(word) in said for word in text.split())


def test_each_page_says_what_it_belongs_to_and_how_many_there_are() -> None:
    document = pypdfium2.PdfDocument(_printed(sample))
    count = len(document)
    for number, page in enumerate(document, start=1):
        text = page.get_textpage().get_text_bounded()
        assert f"page {number} of {count}" in text
        assert "installation 7f3a91c2" in text
        assert "kit north-wind rev 3" in text


def _pages(make: Callable[[], Paper]) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(_printed(make))]


def test_a_short_step_stands_on_one_page_with_its_cautions() -> None:
    for make in (sample, long_guide):
        pages = _pages(make)
        for first, last in (("Wear eye protection", "stop and call"), ("Only outdoors", "Do not use the kit")):
            found = [text for text in pages if first in text]
            assert found
            for page in found:
                assert last in squeezed(page) or last in " ".join(page.split())
                assert page.index(first) < " ".join(page.split()).index(last) + len(page)


def test_a_long_step_keeps_its_title_with_its_cautions_its_picture_and_what_speaks_of_it() -> None:
    for text in (page for page in _pages(long_guide) if "Find the parking-light wire" in page):
        if "Leave yellow-sleeved" in text:
            assert "Body module plug A" in text
            assert "Upper row, third place from the right" in " ".join(text.split())
    assert sum("Leave yellow-sleeved" in text for text in _pages(long_guide)) == 4


def test_a_part_does_not_begin_in_the_last_third_of_a_page() -> None:
    filler = tuple(Paragraph(text=(f"Line {i} of some text.",)) for i in range(40))
    for count in (30, 34, 38, 40):
        blocks: tuple[Block, ...] = (*filler[:count], Heading(text="The next part", level=1), *filler[:12])
        document = pypdfium2.PdfDocument(
            render_pdf(Paper(id="x", title="T", subtitle="", language="en", blocks=blocks))
        )
        for sheet in document:
            text = sheet.get_textpage()
            place = text.get_text_bounded().find("The next part")
            if place >= 0:
                assert text.get_charbox(place)[1] > 297 / 25.4 * 72 / 4


def test_a_row_of_a_table_stays_on_one_page() -> None:
    cell = "some words that take several lines in a narrow column"
    rows = tuple(((f"first{i}",), (cell,), (f"{cell} last{i}",)) for i in range(60))
    table = Table(head=("A", "B", "C"), rows=rows, widths=(4, 1, 1))
    paper = Paper(id="x", title="T", subtitle="", language="en", blocks=(table,))
    pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(render_pdf(paper))]
    assert len(pages) > 3
    for i in range(60):
        (page,) = [text for text in pages if f"first{i}" in text.split()]
        assert f"last{i}" in squeezed(page)


@pytest.mark.parametrize("page", ["a4", "us-letter"])
def test_two_renders_are_the_same_bytes(page: PageName) -> None:
    assert render_pdf(sample(), page) == _printed(sample, page)


@pytest.mark.parametrize("page", ["a4", "us-letter"])
def test_hostile_text_is_set_as_text_and_stays_on_the_paper(page: PageName) -> None:
    document = pypdfium2.PdfDocument(render_pdf(nasty(), page))
    said = "".join(sheet.get_textpage().get_text_bounded() for sheet in document)
    assert "#pagebreak()" in said
    assert "$x^2$" in squeezed(said)
    assert "@ref" in said
    assert "*b*" in said
    for sheet in document:
        width, height = sheet.get_size()
        text = sheet.get_textpage()
        for i in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(i)
            # The footer is clipped where it is too long; everything else keeps to the paper.
            assert left >= 0
            assert right <= width + 0.5
            assert top <= height + 0.5 or bottom < 60


def test_what_the_typesetter_refuses_names_the_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("loomwright.sheets.pdf._template", lambda: b"#panic([no])")
    with pytest.raises(RenderError, match="paper 'guide': the typesetter refused it"):
        render_pdf(sample())


def test_a_warning_of_the_typesetter_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        "loomwright.sheets.pdf._template",
        lambda: b'#set document(title: "t")\n#set text(font: "No Such Font", lang: "en")\n= x',
    )
    with pytest.raises(RenderError, match="paper 'guide': the typesetter warned: unknown font family"):
        render_pdf(sample())


def test_black_and_white_print_keeps_pins_apart() -> None:
    """In grey the swatches of the plan still differ: brown/white, light blue and dark green are told by their hatch."""
    document = pypdfium2.PdfDocument(_printed(sample))
    grey = document[len(document) - 2].render(scale=2, grayscale=True).to_pil()
    assert grey.mode == "L"
    histogram = grey.histogram()
    assert sum(histogram[:60]) > 1000
    assert sum(histogram[90:180]) > 1000


def test_the_paper_size_of_render() -> None:
    assert render(sample(), "a4") == _printed(sample, "a4")
    assert render(sample(), "letter") == _printed(sample, "us-letter")
    with pytest.raises(ValueError, match="found form 'docx', expected html, a4, letter or text"):
        render(sample(), "docx")  # type: ignore[arg-type]


def test_the_sample_holds_every_kind_of_block() -> None:
    kinds = {type(block).__name__ for block in sample().blocks}
    assert kinds == {"Heading", "Paragraph", "Bullets", "Caution", "Face", "Picture", "ReadingField", "Step", "Table"}
    steps = [block for block in sample().blocks if isinstance(block, Step)]
    assert any(isinstance(step.face, Face) for step in steps)
    assert any(isinstance(step.picture, Picture) for step in steps)
    assert any(isinstance(block, Picture) and isinstance(block.drawing, WiringPlan) for block in sample().blocks)


def _with_footer(text: str) -> Paper:
    return replace(sample(), footer=(text,))


@pytest.mark.parametrize("page", ["a4", "us-letter"])
@pytest.mark.parametrize(
    "call",
    [
        "Stuck? Call 555-0142.",
        "Stuck? Harness Bench: bench line 555-0142, Monday to Friday from 9 to 17, Saturday from 9 to 12; have the"
        " serial number of the kit at hand. Tell the number of the step and both readings.",
    ],
)
def test_whom_to_call_stands_below_the_rule_of_every_page_and_on_the_page(page: PageName, call: str) -> None:
    document = pypdfium2.PdfDocument(render_pdf(_with_footer(call), page))
    assert len(document) > 3
    for sheet in document:
        text = sheet.get_textpage()
        assert squeezed(call) in squeezed(text.get_text_bounded())
        boxes = [text.get_charbox(i) for i in range(text.count_chars()) if text.get_text_range(i, 1).strip()]
        assert min(bottom for _, bottom, _, _ in boxes) > 14.2  # points: most printers leave 5 mm white
        # No letter lies on the rule above the foot, which is the lowest line across the page.
        picture = np.asarray(sheet.render(scale=2).to_pil().convert("L"))
        height, width = picture.shape
        dark = [y for y in range(height * 7 // 8, height) if (picture[y] < 160).sum() > 0.7 * width]
        rule_pt = (height - max(dark)) / 2
        assert not any(bottom - 0.5 < rule_pt < top + 0.5 for _, bottom, _, top in boxes)


def test_a_step_that_fits_a_page_is_on_one_page_with_its_readings() -> None:
    step = next(block for block in sample().blocks if isinstance(block, Step) and block.readings and block.face)
    rows = [
        f"Line {i} of a text that fills the page from its top, so that the step would begin low." for i in range(28)
    ]
    for fill in (4, 12, 20, 28):
        blocks: tuple[Block, ...] = (
            Heading(text="Part", level=1), *(Paragraph(text=(row,)) for row in rows[:fill]),
            replace(step, id="one"), replace(step, id="two"),
        )  # fmt: skip
        pages = [
            squeezed(sheet.get_textpage().get_text_bounded())
            for sheet in pypdfium2.PdfDocument(render_pdf(replace(sample(), blocks=blocks), "a4"))
        ]
        started = [
            i for i, page in enumerate(pages) if squeezed(step.see[0] if isinstance(step.see[0], str) else "") in page
        ]
        ended = [i for i, page in enumerate(pages) if squeezed(step.unproven or "") in page]
        assert len(started) >= 1
        assert started == ended
