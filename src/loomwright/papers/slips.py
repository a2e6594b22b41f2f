"""What the meter would show on a wrong pin, by a slip or by a wrong joint, computed like every other reading."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from loomwright.faults.landing import landings
from loomwright.network.joining import bare_netlist
from loomwright.network.paths import pin_nodes
from loomwright.network.solving import solve_stories
from loomwright.network.states import State
from loomwright.network.stories import Story, stimuli_of
from loomwright.papers.job import Job, plug_of
from loomwright.papers.measures import METER_V
from loomwright.papers.words.en import naming

__all__ = ["Slips", "slips_of"]

_BY_KEY = frozenset({"key in lock"})  # the words for the key tell it


@dataclass(frozen=True, slots=True, kw_only=True)
class Slips:
    """Volts of every pin one may land on instead of one pin, in the untouched car; commonest slips first."""

    pins: Mapping[str, tuple[str, ...]]  # pin meant -> pins landed on
    volts: Mapping[tuple[str, State], float]  # (pin, state of stage 'bare') -> [V]
    disturbed: Mapping[tuple[str, State], tuple[str, ...]]  # pin meant, state -> stimuli at rest there that matter

    def at(self, pin: str, state: State) -> float | None:
        """Return what a pin shows in the untouched car with key and stimuli of a state [V]; None where not solved."""
        return self.volts.get((pin, _untouched(state)))

    def rest(self, pin: str, state: State) -> tuple[str, ...]:
        """Return what must stay at rest in a state, since the pin would show something else with it."""
        return self.disturbed.get((pin, _untouched(state)), ())

    def between(self, pin: str, state: State, low: float, high: float) -> tuple[str, ...]:
        """Return the slips of a pin that show a voltage above `low` and below `high` [V] in a state."""
        return tuple(
            other
            for other in self.pins.get(pin, ())
            if (found := self.at(other, state)) is not None and low < found < high
        )

    def alike(self, pin: str, bands: Iterable[tuple[State, float, float]]) -> tuple[str, ...]:
        """Return the slips that lie within the right band in every state: the meter does not tell them apart."""
        every = tuple(bands)
        return tuple(
            other
            for other in self.pins.get(pin, ())
            if every and all((v := self.at(other, s)) is not None and low <= v <= high for s, low, high in every)
        )


def _untouched(state: State) -> State:
    return State(stage="bare", key=state.key, active=state.active)


def slips_of(job: Job) -> Slips:
    """Solve the untouched car once in every state in which a wire is read.

    The volts are those of every pin the kit meets and of every pin one may land on instead. Airbag pins are left out:
    nobody measures them, so nobody is told what they would show.
    """
    pins: dict[str, tuple[str, ...]] = {}
    for joint in job.ordered_joints:
        if joint.pin is not None:
            landed = (landing.pin for landing in landings(job.car, joint.pin))
            # Whether it is the right plug is asked before any of its pins is.
            pins[joint.pin] = tuple(p for p in landed if plug_of(p) == plug_of(joint.pin))
    states = tuple(dict.fromkeys(_untouched(r.band.state) for r in job.readings.readings if r.purpose != "check"))
    solved = solve_stories(
        bare_netlist(job.car),
        [Story(id=str(n), name="", states=(s,)) for n, s in enumerate(states)],
        job.readings.battery_v,
    )
    lane = {s: n for n, s in enumerate(solved.states)}
    found: dict[tuple[str, State], float] = {}
    for pin in dict.fromkeys((*pins, *(p for others in pins.values() for p in others))):
        node = pin_nodes(pin)[0]
        if node in solved.compiled.node:
            for state in states:
                found[pin, state] = solved.volts(node, lane[state])
    return Slips(pins=pins, volts=found, disturbed=_disturbed(job, pins, states, found))


def _disturbed(
    job: Job, pins: Iterable[str], states: Iterable[State], volts: Mapping[tuple[str, State], float]
) -> Mapping[tuple[str, State], tuple[str, ...]]:
    """Return by which single thing that somebody does the reading of a pin would move further than a meter errs."""
    may_move = [s for s in stimuli_of(job.car) if s in naming.RESTING and s not in _BY_KEY]
    moved = [
        (state, s, State(stage="bare", key=state.key, active=state.active | {s}))
        for state in states
        if state.key != "crank"  # with the starter turning nobody has a hand free
        for s in may_move
        if s not in state.active
    ]
    solved = solve_stories(
        bare_netlist(job.car),
        [Story(id=str(n), name="", states=(s,)) for n, s in enumerate(dict.fromkeys(m for _, _, m in moved))],
        job.readings.battery_v,
    )
    lane = {s: n for n, s in enumerate(solved.states)}
    found: dict[tuple[str, State], tuple[str, ...]] = {}
    for pin in pins:
        node = pin_nodes(pin)[0]
        if node not in solved.compiled.node:
            continue
        for state, stimulus, other in moved:
            if abs(solved.volts(node, lane[other]) - volts[pin, state]) > 2 * METER_V:
                found[pin, state] = (*found.get((pin, state), ()), stimulus)
    return found
