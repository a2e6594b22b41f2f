"""A rehearsal walked event by event: what holds from each on until the next, with its voltages and speeds."""

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.network.states import State
from loomwright.network.what_if import Held
from loomwright.starting.record import Frame, Rehearsal

__all__ = ["StartStep", "start_steps"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartStep:
    """What holds from one event until the next.

    Parameters
    ----------
    time_s, until_s
        From and to [s].
    words
        What happened at its beginning.
    mode
        The controller's mode.
    state
        Of key, stimuli and commands.
    opened
        Elements that are open.
    battery_v
        Where the battery has come to at its end [V].
    lowest_v
        The lowest in it [V].
    rpm_from, rpm
        Engine speed at its beginning and its end [rpm].
    starter_a
        The most the starter takes in it [A].
    """

    time_s: float
    until_s: float
    words: tuple[str, ...]
    mode: str
    state: State
    opened: frozenset[str]
    battery_v: float
    lowest_v: float
    rpm_from: float
    rpm: float
    starter_a: float

    @property
    def held(self) -> Held:
        """Return what the circuit is solved with at the step's end."""
        return Held(battery_v=self.battery_v, opened=self.opened)


def start_steps(rehearsal: Rehearsal) -> tuple[StartStep, ...]:
    """Return the steps of a rehearsal in time; the first is how things stand before anything is asked."""
    return tuple(_steps(rehearsal))


def _steps(rehearsal: Rehearsal) -> Iterator[StartStep]:
    frames = rehearsal.frames
    ends = (*(f.time_s for f in frames[1:]), rehearsal.scenario.lasts_s)
    for number, (frame, end) in enumerate(zip(frames, ends, strict=True)):
        within = [m for m in rehearsal.moments if frame.time_s <= m.time_s < end]
        yield StartStep(
            time_s=frame.time_s, until_s=end, words=frame.words or _own_words(frames, number), mode=frame.mode,
            state=frame.state, opened=frame.opened, battery_v=within[-1].battery_v if within else frame.battery_v,
            lowest_v=min((m.battery_v for m in within), default=frame.battery_v), rpm_from=frame.rpm,
            rpm=within[-1].rpm if within else frame.rpm, starter_a=max((m.starter_a for m in within), default=0.0),
        )  # fmt: skip


def _own_words(frames: tuple[Frame, ...], number: int) -> tuple[str, ...]:
    """Return what the car did by itself between two frames."""
    if number == 0:
        return ("before anything is asked",)
    now, before = frames[number].state, frames[number - 1].state
    found = []
    for stimulus, on, off in (
        ("engine running", "the engine runs by itself", "the engine stands still"),
        ("wait lamp lit", "the wait lamp comes on", "the wait lamp goes out"),
    ):
        if (stimulus in now.active) != (stimulus in before.active):
            found.append(on if stimulus in now.active else off)
    if now.commands != before.commands:
        found.append("the kit switches its outputs")
    if now.key != before.key:
        found.append("the car's own ignition comes on" if now.key == "run" else "the car's own ignition goes off")
    return tuple(found)
