"""Linear networks, many at once: star-mesh elimination over lanes.

Eliminating a node whose branches have conductances ``c_j``, whose conductance to the reference is ``h`` and which
receives the current ``s`` leaves an equivalent mesh between its neighbours::

    S = h + sum_j c_j
    c_ij += c_i c_j / S      h_i += c_i h / S      s_i += c_i s / S
    v = (s + sum_j c_j v_j) / S                     on the way back

This is Gaussian elimination on the nodal equations without ever forming a diagonal, so nothing is subtracted and every
conductance keeps its relative accuracy, however far apart 1 mΩ and 1 GΩ stand in one network. Injected currents have
signs and may cancel: two EMFs that drive a current round a loop which only leaks hold leave the last bit of that
current times the loop's resistance to the reference in its voltages. Such nodes float anyway.

Only whole rows are added and multiplied, in a fixed order, so a lane has the same bits whatever stands beside it. Rows
are fetched with `take`, which copies them whole; an index in brackets does the same a good deal more slowly.

References
----------
W. K. Grassmann, M. I. Taksar, D. P. Heyman, "Regenerative analysis and steady state distributions for Markov chains",
Operations Research 33 (1985): elimination from off-diagonals and row sums. J. M. Peña, "LDU decompositions with L and U
well conditioned", ETNA 18 (2004), 198-208: entry-wise accuracy for M-matrices.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from loomwright.network.pattern import Pattern, Stage

__all__ = ["CHUNK", "Factors", "eliminate", "recover", "reduce_rows", "resistances"]

FloatArray = npt.NDArray[np.float64]

CHUNK = 768
"""Lanes eliminated at once: fewer pay more for each call, more no longer stay in the cache. Measured at 60 and 116
nodes, half as many cost a fifth of the rate, twice as many up to half of it."""


_FEW = 4
"""So few lanes are quicker as plain numbers, one lane after the other; whole rows would only pay for each call."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Factors:
    """What an elimination leaves behind.

    Parameters
    ----------
    shares
        For each row its value divided by the node's total conductance, shape (rows, lanes).
    totals
        Total conductance of each node when it was eliminated, in elimination order, shape (nodes, lanes) [S].
    """

    shares: FloatArray
    totals: FloatArray


def eliminate(pattern: Pattern, rows: FloatArray) -> tuple[FloatArray, Factors]:
    """Solve one linear network for each lane.

    Parameters
    ----------
    pattern
        The pattern of the topology.
    rows
        Conductances and injections as `pattern` lays them out, shape (rows, lanes) [S, A]. Every node needs a
        conductance above zero to somewhere. Overwritten with the shares.

    Returns
    -------
    voltages
        Node voltages in node order, shape (nodes, lanes) [V].
    factors
        The elimination, for `resistances`.
    """
    early, late = pattern.early, pattern.late
    totals = np.empty((pattern.nodes, rows.shape[1]))
    found = np.empty((pattern.nodes, rows.shape[1]))
    reduce_rows(early, rows, totals)
    reduce_rows(late, rows[late.first_row :], totals[late.first_node :])
    recover(late, rows[late.first_row :], found[late.first_node :])
    recover(early, rows, found)
    return found.take(pattern.position, axis=0), Factors(shares=rows, totals=totals)


def reduce_rows(stage: Stage, rows: FloatArray, totals: FloatArray | None = None) -> None:
    """Eliminate the nodes of one stage, in place.

    Parameters
    ----------
    stage
        The stage.
    rows
        Rows from where the stage begins; those of its own nodes become their shares [S, A].
    totals
        Where to put the total conductance of each node, counted from where the stage begins [S].
    """
    for level in stage.levels:
        shares = rows[level.rows]
        own = shares.copy()
        total = own[level.conductances]
        for branch, _ in level.branches:
            total[: len(branch)] += own.take(branch, axis=0)
        if totals is not None:
            totals[level.nodes] = total
        shares *= (1.0 / total).take(level.owner, axis=0)
        for target, factor, share in level.passes:
            given = shares.take(share, axis=0)
            given *= own.take(factor, axis=0)
            given += rows.take(target, axis=0)
            rows[target] = given


def recover(stage: Stage, shares: FloatArray, found: FloatArray) -> None:
    """Find the voltages of a stage's nodes from those of later nodes, in place.

    Parameters
    ----------
    stage
        The stage.
    shares
        What `reduce_rows` left of its rows.
    found
        Voltages by position, from where the stage begins [V].
    """
    for level in reversed(stage.levels):
        own = shares[level.rows]
        voltage = found[level.nodes]
        voltage[:] = own[level.injections]
        for branch, later in level.branches:
            given = own.take(branch, axis=0)
            given *= found.take(later, axis=0)
            voltage[: len(branch)] += given


def resistances(pattern: Pattern, factors: Factors) -> FloatArray:
    """Resistance between each node and the reference with all sources replaced by their conductances.

    The diagonal of the inverse of the nodal matrix, taken backwards over the pattern. With ``f_j = c_j / S`` from the
    elimination, ``Z_ij = sum_k f_k Z_kj`` and ``Z_ii = 1 / S + sum_j f_j Z_ij``: sums of positive terms only.

    Parameters
    ----------
    pattern, factors
        The pattern and the elimination from `eliminate`.

    Returns
    -------
    resistance
        In node order, shape (nodes, lanes) [ohm].

    References
    ----------
    K. Takahashi, J. Fagan, M.-S. Chen, "Formation of a sparse bus impedance matrix and its application to short circuit
    study", Proc. 8th PICA Conference (1973).
    """
    shares, totals, lanes = factors.shares, factors.totals, factors.shares.shape[1]
    if lanes > _FEW:
        return np.array(_resistances(pattern, list(shares), list(totals)))[pattern.position]
    columns = (_resistances(pattern, shares[:, lane].tolist(), totals[:, lane].tolist()) for lane in range(lanes))
    return np.array(list(columns)).reshape(lanes, pattern.nodes).T[pattern.position]


def _resistances(pattern: Pattern, shares: Sequence[Any], totals: Sequence[Any]) -> list[Any]:
    """The resistances by position, of rows with all lanes or of the plain numbers of one lane."""
    inverse: list[Any] = [0.0] * len(shares)
    found: list[Any] = [0.0] * len(totals)
    for at in range(pattern.nodes - 1, -1, -1):
        block = pattern.blocks[at]
        first, count = block.first, block.neighbours
        own = 1.0 / totals[at]
        for index, others in enumerate(block.inverse.tolist()):
            value = 0.0
            for other, row in enumerate(others):
                value = value + shares[first + other] * inverse[row]
            inverse[first + index] = value
            own = own + shares[first + index] * value
        inverse[first + count] = own
        found[at] = own
    return found
