"""One state of an installation at a time: what each wire does in it, and what an open or shorted wire changes.

The circuit is compiled once, with a short to the body at every place where one may be asked for; a wire is opened and
a short closed by its scale alone. Each state is solved twice side by side, sound and as asked, and the rules of the
proof are asked about both, so that what a fault brings is told in the same words as what the proof finds.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from loomwright.documents.behaviour import CodedSwitch, GroundSwitch, RelayTrigger, SteppedInput, SwitchedGround
from loomwright.documents.car import Car
from loomwright.network.asking import moves_by_itself
from loomwright.network.battery_held import hold_battery
from loomwright.network.branches import OPEN_RATIO, BoolArray, FloatArray
from loomwright.network.commands import PHASES, command_table
from loomwright.network.compiling import Compiled, compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Element, Netlist, Origin, line
from loomwright.network.expectations import Expectations, expectations_of, trigger_level
from loomwright.network.fuses import opening_time
from loomwright.network.held import driven
from loomwright.network.joining import joined_netlist
from loomwright.network.kit_side import lead_node, terminal_node
from loomwright.network.latches import Outcome
from loomwright.network.paths import BATTERY, pin_nodes
from loomwright.network.results import Finding
from loomwright.network.rules_current import check_ratings
from loomwright.network.rules_live import DEAD_V, LIVE_SHARE, TRIGGER_SHARE, check_live
from loomwright.network.rules_short import SHORT_OHM
from loomwright.network.sensing import input_level
from loomwright.network.solution import Solution
from loomwright.network.solver import solve
from loomwright.network.solving import Solved
from loomwright.network.states import State
from loomwright.planning.installation import Installation

__all__ = [
    "Bench", "Blown", "Condition", "Held", "Point", "PointNow", "Sense", "WhatIf", "bench_of", "history_of", "what_if",
]  # fmt: skip

Condition = Literal["live", "dead", "up", "pulled", "ground", "moving", "between", "loose"]
"""A wire that works by being pulled to ground is 'up' at rest and 'pulled' when it is operated; 'moving' are data and
pulses, of which a meter shows a mean; 'loose' is a wire that nothing holds."""

_SHORT = "short:"
_LIFTED = 1e-15
"""Scale of a short that nobody asked for: 1 pS, which no reading shows even where a hundred of them hang on a wire."""
_MOST_FUSES = 8  # more than one after the other is rare; eight is every fuse a short of one wire can reach
_RESTS_HIGH = (CodedSwitch, GroundSwitch, RelayTrigger, SteppedInput, SwitchedGround)
_SOUND, _ASKED = 0, 1
_ORDER = {"stop": 0, "fix": 1, "note": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One wire of the kit or the car, where it may be measured, opened and shorted."""

    id: str  # 'lead:<joint>' or 'pin:<plug>/<pin>'
    side: Literal["kit", "vehicle"]
    node: str
    wire: str | None  # element to open; None where the pin is fed inside the part
    circuit: str | None
    joint: str | None
    pin: str | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bench:
    """An installation made ready to be asked; it holds no state and may be asked from several threads."""

    installation: Installation
    compiled: Compiled
    expectations: Expectations
    points: Mapping[str, Point]
    shorts: tuple[int, ...]  # rows of the shorts


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What somebody else keeps account of in one state: the battery's voltage [V], and elements that are open."""

    battery_v: float
    opened: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class PointNow:
    """What a wire does: with everything sound, and as asked."""

    point: Point
    condition: Condition
    volts: float
    sound_condition: Condition
    sound_volts: float

    @property
    def changed(self) -> bool:
        """Tell whether what is opened or shorted changes what one sees at this wire."""
        return self.condition != self.sound_condition or abs(self.volts - self.sound_volts) > DEAD_V / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Blown:
    """A fuse that opens: the current that did it and within how long it must open."""

    element: Element
    current_a: float
    within_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense:
    """What a controller input takes its wire for; None is neither true nor false."""

    joint: str
    function: str
    volts: float
    reads: bool | None
    sound_reads: bool | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WhatIf:
    """The answer for one state."""

    state: State
    battery_v: float
    points: Mapping[str, PointNow]
    senses: tuple[Sense, ...]
    blown: tuple[Blown, ...]  # in the order in which they open
    findings: tuple[Finding, ...]  # what the rules find that they do not find in the sound circuit
    settles: bool  # False where a relay chatters
    latched: BoolArray  # relays as they are left, from which a longer history goes on


