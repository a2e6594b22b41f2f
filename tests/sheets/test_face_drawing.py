"""The drawing of a connector face: what stands in it, that it is the same each time, and that labels keep apart."""

import itertools
import re
from math import acos, hypot, pi, sqrt
from xml.etree.ElementTree import Element, fromstring

import pytest

from loomwright.documents.colours import parse_colour, swatch
from loomwright.documents.faces import FaceShape, Turn, latch_edge, view
from loomwright.documents.landmarks import Occupant
from loomwright.sheets.face_drawing import draw_face
from loomwright.sheets.face_labels import Layout, Placed, face_labels, lay_out
from loomwright.sheets.face_plug import cross_of, disc_of, number_size
from loomwright.sheets.swatches import add_disc, css

SVG = "{http://www.w3.org/2000/svg}"
ACCENT = "#0b5566"
NAMES = ("black", "brown", "red", "orange", "yellow", "green", "light blue", "violet", "grey", "white", "pink", "tan")


def _rows(*lengths: int) -> tuple[tuple[str, ...], ...]:
    numbers = itertools.count(1)
    return tuple(tuple(str(next(numbers)) for _ in range(length)) for length in lengths)


FACES = {
    "24": FaceShape(id="24", rows=_rows(12, 12), drawn_from="wire"),
    "16": FaceShape(id="16", rows=_rows(8, 8)),
    "4 large": FaceShape(id="4", rows=_rows(2, 2), large=frozenset("1234")),
    "40": FaceShape(id="40", rows=_rows(20, 20)),
    "32 in four rows": FaceShape(id="32", rows=_rows(8, 8, 8, 8)),
    "9 staggered": FaceShape(id="9", rows=_rows(5, 4)),
    "one row": FaceShape(id="row", rows=(("1", "2", None, "3", "4", "5"),)),
}


def _wires(shape: FaceShape) -> dict[str, Occupant | None]:
    return {
        pin: None if i % 5 == 3 else (NAMES[i * 5 % 12], NAMES[i * 7 % 12] if i % 2 else None)
        for i, pin in enumerate(shape.pins)
    }


def _texts(svg: Element) -> list[str]:
    return [element.text or "" for element in svg.iter(f"{SVG}text")]


def _layout(shape: FaceShape, turn: Turn, target: str, avoid: tuple[str, ...], width: float) -> Layout:
    shown = face_labels(
        shape, "wire", turn, occupants=_wires(shape), target=target, avoid=avoid, names={target: "ignition"}
    )
    cavities = {cavity.pin: cavity for cavity in view(shape, "wire", turn)}
    return lay_out(cavities, latch_edge(turn), shown, columns=turn in {90, 270}, width=width, titled=True)


@pytest.mark.parametrize("name", FACES)
@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_every_place_has_its_number_and_the_marks_are_there(name: str, turn: Turn) -> None:
    shape = FACES[name]
    target, avoid = shape.pins[1], shape.pins[2]
    text = draw_face(shape, side="wire", turn=turn, occupants=_wires(shape), target=target, avoid=(avoid,), title="T")
    svg = fromstring(text)
    texts = _texts(svg)
    # The target's number is written a second time, on its filled tab.
    assert all(texts.count(pin) == (2 if pin == target else 1) for pin in shape.pins)
    assert any(each.startswith(f"Pin {target}:") for each in texts)
    assert any(each.startswith(f"Not pin {avoid}:") for each in texts)
    assert {"this pin", "not this pin", "latch"} <= set(texts)
    frames = [r for r in svg.iter(f"{SVG}rect") if r.get("stroke") == ACCENT and r.get("stroke-width") == "1.1"]
    assert len(frames) == 1
    assert svg.get("role") == "img"
    assert svg.findtext(f"{SVG}title") == "T"
    assert (svg.findtext(f"{SVG}desc") or "").startswith("Look at the side the wires go in, latch ")


def test_the_same_input_gives_the_same_bytes() -> None:
    shape = FACES["24"]
    one, two = (draw_face(shape, side="mating", occupants=_wires(shape), target="5", avoid=("6",)) for _ in range(2))
    assert one == two


def test_lengths_are_millimetres() -> None:
    svg = fromstring(draw_face(FACES["16"], side="mating", occupants={}, width_mm=120))
    assert svg.get("width") == "120mm"
    assert (svg.get("viewBox") or "").startswith("0 0 120 ")
    assert svg.get("height") == f"{(svg.get('viewBox') or '').split()[3]}mm"


