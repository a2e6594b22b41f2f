"""The wiring plan and the map of the footwell: nothing written lies over anything else, whatever is written."""

import re
from math import hypot
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.papers.drawings import DashSpot, WiringPart, WiringPlan, WiringRow
from loomwright.sheets.lettering import Box, break_lines
from loomwright.sheets.part_symbols import relay_marks
from loomwright.sheets.svg import text_width
from loomwright.sheets.underdash import draw_underdash, spread_spots
from loomwright.sheets.wire_swatch import colour_codes, draw_swatch, split_colour
from loomwright.sheets.wiring import DrawnRow, draw_wiring
from tests.sheets.sample import NASTY, plan_rows, spots

SVG = "{http://www.w3.org/2000/svg}"
_WIDTHS = (90.0, 178.0, 183.9)


def _faults(row: DrawnRow, width: float) -> list[str]:
    faults = [
        f"{a.words!r} meets {b.words!r}" for i, a in enumerate(row.boxes) for b in row.boxes[i + 1 :] if a.meets(b)
    ]
    height = float(re.search(r'viewBox="0 0 \S+ (\S+)"', row.svg)[1])  # type: ignore[index]
    for box in row.boxes:
        if box.x < -0.01 or box.x + box.width > width + 0.01 or box.y < -0.01 or box.y + box.height > height + 0.01:
            faults.append(f"{box.words!r} leaves the drawing: {box}")
    return faults


@pytest.mark.parametrize("width", _WIDTHS)
def test_nothing_of_the_sample_overlaps(width: float) -> None:
    rows = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=width)
    assert len(rows) == len(plan_rows())
    assert [fault for row in rows for fault in _faults(row, width)] == []


_WORDS = st.one_of(st.text(max_size=60), st.sampled_from(["", NASTY, "ignition, feeds the engine computer", "H1/3"]))
_COLOURS = st.sampled_from(["", "light blue", "pink", "no colour anybody knows"])
_PARTS = st.builds(
    WiringPart,
    pattern=st.sampled_from(["relay inverts", "relay boosts", "relay grounds", "diode", "resistor", "fuse"]),
    name=_WORDS,
    fed_from=st.one_of(st.none(), _WORDS),
    band=st.sampled_from(["vehicle", "kit"]),
)
_ROWS = st.builds(
    WiringRow,
    task=_WORDS,
    joint=st.sampled_from(
        ["tap", "T tapped", "T interrupted", "plug", "ground point", "added part", "bus", "setting", "none"]
    ),
    terminal=_WORDS,
    label=_WORDS,
    lead_colour=_COLOURS,
    lead_stripe=st.one_of(st.none(), st.just("black")),
    parts=st.lists(_PARTS, max_size=5).map(tuple),
    wire_colour=_COLOURS,
    plug=_WORDS,
    pin=_WORDS,
    function=_WORDS,
    place=_WORDS,
    end=st.sampled_from(["", "switch side", "load side"]),
    unproven=st.booleans(),
    note=_WORDS,
)


@settings(max_examples=60, deadline=None)
@given(row=_ROWS, width=st.sampled_from(_WIDTHS))
def test_nothing_overlaps_whatever_is_written(row: WiringRow, width: float) -> None:
    (drawn,) = draw_wiring(WiringPlan(rows=(row,)), width_mm=width)
    assert _faults(drawn, width) == []
    ElementTree.fromstring(drawn.svg)


def test_a_row_says_itself_in_words() -> None:
    rows = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=178)
    assert rows[3].words == (
        "Parking lights: H3/2 light output, negative [PARK (-)] white/blue → Fuse F3 → Relay K2 → tap onto the wire → "
        "brown/white, Body module plug A / 3, parking lights, left of the column, above the knee panel. "
        "Both parking-light circuits hang on this wire."
    )
    assert f"<title>{rows[0].words}</title>" in rows[0].svg


def test_a_relay_has_its_terminal_numbers() -> None:
    # Source: DIN 72552 (from memory): 85 and 86 are the ends of a relay's winding, 30 its input, 87 its output.
    row = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=178)[3].svg
    assert set(re.findall(r">(30|85|86|87)<", row)) == {"30", "85", "86", "87"}


@pytest.mark.parametrize(
    ("pattern", "fed_from", "coil_end", "grounds"),
    [
        # Common practice: which end of the coil the kit drives follows from the sign of its output.
        ("relay inverts", "feed", "85", 0),
        ("relay boosts", "feed", "86", 1),
        ("relay grounds", "feed", "85", 1),
        ("relay grounds", None, "86", 1),
    ],
)
def test_a_relay_is_drawn_as_it_is_wired(pattern: str, fed_from: str | None, coil_end: str, grounds: int) -> None:
    part = WiringPart(pattern=pattern, name="K1", fed_from=fed_from)  # type: ignore[arg-type]
    marks = relay_marks(0.0, 30.0, part)
    at = {word: float(y) for mark in marks for y, word in re.findall(r'<text x="\S+" y="(\S+)".*>(85|86)<', mark)}
    # The lower end is the one the kit's lead comes to.
    assert max(at, key=lambda word: at[word]) == coil_end
    # A ground sign is three bars, the longest 4.8 mm.
    assert sum(1 for mark in marks if re.search(r'stroke-width="0.5"', mark) and "<line" in mark) == 3 * grounds


