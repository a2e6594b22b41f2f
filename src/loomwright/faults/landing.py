"""Where a slip lands: the pins one may take for the one that is meant."""

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.documents.behaviour import AirbagWire
from loomwright.documents.car import Car
from loomwright.documents.colours import clash_wires, parse_colour
from loomwright.documents.faces import shape_of
from loomwright.documents.miscounts import miscounts
from loomwright.documents.vehicle import Plug

__all__ = ["Landing", "landings"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """One pin that may be taken for another, and how."""

    pin: str  # 'plug/pin' landed on
    how: str  # 'one off', 'wrong end', ..., 'look-alike plug', 'look-alike colour'


def _wired(car: Car, pin: str) -> bool:
    """Tell whether a wire arrives at the pin that somebody may touch: airbag wires are never measured."""
    occupant = car.pins.get(pin)
    if occupant is None or occupant.colour is None:
        return False
    circuit = car.circuits[occupant.circuit]
    return circuit.function != "restraint" and not isinstance(circuit.behaviour, AirbagWire)


def _look_alike_plugs(car: Car, plug: Plug) -> Iterator[Plug]:
    """Yield the plugs within reach at the same place whose faces have the same rows."""
    for other in car.plugs.values():
        same = [len(row) for row in other.face.rows] == [len(row) for row in plug.face.rows]
        if other.id != plug.id and other.place == plug.place and same:
            yield other


def _look_alike_wires(car: Car, pin: str) -> Iterator[str]:
    """Yield the wires of the same plug that somebody may take for this one in bad light."""
    plug, mine = pin.partition("/")[0], car.pins[pin]
    if mine.colour is None:
        return
    own = (parse_colour(mine.colour), parse_colour(mine.stripe) if mine.stripe else None)
    for other, occupant in car.pins.items():
        if other == pin or other.partition("/")[0] != plug or occupant.colour is None:
            continue
        theirs = (parse_colour(occupant.colour), parse_colour(occupant.stripe) if occupant.stripe else None)
        if clash_wires(own, theirs) is not None:
            yield other


def landings(car: Car, pin: str) -> tuple[Landing, ...]:
    """Return the pins one may land on instead of `pin`, the commonest slips first, each pin once."""
    plug_id, _, name = pin.partition("/")
    plug = car.plugs[plug_id]
    occupied = frozenset(p.partition("/")[2] for p in car.pins if p.startswith(f"{plug_id}/"))
    found: dict[str, str] = {}
    for slip in miscounts(shape_of(plug), name, occupied):
        found.setdefault(f"{plug_id}/{slip.pin}", slip.how)
    for other in _look_alike_wires(car, pin):
        found.setdefault(other, "look-alike colour")
    for twin in _look_alike_plugs(car, plug):
        found.setdefault(f"{twin.id}/{name}", "look-alike plug")
    return tuple(Landing(pin=p, how=how) for p, how in found.items() if _wired(car, p))
