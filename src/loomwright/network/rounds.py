"""The rounds of a solve: one linear network for every lane that is not done, then segments and relays move.

A lane whose segments do not fit goes on in its search; one whose segments fit lets its relays move; one in which
neither happens is done and leaves, and as lanes leave others come in, so that the batch stays wide until the last ones.
Nodes that no varying branch touches are eliminated once when a lane comes in and found when its block is done.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.errors import SolveError
from loomwright.network.branches import OPEN_RATIO, BoolArray, FloatArray
from loomwright.network.lanes import CHUNK, recover, reduce_rows
from loomwright.network.latches import Relays
from loomwright.network.segments import Search, descend, locate
from loomwright.network.solution import Solution
from loomwright.network.stamping import Layout, add_conductances, add_injections, new_rows

__all__ = ["run"]

_ROUNDS = 5_000
"""Rounds of one lane before it is given up; far beyond what relays and segments can need."""

_BLOCK = CHUNK
"""Lanes that come in together."""

_WIDTH = 2 * CHUNK
"""Most lanes in work; the rounds touch late rows only, so more of them stay in the cache."""

_IDLE = 8
"""Finished lanes are cleared away when they are more than one in this many; each clearing copies the batch."""

_FEW = 16
"""So few lanes pay more for each call than for their numbers."""

_Index = npt.NDArray[np.intp]
_Segments = npt.NDArray[np.int8]


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
    """The lanes in work. They come in blocks and leave one by one; when a whole block has left, it is finished."""

    def __init__(self, given: _Given) -> None:
        layout, branches = given.layout, given.layout.branches
        self.given = given
        self.lane: _Index = np.empty(0, dtype=np.intp)
        self.age = np.empty(0, dtype=np.int64)
        self.idle = np.empty(0, dtype=np.bool_)
        self.base = np.empty((layout.pattern.rows - layout.pattern.late.first_row, 0))
        self.scale, self.emf = np.empty((2, len(layout.varying), 0))
        self.coil_scale, self.coil_emf = np.empty((2, len(layout.coils), 0))
        none = np.empty((len(branches.latches), 0), dtype=np.bool_)
        self.relays = Relays(branches.latches, none, none)
        self.search = Search(branches.breaks[layout.varying], branches.start[layout.varying], 0)
        self._shares: dict[int, FloatArray] = {}
        self._missing: dict[int, int] = {}

    def admit(self, first: int, last: int) -> None:
        """Take a block of lanes in."""
        given, layout = self.given, self.given.layout
        lanes = np.arange(first, last)
        scale, emf = _columns(given.scale, lanes), _columns(given.emf, lanes)
        rows = _fixed_rows(layout, scale, emf, given.leak)
        reduce_rows(layout.pattern.early, rows)
        begins = layout.pattern.late.first_row
        self._shares[first // _BLOCK] = rows[:begins]
        self._missing[first // _BLOCK] = len(lanes)
        for name, more in (
            ("base", rows[begins:]),
            ("scale", scale[layout.varying]),
            ("emf", emf[layout.varying]),
            ("coil_scale", scale[layout.coils]),
            ("coil_emf", emf[layout.coils]),
        ):
            setattr(self, name, np.concatenate([getattr(self, name), more], axis=1))
        self.relays.extend(given.latched[:, first:last], given.hold[:, first:last])
        self.search.extend(len(lanes))
        self.lane = np.append(self.lane, lanes)
        self.age = np.append(self.age, np.zeros(len(lanes), dtype=np.int64))
        self.idle = np.append(self.idle, np.zeros(len(lanes), dtype=np.bool_))

    def clear(self) -> None:
        """Let finished lanes go."""
        kept = np.flatnonzero(~self.idle)
        for name in ("base", "scale", "emf", "coil_scale", "coil_emf"):
            setattr(self, name, getattr(self, name).take(kept, axis=1))
        self.relays.keep(kept)
        self.search.keep(kept)
        self.lane, self.age, self.idle = self.lane[kept], self.age[kept], self.idle[kept]

    def round(self) -> None:
        """Solve every lane's late nodes once and move on; lanes that come to rest are recorded and become idle."""
        layout = self.given.layout
        shut = self.scale * _contact_factor(layout, self.relays.state)
        rows = self.base.copy()
        _stamp(layout, rows, self.search.segment, shut, self.emf)
        point = _solved(layout, rows)
        across = point[layout.varying_ends[0]] - point[layout.varying_ends[1]] - self.emf
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
        layout, where = self.given.layout, self.given.layout.coil_varying
        on = np.zeros((len(layout.coils), point.shape[1]), dtype=np.int64)
        on[where >= 0] = self.search.segment[where[where >= 0]]
        across = point[layout.coil_ends[0]] - point[layout.coil_ends[1]] - self.coil_emf
        slope, intercept = _pieces(layout, layout.coils, on)
        return np.asarray(self.coil_scale * (slope * across + intercept))

    def _record(self, slots: _Index, point: FloatArray) -> None:
        layout, solution, lanes = self.given.layout, self.given.solution, self.lane[slots]
        solution.voltage[layout.late_nodes[:, None], lanes] = point[:-1].take(slots, axis=1)
        solution.segment[layout.varying[:, None], lanes] = self.search.segment.take(slots, axis=1)
        solution.latched[:, lanes] = self.relays.state[:, slots]
        solution.restless[:, lanes] = self.relays.restless[:, slots]
        solution.outcome[lanes] = self.relays.outcome[slots]
        for block, count in zip(*np.unique(lanes // _BLOCK, return_counts=True), strict=True):
            self._missing[block] -= count
            if not self._missing[block]:
                self._finish(int(block))

    def _finish(self, block: int) -> None:
        """Find the early nodes of a block whose lanes have all come to rest, and with them every current."""
        given, pattern = self.given, self.given.layout.pattern
        lanes = slice(block * _BLOCK, min((block + 1) * _BLOCK, given.solution.voltage.shape[1]))
        found = given.solution.voltage[:, lanes].take(np.argsort(pattern.position), axis=0)
        recover(pattern.early, self._shares.pop(block), found)
        del self._missing[block]
        given.solution.voltage[:, lanes] = found.take(pattern.position, axis=0)
        _find_currents(given, lanes)


def run(
    layout: Layout, scale: FloatArray, emf: FloatArray, latched: BoolArray, *, hold: BoolArray, leak: float
) -> Solution:
    """Find the operating point of every lane; the arrays are those of `solver.solve`, the flags with all lanes."""
    branches = layout.branches
    lanes = latched.shape[1]
    solution = Solution(
        voltage=np.empty((branches.nodes, lanes)),
        current=np.empty((branches.count, lanes)),
        segment=np.repeat(branches.start[:, None].astype(np.int8), lanes, axis=1),
        latched=np.empty(latched.shape, dtype=np.bool_),
        outcome=np.empty(lanes, dtype=np.int8),
        restless=np.empty(latched.shape, dtype=np.bool_),
        kcl_a=np.empty(lanes),
    )
    given = _Given(layout=layout, scale=scale, emf=emf, latched=latched, hold=hold, leak=leak, solution=solution)
    batch = _Batch(given)
    waiting = 0
    while waiting < lanes or batch.lane.size:
        while waiting < lanes and batch.lane.size + _BLOCK <= _WIDTH:
            batch.admit(waiting, min(waiting + _BLOCK, lanes))
            waiting += _BLOCK
        batch.round()
        if batch.idle.sum() * _IDLE > batch.lane.size:
            batch.clear()
    return solution


def _fixed_rows(layout: Layout, scale: FloatArray, emf: FloatArray, leak: float) -> FloatArray:
    """Rows with every branch that stays as it is."""
    branches, fixed = layout.branches, layout.fixed
    slope, intercept = branches.g[fixed, :1], branches.i0[fixed, :1]
    rows = new_rows(layout.pattern, scale.shape[1], leak)
    add_conductances(layout, rows, fixed, scale[fixed] * slope)
    live = np.flatnonzero(emf[fixed].any(axis=1) | (intercept[:, 0] != 0.0))
    injection = scale[fixed[live]] * (intercept[live] - slope[live] * emf[fixed[live]])
    add_injections(layout, rows, fixed[live], injection)
    return rows


def _columns(array: FloatArray, lanes: _Index) -> FloatArray:
    """Some lanes of an array whose single column may stand for all lanes."""
    return np.repeat(array, len(lanes), axis=1) if array.shape[1] == 1 else array.take(lanes, axis=1)


def _pieces(layout: Layout, members: _Index, segment: npt.NDArray[np.integer]) -> tuple[FloatArray, FloatArray]:
    """Slope and intercept of some branches on their segments."""
    place = segment + (members * layout.branches.g.shape[1])[:, None]
    return layout.branches.g.ravel().take(place), layout.branches.i0.ravel().take(place)


def _stamp(layout: Layout, rows: FloatArray, segment: _Segments, scale: FloatArray, emf: FloatArray) -> None:
    """Add the varying branches to the late rows."""
    begins = layout.pattern.late.first_row
    slope, intercept = _pieces(layout, layout.varying, segment)
    add_conductances(layout, rows, layout.varying, scale * slope, first=begins)
    add_injections(layout, rows, layout.varying, scale * (intercept - slope * emf), first=begins)


def _contact_factor(layout: Layout, state: BoolArray) -> FloatArray:
    factor = np.ones((len(layout.varying), state.shape[1]))
    factor[layout.contact] = np.where(state[layout.relay] == layout.makes[:, None], 1.0, OPEN_RATIO)
    return factor


def _solved(layout: Layout, rows: FloatArray) -> FloatArray:
    """Voltages of the late nodes by their places, and a last row of zeros for the reference; uses the rows up."""
    late = layout.pattern.late
    point = np.zeros((layout.pattern.nodes - late.first_node + 1, rows.shape[1]))
    reduce_rows(late, rows)
    recover(late, rows, point[:-1])
    if not np.isfinite(point).all():
        place = int(np.flatnonzero(~np.isfinite(point).all(axis=1))[0])
        text = "a node voltage is not a finite number"
        raise SolveError(text, place=f"node {layout.late_nodes[place]}")
    return point


def _descend(layout: Layout, base: FloatArray, scale: FloatArray, emf: FloatArray, begin: FloatArray) -> _Segments:
    """Segments of one lane from the co-content; `base` has everything but the varying branches."""
    branches, varying = layout.branches, layout.varying
    a, b = layout.varying_ends
    mesh = base[layout.mesh_rows]
    one, other = layout.mesh_ends
    begins = layout.pattern.late.first_row
    to_reference = base[layout.pattern.to_reference[layout.late_nodes] - begins]
    injected = base[layout.pattern.injection[layout.late_nodes] - begins]

    def solved(segment: _Segments) -> FloatArray:
        rows = base[:, None].copy()
        _stamp(layout, rows, segment[:, None], scale[:, None], emf[:, None])
        return _solved(layout, rows)[:, 0]

    def across(point: FloatArray) -> FloatArray:
        return np.asarray(point[a] - point[b] - emf)

    def slope(point: FloatArray, way: FloatArray) -> float:
        over = across(point)
        on = locate(branches.breaks[varying], over[:, None])[:, 0]
        current = scale * (branches.g[varying, on] * over + branches.i0[varying, on])
        total = float(current @ (way[a] - way[b]))
        total += float((mesh * (point[one] - point[other])) @ (way[one] - way[other]))
        return total + float((to_reference * point[:-1] - injected) @ way[:-1])

    return descend(solved, slope, across, branches.breaks[varying], begin)


def _find_currents(given: _Given, lanes: slice) -> None:
    """Branch currents, and what the nodes' sums leave over, from the voltages of some lanes."""
    layout, branches, solution = given.layout, given.layout.branches, given.solution
    voltage = solution.voltage[:, lanes]
    point = np.concatenate([voltage, np.zeros((1, voltage.shape[1]))])
    current = point.take(branches.a, axis=0)
    current -= point.take(branches.b, axis=0)
    current -= given.emf[:, lanes] if given.emf.shape[1] > 1 else given.emf
    slope, intercept = _pieces(layout, np.arange(branches.count), solution.segment[:, lanes])
    current *= slope
    current += intercept
    current *= given.scale[:, lanes] if given.scale.shape[1] > 1 else given.scale
    current[layout.varying] *= _contact_factor(layout, solution.latched[:, lanes])
    solution.current[:, lanes] = current
    rest = given.leak * point
    if current.shape[1] > _FEW:
        total = np.zeros(current.shape[1])
        for a, b, row in zip(branches.a.tolist(), branches.b.tolist(), current, strict=True):
            rest[a] += row
            rest[b] -= row
            total += np.abs(row)
    else:  # the same sums in the same order, with fewer calls
        ends = np.stack([branches.a, branches.b], axis=1).ravel()
        np.add.at(rest, ends, np.stack([current, -current], axis=1).reshape(len(ends), -1))
        total = np.abs(current).cumsum(axis=0)[-1] if branches.count else np.zeros(current.shape[1])
    solution.kcl_a[lanes] = np.abs(rest[:-1]).max(axis=0) / np.maximum(total, given.leak)
