"""What the controller's inputs read in this installation, sound and with a single fault of one input's wiring.

Levels come from the solved network: the lead off, its far end shorted to ground or to battery, in each phase of a start
and for both truths in the car.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from loomwright.documents.behaviour import STIMULI, StartRequest
from loomwright.documents.kit import Terminal
from loomwright.network.branches import OPEN_RATIO
from loomwright.network.commands import command_table
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Element, Netlist, Origin, line
from loomwright.network.expectations import expectations_of
from loomwright.network.joining import joined_netlist
from loomwright.network.kit_side import terminal_node
from loomwright.network.paths import BATTERY
from loomwright.network.sensing import SENSED, input_level
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Joint
from loomwright.sentences import told
from loomwright.starting.modes import ENGINE, ModeName
from loomwright.starting.settings import FIELD_OF, StartSettings

__all__ = ["PHASE_OF", "FaultKind", "InputFault", "Level", "Levels", "Wiring", "wiring_of"]

Level = object  # True, False, None, or an engine speed
FaultKind = Literal["lead off", "short to ground", "short to battery", "stuck true", "stuck false", "bus silent"]
_Phase = Literal["rest", "ignition on", "cranking", "running"]
_PHASES: tuple[_Phase, ...] = ("rest", "ignition on", "cranking", "running")

PHASE_OF: Mapping[ModeName, _Phase] = MappingProxyType({
    "idle": "rest", "checking": "rest", "ignition on": "ignition on", "waiting": "ignition on",
    "cranking": "cranking", "running": "running", "takeover": "running", "stopping": "rest", "locked out": "rest",
    "valet": "rest",
})  # fmt: skip
"""Which outputs have been on until a moment that finds the controller in a mode."""

_SHORT_S = 50.0
"""A chafed lead on bare metal or a feed: 20 mohm [S]; any value far below the inputs' resistances does the same."""
_STARTER_V = 6.0
"""Below this a starter relay or solenoid does not pull in: half of 12 V is on the low side of published data [V]."""
_BLOWS = 2.0
"""Twice its rating opens a blade fuse within 5 s: SAE J1284 and ISO 8820-3."""

