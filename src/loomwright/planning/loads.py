"""What a wire carries once it is driven: its own loads, and what the car switches onto it besides.

Circuits that hang on another one are counted where they are on at rest with the engine running, and of those that
somebody switches on the heaviest single one: the proof tries each by itself. Currents are those at 12 V.
"""

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.behaviour import (
    STIMULI,
    BatteryFeed,
    GroundSwitch,
    GroundWire,
    InputWire,
    KeyedFeed,
    ModuleOutput,
    RelayTrigger,
    ReversingLeg,
    StartRequest,
    SteppedInput,
    SwitchedFeed,
    SwitchedGround,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.planning.minutes import CONTINUOUS_SHARE, NOMINAL_V
from loomwright.planning.sides import between

__all__ = ["BRIEF", "demand_a", "load_a", "most_a", "peak_a", "switched_a", "through_a"]

BRIEF = frozenset({
    "window pressed", "horn pressed", "lock pressed", "unlock pressed", "start pressed", "hatch pressed",
    "key turned to lock", "key turned to unlock",
})  # fmt: skip
"""What somebody holds for seconds; a fuse may then carry its whole rating."""

_Gate = str | None  # the one stimulus that switches a load on; None where it is on by itself


def _own_a(circuit: Circuit) -> float:
    """Return the current that operating the circuit itself takes: Ohm's law for coils and resistors."""
    b = circuit.behaviour
    if isinstance(b, BatteryFeed | KeyedFeed | SwitchedFeed | GroundWire | ModuleOutput):
        return b.load_a + sum(extra.load_a for extra in b.loads.values())
    if isinstance(b, ReversingLeg | SwitchedGround):
        return b.load_a
    if isinstance(b, GroundSwitch):
        return (b.pull_up_v if b.pull_up_v is not None else NOMINAL_V) / b.pull_up_ohm
    if isinstance(b, SteppedInput):
        lowest = min(step.resistance_ohm for step in b.steps)
        return (b.pull_up_v if b.pull_up_v is not None else NOMINAL_V) / (b.pull_up_ohm + lowest)
    if isinstance(b, RelayTrigger):
        return NOMINAL_V / b.coil_ohm
    if isinstance(b, InputWire | StartRequest):
        return NOMINAL_V / b.pull_down_ohm
    return 0.0


def _rests_open(condition: str) -> str | None:
    """Return the stimulus that a switch waits for, or None where it is closed at rest with the engine running."""
    wanted, name = not condition.startswith("not "), condition.removeprefix("not ")
    rest = True if name == "engine running" else STIMULI[name]
    return None if rest == wanted else name


def _gates(circuit: Circuit, end: str) -> set[str] | None:
    """Return the stimuli that must change before an end of the path is fed; None where no way leads there."""
    way = between(circuit, "source", end)
    if way is None:
        return None
    conditions = [s.closed_when for s in way if s.closed_when is not None]
    if isinstance(circuit.behaviour, ModuleOutput):
        conditions.append(circuit.behaviour.on_when)
    return {name for name in map(_rests_open, conditions) if name is not None}


_LAST: list[tuple[Car, Mapping[str, tuple[Circuit, ...]]]] = []
"""The car that was asked about last: planning asks about its circuits thousands of times."""


def _children(car: Car, circuit: Circuit) -> tuple[Circuit, ...]:
    for known, by_feed in tuple(_LAST):
        if known is car:
            return by_feed.get(circuit.id, ())
    fed: dict[str, list[Circuit]] = {}
    for other in car.circuits.values():
        b = other.behaviour
        if isinstance(b, SwitchedFeed | InputWire | ModuleOutput | SwitchedGround) and b.fed_by is not None:
            fed.setdefault(b.fed_by, []).append(other)
    by_feed = {feed: tuple(children) for feed, children in fed.items()}
    _LAST[:] = [(car, by_feed)]
    return by_feed.get(circuit.id, ())


def _onward(car: Car, circuit: Circuit, waiting: frozenset[str]) -> Iterator[tuple[_Gate, float]]:
    """Yield (what switches it on, current) of everything that hangs on a circuit's load end; at most one may wait."""
    for child in _children(car, circuit):
        b = child.behaviour
        if isinstance(b, SwitchedGround):
            amps = {"ground": b.load_a}
        elif isinstance(b, InputWire):
            amps = {"load": NOMINAL_V / b.pull_down_ohm}
        elif isinstance(b, SwitchedFeed | ModuleOutput):
            amps = {"load": b.load_a, **{name: extra.load_a for name, extra in b.loads.items()}}
        else:  # pragma: no cover - the children are of no other kind
            continue
        for end, current in amps.items():
            gates = _gates(child, end)
            if gates is not None and len(waiting | gates) <= 1:
                yield next(iter(waiting | gates), None), current
        gates = _gates(child, "load")
        if gates is not None and len(waiting | gates) <= 1:
            yield from _onward(car, child, waiting | gates)


def _own(circuit: Circuit) -> Iterator[tuple[_Gate, float]]:
    """Yield (what switches it on, current) of the circuit's own loads; only what the key feeds waits for a switch.

    A switch in another circuit's path stands before the place where it is driven.
    """
    b = circuit.behaviour
    if not isinstance(b, KeyedFeed):
        yield None, _own_a(circuit)
        return
    for end, amps in {"load": b.load_a, **{name: extra.load_a for name, extra in b.loads.items()}}.items():
        gates = _gates(circuit, end) or set()
        if len(gates) <= 1:
            yield next(iter(gates), None), amps


def _other_legs(car: Car, circuit: Circuit) -> Iterator[tuple[_Gate, float]]:
    """Yield the motors that hang between a leg and legs other than its partner, as where one door opens by itself."""
    b = circuit.behaviour
    for other in car.circuits.values() if isinstance(b, ReversingLeg) else ():
        mine = isinstance(other.behaviour, ReversingLeg) and other.behaviour.partner == circuit.id
        if mine and isinstance(b, ReversingLeg) and b.partner != other.id:
            yield None, _own_a(other)


def switched_a(car: Car, circuit: Circuit) -> Mapping[str | None, float]:
    """Return the current of everything that hangs on a circuit, by the one stimulus that switches it on [A].

    Under None stands what is on by itself.
    """
    found: dict[_Gate, float] = {None: 0.0}
    for gate, amps in (*_own(circuit), *_onward(car, circuit, frozenset()), *_other_legs(car, circuit)):
        found[gate] = found.get(gate, 0.0) + amps
    return MappingProxyType(found)


def most_a(parts: Iterable[Mapping[str | None, float]]) -> float:
    """Return the most that several circuits take together, with one thing switched on [A]."""
    total: dict[_Gate, float] = {}
    for part in parts:
        for gate, amps in part.items():
            total[gate] = total.get(gate, 0.0) + amps
    return total.pop(None, 0.0) + max(total.values(), default=0.0)


def load_a(car: Car, circuit: Circuit) -> float:
    """Return what driving the circuit takes with nothing else switched on [A]."""
    return switched_a(car, circuit)[None]


def peak_a(car: Car, circuit: Circuit) -> float:
    """Return the most that driving the circuit takes, with the heaviest thing switched on that hangs on it [A]."""
    return most_a([switched_a(car, circuit)])


def demand_a(car: Car, circuit: Circuit) -> float:
    """Return the current that three quarters of a rating must cover [A].

    It is what always flows, or three quarters of the most: a contact may use its whole rating for a while.
    """
    parts = switched_a(car, circuit)
    return max(parts[None], CONTINUOUS_SHARE * most_a([parts]))


def through_a(car: Car, circuit: Circuit) -> float:
    """Return the factory current through a pin of the circuit: for a feed with what the key takes from it [A]."""
    own = switched_a(car, circuit)
    if not isinstance(circuit.behaviour, BatteryFeed):
        return most_a([own])
    taken: dict[str, list[Mapping[str | None, float]]] = {"run": [own], "crank": [own]}
    for other in car.circuits.values():
        if isinstance(other.behaviour, KeyedFeed) and other.behaviour.fed_by == circuit.id:
            for key in taken.keys() & set(other.behaviour.live):
                taken[key].append(switched_a(car, other))
    return max(most_a(parts) for parts in taken.values())
