"""Every state of every story solved, relays carried along; and the way a current takes through the netlist."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loomwright.network.branches import BoolArray, FloatArray
from loomwright.network.compiling import Compiled, compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Netlist
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.network.stories import Story

__all__ = ["Solved", "current_path", "solve_stories"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solved:
    """The operating points of a list of stories; lane l is state `states[l]` of story `story_of[l]`."""

    compiled: Compiled
    states: tuple[State, ...]
    story_of: tuple[str, ...]
    voltage: FloatArray  # (N, L) [V]
    current: FloatArray  # (B, L) [A], from a to b of each element
    latched: BoolArray  # (R, L)
    outcome: tuple[int, ...]  # per lane, as `latches.Outcome`
    residual: float
    points: int

    def volts(self, node: str, lane: int) -> float:
        """Return the voltage of a node in a lane [V]."""
        return 0.0 if node == GROUND else float(self.voltage[self.compiled.node[node], lane])

    def amps(self, element: str, lane: int) -> float:
        """Return the current of an element from its a to its b end [A]."""
        return float(self.current[self.compiled.element[element], lane])


def _history(stories: Sequence[Story]) -> tuple[list[tuple[State, ...]], dict[tuple[State, ...], int]]:
    """Return each different beginning of a story once, shortest first: many stories begin alike."""
    prefixes: dict[tuple[State, ...], int] = {}
    for story in stories:
        for n in range(1, len(story.states) + 1):
            prefixes.setdefault(story.states[:n], len(prefixes))
    ordered = sorted(prefixes, key=len)
    return ordered, {p: i for i, p in enumerate(ordered)}


def solve_stories(netlist: Netlist, stories: Sequence[Story], battery_v: float | None = None) -> Solved:
    """Solve each state with the relays as the state before it left them; equal beginnings are solved once.

    Raises SolveError where a state does not settle and does not chatter either, which would be a fault of this program.
    """
    compiled = compile_netlist(netlist)
    prefixes, lane_of = _history(stories)
    states = [p[-1] for p in prefixes]
    scale = scale_of(netlist, states)
    emf = emf_of(compiled, battery_v)
    relays = len(compiled.branches.latches)
    voltage = np.zeros((compiled.branches.nodes, len(prefixes)))
    current = np.zeros((len(netlist.elements), len(prefixes)))
    latched = np.zeros((relays, len(prefixes)), dtype=np.bool_)
    outcome = np.zeros(len(prefixes), dtype=np.int64)
    residual = 0.0
    for length in range(1, max(len(p) for p in prefixes) + 1):
        lanes = [i for i, p in enumerate(prefixes) if len(p) == length]
        before = np.zeros((relays, len(lanes)), dtype=np.bool_)
        if length > 1:
            before = latched[:, [lane_of[prefixes[i][:-1]] for i in lanes]]
        found = solve(compiled.branches, scale[:, lanes], emf, latched=before)
        voltage[:, lanes], current[:, lanes] = found.voltage, found.current
        latched[:, lanes], outcome[lanes] = found.latched, found.outcome
        residual = max(residual, float(found.kcl_a.max(initial=0.0)))
    story_of = {story.states[:n]: story.id for story in reversed(stories) for n in range(1, len(story.states) + 1)}
    return Solved(
        compiled=compiled,
        states=tuple(states),
        story_of=tuple(story_of[p] for p in prefixes),
        voltage=voltage,
        current=current,
        latched=latched,
        outcome=tuple(int(o) for o in outcome),
        residual=residual,
        points=len(prefixes),
    )


def current_path(solved: Solved, node: str, lane: int, limit: int = 40) -> tuple[str, ...]:
    """Return the elements through which most of the current reaches a node, from the source to the node.

    Walks upstream: at each node the element that brings in most current, until a source or battery negative is met.
    """
    elements = solved.compiled.netlist.elements
    meets: dict[str, list[tuple[int, bool]]] = {}
    for i, e in enumerate(elements):
        meets.setdefault(e.a, []).append((i, True))
        meets.setdefault(e.b, []).append((i, False))
    path: list[str] = []
    seen = {node}
    at = node
    while len(path) < limit:
        best, into, via = 1e-9, "", -1
        for i, at_a in meets.get(at, ()):
            inflow = -float(solved.current[i, lane]) if at_a else float(solved.current[i, lane])
            other = elements[i].b if at_a else elements[i].a
            if inflow > best and other not in seen:
                best, into, via = inflow, other, i
        if via < 0:
            break
        path.append(elements[via].id)
        if into == GROUND:
            break
        seen.add(into)
        at = into
    return tuple(reversed(path))
