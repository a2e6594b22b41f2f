"""Operating points of a piecewise-linear network with relays, many lanes at once.

Each round solves one linear network for every lane that is not done. A lane whose segments do not fit goes on in its
search; one whose segments fit lets its relays move; one in which neither happens is done and leaves the batch.
"""

from dataclasses import dataclass
from typing import TypeVar, cast

import numpy as np
import numpy.typing as npt

from loomwright.errors import SolveError
from loomwright.network.branches import OPEN_RATIO, BoolArray, Branches, FloatArray, IntArray
from loomwright.network.lanes import CHUNK, eliminate
from loomwright.network.latches import Relays
from loomwright.network.segments import Search, descend, locate
from loomwright.network.stamping import LEAK_S, Layout, add_rows, lay_out, new_rows

__all__ = ["Solution", "contact_scale", "slopes", "solve"]

_Array = TypeVar("_Array", FloatArray, BoolArray)

_ROUNDS = 5_000
"""Linear solves of one lane before the search is given up; far beyond what relays and segments can need."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solution:
    """The operating point of each lane.

    Parameters
    ----------
    voltage
        Node voltages against the reference, shape (N, L) [V].
    current
        Branch currents from ``a`` to ``b``, shape (B, L) [A].
    segment
        Segment of each branch, shape (B, L).
    latched
        Relays that are pulled in, shape (R, L).
    outcome
        An `Outcome` (see `latches`) for each lane, shape (L,). A lane that chatters shows the last state of its cycle.
    restless
        Relays that take part in a cycle (chattering) or in a race, shape (R, L).
    kcl_a
        Largest current that is unaccounted for at a node, as a share of the sum of all branch currents, shape (L,).
    """

    voltage: FloatArray
    current: FloatArray
    segment: IntArray
    latched: BoolArray
    outcome: npt.NDArray[np.int8]
    restless: BoolArray
    kcl_a: FloatArray


def solve(
    branches: Branches,
    scale: FloatArray,
    emf: FloatArray,
    *,
    latched: BoolArray | None = None,
    leak: float = LEAK_S,
    hold: BoolArray | None = None,
) -> Solution:
    """Find the operating point of every lane.

    Parameters
    ----------
    branches
        The network.
    scale
        Scale of each branch with its contacts closed, above zero, shape (B, L) or (B, 1).
    emf
        EMF of each branch, shape (B, L) or (B, 1) [V].
    latched
        Relays pulled in at the beginning, shape (R, L) or (R, 1); none where left out. The history of a circuit is in
        here: some circuits hold a state that they would not reach by themselves.
    leak
        Conductance from every node to the reference [S].
    hold
        Relays that stay as `latched` says, shape (R, L) or (R, 1); none where left out.

    Returns
    -------
    solution
        One lane for each column.

    Raises
    ------
    ValueError
        Where shapes do not fit or a scale is not above zero.
    SolveError
        Where a lane does not settle; that would be a fault of this program.
    """
    relays = len(branches.latches)
    start = _flags(latched, relays, "latched")
    held = _flags(hold, relays, "hold")
    lanes = _lanes(branches, scale, emf, start, held)
    if not leak > 0.0:
        msg = f"leak: found {leak}, expected a conductance above zero"
        raise ValueError(msg)
    layout = lay_out(branches)
    parts = []
    for first in range(0, lanes, CHUNK):
        # One lane is solved beside a copy of itself: sums over a single column are taken in another order.
        columns = np.arange(first, min(first + CHUNK, lanes))
        if len(columns) == 1:
            columns = np.repeat(columns, 2)
        parts.append(
            _solve_chunk(
                layout,
                _columns(scale, columns),
                _columns(emf, columns),
                _columns(start, columns),
                hold=_columns(held, columns),
                leak=leak,
            )
        )
    return _joined(parts, lanes)


def contact_scale(branches: Branches, scale: FloatArray, latched: BoolArray) -> FloatArray:
    """Scale of each branch with its contacts where the relays put them, shape (B, L)."""
    lanes = max(scale.shape[1], latched.shape[1])
    found = np.repeat(scale, lanes, axis=1) if scale.shape[1] == 1 else scale.copy()
    layout = lay_out(branches)
    contacts = layout.varying[layout.contact]
    open_ = latched[layout.relay] != layout.makes[:, None]
    found[contacts] *= np.where(open_, OPEN_RATIO, 1.0)
    return found


def slopes(branches: Branches, solution: Solution, scale: FloatArray) -> FloatArray:
    """Conductance of each branch at the operating point, on its segment and with its contacts, shape (B, L) [S]."""
    each = np.arange(branches.count)[:, None]
    return np.asarray(contact_scale(branches, scale, solution.latched) * branches.g[each, solution.segment])


def _flags(given: BoolArray | None, relays: int, name: str) -> BoolArray:
    if given is None:
        return np.zeros((relays, 1), dtype=np.bool_)
    found = np.asarray(given, dtype=np.bool_)
    if found.ndim != 2 or found.shape[0] != relays:
        msg = f"{name}: found shape {found.shape}, expected ({relays}, lanes)"
        raise ValueError(msg)
    return found


def _lanes(branches: Branches, scale: FloatArray, emf: FloatArray, latched: BoolArray, hold: BoolArray) -> int:
    widths = set()
    for name, array in (("scale", scale), ("emf", emf)):
        if array.ndim != 2 or array.shape[0] != branches.count:
            msg = f"{name}: found shape {array.shape}, expected ({branches.count}, lanes)"
            raise ValueError(msg)
        widths.add(array.shape[1])
    widths |= {latched.shape[1], hold.shape[1]}
    widths.discard(1)
    if len(widths) > 1:
        msg = f"scale, emf, latched, hold: found {sorted(widths)} lanes, expected one number of lanes"
        raise ValueError(msg)
    wrong = ~((scale > 0.0) & np.isfinite(scale)).all(axis=1)
    if wrong.any():
        msg = f"branch {int(np.flatnonzero(wrong)[0])}: a scale is not a finite number above zero"
        raise ValueError(msg)
    wrong = ~np.isfinite(emf).all(axis=1)
    if wrong.any():
        msg = f"branch {int(np.flatnonzero(wrong)[0])}: an EMF is not a finite number"
        raise ValueError(msg)
    return widths.pop() if widths else 1


def _columns(array: _Array, columns: npt.NDArray[np.intp]) -> _Array:
    """These lanes of an array whose single column stands for all lanes."""
    chosen = np.zeros_like(columns) if array.shape[1] == 1 else columns
    return cast("_Array", np.ascontiguousarray(array[:, chosen]))


def _solve_chunk(
    layout: Layout, scale: FloatArray, emf: FloatArray, latched: BoolArray, *, hold: BoolArray, leak: float
) -> Solution:
    branches, pattern = layout.branches, layout.pattern
    lanes = scale.shape[1]
    fixed, varying = layout.fixed, layout.varying
    base = new_rows(pattern, lanes, leak)
    add_rows(layout, base, fixed, *_norton(layout, fixed, np.zeros(1, np.int64), scale[fixed], emf[fixed]))

    voltage = np.empty((pattern.nodes + 1, lanes))
    segment = np.repeat(branches.start[:, None], lanes, axis=1)
    ended = Relays(branches.latches, latched, hold)
    relays = Relays(branches.latches, latched, hold)
    search = Search(branches.breaks[varying], branches.start[varying], lanes)
    live = np.arange(lanes)
    live_scale, live_emf = scale, emf
    for _ in range(_ROUNDS):
        factor = _contact_factor(layout, relays.state)
        shut = live_scale[varying] * factor
        conductance, injection = _norton(layout, varying, search.segment, shut, live_emf[varying])
        rows = base[:, live]
        add_rows(layout, rows, varying, conductance, injection)
        point = _eliminate(layout, rows)
        across = point[branches.a[varying]] - point[branches.b[varying]] - live_emf[varying]
        off, want = search.violated(across)
        moved = relays.move(_coil_current(layout, search.segment, live_scale, live_emf, point), ~off)
        for lane in np.flatnonzero(search.advance(off, want)):
            found = _descend(layout, base[:, live[lane]], shut[:, lane], live_emf[varying][:, lane], point[:, lane])
            search.put(int(lane), found)
        search.restart(moved)
        done = ~off & ~moved
        if done.any():
            out = live[done]
            voltage[:, out] = point[:, done]
            segment[np.ix_(varying, out)] = search.segment[:, done]
            ended.take(relays, done, out)
            going = ~done
            live = live[going]
            search.keep(going)
            relays.keep(going)
            live_scale, live_emf = live_scale[:, going], live_emf[:, going]
        if not live.size:
            break
    else:
        text = "the relays and segments of a lane did not settle"
        raise SolveError(text, iterations=_ROUNDS)

    effective = scale.copy()
    effective[varying] *= _contact_factor(layout, ended.state)
    across = voltage[branches.a] - voltage[branches.b] - emf
    each = np.arange(branches.count)[:, None]
    current = effective * (branches.g[each, segment] * across + branches.i0[each, segment])
    return Solution(
        voltage=voltage[:-1],
        current=current,
        segment=segment,
        latched=ended.state,
        outcome=ended.outcome,
        restless=ended.restless,
        kcl_a=_unaccounted(layout, voltage, current, leak),
    )


def _norton(
    layout: Layout, members: npt.NDArray[np.intp], segment: IntArray, scale: FloatArray, emf: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Conductance of each branch on its segment, and its current at equal voltages."""
    slope = layout.branches.g[members[:, None], segment]
    intercept = layout.branches.i0[members[:, None], segment]
    return scale * slope, scale * (intercept - slope * emf)


