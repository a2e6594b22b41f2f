"""Two cars side by side: only what differs between their circuits."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.documents.basis import holds
from loomwright.documents.vehicle import Circuit
from loomwright.documents.writing import plain_of
from loomwright.web.forms.draft import Draft

__all__ = ["Difference", "circuits_in", "differences", "some_values", "taken_over"]

_UNITS = {"a": "A", "ohm": "ohm", "s": "s", "v": "V"}  # ending of a key -> its unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One circuit that differs: what, how it is here, and how it is there; of one that only one car has, no points."""

    id: str
    name: str
    here: bool
    there: bool
    points: tuple[tuple[str, str, str], ...]


def some_values(draft: Draft, wished: Mapping[str, str]) -> dict[str, str]:
    """Return a value of each axis: the one wished where the axis has it, else its first."""
    return {
        axis: wished[axis] if wished.get(axis) in values else values[0] for axis, values in draft.axis_values if values
    }


def circuits_in(draft: Draft, choice: Mapping[str, str]) -> dict[str, tuple[int, Circuit]]:
    """Return the circuits that a car of the family has: id -> place in the list, circuit."""

    def within(condition: Mapping[str, tuple[str, ...]]) -> bool:
        spelt = {axis: draft.values_named(axis, values) for axis, values in condition.items() if axis in choice}
        return holds(spelt, choice)

    return {
        circuit.id: (index, circuit)
        for index, circuit in draft.circuits
        if within(circuit.only) and not (circuit.except_ and within(circuit.except_))
    }


def differences(here: Mapping[str, tuple[int, Circuit]], there: Mapping[str, tuple[int, Circuit]]) -> (
    tuple[Difference, ...]
):  # fmt: skip
    """Return what differs, in the order of the circuits here; what only the other car has comes last.

    Circuits are the same where they have the same id, or else where each car has just one of their function.
    """
    pairs = {id: id for id in here if id in there}
    alone_here = _by_function(here, set(pairs))
    alone_there = _by_function(there, set(pairs.values()))
    pairs |= {alone_here[f]: alone_there[f] for f in alone_here if f in alone_there}
    found = []
    for id, (_, circuit) in here.items():
        other = pairs.get(id)
        if other is None:
            found.append(_one(circuit, here=True))
            continue
        mine, theirs = _facts(circuit), _facts(there[other][1])
        points = tuple(
            (what, mine.get(what, ""), theirs.get(what, ""))
            for what in {**mine, **theirs}
            if mine.get(what) != theirs.get(what)
        )
        if points:
            name = circuit.name or circuit.function
            found.append(Difference(id=other, name=name, here=True, there=True, points=points))
    found += [_one(circuit, here=False) for id, (_, circuit) in there.items() if id not in pairs.values()]
    return tuple(found)


def _one(circuit: Circuit, *, here: bool) -> Difference:
    points = tuple((what, said if here else "", "" if here else said) for what, said in _facts(circuit).items())
    name = circuit.name or circuit.function
    return Difference(id=circuit.id, name=name, here=here, there=not here, points=points)


def _by_function(circuits: Mapping[str, tuple[int, Circuit]], paired: set[str]) -> dict[str, str]:
    """Return the circuits without a partner that are the only one of their function."""
    free: dict[str, list[str]] = {}
    for id, (_, circuit) in circuits.items():
        if id not in paired:
            free.setdefault(circuit.function, []).append(id)
    return {function: ids[0] for function, ids in free.items() if len(ids) == 1 and function != "other"}


def _facts(circuit: Circuit) -> dict[str, str]:
    """Return what can differ, each as it is said."""
    facts: dict[str, str] = {"What it is for": circuit.function, "Behaves as": circuit.behaviour.template}
    for key, value in plain_of(circuit.behaviour).items():
        if key != "template":
            facts[_named(key)] = _said(value)
    ends = dict.fromkeys(end for step in circuit.path for end in (step.from_, step.to) if "/" in end)
    facts["Pins"] = ", ".join(ends)
    for end in ends:
        wire = next((s for s in circuit.path if s.colour is not None and end in (s.from_, s.to)), None)
        if wire is not None:
            colour = f"{wire.colour}/{wire.stripe}" if wire.stripe else f"{wire.colour}"
            facts[f"Wire at {end}"] = f"{colour}, {wire.area_mm2:g} mm²"
    closed = [f"{s.closed_when}{f' ({s.switch})' if s.switch else ''}" for s in circuit.path if s.closed_when]
    fuses = [f"{s.fuse_a:g} A" for s in circuit.path if s.fuse_a is not None]
    facts |= {"Closed when": ", ".join(closed)} if closed else {}
    facts |= {"Fuse": ", ".join(fuses)} if fuses else {}
    return facts


def _named(key: str) -> str:
    """Return what a key says, its unit behind a comma: ``load_a`` is 'Load, A'."""
    words, _, unit = key.rpartition("_")
    named = f"{words.replace('_', ' ')}, {_UNITS[unit]}" if words and unit in _UNITS else key.replace("_", " ")
    return named[:1].upper() + named[1:]


def _said(value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {_said(inner)}" for key, inner in value.items())
    if isinstance(value, list):
        return ", ".join(_said(inner) for inner in value)
    return f"{value:g}" if isinstance(value, float) else {True: "yes", False: "no"}.get(value, str(value))


def taken_over(theirs: Circuit, mine: Circuit | None) -> dict[str, Any]:
    """Return a circuit of the other car for this one: its wires and behaviour, under the id and conditions of ours."""
    raw = plain_of(theirs)
    for key in ("only", "except"):
        raw.pop(key, None)
    if mine is not None:
        ours = plain_of(mine)
        raw |= {key: ours[key] for key in ("id", "only", "except") if key in ours}
    return raw
