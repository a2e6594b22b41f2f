"""A second solver for one lane, written the plain way: dense nodal equations, segments by the co-content's minimum.

Nothing of the package's solver is used: the matrix has a diagonal, LAPACK solves it, and the segments come from damped
Newton steps on the convex co-content instead of a search. Relays are given as fixed contacts.
"""

import numpy as np

from loomwright.network.branches import OPEN_RATIO, BoolArray, Branches, FloatArray

__all__ = ["contacts", "solve_dense"]


def contacts(branches: Branches, scale: FloatArray, latched: BoolArray) -> FloatArray:
    """Scale of every branch of one lane with its contacts where the relays put them."""
    found = scale.copy()
    for latch, pulled in zip(branches.latches, latched, strict=True):
        for branch in latch.breaks if pulled else latch.makes:
            found[branch] *= OPEN_RATIO
    return found


def solve_dense(branches: Branches, scale: FloatArray, emf: FloatArray, leak: float = 1e-9) -> FloatArray:
    """Node voltages of one lane with the reference as last entry."""
    nodes = branches.nodes
    incidence = np.zeros((branches.count, nodes))
    for row, (a, b) in enumerate(zip(branches.a, branches.b, strict=True)):
        if a >= 0:
            incidence[row, a] += 1.0
        if b >= 0:
            incidence[row, b] -= 1.0
    each = np.arange(branches.count)
    point = np.zeros(nodes)

    def currents(voltage: FloatArray) -> tuple[FloatArray, FloatArray]:
        across = incidence @ voltage - emf
        segment = (across[:, None] > branches.breaks).sum(axis=1)
        slope = scale * branches.g[each, segment]
        return slope, scale * (branches.g[each, segment] * across + branches.i0[each, segment])

    for _ in range(500):
        slope, current = currents(point)
        unbalanced = incidence.T @ current + leak * point
        matrix = incidence.T @ (slope[:, None] * incidence) + leak * np.eye(nodes)
        way: FloatArray = -np.asarray(np.linalg.solve(matrix, unbalanced), dtype=np.float64)
        if np.abs(way).max() < 1e-9:
            break

        def rate(length: float, start: FloatArray = point, way: FloatArray = way) -> float:
            there = start + length * way
            return float((incidence.T @ currents(there)[1] + leak * there) @ way)

        low, high = 0.0, 1.0
        if rate(1.0) > 0.0:
            for _ in range(60):
                middle = 0.5 * (low + high)
                low, high = (low, middle) if rate(middle) > 0.0 else (middle, high)
        point = point + high * way
    return np.append(point, 0.0)
