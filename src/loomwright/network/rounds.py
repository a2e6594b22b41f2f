"""The rounds of a solve: one linear network for every lane that is not done, then segments and relays move.

A lane whose segments do not fit goes on in its search; one whose segments fit lets its relays move; one in which
neither happens is done, and another takes its place, so that the batch stays wide until the last lanes.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.errors import SolveError
from loomwright.network.branches import OPEN_RATIO, BoolArray, FloatArray
from loomwright.network.lanes import CHUNK, eliminate
from loomwright.network.latches import Relays
from loomwright.network.segments import Search, descend, locate
from loomwright.network.solution import Solution
from loomwright.network.stamping import Layout, add_conductances, add_injections, new_rows

__all__ = ["run"]

_ROUNDS = 5_000
"""Rounds of one lane before it is given up; far beyond what relays and segments can need."""

_IDLE = 8
"""Finished lanes are cleared away when they are more than one in this many; each clearing copies the batch."""

_Index = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Given:
    """What was asked for, all lanes, and where the answers go."""

    layout: Layout
    scale: FloatArray
    emf: FloatArray
    latched: BoolArray
    hold: BoolArray
    leak: float
    solution: Solution


class _Batch:
    """The lanes in work, one for each slot."""

    def __init__(self, given: _Given, lanes: int) -> None:
        layout, branches = given.layout, given.layout.branches
        self.given = given
        self.lane: _Index = np.arange(lanes)
        self.age = np.zeros(lanes, dtype=np.int64)
        self.idle = np.zeros(lanes, dtype=np.bool_)
        self.base, self.scale, self.emf, self.coil_scale, self.coil_emf = _values(given, self.lane)
        self.relays = Relays(branches.latches, given.latched[:, :lanes], given.hold[:, :lanes])
        self.search = Search(branches.breaks[layout.varying], branches.start[layout.varying], lanes)

    def clear(self, waiting: _Index) -> _Index:
        """Give the slots of finished lanes to waiting ones, or close them; returns those that still wait."""
        free = np.flatnonzero(self.idle)
        placed, taken = free[: len(waiting)], waiting[: len(free)]
        if len(taken):
            given = self.given
            for mine, new in zip(
                (self.base, self.scale, self.emf, self.coil_scale, self.coil_emf), _values(given, taken), strict=True
            ):
                mine[:, placed] = new
            self.relays.replace(placed, given.latched[:, taken], given.hold[:, taken])
            self.search.replace(placed)
            self.lane[placed] = taken
            self.age[placed] = 0
            self.idle[placed] = False
        if len(taken) < len(free):
            kept = np.flatnonzero(~self.idle)
            for name in ("base", "scale", "emf", "coil_scale", "coil_emf"):
                setattr(self, name, getattr(self, name).take(kept, axis=1))
            self.relays.keep(kept)
            self.search.keep(kept)
            self.lane, self.age, self.idle = self.lane[kept], self.age[kept], self.idle[kept]
        return waiting[len(taken) :]

    def round(self) -> None:
        """Solve every slot once and move on; lanes that come to rest are recorded and become idle."""
        layout, branches = self.given.layout, self.given.layout.branches
        varying = layout.varying
        shut = self.scale * _contact_factor(layout, self.relays.state)
        rows = self.base.copy()
        _stamp(layout, rows, self.search.segment, shut, self.emf)
        point = _eliminated(layout, rows)
        across = point[branches.a[varying]] - point[branches.b[varying]] - self.emf
        off, want = self.search.violated(across)
        off &= ~self.idle
        moved = self.relays.move(self._coil_current(point), ~off & ~self.idle)
        done = ~off & ~moved & ~self.idle
        if done.any():
            self._record(np.flatnonzero(done), point)
        for slot in np.flatnonzero(self.search.advance(off, want)):
            self.search.put(
                int(slot), _descend(layout, self.base[:, slot], shut[:, slot], self.emf[:, slot], point[:, slot])
            )
        self.search.restart(moved)
        self.idle |= done
        self.age += 1
        if (self.age[~self.idle] > _ROUNDS).any():
            text = "the relays and segments of a lane did not settle"
            raise SolveError(text, iterations=_ROUNDS)

    def _coil_current(self, point: FloatArray) -> FloatArray:
        """Current through each coil; a coil may have several segments but is no contact."""
        layout, branches = self.given.layout, self.given.layout.branches
        coils, where = layout.coils, layout.coil_varying
        on = np.zeros((len(coils), point.shape[1]), dtype=np.int64)
        on[where >= 0] = self.search.segment[where[where >= 0]]
        across = point[branches.a[coils]] - point[branches.b[coils]] - self.coil_emf
        slope, intercept = _pieces(layout, coils, on)
        return np.asarray(self.coil_scale * (slope * across + intercept))

    def _record(self, slots: _Index, point: FloatArray) -> None:
        solution, lanes = self.given.solution, self.lane[slots]
        solution.voltage[:, lanes] = point[:-1].take(slots, axis=1)
        solution.segment[self.given.layout.varying[:, None], lanes] = self.search.segment.take(slots, axis=1)
        solution.latched[:, lanes] = self.relays.state[:, slots]
        solution.restless[:, lanes] = self.relays.restless[:, slots]
        solution.outcome[lanes] = self.relays.outcome[slots]


def run(
    layout: Layout, scale: FloatArray, emf: FloatArray, latched: BoolArray, *, hold: BoolArray, leak: float
) -> Solution:
    """Find the operating point of every lane; the arrays are those of `solver.solve`, the flags with all lanes."""
    branches = layout.branches
    lanes = latched.shape[1]
    solution = Solution(
        voltage=np.empty((branches.nodes, lanes)),
        current=np.empty((branches.count, lanes)),
        segment=np.repeat(branches.start[:, None], lanes, axis=1),
        latched=np.empty(latched.shape, dtype=np.bool_),
        outcome=np.empty(lanes, dtype=np.int8),
        restless=np.empty(latched.shape, dtype=np.bool_),
        kcl_a=np.empty(lanes),
    )
    given = _Given(layout=layout, scale=scale, emf=emf, latched=latched, hold=hold, leak=leak, solution=solution)
    width = min(lanes, CHUNK)
    batch = _Batch(given, width)
    waiting = np.arange(width, lanes)
    while batch.lane.size:
        batch.round()
        if batch.idle.sum() * _IDLE > batch.lane.size:
            waiting = batch.clear(waiting)
    for first in range(0, lanes, CHUNK):
        _finish(given, slice(first, min(first + CHUNK, lanes)))
    return solution


def _values(given: _Given, lanes: _Index) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Rows of the fixed branches, scale and EMF of the varying ones and of the coils, for some lanes."""
    layout, branches = given.layout, given.layout.branches
    fixed, varying, coils = layout.fixed, layout.varying, layout.coils
    scale, emf = _columns(given.scale, lanes), _columns(given.emf, lanes)
    slope, intercept = branches.g[fixed, :1], branches.i0[fixed, :1]
    rows = new_rows(layout.pattern, len(lanes), given.leak)
    add_conductances(layout, rows, fixed, scale[fixed] * slope)
    live = np.flatnonzero(emf[fixed].any(axis=1) | (intercept[:, 0] != 0.0))
    injection = scale[fixed[live]] * (intercept[live] - slope[live] * emf[fixed[live]])
    add_injections(layout, rows, fixed[live], injection)
    return rows, scale[varying], emf[varying], scale[coils], emf[coils]


