"""Joints moved to wrong pins: one netlist with every wrong joint in it, each lane making one of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from loomwright.faults.landing import Landing
from loomwright.network.branches import OPEN_RATIO, FloatArray
from loomwright.network.commands import command_table, momentary_commands
from loomwright.network.compiling import Compiled, compile_netlist, emf_of, scale_of
from loomwright.network.elements import Element, Netlist, relabel
from loomwright.network.joining import joined_netlist
from loomwright.network.paths import pin_nodes
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.network.stories import stimuli_of
from loomwright.planning.installation import Installation, Joint

__all__ = ["Misjoined", "Mistake", "harm_states", "misjoined"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One joint made at a wrong pin."""

    joint: Joint
    landing: Landing


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Misjoined:
    """Every mistake solved in every state: voltage (N, mistakes, states) [V], current (B, mistakes, states) [A]."""

    compiled: Compiled
    mistakes: tuple[Mistake, ...]
    states: tuple[State, ...]
    voltage: FloatArray
    current: FloatArray


def harm_states(installation: Installation) -> tuple[State, ...]:
    """Return the states in which a wrong joint may do harm: the car on its key, each stimulus, the kit at work."""
    running = frozenset({"engine running"})
    states = [State(stage="fitted", key=key) for key in ("off", "acc", "run", "crank")]
    states.append(State(stage="fitted", key="run", active=running))
    for stimulus in stimuli_of(installation.car):
        if stimulus not in ("engine running", "awake"):
            states.append(State(stage="fitted", key="run", active=frozenset({stimulus})))
    table = command_table(installation)
    states += [
        State(stage="fitted", commands=table["ignition on"]),
        State(stage="fitted", commands=table["cranking"]),
        State(stage="fitted", commands=table["running"], active=running),
    ]
    states += [State(stage="fitted", commands=frozenset({c})) for c in momentary_commands(installation)]
    return tuple(states)


def _wrong_node(mistake: Mistake, nodes: Mapping[str, object]) -> str:
    """Return the node a wrong joint lands on: the T's own wire where the T carries that pin, else the car's wire."""
    through = f"t:{mistake.landing.pin}:a"
    return through if mistake.joint.kind == "T tapped" and through in nodes else pin_nodes(mistake.landing.pin)[0]


def misjoined(installation: Installation, mistakes: Sequence[Mistake], states: Sequence[State]) -> Misjoined:
    """Solve every mistake in every state, each from rest, in one batch.

    Raises SolveError where a state does not settle, which would be a fault of this program.
    """
    netlist = joined_netlist(installation)
    by_id = {e.id: e for e in netlist.elements}
    known = dict.fromkeys(netlist.nodes)
    extra: list[Element] = []
    for n, mistake in enumerate(mistakes):
        right = by_id[mistake.joint.id]
        extra.append(relabel(right, id=f"wrong:{n}", b=_wrong_node(mistake, known), when=()))
    with_wrong = Netlist.of([*netlist.elements, *extra], netlist.joints_made)
    compiled = compile_netlist(with_wrong)
    base = scale_of(with_wrong, states)
    count, width = len(mistakes), len(states)
    scale = np.tile(base, (1, count))
    for n, mistake in enumerate(mistakes):
        lanes = slice(n * width, (n + 1) * width)
        scale[compiled.element[mistake.joint.id], lanes] *= OPEN_RATIO
        scale[compiled.element[f"wrong:{n}"], lanes] = 1.0
    found = solve(compiled.branches, np.maximum(scale, OPEN_RATIO**2), emf_of(compiled))
    return Misjoined(
        compiled=compiled,
        mistakes=tuple(mistakes),
        states=tuple(states),
        voltage=found.voltage.reshape(-1, count, width),
        current=found.current.reshape(-1, count, width),
    )
