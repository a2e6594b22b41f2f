"""How far an observed voltage or current can move when every value of the network may lie anywhere in its range.

With segments and relays fixed each value of the network changes an observed quantity in one direction only (it is a
quotient of two expressions linear in that value), so the extremes lie at vertices. The adjoint gives the directions,
two solves give the extremes. Where a direction is another one at the vertex, because a segment or a relay changed or
several values act together, the vertex is sought again from there. Seeded samples audit the result: one that lies
outside widens the band, is reported, and the extreme is sought again from it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.network.adjoint import Observed, Point, Sensitivity, observe, sensitivity, values
from loomwright.network.branches import BoolArray, Branches, FloatArray
from loomwright.network.lanes import CHUNK
from loomwright.network.latches import Outcome
from loomwright.network.solution import Solution
from loomwright.network.solver import solve
from loomwright.network.stamping import LEAK_S

__all__ = ["Bounds", "bounds"]

_NO_EFFECT = 1e-9
"""A value whose whole range moves the observed quantity by less than this keeps its side [V or A]."""

_ESCAPE = 1e-9
"""A sample must lie at least this far outside to count as an escape; the solver is good to 1e-10 [V or A]."""

_Index = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Spread:
    """The ranges of all values, shape (B,): factors on the scale, and what is added to the EMF [V]."""

    scale_lo: FloatArray
    scale_hi: FloatArray
    emf_lo: FloatArray
    emf_hi: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bounds:
    """The band of each observed point.

    Parameters
    ----------
    nominal
        Value with nothing moved, shape (P,) [V or A].
    lo, hi
        The band, shape (P,) [V or A].
    escaped
        How far a sample lay outside the band of the vertices, 0 where none did, shape (P,) [V or A].
    flips
        Points whose circuit has a relay that stands or ends otherwise somewhere in the ranges than at the nominal
        values, shape (P,).
    """

    nominal: FloatArray
    lo: FloatArray
    hi: FloatArray
    escaped: FloatArray
    flips: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Case:
    branches: Branches
    scale: FloatArray
    emf: FloatArray
    latched: BoolArray
    spread: _Spread
    leak: float
    rounds: int

    def nominal(self, lane: _Index) -> Solution:
        none = np.zeros((self.branches.count, 1))
        return self.solve(lane, none + 1.0, none)

    def solve(self, lane: _Index, factor: FloatArray, shift: FloatArray) -> Solution:
        return solve(
            self.branches,
            self.scale[:, lane] * factor,
            self.emf[:, lane] + shift,
            latched=self.latched[:, lane],
            leak=self.leak,
        )


def bounds(
    branches: Branches,
    scale: FloatArray,
    emf: FloatArray,
    *,
    spread_lo: FloatArray,
    spread_hi: FloatArray,
    emf_lo: FloatArray,
    emf_hi: FloatArray,
    points: Sequence[Point],
    latched: BoolArray | None = None,
    rounds: int = 3,
    audit: int = 16,
    seed: int = 1,
    leak: float = LEAK_S,
) -> Bounds:
    """Find the band of each observed point.

    Parameters
    ----------
    branches
        The network.
    scale, emf
        Nominal values, shape (B, L) or (B, 1) [V].
    spread_lo, spread_hi
        Factors on each branch's scale, above 0 and at most 1, and at least 1, shape (B,).
    emf_lo, emf_hi
        Added to each branch's EMF, at most and at least 0, shape (B,) [V].
    points
        What is observed; points of one lane share its nominal solution and its samples.
    latched
        Relays pulled in at the beginning, as for `solve`.
    rounds
        How often a vertex may be sought again from the last one.
    audit
        Samples in each lane: half of them anywhere in the ranges, half at corners.
    seed
        Of the samples; a lane's samples depend on it and on the lane's number only.
    leak
        Conductance from every node to the reference [S].

    Raises
    ------
    ValueError
        Where a range does not include the nominal value, a scale could fall to zero, or a point does not exist.
    """
    lanes = max(scale.shape[1], emf.shape[1], 1 if latched is None else latched.shape[1])
    spread = _Spread(scale_lo=spread_lo, scale_hi=spread_hi, emf_lo=emf_lo, emf_hi=emf_hi)
    _check_spread(branches, spread)
    begin = np.zeros((len(branches.latches), 1), dtype=np.bool_) if latched is None else latched
    case = _Case(
        branches=branches,
        scale=np.broadcast_to(scale, (branches.count, lanes)),
        emf=np.broadcast_to(emf, (branches.count, lanes)),
        latched=np.broadcast_to(begin, (len(branches.latches), lanes)),
        spread=spread,
        leak=leak,
        rounds=rounds,
    )
    observed = observe(branches, points, lanes)
    count = len(points)
    found = Bounds(
        nominal=np.zeros(count),
        lo=np.zeros(count),
        hi=np.zeros(count),
        escaped=np.zeros(count),
        flips=np.zeros(count, dtype=np.bool_),
    )
    for first in range(0, count, CHUNK // 2):
        chosen = np.arange(first, min(first + CHUNK // 2, count))
        _band(case, observed.part(chosen), found, chosen)
    if audit and count:
        _audit(case, observed, found, samples=audit, seed=seed)
    return found


def _check_spread(branches: Branches, spread: _Spread) -> None:
    rules = (
        ("spread_lo", spread.scale_lo, (spread.scale_lo > 0.0) & (spread.scale_lo <= 1.0), "above 0 and at most 1"),
        ("spread_hi", spread.scale_hi, (spread.scale_hi >= 1.0) & np.isfinite(spread.scale_hi), "at least 1"),
        ("emf_lo", spread.emf_lo, (spread.emf_lo <= 0.0) & np.isfinite(spread.emf_lo), "at most 0"),
        ("emf_hi", spread.emf_hi, (spread.emf_hi >= 0.0) & np.isfinite(spread.emf_hi), "at least 0"),
    )
    for name, given, right, expected in rules:
        if given.shape != (branches.count,):
            msg = f"{name}: found shape {given.shape}, expected ({branches.count},)"
            raise ValueError(msg)
        if not right.all():
            branch = int(np.flatnonzero(~right)[0])
            msg = f"{name}: branch {branch}: found {float(given[branch])}, expected {expected}"
            raise ValueError(msg)


def _band(case: _Case, points: Observed, found: Bounds, place: _Index) -> None:
    """Find the band of some points from vertices and write it to their places."""
    lanes, column = np.unique(points.lane, return_inverse=True)
    base = case.nominal(lanes)
    here = points.at(column)
    nominal = values(base, here)
    slope = sensitivity(case.branches, base, case.scale[:, lanes], here, leak=case.leak)
    # Both sides of every point together: the upper ones first.
    count = len(nominal)
    twice = np.tile(np.arange(count), 2)
    both = Sensitivity(scale=slope.scale[:, twice], emf=slope.emf[:, twice])
    extreme, flips = _climb(
        case, points.part(twice), both, sign=np.repeat([1.0, -1.0], count), base=base, column=column[twice]
    )
    found.nominal[place] = nominal
    found.hi[place] = np.maximum(extreme[:count], nominal)
    found.lo[place] = np.minimum(extreme[count:], nominal)
    found.flips[place] = flips[:count] | flips[count:]


def _climb(
    case: _Case, points: Observed, slope: Sensitivity, *, sign: FloatArray, base: Solution, column: _Index
) -> tuple[FloatArray, BoolArray]:
    """Seek the largest (`sign` 1) or smallest (-1) value of each point, beginning in the direction of `slope`.

    Returns the extreme, and where a relay is not as in the point's column of `base`.
    """
    side = np.sign(slope.scale) * sign
    push = np.sign(slope.emf) * sign
    extreme = np.where(sign > 0.0, -np.inf, np.inf)
    flips = np.zeros(len(sign), dtype=np.bool_)
    left = np.arange(len(sign))
    for _ in range(1 + case.rounds):
        factor, shift = _vertex(case.spread, side[:, left], push[:, left])
        vertex = case.solve(points.lane[left], factor, shift)
        each = np.arange(len(left))
        at = points.part(left).at(each)
        value = values(vertex, at)
        extreme[left] = np.where(sign[left] > 0.0, np.maximum(extreme[left], value), np.minimum(extreme[left], value))
        flips[left] |= _differs(vertex, each, base, column[left])
        there = sensitivity(case.branches, vertex, case.scale[:, points.lane[left]] * factor, at, leak=case.leak)
        left = left[_turn(case.spread, there, sign[left], left=left, side=side, push=push)]
        if not left.size:
            break
    return extreme, flips


def _vertex(spread: _Spread, side: FloatArray, push: FloatArray) -> tuple[FloatArray, FloatArray]:
    factor = np.where(side > 0.0, spread.scale_hi[:, None], np.where(side < 0.0, spread.scale_lo[:, None], 1.0))
    shift = np.where(push > 0.0, spread.emf_hi[:, None], np.where(push < 0.0, spread.emf_lo[:, None], 0.0))
    return factor, shift


def _turn(
    spread: _Spread, slope: Sensitivity, sign: FloatArray, *, left: _Index, side: FloatArray, push: FloatArray
) -> BoolArray:
    """Turn the values that pull the other way at the vertex; returns for which points there are any."""
    changed = np.zeros(len(left), dtype=np.bool_)
    for now, derivative, reach in (
        (side, slope.scale, spread.scale_hi - spread.scale_lo),
        (push, slope.emf, spread.emf_hi - spread.emf_lo),
    ):
        wish = np.sign(derivative) * sign
        matters = np.abs(derivative) * reach[:, None] > _NO_EFFECT
        turned = matters & (wish != now[:, left])
        now[:, left] = np.where(turned, wish, now[:, left])
        changed |= turned.any(axis=0)
    return changed


def _differs(one: Solution, lane: _Index, other: Solution, column: _Index) -> BoolArray:
    relays = (one.latched[:, lane] != other.latched[:, column]).any(axis=0)
    ends = (one.outcome[lane] != Outcome.SETTLED) != (other.outcome[column] != Outcome.SETTLED)
    return np.asarray(relays | ends)


def _audit(case: _Case, points: Observed, found: Bounds, *, samples: int, seed: int) -> None:
    """Widen the bands by samples drawn in every lane that is observed."""
    lanes, column = np.unique(points.lane, return_inverse=True)
    width = max(1, CHUNK // samples)
    for first in range(0, len(lanes), width):
        some = lanes[first : first + width]
        concerned = np.flatnonzero((column >= first) & (column < first + len(some)))
        mine = column[concerned] - first
        base = case.nominal(some)
        draws = [_draws(case.spread, samples, seed, int(lane)) for lane in some]
        factor = np.concatenate([factor for factor, _ in draws], axis=1)
        shift = np.concatenate([shift for _, shift in draws], axis=1)
        sampled = case.solve(np.repeat(some, samples), factor, shift)
        owner = np.repeat(np.arange(len(some)), samples)
        moved = np.asarray(_differs(sampled, np.arange(len(owner)), base, owner)).reshape(len(some), samples)
        found.flips[concerned] |= np.asarray(moved.any(axis=1))[mine]
        shown = np.array(
            [values(sampled, points.part(concerned).at(mine * samples + number)) for number in range(samples)]
        )
        for sign in (1.0, -1.0):
            best = np.argmax(sign * shown, axis=0)
            value = shown[best, np.arange(len(concerned))]
            edge = found.hi if sign > 0.0 else found.lo
            beyond = sign * (value - edge[concerned])
            out = np.flatnonzero(beyond > _ESCAPE)
            if not out.size:
                continue
            place = concerned[out]
            found.escaped[place] = np.maximum(found.escaped[place], beyond[out])
            at = points.part(place).at(mine[out] * samples + best[out])
            scale = case.scale[:, np.repeat(some, samples)] * factor
            slope = sensitivity(case.branches, sampled, scale, at, leak=case.leak)
            climbed, flips = _climb(
                case, points.part(place), slope, sign=np.full(len(out), sign), base=base, column=mine[out]
            )
            edge[place] = sign * np.maximum(sign * value[out], sign * climbed)
            found.flips[place] |= flips


def _draws(spread: _Spread, samples: int, seed: int, lane: int) -> tuple[FloatArray, FloatArray]:
    rng = np.random.default_rng([seed, lane])
    share = rng.random((len(spread.scale_lo), samples))
    other = rng.random((len(spread.scale_lo), samples))
    corner = np.arange(samples) % 2 == 1
    share, other = (np.where(corner, np.round(part), part) for part in (share, other))
    factor = spread.scale_lo[:, None] + share * (spread.scale_hi - spread.scale_lo)[:, None]
    shift = spread.emf_lo[:, None] + other * (spread.emf_hi - spread.emf_lo)[:, None]
    return factor, shift
