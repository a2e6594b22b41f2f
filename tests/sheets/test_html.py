"""The web page: whole, well formed, without a way out, and harmless whatever somebody wrote."""

import base64
import hashlib
import re
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from loomwright.papers.blocks import Caution, Heading, Paper, Paragraph, Step, StepNeeds
from loomwright.sheets import render
from loomwright.sheets.html import render_html
from tests.sheets.leaves import squeezed, texts_of
from tests.sheets.sample import NASTY, long_guide, nasty, sample

# Source: HTML Living Standard, "Void elements".
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
_SVG_SELF_CLOSED = {"path", "rect", "circle", "line", "ellipse", "polygon", "g", "text", "tspan", "use"}


class _Reader(HTMLParser):
    """Reads a page strictly: every element is closed by its own end tag."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.faults: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if len({name for name, _ in attrs}) != len(attrs):
            self.faults.append(f"{tag} has an attribute twice")
        if tag not in _VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in _SVG_SELF_CLOSED:
            self.faults.append(f"{tag} is closed in its own tag")

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open[-1] != tag:
            self.faults.append(f"</{tag}> closes {self.open[-1:]}")
        else:
            self.open.pop()

    def handle_data(self, data: str) -> None:
        where = {"script": self.scripts, "style": self.styles}.get(self.open[-1] if self.open else "", self.text)
        where.append(data)


def _read(page: bytes) -> _Reader:
    reader = _Reader()
    reader.feed(page.decode("utf-8"))
    reader.close()
    return reader


@pytest.mark.parametrize("paper", [sample(), nasty(), long_guide()], ids=["sample", "nasty", "long"])
def test_the_page_is_well_formed_and_its_ids_are_unique(paper: Paper) -> None:
    reader = _read(render_html(paper))
    assert reader.faults == []
    assert reader.open == []
    ids = [attributes["id"] for _, attributes in reader.elements if "id" in attributes]
    assert len(ids) == len(set(ids))


def test_every_text_of_the_paper_is_on_the_page() -> None:
    paper = sample()
    said = squeezed("".join(_read(render_html(paper)).text))
    assert [text for text in texts_of(paper) if squeezed(text) not in said] == []


def test_links_lead_to_places_of_the_page_and_nothing_is_fetched() -> None:
    reader = _read(render_html(nasty()))
    ids = {attributes.get("id") for _, attributes in reader.elements}
    for tag, attributes in reader.elements:
        assert not {"src", "srcset", "data", "action", "formaction", "poster", "background"} & attributes.keys(), tag
        assert tag not in {"link", "img", "iframe", "object", "embed", "base", "form", "image"}
        if "href" in attributes:
            assert (attributes["href"] or "")[:1] == "#"
            assert (attributes["href"] or "")[1:] in ids
        for name, value in attributes.items():
            assert not name.startswith("on"), f"{tag} has {name}"
            assert name != "style", f"{tag} has a style of its own, which its policy forbids"
            if name != "xmlns":
                assert "http:" not in (value or "")
                assert "https:" not in (value or "")
    assert not re.search(r"url\(|@import", "".join(reader.styles))
    assert not re.search(r"fetch\(|XMLHttpRequest|import\(|WebSocket|sendBeacon|https?:", "".join(reader.scripts))


def test_the_policy_names_exactly_the_style_and_script_of_the_page() -> None:
    reader = _read(render_html(sample()))
    (policy,) = [a["content"] for tag, a in reader.elements if a.get("http-equiv") == "Content-Security-Policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in (policy or "").split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["img-src"] == "data:"
    assert len(reader.scripts) == len(reader.styles) == 1
    # Source: W3C, Content Security Policy Level 3, section 2.3.1: 'sha256-' and the base64 of the SHA-256.
    for rule, content in (("style-src", reader.styles[0]), ("script-src", reader.scripts[0])):
        assert rules[rule] == f"'sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}'"


def test_hostile_text_stays_text() -> None:
    reader = _read(render_html(nasty()))
    assert len(reader.scripts) == 1
    assert "alert(1)" not in reader.scripts[0]
    said = "".join(reader.text)
    assert said.count("<script>alert(1)</script> </style> & \" ' #pagebreak()") > 100
    assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\u202a-\u202e\u2066-\u2069\ufffe\uffff]", said)
    assert NASTY.count("\u202e") == 1


def test_headings_begin_with_one_title_and_skip_no_level() -> None:
    levels = [int(tag[1]) for tag, _ in _read(render_html(sample())).elements if re.fullmatch("h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_cautions_stand_before_the_number_of_their_step() -> None:
    page = render_html(sample()).decode()
    section = page[page.index('id="step-battery-off"') : page.index('id="step-ground"')]
    assert section.index("WARNING") < section.index("NOTICE") < section.index('class="number">1<')
    # A caution that stands alone before a step belongs to its screen too.
    section = page[page.index('id="step-brake"') : page.index('id="step-tap"')]
    assert section.index("yellow-sleeved") < section.index('class="number">3<')


def test_signal_words_differ_in_word_border_and_sign() -> None:
    # Source: ANSI Z535.6: the alert symbol goes with danger, warning and caution; notice, about property, has none.
    page = render_html(sample()).decode()
    for word in ("danger", "warning", "caution"):
        assert re.search(
            rf'class="safety {word}" role="note"><div class="signal"><svg[^>]*>.*?</svg><span>{word.upper()}<', page
        )
    assert re.search(r'class="safety notice" role="note"><div class="signal"><span>NOTICE<', page)
    style = page[page.index("<style>") : page.index("</style>")]
    borders = [
        re.search(rf"\.safety\.{word} \{{ ([^}}]*)\}}", style) for word in ("danger", "warning", "caution", "notice")
    ]
    assert len({found[1] if found else None for found in borders}) == 4


def test_drawings_have_a_title_and_a_role() -> None:
    page = render_html(sample()).decode()
    drawings = re.findall(r"<svg [^>]*>.{0,40}", page)
    assert len(drawings) > 20
    assert sum("<title>" in start for start in drawings) > 15
    for start in drawings:
        assert 'aria-hidden="true"' in start or ('role="img"' in start and "<title>" in start), start


def test_a_plug_is_on_the_page_once_for_all_its_marked_pins() -> None:
    reader = _read(render_html(long_guide()))
    shown = [attributes["href"] for tag, attributes in reader.elements if tag == "use"]
    assert shown
    # The same two plugs are shown in every copy of the steps, each from two sides.
    page = render_html(long_guide()).decode()
    shapes = re.findall(r'<g id="(D\d+)">(.*?)(?=<g id="[DT]|</defs>)', page, re.DOTALL)
    plugs = {name for name, marks in shapes if ">20</text>" in marks or ">6</text>" in marks}
    assert len(plugs) == 4
    assert sum(shown.count(f"#{name}") for name in plugs) >= 16


def test_a_caution_given_before_in_a_part_is_brief_but_whole() -> None:
    caution = Caution(word="WARNING", text=("Mind the fan.",))
    blocks = (
        Heading(text="One", level=1), caution, Paragraph(text=("Text.",)), caution, Heading(text="Two", level=1),
        caution,
    )  # fmt: skip
    page = render_html(Paper(id="x", title="T", subtitle="", language="en", blocks=blocks)).decode()
    looks = re.findall(r'<div class="(safety [^"]*)" role="note">', page)
    assert looks == ["safety warning", "safety warning brief", "safety warning"]
    assert page.count("Mind the fan.") == 3
    assert page.count("WARNING") == 3


def test_the_way_to_a_place_still_open_can_be_unfolded() -> None:
    def step(name: str) -> Step:
        return Step(
            id=name, title=name, kind="measure", needs=StepNeeds(battery="on", key="out", panel="kick panel"),
            place="left of the pedals", access=("Pull the panel.",), do=(("do",),), see=("see",), if_not=("not",),
        )  # fmt: skip

    blocks = (step("first"), step("second"))
    page = render_html(Paper(id="x", title="T", subtitle="", language="en", blocks=blocks)).decode()
    first, second = page[page.index('id="step-first"') :].split('id="step-second"')
    assert "<details" not in first
    assert '<details class="still"><summary>still open: kick panel</summary>' in second
    assert "Pull the panel." in first
    assert "Pull the panel." in second


def test_a_quantity_keeps_its_trace() -> None:
    page = render_html(sample()).decode()
    assert '<span class="quantity" data-trace="minutes:sample">3.5\u00a0h</span>' in page


def test_language_and_direction() -> None:
    paper = Paper(id="x", title="ترکیب", subtitle="", language="ar", blocks=(Paragraph(text=("نص",)),))
    page = render_html(paper).decode()
    assert '<html lang="ar" dir="rtl">' in page
    assert '<html lang="en" dir="ltr">' in render_html(sample()).decode()


def test_a_paper_without_marks_steps_or_blocks() -> None:
    assert _read(render_html(Paper(id="x", title="T", subtitle="", language="en"))).faults == []
    only = Paper(id="x", title="T", subtitle="", language="en", blocks=(Heading(text="Alone", level=3),))
    assert "<h2" in render_html(only).decode()


def test_two_renders_are_the_same_bytes() -> None:
    assert render(sample(), "html") == render(sample(), "html")


def test_whom_to_call_stands_once_on_the_page_below_all_its_parts() -> None:
    page = render_html(replace(sample(), footer=("Stuck? Call 555-0142 & tell <both>.",))).decode()
    assert page.count("Stuck? Call 555-0142 &amp; tell &lt;both&gt;.") == 1
    assert page.index("</main>") < page.index("Stuck?")
    assert 'class="call"' not in render_html(sample()).decode()


def test_short_texts_share_a_screen_and_long_ones_do_not() -> None:
    def screens(letters: int) -> int:
        blocks = [
            block
            for i in range(3)
            for block in (Heading(text=f"Heading {i}", level=2 if i else 1), Paragraph(text=("x" * letters,)))
        ]
        return render_html(replace(sample(), blocks=tuple(blocks))).decode().count('class="part"')

    front = 1
    assert screens(60) == front + 1
    assert screens(900) == front + 3