def test_a_wire_is_told_without_its_colour() -> None:
    # Word and code stand in the label, the code under the wire, and each family has a hatch of its own.
    wires: dict[str, Occupant | None] = {"1": ("blue", "brown"), "2": ("light blue", "brown"), "3": ("tan", None)}
    drawn = draw_face(FACES["4 large"], side="mating", occupants=wires, target="1", avoid=("2", "3"))
    texts = _texts(fromstring(drawn))
    assert "Pin 1: blue/brown (BU/BN)" in texts
    assert "BU/BN" in texts
    # Where two shades have one code, the word alone stands there.
    assert "Not pin 2: light blue/brown" in texts
    assert "Not pin 3: tan" in texts
    assert "BN" not in texts


@pytest.mark.parametrize("width", [60.0, 92.0, 160.0])
@pytest.mark.parametrize("name", FACES)
def test_a_cross_covers_no_number_and_no_wire(name: str, width: float) -> None:
    shape = FACES[name]
    cavities = {cavity.pin: cavity for cavity in view(shape, "wire", 0)}
    frame = lay_out(cavities, latch_edge(0), [], columns=False, width=width, titled=False).frame
    for cavity in cavities.values():
        x, y = frame.at(cavity)
        half_w, half_h = frame.half(cavity)
        cx, cy, r = disc_of(cavity, frame)
        number_ends = y - half_h + number_size(frame)
        strokes = cross_of(cavity, frame)
        half_number = len(cavity.pin) * number_size(frame) * 0.26
        for (ax, ay), (bx, by) in strokes:
            for i in range(21):
                px, py = ax + (bx - ax) * i / 20, ay + (by - ay) * i / 20
                assert abs(px - x) <= half_w
                assert abs(py - y) <= half_h
                assert py > number_ends or abs(px - x) > half_number
        # The colour shows: the middle of the disc is free, and so is more than half of the way to its rim.
        assert all(hypot(px - cx, py - cy) >= 0.7 * r for ends in strokes for px, py in ends)
        # Each stroke is long enough to be seen.
        assert max(hypot(a[0] - b[0], a[1] - b[1]) for a, b in strokes) > 0.3


def test_a_striped_wire_shows_at_least_three_quarters_of_its_base() -> None:
    # A disc of radius 1 [mm] is filled with its base; the band over it is drawn as a path.
    parent = Element("g")
    add_disc(parent, (0.0, 0.0), 1.0, "brown", "yellow")
    band = next(each for each in parent if each.get("fill") == css(swatch(parse_colour("yellow"))))
    points = [tuple(map(float, pair)) for pair in re.findall(r"[ML](\S+) (\S+?)(?=[LA])", band.get("d") or "")]
    (ax, ay), (bx, by) = points[0], points[-1]
    half = min(hypot(ax, ay), abs(ax + ay) * sqrt(0.5), abs(bx + by) * sqrt(0.5))
    # Area of a disc between two parallel chords at +-h. Source: circular segment, Bronshtein & Semendyayev,
    # Handbook of Mathematics, section on the circle: segment area r^2 (arccos(h/r) - h/r sqrt(1 - (h/r)^2)).
    segment = acos(half) - half * sqrt(1 - half**2)
    assert 0.75 <= 2 * segment / pi < 0.9


def test_a_whole_plug_names_each_pin_that_has_a_name() -> None:
    names = {"1": "battery feed 1", "3": "ignition", "4": "start"}
    drawn = draw_face(
        FACES["4 large"], side="wire", occupants={"1": ("red", None), "3": ("pink", None)}, avoid=("4",), labels=names
    )
    texts = _texts(fromstring(drawn))
    assert {"Pin 1: red (RD)", "battery feed 1", "Pin 3: pink (PK)", "ignition"} <= set(texts)
    assert {"Not pin 4: empty", "start", "not this pin"} <= set(texts)
    assert not any(each.startswith("Pin 2") for each in texts)


