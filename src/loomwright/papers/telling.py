"""Which readings suffice: the fewest that tell a wire from those it could be confused with, in few changes of state.

A live reading proves that the probe or the joint makes contact; a dead one proves that the wire is not simply always
live. Beyond that a reading is worth what it rules out, which is computed from the volts of the other wires.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import get_args

from loomwright.documents.behaviour import KeyPosition
from loomwright.network.results import Reading
from loomwright.network.rules_live import LIVE_SHARE
from loomwright.network.states import State
from loomwright.papers.measures import METER_V
from loomwright.papers.reading_fields import limits_of, must_move
from loomwright.papers.slips import Slips

__all__ = ["at_free_plugs", "by_state", "effort", "of_plug", "of_wire", "rules_out", "same_state"]

_KEYS: tuple[str, ...] = get_args(KeyPosition)


def effort(state: State) -> tuple[object, ...]:
    """Return what orders states so that the key turns once through its positions, and the engine runs last."""
    running = "engine running" in state.active
    return (_KEYS.index(state.key), running, len(state.active), sorted(state.active))


def rules_out(slips: Slips, reading: Reading, other: str) -> bool:
    """Tell whether a right reading shows that the probe is not on another pin of the car."""
    if must_move(reading):
        return True  # a number that does not stand still is told from every steady one by looking at it
    volts = slips.at(other, reading.band.state)
    if volts is None or not reading.band.driven:
        return False
    limits = limits_of(reading.band)
    return not limits.low - METER_V <= volts <= limits.high + METER_V


def by_state(readings: Iterable[tuple[str, Reading]]) -> tuple[tuple[str, Reading], ...]:
    """Sort (pin or joint, reading) by state; what needs the other clip comes first, so that it is moved once."""
    every = list(readings)
    names = list(dict.fromkeys(name for name, _ in every))
    return tuple(
        sorted(every, key=lambda r: (r[1].clip == "battery negative", effort(r[1].band.state), names.index(r[0])))
    )


def _live(reading: Reading) -> bool:
    return reading.band.driven and reading.band.nominal > LIVE_SHARE * reading.band.battery_v


def _highest(found: Sequence[Reading]) -> list[Reading]:
    driven = sorted((r for r in found if r.band.driven), key=lambda r: r.band.nominal)
    apart = len(driven) > 1 and driven[-1].band.nominal - driven[0].band.nominal > 2 * METER_V
    return driven[-1:] if apart else []


def _best(candidates: Sequence[Reading], worth: Callable[[Reading], int]) -> Reading:
    """Return the candidate that is worth most; of equals the one that asks least of the person."""
    return min(candidates, key=lambda r: (-worth(r), effort(r.band.state)))


def of_wire(
    slips: Slips, found: Sequence[Reading], others: Iterable[str], *, pair_only: bool, asked: Collection[str] = ()
) -> tuple[Reading, ...]:
    """Return the readings of one wire: a live one, a dead one where there is one, each ruling out as much as it can.

    Parameters
    ----------
    slips
        The volts of the other pins.
    found
        All readings of the wire.
    others
        Pins it must be told from.
    pair_only
        Whether to leave it at the two; else readings are added as long as one of them rules out another pin.
    asked
        Ids of readings that are taken whatever they rule out.
    """
    left = set(others)
    taken: list[Reading] = []

    def take(candidates: Sequence[Reading]) -> None:
        best = _best(candidates, lambda r: sum(rules_out(slips, r, other) for other in left))
        taken.append(best)
        left.difference_update([other for other in left if rules_out(slips, best, other)])

    for reading in found:
        if reading.id in asked:
            take([reading])
    # A wire that its module holds up in short pulses, or at a few volts, is never plainly live: there the highest level
    # stands for it, where a meter tells it from the others.
    live = [r for r in found if _live(r)] or _highest(found)
    for candidates in (live, [r for r in found if r not in live]):
        if candidates and not any(r in taken for r in candidates):
            take(candidates)
    while not pair_only:
        more = [r for r in found if r not in taken and any(rules_out(slips, r, other) for other in left)]
        if not more:
            break
        take(more)
    return tuple(sorted(taken, key=lambda r: effort(r.band.state)))


def _reached(start: str, passes: Mapping[str, set[str]]) -> set[str]:
    """Return what is reached from a node along the arrows."""
    seen: set[str] = set()
    waiting = list(passes[start])
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            waiting += passes[node]
    return seen


def _until_no_swap_passes(
    slips: Slips, taken: dict[str, list[Reading]], every: Mapping[str, Sequence[Reading]], pins: Mapping[str, str]
) -> None:
    """Add readings until no exchange of wires passes unseen that any reading could show.

    An arrow from one wire to another says that the readings taken for the first would be right on the second. Wires
    exchanged in a ring pass unseen just where the arrows close to that ring, so rings are broken one arrow after the
    other, with the reading that breaks most of them.
    """
    while True:
        passes = {
            a: {b for b in pins if b != a and not any(rules_out(slips, r, pins[b]) for r in taken[a])} for a in pins
        }
        reached = {a: _reached(a, passes) for a in pins}
        ring = {a: {b for b in passes[a] if a in reached[b]} for a in pins}
        worth = {
            (a, r.id): sum(rules_out(slips, r, pins[b]) for b in ring[a])
            for a in pins
            for r in every[a]
            if r not in taken[a]
        }
        candidates = [(a, r) for a in pins for r in every[a] if worth.get((a, r.id))]
        if not candidates:
            return
        a, best = min(candidates, key=lambda c: (-worth[c[0], c[1].id], effort(c[1].band.state)))
        taken[a].append(best)


def of_plug(
    slips: Slips, found: Mapping[str, Sequence[Reading]], asked: Collection[str] = ()
) -> tuple[tuple[str, Reading], ...]:
    """Return the readings that check a whole plug which is only plugged in, sorted by state; pin -> its readings.

    Each pin has its telling pair and the readings asked for by their ids, and no exchange of the measured wires passes
    unseen that a meter can show.
    """
    taken = {
        pin: list(of_wire(slips, readings, (p for p in found if p != pin), pair_only=True, asked=asked))
        for pin, readings in found.items()
    }
    _until_no_swap_passes(slips, taken, found, {pin: pin for pin in found})
    return by_state((pin, r) for pin, readings in taken.items() for r in readings)


def at_free_plugs(
    slips: Slips, found: Mapping[str, Sequence[Reading]], by_hand: Mapping[str, str]
) -> tuple[tuple[str, Reading], ...]:
    """Return the readings at the free ends of the leads, sorted by state.

    Parameters
    ----------
    slips
        The volts of the pins.
    found
        Joint id -> its readings after joining.
    by_hand
        Joint id -> pin of the leads that were joined one by one, and so could be exchanged.
    """
    taken = _one_each(found)
    _until_no_swap_passes(slips, taken, found, by_hand)
    return by_state((joint, r) for joint, readings in taken.items() for r in readings)


def _one_each(found: Mapping[str, Sequence[Reading]]) -> dict[str, list[Reading]]:
    """Return one reading for each lead, a live one where there is one, in as few states as a greedy choice finds.

    A lead that is dead in every state is read where most of the others are live.
    """
    live = {joint: [r for r in readings if _live(r)] for joint, readings in found.items()}

    def others_live(state: State) -> int:
        return sum(any(same_state(r.band.state, state) for r in readings) for readings in live.values())

    open_ = {
        joint: live[joint] or [min(readings, key=lambda r: (-others_live(r.band.state), effort(r.band.state)))]
        for joint, readings in found.items()
        if readings
    }
    taken: dict[str, list[Reading]] = {}
    while len(taken) < len(open_):
        left = [r for joint, readings in open_.items() if joint not in taken for r in readings]
        state = min(
            (r.band.state for r in left),
            key=lambda s: (-sum(same_state(r.band.state, s) for r in left), effort(s)),
        )
        for joint, readings in open_.items():
            here = [r for r in readings if same_state(r.band.state, state)]
            if joint not in taken and here:
                taken[joint] = [here[0]]
    return taken


def same_state(one: State, other: State) -> bool:
    """Tell whether key and stimuli are the same, at whatever stage of the fitting."""
    return (one.key, one.active) == (other.key, other.active)
