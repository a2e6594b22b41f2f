"""How firmly each node is held: its resistance to the reference, and which nodes float.

The voltage of a floating node depends on assumed leaks only; it is to be reported as undriven and not as a number.
"""

import numpy as np

from loomwright.network.branches import BoolArray, Branches, FloatArray
from loomwright.network.lanes import CHUNK, eliminate, resistances
from loomwright.network.solution import Solution, slopes
from loomwright.network.stamping import LEAK_S, add_conductances, lay_out, new_rows

__all__ = ["DRIVEN_OHM", "driven", "held_by"]

DRIVEN_OHM = 1e6
"""A node with more resistance than this to the reference floats: less than 1 µS holds it [ohm]."""


def held_by(branches: Branches, solution: Solution, scale: FloatArray, *, leak: float = LEAK_S) -> FloatArray:
    """Resistance seen from each node to the reference at the operating point.

    The Thévenin resistance of the circuit: every branch counts with the slope of its segment, every EMF as a short
    circuit, so that the battery holds a node as ground does. All paths in series and in parallel are in it.

    Parameters
    ----------
    branches
        The network.
    solution
        Its operating points.
    scale
        The scale they were solved with, shape (B, L) or (B, 1).
    leak
        Conductance from every node to the reference [S].

    Returns
    -------
    resistance
        Shape (N, L) [ohm].
    """
    layout = lay_out(branches)
    every = np.arange(branches.count)
    conductance = slopes(branches, solution, scale)
    lanes = conductance.shape[1]
    found = np.empty((branches.nodes, lanes))
    for first in range(0, lanes, CHUNK):
        columns = np.arange(first, min(first + CHUNK, lanes))
        rows = new_rows(layout.pattern, len(columns), leak)
        add_conductances(layout, rows, every, conductance[:, columns])
        _, factors = eliminate(layout.pattern, rows)
        found[:, columns] = resistances(layout.pattern, factors)
    return found


def driven(branches: Branches, solution: Solution, scale: FloatArray, *, leak: float = LEAK_S) -> BoolArray:
    """Whether each node is held by at least 1 µS: `held_by` is no more than `DRIVEN_OHM`, shape (N, L)."""
    return np.asarray(held_by(branches, solution, scale, leak=leak) <= DRIVEN_OHM)
