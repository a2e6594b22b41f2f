"""The linear network of one lane in ball arithmetic: every digit of the answer is proved.

Each number of the network is taken as the exact value of its double. The balls that come back contain the true
voltages, so their midpoints are the reference and their radii say how far it may be trusted.
"""

import flint
import numpy as np

from loomwright.network.branches import OPEN_RATIO, Branches, FloatArray, IntArray

__all__ = ["solve_balls"]

_BITS = 260


def solve_balls(
    branches: Branches,
    scale: FloatArray,
    emf: FloatArray,
    segment: IntArray,
    *,
    shut: list[bool],
    leak: float = 1e-9,
) -> tuple[FloatArray, float]:
    """Node voltages on given segments, and the largest radius of a ball.

    `shut` says for each branch whether it conducts fully; an open contact keeps `OPEN_RATIO` of its scale.
    """
    flint.ctx.prec = _BITS
    nodes = branches.nodes
    matrix = flint.arb_mat(nodes, nodes)
    right = flint.arb_mat(nodes, 1)
    for node in range(nodes):
        matrix[node, node] = flint.arb(leak)
    for row in range(branches.count):
        on = int(segment[row])
        k = flint.arb(float(scale[row])) * (flint.arb(1) if shut[row] else flint.arb(OPEN_RATIO))
        conductance = k * flint.arb(float(branches.g[row, on]))
        injected = k * flint.arb(float(branches.i0[row, on])) - conductance * flint.arb(float(emf[row]))
        a, b = int(branches.a[row]), int(branches.b[row])
        for node, other, sign in ((a, b, -1), (b, a, 1)):
            if node < 0:
                continue
            matrix[node, node] = matrix[node, node] + conductance
            right[node, 0] = right[node, 0] + sign * injected
            if other >= 0:
                matrix[node, other] = matrix[node, other] - conductance
    found = matrix.solve(right)
    values = np.array([float(found[node, 0].mid()) for node in range(nodes)])
    radius = max(float(found[node, 0].rad()) for node in range(nodes))
    return values, radius
