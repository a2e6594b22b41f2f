"""Which question next: the order of questions in which a buyer is asked least.

Where a family is small enough the shortest questionnaire is found exactly, by going backwards from what is settled;
else the question with most information is taken. Every variant counts as equally likely: nobody knows how many of
each are still on the road.
"""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import log2, prod

from loomwright.fitting.outcomes import Outcomes, Variant

__all__ = ["Questionnaire", "bits"]

_MOST_WORK = 400_000
"""States of the exact search times variants; beyond, it would take more than a few seconds."""


def bits(counts: Iterable[int]) -> float:
    """Return the entropy of a set split into parts of these sizes [bit].

    Equation: H = log2 n - (1/n) sum n_i log2 n_i, with n the sum of all n_i; 0 for an empty set.

    References
    ----------
    C. E. Shannon, "A Mathematical Theory of Communication", Bell System Technical Journal 27, 1948, section 6.
    """
    sizes = [c for c in counts if c > 0]
    total = sum(sizes)
    return log2(total) - sum(c * log2(c) for c in sizes) / total if total else 0.0


@dataclass(frozen=True, kw_only=True)
class Questionnaire:
    """The variants of a family, what comes of each, and the questions that tell them apart.

    Sets of variants and of axes are integers, bit i for the i-th. Without slots, so that what follows from the
    outcomes is worked out once.
    """

    outcomes: Outcomes
    _costs: dict[tuple[int, int], float] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def variants(self) -> tuple[Variant, ...]:
        """All variants, in the order of the family."""
        return tuple(self.outcomes)

    @cached_property
    def axes(self) -> tuple[str, ...]:
        """The ids of the axes, in the order of the family."""
        return tuple(axis for axis, _ in self.variants[0]) if self.variants else ()

    @cached_property
    def _values(self) -> tuple[Mapping[str, int], ...]:
        """Of every axis: value -> the variants that have it."""
        found: list[dict[str, int]] = [{} for _ in self.axes]
        for i, variant in enumerate(self.variants):
            for a, (_, value) in enumerate(variant):
                found[a][value] = found[a].get(value, 0) | 1 << i
        return tuple(found)

    @cached_property
    def _results(self) -> tuple[int, ...]:
        """The variants of each different result."""
        found: dict[Hashable, int] = {}
        for i, outcome in enumerate(self.outcomes.values()):
            found[outcome.matters] = found.get(outcome.matters, 0) | 1 << i
        return tuple(found.values())

    @cached_property
    def _fits(self) -> tuple[int, ...]:
        """The variants of each verdict."""
        found: dict[str, int] = {}
        for i, outcome in enumerate(self.outcomes.values()):
            found[outcome.verdict] = found.get(outcome.verdict, 0) | 1 << i
        return tuple(found.values())

    def with_answers(self, answers: Mapping[str, str]) -> int:
        """Return the variants that have these values of these axes."""
        left = (1 << len(self.variants)) - 1
        for axis, value in answers.items():
            left &= self._values[self.axes.index(axis)].get(value, 0)
        return left

    def listed(self, left: int) -> tuple[Variant, ...]:
        """Return the variants of a set."""
        return tuple(variant for i, variant in enumerate(self.variants) if left >> i & 1)

    def possible(self, axis: str, left: int) -> tuple[str, ...]:
        """Return the values of an axis that some variant of a set has."""
        return tuple(value for value, having in self._values[self.axes.index(axis)].items() if having & left)

    def mask(self, axes: Iterable[str]) -> int:
        """Return a set of axes as an integer."""
        return sum(1 << self.axes.index(axis) for axis in dict.fromkeys(axes))

    def _parts(self, a: int, left: int) -> list[int]:
        return [part for having in self._values[a].values() if (part := having & left)]

    def _cells(self, left: int, askable: int) -> list[int]:
        """Return the smallest sets that answers to all of these axes can lead to."""
        cells = [left]
        for a in range(len(self.axes)):
            if askable >> a & 1:
                cells = [part for cell in cells for part in self._parts(a, cell)]
        return cells

    def _may_be(self, left: int) -> int:
        """Return the results that variants of a set have, as bits."""
        return sum(1 << i for i, having in enumerate(self._results) if having & left)

    def settled(self, left: int, askable: int) -> bool:
        """Tell whether no answer to any of these axes could change what may come out."""
        now = self._may_be(left)
        return now & (now - 1) == 0 or all(self._may_be(cell) == now for cell in self._cells(left, askable))

    def needed(self, left: int, askable: int) -> tuple[str, ...]:
        """Return axes whose answers together tell all that all answers would tell, with none to spare."""
        kept = askable
        finest = self._told(self._cells(left, kept))
        for a in reversed(range(len(self.axes))):
            fewer = kept & ~(1 << a)
            if fewer != kept and self._told(self._cells(left, fewer)) == finest:
                kept = fewer
        return tuple(axis for a, axis in enumerate(self.axes) if kept >> a & 1)

    def _told(self, cells: Iterable[int]) -> dict[int, int]:
        """Return, of every variant, which results it may still have."""
        return {i: self._may_be(cell) for cell in cells for i in range(len(self.variants)) if cell >> i & 1}

    def next_axis(self, left: int, askable: int) -> str | None:
        """Return the axis to ask next, or None where nothing that matters is left to ask."""
        if self.settled(left, askable):
            return None
        splitting = [a for a in range(len(self.axes)) if askable >> a & 1 and len(self._parts(a, left)) > 1]
        if self._exact(splitting):
            costs = {a: round(self._after(a, left, askable), 9) for a in splitting}
            return self.axes[min(splitting, key=lambda a: (costs[a], self._rank(a, left)))]
        telling = [a for a in splitting if self._rank(a, left)[:2] < (0.0, 0.0)]
        if not telling:  # no single answer tells anything; some axes do together
            needed = self.needed(left, askable)
            telling = [a for a in splitting if self.axes[a] in needed]
        return self.axes[min(telling, key=lambda a: self._rank(a, left))]

    def _exact(self, splitting: Sequence[int]) -> bool:
        states = prod(len(self._values[a]) + 1 for a in splitting)
        return states * len(self.variants) <= _MOST_WORK

    def _rank(self, a: int, left: int) -> tuple[float, float, float, int]:
        """Return what an answer tells, the most first: about fit, about fit and plan, about the variant [-bit]."""
        parts = self._parts(a, left)
        about = [
            -_gain([[(having & part).bit_count() for having in groups] for part in parts])
            for groups in (self._fits, self._results)
        ]
        return (round(about[0], 9), round(about[1], 9), round(-bits(part.bit_count() for part in parts), 9), a)

    def _after(self, a: int, left: int, askable: int) -> float:
        """Return the mean number of questions where this axis is asked first."""
        rest = askable & ~(1 << a)
        return 1 + sum(p.bit_count() * self.mean(p, rest) for p in self._parts(a, left)) / left.bit_count()

    def mean(self, left: int, askable: int) -> float:
        """Return the least mean number of questions after which nothing that matters is left to ask."""
        found = self._costs.get((left, askable))
        if found is None:
            if self.settled(left, askable):
                found = 0.0
            else:
                found = min(
                    self._after(a, left, askable)
                    for a in range(len(self.axes))
                    if askable >> a & 1 and len(self._parts(a, left)) > 1
                )
            self._costs[left, askable] = found
        return found


def _gain(table: Sequence[Sequence[int]]) -> float:
    """Return the mutual information of rows and columns of a table of counts [bit]."""
    columns = Counter[int]()
    for row in table:
        for j, count in enumerate(row):
            columns[j] += count
    total = sum(columns.values())
    return bits(columns.values()) - sum(sum(row) * bits(row) for row in table) / total
