"""The operating points that a solve finds, and what follows from them branch by branch."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import OPEN_RATIO, BoolArray, Branches, FloatArray
from loomwright.network.stamping import lay_out

__all__ = ["Solution", "contact_scale", "slopes"]


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
    segment: npt.NDArray[np.int8]
    latched: BoolArray
    outcome: npt.NDArray[np.int8]
    restless: BoolArray
    kcl_a: FloatArray


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