def bench_of(installation: Installation) -> Bench:
    """Compile an installation with a short to the body at every wire of the kit and of the plugs it meets."""
    netlist = joined_netlist(installation)
    points = {p.id: p for p in (*_kit_points(installation), *_vehicle_points(installation, netlist))}
    shorts = [
        Element(
            id=_SHORT + node, kind="meter", a=node, b=GROUND, shape=line(1.0 / SHORT_OHM), when=(),
            origin=Origin(side="tool", of=node, words="short"),
        )
        for node in dict.fromkeys(p.node for p in points.values())
    ]  # fmt: skip
    whole = Netlist.of([*netlist.elements, *shorts], netlist.joints_made)
    compiled = compile_netlist(whole)
    return Bench(
        installation=installation, compiled=compiled, shorts=tuple(compiled.element[s.id] for s in shorts),
        expectations=expectations_of(installation.car, installation), points=MappingProxyType(points),
    )  # fmt: skip


def _kit_points(installation: Installation) -> Iterable[Point]:
    for joint in installation.joints:
        yield Point(
            id=f"lead:{joint.id}", side="kit", node=lead_node(joint.terminal), wire=f"{joint.id}/lead",
            circuit=joint.circuit, joint=joint.id, pin=joint.pin,
        )  # fmt: skip


def _vehicle_points(installation: Installation, netlist: Netlist) -> Iterable[Point]:
    car = installation.car
    plugs = dict.fromkeys(j.pin.partition("/")[0] for j in installation.joints if j.pin is not None)
    wires: dict[str, str] = {}
    for element in netlist.elements:
        if element.kind == "wire" and element.origin.side == "vehicle":
            for node in (element.a, element.b):
                wires.setdefault(node, element.id)
    known = set(netlist.nodes)
    for pin, occupant in car.pins.items():
        nodes = [node for node in pin_nodes(pin) if node in known]
        if pin.partition("/")[0] in plugs and nodes:
            yield Point(
                id=f"pin:{pin}", side="vehicle", node=nodes[0], wire=wires.get(nodes[0]), circuit=occupant.circuit,
                joint=None, pin=pin,
            )  # fmt: skip


def history_of(installation: Installation, phase: str | None, state: State) -> tuple[State, ...]:
    """Return the states that lead to one, itself last; relays keep from each what they did there.

    Parameters
    ----------
    phase
        One of `commands.PHASES` that the kit has come to, or None where it commands nothing.
    state
        The state wanted; its stage, key and stimuli hold all along, its commands become those of each phase.
    """
    rest = State(stage=state.stage, key=state.key, active=state.active, joined=state.joined)
    if phase is None:
        return (rest,)
    table = command_table(installation)
    before = PHASES[: PHASES.index(phase) + 1]
    # The engine turns by itself from the last phase on.
    still = state.active - {"engine running"}
    return (
        State(stage=state.stage, key=state.key, active=still, joined=state.joined),
        *(
            State(
                stage=state.stage, key=state.key, joined=state.joined, commands=table[each],
                active=state.active | {"engine running"} if each == "running" else still,
            )
            for each in before
        ),
    )  # fmt: skip


