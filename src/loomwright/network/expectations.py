"""What should be live and what dead in a state, told from the documents alone and never from the solved network."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from loomwright.documents.behaviour import (
    BatteryFeed,
    CodedSwitch,
    GroundSwitch,
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
from loomwright.documents.vehicle import Circuit, Segment
from loomwright.network.elements import When
from loomwright.network.fitting_order import action_of, fitting_order
from loomwright.network.paths import end_node
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Joint
from loomwright.planning.sides import between

__all__ = ["Expectation", "Expectations", "expectations_of", "trigger_level"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """One node that should be live or dead in a state, or stand at a share of its level.

    `by` tells what makes it so: the car's own switch, the kit, or nothing. `share` is given for wires that tell by
    their voltage which switch is pressed, and for outputs of which a meter shows the mean.
    """

    node: str
    circuit: str
    live: bool
    by: Literal["car", "kit", "nothing"]
    starter: bool = False
    share: float | None = None


class _Ways:
    """The ways through a circuit's path; only its own switches decide, so many states have theirs in common."""

    def __init__(self, circuit: Circuit) -> None:
        self._path = circuit.path
        conditions = {s.closed_when for s in circuit.path if s.closed_when is not None}
        self._conditions = {text: When.of_condition(text) for text in sorted(conditions)}
        self._reached: dict[tuple[object, ...], frozenset[str]] = {}

    def closed(self, start: str, goal: str, state: State, opened: Segment | None = None) -> bool:
        """Tell whether a way between two ends of the path conducts in a state; open switches do not count.

        `opened` is a step from which the kit parts the rest.
        """
        holding = frozenset(text for text, when in self._conditions.items() if when.holds(state, 0))
        place = None if opened is None else next(i for i, s in enumerate(self._path) if s is opened)
        key = (start, place, holding)
        if key not in self._reached:
            self._reached[key] = self._from(start, opened, holding)
        return goal in self._reached[key]

    def _from(self, start: str, opened: Segment | None, holding: frozenset[str]) -> frozenset[str]:
        edges: dict[str, list[str]] = {}
        for s in self._path:
            if s is not opened and (s.closed_when is None or s.closed_when in holding):
                edges.setdefault(s.from_, []).append(s.to)
                edges.setdefault(s.to, []).append(s.from_)
        seen, frontier = {start}, [start]
        while frontier:
            for other in edges.get(frontier.pop(), ()):
                if other not in seen:
                    seen.add(other)
                    frontier.append(other)
        return frozenset(seen)


def _load_ends(circuit: Circuit) -> tuple[str, ...]:
    """Return the ends of the path that are no pins, switches, source or ground."""
    ends = dict.fromkeys(e for s in circuit.path for e in (s.from_, s.to))
    return tuple(e for e in ends if "/" not in e and ":" not in e and e not in ("source", "ground"))


def _starts(circuit: Circuit) -> bool:
    behaviour = circuit.behaviour
    return isinstance(behaviour, StartRequest) or (isinstance(behaviour, KeyedFeed) and behaviour.starter)


