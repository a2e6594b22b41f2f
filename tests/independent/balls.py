"""The linear network of one lane in ball arithmetic: every digit of the answer is proved.

Each number of the network is taken as the exact value of its double. The balls that come back contain the true
voltages, so their midpoints are the reference and their radii say how far it may be trusted.
"""

from typing import Any

import flint
import numpy as np
import numpy.typing as npt

from loomwright.network.branches import OPEN_RATIO, Branches, FloatArray

__all__ = ["solve_balls"]

_BITS = 260


def solve_balls(
    branches: Branches,
    scale: FloatArray,
    emf: FloatArray,
    segment: npt.NDArray[np.int8],
    *,
    shut: list[bool],
    leak: float = 1e-9,
) -> tuple[FloatArray, float]:
    """Node voltages on given segments, and the largest radius of a ball.

    `shut` says for each branch whether it conducts fully; an open contact keeps `OPEN_RATIO` of its scale.
    """
    flint.ctx.prec = _BITS
    nodes = branches.nodes
    diagonal = [flint.arb(leak) for _ in range(nodes)]
    between: list[dict[int, Any]] = [{} for _ in range(nodes)]
    right = [flint.arb(0) for _ in range(nodes)]
    for row in range(branches.count):
        on = int(segment[row])
        k = flint.arb(float(scale[row])) * (flint.arb(1) if shut[row] else flint.arb(OPEN_RATIO))
        conductance = k * flint.arb(float(branches.g[row, on]))
        injected = k * flint.arb(float(branches.i0[row, on])) - conductance * flint.arb(float(emf[row]))
        a, b = int(branches.a[row]), int(branches.b[row])
        for node, other, sign in ((a, b, -1), (b, a, 1)):
            if node < 0:
                continue
            diagonal[node] += conductance
            right[node] += sign * injected
            if other >= 0:
                between[node][other] = between[node].get(other, flint.arb(0)) + conductance
    found = _eliminated(diagonal, between, right)
    return np.array([float(ball.mid()) for ball in found]), max(float(ball.rad()) for ball in found)


def _eliminated(diagonal: list[Any], between: list[dict[int, Any]], right: list[Any]) -> list[Any]:
    """Gaussian elimination by dictionaries, always the node with fewest neighbours left; a harness is nearly a tree.

    `between` holds conductances, so the matrix has their negatives beside its diagonal.
    """
    left = set(range(len(diagonal)))
    order: list[tuple[int, dict[int, Any]]] = []
    while left:
        node = min(left, key=lambda one: (len(between[one]), one))
        left.remove(node)
        beside = between[node]
        order.append((node, beside))
        for other, conductance in beside.items():
            del between[other][node]
            share = conductance / diagonal[node]
            diagonal[other] -= share * conductance
            right[other] += share * right[node]
            for third, second in beside.items():
                if third != other:
                    between[other][third] = between[other].get(third, flint.arb(0)) + share * second
    found: list[Any] = [None] * len(diagonal)
    for node, beside in reversed(order):
        total = right[node]
        for other, conductance in beside.items():
            total += conductance * found[other]
        found[node] = total / diagonal[node]
    return found