def what_if(
    bench: Bench, history: Sequence[State], *, opened: Iterable[str] = (), shorted: Iterable[str] = (),
    held: Sequence[Held] | None = None, since: WhatIf | None = None,
) -> WhatIf:  # fmt: skip
    """Solve the last state of a history, sound and with wires opened and shorted to the body.

    The faults are there from the first state on. A fuse that must open at its current does so before the next state;
    the one with the shortest time first, since that may spare the others.

    Parameters
    ----------
    bench
        The installation.
    history
        States in their order, the one asked about last.
    opened, shorted
        Ids of points.
    held
        One for each state of the history: at which voltage the battery is held in it. The battery and the alternator
        of the circuit itself serve where left out.
    since
        The answer for the states that came before the first of this history, asked with the same wires opened and
        shorted; the car stood in its first state before it where left out.

    Raises
    ------
    KeyError
        For an id that is no point.
    ValueError
        Where a wire is to be opened that is none, the history is empty, or `held` is not as long as it.
    SolveError
        Where a state does not settle and does not chatter either, which would be a fault of this program.
    """
    if not history:
        msg = "history: found no state, expected at least the one asked about"
        raise ValueError(msg)
    if held is not None and len(held) != len(history):
        msg = f"held: found {len(held)}, expected one for each of {len(history)} states"
        raise ValueError(msg)
    compiled = bench.compiled
    open_rows = [_open_row(bench, name) for name in opened]
    short_rows = [compiled.element[_SHORT + bench.points[name].node] for name in shorted]
    is_sound = not (open_rows or short_rows)
    lanes = 1 if is_sound else 2  # without a fault both answers are one
    latched: BoolArray = np.zeros((len(compiled.branches.latches), lanes), dtype=np.bool_)
    blown: list[Blown] = []
    if since is not None:
        latched, blown = since.latched[:, :lanes], list(since.blown)
    scales = scale_of(compiled.netlist, history)
    for step in range(len(history)):
        scale = scales[:, [step] * lanes]
        emf = np.repeat(emf_of(compiled), lanes, axis=1)
        if held is not None:
            hold_battery(compiled, scale, emf, [held[step].battery_v] * lanes)
            scale[[compiled.element[name] for name in held[step].opened]] *= OPEN_RATIO
        scale[list(bench.shorts)] = _LIFTED
        scale[open_rows, -1] *= OPEN_RATIO
        scale[short_rows, -1] = 1.0
        for fuse in blown:
            scale[compiled.element[fuse.element.id], _ASKED] *= OPEN_RATIO
        found = solve(compiled.branches, scale, emf, latched=latched)
        while not is_sound and len(blown) < _MOST_FUSES:
            opens = _first_to_open(compiled, found)
            if opens is None:
                break
            blown.append(opens)
            scale[compiled.element[opens.element.id], _ASKED] *= OPEN_RATIO
            found = solve(compiled.branches, scale, emf, latched=latched)
        latched = found.latched
    if is_sound:
        found, scale = _twice(found), np.repeat(scale, 2, axis=1)
    return _told(bench, history[-1], found, scale, tuple(blown), is_sound=is_sound)


def _twice(found: Solution) -> Solution:
    """Return a solution of one lane as that of both."""
    return Solution(
        voltage=np.repeat(found.voltage, 2, axis=1), current=np.repeat(found.current, 2, axis=1),
        segment=np.repeat(found.segment, 2, axis=1), latched=np.repeat(found.latched, 2, axis=1),
        outcome=np.repeat(found.outcome, 2), restless=np.repeat(found.restless, 2, axis=1),
        kcl_a=np.repeat(found.kcl_a, 2),
    )  # fmt: skip


def _open_row(bench: Bench, name: str) -> int:
    wire = bench.points[name].wire
    if wire is None:
        msg = f"{name}: found a pin without a wire, expected a wire that can be opened"
        raise ValueError(msg)
    return bench.compiled.element[wire]


def _first_to_open(compiled: Compiled, found: Solution) -> Blown | None:
    """Return the fuse that opens first of those that carry in the asked lane what they need not in the sound one.

    Of several that open at the latest of the standard's times, the one with the smallest rating carries most of it.
    """
    first: Blown | None = None
    least = (math.inf, math.inf)
    for row, element in enumerate(compiled.netlist.elements):
        if element.fuse_a is None:
            continue
        amps = abs(float(found.current[row, _ASKED]))
        within = opening_time(element.fuse_a, amps).max_s
        sound = opening_time(element.fuse_a, abs(float(found.current[row, _SOUND]))).max_s
        if within < math.inf and sound == math.inf and (within, element.fuse_a) < least:
            least = (within, element.fuse_a)
            first = Blown(element=element, current_a=amps, within_s=within)
    return first


