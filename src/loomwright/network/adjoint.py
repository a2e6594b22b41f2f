"""How an observed voltage or current depends on every value of the network: one adjoint solve for each.

With segments and relays fixed the network is linear, ``G v = s``. For an observed ``y = w v`` and the solution ``z`` of
``G z = w`` (``G`` is symmetric), a branch from ``a`` to ``b`` with ``i = k f(u)``, ``u = v_a - v_b - e``, gives::

    dy/dk = -(z_a - z_b) f(u)        dy/de = (z_a - z_b) k f'(u)

Where the observed quantity is the current of a branch, ``w`` is its own slope at ``a`` less that at ``b``, and its own
values act directly as well: ``+ f(u)`` and ``- k f'(u)``.

References
----------
S. W. Director, R. A. Rohrer, "The generalized adjoint network and network sensitivities", IEEE Transactions on Circuit
Theory 16 (1969), 318-323.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import Branches, FloatArray
from loomwright.network.kernel import kernel
from loomwright.network.lanes import CHUNK, eliminate
from loomwright.network.solution import Solution, contact_scale
from loomwright.network.stamping import LEAK_S, Layout, add_conductances, lay_out, new_rows

__all__ = ["Observed", "Point", "Sensitivity", "Through", "observe", "sensitivity", "values"]

_Index = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """The current through a branch in one lane, as an observed point."""

    lane: int
    branch: int


Point = tuple[int, int] | tuple[int, int, int] | Through
"""A lane and a node; a lane and two nodes, for the voltage from the second to the first; or a branch current."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Observed:
    """Points as arrays, each of shape (P,); `branch` is -1 for a voltage."""

    lane: _Index
    plus: _Index
    minus: _Index
    branch: _Index

    def part(self, chosen: _Index) -> "Observed":
        """Some of the points."""
        return Observed(
            lane=self.lane[chosen], plus=self.plus[chosen], minus=self.minus[chosen], branch=self.branch[chosen]
        )

    def at(self, lanes: _Index) -> "Observed":
        """The same points in other lanes."""
        return Observed(lane=lanes, plus=self.plus, minus=self.minus, branch=self.branch)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sensitivity:
    """Derivatives of each observed point.

    Parameters
    ----------
    scale
        By the relative change of each branch's scale, ``k dy/dk``, shape (B, P) [V or A].
    emf
        By each branch's EMF, shape (B, P) [V/V or A/V].
    """

    scale: FloatArray
    emf: FloatArray


def observe(branches: Branches, points: Sequence[Point], lanes: int) -> Observed:
    """Points as arrays; raises `ValueError` for a lane, node or branch that does not exist."""
    table = np.empty((len(points), 4), dtype=np.intp)
    for row, point in enumerate(points):
        if isinstance(point, Through):
            if not 0 <= point.branch < branches.count:
                msg = f"point {row}: branch {point.branch} lies outside 0 .. {branches.count - 1}"
                raise ValueError(msg)
            table[row] = point.lane, branches.a[point.branch], branches.b[point.branch], point.branch
        else:
            plus, minus = point[1], point[2] if len(point) == 3 else -1
            if not (-1 <= plus < branches.nodes and -1 <= minus < branches.nodes):
                msg = f"point {row}: a node lies outside -1 .. {branches.nodes - 1}"
                raise ValueError(msg)
            table[row] = point[0], plus, minus, -1
        if not 0 <= table[row, 0] < lanes:
            msg = f"point {row}: lane {table[row, 0]} lies outside 0 .. {lanes - 1}"
            raise ValueError(msg)
    return Observed(lane=table[:, 0], plus=table[:, 1], minus=table[:, 2], branch=table[:, 3])


def values(solution: Solution, points: Observed) -> FloatArray:
    """What the points show in a solution, shape (P,) [V or A]."""
    lanes = solution.voltage.shape[1]
    grounded = np.concatenate([solution.voltage, np.zeros((1, lanes))])
    volts = grounded[points.plus, points.lane] - grounded[points.minus, points.lane]
    return np.where(points.branch >= 0, solution.current[points.branch, points.lane], volts)


def sensitivity(
    branches: Branches,
    solution: Solution,
    scale: FloatArray,
    points: Observed,
    *,
    leak: float = LEAK_S,
) -> Sensitivity:
    """Derivatives of the observed points by every scale and EMF, segments and relays fixed.

    Parameters
    ----------
    branches
        The network.
    solution
        Its operating points.
    scale
        The scale they were solved with, shape (B, L) or (B, 1).
    points
        From `observe`.
    leak
        Conductance from every node to the reference [S].
    """
    layout = lay_out(branches)
    shut = contact_scale(branches, scale, solution.latched)
    count = len(points.lane)
    by_scale = np.empty((branches.count, count))
    by_emf = np.empty((branches.count, count))
    for first in range(0, count, CHUNK):
        chosen = np.arange(first, min(first + CHUNK, count))
        by_scale[:, chosen], by_emf[:, chosen] = _part(layout, solution, shut, points.part(chosen), leak=leak)
    return Sensitivity(scale=by_scale, emf=by_emf)


def _part(
    layout: Layout, solution: Solution, shut: FloatArray, points: Observed, *, leak: float
) -> tuple[FloatArray, FloatArray]:
    branches = layout.branches
    every = np.arange(branches.count)
    count = len(points.lane)
    column = np.arange(count)
    segment = solution.segment[:, points.lane]
    conductance = shut[:, points.lane] * branches.g[every[:, None], segment]
    current = solution.current[:, points.lane]

    rows = new_rows(layout.pattern, count, leak)
    add_conductances(layout, rows, every, conductance)
    weight = np.where(points.branch >= 0, conductance[points.branch, column], 1.0)
    for nodes, sign in ((points.plus, 1.0), (points.minus, -1.0)):
        real = nodes >= 0
        rows[layout.pattern.injection[nodes[real]], column[real]] += sign * weight[real]
    loops = kernel.loops(branches.count, count)
    adjoint = eliminate(layout.pattern, rows)[0] if loops is None else loops.eliminate(layout.pattern, rows)

    adjoint = np.concatenate([adjoint, np.zeros((1, count))])
    across = adjoint[branches.a] - adjoint[branches.b]
    by_scale = -across * current
    by_emf = across * conductance
    own = points.branch >= 0
    by_scale[points.branch[own], column[own]] += current[points.branch[own], column[own]]
    by_emf[points.branch[own], column[own]] -= conductance[points.branch[own], column[own]]
    return by_scale, by_emf