def _columns(array: FloatArray, lanes: _Index) -> FloatArray:
    """Some lanes of an array whose single column may stand for all lanes."""
    return np.repeat(array, len(lanes), axis=1) if array.shape[1] == 1 else array.take(lanes, axis=1)


def _pieces(layout: Layout, members: _Index, segment: npt.NDArray[np.integer]) -> tuple[FloatArray, FloatArray]:
    """Slope and intercept of some branches on their segments."""
    place = segment + (members * layout.branches.g.shape[1])[:, None]
    return layout.branches.g.ravel().take(place), layout.branches.i0.ravel().take(place)


def _stamp(
    layout: Layout, rows: FloatArray, segment: npt.NDArray[np.integer], scale: FloatArray, emf: FloatArray
) -> None:
    slope, intercept = _pieces(layout, layout.varying, segment)
    add_conductances(layout, rows, layout.varying, scale * slope)
    add_injections(layout, rows, layout.varying, scale * (intercept - slope * emf))


def _contact_factor(layout: Layout, state: BoolArray) -> FloatArray:
    factor = np.ones((len(layout.varying), state.shape[1]))
    factor[layout.contact] = np.where(state[layout.relay] == layout.makes[:, None], 1.0, OPEN_RATIO)
    return factor


def _eliminated(layout: Layout, rows: FloatArray) -> FloatArray:
    voltages, _ = eliminate(layout.pattern, rows)
    if not np.isfinite(voltages).all():
        node = int(np.flatnonzero(~np.isfinite(voltages).all(axis=1))[0])
        text = "a node voltage is not a finite number"
        raise SolveError(text, place=f"node {node}")
    return voltages


