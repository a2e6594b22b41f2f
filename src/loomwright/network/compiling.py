"""From a named netlist and a list of states to the arrays the lane solver takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from loomwright.network.branches import OPEN_RATIO, Branches, FloatArray, Latch
from loomwright.network.elements import GROUND, Element, Netlist
from loomwright.network.states import State

__all__ = ["Compiled", "compile_netlist", "emf_of", "scale_of"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compiled:
    """A netlist with its numbers: where each node and element stands in the arrays."""

    netlist: Netlist
    branches: Branches
    node: Mapping[str, int]
    element: Mapping[str, int]
    emf: FloatArray  # (B, 1) nominal

    def at(self, node: str) -> int:
        """Return the index of a node; battery negative is -1."""
        return -1 if node == GROUND else self.node[node]


def compile_netlist(netlist: Netlist) -> Compiled:
    """Number nodes and elements and lay the characteristics out, padded to equal length."""
    node = {name: i for i, name in enumerate(netlist.nodes)}
    index = {e.id: i for i, e in enumerate(netlist.elements)}
    width = max(len(e.shape.g) for e in netlist.elements)
    count = len(netlist.elements)
    breaks = np.full((count, width - 1), np.inf)
    g = np.zeros((count, width))
    i0 = np.zeros((count, width))
    start = np.zeros(count, dtype=np.int64)
    for i, element in enumerate(netlist.elements):
        shape = element.shape
        pieces = len(shape.g)
        breaks[i, : pieces - 1] = shape.breaks
        g[i, :pieces], g[i, pieces:] = shape.g, shape.g[-1]
        i0[i, :pieces], i0[i, pieces:] = shape.i0, shape.i0[-1]
        start[i] = sum(1 for b in shape.breaks if b < 0.0)

    def at(name: str) -> int:
        return -1 if name == GROUND else node[name]

    branches = Branches(
        nodes=len(node),
        a=np.array([at(e.a) for e in netlist.elements], dtype=np.int64),
        b=np.array([at(e.b) for e in netlist.elements], dtype=np.int64),
        breaks=breaks,
        g=g,
        i0=i0,
        start=start,
        latches=_latches(netlist, index),
    )
    emf = np.array([[e.emf_v] for e in netlist.elements])
    return Compiled(
        netlist=netlist,
        branches=branches,
        node=MappingProxyType(node),
        element=MappingProxyType(index),
        emf=emf,
    )


def _latches(netlist: Netlist, index: Mapping[str, int]) -> tuple[Latch, ...]:
    contacts: dict[str, list[Element]] = {}
    for element in netlist.elements:
        if element.coil is not None:
            contacts.setdefault(element.coil, []).append(element)
    latches = []
    for coil in netlist.elements:
        if coil.kind == "coil" and coil.pull_in_a is not None and coil.drop_out_a is not None:
            mine = contacts.get(coil.id, [])
            latches.append(
                Latch(
                    coil=index[coil.id],
                    pull_in_a=coil.pull_in_a,
                    drop_out_a=coil.drop_out_a,
                    makes=tuple(index[c.id] for c in mine if c.closed_when_pulled_in),
                    breaks=tuple(index[c.id] for c in mine if not c.closed_when_pulled_in),
                )
            )
    return tuple(latches)


def scale_of(netlist: Netlist, states: Sequence[State]) -> FloatArray:
    """Return the nominal scale of each element in each state, shape (B, L): 1 where it conducts, else nearly nothing.

    Elements share few different conditions, so each condition is asked once per state.
    """
    joined = [netlist.joined(s) for s in states]
    rows: dict[tuple[object, ...], FloatArray] = {}
    out = np.empty((len(netlist.elements), len(states)))
    for i, element in enumerate(netlist.elements):
        row = rows.get(element.when)
        if row is None:
            row = np.array([1.0 if element.conducts(s, n) else OPEN_RATIO for s, n in zip(states, joined, strict=True)])
            rows[element.when] = row
        out[i] = row
    return out


def emf_of(compiled: Compiled, battery_v: float | None = None) -> FloatArray:
    """Return the source voltage of each element, shape (B, 1), with the battery at `battery_v` where given [V]."""
    emf = compiled.emf.copy()
    if battery_v is not None:
        emf[compiled.element["v:battery"], 0] = battery_v
    return emf