def _contact_factor(layout: Layout, state: BoolArray) -> FloatArray:
    factor = np.ones((len(layout.varying), state.shape[1]))
    factor[layout.contact] = np.where(state[layout.relay] == layout.makes[:, None], 1.0, OPEN_RATIO)
    return factor


def _eliminate(layout: Layout, rows: FloatArray) -> FloatArray:
    lanes = rows.shape[1]
    if lanes == 1:
        rows = np.repeat(rows, 2, axis=1)
    voltages, _ = eliminate(layout.pattern, rows)
    if not np.isfinite(voltages).all():
        node = int(np.flatnonzero(~np.isfinite(voltages).all(axis=1))[0])
        text = "a node voltage is not a finite number"
        raise SolveError(text, place=f"node {node}")
    return voltages[:, :lanes]


def _coil_current(
    layout: Layout, segment: IntArray, scale: FloatArray, emf: FloatArray, point: FloatArray
) -> FloatArray:
    """Current through each coil; a coil may have several segments but is no contact."""
    branches, coils, where = layout.branches, layout.coils, layout.coil_varying
    on = np.zeros((len(coils), point.shape[1]), dtype=np.int64)
    on[where >= 0] = segment[where[where >= 0]]
    across = point[branches.a[coils]] - point[branches.b[coils]] - emf[coils]
    each = coils[:, None]
    return np.asarray(scale[coils] * (branches.g[each, on] * across + branches.i0[each, on]))


