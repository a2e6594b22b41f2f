"""Which circuits of a car do one job: those that each need driving, and those of which one is enough.

A wire that only asks a module (a switch to ground, a stepped input, a signal) and the output with which that module
then does the work are two places for the same thing: driving the first is enough. Two feeds of one function are two
jobs: each has its own load.
"""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.documents.behaviour import ReversingLeg, SteppedInput
from loomwright.documents.functions import FunctionName
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Situation

__all__ = ["HALVES", "SUBSTITUTES", "asked_through_the_whole", "circuits_for", "groups_for"]

SUBSTITUTES: Mapping[FunctionName, FunctionName] = MappingProxyType({
    "second ignition": "ignition",
    "second start": "start",
    "accessory 2": "accessory",
    "parking light left": "parking light",
    "parking light right": "parking light",
})
"""Which other output of the kit comes on at the same time and may serve the function through a diode or relay."""

HALVES: Mapping[FunctionName, FunctionName] = MappingProxyType({
    "parking light left": "parking light",
    "parking light right": "parking light",
})
"""Function that a car may have in two wires -> what both are to whoever uses it."""

_ASKS = frozenset({"ground switch", "stepped input", "input wire", "relay trigger", "start request"})
_WORKS = frozenset({"module output", "reversing leg"})
_SILENT = frozenset({"coded switch", "data wire", "pulse wire", "sensor wire", "airbag wire"})


def _does(circuit: Circuit, function: FunctionName) -> bool:
    behaviour = circuit.behaviour
    if isinstance(behaviour, SteppedInput) and any(step.function == function for step in behaviour.steps):
        return True
    if isinstance(behaviour, ReversingLeg) and function in ("lock", "unlock"):
        return behaviour.live_when == f"{function} pressed"
    return circuit.function == function


def circuits_for(at: Situation, function: FunctionName) -> tuple[Circuit, ...]:
    """Return the circuits by which a function can be worked: its own, steps of a stepped wire, legs of the motors."""
    return tuple(c for c in at.car.circuits.values() if _does(c, function))


def groups_for(at: Situation, function: FunctionName) -> tuple[tuple[str, ...], ...]:
    """Return the circuits of a function in groups; each group is one job, and one circuit of it is enough.

    What nobody can drive (data, a coded switch) counts only where there is nothing else.
    """
    circuits = circuits_for(at, function)
    asks = [c.id for c in circuits if c.behaviour.template in _ASKS]
    works = [c.id for c in circuits if c.behaviour.template in _WORKS]
    silent = [c.id for c in circuits if c.behaviour.template in _SILENT]
    rest = [c.id for c in circuits if c.id not in {*asks, *works, *silent}]
    if len(asks) == 1:
        groups = [(asks[0], *works), *((name,) for name in rest)]
    else:
        groups = [(name,) for name in (*asks, *rest, *(() if asks else works))]
    return tuple(groups) if groups else tuple((name,) for name in silent)


def asked_through_the_whole(at: Situation, function: FunctionName) -> bool:
    """Tell whether the lamps of one side are outputs of a module that the wire for both sides asks for."""
    whole = SUBSTITUTES.get(function)
    if whole is None or not function.startswith("parking light"):
        return False
    own = circuits_for(at, function)
    return all(c.behaviour.template in _WORKS for c in own) and any(
        c.behaviour.template in _ASKS for c in circuits_for(at, whole)
    )
