"""One fact of a car written otherwise: each edit is what a document would say if that fact were another one."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

from loomwright.documents.behaviour import (
    GroundSwitch,
    InputWire,
    KeyedFeed,
    KeyPosition,
    RelayTrigger,
    StartRequest,
    SwitchedFeed,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit, Segment
from loomwright.faults.landing import landings
from loomwright.faults.measured import measured

__all__ = ["Fact", "Otherwise", "otherwise"]

Fact = Literal["pin", "trigger", "live positions", "switch side", "fuse", "load", "longest signal"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Otherwise:
    """One fact, as the document has it and as it might be, and the car in which it is so."""

    circuit: str
    pin: str
    fact: Fact
    written: str
    instead: str
    car: Car


def _with(car: Car, *circuits: Circuit) -> Car:
    return replace(car, circuits=MappingProxyType({**car.circuits, **{c.id: c for c in circuits}}))


def _renamed(circuit: Circuit, names: Mapping[str, str]) -> Circuit:
    steps = tuple(
        s.model_copy(update={"from_": names.get(s.from_, s.from_), "to": names.get(s.to, s.to)}) for s in circuit.path
    )
    return circuit.model_copy(update={"path": steps})


def _exchanged(car: Car, one: str, other: str) -> Car:
    """Return the car with what sits in two pins exchanged."""
    names = {one: other, other: one}
    circuits = {car.pins[pin].circuit for pin in (one, other)}
    changed = _with(car, *(_renamed(car.circuits[c], names) for c in circuits))
    return replace(changed, pins=MappingProxyType({names.get(pin, pin): its for pin, its in car.pins.items()}))


def _pins(car: Car, pin: str) -> Iterator[tuple[Fact, str, str, Car]]:
    """The circuit sits where the commonest slip of counting would have found it."""
    for landing in landings(car, pin)[:1]:
        yield "pin", pin, landing.pin, _exchanged(car, pin, landing.pin)


def _upside_down(circuit: Circuit, ends: Mapping[str, str]) -> tuple[Segment, ...]:
    """Return the path the other way round, with some ends renamed."""
    return tuple(
        s.model_copy(update={"from_": ends.get(s.to, s.to), "to": ends.get(s.from_, s.from_)})
        for s in reversed(circuit.path)
    )


def _triggers(car: Car, circuit: Circuit) -> Iterator[tuple[Fact, str, str, Car]]:
    """A negative trigger is a positive one, or the other way round."""
    behaviour = circuit.behaviour
    if isinstance(behaviour, GroundSwitch):
        path = _upside_down(circuit, {"ground": "source", "source": "load"})
        positive = InputWire(template="input wire", fed_by=None, pull_down_ohm=10_000.0)
        yield (
            "trigger",
            "negative",
            "positive",
            _with(car, circuit.model_copy(update={"path": path, "behaviour": positive})),
        )
    elif isinstance(behaviour, RelayTrigger):
        positive_feed = SwitchedFeed(
            template="switched feed", fed_by=None, load_a=behaviour.load_a, load=behaviour.load, loads={}
        )
        path = _upside_down(circuit, {"ground": "source", "source": "load"})
        yield (
            "trigger",
            "negative",
            "positive",
            _with(car, circuit.model_copy(update={"path": path, "behaviour": positive_feed})),
        )
    elif isinstance(behaviour, InputWire | SwitchedFeed) and any(s.closed_when for s in circuit.path):
        path = _upside_down(circuit, {"source": "ground", "load": "source"})
        kept = tuple(s for s in path if s.fuse_a is None or "ground" not in (s.from_, s.to))
        grounded = tuple(
            s.model_copy(update={"to": "ground"}) if s.closed_when and s.to.startswith("s:") else s for s in kept
        )
        keys: tuple[KeyPosition, ...] = ("off", "acc", "run", "crank")
        negative = GroundSwitch(template="ground switch", pull_up_ohm=2200.0, pull_up_v=None, works_in=keys, polled=1.0)
        yield (
            "trigger",
            "positive",
            "negative",
            _with(car, circuit.model_copy(update={"path": grounded, "behaviour": negative})),
        )


def _live(car: Car, circuit: Circuit) -> Iterator[tuple[Fact, str, str, Car]]:
    """A feed of the key keeps or drops one position more."""
    behaviour = circuit.behaviour
    if not isinstance(behaviour, KeyedFeed) or behaviour.starter:
        return
    toggled: tuple[KeyPosition, ...] = ("acc", "crank")
    for key in toggled:
        live = tuple(k for k in ("off", "acc", "run", "crank") if (k in behaviour.live) != (k == key))
        changed = circuit.model_copy(update={"behaviour": behaviour.model_copy(update={"live": live})})
        yield "live positions", ", ".join(behaviour.live), ", ".join(live), _with(car, changed)


def _switch_side(car: Car, circuit: Circuit, pin: str) -> Iterator[tuple[Fact, str, str, Car]]:
    """The pin lies on the other side of its switch."""
    path = list(circuit.path)
    at = [i for i, s in enumerate(path) if pin in (s.from_, s.to)]
    for i in at:
        for j in at:
            if path[i].closed_when and i != j and path[j].closed_when is None and path[j].fuse_a is None:
                moved = {"closed_when": path[i].closed_when, "switch": path[i].switch, "colour": None, "stripe": None}
                path[j] = path[j].model_copy(update=moved)
                path[i] = path[i].model_copy(update={"closed_when": None, "switch": None})
                side = "before" if j > i else "behind"
                words = {"before": "behind the switch", "behind": "before the switch"}
                changed = circuit.model_copy(update={"path": tuple(path)})
                yield "switch side", words[side], f"{side} the switch", _with(car, changed)
                return


def _fuse(car: Car, circuit: Circuit) -> Iterator[tuple[Fact, str, str, Car]]:
    """The smallest fuse in the circuit has half the rating."""
    fuses = [s.fuse_a for s in circuit.path if s.fuse_a is not None]
    if fuses:
        least = min(fuses)
        path = tuple(
            s.model_copy(update={"fuse_a": least / 2}) if s.fuse_a == least else s for s in circuit.path
        )  # fmt: skip
        changed = _with(car, circuit.model_copy(update={"path": path}))
        yield "fuse", measured(least, "A"), measured(least / 2, "A"), changed


def _load(car: Car, circuit: Circuit) -> Iterator[tuple[Fact, str, str, Car]]:
    """The load takes twice the current; the longest signal is half as long."""
    behaviour = circuit.behaviour
    load_a = getattr(behaviour, "load_a", None)
    if load_a:
        changed = circuit.model_copy(update={"behaviour": behaviour.model_copy(update={"load_a": 2 * load_a})})
        yield "load", measured(load_a, "A"), measured(2 * load_a, "A"), _with(car, changed)
    if isinstance(behaviour, StartRequest):
        half = behaviour.hold_s / 2
        changed = circuit.model_copy(update={"behaviour": behaviour.model_copy(update={"hold_s": half})})
        yield "longest signal", measured(behaviour.hold_s, "s"), measured(half, "s"), _with(car, changed)


def otherwise(car: Car, circuit_id: str, pin: str) -> tuple[Otherwise, ...]:
    """Return each fact of a circuit changed by itself, as seen from the pin where a kit meets it.

    One off, the other polarity, one key position more or less, the other side of the switch, half the fuse, twice the
    load: what is most often wrong in a document (common practice).
    """
    circuit = car.circuits[circuit_id]
    edits = (
        *_pins(car, pin), *_triggers(car, circuit), *_live(car, circuit), *_switch_side(car, circuit, pin),
        *_fuse(car, circuit), *_load(car, circuit),
    )  # fmt: skip
    return tuple(
        Otherwise(circuit=circuit_id, pin=pin, fact=fact, written=written, instead=instead, car=changed)
        for fact, written, instead, changed in edits
    )
