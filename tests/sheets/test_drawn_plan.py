"""The wiring plan and the map of the footwell: nothing written lies over anything else, whatever is written."""

import re
from math import hypot
from typing import get_args
from xml.etree import ElementTree

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from loomwright.documents.demo import demo_files
from loomwright.documents.vehicle import Vehicle
from loomwright.papers.drawings import DashSpot, JointKind, PartKind, WiringPart, WiringPlan, WiringRow
from loomwright.sheets.lettering import Box, break_lines
from loomwright.sheets.svg import text_width
from loomwright.sheets.underdash import draw_underdash, spread_spots
from loomwright.sheets.wire_swatch import colour_codes, draw_swatch, split_colour
from loomwright.sheets.wiring import draw_wiring
from tests.demonstration import documents
from tests.sheets.geometry import faults, joined_dots
from tests.sheets.sample import NASTY, plan_rows, spots

SVG = "{http://www.w3.org/2000/svg}"
_WIDTHS = (90.0, 178.0, 183.9)


@pytest.mark.parametrize("width", _WIDTHS)
def test_nothing_of_the_sample_overlaps(width: float) -> None:
    rows = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=width)
    assert len(rows) == len(plan_rows())
    assert [fault for row in rows for fault in faults(row)] == []
    # The check is not blind: there are labels, signs, wires and joints to look at.
    assert sum(len(row.boxes) for row in rows) > 100
    assert sum(len(row.signs) for row in rows) > 80
    assert sum(len(joined_dots(row)) for row in rows) > 15


def test_the_check_of_a_drawing_finds_what_lies_over_something() -> None:
    from dataclasses import replace

    from loomwright.sheets.schematic import Wire

    row = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=178)[3]
    sign, label = row.signs[0], row.boxes[-1]
    middle = (sign.x + sign.width / 2, sign.y + sign.height / 2)
    for broken, said in (
        (replace(row, wires=(*row.wires, Wire(points=((0, middle[1]), (60, middle[1]))))), "runs through the sign"),
        (replace(row, wires=(*row.wires, Wire(points=((0, label.y + 1), (178, label.y + 1))))), "through the label"),
        (replace(row, boxes=(*row.boxes, label)), "lies over"),
        (replace(row, dots=()), "without a dot"),
        (replace(row, width=100.0), "leaves the sheet"),
        (replace(row, wires=(*row.wires, Wire(points=((0, 0), (3, 4))))), "askew"),
    ):
        assert any(said in fault for fault in faults(broken)), said


_WORDS = st.one_of(st.text(max_size=60), st.sampled_from(["", NASTY, "ignition, feeds the engine computer", "H1/3"]))
_COLOURS = st.sampled_from(["", "light blue", "pink", "no colour anybody knows"])
_PARTS = st.builds(
    WiringPart,
    pattern=st.sampled_from(get_args(PartKind)),
    name=_WORDS,
    positive=st.booleans(),
    feed=_WORDS,
    feed_label=_WORDS,
    feed_fuse=st.sampled_from(["", "Fuse 7.5 A", "Fuse 10 A"]),
    ground=_WORDS,
)
_ROWS = st.builds(
    WiringRow,
    task=_WORDS,
    din=st.sampled_from(["", "15", "57L"]),
    joint=st.sampled_from(get_args(JointKind)),
    where=_WORDS,
    kit_pin=_WORDS,
    terminal=_WORDS,
    label=_WORDS,
    lead_colour=_COLOURS,
    lead_stripe=st.one_of(st.none(), st.just("black")),
    fuse=st.sampled_from(["", "Fuse 30 A"]),
    part=st.one_of(st.none(), _PARTS),
    branch=_WORDS,
    wire_colour=_COLOURS,
    plug=_WORDS,
    pin=_WORDS,
    function=_WORDS,
    factory_side=st.sampled_from(["", "harness side", "plug side"]),
    unproven=st.booleans(),
    note=_WORDS,
)


def _possible(row: WiringRow) -> bool:
    """Tell whether planning could make such a row: a part between two ends needs an opened wire, and only that."""
    cuts = row.part is not None and row.part.pattern in {"relay changes over", "diode cuts in"}
    opened = row.joint in {"T interrupted", "cut in"}
    return cuts <= opened and opened == (row.factory_side != "") and (row.joint != "cut in" or cuts)