def _told(
    bench: Bench, state: State, found: Solution, scale: FloatArray, blown: tuple[Blown, ...], *, is_sound: bool
) -> WhatIf:
    compiled, car = bench.compiled, bench.installation.car
    held = driven(compiled.branches, found, scale)
    battery = [float(found.voltage[compiled.at(BATTERY), lane]) for lane in (_SOUND, _ASKED)]

    def now(point: Point) -> PointNow:
        at = compiled.at(point.node)
        volts = [float(found.voltage[at, lane]) for lane in (_SOUND, _ASKED)]
        conditions = [
            _condition(car, point, state, volts[lane], battery[lane], is_held=bool(held[at, lane]))
            for lane in (_SOUND, _ASKED)
        ]
        return PointNow(
            point=point, condition=conditions[_ASKED], volts=volts[_ASKED], sound_condition=conditions[_SOUND],
            sound_volts=volts[_SOUND],
        )  # fmt: skip

    return WhatIf(
        state=state, battery_v=battery[_ASKED],
        points=MappingProxyType({name: now(point) for name, point in bench.points.items()}),
        senses=_senses(bench, found, battery), blown=blown,
        findings=() if is_sound else _brought(bench, state, found),
        settles=int(found.outcome[_ASKED]) == Outcome.SETTLED, latched=found.latched,
    )  # fmt: skip


def _condition(
    car: Car, point: Point, state: State, volts: float, battery_v: float, *, is_held: bool
) -> Condition:
    """Name what a meter shows, with the limits by which the rules of the proof tell live from dead."""
    circuit = None if point.circuit is None else car.circuits[point.circuit]
    if circuit is None and point.joint is not None and point.joint.startswith("j:ground/"):
        return "ground" if is_held and volts < DEAD_V else "loose"
    if not is_held:
        return "loose"
    if circuit is not None and circuit.function == "ground" and volts < DEAD_V:
        return "ground"
    if moves_by_itself(circuit, state) and volts > DEAD_V / 2:
        return "moving"
    if circuit is not None and isinstance(circuit.behaviour, _RESTS_HIGH):
        level = trigger_level(circuit, battery_v)
        return "up" if volts > LIVE_SHARE * level else "pulled" if volts < TRIGGER_SHARE * level else "between"
    if volts > LIVE_SHARE * battery_v:
        return "live"
    return "dead" if volts < DEAD_V else "between"


def _senses(bench: Bench, found: Solution, battery: Sequence[float]) -> tuple[Sense, ...]:
    terminals = {t.id: t for t in bench.installation.kit.controller.terminals}
    out = []
    for joint in bench.installation.joints:
        terminal = terminals[joint.terminal]
        if terminal.kind not in ("positive input", "negative input"):
            continue
        at = bench.compiled.at(terminal_node(terminal.id))
        volts = [float(found.voltage[at, lane]) for lane in (_SOUND, _ASKED)]
        reads = [input_level(terminal, volts[lane], battery[lane]) for lane in (_SOUND, _ASKED)]
        out.append(
            Sense(
                joint=joint.id, function=joint.function, volts=volts[_ASKED], reads=reads[_ASKED],
                sound_reads=reads[_SOUND],
            )
        )  # fmt: skip
    return tuple(out)


def _brought(bench: Bench, state: State, found: Solution) -> tuple[Finding, ...]:
    """Return what the rules of the proof find in the asked lane and not in the sound one, once for each subject."""
    sound, asked = (_findings(bench, state, found, lane) for lane in (_SOUND, _ASKED))
    known = {(f.code, f.subject) for f in sound}
    new = {(f.code, f.subject): f for f in asked if (f.code, f.subject) not in known}
    return tuple(sorted(new.values(), key=lambda f: (_ORDER[f.severity], f.subject)))


def _findings(bench: Bench, state: State, found: Solution, lane: int) -> tuple[Finding, ...]:
    one = slice(lane, lane + 1)
    solved = Solved(
        compiled=bench.compiled, states=(state,), story_of=("asked",), voltage=found.voltage[:, one],
        current=found.current[:, one], latched=found.latched[:, one], outcome=(int(found.outcome[lane]),),
        residual=0.0, points=1,
    )  # fmt: skip
    return (*check_live(bench.installation.car, bench.expectations, solved), *check_ratings(solved))