def test_a_plan_too_narrow_is_refused() -> None:
    with pytest.raises(ValueError, match="found a width of 60 mm, expected 80 mm or more"):
        draw_wiring(WiringPlan(rows=plan_rows()), width_mm=60)


def test_lines_keep_to_their_width_and_lose_nothing() -> None:
    lines = break_lines("a few words and Kabelbaumverlegungshinweisschild at the end", 30, 3.4)
    assert all(text_width(line, 3.4) <= 30 for line in lines)
    assert "".join("".join(lines).split()) == "afewwordsandKabelbaumverlegungshinweisschildattheend"
    assert break_lines("one two three four five six", 12, 3.4, most=2)[-1].endswith("…")


def test_boxes_that_only_touch_do_not_meet() -> None:
    left = Box(x=0, y=0, width=10, height=5, words="left")
    assert not left.meets(Box(x=10, y=0, width=10, height=5, words="right"))
    assert left.meets(Box(x=9.9, y=4.9, width=10, height=5, words="over"))


@settings(max_examples=50, deadline=None)
@given(points=st.lists(st.tuples(st.floats(0, 100), st.floats(0, 60)), max_size=12))
def test_numbers_on_the_map_stay_apart(points: list[tuple[float, float]]) -> None:
    moved = spread_spots(points, 6.0)
    assert len(moved) == len(points)
    for i, a in enumerate(moved):
        assert all(hypot(a[0] - b[0], a[1] - b[1]) >= 6.0 - 1e-6 for b in moved[i + 1 :])
    if points:
        assert moved[0] == points[0]


def test_the_map_numbers_every_place_and_names_the_one_meant() -> None:
    svg = draw_underdash(spots(), highlight=("ground",), width_mm=160, title="Where")
    root = ElementTree.fromstring(svg)
    words = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert [word for word in words if word and word.isdigit()] == ["1", "2", "3", "4", "5", "6"]
    assert "Ground bolt" in words
    assert "Brake switch" not in words
    assert root.find("{http://www.w3.org/2000/svg}title").text == "Where"  # type: ignore[union-attr]


@pytest.mark.parametrize("width", [80.0, 90.0, 120.0, 180.0])
def test_the_name_of_a_place_stays_on_the_map(width: float) -> None:
    spot_name = "A rather long name of a place"
    for spot in (DashSpot(id="a", name=spot_name, x=x, y=y) for x in (0, 50, 100) for y in (0, 50, 100)):
        svg = draw_underdash((spot, *spots()), highlight=("a",), width_mm=width, title="")
        root = ElementTree.fromstring(svg)
        _, top, wide, high = map(float, (root.get("viewBox") or "").split())
        assert wide == width
        name = next(each for each in root.iter(f"{SVG}text") if each.text == spot_name)
        x, y, size = (float(name.get(key) or 0) for key in ("x", "y", "font-size"))
        half = min(text_width(spot_name, size, bold=True), width) / 2
        assert half - 0.6 <= x <= width - half + 0.6
        # It stands above or below the dash and covers nothing of it.
        assert top <= y - size * 0.75
        assert y <= 0.01 or y - size * 0.75 >= width * 0.66 - 0.01
        assert y + size * 0.2 <= top + high


def test_swatches_survive_unknown_words_and_show_their_stripe() -> None:
    assert colour_codes(*split_colour("brown/white")) == "BN/WH"
    assert colour_codes("light blue", None) == "BU"
    assert colour_codes("sparkling", None) == ""
    assert colour_codes("brown", "sparkling") == ""
    plain, striped = draw_swatch("brown", None), draw_swatch("brown", "white")
    assert len(striped) > len(plain)
    ElementTree.fromstring(draw_swatch("sparkling", '<&">'))


@pytest.mark.parametrize(("width", "height"), [(11.0, 4.0), (14.0, 4.4), (18.0, 5.0), (26.0, 6.2)])
def test_a_striped_piece_of_wire_shows_at_least_three_quarters_of_its_base(width: float, height: float) -> None:
    svg = draw_swatch("light green", "black", width, height)
    (bands,) = (path for path in re.findall(r'<path d="([^"]*)"', svg) if path.endswith("z"))
    turns = [tuple(map(float, each)) for each in re.findall(r"M(\S+) (\S+)l(\S+) (\S+)h(\S+)l", bands)]
    assert len(turns) >= 2
    # A parallelogram has the area of its base times its height.
    assert sum(band * -rise for _, _, _, rise, band in turns) <= 0.25 * (width - 1.2) * (height - 1.2)
    for x, _, slant, _, band in turns:
        assert x >= 0.6
        assert x + slant + band <= width - 0.6


def test_every_family_has_its_own_look_in_black_and_white() -> None:
    from loomwright.documents.colours import FAMILIES

    looks = {}
    for family in FAMILIES.values():
        svg = draw_swatch(family.name, None)
        looks[family.name] = re.sub(r"<title>.*?</title>|#[0-9a-f]{6}", "", svg)
    # Black and white have no pattern and need none: they are the two ends of the grey.
    assert looks.pop("black") == looks.pop("white")
    assert len(set(looks.values())) == len(looks)