# Without shrinking: a row has many texts, and one fault is told as well by any of them.
@settings(max_examples=150, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(row=_ROWS.filter(_possible), width=st.sampled_from(_WIDTHS))
def test_nothing_overlaps_whatever_is_written(row: WiringRow, width: float) -> None:
    (drawn,) = draw_wiring(WiringPlan(rows=(row,)), width_mm=width)
    assert faults(drawn) == []
    ElementTree.fromstring(drawn.svg)


def test_a_row_says_itself_in_words() -> None:
    rows = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=178)
    assert rows[3].words == (
        "Body module plug A, left of the column. Parking lights: H3/2 light output, negative [PARK (-)] white/blue → "
        "Fuse 3 A → Relay K2 (H1/2 [FEED 2] Fuse 10 A) → tap onto the wire → "
        "brown/white, Body module plug A, pin\N{NO-BREAK SPACE}3, parking lights. "
        "Both parking-light circuits hang on this wire."
    )
    assert f"<title>{rows[0].words}</title>" in rows[0].svg


def test_a_relay_has_its_terminal_numbers() -> None:
    # Source: DIN 72552 (from memory): 85 and 86 are the ends of a relay's winding, 30 its input, 87 the output that
    # closes and 87a the one that opens.
    drawn = draw_wiring(WiringPlan(rows=plan_rows()), width_mm=178)
    assert set(re.findall(r">(30|85|86|87a?)<", drawn[3].svg)) == {"30", "85", "86", "87"}
    assert set(re.findall(r">(30|85|86|87a?)<", drawn[9].svg)) == {"30", "85", "86", "87", "87a"}


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


@settings(max_examples=50)
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


def _name_span(name: ElementTree.Element, width: float) -> tuple[float, float]:
    """Return from where to where a name reaches, by the estimate of its font."""
    x, size = float(name.get("x") or 0), float(name.get("font-size") or 0)
    wide = min(text_width(name.text or "", size, bold=True), width - 1)
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[name.get("text-anchor") or "start"]
    return left, left + wide


@pytest.mark.parametrize("width", [80.0, 90.0, 120.0, 180.0])
def test_the_name_of_a_place_stays_on_the_map(width: float) -> None:
    spot_name = "A rather long name of a place"
    for spot in (DashSpot(id="a", name=spot_name, x=x, y=y) for x in (0, 50, 100) for y in (0, 50, 100)):
        svg = draw_underdash((spot, *spots()), highlight=("a",), width_mm=width, title="")
        root = ElementTree.fromstring(svg)
        _, top, wide, high = map(float, (root.get("viewBox") or "").split())
        assert wide == width
        name = next(each for each in root.iter(f"{SVG}text") if each.text == spot_name)
        y, size = (float(name.get(key) or 0) for key in ("y", "font-size"))
        left, right = _name_span(name, width)
        assert left >= 0.4
        assert right <= width - 0.4
        # It stands above or below the dash and covers nothing of it.
        assert top <= y - size * 0.75
        assert y <= 0.01 or y - size * 0.75 >= width * 0.66 - 0.01
        assert y + size * 0.2 <= top + high


def _family_of(file: str) -> Vehicle:
    found = documents()[file]
    assert isinstance(found, Vehicle)
    return found


_FAMILIES = sorted(file[9:-5] for file in demo_files() if file.startswith("vehicles/"))


@pytest.mark.parametrize("family", _FAMILIES)
@pytest.mark.parametrize("width", [58.0, 74.0, 90.0, 150.0])
def test_the_map_of_every_vehicle_can_be_read(family: str, width: float) -> None:
    places = _family_of(f"vehicles/{family}.yaml").places
    shown = tuple(DashSpot(id=p.id, name=p.name, x=p.x, y=p.y) for p in places)
    for meant in shown:
        root = ElementTree.fromstring(draw_underdash(shown, highlight=(meant.id,), width_mm=width, title=""))
        texts = [t for t in root.iter(f"{SVG}text") if (t.text or "").isdigit()]
        assert [t.text for t in texts] == [str(n) for n in range(1, len(shown) + 1)]
        # A number is black on white or white on black: whoever prints without colour loses nothing.
        assert {t.get("fill") for t in texts} == {None, "#ffffff"}
        assert [t.text for t in texts if t.get("fill") == "#ffffff"] == [str(shown.index(meant) + 1)]
        points = [(float(t.get("x") or 0), float(t.get("y") or 0)) for t in texts]
        radius = max(2.6, width * 0.021)
        for i, a in enumerate(points):
            assert all(hypot(a[0] - b[0], a[1] - b[1]) >= 2 * radius - 1e-6 for b in points[i + 1 :])
        (name,) = [t for t in root.iter(f"{SVG}text") if t.text == meant.name]
        left, right = _name_span(name, width)
        assert left >= 0.4
        assert right <= width - 0.4


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
