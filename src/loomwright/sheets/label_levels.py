"""The cheapest levels for the labels above or below a face, so that no text meets a text or a leader.

Each label may lie in a few ways from its leader, on any of some levels. The places that are left for the labels that
follow are kept as bits, the cheapest lowest, so that one step of the search rules out all that the step forbids.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

__all__ = ["Lie", "cheapest_levels"]

_LEVEL_COST = 10
_TRIALS = 1000  # nearly every set is found in half of that; many labels get a good one instead of the best
_BESIDE_MM = 2.0  # between two texts on one level
_CLEAR_MM = 1.0  # between a text and another's leader


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """One way in which a label may lie: where its text begins and ends, how high it is, where its leader runs [mm]."""

    left: float
    right: float
    height: float
    leader_x: float
    cost: int  # in tenths of what a level farther out costs, less than one

    def apart(self, other: "Lie") -> bool:
        """Tell whether both texts may stand on one level."""
        return self.left > other.right + _BESIDE_MM or other.left > self.right + _BESIDE_MM

    def meets(self, leader_x: float) -> bool:
        """Tell whether a leader that runs past this text would meet it."""
        return self.left - _CLEAR_MM < leader_x < self.right + _CLEAR_MM


def cheapest_levels(labels: Sequence[Sequence[Lie]], level_mm: float) -> list[tuple[int, int]] | None:
    """Return for each label which of its lies it takes and on which level, 0 next to the face; None where none do.

    Parameters
    ----------
    labels
        The lies of each label, in the order in which labels are placed.
    level_mm
        The distance of two levels [mm].

    Of sets that cost the same the first is taken.
    """
    levels = 2 * len(labels) + 1
    lies = [sorted(enumerate(each), key=lambda lie: (lie[1].cost, lie[0])) for each in labels]
    price = [[lie.cost + _LEVEL_COST * level for level in range(levels) for _, lie in each] for each in lies]
    every = [sum(1 << (len(each) * level) for level in range(levels)) for each in lies]
    whole = [(1 << (len(each) * levels)) - 1 for each in lies]

    @cache
    def left_by(index: int, place: int) -> tuple[int, ...]:
        """Return the places that a label leaves to each label behind it."""
        level, way = divmod(place, len(lies[index]))
        one = lies[index][way][1]
        return tuple(
            whole[j] & ~_forbidden(one, level, [lie for _, lie in lies[j]], every[j], level_mm)
            for j in range(index + 1, len(lies))
        )

    best: tuple[int, ...] | None = None
    best_cost, trials = (levels + 1) * _LEVEL_COST * len(labels), 0

    def place_from(index: int, cost: int, free: Sequence[int], done: tuple[int, ...]) -> None:
        nonlocal best, best_cost, trials
        if index == len(lies):
            best, best_cost = done, cost
            return
        mine, *others = free
        least = sum(price[index + 1 + n][_lowest(bits)] for n, bits in enumerate(others))
        while mine:
            place = _lowest(mine)
            mine &= mine - 1
            total = cost + price[index][place]
            if total + least >= best_cost or trials >= _TRIALS:
                return
            trials += 1
            left = [bits & more for bits, more in zip(others, left_by(index, place), strict=True)]
            if all(left):
                place_from(index + 1, total, left, (*done, place))

    place_from(0, 0, whole, ())
    if best is None:
        return None
    return [(each[place % len(each)][0], place // len(each)) for each, place in zip(lies, best, strict=True)]


def _lowest(bits: int) -> int:
    return (bits & -bits).bit_length() - 1


def _forbidden(one: Lie, level: int, others: Sequence[Lie], every: int, level_mm: float) -> int:
    """Return the places of another label that would meet a label, as bits: the lies of a level side by side.

    `every` has a bit for each level, at the first lie on it.
    """
    step = len(others)
    here = 1 << (step * level)
    nearer = here - 1
    found = 0
    for way, other in enumerate(others):
        bits = 0
        if not one.apart(other):
            reach = range(-int(other.height // level_mm) - 1, int(one.height // level_mm) + 2)
            for n in reach:
                if level + n >= 0 and n * level_mm < one.height and -n * level_mm < other.height:
                    bits |= 1 << (step * (level + n))
        if one.meets(other.leader_x):
            bits |= every & ~nearer & ~here
        if other.meets(one.leader_x):
            bits |= every & nearer
        found |= bits << way
    return found
