"""The search for the segment of every branch, in many lanes at once.

Each lane starts with every branch on the segment that holds 0 V and jumps: every violated branch goes straight to the
segment its voltage asks for. A lane that comes back to a state it has been in goes on in single steps. If it comes back
again its co-content is minimised (`descend`), which always ends: rising characteristics make it convex and the solution
unique.

References
----------
J. Katzenelson, "An algorithm for solving nonlinear resistor networks", Bell System Technical Journal 44 (1965).
W. Millar, "Some general theorems for non-linear systems possessing resistance", Philosophical Magazine 42 (1951):
content and co-content.
"""

from collections.abc import Callable
from enum import IntEnum

import numpy as np
import numpy.typing as npt

from loomwright.errors import SolveError
from loomwright.network.branches import BoolArray, FloatArray, IntArray

__all__ = ["SLACK_V", "Search", "descend", "locate"]

SLACK_V = 1e-10
"""A voltage this little beyond the end of its segment still belongs to it; the currents obey the segment [V]."""

_Segments = npt.NDArray[np.int8]
_DESCENTS = 500
"""Descents of one lane before the solve counts as failed; each one but the last lowers a convex function."""


class _Way(IntEnum):
    JUMP = 0
    STEP = 1
    DESCEND = 2


def locate(breaks: FloatArray, voltage: FloatArray) -> _Segments:
    """Segment that holds each voltage.

    Parameters
    ----------
    breaks
        Shape (M, S - 1), padded with infinity [V].
    voltage
        Shape (M, lanes) [V].
    """
    found = np.zeros(voltage.shape, dtype=np.int8)
    for column in range(breaks.shape[1]):
        found += voltage > breaks[:, column, None]
    return found


class Search:
    """The state of a search: one column for each lane that is being looked at.

    Parameters
    ----------
    breaks
        Break voltages of the branches concerned, shape (M, S - 1) [V].
    start
        Segment each search begins with, shape (M,).
    lanes
        Number of lanes.
    """

    def __init__(self, breaks: FloatArray, start: IntArray, lanes: int) -> None:
        self._breaks = breaks
        self._start = start.astype(np.int8)
        self.segment: _Segments = np.repeat(self._start[:, None], lanes, axis=1)
        self._way = np.zeros(lanes, dtype=np.int8)
        # A state is remembered as a weighted sum, small enough to be exact in whatever order it is taken (up to 4,096
        # branches of 128 segments). Two states with one sum would only cost rounds.
        self._weights = np.random.default_rng(20_650).integers(1, 2**34, size=len(start)).astype(np.float64)
        self._seen: list[FloatArray] = []
        self._round = 0
        self._since = np.zeros(lanes, dtype=np.int64)
        self._note(np.ones(lanes, dtype=np.bool_))

    def keep(self, lanes: npt.NDArray[np.intp]) -> None:
        """Forget the other lanes."""
        self.segment = self.segment.take(lanes, axis=1)
        self._way = self._way[lanes]
        self._since = self._since[lanes]
        self._seen = [seen[lanes] for seen in self._seen]

    def extend(self, lanes: int) -> None:
        """Begin the search in so many more lanes."""
        before = len(self._way)
        self.segment = np.concatenate([self.segment, np.repeat(self._start[:, None], lanes, axis=1)], axis=1)
        self._way = np.append(self._way, np.zeros(lanes, dtype=np.int8))
        self._since = np.append(self._since, np.zeros(lanes, dtype=np.int64))
        self._seen = [np.append(seen, np.full(lanes, -1.0)) for seen in self._seen]
        self.restart(np.arange(before + lanes) >= before)

    def restart(self, lanes: BoolArray) -> None:
        """Begin again in these lanes, from where they are: a relay has changed the network."""
        if not lanes.any():
            return
        self._way[lanes] = _Way.JUMP
        self._since[lanes] = self._round
        self._note(lanes)

    def violated(self, voltage: FloatArray) -> tuple[BoolArray, _Segments]:
        """Lanes in which some branch is off its segment, and the segments that the voltages ask for.

        Parameters
        ----------
        voltage
            Voltage over each branch less its EMF, shape (M, lanes) [V].
        """
        want = locate(self._breaks, voltage)
        branch, lane = np.nonzero(want != self.segment)
        here, there, value = self.segment[branch, lane], want[branch, lane], voltage[branch, lane]
        end = self._breaks[branch, np.where(there > here, here, here - 1)]
        within = np.abs(value - end) <= SLACK_V
        want[branch[within], lane[within]] = here[within]
        off = np.zeros(voltage.shape[1], dtype=np.bool_)
        off[lane[~within]] = True
        return off, want

    def advance(self, off: BoolArray, want: _Segments) -> BoolArray:
        """Move the violated lanes on; returns the lanes for which only a descent is left."""
        if not off.any():
            return off
        move = want - self.segment
        way = np.where(off, self._way, -1)
        stepping = way == _Way.STEP
        if stepping.any():
            move[:, stepping] = np.sign(move[:, stepping])
        move[:, ~off] = 0
        self.segment += move
        again = self._note(off)
        self._way[again] += 1
        self._since[again] = self._round - 1
        return np.asarray(off & (self._way >= _Way.DESCEND))

    def put(self, lane: int, segment: _Segments) -> None:
        """Set the segments of one lane, as a descent found them."""
        self.segment[:, lane] = segment

    def _note(self, lanes: BoolArray) -> BoolArray:
        """Remember the state of these lanes; returns those that have been in it since they began this way."""
        mark = self._weights @ self.segment.astype(np.float64)
        again = np.zeros(len(lanes), dtype=np.bool_)
        first = self._round - len(self._seen)
        needed = int(self._since.min(initial=self._round)) - first
        if needed > 0:
            del self._seen[:needed]
            first += needed
        for number, seen in enumerate(self._seen, first):
            again |= (seen == mark) & (self._since <= number)
        again &= lanes
        # A lane that did not move keeps a mark that no state has.
        self._seen.append(np.where(lanes, mark, -1.0))
        self._round += 1
        return again


