"""What should be live and what dead in a state, told from the documents alone and never from the solved network."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from loomwright.documents.behaviour import (
    BatteryFeed,
    GroundSwitch,
    InputWire,
    KeyedFeed,
    RelayTrigger,
    SwitchedFeed,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.elements import When
from loomwright.network.fitting_order import action_of, fitting_order
from loomwright.network.paths import end_node
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Joint

__all__ = ["Expectation", "Expectations", "expectations_of", "trigger_level"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """One node that should be live or dead in a state.

    `by` tells what makes it live: the car's own switch, the kit, or nothing.
    """

    node: str
    circuit: str
    live: bool
    by: Literal["car", "kit", "nothing"]
    starter: bool = False


def _closed(circuit: Circuit, start: str, goal: str, state: State) -> bool:
    """Tell whether a way between two ends of the path conducts in a state; open switches do not count."""
    edges: dict[str, list[str]] = {}
    for s in circuit.path:
        if s.closed_when is None or When.of_condition(s.closed_when).holds(state, 0):
            edges.setdefault(s.from_, []).append(s.to)
            edges.setdefault(s.to, []).append(s.from_)
    seen, frontier = {start}, [start]
    while frontier:
        for other in edges.get(frontier.pop(), ()):
            if other not in seen:
                seen.add(other)
                frontier.append(other)
    return goal in seen


class Expectations:
    """The expectations of one installation; asks are answered per state."""

    def __init__(self, car: Car, installation: Installation | None) -> None:
        self._car = car
        self._joints: dict[str, list[tuple[int, Joint, str]]] = {}
        self._joints_made = 0
        if installation is not None:
            order = fitting_order(installation)
            self._joints_made = len(order)
            terminals = {t.id: t for t in installation.kit.controller.terminals}
            for joint in installation.joints:
                terminal = terminals[joint.terminal]
                if joint.circuit is not None and terminal.kind.endswith("output"):
                    entry = (action_of(order, joint.id), joint, terminal.function)
                    self._joints.setdefault(joint.circuit, []).append(entry)

    def _kit_drives(self, circuit: Circuit, goal: str, state: State) -> bool:
        if state.stage not in ("fitted", "learned"):
            return False
        return any(
            function in state.commands and joint.pin is not None and _closed(circuit, joint.pin, goal, state)
            for _, joint, function in self._joints.get(circuit.id, ())
        )

    def _source_live(self, circuit: Circuit, state: State) -> bool:
        behaviour = circuit.behaviour
        if isinstance(behaviour, KeyedFeed):
            return state.key in behaviour.live and self.live(self._car.circuits[behaviour.fed_by], "load", state)
        if isinstance(behaviour, SwitchedFeed | InputWire) and behaviour.fed_by is not None:
            return self.live(self._car.circuits[behaviour.fed_by], "load", state)
        return True

    def live(self, circuit: Circuit, end: str, state: State) -> bool:
        """Tell whether an end of a feeding circuit should be live."""
        by_car = self._source_live(circuit, state) and _closed(circuit, "source", end, state)
        return by_car or self._kit_drives(circuit, end, state)

    def _one(self, circuit: Circuit, end: str, node: str, state: State, *, starter: bool = False) -> Expectation:
        by_car = self._source_live(circuit, state) and _closed(circuit, "source", end, state)
        by_kit = not by_car and self._kit_drives(circuit, end, state)
        by: Literal["car", "kit", "nothing"] = "car" if by_car else "kit" if by_kit else "nothing"
        return Expectation(node=node, circuit=circuit.id, live=by_car or by_kit, by=by, starter=starter)

    def of(self, state: State) -> Iterator[Expectation]:
        """Yield what should hold at every load and every trigger of the car in a state."""
        for circuit in self._car.circuits.values():
            behaviour = circuit.behaviour
            if isinstance(behaviour, BatteryFeed | KeyedFeed | SwitchedFeed | InputWire):
                ends = [e for s in circuit.path for e in (s.from_, s.to)]
                names = [e for e in dict.fromkeys(ends) if "/" not in e and ":" not in e]
                starter = isinstance(behaviour, KeyedFeed) and behaviour.starter
                for end in names:
                    if end not in ("source", "ground"):
                        yield self._one(circuit, end, end_node(circuit, end), state, starter=starter)
            elif isinstance(behaviour, RelayTrigger):
                pulled = _closed(circuit, "source", "ground", state)
                kit = not pulled and self._kit_drives(circuit, "source", state)
                yield Expectation(
                    node=f"e:{circuit.id}/relay-out",
                    circuit=circuit.id,
                    live=pulled or kit,
                    by="car" if pulled else "kit" if kit else "nothing",
                )
            elif isinstance(behaviour, GroundSwitch) and state.key in behaviour.works_in and state.holds("awake"):
                pulled = _closed(circuit, "source", "ground", state)
                kit = not pulled and self._kit_drives(circuit, "source", state)
                # A negative trigger is at rest while it is up; pulling it down operates it.
                yield Expectation(
                    node=end_node(circuit, "source"),
                    circuit=circuit.id,
                    live=not (pulled or kit),
                    by="car" if pulled else "kit" if kit else "nothing",
                )


def expectations_of(car: Car, installation: Installation | None = None) -> Expectations:
    """Return the expectations of a car, with a kit in it where one is given."""
    return Expectations(car, installation)


def trigger_level(circuit: Circuit, battery_v: float) -> float:
    """Return what a trigger wire is held up to [V]."""
    behaviour = circuit.behaviour
    if isinstance(behaviour, GroundSwitch) and behaviour.pull_up_v is not None:
        return behaviour.pull_up_v
    return battery_v
