"""Whatever the face, the side and the turn, a person who follows the count lands on the pin."""

from hypothesis import given
from hypothesis import strategies as st

from loomwright.documents.faces import (
    Cavity,
    Count,
    Direction,
    FaceShape,
    Side,
    Turn,
    count_to,
    lines,
    neighbours,
    touching,
    view,
)
from loomwright.documents.landmarks import landmark
from loomwright.documents.miscounts import mirrored, miscounts, one_off, upside_down, wrong_end
from loomwright.papers.count_words import count_words, landmark_words
from tests.property.strategies import faces, occupants_of, sides, turns

OPPOSITE: dict[Direction, Direction] = {"left": "right", "right": "left", "above": "below", "below": "above"}


def _follow(cavities: tuple[Cavity, ...], count: Count) -> str:
    """Count as a person does: with the eyes only, on the places as drawn, knowing nothing of how they were written."""
    rows: dict[float, list[Cavity]] = {}
    for cavity in cavities:
        across = cavity.y if count.line == "row" else cavity.x
        rows.setdefault(0.0 if count.lines == 1 else round(across, 3), []).append(cavity)
    assert len(rows) == count.lines
    from_far_edge = count.line_from in {"bottom", "right"}
    row = rows[sorted(rows, reverse=from_far_edge)[count.line_number - 1]]
    assert len(row) == count.places
    from_far_end = count.place_from in {"bottom", "right"}
    row.sort(key=lambda c: c.x if count.line == "row" else c.y, reverse=from_far_end)
    return row[count.place - 1].pin


@given(faces(), sides, turns)
def test_following_the_count_lands_on_the_pin(shape: FaceShape, side: Side, turn: Turn) -> None:
    for pin in shape.pins:
        count = count_to(shape, pin, side, turn)
        assert _follow(view(shape, side, turn), count) == pin
        assert count.place <= (count.places + 1) // 2
        assert count.line_number <= (count.lines + 1) // 2


@given(faces(), turns)
def test_the_two_sides_are_mirror_images(shape: FaceShape, turn: Turn) -> None:
    one, other = view(shape, "wire", turn), view(shape, "mating", turn)
    # The mirror stands along the latch: left and right change places while the latch is up or down, else up and down.
    fx, fy = (-1, 1) if turn in {0, 180} else (1, -1)
    assert [(c.pin, c.x, c.y) for c in one] == [(c.pin, fx * c.x, fy * c.y) for c in other]


@given(faces(), sides)
def test_a_face_written_from_its_other_side_is_the_same_face(shape: FaceShape, side: Side) -> None:
    # Written down from the other side, a drawing with the latch up or down is mirrored left to right.
    swapped = {"left": "right", "right": "left"}.get(shape.latch, shape.latch)
    written = FaceShape(
        id=shape.id,
        rows=tuple(row[::-1] for row in shape.rows),
        large=shape.large,
        latch=swapped,  # type: ignore[arg-type]
        drawn_from="wire" if shape.drawn_from == "mating" else "mating",
        stagger=tuple(-shift for shift in shape.stagger),
    )
    there = {c.pin: (round(c.x, 3), round(c.y, 3)) for c in view(written, side)}
    assert there == {c.pin: (round(c.x, 3), round(c.y, 3)) for c in view(shape, side)}


@given(faces(), sides, turns)
def test_four_quarter_turns_bring_the_view_back(shape: FaceShape, side: Side, turn: Turn) -> None:
    half: dict[Turn, Turn] = {0: 180, 90: 270, 180: 0, 270: 90}
    once, twice = view(shape, side, turn), view(shape, side, half[turn])
    assert [(c.pin, c.x, c.y) for c in once] == [(c.pin, -c.x, -c.y) for c in twice]


@given(faces(), sides, turns)
def test_no_two_places_lie_on_each_other(shape: FaceShape, side: Side, turn: Turn) -> None:
    places = view(shape, side, turn)
    for i, a in enumerate(places):
        for b in places[:i]:
            assert max(abs(a.x - b.x), abs(a.y - b.y)) >= 1 - 1e-6


@given(faces(), sides, turns)
def test_neighbours_are_symmetric_and_lie_where_they_are_said_to(shape: FaceShape, side: Side, turn: Turn) -> None:
    at = {c.pin: c for c in view(shape, side, turn)}
    for pin in shape.pins:
        for where, other in neighbours(shape, pin, side, turn).items():
            if other is None:
                continue
            assert neighbours(shape, other, side, turn)[OPPOSITE[where]] == pin
            here, there = at[pin], at[other]
            distance = {
                "left": here.x - there.x,
                "right": there.x - here.x,
                "above": here.y - there.y,
                "below": there.y - here.y,
            }
            assert distance[where] > 0.9


@given(faces())
def test_neighbours_are_the_same_pins_in_every_view(shape: FaceShape) -> None:
    for pin in shape.pins:
        found = {
            frozenset(other for other in neighbours(shape, pin, side, turn).values() if other is not None)
            for side in ("wire", "mating")
            for turn in (0, 90, 180, 270)
        }
        assert len(found) == 1


@given(faces())
def test_touching_is_symmetric(shape: FaceShape) -> None:
    near = {pin: touching(shape, pin) for pin in shape.pins}
    assert all(pin in near[other] for pin in shape.pins for other in near[pin])


@given(faces())
def test_a_slip_made_twice_leads_back(shape: FaceShape) -> None:
    for pin in shape.pins:
        for other in one_off(shape, pin):
            assert pin in one_off(shape, other)
        for other in wrong_end(shape, pin):
            assert wrong_end(shape, other) == (pin,)
        slips = miscounts(shape, pin)
        assert all(slip.pin != pin and slip.pin in shape.pins for slip in slips)


@given(faces())
def test_in_a_face_of_equal_places_the_wrong_side_and_upside_down_lead_back(shape: FaceShape) -> None:
    even = FaceShape(id="even", rows=shape.rows, latch=shape.latch, drawn_from=shape.drawn_from)
    at = {c.pin: (c.x, c.y) for c in view(even, "mating")}
    for pin in even.pins:
        for other in mirrored(even, pin):
            assert abs(at[other][0] + at[pin][0]) < 0.5
            assert pin in mirrored(even, other)
        for other in upside_down(even, pin):
            assert pin in upside_down(even, other)


@given(st.data())
def test_landmarks_name_what_is_there(data: st.DataObject) -> None:
    shape = data.draw(faces())
    side, turn = data.draw(sides), data.draw(turns)
    wires = data.draw(occupants_of(shape))
    for pin in shape.pins:
        found = landmark(shape, pin, side, turn, wires)
        near = neighbours(shape, pin, side, turn)
        assert found.line == count_to(shape, pin, side, turn).line
        back, ahead = ("left", "right") if found.line == "row" else ("above", "below")
        assert (found.before.pin if found.before else None) == near[back]  # type: ignore[index]
        assert (found.after.pin if found.after else None) == near[ahead]  # type: ignore[index]
        if found.avoid is not None:
            assert wires[found.avoid.pin] is not None
            assert found.avoid.pin in touching(shape, pin)
        if found.anchor is not None:
            line = next(each for each in lines(shape, side, turn) if pin in each)
            steps = line.index(pin) - line.index(found.anchor.pin)
            assert abs(steps) == found.anchor.places_away
            assert (found.anchor.where == back) == (steps > 0)
        for text in (landmark_words(found), count_words(count_to(shape, pin, side, turn))):
            assert text.endswith(".")
            assert "None" not in text
