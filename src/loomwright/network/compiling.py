"""From a named netlist and a list of states to the arrays the lane solver takes."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from loomwright.network.branches import OPEN_RATIO, BoolArray, Branches, FloatArray, Latch
from loomwright.network.elements import GROUND, Element, Netlist, When
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

    Elements share few different conditions, so each is asked once, of all states together.
    """
    table = _StateTable(netlist, states)
    rows: dict[tuple[When, ...], FloatArray] = {}
    out = np.empty((len(netlist.elements), len(states)))
    for i, element in enumerate(netlist.elements):
        row = rows.get(element.when)
        if row is None:
            held = np.zeros(len(states), dtype=np.bool_)
            for when in element.when:
                held |= table.holds(when)
            row = rows[element.when] = np.where(held, 1.0, OPEN_RATIO)
        out[i] = row
    return out


class _StateTable:
    """Some states column by column, to ask one condition of all of them as `When.holds` asks it of one."""

    def __init__(self, netlist: Netlist, states: Sequence[State]) -> None:
        self._states = states
        self._joined = np.array([netlist.joined(state) for state in states])
        self._columns: dict[tuple[str, str], BoolArray] = {}
        self._held: dict[When, BoolArray] = {}

    def holds(self, when: When) -> BoolArray:
        """Tell in which states a condition holds, shape (L,)."""
        found = self._held.get(when)
        if found is None:
            found = np.ones(len(self._states), dtype=np.bool_)
            if when.keys is not None:
                found &= np.logical_or.reduce([self._column("key", key) for key in sorted(when.keys)], axis=0)
            for name, wanted in when.stimuli:
                found &= self._column("stimulus", name) == wanted
            if when.command is not None:
                found &= self._column("command", when.command)
            if when.joined_from is not None:
                found &= self._joined >= when.joined_from
            if when.joined_below is not None:
                found &= self._joined < when.joined_below
            if when.not_stage is not None:
                found &= ~self._column("stage", when.not_stage)
            self._held[when] = found
        return found

    def _column(self, what: str, name: str) -> BoolArray:
        found = self._columns.get((what, name))
        if found is None:
            asked: Callable[[State], bool] = {
                "key": lambda state: state.key == name,
                "stimulus": lambda state: state.holds(name),
                "command": lambda state: name in state.commands,
                "stage": lambda state: state.stage == name,
            }[what]
            found = self._columns[what, name] = np.array([asked(state) for state in self._states], dtype=np.bool_)
        return found


def emf_of(compiled: Compiled, battery_v: float | None = None) -> FloatArray:
    """Return the source voltage of each element, shape (B, 1), with the battery at `battery_v` where given [V]."""
    emf = compiled.emf.copy()
    if battery_v is not None:
        emf[compiled.element["v:battery"], 0] = battery_v
    return emf