class Expectations:
    """The expectations of one installation; asks are answered per state."""

    def __init__(self, car: Car, installation: Installation | None) -> None:
        self._car = car
        self._joints: dict[str, list[tuple[int, Joint, str]]] = {}
        self._joints_made = 0
        self._told: dict[State, tuple[Expectation, ...]] = {}
        self._ways = {circuit.id: _Ways(circuit) for circuit in car.circuits.values()}
        self._ends = {circuit.id: _load_ends(circuit) for circuit in car.circuits.values()}
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
        """Tell whether the kit should drive an end of a circuit: asked of the plan, wherever its joint really sits."""
        if state.stage not in ("fitted", "learned"):
            return False
        behaviour = circuit.behaviour
        if _starts(circuit) and state.holds("engine running"):
            return False  # whatever the kit commands, the starter of a running engine stays off
        if "start" in state.commands and isinstance(behaviour, KeyedFeed) and "crank" not in behaviour.live:
            return False  # what the car's own key lets drop while cranking, the kit lets drop too
        pins = [end for s in circuit.path for end in (s.from_, s.to) if "/" in end]

        def begins(joint: Joint) -> Sequence[str]:
            # A starter turns only as its whole path lets it, park/neutral switch included, wherever the kit joins it.
            # A joint that misses the circuit should have been at one of its pins.
            return ["source"] if _starts(circuit) else [joint.pin] if joint.pin in pins else pins

        def opened(joint: Joint) -> Segment | None:
            # Where the wire is open, the kit drives the end that leads away from the factory's own signal.
            way = between(circuit, joint.pin, "source") if joint.factory_side and joint.pin in pins else None
            return way[0] if way else None

        return any(
            function in state.commands
            and any(self._ways[circuit.id].closed(begin, goal, state, opened(joint)) for begin in begins(joint))
            for _, joint, function in self._joints.get(circuit.id, ())
        )

    def _source_live(self, circuit: Circuit, state: State) -> bool:
        behaviour = circuit.behaviour
        if isinstance(behaviour, KeyedFeed | StartRequest):
            keyed = state.key in behaviour.live
            if isinstance(behaviour, KeyedFeed) and behaviour.retained:
                keyed = keyed or (state.key == "off" and state.holds("retained accessory"))
            return keyed and self.live(self._car.circuits[behaviour.fed_by], "load", state)
        if isinstance(behaviour, ReversingLeg):
            return When.of_condition(behaviour.live_when).holds(state, 0)
        if isinstance(behaviour, ModuleOutput) and not When.of_condition(behaviour.on_when).holds(state, 0):
            return False
        return self.fed(circuit, state)

    def fed(self, circuit: Circuit, state: State) -> bool:
        """Tell whether the circuit that feeds a switched circuit is live; one that hangs on the battery always is."""
        behaviour = circuit.behaviour
        if isinstance(behaviour, SwitchedFeed | SwitchedGround | InputWire | ModuleOutput) and behaviour.fed_by:
            return self.live(self._car.circuits[behaviour.fed_by], "load", state)
        return True

    def live(self, circuit: Circuit, end: str, state: State) -> bool:
        """Tell whether an end of a feeding circuit should be live."""
        by_car = self._source_live(circuit, state) and self._ways[circuit.id].closed("source", end, state)
        return by_car or self._kit_drives(circuit, end, state)

    def _feeding(self, circuit: Circuit, state: State) -> Iterator[Expectation]:
        """Yield what should hold at the load ends of a circuit that feeds something."""
        behaviour = circuit.behaviour
        starter = _starts(circuit)
        source_live = self._source_live(circuit, state)
        for end in self._ends[circuit.id]:
            by_car = source_live and self._ways[circuit.id].closed("source", end, state)
            # A relay parts a module's output from the wire while the kit drives it: then it is the kit that decides.
            by_kit = (not by_car or isinstance(behaviour, ModuleOutput)) and self._kit_drives(circuit, end, state)
            by_car = by_car and not by_kit
            modulated = by_car and isinstance(behaviour, ModuleOutput) and behaviour.duty < 1.0
            yield Expectation(
                node=end_node(circuit, end),
                circuit=circuit.id,
                live=by_car or by_kit,
                by="car" if by_car else "kit" if by_kit else "nothing",
                starter=starter,
                share=behaviour.duty if modulated and isinstance(behaviour, ModuleOutput) else None,
            )

    def _pulled(self, circuit: Circuit, state: State, node: str, *, rests_live: bool, operated: bool) -> Expectation:
        """Return what should hold where grounding the wire does something."""
        pulled = self._ways[circuit.id].closed("source", "ground", state)
        kit = not pulled and self._kit_drives(circuit, "source", state)
        return Expectation(
            node=node,
            circuit=circuit.id,
            live=(pulled or kit) if operated else rests_live and not (pulled or kit),
            by="car" if pulled else "kit" if kit else "nothing",
        )

    def _stepped(self, circuit: Circuit, behaviour: SteppedInput, state: State) -> Expectation:
        """Return the level at which a stepped input should stand: that of the switch the car or the kit presses."""
        pressed = [s for s in behaviour.steps if When.of_condition(s.when).holds(state, 0)]
        functions = {function for _, _, function in self._joints.get(circuit.id, ())} & state.commands
        asked = [s for s in behaviour.steps if s.function in functions and state.stage in ("fitted", "learned")]
        conductance = sum(1.0 / s.resistance_ohm for s in dict.fromkeys([*pressed, *asked]))
        return Expectation(
            node=end_node(circuit, "source"),
            circuit=circuit.id,
            live=not (pressed or asked),
            by="car" if pressed else "kit" if asked else "nothing",
            share=1.0 / (1.0 + conductance * behaviour.pull_up_ohm),
        )

    def of(self, state: State) -> tuple[Expectation, ...]:
        """Return what should hold at every load and every trigger of the car in a state."""
        if state not in self._told:
            self._told[state] = tuple(self._of(state))
        return self._told[state]

    def _of(self, state: State) -> Iterator[Expectation]:
        for circuit in self._car.circuits.values():
            behaviour = circuit.behaviour
            source = end_node(circuit, "source")
            awake = state.holds("awake")
            if isinstance(behaviour, _FEEDING):
                yield from self._feeding(circuit, state)
            elif isinstance(behaviour, RelayTrigger):
                node = f"e:{circuit.id}/relay-out"
                yield self._pulled(circuit, state, node, rests_live=False, operated=True)
            elif isinstance(behaviour, SwitchedGround):
                yield self._pulled(circuit, state, source, rests_live=self.fed(circuit, state), operated=False)
            elif isinstance(behaviour, GroundSwitch) and state.key in behaviour.works_in and awake:
                # A negative trigger is at rest while it is up; pulling it down operates it.
                yield self._pulled(circuit, state, source, rests_live=True, operated=False)
            elif isinstance(behaviour, SteppedInput) and awake:
                yield self._stepped(circuit, behaviour, state)
            elif isinstance(behaviour, CodedSwitch) and awake and state.key in behaviour.resistances:
                ohm = behaviour.resistances[state.key]
                share = ohm / (ohm + behaviour.pull_up_ohm)
                yield Expectation(node=source, circuit=circuit.id, live=True, by="car", share=share)


_FEEDING = (BatteryFeed, KeyedFeed, SwitchedFeed, InputWire, ModuleOutput, ReversingLeg, StartRequest)


def expectations_of(car: Car, installation: Installation | None = None) -> Expectations:
    """Return the expectations of a car, with a kit in it where one is given."""
    return Expectations(car, installation)


def trigger_level(circuit: Circuit, battery_v: float) -> float:
    """Return what the level of a wire is a share of: its pull-up's voltage, or the battery [V]."""
    behaviour = circuit.behaviour
    if isinstance(behaviour, GroundSwitch):
        held_to = battery_v if behaviour.pull_up_v is None else behaviour.pull_up_v
        return held_to * behaviour.polled
    if isinstance(behaviour, SteppedInput | CodedSwitch) and behaviour.pull_up_v is not None:
        return behaviour.pull_up_v
    return battery_v
