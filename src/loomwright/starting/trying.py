"""The tests of the protections as data, what somebody sees of each, and what masks it.

A test shows a fault where its outcome differs from that of the sound car. Another protection may mask it: with the foot
on the brake, the engine stops whatever the hood switch does. What masks a test is computed by trying.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from loomwright.starting.modes import REST, Inputs, Mode, Timer, changed
from loomwright.starting.settings import StartSettings
from loomwright.starting.step import reads, step
from loomwright.starting.wiring import PHASE_OF, InputFault, Levels, Wiring

__all__ = [
    "CARELESS", "CARELESS_WORDS", "TESTS", "NeededTest", "SafetyTest", "SoundCar", "needed_tests", "outcome", "starts",
]  # fmt: skip


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
        id="selector", words="with the selector in drive and the foot over the brake, ask for a start",
        sets={"in_park": False}, running=False,
    ),
    SafetyTest(
        id="parking-brake", words="with the parking brake released and the wheels chocked, ask for a start",
        sets={"parking_brake": False}, running=False,
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

CARELESS: Mapping[str, object] = {
    "brake_pressed": True, "hood_open": True, "door_open": True, "key_in": True, "in_park": False,
    "parking_brake": False,
}  # fmt: skip
CARELESS_WORDS: Mapping[str, str] = {
    "brake_pressed": "a foot on the brake pedal", "hood_open": "the hood open", "door_open": "a door open",
    "key_in": "the key in the lock", "in_park": "the selector out of park",
    "parking_brake": "the parking brake released",
}  # fmt: skip


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


def starts(levels: Mapping[str, Levels], settings: StartSettings) -> bool:
    """Tell whether a request from rest starts the car with the inputs as they read."""
    return _started(REST, levels, settings)[1] == "starts"


def _possible(test: SafetyTest, settings: StartSettings) -> bool:
    """Tell whether the kit reads what a test is about, which is the first thing it sets."""
    return not test.sets or next(iter(test.sets)) in settings.senses


class SoundCar:
    """What the tests look like in the sound car: tried once, and held against every fault."""

    def __init__(self, sound: Mapping[str, Levels], settings: StartSettings) -> None:
        self._sound = sound
        self._settings = settings
        self._seen: dict[tuple[str, str], tuple[str, ...]] = {}

    def revealing(self, levels: Mapping[str, Levels]) -> Iterator[SafetyTest]:
        """Yield the tests that look different with the inputs as they read than in the sound car."""
        for test in TESTS:
            if _possible(test, self._settings) and not self._looks_alike(test, levels):
                yield test

    def masking(self, test: SafetyTest, levels: Mapping[str, Levels]) -> tuple[str, ...]:
        """Return the inputs whose careless truth makes a test look alike with the fault and without."""
        asked = (n for n in CARELESS if n not in test.sets and n in self._settings.senses)
        return tuple(n for n in asked if self._looks_alike(test, levels, n))

    def _looks_alike(self, test: SafetyTest, levels: Mapping[str, Levels], name: str = "") -> bool:
        careless = {name: CARELESS[name]} if name else {}
        if (test.id, name) not in self._seen:
            self._seen[test.id, name] = outcome(test, self._sound, self._settings, careless)
        return outcome(test, levels, self._settings, careless) == self._seen[test.id, name]


@dataclass(frozen=True, slots=True, kw_only=True)
class NeededTest:
    """A test that this installation cannot do without: the faults that only it brings to light, and what masks it.

    `clear` names the inputs that must be at rest while it is done, because with one of them otherwise the test looks
    the same with a fault as without.
    """

    test: SafetyTest
    shows: tuple[InputFault, ...]
    clear: tuple[str, ...]


def needed_tests(settings: StartSettings, wiring: Wiring) -> tuple[NeededTest, ...]:
    """Return the fewest tests, in the order of `TESTS`, that show every fault with which the car still starts.

    Each fault is given to the first test that shows it. A fault that no test shows either loses nothing or is told by
    the exploration; `silent.check_start` knows which.
    """
    sound = SoundCar(wiring.sound, settings)
    shows: dict[str, list[InputFault]] = {}
    clear: dict[str, dict[str, None]] = {}
    for fault in wiring.faults:
        levels = {**wiring.sound, fault.input: fault.levels}
        if not starts(levels, settings):
            continue
        test = next(sound.revealing(levels), None)
        if test is not None:
            shows.setdefault(test.id, []).append(fault)
            clear.setdefault(test.id, {}).update(dict.fromkeys(sound.masking(test, levels)))
    return tuple(
        NeededTest(test=t, shows=tuple(shows[t.id]), clear=tuple(n for n in CARELESS if n in clear[t.id]))
        for t in TESTS
        if t.id in shows
    )
