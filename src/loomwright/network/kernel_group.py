"""The lanes that the compiled loops have in work, and what is kept of them; part of `kernel_code`."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from loomwright.network.kernel_plan import WIDTH, Plan

__all__ = ["GROUP", "ROUNDS", "Group", "every", "group_of", "rows", "some"]

_Ints = npt.NDArray[np.int64]
_Bools = npt.NDArray[np.bool_]
_Floats = npt.NDArray[np.float64]
_Bytes = npt.NDArray[np.int8]

ROUNDS = 100
"""Rounds after which the lanes that are not done are left to the numpy lanes."""


class Group(NamedTuple):
    """The lanes in work. Flat arrays hold one row after the other, the lanes of a row side by side.

    `flow` has the conductances of the fixed branches, and at the end the current of every branch.
    """

    scale: _Floats
    emf: _Floats
    flow: _Floats
    stamps: _Floats
    base: _Floats
    own: _Floats
    share: _Floats
    point: _Floats
    shut: _Floats
    low: _Floats
    high: _Floats
    on: _Ints
    relays: _Bools
    held: _Bools
    todo: _Ints
    dirty: _Bools
    idle: _Bools
    stepping: _Bools
    kcl: _Floats
    mark: _Ints
    seen: _Ints
    seen_count: _Ints
    begun: _Bools
    been: _Bools
    been_count: _Ints
    singly: _Bools
    restless: _Bools
    outcome: _Bytes
    off: _Bools
    moved: _Bools


def rows(count: int) -> _Floats:
    """Return so many zeros that begin where a wide register's load is one load."""
    made = np.zeros(count + WIDTH)
    begin = (-made.ctypes.data % 64) // 8
    return made[begin : begin + count]


def group_of(plan: Plan) -> Group:
    """Return the arrays for one group of lanes of a network."""
    order, branches, varying, relays = plan.order, len(plan.one), len(plan.varying), len(plan.coil)
    return Group(
        scale=rows(branches * WIDTH),
        emf=rows(branches * WIDTH),
        flow=rows(branches * WIDTH),
        stamps=rows(3 * varying * WIDTH),
        base=rows(order.rows * WIDTH),
        own=rows(order.rows * WIDTH),
        share=rows(order.rows * WIDTH),
        point=rows((order.nodes + 1) * WIDTH),
        shut=rows(varying * WIDTH),
        low=rows(varying * WIDTH),
        high=rows(varying * WIDTH),
        on=np.empty(varying * WIDTH, dtype=np.int64),
        relays=np.empty((relays, WIDTH), dtype=np.bool_),
        held=np.empty((relays, WIDTH), dtype=np.bool_),
        todo=np.empty(varying * WIDTH, dtype=np.int64),
        dirty=np.empty(order.nodes, dtype=np.bool_),
        idle=np.empty(WIDTH, dtype=np.bool_),
        stepping=np.empty(WIDTH, dtype=np.bool_),
        kcl=rows(WIDTH),
        mark=np.empty(WIDTH, dtype=np.int64),
        seen=np.empty((WIDTH, ROUNDS + 1), dtype=np.int64),
        seen_count=np.empty(WIDTH, dtype=np.int64),
        begun=np.empty((relays, WIDTH), dtype=np.bool_),
        been=np.empty((WIDTH, ROUNDS + 1, relays), dtype=np.bool_),
        been_count=np.empty(WIDTH, dtype=np.int64),
        singly=np.empty(WIDTH, dtype=np.bool_),
        restless=np.empty((relays, WIDTH), dtype=np.bool_),
        outcome=np.empty(WIDTH, dtype=np.int8),
        off=np.empty(WIDTH, dtype=np.bool_),
        moved=np.empty(WIDTH, dtype=np.bool_),
    )


def some(lanes: _Bools) -> bool:
    """Whether it is so in one of the lanes."""
    any_ = False
    for lane in range(WIDTH):
        any_ |= lanes[lane]
    return any_


def every(lanes: _Bools) -> bool:
    """Whether it is so in every lane."""
    all_ = True
    for lane in range(WIDTH):
        all_ &= lanes[lane]
    return all_


GROUP = (rows, group_of, some, every)
"""What a compiler must be told of."""
