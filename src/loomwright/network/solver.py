"""Operating points of a piecewise-linear network with relays: the call and its checks."""

from dataclasses import fields

import numpy as np

from loomwright.network.branches import BoolArray, Branches, FloatArray
from loomwright.network.kernel import kernel
from loomwright.network.rounds import run
from loomwright.network.solution import Solution
from loomwright.network.stamping import LEAK_S, lay_out

__all__ = ["Solution", "solve"]


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
    scale, emf = np.ascontiguousarray(scale), np.ascontiguousarray(emf)
    start, held = np.broadcast_to(start, (relays, lanes)), np.broadcast_to(held, (relays, lanes))
    loops = kernel.loops(branches.count, lanes)
    if loops is None:
        _check_values(scale, emf)
        return run(layout, scale, emf, start, hold=held, leak=leak)
    solution, left = loops.solve(layout, scale, emf, start, hold=held, leak=leak)
    if left.any():
        columns = np.flatnonzero(left)
        scale, emf = (array if array.shape[1] == 1 else array.take(columns, axis=1) for array in (scale, emf))
        _check_values(scale, emf)
        rest = run(layout, scale, emf, start.take(columns, axis=1), hold=held.take(columns, axis=1), leak=leak)
        for part in fields(Solution):
            getattr(solution, part.name)[..., columns] = getattr(rest, part.name)
    return solution


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
    return widths.pop() if widths else 1


def _check_values(scale: FloatArray, emf: FloatArray) -> None:
    # A number that is not one makes both extremes so, and no comparison with it holds.
    wrong = ~((scale.min(axis=1, initial=np.inf) > 0.0) & (scale.max(axis=1, initial=0.0) < np.inf))
    if wrong.any():
        msg = f"branch {int(np.flatnonzero(wrong)[0])}: a scale is not a finite number above zero"
        raise ValueError(msg)
    wrong = ~np.isfinite(emf.min(axis=1, initial=0.0) - emf.max(axis=1, initial=0.0))
    if wrong.any():
        msg = f"branch {int(np.flatnonzero(wrong)[0])}: an EMF is not a finite number"
        raise ValueError(msg)
