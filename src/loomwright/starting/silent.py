"""Single faults of the inputs' wiring: which defeat a protection without anybody noticing, and which test shows each.

A test shows a fault where its outcome differs from that of the sound car. Another protection may mask it: with the foot
on the brake, the engine stops whatever the hood switch does. What masks a test is computed by trying.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from loomwright.planning.installation import Installation
from loomwright.starting.explore import Exploration, Held, searcher, with_proof
from loomwright.starting.modes import REST, Inputs, Mode, Timer, changed
from loomwright.starting.properties import properties_of
from loomwright.starting.settings import StartSettings, start_settings
from loomwright.starting.step import reads, step
from loomwright.starting.wiring import PHASE_OF, InputFault, Levels, Wiring, wiring_of

__all__ = ["TESTS", "SafetyTest", "SilentFault", "StartReport", "check_start", "outcome"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyTest:
    """One test in the car: the truths it sets, once with the engine running by the kit and once before a request.

    `words` tell it; `careless` are truths of other inputs that may stand wrong without anybody thinking of it.
    """

    id: str
    words: str
    sets: Mapping[str, object]
    running: bool = True
    before: bool = True


TESTS: tuple[SafetyTest, ...] = (
    SafetyTest(id="first", words="start once and listen for the starter letting go", sets={}, before=False),
    SafetyTest(
        id="brake", words="press the brake pedal lightly, the engine running by remote", sets={"brake_pressed": True}
    ),
    SafetyTest(id="hood", words="open the hood, the engine running by remote", sets={"hood_open": True}),
    SafetyTest(id="door", words="open the driver's door, the engine running by remote", sets={"door_open": True}),
    SafetyTest(
        id="key", words="put the key in the lock, engine off, and ask for a start", sets={"key_in": True},
        running=False,
    ),
    SafetyTest(
        id="own-engine", words="start with the key, then ask for a start", sets={"engine": "running", "key_in": True},
        running=False,
    ),
    SafetyTest(
        id="takeover", words="with the engine running by remote, turn the key to run, then open the door",
        sets={"key_in": True, "door_open": True},
    ),
    SafetyTest(
        id="lamp", words="with the wait lamp lit, watch that the starter waits for it", sets={"wait_lamp": True},
        running=False,
    ),
)  # fmt: skip

_CARELESS: Mapping[str, object] = {
    "brake_pressed": True, "hood_open": True, "door_open": True, "key_in": True, "in_park": False,
}  # fmt: skip
_CARELESS_WORDS: Mapping[str, str] = {
    "brake_pressed": "a foot on the brake pedal", "hood_open": "the hood open", "door_open": "a door open",
    "key_in": "the key in the lock", "in_park": "the selector out of park",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class SilentFault:
    """A single fault with which the car still starts as ever and a protection is gone."""

    fault: InputFault
    defeats: tuple[str, ...]  # property ids
    words: str
    story: tuple[str, ...]
    revealed_by: tuple[str, ...]  # test ids
    masked_by: Mapping[str, tuple[str, ...]]  # test id -> careless conditions under which it shows nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class StartReport:
    """Everything exploration tells of an installation, for sheets, JSON and tests."""

    settings: StartSettings
    wiring: Wiring
    properties: tuple[Held, ...]
    states: int
    transitions: int
    explored: int  # how many explorations: the sound wiring and each different fault
    silent: tuple[SilentFault, ...]
    noticed: tuple[str, ...]  # ids of faults with which the car no longer starts by remote, or nothing is lost
    tests: Mapping[str, tuple[str, ...]]  # test id -> the silent faults it shows


def _read(truth: Inputs, levels: Mapping[str, Levels], mode: Mode, settings: StartSettings) -> Inputs:
    changes = {
        n: levels[n][PHASE_OF[mode.name]][getattr(truth, n)] for n in reads(mode.name, settings).inputs if n in levels
    }
    return changed(truth, changes)


_PATIENCE = 12
"""Steps given to the controller before it is judged: more than any way from one resting mode to another has."""


def outcome(
    test: SafetyTest,
    levels: Mapping[str, Levels],
    settings: StartSettings,
    careless: Mapping[str, object] | None = None,
) -> tuple[str, ...]:
    """Return what somebody sees of a test: whether it started, and whether it went off, while running and before.

    The engine catches at the first crank and stops when the kit drops it.
    """
    extra = {k: v for k, v in (careless or {}).items() if k not in test.sets}
    seen: list[str] = []
    if test.running:
        mode, started = _started(REST, levels, settings)
        seen.append(started)
        if mode.name == "running":
            # The careless condition is there already when the thing under test is done.
            mode = _settle(mode, changed(REST, {"engine": "running", **extra}), levels, settings)
            seen.append(f"still {mode.name}")
            mode = _settle(mode, changed(REST, {"engine": "running", **extra, **test.sets}), levels, settings)
            seen.append("runs on" if mode.name in ("running", "takeover") else f"off by {mode.name}")
    if test.before:
        mode, started = _started(changed(REST, {**extra, **test.sets}), levels, settings)
        seen.append(started)
    return tuple(seen)


def _settle(mode: Mode, truth: Inputs, levels: Mapping[str, Levels], settings: StartSettings) -> Mode:
    for _ in range(3):
        mode = step(mode, _read(truth, levels, mode, settings), frozenset(), settings).mode
    return mode


def _started(truth: Inputs, levels: Mapping[str, Levels], settings: StartSettings) -> tuple[Mode, str]:
    """Ask for a start and let timers run out until something comes of it."""
    mode = Mode()
    now = replace(truth, request="start")
    ran_out: frozenset[Timer] = frozenset({"check", "settle", "wait"})
    waited = False
    for turn in range(_PATIENCE):
        decision = step(mode, _read(now, levels, mode, settings), ran_out if turn else frozenset(), settings)
        waited = waited or decision.mode.name == "waiting"
        if decision.mode.name == "cranking" and mode.name == "cranking":
            return decision.mode, "the starter does not let go"
        mode = decision.mode
        if mode.name == "running":
            return mode, "starts"
        if turn and mode.name in ("idle", "stopping", "locked out", "valet"):
            return mode, "does not start"
        caught = mode.name == "cranking" and truth.engine == "still"
        now = replace(truth, engine="running") if caught else truth
    return mode, f"stays {mode.name}"


def _starts(levels: Mapping[str, Levels], settings: StartSettings) -> bool:
    return _started(REST, levels, settings)[1] == "starts"


def _key(levels: Levels) -> tuple[object, ...]:
    return tuple((phase, tuple(answer.items())) for phase, answer in levels.items())


def check_start(installation: Installation) -> StartReport:
    """Explore an installation sound and with every single fault of an input's wiring.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    settings = start_settings(installation)
    return report_of(settings, wiring_of(installation, settings), installation)


