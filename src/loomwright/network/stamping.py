"""From branches to the rows of an elimination.

Branches whose conductance can change during a search (those with more than one segment, and contacts) are kept apart
from the rest: the rest is stamped once for each batch of lanes. Every sum is taken in passes in which no row is hit
twice, in a fixed order, so that a lane's bits do not depend on its neighbours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import Branches, FloatArray
from loomwright.network.pattern import Pattern, find_pattern

__all__ = ["LEAK_S", "Layout", "add_conductances", "add_injections", "lay_out", "new_rows"]

LEAK_S = 1e-9
"""Conductance assumed from every node to the reference, so that a node cut off by a fault still has a voltage [S]."""

_Index = npt.NDArray[np.intp]
_Passes = tuple[tuple[_Index, _Index], ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layout:
    """Where the branches of one network go.

    Parameters
    ----------
    branches
        The network itself.
    pattern
        Elimination pattern of the topology.
    fixed, varying
        Branch indices whose conductance is constant through a solve, and the others.
    contact, relay, makes
        For each contact its position within `varying`, its latch, and whether it closes when that pulls in.
    coils, coil_varying
        Each latch's coil and its position within `varying`, -1 where it is a fixed branch.
    late_nodes
        The late nodes in their order, which gives them their places.
    varying_ends, coil_ends
        Both ends of these branches as places among the late nodes, the reference after the last one, shape (2, ...).
    mesh_rows, mesh_ends
        The late rows that are branches between two late nodes, and the places of their ends.
    """

    branches: Branches
    pattern: Pattern
    fixed: _Index
    varying: _Index
    contact: _Index
    relay: _Index
    makes: npt.NDArray[np.bool_]
    coils: _Index
    coil_varying: _Index
    late_nodes: _Index
    varying_ends: _Index
    coil_ends: _Index
    mesh_rows: _Index
    mesh_ends: _Index


@lru_cache(maxsize=64)
def lay_out(branches: Branches) -> Layout:
    """Find the pattern of a network and sort its branches; kept for each `Branches` object."""
    a, b = branches.a, branches.b
    joined = (a >= 0) & (b >= 0)
    low, high = np.minimum(a, b)[joined].tolist(), np.maximum(a, b)[joined].tolist()
    contacts = [
        (branch, number, makes)
        for number, latch in enumerate(branches.latches)
        for makes, members in ((True, latch.makes), (False, latch.breaks))
        for branch in members
    ]
    varies = np.asarray(np.isfinite(branches.breaks).any(axis=1))
    varies[[branch for branch, _, _ in contacts]] = True
    varying = np.flatnonzero(varies)
    place = {int(branch): at for at, branch in enumerate(varying)}
    coils = np.array([latch.coil for latch in branches.latches], dtype=np.intp)
    watched = np.concatenate([varying, coils])
    late = frozenset({*a[watched].tolist(), *b[watched].tolist()} - {-1})
    pattern = find_pattern(branches.nodes, frozenset(zip(low, high, strict=True)), late)
    # Index -1, the reference, finds the last place.
    late_place = np.append(pattern.position, branches.nodes) - pattern.late.first_node
    mesh = [(ends, row) for ends, row in pattern.edges.items() if row >= pattern.late.first_row]
    return Layout(
        branches=branches,
        pattern=pattern,
        fixed=np.flatnonzero(~varies),
        varying=varying,
        contact=np.array([place[branch] for branch, _, _ in contacts], dtype=np.intp),
        relay=np.array([number for _, number, _ in contacts], dtype=np.intp),
        makes=np.array([makes for _, _, makes in contacts], dtype=np.bool_),
        coils=coils,
        coil_varying=np.array([place.get(latch.coil, -1) for latch in branches.latches], dtype=np.intp),
        late_nodes=np.argsort(pattern.position)[pattern.late.first_node :],
        varying_ends=late_place[np.array([a[varying], b[varying]])],
        coil_ends=late_place[np.array([a[coils], b[coils]])],
        mesh_rows=np.array([row for _, row in mesh], dtype=np.intp) - pattern.late.first_row,
        mesh_ends=late_place[np.array([ends for ends, _ in mesh], dtype=np.intp).reshape(-1, 2).T],
    )


def new_rows(pattern: Pattern, lanes: int, leak: float) -> FloatArray:
    """Rows of a network that has only its leaks, shape (rows, lanes)."""
    rows = np.zeros((pattern.rows, lanes))
    rows[pattern.to_reference] = leak
    return rows


def add_conductances(
    layout: Layout, rows: FloatArray, members: _Index, conductance: FloatArray, *, first: int = 0
) -> None:
    """Add the conductances of some branches, shape (members, lanes) [S], to rows that begin with row `first`."""
    for target, source in _conductance_passes(layout, members.tobytes(), first):
        rows[target] += conductance.take(source, axis=0)


def add_injections(layout: Layout, rows: FloatArray, members: _Index, current: FloatArray, *, first: int = 0) -> None:
    """Add the currents that some branches carry from ``a`` to ``b`` at equal voltages, shape (members, lanes) [A]."""
    leaving, entering = _injection_passes(layout, members.tobytes(), first)
    for target, source in leaving:
        rows[target] -= current.take(source, axis=0)
    for target, source in entering:
        rows[target] += current.take(source, axis=0)


@lru_cache(maxsize=256)
def _conductance_passes(layout: Layout, members: bytes, first: int) -> _Passes:
    pattern, branches = layout.pattern, layout.branches
    additions = []
    for source, branch in enumerate(np.frombuffer(members, dtype=np.intp)):
        a, b = int(branches.a[branch]), int(branches.b[branch])
        inner = a >= 0 and b >= 0
        row = pattern.edges[min(a, b), max(a, b)] if inner else int(pattern.to_reference[max(a, b)])
        additions.append((row - first, source))
    return _cut(additions)


@lru_cache(maxsize=256)
def _injection_passes(layout: Layout, members: bytes, first: int) -> tuple[_Passes, _Passes]:
    pattern, branches = layout.pattern, layout.branches
    leaving, entering = [], []
    for source, branch in enumerate(np.frombuffer(members, dtype=np.intp)):
        a, b = int(branches.a[branch]), int(branches.b[branch])
        if a >= 0:
            leaving.append((int(pattern.injection[a]) - first, source))
        if b >= 0:
            entering.append((int(pattern.injection[b]) - first, source))
    return _cut(leaving), _cut(entering)


def _cut(additions: Sequence[tuple[int, int]]) -> _Passes:
    passes: list[tuple[list[int], list[int]]] = []
    times: dict[int, int] = {}
    for target, source in additions:
        turn = times.get(target, 0)
        times[target] = turn + 1
        if turn == len(passes):
            passes.append(([], []))
        passes[turn][0].append(target)
        passes[turn][1].append(source)
    return tuple((np.array(target, dtype=np.intp), np.array(source, dtype=np.intp)) for target, source in passes)