def descend(
    solve: Callable[[_Segments], FloatArray],
    slope: Callable[[FloatArray, FloatArray], float],
    across: Callable[[FloatArray], FloatArray],
    breaks: FloatArray,
    begin: FloatArray,
) -> _Segments:
    """Find the segments of one lane by minimising its co-content.

    Newton's direction is the solution on the segments of the present point. Along it the co-content is convex and its
    derivative piecewise linear and rising, so halving the interval finds the minimum to the last bit.

    Parameters
    ----------
    solve
        Node voltages for given segments [V].
    slope
        Derivative of the co-content at the first argument along the second [W].
    across
        Voltage over each branch less its EMF, from node voltages [V].
    breaks
        Shape (M, S - 1) [V].
    begin
        Node voltages to begin with [V].

    Returns
    -------
    segment
        Shape (M,).

    Raises
    ------
    SolveError
        Where no segments are found; that would be a fault of this program.
    """
    point = begin
    worst = np.inf
    node = 0
    for _ in range(_DESCENTS):
        segment = locate(breaks, across(point)[:, None])[:, 0]
        target = solve(segment)
        voltage = across(target)
        padded = np.concatenate([np.full((len(breaks), 1), -np.inf), breaks, np.full((len(breaks), 1), np.inf)], axis=1)
        each = np.arange(len(breaks))
        below, above = padded[each, segment], padded[each, segment + 1]
        if ((voltage >= below - SLACK_V) & (voltage <= above + SLACK_V)).all():
            return segment
        way = target - point
        node, worst = int(np.argmax(np.abs(way))), float(np.abs(way).max())
        low, high = 0.0, 1.0
        if slope(target, way) > 0.0:
            for _ in range(60):
                middle = 0.5 * (low + high)
                if slope(point + middle * way, way) > 0.0:
                    high = middle
                else:
                    low = middle
        point = point + high * way
    text = "the segments of the branches did not settle, voltage still moving"
    raise SolveError(text, place=f"node {node}", iterations=_DESCENTS, residual=worst)
