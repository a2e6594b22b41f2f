"""Which side of what a pin lies on: switches and fuses along a circuit's path, what operates it and when it is live."""

from collections import deque
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from loomwright.documents.behaviour import KeyedFeed, StartRequest
from loomwright.documents.functions import FunctionName
from loomwright.documents.vehicle import Circuit, Segment

__all__ = [
    "FactorySide",
    "Polarity",
    "between",
    "factory_side",
    "fed_without_switch",
    "fuse_above",
    "live_in",
    "on_in",
    "polarity",
    "switches_to_drive",
    "switches_to_rest",
]

Polarity = Literal["positive", "negative", "reversing", "stepped", "coded", "pulse", "data", "none"]
FactorySide = Literal["harness side", "plug side"]

_POLARITY: Mapping[str, Polarity] = MappingProxyType({
    "battery feed": "positive", "keyed feed": "positive", "switched feed": "positive", "input wire": "positive",
    "module output": "positive", "start request": "positive", "ground switch": "negative",
    "relay trigger": "negative", "ground wire": "negative", "switched ground": "negative",
    "reversing leg": "reversing", "stepped input": "stepped", "coded switch": "coded", "pulse wire": "pulse",
    "data wire": "data", "sensor wire": "none", "airbag wire": "none",
})  # fmt: skip

# In which key positions the factory has such a feed live, where the circuit does not say so itself.
_LIVE: Mapping[FunctionName, frozenset[str]] = MappingProxyType({
    "ignition": frozenset({"run", "crank"}),
    "second ignition": frozenset({"run"}),
    "accessory": frozenset({"acc", "run"}),
    "accessory 2": frozenset({"acc", "run"}),
    "start": frozenset({"crank"}),
    "second start": frozenset({"crank"}),
})


def polarity(circuit: Circuit) -> Polarity:
    """Return what operates the wire; 'none' for what is never joined and for a template that is not known here.

    'reversing' rests at ground and goes to battery voltage, 'stepped' wants a resistance to ground, 'coded' tells the
    key's position by one.
    """
    return _POLARITY.get(circuit.behaviour.template, "none")


def on_in(function: FunctionName) -> frozenset[str]:
    """Return the key positions that a kit output of the function stands for; empty where the key has no part in it."""
    return _LIVE.get(function, frozenset())


def live_in(circuit: Circuit) -> frozenset[str]:
    """Return the key positions in which the vehicle makes the wire live."""
    if isinstance(circuit.behaviour, KeyedFeed | StartRequest):
        return frozenset(circuit.behaviour.live)
    return _LIVE.get(circuit.function, frozenset())


def between(circuit: Circuit, start: str, end: str) -> tuple[Segment, ...] | None:
    """Return the steps of the shortest way from one point of the path to another, or None where there is none."""
    came: dict[str, tuple[str, Segment] | None] = {start: None}
    queue = deque([start])
    while queue:
        point = queue.popleft()
        if point == end:
            steps = []
            back = came[point]
            while back is not None:
                steps.append(back[1])
                back = came[back[0]]
            return tuple(reversed(steps))
        for segment in circuit.path:
            for here, there in ((segment.from_, segment.to), (segment.to, segment.from_)):
                if here == point and there not in came:
                    came[there] = (point, segment)
                    queue.append(there)
    return None


def factory_side(circuit: Circuit, pin: str) -> FactorySide | None:
    """Return on which side of a pin the factory's own signal comes from; None where opening it parts nothing.

    The harness side is where a wire ends; the plug side is the inside of the part, or the mate's wire where two
    harnesses meet. The side that the other way leads to is the driven one.
    """
    back = between(circuit, pin, "source")
    ways = [between(circuit, pin, end) for end in _ends(circuit) if end != "ground"]
    onward = next((way for way in ways if back and way and way[0] is not back[0]), None)
    if not back or not onward:
        return None
    factory, driven = _on_harness(circuit, pin, back[0]), _on_harness(circuit, pin, onward[0])
    if factory == driven:
        return None
    return "harness side" if factory else "plug side"


def _on_harness(circuit: Circuit, pin: str, step: Segment) -> bool:
    """Tell whether a step meets a pin on its harness side: the first wire there does, what is no wire does not."""
    meeting = [s for s in circuit.path if pin in (s.from_, s.to)]
    wires = [s for s in meeting if s.colour is not None]
    return step.colour is not None and (step is wires[0] or len(wires) < len(meeting))


def fed_without_switch(circuit: Circuit, pin: str) -> bool:
    """Tell whether a voltage at the pin would reach something else than the load: back to the source, or a branch.

    Open switches between the pin and the source keep it from that.
    """
    seen, frontier = {pin}, [pin]
    ahead = {end for step in between(circuit, pin, "load") or () for end in (step.from_, step.to)}
    while frontier:
        here = frontier.pop()
        for step in circuit.path:
            if step.closed_when is None and here in (step.from_, step.to):
                other = step.to if here == step.from_ else step.from_
                if other not in seen:
                    seen.add(other)
                    frontier.append(other)
    return "source" in seen or bool(seen & set(_ends(circuit)) - ahead)


def _switches(steps: tuple[Segment, ...] | None) -> tuple[Segment, ...]:
    return tuple(s for s in steps or () if s.closed_when is not None)


def _ends(circuit: Circuit) -> tuple[str, ...]:
    """Return the ends of the path other than its source, the main load first."""
    names = dict.fromkeys(
        end for s in circuit.path for end in (s.from_, s.to) if "/" not in end and not end.startswith("s:")
    )
    return tuple(sorted((n for n in names if n != "source"), key=lambda n: n != "load"))


def switches_to_drive(circuit: Circuit, pin: str) -> tuple[Segment, ...] | None:
    """Return the switches between a pin and what the circuit operates; None where there is no way.

    A positive circuit operates its load; a negative one what hangs at its source (a pull-up, a relay coil). Of several
    loads the one with the fewest switches in between counts: the others have their own switches.
    """
    if polarity(circuit) == "negative":
        steps = between(circuit, pin, "source")
        return None if steps is None else _switches(steps)
    ways = [between(circuit, pin, end) for end in _ends(circuit) if end != "ground"]
    found = [_switches(way) for way in ways if way is not None]
    return min(found, key=len) if found else None


def switches_to_rest(circuit: Circuit, pin: str) -> tuple[Segment, ...]:
    """Return the switches between a pin and where the factory's own signal comes from (battery, or ground)."""
    if polarity(circuit) == "negative":
        ways = [between(circuit, pin, end) for end in _ends(circuit)]
        return tuple(s for way in ways for s in _switches(way))
    return _switches(between(circuit, pin, "source"))


def fuse_above(circuit: Circuit, pin: str) -> Segment | None:
    """Return the smallest fuse between the source and a pin, or None."""
    fuses = [s for s in between(circuit, pin, "source") or () if s.fuse_a is not None]
    return min(fuses, key=lambda s: s.fuse_a or 0.0) if fuses else None
