"""The controller's one step: from its mode, what it reads now and which timers have run out, to what it does now.

Exploration, rehearsal and the provers' models all come from this function. Outputs follow the present inputs: no output
is ever on for a moment because an earlier input allowed it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from loomwright.starting.guards import SAFE_SIDE, Guard
from loomwright.starting.modes import INPUTS, REST, Decision, Inputs, Mode, ModeName, Timer, changed
from loomwright.starting.settings import StartSettings

__all__ = ["READS", "Reads", "reads", "settled", "step"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reads:
    """The inputs and timers that a mode's rule looks at, besides its guards."""

    inputs: tuple[str, ...] = ()
    timers: tuple[Timer, ...] = ()


READS: Mapping[ModeName, Reads] = MappingProxyType({
    "idle": Reads(inputs=("request",)),
    "checking": Reads(inputs=("request",), timers=("check",)),
    "ignition on": Reads(inputs=("request", "engine"), timers=("settle", "ignition limit")),
    "waiting": Reads(inputs=("request", "wait_lamp", "engine"), timers=("wait", "wait limit")),
    "cranking": Reads(inputs=("request", "engine"), timers=("pulse", "crank limit")),
    "running": Reads(inputs=("request", "engine", "key_in"), timers=("run time",)),
    "takeover": Reads(inputs=("request", "engine", "key_in"), timers=("run time",)),
    "stopping": Reads(inputs=("engine", "key_in"), timers=("stop press", "stop rest")),
    "locked out": Reads(inputs=("request",)),
    "valet": Reads(inputs=("valet",)),
})  # fmt: skip


def reads(name: ModeName, settings: StartSettings) -> Reads:
    """Return every input and timer that decides in a mode as the controller is set."""
    rule = READS[name]
    asked = {*rule.inputs, *(g.input for g in settings.guards if name in g.modes)}
    # A step that enters a mode asks that mode's guards at once, by the same inputs.
    for after in _AFTER.get(name, ()):
        asked |= {g.input for g in settings.guards if after in g.modes}
    timers = tuple(
        t for t in rule.timers if (t != "pulse" or settings.pulsed) and (t != "stop press" or not settings.keyed)
    )
    return Reads(inputs=tuple(i for i in INPUTS if i in asked and i in settings.senses), timers=timers)


_AFTER: Mapping[ModeName, tuple[ModeName, ...]] = MappingProxyType({
    "idle": ("checking",),
    "checking": ("ignition on",),
    "ignition on": ("waiting", "cranking", "running"),
    "waiting": ("cranking", "running"),
    "cranking": ("running", "ignition on"),
    "running": ("takeover", "ignition on"),
})  # fmt: skip


def settled(inputs: Inputs, settings: StartSettings) -> Inputs:
    """Return the inputs with every undefined one taken for the value that stops, and those not wired at rest."""
    changes: dict[str, object] = {}
    for name in INPUTS:
        value = getattr(inputs, name)
        if name not in settings.senses:
            if value != getattr(REST, name):
                changes[name] = getattr(REST, name)
        elif value is None:
            changes[name] = SAFE_SIDE[name]
    return changed(inputs, changes)


def _hit(mode: Mode, seen: Inputs, settings: StartSettings) -> Guard | None:
    for guard in settings.guards:
        if (
            mode.name in guard.modes
            and guard.input in settings.senses
            and not (guard.first and mode.attempts)
            and getattr(seen, guard.input) in guard.unsafe
        ):
            return guard
    return None


_STARTS: Mapping[ModeName, tuple[Timer, ...]] = MappingProxyType({
    "checking": ("check",), "ignition on": ("settle", "ignition limit"), "waiting": ("wait", "wait limit"),
    "cranking": ("pulse", "crank limit"), "running": ("run time",), "stopping": ("stop press", "stop rest"),
})  # fmt: skip
_PHASE: Mapping[ModeName, str] = MappingProxyType({
    "ignition on": "ignition on", "waiting": "ignition on", "cranking": "cranking", "running": "running",
    "takeover": "running",
})  # fmt: skip