def _descend(
    layout: Layout, base: FloatArray, scale: FloatArray, emf: FloatArray, begin: FloatArray
) -> npt.NDArray[np.int8]:
    """Segments of one lane from the co-content; `base` has everything but the varying branches."""
    branches, varying, pattern = layout.branches, layout.varying, layout.pattern
    a, b = branches.a[varying], branches.b[varying]
    ends = np.array(list(pattern.edges), dtype=np.intp).reshape(-1, 2)
    mesh = base[list(pattern.edges.values())]

    def solved(segment: npt.NDArray[np.int8]) -> FloatArray:
        rows = base[:, None].copy()
        _stamp(layout, rows, segment[:, None], scale[:, None], emf[:, None])
        return _eliminated(layout, rows)[:, 0]

    def across(point: FloatArray) -> FloatArray:
        return point[a] - point[b] - emf

    def slope(point: FloatArray, way: FloatArray) -> float:
        over = across(point)
        on = locate(branches.breaks[varying], over[:, None])[:, 0]
        current = scale * (branches.g[varying, on] * over + branches.i0[varying, on])
        total = float(current @ (way[a] - way[b]))
        total += float((mesh * (point[ends[:, 0]] - point[ends[:, 1]])) @ (way[ends[:, 0]] - way[ends[:, 1]]))
        held = base[pattern.to_reference] * point[:-1] - base[pattern.injection]
        return total + float(held @ way[:-1])

    return descend(solved, slope, across, branches.breaks[varying], begin)


def _finish(given: _Given, lanes: slice) -> None:
    """Branch currents, and what the nodes' sums leave over, from the voltages of some lanes."""
    layout, branches, solution = given.layout, given.layout.branches, given.solution
    voltage = solution.voltage[:, lanes]
    point = np.concatenate([voltage, np.zeros((1, voltage.shape[1]))])
    current = point[branches.a]
    current -= point[branches.b]
    current -= given.emf[:, lanes] if given.emf.shape[1] > 1 else given.emf
    slope, intercept = _pieces(layout, np.arange(branches.count), solution.segment[:, lanes])
    current *= slope
    current += intercept
    current *= given.scale[:, lanes] if given.scale.shape[1] > 1 else given.scale
    current[layout.varying] *= _contact_factor(layout, solution.latched[:, lanes])
    solution.current[:, lanes] = current
    rest = given.leak * point
    total = np.zeros(current.shape[1])
    for a, b, row in zip(branches.a.tolist(), branches.b.tolist(), current, strict=True):
        rest[a] += row
        rest[b] -= row
        total += np.abs(row)
    solution.kcl_a[lanes] = np.abs(rest[:-1]).max(axis=0) / np.maximum(total, given.leak)
