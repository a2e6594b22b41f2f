"""The start on the installation page: a scenario's events, what holds at one of them, and what the start comes to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from loomwright.papers.blocks import Text
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import capital, lifted, listed, say
from loomwright.papers.words.en import bench as words
from loomwright.papers.words.en import naming
from loomwright.starting.frames import StartStep
from loomwright.starting.record import Rehearsal
from loomwright.starting.verdicts import verdicts_of

__all__ = ["EventView", "StartView", "VerdictView", "start_view"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EventView:
    """One event of the list; `number` counts from one."""

    number: int
    time: Text
    words: str
    mode: str
    is_now: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictView:
    """One question about the whole start, and its answer."""

    asks: str
    answer: str
    holds: bool
    found: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class StartView:
    """A rehearsed start at one of its events; `before` and `after` are 0 where there is none."""

    scenario: str
    words: str
    events: tuple[EventView, ...]
    number: int
    before: int
    after: int
    title: Text
    says: tuple[Text, ...]
    verdicts: tuple[VerdictView, ...]


def start_view(rehearsal: Rehearsal, steps: Sequence[StartStep], number: int) -> StartView:
    """Return a rehearsal as it stands at its event of a number, counted from one.

    Raises ValueError for a number that it has not.
    """
    if not 1 <= number <= len(steps):
        msg = f"number: found {number}, expected 1 to {len(steps)}"
        raise ValueError(msg)
    trace = f"rehearsal:{rehearsal.scenario.id}"
    now = steps[number - 1]
    return StartView(
        scenario=rehearsal.scenario.id, words=capital(rehearsal.scenario.words),
        events=tuple(
            EventView(
                number=n, time=(_seconds(step.time_s, trace),), words=capital(_told(step)), mode=step.mode,
                is_now=n == number,
            )
            for n, step in enumerate(steps, 1)
        ),
        number=number, before=number - 1, after=number + 1 if number < len(steps) else 0,
        title=(_seconds(now.time_s, trace), f": {_told(now)}."), says=tuple(_says(now, trace)),
        verdicts=tuple(
            VerdictView(
                asks=v.words, answer=words.START_HOLDS[v.holds], holds=v.holds, found=lifted(capital(v.found), trace)
            )
            for v in verdicts_of(rehearsal)
        ),
    )  # fmt: skip


def _told(step: StartStep) -> str:
    return "; ".join(step.words)


def _seconds(value: float, trace: str) -> Quantity:
    return Quantity(value=value, unit="s", trace=trace, digits=1)


def _says(step: StartStep, trace: str) -> Iterator[Text]:
    """Yield what holds from the event until the next, in sentences."""

    def of(value: float, unit: str, digits: int) -> Quantity:
        return Quantity(value=value + 0.0, unit=unit, trace=trace, digits=digits)

    if step.state.key != "off":
        yield say(words.START_KEY, key=words.KEY[step.state.key])
    on = sorted(step.state.commands)
    yield say(words.START_ON, outputs=listed(on, naming.AND)) if on else (words.START_OFF,)
    before, after = round(step.rpm_from, -1), round(step.rpm, -1)
    if before == after == 0:
        yield (words.START_ENGINE_STILL,)
    elif before == after:
        yield say(words.START_ENGINE, rpm=of(after, "rpm", 0))
    else:
        yield say(words.START_ENGINE_CHANGES, before=of(before, "rpm", 0), rpm=of(after, "rpm", 0))
    if step.lowest_v < step.battery_v - 0.1:
        yield say(words.START_BATTERY_DIPS, volts=of(step.battery_v, "V", 1), lowest=of(step.lowest_v, "V", 1))
    else:
        yield say(words.START_BATTERY, volts=of(step.battery_v, "V", 1))
    if step.starter_a >= 1.0:
        yield say(words.START_STARTER, amps=of(round(step.starter_a, -1), "A", 0))
    yield say(words.START_LASTS, time=_seconds(step.until_s - step.time_s, trace))