def _refused(guard: Guard, mode: Mode) -> Mode:
    if guard.id == "valet":
        return Mode(name="valet")
    return Mode(name="idle") if mode.name in ("idle", "checking") else Mode(name="stopping")


def _commands(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> frozenset[str]:
    if mode.name == "checking" and settings.disarm:
        return frozenset({"factory alarm disarm"})
    if mode.name == "stopping" and not settings.keyed:
        # A button car runs on by itself: it is stopped by its own button, which is pressed only while it really runs,
        # because a press with the engine standing would be a step towards a start. A driver with a key keeps it on.
        pressing = seen.engine in ("running", "over") and "stop press" not in expired and seen.key_in is not True
        return frozenset({"start button"}) if pressing else frozenset()
    if mode.name == "cranking" and settings.pulsed and "pulse" in expired:
        return settings.vectors["ignition on"]  # the engine computer cranks on by itself
    phase = _PHASE.get(mode.name)
    return frozenset() if phase is None else settings.vectors[phase]


def step(mode: Mode, inputs: Inputs, expired: frozenset[Timer], settings: StartSettings) -> Decision:
    """Return what the controller does at one moment.

    Parameters
    ----------
    mode
        What it remembers.
    inputs
        What it reads at this moment; an undefined safety input counts as unsafe.
    expired
        Timers that have run out since they were begun.
    settings
        How it is set.

    Returns
    -------
    Decision
        Its mode from now on, the outputs that are on now, and the timers that begin now.
    """
    seen = settled(inputs, settings)
    guard = _hit(mode, seen, settings)
    guard_hit = guard is not None
    if guard is not None:
        after, reason = _refused(guard, mode), guard.id
    else:
        after, reason = _RULES[mode.name](mode, seen, expired, settings)
        if after.name != mode.name and (entry := _hit(after, seen, settings)) is not None:
            # What is unsafe in the next mode stops before its outputs come on.
            after, reason, guard_hit = _refused(entry, after), entry.id, True
    entered = after.name != mode.name or (after.name == "ignition on" and after.attempts != mode.attempts)
    timers = _STARTS.get(after.name, ()) if entered else ()
    refused = guard_hit and mode.name in ("idle", "checking") and reason != "valet"
    running_out = expired - frozenset(timers)
    return Decision(
        mode=after,
        commands=_commands(after, seen, running_out, settings),
        timers=timers,
        replies=_REFUSED if refused else _REPLIES.get((mode.name, after.name), ()) if entered else (),
        reason=reason,
    )


_Rule = Callable[[Mode, Inputs, frozenset[Timer], StartSettings], tuple[Mode, str]]


def _idle(mode: Mode, seen: Inputs, _expired: frozenset[Timer], _settings: StartSettings) -> tuple[Mode, str]:
    return (Mode(name="checking"), "") if seen.request == "start" else (mode, "")


def _checking(mode: Mode, seen: Inputs, expired: frozenset[Timer], _settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="idle"), "stop asked"
    return (Mode(name="ignition on"), "") if "check" in expired else (mode, "")


def _again(mode: Mode, settings: StartSettings, reason: str) -> tuple[Mode, str]:
    """Try once more, or give up where all attempts are used."""
    if mode.attempts < settings.attempts or "attempts" not in settings.limits:
        return Mode(name="ignition on", attempts=mode.attempts), reason
    return Mode(name="stopping", attempts=settings.attempts), "attempts"


def _crank(mode: Mode, seen: Inputs, settings: StartSettings) -> tuple[Mode, str]:
    """Begin to crank, if the engine stands; one that runs after an attempt has caught late."""
    if mode.attempts and seen.engine in ("running", "over"):
        return Mode(name="running", attempts=mode.attempts), ""
    if settings.attempts < 1 and "attempts" in settings.limits:
        return Mode(name="stopping"), "attempts"  # a kit that is set to make none
    if seen.engine != "still" and "still first" in settings.limits:
        return mode, "still first"
    # The count stands still once all attempts are used, so that it has an end where a test takes the limit away.
    return Mode(name="cranking", attempts=min(mode.attempts + 1, settings.attempts)), ""


def _ignition_on(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="stopping"), "stop asked"
    if "ignition limit" in expired and "ignition limit" in settings.limits:
        return Mode(name="stopping"), "ignition limit"
    if "settle" not in expired:
        return mode, ""
    if settings.wait != "none":
        return Mode(name="waiting", attempts=mode.attempts), ""
    return _crank(mode, seen, settings)


def _waiting(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="stopping"), "stop asked"
    if "wait limit" in expired and "wait limit" in settings.limits:
        # A lamp that never goes out is a fault of the car; cranking on regardless would hide it.
        return Mode(name="stopping"), "wait limit"
    ready = seen.wait_lamp is False if settings.wait == "lamp" else "wait" in expired
    return _crank(mode, seen, settings) if ready else (mode, "")


def _cranking(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="stopping"), "stop asked"
    if seen.engine in ("running", "over") and "let go" in settings.limits:
        return Mode(name="running", attempts=mode.attempts), "let go"
    if "crank limit" in expired and "crank limit" in settings.limits:
        return _again(mode, settings, "crank limit")
    return mode, ""


def _running(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="stopping"), "stop asked"
    if "run time" in expired and "run time" in settings.limits:
        return Mode(name="stopping"), "run time"
    if seen.engine == "still" and "lost speed" in settings.limits:
        # An engine that has stalled stands. One whose signal is lost runs, and a second crank would grind its teeth
        # off: the two look alike, so both are stopped and nothing is tried again.
        return Mode(name="stopping", attempts=mode.attempts), "lost speed"
    if seen.key_in is True and "key_in" in settings.senses:
        return Mode(name="takeover", attempts=mode.attempts), ""
    return mode, ""


def _takeover(mode: Mode, seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if seen.request == "stop":
        return Mode(name="stopping"), "stop asked"
    if "run time" in expired and "run time" in settings.limits:
        return Mode(name="stopping"), "run time"
    if seen.engine == "still" and "lost speed" in settings.limits:
        return Mode(name="stopping"), "lost speed"
    if seen.key_in is not True and "key out" in settings.limits:
        return Mode(name="stopping"), "key out"
    return mode, ""


def _stopping(mode: Mode, _seen: Inputs, expired: frozenset[Timer], settings: StartSettings) -> tuple[Mode, str]:
    if "stop rest" not in expired:
        return mode, ""
    gave_up = mode.attempts >= settings.attempts
    return Mode(name="locked out" if gave_up else "idle"), "attempts" if gave_up else ""


def _locked_out(mode: Mode, seen: Inputs, _expired: frozenset[Timer], _settings: StartSettings) -> tuple[Mode, str]:
    return (Mode(name="idle"), "stop asked") if seen.request == "stop" else (mode, "")


def _valet(mode: Mode, seen: Inputs, _expired: frozenset[Timer], _settings: StartSettings) -> tuple[Mode, str]:
    return (Mode(name="idle"), "") if seen.valet is False else (mode, "")


_RULES: Mapping[ModeName, _Rule] = MappingProxyType({
    "idle": _idle, "checking": _checking, "ignition on": _ignition_on, "waiting": _waiting, "cranking": _cranking,
    "running": _running, "takeover": _takeover, "stopping": _stopping, "locked out": _locked_out, "valet": _valet,
})  # fmt: skip

# What the controller answers when it changes from one mode to another. The number of flashes is common practice.
_REFUSED = ("three flashes: refused",)
_REPLIES: Mapping[tuple[str, str], tuple[str, ...]] = MappingProxyType({
    ("idle", "checking"): ("one flash: heard",),
    ("cranking", "running"): ("lamps on: running",),
    ("cranking", "stopping"): ("five flashes: did not start",),
    ("running", "stopping"): ("two flashes: stopped",),
    ("takeover", "stopping"): ("two flashes: handed over or stopped",),
    ("idle", "valet"): ("four flashes: service switch on",),
})  # fmt: skip
