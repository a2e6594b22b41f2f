"""What the compiled loops need to know of a network: its layout as plain arrays.

Every list is in the order in which the numpy lanes take it, so that both ways add the same numbers in the same order
and a lane has the same bits either way. The numpy lanes push what a node gives to later rows; the loops let each row
fetch what it gets, which is the same sum and keeps it in a register.

Places in the work arrays are given as where the first lane of a row stands, since the lanes of a group stand side by
side; as numbers without a sign, which spares the compiler the question whether an index counts from the end; and of
half the width, which leaves more of the nearest cache to the rows.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import accumulate, chain
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from loomwright.network.pattern import Pattern
from loomwright.network.stamping import Layout

__all__ = ["WIDTH", "Gets", "Lists", "Order", "Plan", "order_of", "plan_of"]

WIDTH = 8
"""Lanes that go through the loops together: one wide vector register or two of half its size."""

_Ints = npt.NDArray[np.int64]
_Places = npt.NDArray[np.uint32]
_Floats = npt.NDArray[np.float64]


class Lists(NamedTuple):
    """A list of places for each row: those of row r stand from ``at[r]`` to ``at[r + 1]``."""

    at: _Places
    place: _Places


class Gets(NamedTuple):
    """Shares and conductances whose products each row gets from nodes before it, listed as in `Lists`."""

    at: _Places
    own: _Places
    share: _Places


class Order(NamedTuple):
    """The elimination of one pattern, node by node in its order.

    Parameters
    ----------
    nodes, rows, early
        How many there are, and how many nodes belong to the early stage.
    first, degree
        First row and number of later neighbours of each node.
    parent
        The first later neighbour of each node, or -1: what changes at a node changes there as well.
    later
        For each node where its later neighbours' voltages stand.
    before, gets
        What each row gets from nodes of an earlier stage, and from nodes of its own.
    place
        Where each node of the network stands in the order.
    """

    nodes: int
    rows: int
    early: int
    first: _Places
    degree: _Places
    parent: _Ints
    later: Lists
    before: Gets
    gets: Gets
    place: _Ints


class Plan(NamedTuple):
    """A network as the compiled loops take it.

    Parameters
    ----------
    order
        Its elimination.
    one, other
        Place of each end of each branch; the reference is the place after the last.
    breaks, slope, intercept, start
        Characteristics, as in `Branches`.
    fixed, varying
        Branches whose conductance stays, and the others.
    every, driven, live
        All branches, those with an EMF in any lane, and the fixed ones that drive a current at equal voltages.
    leaves, enters
        Row of the injection at each end of each branch, or -1 at the reference.
    fixed_stamps, varying_stamps
        For each row what is stamped on it: of the fixed branches the conductances, by branch; of the varying ones, by
        their numbers, three tables one after the other: the conductance, what is taken from the first end, and what is
        given to the second.
    relay, makes
        For each varying branch the relay it is a contact of, or -1, and whether it closes when that pulls in.
    contact
        Which of the varying branches are contacts.
    coil, coil_varying, pull_in, drop_out
        For each relay its coil, the coil's number among the varying branches or -1, and its currents [A].
    fastest
        The relays in the order of their speed.
    mark
        A random number for each varying branch, by which the states of a search are told apart.
    """

    order: Order
    one: _Ints
    other: _Ints
    breaks: _Floats
    slope: _Floats
    intercept: _Floats
    start: _Ints
    fixed: _Ints
    varying: _Ints
    every: _Ints
    driven: _Ints
    live: _Ints
    leaves: _Ints
    enters: _Ints
    fixed_stamps: Lists
    varying_stamps: Lists
    relay: _Ints
    makes: npt.NDArray[np.bool_]
    contact: _Ints
    coil: _Ints
    coil_varying: _Ints
    pull_in: _Floats
    drop_out: _Floats
    fastest: _Ints
    mark: _Ints


@lru_cache(maxsize=128)
def order_of(pattern: Pattern) -> Order:
    """The elimination of a pattern, node by node; kept for each, as the pattern itself is."""
    early = pattern.late.first_node
    node_at = np.argsort(pattern.position).tolist()
    conductance = [block.first + block.neighbours for block in pattern.blocks]
    ahead: list[list[int]] = [[] for _ in range(pattern.nodes)]
    for ends in pattern.edges:
        low, high = sorted(int(pattern.position[end]) for end in ends)
        ahead[low].append(high)
    gets: list[list[tuple[int, int]]] = [[] for _ in range(pattern.rows)]
    before: list[list[tuple[int, int]]] = [[] for _ in range(pattern.rows)]
    for at, after in enumerate(ahead):
        after.sort()
        first = pattern.blocks[at].first
        for index, near in enumerate(after):
            rows = [pattern.edges[_pair(node_at[near], node_at[far])] for far in after[index + 1 :]]
            rows += [conductance[near], conductance[near] + 1]
            into = before if at < early <= near else gets
            for offset, row in enumerate(rows):
                into[row].append((first + index, first + index + 1 + offset))
    return Order(
        nodes=pattern.nodes,
        rows=pattern.rows,
        early=early,
        first=_places([block.first for block in pattern.blocks]),
        degree=_places([block.neighbours for block in pattern.blocks]),
        parent=_numbers([after[0] if after else -1 for after in ahead]),
        later=_lists(ahead),
        before=_products(before),
        gets=_products(gets),
        place=_numbers(pattern.position),
    )


def plan_of(layout: Layout, emf: _Floats) -> Plan:
    """The arrays of a layout for some lanes, whose EMFs have shape (B, lanes) or (B, 1) [V]."""
    return _plan(layout, emf.any(axis=1).tobytes())


@lru_cache(maxsize=64)
def _plan(layout: Layout, has_emf: bytes) -> Plan:
    """The same, kept for each layout, as the layout itself is, and for each set of branches that have an EMF."""
    branches, pattern, latches = layout.branches, layout.pattern, layout.branches.latches
    place = np.append(pattern.position, pattern.nodes)
    injection = np.append(pattern.injection, -1)  # the reference, index -1, has none
    driven = np.frombuffer(has_emf, dtype=np.bool_)
    pushes = driven[layout.fixed] | (branches.i0[layout.fixed, 0] != 0.0)
    relay = np.full(len(layout.varying), -1, dtype=np.int64)
    makes = np.zeros(len(layout.varying), dtype=np.bool_)
    relay[layout.contact] = layout.relay
    makes[layout.contact] = layout.makes
    return Plan(
        order=order_of(pattern),
        one=_numbers(place[branches.a]),
        other=_numbers(place[branches.b]),
        breaks=branches.breaks,
        slope=branches.g,
        intercept=branches.i0,
        start=branches.start,
        fixed=_numbers(layout.fixed),
        varying=_numbers(layout.varying),
        every=_numbers(range(branches.count)),
        driven=_numbers(np.flatnonzero(driven)),
        live=_numbers(layout.fixed[pushes]),
        leaves=_numbers(injection[branches.a]),
        enters=_numbers(injection[branches.b]),
        fixed_stamps=_lists(_conductances(layout, layout.fixed.tolist())),
        varying_stamps=_lists(_stamps(layout)),
        relay=relay,
        makes=makes,
        contact=_numbers(layout.contact),
        coil=_numbers(layout.coils),
        coil_varying=_numbers(layout.coil_varying),
        pull_in=np.array([latch.pull_in_a for latch in latches], dtype=np.float64),
        drop_out=np.array([latch.drop_out_a for latch in latches], dtype=np.float64),
        fastest=_numbers(np.argsort([latch.operate_s for latch in latches], kind="stable")),
        mark=np.random.default_rng(20_650).integers(1, 2**34, size=len(layout.varying)),
    )


def _conductances(layout: Layout, members: Sequence[int]) -> list[list[int]]:
    """Of which branches each row gets the conductance."""
    branches, pattern = layout.branches, layout.pattern
    stamps: list[list[int]] = [[] for _ in range(pattern.rows)]
    for branch in members:
        a, b = int(branches.a[branch]), int(branches.b[branch])
        inner = a >= 0 and b >= 0
        stamps[pattern.edges[_pair(a, b)] if inner else int(pattern.to_reference[max(a, b)])].append(branch)
    return stamps


def _stamps(layout: Layout) -> list[list[int]]:
    """Which stamps of varying branches each row gets: conductances, or first all that leaves and then all that enters.

    A branch is told by its number among the varying ones.
    """
    branches, varying = layout.branches, layout.varying.tolist()
    number = {branch: index for index, branch in enumerate(varying)}
    stamps = [[number[branch] for branch in row] for row in _conductances(layout, varying)]
    for table, ends in ((1, branches.a), (2, branches.b)):
        for index, branch in enumerate(varying):
            if ends[branch] >= 0:
                stamps[int(layout.pattern.injection[ends[branch]])].append(table * len(varying) + index)
    return stamps


def _pair(one: int, other: int) -> tuple[int, int]:
    return min(one, other), max(one, other)


def _products(rows: Sequence[Sequence[tuple[int, int]]]) -> Gets:
    own = _lists([[factor for factor, _ in row] for row in rows])
    share = _lists([[share for _, share in row] for row in rows])
    return Gets(at=own.at, own=own.place, share=share.place)


def _lists(rows: Sequence[Sequence[int]]) -> Lists:
    places = _places(chain.from_iterable(rows))
    return Lists(at=_places(accumulate(map(len, rows), initial=0)), place=places * np.uint32(WIDTH))


def _places(values: Iterable[int]) -> _Places:
    return np.fromiter(values, dtype=np.uint32)


def _numbers(values: Iterable[int]) -> _Ints:
    return np.ascontiguousarray(values, dtype=np.int64)
