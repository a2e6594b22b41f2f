"""The sentences, whole, as the buyer reads them."""

import pytest

from loomwright.documents.faces import FaceShape, Turn, count_to
from loomwright.documents.landmarks import Occupant, landmark
from loomwright.documents.miscounts import miscounts
from loomwright.papers.count_words import caption_words, count_words, landmark_words, look_words, ordinal, slip_words

FACE = FaceShape(id="ten", rows=(tuple("12345"), ("6", "7", "8", "9", "10")), drawn_from="wire")
WIRES: dict[str, Occupant | None] = {
    "1": ("yellow", None),
    "2": ("tan", None),
    "3": ("brown", "white"),
    "4": ("yellow", None),
    "8": ("orange", None),
    "10": ("orange", None),
}


@pytest.mark.parametrize(
    ("pin", "turn", "text"),
    [
        (
            "7",
            0,
            "Look at the side the wires go in, latch up. Bottom row, away from the latch: count from the LEFT end; "
            "it is the 2nd place of 5 (empty places count).",
        ),
        (
            "4",
            180,
            "Look at the side the wires go in, latch down. Bottom row, next to the latch: count from the LEFT end; "
            "it is the 2nd place of 5 (empty places count).",
        ),
        (
            "1",
            90,
            "Look at the side the wires go in, latch on the right. Right column, next to the latch: "
            "it is the first place at the TOP end.",
        ),
    ],
)
def test_the_count_is_told_for_the_view(pin: str, turn: Turn, text: str) -> None:
    assert count_words(count_to(FACE, pin, "wire", turn)) == text


def test_the_mating_side_and_a_single_row_with_solid_plastic() -> None:
    face = FaceShape(id="row", rows=(("1", None, "2", "3", "4"),))
    assert count_words(count_to(face, "2", "mating")) == (
        "Look into the open end, where the metal contacts show, latch up. There is one row: count from the LEFT end; "
        "it is the 2nd place of 4 (empty places count; solid plastic without a hole does not)."
    )


def test_a_middle_row_is_numbered_from_its_nearer_edge() -> None:
    face = FaceShape(id="four", rows=(("1", "2"), ("3", "4"), ("5", "6"), ("7", "8")))
    assert "2nd row from the bottom: it is the first place at the LEFT end." in count_words(
        count_to(face, "5", "mating")
    )


@pytest.mark.parametrize(
    ("pin", "text"),
    [
        (
            "2",
            "The wire is tan. It sits between the first from the left of the 2 yellow wires of this row, on its left, "
            "and the brown/white, on its right. Do not touch pin 3, the brown/white on its right: two shades of brown, "
            "and a stripe may face away. The wires at pins 1 and 4 look much the same: go by the place, "
            "not by colour alone.",
        ),
        (
            "5",
            "There is no wire in this place yet. It is the last place at the right end, with the second from the "
            "left of the 2 yellow wires of this row on its left. Do not touch pin 4, the yellow on its left: it is "
            "right next to it.",
        ),
        (
            "9",
            "There is no wire in this place yet. It sits between the first from the left of the 2 orange wires of this "
            "row, on its left, and the second from the left of the 2 orange wires of this row, on its right. Do not "
            "touch pin 8, the orange on its left: it is right next to it.",
        ),
    ],
)
def test_the_landmark_is_told(pin: str, text: str) -> None:
    assert landmark_words(landmark(FACE, pin, "wire", 0, WIRES)) == text


def test_an_ambiguous_place_sends_one_to_the_wire_that_occurs_once() -> None:
    assert landmark_words(landmark(FACE, "3", "wire", 0, {"1": ("red", None)})) == (
        "There is no wire in this place yet. The places on its left and on its right are empty. The same two sit "
        "beside another place of this plug as well, so count. From the red, the only one in this plug, go 2 places to "
        "the right."
    )


def test_ordinals() -> None:
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 22, 33, 64)] == (
        ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "33rd", "64th"]
    )


def test_captions_and_slips() -> None:
    assert caption_words("wire", "top") == "Seen from the wire side, latch up"
    assert look_words("wire", "left") == "Look at the side the wires go in, latch on the left."
    assert slip_words(miscounts(FACE, "1")[0]) == "You end on pin 2 if you are one place out."