def report_of(settings: StartSettings, wiring: Wiring, installation: Installation | None = None) -> StartReport:
    """Explore a controller set like this with inputs wired like this, sound and with every single fault."""
    search = searcher(settings, wiring)
    asked = properties_of(settings)
    sound = search.explored(None, asked)
    if installation is not None:
        sound = with_proof(sound, installation)
    good = {h.id for h in sound.properties if h.holds}
    known: dict[tuple[object, ...], Exploration] = {}
    silent: list[SilentFault] = []
    noticed: list[str] = []
    shows: dict[str, list[str]] = {t.id: [] for t in TESTS}
    states, transitions = sound.states, sound.transitions
    for fault in wiring.faults:
        levels = {**wiring.sound, fault.input: fault.levels}
        key = (fault.input, _key(fault.levels))
        if key not in known:
            known[key] = search.explored(fault, asked)
            states += known[key].states
            transitions += known[key].transitions
        found = known[key]
        lost = tuple(h for h in found.properties if not h.holds and h.id in good)
        if not lost or not _starts(levels, settings):
            noticed.append(fault.id)
            continue
        revealing = _revealing(levels, wiring.sound, settings)
        for test in revealing:
            shows[test.id].append(fault.id)
        silent.append(
            SilentFault(
                fault=fault, defeats=tuple(h.id for h in lost),
                words=f"If {fault.words}, the car still starts by remote, and this no longer holds: "
                + " ".join(h.words for h in lost),
                story=tuple(s.words for s in min((h.story for h in lost), key=len)),
                revealed_by=tuple(t.id for t in revealing),
                masked_by={t.id: _masking(t, levels, wiring.sound, settings) for t in revealing},
            )
        )  # fmt: skip
    return StartReport(
        settings=settings, wiring=wiring, properties=sound.properties, states=states, transitions=transitions,
        explored=1 + len(known), silent=tuple(silent), noticed=tuple(noticed),
        tests={t: tuple(f) for t, f in shows.items()},
    )  # fmt: skip


def _possible(test: SafetyTest, settings: StartSettings) -> bool:
    """Tell whether the kit reads what a test is about, which is the first thing it sets."""
    return not test.sets or next(iter(test.sets)) in settings.senses


def _revealing(levels: Mapping[str, Levels], sound: Mapping[str, Levels], settings: StartSettings) -> list[SafetyTest]:
    return [t for t in TESTS if _possible(t, settings) and outcome(t, levels, settings) != outcome(t, sound, settings)]


def _masking(
    test: SafetyTest, levels: Mapping[str, Levels], sound: Mapping[str, Levels], settings: StartSettings
) -> tuple[str, ...]:
    """Return the careless conditions under which a test looks alike with the fault and without."""
    out = []
    for name, value in _CARELESS.items():
        if name in test.sets or name not in settings.senses:
            continue
        careless = {name: value}
        if outcome(test, levels, settings, careless) == outcome(test, sound, settings, careless):
            out.append(_CARELESS_WORDS[name])
    return tuple(out)
