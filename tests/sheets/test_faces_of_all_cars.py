"""The plugs that the guides of all demonstration cars show: no label over a label, no line through a word."""

import itertools

import pytest

from loomwright.documents.faces import count_to, latch_edge, stands_upright, view
from loomwright.papers.blocks import Step
from loomwright.papers.drawings import FaceDrawing
from loomwright.sheets import render
from loomwright.sheets.drawn import face_width_mm
from loomwright.sheets.face_labels import Layout, Placed, face_labels, lay_out
from tests.pairs import PAIRS
from tests.papers.builders import built_pair

pairs = pytest.mark.parametrize("pair", PAIRS, ids="-".join)


def _drawings(pair: tuple[str, str]) -> list[FaceDrawing]:
    steps = [block for block in built_pair(pair).guide.blocks if isinstance(block, Step)]
    seen = [step.face.drawing for step in steps if step.face]
    assert len(seen) > 5
    return [each for drawing in seen for each in (drawing, drawing.turned)]


def _laid(face: FaceDrawing) -> list[Layout]:
    """The face as it is laid out on paper and on a phone."""
    columns = stands_upright(face.shape, face.turn)
    shown = face_labels(
        face.shape, face.side, face.turn, occupants=face.occupants, target=face.target, avoid=face.avoid,
        names=face.labels,
    )  # fmt: skip
    cavities = {cavity.pin: cavity for cavity in view(face.shape, face.side, face.turn)}
    counted = None if face.target is None else count_to(face.shape, face.target, face.side, face.turn).place_from
    return [
        lay_out(cavities, latch_edge(face.turn), shown, columns=columns, width=width, titled=False, counted=counted)
        for width in (face_width_mm(face, least=72.0, pitch=5.0), face_width_mm(face, least=90.0, pitch=7.2))
    ]


def _box(placed: Placed) -> tuple[float, float, float, float]:
    left = placed.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[placed.anchor] * placed.label.width
    return left, placed.y, left + placed.label.width, placed.y + placed.label.height


@pairs
def test_no_line_of_a_plug_runs_through_a_word_of_it(pair: tuple[str, str]) -> None:
    for face in _drawings(pair):
        if stands_upright(face.shape, face.turn):
            continue  # there lines run beside the words
        for one, two in (p for laid in _laid(face) for p in itertools.permutations(laid.placed, 2)):
            x, (low, *_, high) = one.leader[0][0], sorted(point[1] for point in one.leader)
            left, top, right, bottom = _box(two)
            assert not (left < x < right and low < bottom - 0.1 and top + 0.1 < high), (face.shape.id, one, two)


@pairs
def test_no_label_of_a_plug_lies_over_another(pair: tuple[str, str]) -> None:
    for face in _drawings(pair):
        for one, two in (p for laid in _laid(face) for p in itertools.combinations(laid.placed, 2)):
            a, b = _box(one), _box(two)
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.05 or b[3] <= a[1] + 0.05
            assert apart, (face.shape.id, one.label, two.label)


@pairs
def test_every_label_stays_on_its_sheet(pair: tuple[str, str]) -> None:
    for face in _drawings(pair):
        for laid in _laid(face):
            for placed in laid.placed:
                left, top, right, bottom = _box(placed)
                assert left > -0.6, (face.shape.id, placed.label)
                assert right < laid.width + 0.6, (face.shape.id, placed.label)
                assert top >= 0
                assert bottom <= laid.height


@pairs
def test_where_a_plug_is_only_measured_every_wire_that_is_not_read_is_crossed_out(pair: tuple[str, str]) -> None:
    found = 0
    for step in (block for block in built_pair(pair).guide.blocks if isinstance(block, Step)):
        if step.kind == "measure" and step.face is not None and step.face.drawing.target is None:
            read = {r.probe.partition("pin ")[2].partition(",")[0] for r in step.readings}
            wired = {pin for pin, wire in step.face.drawing.occupants.items() if wire is not None}
            assert read
            assert read <= wired
            assert set(step.face.drawing.avoid) == wired - read
            found += 1
    assert found


@pairs
def test_no_guide_is_too_large_for_a_phone_that_gets_it_by_mail(pair: tuple[str, str]) -> None:
    assert len(render(built_pair(pair).guide, "html")) < 600_000
