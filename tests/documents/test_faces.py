"""Faces by example: positions, counts, neighbours and the messages for a face that cannot be."""

import pytest

from loomwright.documents.faces import FaceShape, count_to, latch_edge, lines, neighbours, touching, view


def _two_rows(columns: int, **more: object) -> FaceShape:
    first = tuple(str(n) for n in range(1, columns + 1))
    second = tuple(str(n) for n in range(columns + 1, 2 * columns + 1))
    return FaceShape(id="two-rows", rows=(first, second), **more)  # type: ignore[arg-type]


def test_the_mating_side_shows_the_rows_as_written_and_the_wire_side_mirrored() -> None:
    shape = _two_rows(3)
    assert lines(shape, "mating") == (("1", "2", "3"), ("4", "5", "6"))
    assert lines(shape, "wire") == (("3", "2", "1"), ("6", "5", "4"))
    assert lines(shape, "wire", 180) == (("4", "5", "6"), ("1", "2", "3"))


def test_a_quarter_turn_makes_columns_of_rows() -> None:
    # Turned clockwise the latch comes to the right, and with it the first row, read from the top.
    assert latch_edge(90) == "right"
    assert lines(_two_rows(3), "mating", 90) == (("4", "5", "6"), ("1", "2", "3"))


def test_a_latch_drawn_at_the_left_is_turned_up_first() -> None:
    shape = _two_rows(3, latch="left")
    assert lines(shape, "mating") == (("4", "5", "6"), ("1", "2", "3"))
    at = {c.pin: (c.x, c.y) for c in view(shape, "mating")}
    assert at["1"] == (0.5, -1.0)
    assert at["6"] == (-0.5, 1.0)


def test_rows_of_unequal_length_are_centred() -> None:
    shape = FaceShape(id="staggered", rows=(("1", "2", "3"), ("4", "5")))
    at = {c.pin: (c.x, c.y) for c in view(shape, "mating")}
    assert at == {"1": (-1.0, -0.5), "2": (0.0, -0.5), "3": (1.0, -0.5), "4": (-0.5, 0.5), "5": (0.5, 0.5)}


def test_bigger_terminals_take_more_room() -> None:
    shape = FaceShape(id="big", rows=(("1", "2"),), large=frozenset({"2"}))
    one, two = view(shape, "mating")
    assert (one.size, two.size) == (1.0, 1.6)
    assert two.x - one.x == pytest.approx(1.3)


def test_count_says_line_end_place_and_latch() -> None:
    count = count_to(_two_rows(12), "18", "wire")
    assert (count.line, count.line_number, count.line_from, count.latch_line) == ("row", 1, "bottom", 2)
    assert (count.place, count.place_from, count.places, count.gaps) == (6, "right", 12, 0)


def test_solid_spots_are_passed_but_not_counted() -> None:
    shape = FaceShape(id="gap", rows=(("1", "2", None, None, "3", "4", "5", "6", "7"),))
    count = count_to(shape, "3", "mating")
    assert (count.place, count.place_from, count.gaps) == (3, "left", 2)
    assert count_to(shape, "5", "mating").gaps == 0
    assert count_to(shape, "3", "wire").gaps == 2


def test_rows_of_one_pin_are_one_column() -> None:
    shape = FaceShape(id="stick", rows=(("1",), ("2",), ("3",)))
    count = count_to(shape, "3", "mating")
    assert (count.line, count.lines, count.place, count.place_from) == ("column", 1, 1, "bottom")
    assert count_to(shape, "3", "mating", 90).line == "row"


def test_neighbours_in_all_directions() -> None:
    assert neighbours(_two_rows(4), "6", "mating") == {"left": "5", "right": "7", "above": "2", "below": None}
    assert neighbours(_two_rows(4), "6", "wire") == {"left": "7", "right": "5", "above": "2", "below": None}
    assert neighbours(_two_rows(4), "6", "mating", 90) == {"left": None, "right": "2", "above": "5", "below": "7"}


def test_touching_includes_corners_and_stops_at_solid_plastic() -> None:
    assert set(touching(_two_rows(4), "2")) == {"1", "3", "5", "6", "7"}
    assert touching(FaceShape(id="gap", rows=(("1", None, "2", "3"),)), "2") == ("3",)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"rows": ()}, "face 'x': found a row without a pin, expected at least one pin in each row"),
        ({"rows": (("1",), (None,))}, "face 'x': found a row without a pin, expected at least one pin in each row"),
        ({"rows": (("1", "2"), ("2",))}, "face 'x': found pin '2' twice, expected each pin once"),
        (
            {"rows": (("1",),), "large": frozenset({"7"})},
            "face 'x': found large pin '7', expected one of the pins in its rows",
        ),
        (
            {"rows": (("1",), ("2",)), "stagger": (0.5,)},
            "face 'x': found 1 staggers, expected one for each of 2 rows",
        ),
    ],
)
def test_a_face_that_cannot_be_is_refused(fields: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match="face 'x'") as caught:
        FaceShape(id="x", **fields)  # type: ignore[arg-type]
    assert str(caught.value) == message


def test_an_unknown_pin_is_refused_with_the_pins_there_are() -> None:
    for ask in (
        lambda shape: count_to(shape, "9", "wire"),
        lambda shape: neighbours(shape, "9", "wire"),
        lambda shape: touching(shape, "9"),
    ):
        with pytest.raises(ValueError, match="face 'two-rows': found pin '9', expected one of 1, 2, 3, 4"):
            ask(_two_rows(2))