def test_two_families_in_one_grey_are_hatched_differently() -> None:
    def hatch(colour: str) -> str:
        text = draw_face(FACES["4 large"], side="mating", occupants={"1": (colour, None)})
        return "".join(d.get("d") or "" for d in fromstring(text).iter(f"{SVG}path"))

    families = ("red", "blue", "green", "violet", "brown", "orange", "turquoise", "silver", "green-and-yellow")
    drawn = dict(zip(families, map(hatch, families), strict=True))
    # The dashes of a broken line and the width of a bar are attributes: these families share the lines themselves.
    assert drawn["red"] == drawn["orange"] == drawn["green-and-yellow"]
    assert drawn["blue"] == drawn["turquoise"]
    assert len(set(drawn.values())) == len(families) - 3
    dashed = draw_face(FACES["4 large"], side="mating", occupants={"1": ("orange", None)})
    assert "stroke-dasharray" in dashed
    assert "stroke-dasharray" not in draw_face(FACES["4 large"], side="mating", occupants={"1": ("red", None)})


def test_a_colour_nobody_knows_is_shown_as_a_question_and_by_its_word() -> None:
    texts = _texts(fromstring(draw_face(FACES["16"], side="mating", occupants={"3": ("mauvish", None)}, target="3")))
    assert "?" in texts
    assert "Pin 3: mauvish" in texts


def test_the_arrow_says_how_far_to_count() -> None:
    texts = _texts(fromstring(draw_face(FACES["24"], side="wire", occupants={}, target="17")))
    assert texts.count("count") == 1
    assert "to 5" in texts


def test_control_characters_do_not_break_the_drawing() -> None:
    text = draw_face(FACES["16"], side="mating", occupants={"1": ("red\x00", None)}, target="1", title="A & <B>\x07")
    assert fromstring(text).findtext(f"{SVG}title") == "A & <B>"


def _box(placed: Placed) -> tuple[float, float, float, float]:
    left = {"start": 0.0, "middle": placed.label.width / 2, "end": placed.label.width}[placed.anchor]
    x = placed.x - left
    return x, placed.y, x + placed.label.width, placed.y + placed.label.height


@pytest.mark.parametrize("name", FACES)
@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("width", [90.0, 160.0])
def test_labels_stay_on_the_sheet_and_apart_and_off_the_leaders(name: str, turn: Turn, width: float) -> None:
    shape = FACES[name]
    for i, target in enumerate(shape.pins):
        avoid = (shape.pins[i - 1],)
        layout = _layout(shape, turn, target, avoid, width)
        for placed in layout.placed:
            x0, y0, x1, y1 = _box(placed)
            assert x0 >= -0.01
            assert x1 <= layout.width + 0.01
            assert y0 >= 0
            assert y1 <= layout.height
            # The line ends at its label: beside the text at most.
            end, _ = placed.leader[-1]
            if turn in {0, 180}:
                assert x0 - 0.01 <= end <= x1 + 0.01
                assert placed.anchor != "middle" or abs(end - placed.x) < 0.01
        for one, two in itertools.combinations(layout.placed, 2):
            a, b = _box(one), _box(two)
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (target, one.label, two.label)
        if turn in {0, 180} and len(shape.rows) < 3:
            for one, two in itertools.permutations(layout.placed, 2):
                x, (low, *_, high) = one.leader[0][0], sorted(point[1] for point in one.leader)
                x0, y0, x1, y1 = _box(two)
                assert not (x0 < x < x1 and low < y0 and y1 < high), (target, one.label, two.label)


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"width_mm": 40.0}, "width_mm: found 40 mm, expected at least 60 mm; give the drawing more room"),
        ({"target": "99"}, "face '4': found pin '99', expected one of 1, 2, 3, 4"),
        ({"avoid": ("99",)}, "face '4': found pin '99', expected one of 1, 2, 3, 4"),
    ],
)
def test_what_cannot_be_drawn_is_refused(more: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match="found") as caught:
        draw_face(FACES["4 large"], side="mating", occupants={}, **more)  # type: ignore[arg-type]
    assert str(caught.value) == message


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_socket_without_a_latch_has_none_and_says_what_tells_its_way_up(turn: Turn) -> None:
    shape = FaceShape(id="24", rows=_rows(12, 12))
    socket, plug = (
        fromstring(draw_face(shape, side="mating", turn=turn, occupants={}, target="5", mark=mark))
        for mark in ("wide side", "latch")
    )
    assert "wide side" in _texts(socket)
    assert "latch" not in " ".join(_texts(socket))
    assert any(text.startswith("Seen") and "wide side" in text for text in _texts(socket))
    # Beside the outline of all places the tab of a latch is the one white outline of the plug.
    tabs = [[p for p in svg.iter(f"{SVG}path") if p.get("fill") == "#ffffff"] for svg in (socket, plug)]
    assert [len(each) for each in tabs] == [1, 2]
