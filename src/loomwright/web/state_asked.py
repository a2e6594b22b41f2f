"""From the query of an address to a state of an installation, and back to the choices that a page offers."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from loomwright.documents.behaviour import KeyPosition
from loomwright.network.commands import PHASES
from loomwright.network.fitting_order import fitting_order
from loomwright.network.states import Stage, State
from loomwright.network.stories import stimuli_of
from loomwright.network.what_if import Bench, WhatIf, history_of
from loomwright.papers.job import Job
from loomwright.papers.saying import capital
from loomwright.papers.words.en import bench as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Installation
from loomwright.starting.frames import StartStep
from loomwright.starting.scenarios import Scenario
from loomwright.web.asking import Ask, WebError
from loomwright.web.desk import Desk, Fit

__all__ = ["Asked", "Option", "Picker", "answered", "asked_of", "picker"]

_T = TypeVar("_T", bound=str)

_KEYS: Mapping[KeyPosition, str] = MappingProxyType({
    "off": "off", "acc": "accessory", "run": "on (run)", "crank": "start",
})  # fmt: skip
_STAGES: Mapping[Stage, str] = MappingProxyType({
    "fitted": "kit fitted", "bare": "untouched car", "fitting": "while fitting", "kit dead": "kit dead",
})  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a page is asked about an installation."""

    state: State
    phase: str | None
    opened: tuple[str, ...]
    shorted: tuple[str, ...]
    meter: str
    scenario: str  # of the start that is stepped through; empty where one state is looked at
    step: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One thing to choose."""

    value: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Picker:
    """The choices of the state picker."""

    stages: tuple[Option, ...]
    steps: tuple[Option, ...]  # of fitting
    keys: tuple[Option, ...]
    phases: tuple[Option, ...]
    things: tuple[Option, ...]
    scenarios: tuple[Option, ...]
    opened: tuple[str, ...]
    shorted: tuple[str, ...]
    meter: str


def asked_of(ask: Ask, installation: Installation, bench: Bench, scenarios: Sequence[Scenario]) -> Asked:
    """Read what is asked; `scenarios` are those of the start that make sense for this car and kit.

    Raises WebError for a word that names nothing here.
    """
    stage = _one_of(ask.one("stage", "fitted"), _STAGES, "stage")
    things = stimuli_of(installation.car)
    active = frozenset(_one_of(thing, things, "thing to do") for thing in ask.every("do"))
    phase = ask.one("phase")
    if phase:
        phase = _one_of(phase, PHASES, "step of the start")
    steps = len(fitting_order(installation))
    joined = ask.one("joined", "1")
    if not joined.isascii() or not joined.isdecimal() or not 1 <= int(joined) <= steps:
        raise WebError(400, f"Found {joined[:40]!r}, expected a step of fitting from 1 to {steps}.")
    points = bench.points
    opened = tuple(_one_of(name, points, "wire") for name in dict.fromkeys(ask.every("open")))
    if fixed := [name for name in opened if points[name].wire is None]:
        raise WebError(400, f"{fixed[0]} has no wire that could be opened.")
    return Asked(
        state=State(
            stage=stage, key=_one_of(ask.one("key", "off"), _KEYS, "key position"), active=active,
            joined=int(joined) if stage == "fitting" else None,
        ),
        phase=phase or None, opened=opened,
        shorted=tuple(_one_of(name, points, "wire") for name in dict.fromkeys(ask.every("short"))),
        meter=_one_of(ask.one("meter"), points, "wire") if ask.one("meter") else "",
        scenario=_one_of(ask.one("scenario"), [s.id for s in scenarios], "start") if ask.one("scenario") else "",
        step=_step_of(ask),
    )  # fmt: skip


def _step_of(ask: Ask) -> int:
    """Return the event asked for: a button's word goes before the list's, and another start begins at its first."""
    if ask.one("scenario") != ask.one("was", ask.one("scenario")):
        return 1
    word = ask.one("go") or ask.one("at", "1")
    if not word.isascii() or not word.isdecimal() or not 1 <= len(word) <= 4 or int(word) < 1:
        raise WebError(400, f"Found {word[:40]!r}, expected the number of an event. Choose it on the page.")
    return int(word)


def _one_of(word: str, known: Iterable[_T], what: str) -> _T:
    found = next((each for each in known if each == word), None)
    if found is None:
        raise WebError(400, f"Found {word[:60]!r}, expected a {what} of this car and kit. Choose it on the page.")
    return found


def answered(desk: Desk, fit: Fit, asked: Asked, steps: Sequence[StartStep] = ()) -> WhatIf:
    """Return what every wire does, in one state or at an event of a start; `steps` lead to that event."""
    history = [s.state for s in steps] or history_of(desk.bench(fit).installation, asked.phase, asked.state)
    held = [s.held for s in steps] or None
    return desk.what_if(fit, history, opened=asked.opened, shorted=asked.shorted, held=held)


def picker(job: Job, asked: Asked, scenarios: Sequence[Scenario]) -> Picker:
    """Return what may be chosen, the present choice marked."""
    state, car = asked.state, job.car
    return Picker(
        stages=tuple(Option(value=s, words=w, chosen=s == state.stage) for s, w in _STAGES.items()),
        steps=tuple(
            Option(value=str(n), words=f"after step {n}", chosen=n == state.joined)
            for n in range(1, len(job.order) + 1)
        ),
        keys=tuple(Option(value=k, words=w, chosen=k == state.key) for k, w in _KEYS.items()),
        phases=tuple(
            Option(value=p, words=words.PHASE[p], chosen=p == (asked.phase or "")) for p in ("", *PHASES)
        ),
        things=tuple(Option(value=t, words=naming.DOING[t], chosen=t in state.active) for t in stimuli_of(car)),
        scenarios=tuple(
            Option(value=id, words=capital(said), chosen=id == asked.scenario)
            for id, said in (("", words.NO_SCENARIO), *((s.id, s.words) for s in scenarios))
        ),
        opened=asked.opened, shorted=asked.shorted, meter=asked.meter,
    )  # fmt: skip
