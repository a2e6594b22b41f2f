"""What a network is made of here: branches with rising, piecewise-linear characteristics, and latches.

A branch between nodes ``a`` and ``b`` carries ``i = k f(v_a - v_b - e)`` from ``a`` to ``b``. The characteristic ``f``
is shared by all lanes; its scale ``k`` and its EMF ``e`` may differ in each lane. A wire is ``f(u) = u`` with ``k`` its
conductance; a battery is the same with ``e`` its open-circuit voltage and ``b`` the reference; a diode has one break at
its forward drop; a lamp rises less and less steeply. There are no ideal sources and no wires without resistance.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["OPEN_RATIO", "BoolArray", "Branches", "FloatArray", "IntArray", "Latch"]

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

OPEN_RATIO = 1e-11
"""What is left of the scale of a contact that stands open: 1 nS of a contact of 100 S (10 mΩ)."""

_MOST_SEGMENTS = 128
"""Segments are counted in single bytes while they are searched."""

_JOIN_TOLERANCE = 1e-9
"""Relative gap allowed between two segments where they meet; it covers the rounding of an intercept, not a jump."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Latch:
    """A relay as seen by the network: the current through one branch decides over others.

    Parameters
    ----------
    coil
        Index of the coil's branch.
    pull_in_a, drop_out_a
        It pulls in at or above the first and drops out below the second, whatever the direction [A].
    makes, breaks
        Branches that conduct when it is pulled in, and those that conduct when it is dropped out.
    operate_s
        Time to move; decides which relay of several is first where the order matters [s].
    """

    coil: int
    pull_in_a: float
    drop_out_a: float
    makes: tuple[int, ...] = ()
    breaks: tuple[int, ...] = ()
    operate_s: float = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Branches:
    """A piecewise-linear network.

    Parameters
    ----------
    nodes
        Number of nodes; they are numbered from 0, and -1 is the reference, the battery's negative post.
    a, b
        Node at each end of each branch, shape (B,).
    breaks
        Rising break voltages of each characteristic, padded with infinity, shape (B, S - 1) [V].
    g, i0
        On segment ``s`` the characteristic is ``g[s] u + i0[s]``, shape (B, S); rising or level, and continuous.
    start
        The segment that holds ``u = 0``, where the search begins, shape (B,).
    latches
        The relays; each contact belongs to one of them.

    Raises
    ------
    ValueError
        Where an array has the wrong shape or a branch is not as said above; the message names the branch.
    """

    nodes: int
    a: IntArray
    b: IntArray
    breaks: FloatArray
    g: FloatArray
    i0: FloatArray
    start: IntArray
    latches: tuple[Latch, ...] = ()

    def __post_init__(self) -> None:
        for name in ("a", "b", "start"):
            object.__setattr__(self, name, np.ascontiguousarray(getattr(self, name), dtype=np.int64))
        for name in ("breaks", "g", "i0"):
            object.__setattr__(self, name, np.ascontiguousarray(getattr(self, name), dtype=np.float64))
        _check_shapes(self)
        _check_ends(self)
        _check_characteristics(self)
        _check_latches(self)

    @property
    def count(self) -> int:
        """Number of branches."""
        return int(self.a.shape[0])


def _fail(condition: npt.NDArray[np.bool_] | np.bool_, text: str) -> None:
    if np.any(condition):
        msg = f"branch {int(np.flatnonzero(condition)[0])}: {text}"
        raise ValueError(msg)


def _check_shapes(branches: Branches) -> None:
    if branches.nodes < 1:
        msg = f"nodes: found {branches.nodes}, expected at least 1"
        raise ValueError(msg)
    count = branches.a.shape[0] if branches.a.ndim == 1 else -1
    segments = branches.g.shape[1] if branches.g.ndim == 2 else 0
    if segments > _MOST_SEGMENTS:
        msg = f"g: found {segments} segments, expected at most {_MOST_SEGMENTS}"
        raise ValueError(msg)
    expected = {
        "a": (count,),
        "b": (count,),
        "start": (count,),
        "g": (count, segments),
        "i0": (count, segments),
        "breaks": (count, segments - 1),
    }
    for name, shape in expected.items():
        found = getattr(branches, name).shape
        if found != shape or count < 1 or segments < 1:
            msg = f"{name}: found shape {found}, expected {shape} with at least one branch and one segment"
            raise ValueError(msg)


def _check_ends(branches: Branches) -> None:
    a, b = branches.a, branches.b
    outside = (a < -1) | (a >= branches.nodes) | (b < -1) | (b >= branches.nodes)
    _fail(outside, f"an end lies outside -1 .. {branches.nodes - 1}")
    _fail(a == b, "both ends are the same node")


def _check_characteristics(branches: Branches) -> None:
    breaks, g, i0 = branches.breaks, branches.g, branches.i0
    _fail(~(np.isfinite(g) & np.isfinite(i0)).all(axis=1), "a slope or intercept is not a finite number")
    _fail((g < 0.0).any(axis=1), "a segment falls; characteristics must rise or stay level")
    _fail(np.isnan(breaks).any(axis=1) | (breaks == -np.inf).any(axis=1), "a break is not a voltage")
    left, right = breaks[:, :-1], breaks[:, 1:]
    # Padding repeats infinity; breaks that are voltages must rise.
    _fail(((left >= right) & ~np.isposinf(left)).any(axis=1), "breaks do not rise")
    _fail((np.isposinf(left) & ~np.isposinf(right)).any(axis=1), "a break follows the padding")
    real = np.isfinite(breaks)
    at = np.where(real, breaks, 0.0)
    below = g[:, :-1] * at + i0[:, :-1]
    above = g[:, 1:] * at + i0[:, 1:]
    size = np.abs(g[:, :-1] * at) + np.abs(g[:, 1:] * at) + np.abs(i0[:, :-1]) + np.abs(i0[:, 1:])
    _fail((real & (np.abs(above - below) > _JOIN_TOLERANCE * size)).any(axis=1), "the characteristic jumps at a break")
    low = (breaks < 0.0).sum(axis=1)
    high = (breaks <= 0.0).sum(axis=1)
    _fail((branches.start < low) | (branches.start > high), "the start segment does not hold 0 V")


def _check_latches(branches: Branches) -> None:
    owner: dict[int, int] = {}
    for number, latch in enumerate(branches.latches):
        for branch in (latch.coil, *latch.makes, *latch.breaks):
            if not 0 <= branch < branches.count:
                msg = f"latch {number}: branch {branch} lies outside 0 .. {branches.count - 1}"
                raise ValueError(msg)
        for branch in (*latch.makes, *latch.breaks):
            if branch in owner:
                msg = f"latch {number}: branch {branch} is already a contact of latch {owner[branch]}"
                raise ValueError(msg)
            owner[branch] = number
    for number, latch in enumerate(branches.latches):
        if latch.coil in owner:
            msg = f"latch {number}: its coil, branch {latch.coil}, is a contact of latch {owner[latch.coil]}"
            raise ValueError(msg)
        if not 0.0 < latch.drop_out_a <= latch.pull_in_a < float("inf"):
            msg = (
                f"latch {number}: found pull-in {latch.pull_in_a} A and drop-out {latch.drop_out_a} A, "
                "expected 0 < drop-out <= pull-in"
            )
            raise ValueError(msg)