Levels = Mapping[_Phase, Mapping[object, Level]]
"""Phase -> truth in the car -> what the input reads."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InputFault:
    """One input with one fault of its wiring, and what it reads then."""

    id: str  # '<joint or route>!<kind>'
    input: str
    function: str
    kind: FaultKind
    words: str
    levels: Levels


@dataclass(frozen=True, slots=True, kw_only=True)
class Wiring:
    """What every input reads in the sound installation, and every single fault of an input's wiring.

    `interlocked` tells whether the car itself keeps the starter off out of park, `solves` how many operating points it
    took to know all this.
    """

    sound: Mapping[str, Levels]
    faults: tuple[InputFault, ...]
    interlocked: bool
    interlock_words: str
    solves: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lane:
    joint: str
    truth: bool
    phase: _Phase
    kind: FaultKind | None


def _state(installation: Installation, phase: _Phase, function: str, truth: bool) -> State:
    commands = frozenset() if phase == "rest" else command_table(installation)[phase]
    active = {"engine running"} if phase == "running" else set()
    stimulus = SENSED[function][0]
    if STIMULI[stimulus] != truth:
        active.add(stimulus)
    return State(stage="fitted", key="off", active=frozenset(active), commands=commands)


def _shorts(joint: Joint) -> tuple[Element, Element]:
    far = f"{joint.id}:far"

    def short(name: str, other: str) -> Element:
        return Element(
            id=f"{joint.id}!{name}", kind="joint", a=far, b=other, shape=line(_SHORT_S), when=(),
            origin=Origin(side="joint", of=joint.id, words=name),
        )  # fmt: skip

    return short("ground", GROUND), short("battery", BATTERY)


def _solved(installation: Installation, joints: dict[str, Joint], lanes: list[_Lane]) -> list[Level]:
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    joined = joined_netlist(installation)
    extra = [e for joint in joints.values() for e in _shorts(joint)]
    netlist = Netlist.of([*joined.elements, *extra], joined.joints_made)
    compiled = compile_netlist(netlist)
    states = [_state(installation, x.phase, joints[x.joint].function, x.truth) for x in lanes]
    scale = scale_of(netlist, states)
    for i, lane in enumerate(lanes):
        if lane.kind == "lead off":
            scale[compiled.element[f"{lane.joint}"], i] = OPEN_RATIO
        elif lane.kind in ("short to ground", "short to battery"):
            scale[compiled.element[f"{lane.joint}!{lane.kind.rpartition(' ')[2]}"], i] = 1.0
    found = solve(compiled.branches, scale, emf_of(compiled))
    # A short that blows the fuse of the vehicle wire: what counts is what the input reads afterwards.
    fuses = [(i, e.fuse_a) for i, e in enumerate(netlist.elements) if e.fuse_a is not None]
    blown = [(i, np.abs(found.current[i]) > _BLOWS * rating) for i, rating in fuses]
    if any(lanes_of.any() for _, lanes_of in blown):
        for i, lanes_of in blown:
            scale[i, lanes_of] = OPEN_RATIO
        found = solve(compiled.branches, scale, emf_of(compiled))
    battery = found.voltage[compiled.node[BATTERY]]
    levels: list[Level] = []
    for i, lane in enumerate(lanes):
        terminal: Terminal = terminals[joints[lane.joint].terminal]
        levels.append(
            input_level(terminal, float(found.voltage[compiled.node[terminal_node(terminal.id)], i]), float(battery[i]))
        )
    return levels


def _constant(value: Level, truths: tuple[object, ...]) -> Levels:
    return {phase: dict.fromkeys(truths, value) for phase in _PHASES}


def _interlock(installation: Installation) -> tuple[bool, str]:
    """Tell whether the car itself keeps its starter off out of park, whatever the kit commands."""
    car = installation.car
    for circuit in car.circuits.values():
        if isinstance(circuit.behaviour, StartRequest) and circuit.behaviour.needs == "in park":
            return True, told("the engine computer takes the request of {circuit} in park only", circuit=circuit.id)
    if car.traits.start_style in ("button", "bus message"):
        return car.traits.park_interlock in ("start circuit", "computer"), "the car's own computer wants park"
    state = State(
        stage="fitted", key="off", active=frozenset({"in park"}), commands=command_table(installation)["cranking"]
    )
    nodes = [e.node for e in expectations_of(car, installation).of(state) if e.starter]
    netlist = joined_netlist(installation)
    compiled = compile_netlist(netlist)
    found = solve(compiled.branches, scale_of(netlist, [state]), emf_of(compiled))
    highest = max((float(found.voltage[compiled.node[n], 0]) for n in nodes), default=np.inf)
    words = told("the starter gets {highest:.1f} V when the kit cranks out of park", highest=highest)
    return highest < _STARTER_V, words


_READS: Mapping[str, tuple[str, str]] = MappingProxyType({
    "hood_open": ("the hood always reads as shut", "the hood always reads as open"),
    "brake_pressed": ("the brake pedal always reads as free", "the brake pedal always reads as pressed"),
    "in_park": ("the selector always reads as out of park", "the selector always reads as in park"),
    "parking_brake": ("the parking brake always reads as released", "the parking brake always reads as set"),
    "wait_lamp": ("the wait lamp always reads as out", "the wait lamp always reads as lit"),
    "key_in": ("the lock always reads as empty", "the lock always reads as having a key in it"),
    "door_open": ("the doors always read as shut", "the doors always read as open"),
})  # fmt: skip
"""Input -> how an input that is stuck false, or stuck true, is told."""

_STUCK: tuple[tuple[FaultKind, bool], ...] = (("stuck true", True), ("stuck false", False))
_WIRE: tuple[FaultKind, ...] = ("lead off", "short to ground", "short to battery")


_LAST: list[tuple[Installation, StartSettings, Wiring]] = []
"""The one that was asked for last: every paper of a set asks for it, and it takes several solves."""


def wiring_of(installation: Installation, settings: StartSettings) -> Wiring:
    """Return what the inputs read, sound and with each single fault.

    Raises SolveError only where a state does not settle, which would be a fault of this program.
    """
    for known, at, wiring in tuple(_LAST):
        if known is installation and at == settings:
            return wiring
    wiring = _read_by_wiring(installation, settings)
    _LAST[:] = [(installation, settings, wiring)]
    return wiring


def _read_by_wiring(installation: Installation, settings: StartSettings) -> Wiring:
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    joints = {
        j.id: j
        for j in installation.joints
        if terminals[j.terminal].kind in ("positive input", "negative input")
        and FIELD_OF.get(j.function, "") in settings.senses
    }
    lanes = [
        _Lane(joint=j, truth=truth, phase=phase, kind=kind)
        for j in joints
        for kind in (None, *_WIRE)
        for phase in _PHASES
        for truth in (False, True)
    ]
    read = dict(zip(lanes, _solved(installation, joints, lanes) if lanes else [], strict=True))

    def levels(joint: str, kind: FaultKind | None) -> Levels:
        return {p: {t: read[_Lane(joint=joint, truth=t, phase=p, kind=kind)] for t in (False, True)} for p in _PHASES}

    sound: dict[str, Levels] = {}
    faults: list[InputFault] = []

    def fault(of: str, function: str, kind: FaultKind, words: str, what: Levels) -> None:
        field = FIELD_OF[function]
        faults.append(
            InputFault(
                id=f"{of}!{kind.replace(' ', '-')}", input=field, function=function, kind=kind, words=words, levels=what
            )
        )

    for joint in joints.values():
        field = FIELD_OF[joint.function]
        sound[field] = levels(joint.id, None)
        colour = f"{joint.colour}/{joint.stripe}" if joint.stripe else joint.colour
        lead = told("the {joint} lead ({colour})", joint=joint.label, colour=colour)
        for kind, words in zip(_WIRE, ("has come off", "touches ground", "touches a feed"), strict=True):
            fault(joint.id, joint.function, kind, told(f"{{lead}} {words}", lead=lead), levels(joint.id, kind))
        for kind, value in _STUCK:
            fault(
                joint.id,
                joint.function,
                kind,
                _READS[field][value],
                _constant(value, (False, True)),
            )
    for route in installation.routes:
        field = FIELD_OF.get(route.function, "")
        if field not in settings.senses or route.how == "setting" or field in sound:
            continue
        truths: tuple[object, ...] = ENGINE if field == "engine" else (False, True)
        sound[field] = {phase: {t: t for t in truths} for phase in _PHASES}
        if route.how == "bus":
            fault(
                route.task,
                route.function,
                "bus silent",
                told("the data bus tells nothing of {function}", function=route.function),
                _constant(None, truths),
            )
            if field != "engine":
                for kind, value in _STUCK:
                    fault(
                        route.task,
                        route.function,
                        kind,
                        told("{reads} over the data bus", reads=_READS[field][value]),
                        _constant(value, truths),
                    )
        elif field == "engine":
            lead = told("the {label} lead", label=route.joints[0].label) if route.joints else "the engine-speed wire"
            for kind, words in zip(_WIRE, ("has come off", "touches ground", "touches a feed"), strict=True):
                # No edges arrive, and no edges are an engine that stands.
                fault(
                    route.task,
                    route.function,
                    kind,
                    told(
                        f"{{lead}} {words}",
                        lead=lead,
                    ),
                    _constant("still", truths),
                )
    if settings.detection == "voltage":
        # A rise of the battery voltage tells a running engine and nothing else.
        sound["engine"] = {
            p: {"still": "still", "cranking": "still", "running": "running", "over": "running"} for p in _PHASES
        }
    interlocked, words = _interlock(installation)
    return Wiring(
        sound=MappingProxyType(sound), faults=tuple(faults), interlocked=interlocked, interlock_words=words,
        solves=len(lanes) + 1,
    )  # fmt: skip
