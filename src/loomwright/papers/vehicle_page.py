"""What the page of a vehicle shows: place by place its plugs as they are seen, and the circuits in them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from loomwright.documents.car import Car
from loomwright.documents.faces import shape_of
from loomwright.network.pin_levels import PinLevel
from loomwright.papers.doing import key_words
from loomwright.papers.drawings import DashMap, DashSpot, FaceDrawing
from loomwright.papers.job import function_words, key_states
from loomwright.papers.saying import capital
from loomwright.papers.words.en import bench, naming
from loomwright.sentences import linked, told

__all__ = ["CircuitView", "VehiclePage", "VehiclePlace", "VehiclePlug", "plug_drawing", "vehicle_page", "walk_states"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitView:
    """One circuit as it stands in a pin, or without one."""

    id: str
    pin: str  # empty where it passes no plug
    name: str
    function: str
    colour: str  # empty where it is fed inside the part
    stripe: str | None
    standing: str
    why: str
    is_proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class VehiclePlug:
    """One plug with what sits in it."""

    id: str
    name: str
    look: str
    opening: str
    drawing: FaceDrawing
    circuits: tuple[CircuitView, ...]
    empty: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VehiclePlace:
    """One place with its plugs; `number` is that of the map."""

    id: str
    number: int
    name: str
    words: str
    access: tuple[str, ...]
    plugs: tuple[VehiclePlug, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VehiclePage:
    """Everything the page shows of one car."""

    places: tuple[VehiclePlace, ...]
    map: DashMap
    unplugged: tuple[CircuitView, ...]  # circuits that pass no plug
    proven: int
    unproven: int
    contradicted: int
    hazards: tuple[tuple[str, str, str], ...]  # (kind, place, words)


def vehicle_page(car: Car) -> VehiclePage:
    """Return what the page shows of a car."""
    used = dict.fromkeys(p.place for p in car.plugs.values())
    places = tuple(p for p in car.places.values() if p.id in used)
    counts = [s.status for s in car.standing.values()]
    return VehiclePage(
        places=tuple(
            VehiclePlace(
                id=place.id, number=number, name=capital(place.name), words=place.words, access=place.access,
                plugs=tuple(_plug(car, p) for p, plug in car.plugs.items() if plug.place == place.id),
            )
            for number, place in enumerate(places, 1)
        ),
        map=DashMap(spots=tuple(DashSpot(id=p.id, name=p.name, x=p.x, y=p.y) for p in places)),
        unplugged=tuple(_circuit(car, c, "") for c in car.circuits if not car.pins_of(c)),
        proven=counts.count("proven"), unproven=counts.count("unproven"), contradicted=counts.count("contradicted"),
        hazards=tuple((h.kind, car.places[h.place].name, h.words) for h in car.hazards),
    )  # fmt: skip


def plug_drawing(car: Car, plug: str, target: str | None = None) -> FaceDrawing:
    """Return a plug as the person sees it with the plug in place; airbag pins are marked to keep off."""
    found = car.plugs[plug]
    shape = shape_of(found)
    occupants = {pin: car.pins.get(f"{plug}/{pin}") for pin in shape.pins}
    avoid = tuple(
        pin for pin, o in occupants.items() if o is not None and car.circuits[o.circuit].function == "restraint"
    )
    named = (*avoid, *((target,) if target in shape.pins and target is not None else ()))
    return FaceDrawing(
        shape=shape,
        occupants={p: None if o is None or o.colour is None else (o.colour, o.stripe) for p, o in occupants.items()},
        side=found.seen_side, turn=found.seen_turn, target=target, avoid=tuple(p for p in avoid if p != target),
        labels={pin: _name(car, o.circuit) for pin in named if (o := occupants[pin]) is not None},
    )  # fmt: skip


def _name(car: Car, circuit: str) -> str:
    found = car.circuits[circuit]
    return found.name or found.function


def _plug(car: Car, plug: str) -> VehiclePlug:
    found = car.plugs[plug]
    return VehiclePlug(
        id=plug, name=capital(found.name), look=found.look, opening=found.opening, drawing=plug_drawing(car, plug),
        circuits=tuple(_in_plug(car, plug)), empty=car.empty_pins(plug),
    )  # fmt: skip


def _in_plug(car: Car, plug: str) -> Iterator[CircuitView]:
    for row in car.plugs[plug].face.rows:
        for pin in row:
            if pin is not None and (occupant := car.pins.get(f"{plug}/{pin}")) is not None:
                yield _circuit(car, occupant.circuit, pin, occupant.colour or "", occupant.stripe)


def _circuit(car: Car, circuit: str, pin: str, colour: str = "", stripe: str | None = None) -> CircuitView:
    standing = car.standing[circuit]
    if not pin:
        wire = next((s for s in car.circuits[circuit].path if s.colour is not None), None)
        colour, stripe = (wire.colour or "", wire.stripe) if wire is not None else ("", None)
    return CircuitView(
        id=circuit, pin=pin, name=_name(car, circuit), function=function_words(car.circuits[circuit].function),
        colour=colour, stripe=stripe, standing=naming.STANDING[standing.status], why=standing.why,
        is_proven=standing.status == "proven",
    )  # fmt: skip


def walk_states(car: Car, levels: Sequence[PinLevel]) -> tuple[tuple[str, str], ...]:
    """Return what to do and what the meter should show about then, for each level of a pin."""
    keys = key_states(car)
    return tuple((_doing(level, keys), _showing(level)) for level in levels)


def _doing(level: PinLevel, keys: Mapping[str, str]) -> str:
    parts = [key_words(keys, level.state)]
    parts += [naming.DOING[s] for s in sorted(level.state.active - {"engine running", "key in lock"})]
    return linked(parts, ", ")


def _showing(level: PinLevel) -> str:
    if level.volts is None:
        return bench.FLOATS
    return told(bench.ABOUT_MOVING if level.moves else bench.ABOUT, volts=level.volts)