def _descend(layout: Layout, base: FloatArray, scale: FloatArray, emf: FloatArray, begin: FloatArray) -> IntArray:
    """Segments of one lane from the co-content; `base` has everything but the varying branches."""
    branches, varying, pattern = layout.branches, layout.varying, layout.pattern
    a, b = branches.a[varying], branches.b[varying]
    ends = np.array(list(pattern.edges), dtype=np.intp).reshape(-1, 2)
    mesh = base[list(pattern.edges.values())]

    def solved(segment: IntArray) -> FloatArray:
        rows = base[:, None].copy()
        add_rows(layout, rows, varying, *_norton(layout, varying, segment[:, None], scale[:, None], emf[:, None]))
        return _eliminate(layout, rows)[:, 0]

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


def _unaccounted(layout: Layout, voltage: FloatArray, current: FloatArray, leak: float) -> FloatArray:
    branches = layout.branches
    rest = leak * voltage
    for branch, row in enumerate(current):
        rest[branches.a[branch]] += row
        rest[branches.b[branch]] -= row
    total = np.zeros(current.shape[1])
    for row in current:
        total += np.abs(row)
    return np.asarray(np.abs(rest[:-1]).max(axis=0) / np.maximum(total, LEAK_S))


def _joined(parts: list[Solution], lanes: int) -> Solution:
    return Solution(
        voltage=np.concatenate([part.voltage for part in parts], axis=1)[:, :lanes],
        current=np.concatenate([part.current for part in parts], axis=1)[:, :lanes],
        segment=np.concatenate([part.segment for part in parts], axis=1)[:, :lanes],
        latched=np.concatenate([part.latched for part in parts], axis=1)[:, :lanes],
        outcome=np.concatenate([part.outcome for part in parts])[:lanes],
        restless=np.concatenate([part.restless for part in parts], axis=1)[:, :lanes],
        kcl_a=np.concatenate([part.kcl_a for part in parts])[:lanes],
    )
