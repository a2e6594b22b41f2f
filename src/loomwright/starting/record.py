"""What a rehearsal hands on: the record in time, named events, sums for the balances."""

from dataclasses import dataclass

from loomwright.network.states import State
from loomwright.starting.engine import Machine
from loomwright.starting.scenarios import Scenario
from loomwright.starting.settings import StartSettings

__all__ = ["Energy", "Frame", "Happening", "Moment", "Rehearsal"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One line of the record."""

    time_s: float
    mode: str
    rpm: float
    battery_v: float
    battery_a: float  # out of the battery
    starter_a: float
    outputs: tuple[str, ...]
    heater_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """A named event: something done to the car, or a change of the controller's mode or outputs."""

    time_s: float
    words: str
    mode: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The whole state from a moment on at which something happened, until the next frame.

    Parameters
    ----------
    time_s
        When it begins [s].
    words
        What happened; empty where only the car's own state changed, which `state` tells.
    mode
        The controller's mode from then on.
    state
        Of key, stimuli and commands.
    opened
        Elements that are open from then on, such as a blown fuse.
    battery_v
        At its beginning [V]; 0 with the battery off.
    rpm
        Engine speed at its beginning [rpm].
    """

    time_s: float
    words: tuple[str, ...]
    mode: str
    state: State
    opened: frozenset[str]
    battery_v: float
    rpm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Energy:
    """What went where over a rehearsal [J], for the balance; `gap_j` is what the sums leave over."""

    battery_j: float
    alternator_j: float
    resistance_j: float
    network_j: float
    starter_heat_j: float
    shaft_j: float

    @property
    def gap_j(self) -> float:
        """Return in less out [J]."""
        out = self.resistance_j + self.network_j + self.starter_heat_j + self.shaft_j
        return self.battery_j + self.alternator_j - out


@dataclass(frozen=True, slots=True, kw_only=True)
class Rehearsal:
    """What one scenario came to."""

    scenario: Scenario
    settings: StartSettings
    machine: Machine
    moments: tuple[Moment, ...]
    happenings: tuple[Happening, ...]
    frames: tuple[Frame, ...]
    lowest_v: float  # of all, for an instant: the starter's inrush
    cranking_v: float | None  # the lowest while a starter that has run up turns the engine; None where none did
    starter_peak_a: float
    cranks: tuple[tuple[float, float], ...]  # when the starter turned, from and to [s]
    asked: tuple[tuple[float, float], ...]  # when the kit asked for it [s]
    charge: float
    drawn_as: float  # charge taken from the battery, charging subtracted [A s]
    energy: Energy
    solves: int
    steps: int
    stopped_after_s: float | None  # from the last thing done to the car until the outputs were off
    engine_lives: bool  # at the end
    hold_s: float | None  # the longest start signal the car's computer takes, where it cranks by itself
