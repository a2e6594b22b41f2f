"""What the demonstration's vehicles say of their plugs: nothing that the drawn view says, and the standard socket."""

import re

import pytest

from loomwright.documents.faces import count_to, shape_of
from loomwright.documents.vehicle import Plug, Vehicle
from tests.demonstration import documents

_VEHICLES = [document for document in documents().values() if isinstance(document, Vehicle)]
_POINTS = re.compile(
    r"latch(?:es)? (?:is |sits )?(?:on|at|to|in) (?:the |its |each |both )?"
    r"(?:top|bottom|left|right|under|end|side|middle)"
    r"|latch (?:up|down|below|above)|wide side (?:up|down)"
)

vehicles = pytest.mark.parametrize("vehicle", _VEHICLES, ids=lambda vehicle: vehicle.id)


@vehicles
def test_no_document_tells_where_a_latch_points_since_the_view_of_the_plug_does(vehicle: Vehicle) -> None:
    """The drawing and the count follow from the face and how it is turned; a word of the document could differ."""
    for plug in vehicle.plugs:
        assert not _POINTS.search(f"{plug.look} {plug.opening}"), plug.id


def test_the_search_finds_such_a_word() -> None:
    for words in ("White, with the latch on top.", "latch below", "Press the latches on both sides", "wide side up"):
        assert _POINTS.search(words), words
    assert not _POINTS.search("Lift the latch with a flat screwdriver and pull the plug down.")


# Source: SAE J1962 / ISO 15031-3, figure of the vehicle connector: looking into it with the wide edge of the D up,
# contacts 1 to 8 run from left to right in the upper row, 9 to 16 in the lower one.
@vehicles
def test_the_diagnostic_socket_is_counted_as_the_standard_draws_it(vehicle: Vehicle) -> None:
    sockets: list[Plug] = [plug for plug in vehicle.plugs if plug.id == "diagnostic"]
    assert sockets
    for plug in sockets:
        for pin in range(1, 17):
            count = count_to(shape_of(plug), str(pin), "mating", 0)
            assert count.line_from == ("top" if pin <= 8 else "bottom"), pin
            assert count.latch == "top"  # the wide edge
            place = (pin - 1) % 8 + 1
            told = count.place if count.place_from == "left" else 9 - count.place
            assert told == place, pin
