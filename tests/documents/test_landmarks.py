"""Landmarks by example: what lies beside a pin, what to keep off and why."""

from loomwright.documents.faces import FaceShape
from loomwright.documents.landmarks import Occupant, landmark

FACE = FaceShape(id="twelve", rows=(tuple("123456"), ("7", "8", "9", "10", "11", "12")))
WIRES: dict[str, Occupant | None] = {
    "1": ("yellow", None),
    "2": ("light blue", None),
    "3": ("brown", "white"),
    "4": ("yellow", None),
    "6": ("pink", None),
    "8": ("blue", "black"),
    "9": ("green", None),
}


def test_a_pin_between_two_wires_that_occur_side_by_side_once() -> None:
    found = landmark(FACE, "2", "mating", 0, WIRES)
    assert found.before is not None
    assert found.after is not None
    assert (found.before.colour, found.before.nth, found.before.alike_in_line) == ("yellow", 1, 2)
    assert (found.after.colour, found.after.alike_in_plug) == ("brown/white", 1)
    assert found.only_here


def test_the_look_alike_beside_it_is_the_one_to_keep_off() -> None:
    found = landmark(FACE, "2", "mating", 0, WIRES)
    assert found.avoid is not None
    assert (found.avoid.pin, found.avoid.where) == ("8", ("below",))
    assert found.avoid.reason == "two shades of blue, and a stripe may face away"
    assert found.look_alikes == ("8",)


def test_without_a_look_alike_the_wire_next_in_line_is_the_one_to_keep_off() -> None:
    found = landmark(FACE, "3", "mating", 0, {**WIRES, "9": None, "8": None})
    assert found.avoid is not None
    assert (found.avoid.pin, found.avoid.reason) == ("2", None)


def test_an_ambiguous_place_gets_the_nearest_wire_that_occurs_once() -> None:
    wires: dict[str, Occupant | None] = {"1": ("red", None)}
    found = landmark(FACE, "3", "mating", 0, wires)
    assert not found.only_here
    assert found.anchor is not None
    assert (found.anchor.pin, found.anchor.where, found.anchor.places_away) == ("1", "left", 2)
    assert landmark(FACE, "3", "wire", 0, wires).anchor.where == "right"  # type: ignore[union-attr]


def test_a_word_that_is_no_known_colour_is_alike_only_to_itself() -> None:
    wires: dict[str, Occupant | None] = {"1": ("mauvish", None), "2": ("Mauvish", None), "3": ("violet", None)}
    found = landmark(FACE, "1", "mating", 0, wires)
    assert found.avoid is not None
    assert found.avoid.reason == "the same colour"
    assert found.look_alikes == ("2",)
