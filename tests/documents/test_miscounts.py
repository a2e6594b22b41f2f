"""The pins one lands on by a slip, on a face small enough to check by eye."""

from loomwright.documents.faces import FaceShape
from loomwright.documents.miscounts import (
    mirrored,
    miscounts,
    one_off,
    other_row,
    skipping_empty,
    upside_down,
    wrong_end,
)

# 1 2 3 4 5
# 6 7 8 9 10
FACE = FaceShape(id="ten", rows=(("1", "2", "3", "4", "5"), ("6", "7", "8", "9", "10")))


def test_each_slip_of_a_two_row_face() -> None:
    assert one_off(FACE, "2") == ("1", "3")
    assert one_off(FACE, "10") == ("9",)
    assert mirrored(FACE, "2") == ("4",)
    assert mirrored(FACE, "3") == ()
    assert wrong_end(FACE, "9") == ("7",)
    assert other_row(FACE, "2") == ("7",)
    assert upside_down(FACE, "2") == ("9",)


def test_with_the_latch_at_an_end_the_wrong_side_is_the_other_row() -> None:
    # The rows stand upright when the latch is up, so a look from the wrong side swaps the rows, not the ends.
    sideways = FaceShape(id="ten", rows=FACE.rows, latch="left")
    assert mirrored(sideways, "2") == ("7",)
    assert wrong_end(sideways, "2") == ("4",)


def test_unequal_rows_are_miscounted_from_both_ends() -> None:
    face = FaceShape(id="nine", rows=(("1", "2", "3", "4", "5"), ("6", "7", "8", "9")))
    assert set(other_row(face, "2")) == {"7", "6"}


def test_counting_wires_instead_of_places() -> None:
    # Place 4 is second from the right; the wires from there are 5, 3, 1, so the second wire is pin 3.
    assert skipping_empty(FACE, "4", frozenset({"1", "3", "5"})) == ("3",)
    assert skipping_empty(FACE, "4", frozenset({"4", "5"})) == ()
    assert skipping_empty(FACE, "3", frozenset({"3", "1", "2"})) == ("1",)


def test_all_slips_come_with_their_cause() -> None:
    assert [(slip.how, slip.pin) for slip in miscounts(FACE, "2")] == [
        ("one off", "1"),
        ("one off", "3"),
        ("wrong side", "4"),
        ("wrong end", "4"),
        ("other row", "7"),
        ("upside down", "9"),
    ]
