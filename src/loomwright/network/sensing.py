"""What each controller input takes a voltage for: true, false or neither; and the rule that it must be right."""

from collections.abc import Iterator

from loomwright.documents.behaviour import STIMULI, GroundSwitch, SwitchedGround
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.kit import Terminal
from loomwright.network.expectations import Expectations
from loomwright.network.kit_side import terminal_node
from loomwright.network.paths import BATTERY
from loomwright.network.results import Finding, Number
from loomwright.network.solving import Solved, current_path
from loomwright.network.states import State, state_words
from loomwright.planning.installation import Installation, Joint
from loomwright.sentences import told

__all__ = ["SENSED", "check_inputs", "input_level", "sensed_truth"]

# What makes a sensed function true in the car itself. A tach input is judged by its pulses instead (see below).
SENSED: dict[str, tuple[str, ...]] = {
    "brake": ("brake pressed",),
    "hood switch": ("hood open",),
    "parking brake": ("parking brake set",),
    "door switch": ("driver door open", "passenger door open"),
    "key sense": ("key in lock",),
    "wait-to-start": ("wait lamp lit",),
    "park/neutral": ("in park",),
}

_PULSE_SWING = 0.15
"""Smallest change of a pulse wire's mean, as a share of battery voltage, that shows it is the right wire."""


def input_level(terminal: Terminal, volts: float, battery_v: float) -> bool | None:
    """Return what an input takes a voltage for.

    A positive input is true above `true_above` of the battery and false below `true_below`; a negative input the other
    way round. Between the two it is neither, and the controller may read either.
    """
    share = volts / battery_v
    high = True if share > terminal.true_above else False if share < terminal.true_below else None
    if high is None or terminal.kind != "negative input":
        return high
    return not high


def sensed_truth(function: str, state: State) -> bool | None:
    """Return whether a sensed function is true in the car in a state; None where no stimulus decides it."""
    stimuli = SENSED.get(function)
    return None if stimuli is None else any(state.holds(s) for s in stimuli)


def _wrong(installation: Installation, joint: Joint, solved: Solved, lane: int, saw: bool | None) -> Finding:
    state = solved.states[lane]
    node = terminal_node(joint.terminal)
    volts = solved.volts(node, lane)
    words = "neither true nor false" if saw is None else ("true" if saw else "false")
    needed = FUNCTIONS[joint.function].needed
    return Finding(
        code="input-undefined" if saw is None else "input-wrong",
        severity="stop" if needed else "fix",
        subject=joint.id,
        message=told(
            "The kit reads {function} as {words} with {state_words} ({volts:.1f} V).",
            function=joint.function,
            words=words,
            state_words=state_words(state),
            volts=volts,
        ),
        state=state,
        path=current_path(solved, node, lane),
        numbers=(Number(name="voltage", value=volts, unit="V", where=node),),
        advice=told(
            "The {function} input needs a wire that changes clearly: check pin, switch side, polarity.",
            function=joint.function,
        ),
        source=told("{controller}: input thresholds of the kit document", controller=installation.kit.controller.name),
    )


def check_inputs(installation: Installation, expectations: Expectations, solved: Solved) -> Iterator[Finding]:
    """Yield a finding where the kit would read a pedal, hood or selector wrongly, or could read it either way."""
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    for joint in installation.joints:
        terminal = terminals[joint.terminal]
        if not terminal.kind.endswith("input"):
            continue
        if terminal.kind == "pulse input":
            yield from _check_pulses(joint, solved)
            continue
        if _polled(installation, joint) and not terminal.filters_polls:
            yield _polled_finding(joint)
            continue
        told: set[bool | None] = set()
        for lane, state in enumerate(solved.states):
            truth = sensed_truth(joint.function, state)
            if truth is None or state.stage != "fitted" or not state.holds("awake"):
                continue
            circuit = installation.car.circuits.get(joint.circuit or "")
            lamp = circuit is not None and isinstance(circuit.behaviour, SwitchedGround)
            if circuit is not None and lamp and not expectations.fed(circuit, state):
                continue  # a lamp without its feed tells nothing, and nobody asks it then
            if joint.function == "door switch" and state.active - {"driver door open"} - {"engine running"}:
                truth = truth and state.holds("driver door open")
                if not truth:
                    continue  # one door's wire says nothing about another's
            battery = solved.volts(BATTERY, lane)
            saw = input_level(terminal, solved.volts(terminal_node(terminal.id), lane), battery)
            if saw is not truth and saw not in told:
                told.add(saw)
                yield _wrong(installation, joint, solved, lane, saw)


def _polled(installation: Installation, joint: Joint) -> bool:
    circuit = None if joint.circuit is None else installation.car.circuits[joint.circuit]
    return circuit is not None and isinstance(circuit.behaviour, GroundSwitch) and circuit.behaviour.polled < 1.0


def _polled_finding(joint: Joint) -> Finding:
    return Finding(
        code="input-polled",
        severity="stop" if FUNCTIONS[joint.function].needed else "fix",
        subject=joint.id,
        message=(
            told(
                "The module holds the {function} wire up in short pulses only, and the kit's input does "
                "not take their mean: it would read the pauses as the switch.",
                function=joint.function,
            )
        ),
        state=None,
        path=(joint.id,),
        numbers=(),
        advice="Use an input that filters polls, an added switch, or the bus.",
        source="polled inputs of body modules (common practice)",
    )


def _check_pulses(joint: Joint, solved: Solved) -> Iterator[Finding]:
    node = terminal_node(joint.terminal)
    still = running = None
    for lane, state in enumerate(solved.states):
        if state.stage == "fitted" and state.key == "run" and not state.commands:
            if state.active == frozenset():
                still = solved.volts(node, lane)
            elif state.active == {"engine running"}:
                running = solved.volts(node, lane)
    if still is None or running is None or abs(still - running) > _PULSE_SWING * solved.volts(BATTERY, 0):
        return
    yield Finding(
        code="no-pulses",
        severity="stop",
        subject=joint.id,
        message=told(
            "The engine-speed wire reads {still:.1f} V standing and {running:.1f} V running: no pulses arrive.",
            still=still,
            running=running,
        ),
        state=None,
        path=(joint.id,),
        numbers=(
            Number(name="standing", value=still, unit="V", where=node),
            Number(name="running", value=running, unit="V", where=node),
        ),
        advice="Choose a wire that changes when the engine turns.",
        source="mean of a pulse train of the stated duty",
    )


# Every stimulus named here must be one the documents know.
if unknown := {s for group in SENSED.values() for s in group} - set(STIMULI):  # pragma: no cover - a slip of the pen
    raise AssertionError(unknown)
