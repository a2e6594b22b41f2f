"""Rules of life and death: each load live when it should be and dead when it should not, and drops in between."""

from collections.abc import Iterator

from loomwright.documents.behaviour import GroundSwitch
from loomwright.documents.car import Car
from loomwright.network.expectations import Expectation, Expectations, trigger_level
from loomwright.network.paths import BATTERY
from loomwright.network.results import Finding, Number
from loomwright.network.solving import Solved, current_path
from loomwright.network.states import State, state_words
from loomwright.sentences import told

__all__ = ["DEAD_V", "DROP_LIMIT_V", "LEVEL_TOLERANCE", "LIVE_SHARE", "TRIGGER_SHARE", "check_drops", "check_live"]

LIVE_SHARE = 0.75
"""A feed counts as live above this share of battery voltage; relays pull in at 7.2 of 12 V, so they work there."""

DEAD_V = 1.0
"""A feed counts as dead below this [V]: under the 1.2 V at which a relay may still hold (published data sheets)."""

TRIGGER_SHARE = 0.25
"""A negative trigger counts as pulled below this share of its resting level; common practice for module inputs."""

LEVEL_TOLERANCE = 0.06
"""How far a wire that tells by its level may stand from it, as a share of its full level; common practice, between the
5 % of the parts and half the distance of neighbouring steps."""

DROP_LIMIT_V = 0.5
"""Continuous drop allowed between bus and load of a 14 V system: FAA AC 43.13-1B, table 11-6 [V]."""


def _name(car: Car, circuit: str) -> str:
    c = car.circuits[circuit]
    return c.name or c.function


def _number(name: str, value: float, where: str) -> Number:
    return Number(name=name, value=value, unit="V", where=where)


def _is_live(car: Car, e: Expectation, volts: float, battery_v: float) -> tuple[bool, bool]:
    """Return (surely live, surely dead); a wire told apart by its level is both where it stands as it should."""
    circuit = car.circuits[e.circuit]
    level = trigger_level(circuit, battery_v)
    if e.share is not None:
        right = abs(volts / level - e.share) < LEVEL_TOLERANCE
        return right, right
    if isinstance(circuit.behaviour, GroundSwitch):
        return volts > LIVE_SHARE * level, volts < TRIGGER_SHARE * level
    return volts > LIVE_SHARE * battery_v, volts < DEAD_V


def _should_live(
    car: Car, e: Expectation, state: State, volts: float, battery: float, path: tuple[str, ...]
) -> Finding:
    name = _name(car, e.circuit)
    trigger = isinstance(car.circuits[e.circuit].behaviour, GroundSwitch)
    what = "does not stand at its resting level" if trigger else "is not live"
    severity = "stop" if e.starter or e.by == "car" or car.circuits[e.circuit].function == "ignition" else "fix"
    return Finding(
        code="pulled-by-itself" if trigger else "dead-when-it-should-live",
        severity=severity,  # type: ignore[arg-type]
        subject=e.circuit,
        message=told(
            f"{{name}} {what} with {{state_words}}: {{volts:.1f}} V of {{battery:.1f}} V.",
            name=name,
            state_words=state_words(state),
            volts=volts,
            battery=battery,
        ),
        state=state,
        path=path,
        numbers=(_number("voltage", volts, e.node), _number("battery", battery, BATTERY)),
        advice="Follow the path from the source: something between is open, dropped or loaded too much.",
        source="each load gets its voltage when it should",
    )


def _should_be_dead(
    car: Car, e: Expectation, state: State, volts: float, battery: float, path: tuple[str, ...]
) -> Finding:
    name = _name(car, e.circuit)
    trigger = isinstance(car.circuits[e.circuit].behaviour, GroundSwitch)
    if trigger:
        code, words = "trigger-not-pulled", told("{name} is not pulled to ground", name=name)
    elif volts > LIVE_SHARE * battery:
        code, words = "live-when-it-should-be-dead", told("{name} is live", name=name)
    else:
        code, words = "fed-in-part", told("{name} floats up", name=name)
    # A feed that stays on while the kit cranks takes from the starter, but harms nothing.
    kept = "start" in state.commands and not e.starter
    severe = not kept and (e.starter or state.stage in ("kit dead", "fitting", "bare") or not trigger)
    return Finding(
        code=code,
        severity="stop" if severe else "fix",
        subject=e.circuit,
        message=told(
            "{words} with {state_words}: {volts:.1f} V, where it should be dead.",
            words=words,
            state_words=state_words(state),
            volts=volts,
        ),
        state=state,
        path=path,
        numbers=(_number("voltage", volts, e.node), _number("battery", battery, BATTERY)),
        advice="Something feeds this wire backwards along the path shown; keep the two circuits apart.",
        source="no current into a feed that should be off",
    )


def check_live(car: Car, expectations: Expectations, solved: Solved) -> Iterator[Finding]:
    """Yield a finding for every load that is dead, live or half fed against the documents, in any state."""
    for lane, state in enumerate(solved.states):
        battery = solved.volts(BATTERY, lane)
        for e in expectations.of(state):
            volts = solved.volts(e.node, lane)
            live, dead = _is_live(car, e, volts, battery)
            if e.live and not live:
                yield _should_live(car, e, state, volts, battery, current_path(solved, e.node, lane))
            elif not e.live and not dead:
                yield _should_be_dead(car, e, state, volts, battery, current_path(solved, e.node, lane))


def check_drops(car: Car, expectations: Expectations, solved: Solved) -> Iterator[Finding]:
    """Yield a finding where a load fed through the kit gets clearly less than on its own key.

    Compared is the drop from the battery: with the kit's outputs on, against the untouched car with its key in run and
    the same things switched on.
    """
    own: dict[tuple[frozenset[str], str], float] = {}
    for lane, state in enumerate(solved.states):
        if state.stage == "bare" and state.key == "run":
            battery = solved.volts(BATTERY, lane)
            for e in expectations.of(state):
                if e.live:
                    own[state.active, e.node] = battery - solved.volts(e.node, lane)
    worst: dict[str, Finding] = {}
    for lane, state in enumerate(solved.states):
        if not state.commands or "start" in state.commands:
            continue
        battery = solved.volts(BATTERY, lane)
        for e in expectations.of(state):
            before = own.get((state.active, e.node))
            if e.by != "kit" or not e.live or before is None:
                continue
            drop = battery - solved.volts(e.node, lane)
            if drop - before > DROP_LIMIT_V and e.node not in worst:
                worst[e.node] = Finding(
                    code="drop-too-large",
                    severity="fix",
                    subject=e.circuit,
                    message=(
                        told(
                            "{name} loses {drop:.2f} V through the kit, {before:.2f} V on its key.",
                            name=_name(car, e.circuit),
                            drop=drop,
                            before=before,
                        )
                    ),
                    state=state,
                    path=current_path(solved, e.node, lane),
                    numbers=(_number("drop", drop, e.node), _number("drop on its key", before, e.node)),
                    advice="Use a larger conductor or a shorter lead on this path.",
                    source="FAA AC 43.13-1B table 11-6: 0.5 V continuous in a 14 V system",
                )
    yield from worst.values()
