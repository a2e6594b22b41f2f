"""Single faults of the inputs' wiring: which defeat a protection unnoticed, and which test shows each."""

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told
from loomwright.starting.explore import Exploration, Held, searcher, with_proof
from loomwright.starting.properties import properties_of
from loomwright.starting.settings import StartSettings, start_settings
from loomwright.starting.trying import CARELESS_WORDS, TESTS, SoundCar, starts
from loomwright.starting.wiring import InputFault, Levels, Wiring, wiring_of

__all__ = ["SilentFault", "StartReport", "check_start", "report_of"]


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
    car = SoundCar(wiring.sound, settings)
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
        if not lost or not starts(levels, settings):
            noticed.append(fault.id)
            continue
        shown = tuple(car.revealing(levels))
        for test in shown:
            shows[test.id].append(fault.id)
        silent.append(
            SilentFault(
                fault=fault, defeats=tuple(h.id for h in lost),
                words=told(
                    "If {fault}, the car still starts by remote, and this no longer holds: {lost}", fault=fault.words,
                    lost=linked(h.words for h in lost),
                ),
                story=tuple(s.words for s in min((h.story for h in lost), key=len)),
                revealed_by=tuple(t.id for t in shown),
                masked_by={t.id: tuple(CARELESS_WORDS[n] for n in car.masking(t, levels)) for t in shown},
            )
        )  # fmt: skip
    return StartReport(
        settings=settings, wiring=wiring, properties=sound.properties, states=states, transitions=transitions,
        explored=1 + len(known), silent=tuple(silent), noticed=tuple(noticed),
        tests={t: tuple(f) for t, f in shows.items()},
    )  # fmt: skip
