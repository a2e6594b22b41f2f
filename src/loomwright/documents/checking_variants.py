"""Checks that make every buildable car of a family: what no single line of the document shows."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice

from loomwright.documents._notes import Notes
from loomwright.documents._tree import Path
from loomwright.documents._words import quoted, show
from loomwright.documents.basis import holds
from loomwright.documents.behaviour import FED, ReversingLeg
from loomwright.documents.car import expand, resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.vehicle import Circuit, Plug, Traits, Vehicle

__all__ = ["check_variants", "variant_words"]

MOST_VARIANTS = 4000
"""A family with more buildable cars than this is two families; making them all would take minutes."""

# Without these nothing can be decided about a car: what it is, how it starts and what keeps it from moving.
_NEEDED_TRAITS = ("fuel", "drive", "gearbox", "key", "start_style", "park_interlock", "immobiliser")
# Traits that cannot be true of one car.
_IMPOSSIBLE: tuple[tuple[str, str, str, str], ...] = (
    ("key", "button", "start_style", "heavy feed"),
    ("key", "keyed", "start_style", "button"),
    ("key", "button", "immobiliser", "resistor key"),
    ("key", "button", "immobiliser", "cylinder sensor"),
)


def variant_words(choice: Mapping[str, str]) -> str:
    """Return a choice as a message names it: '2011, sedan, 2.4, base'."""
    return ", ".join(choice.values()) or "every car"


@dataclass(slots=True, kw_only=True)
class _Seen:
    """One fault and the variants that have it."""

    path: Path
    found: str
    expected: str
    advice: str
    variants: dict[str, None] = field(default_factory=dict)


@dataclass(slots=True, kw_only=True)
class _Gathering:
    """Faults by what they are about, so that each is told once with the first variant that has it."""

    seen: dict[Hashable, _Seen] = field(default_factory=dict)

    def add(self, choice: Mapping[str, str], path: Path, found: str, expected: str, advice: str) -> None:
        variant = variant_words(choice)
        fault = self.seen.setdefault((path, found), _Seen(path=path, found=found, expected=expected, advice=advice))
        fault.variants[variant] = None

    def tell(self, notes: Notes) -> None:
        for fault in self.seen.values():
            more = f" and {len(fault.variants) - 1} more" if len(fault.variants) > 1 else ""
            on = f"{next(iter(fault.variants))}{more}"
            notes.add(fault.path, f"{fault.found} (on {on})", fault.expected, fault.advice)


def check_variants(notes: Notes, vehicle: Vehicle, evidence: Sequence[Evidence]) -> None:
    """Write down what is wrong with any buildable car of a family whose conditions are sound."""
    choices = list(islice(variants(vehicle), MOST_VARIANTS + 1))
    if not choices:
        notes.add(("not_built",), "no car left to build", "at least one combination", "delete a line of 'not_built'")
        return
    if len(choices) > MOST_VARIANTS:
        notes.add(("axes",), f"more than {MOST_VARIANTS} buildable cars", "a smaller family", "split it into two")
        return
    gathering = _Gathering()
    every = frozenset(pin for plug in vehicle.plugs for pin in _pins_of(plug))
    for choice in choices:
        plugs = _check_plugs(gathering, vehicle, choice)
        kept = list(_kept(vehicle, choice))
        _check_ids(gathering, choice, kept)
        _check_pins(gathering, every, choice, kept, plugs)
        _check_feeders(gathering, choice, kept)
        _check_traits(gathering, vehicle, choice)
        resolve(vehicle, choice, evidence)
    gathering.tell(notes)
    _check_conditions_used(notes, vehicle, choices)


def _true(vehicle: Vehicle, condition: Mapping[str, tuple[str, ...]], choice: Mapping[str, str]) -> bool:
    if not condition:
        return True
    axes = {axis.id: axis for axis in vehicle.axes}
    return holds({axis: expand(axes[axis], values) for axis, values in condition.items()}, choice)


def _stands(vehicle: Vehicle, part: Circuit | Plug, choice: Mapping[str, str]) -> bool:
    return _true(vehicle, part.only, choice) and not (part.except_ and _true(vehicle, part.except_, choice))


def _kept(vehicle: Vehicle, choice: Mapping[str, str]) -> Iterator[tuple[int, Circuit]]:
    return ((i, circuit) for i, circuit in enumerate(vehicle.circuits) if _stands(vehicle, circuit, choice))


def _check_plugs(gathering: _Gathering, vehicle: Vehicle, choice: Mapping[str, str]) -> dict[str, Plug]:
    plugs: dict[str, Plug] = {}
    for index, plug in enumerate(vehicle.plugs):
        if not _stands(vehicle, plug, choice):
            continue
        if plug.id in plugs:
            gathering.add(
                choice,
                ("plugs", index, "id"),
                f"a second plug {quoted(plug.id)}",
                "one plug of each id",
                "rename one, or give the two disjoint conditions",
            )
        plugs[plug.id] = plug
    return plugs


def _check_ids(gathering: _Gathering, choice: Mapping[str, str], kept: Sequence[tuple[int, Circuit]]) -> None:
    ids: set[str] = set()
    for index, circuit in kept:
        if circuit.id in ids:
            gathering.add(
                choice,
                ("circuits", index, "id"),
                f"a second circuit {quoted(circuit.id)}",
                "one circuit of each id",
                "rename one, or give the two disjoint conditions",
            )
        ids.add(circuit.id)


def _pins_of(plug: Plug) -> Iterator[str]:
    return (f"{plug.id}/{pin}" for row in plug.face.rows for pin in row if pin is not None)


def _check_pins(
    gathering: _Gathering,
    every: frozenset[str],  # pins that any car of the family has
    choice: Mapping[str, str],
    kept: Sequence[tuple[int, Circuit]],
    plugs: Mapping[str, Plug],
) -> None:
    occupied: dict[str, Circuit] = {}
    here = {pin for plug in plugs.values() for pin in _pins_of(plug)}
    for index, circuit in kept:
        for step, segment in enumerate(circuit.path):
            for key, end in (("from", segment.from_), ("to", segment.to)):
                if end not in every:
                    continue  # no pin, or one that no car has: told with the path itself
                path = ("circuits", index, "path", step, key)
                plug_id = end.partition("/")[0]
                if plug_id not in plugs:
                    gathering.add(
                        choice,
                        ("circuits", index, "path"),
                        f"the plug {quoted(plug_id)}, which the car does not have",
                        "plugs that every car with this circuit has",
                        "give the circuit the condition of the plug, or correct the path",
                    )
                elif end not in here:
                    gathering.add(
                        choice,
                        path,
                        f"{quoted(end)}, which the plug of the car does not have",
                        "a pin that every car with this circuit has",
                        "correct the pin, or give the circuit the condition of the plug",
                    )
                elif (other := occupied.setdefault(end, circuit)) is not circuit:
                    gathering.add(
                        choice,
                        path,
                        f"{quoted(end)}, where the circuit {quoted(other.id)} sits",
                        "one circuit in a pin",
                        "correct the pin, or give the two disjoint conditions",
                    )


def _check_feeders(gathering: _Gathering, choice: Mapping[str, str], kept: Sequence[tuple[int, Circuit]]) -> None:
    ids = {circuit.id for _, circuit in kept}
    for index, circuit in kept:
        behaviour = circuit.behaviour
        key, feeder = "fed_by", behaviour.fed_by if isinstance(behaviour, FED) else None
        if isinstance(behaviour, ReversingLeg):
            key, feeder = "partner", behaviour.partner
        if feeder is not None and feeder not in ids:
            gathering.add(
                choice,
                ("circuits", index, "behaviour", key),
                f"{quoted(feeder)}, which the car does not have",
                "a circuit that every such car has",
                "give both circuits the same condition",
            )


def _check_traits(gathering: _Gathering, vehicle: Vehicle, choice: Mapping[str, str]) -> None:
    said: dict[str, tuple[int, object]] = {}
    for index, traits in enumerate(vehicle.traits):
        if not _true(vehicle, traits.only, choice):
            continue
        for name in set(Traits.model_fields) - {"only"}:
            value = getattr(traits, name)
            if value is None:
                continue
            if name in said and said[name][1] != value:
                gathering.add(
                    choice,
                    ("traits", index, name),
                    f"{show(value)}, where another entry says {show(said[name][1])}",
                    "one value for a car",
                    "correct one, or give the two disjoint conditions",
                )
            said[name] = (index, value)
    for name in _NEEDED_TRAITS:
        if name not in said:
            gathering.add(
                choice,
                ("traits",),
                f"no {quoted(name)}",
                "this trait for every car",
                f"add {quoted(name)} to an entry that covers it",
            )
    for one, value, other, clash in _IMPOSSIBLE:
        if one in said and other in said and (said[one][1], said[other][1]) == (value, clash):
            gathering.add(
                choice,
                ("traits", said[other][0], other),
                f"{quoted(clash)} on a car whose {one} is {value}",
                "traits that one car can have",
                "correct one of the two",
            )


def _check_conditions_used(notes: Notes, vehicle: Vehicle, choices: Sequence[Mapping[str, str]]) -> None:
    """Write down a plug or circuit that no buildable car has: its condition is not what somebody meant."""
    parts: tuple[tuple[str, Sequence[Circuit | Plug]], ...] = (("plugs", vehicle.plugs), ("circuits", vehicle.circuits))
    for key, listed in parts:
        for index, part in enumerate(listed):
            if not any(_stands(vehicle, part, choice) for choice in choices):
                which = "only" if part.only else "except"
                notes.add(
                    (key, index, which),
                    "a condition that no buildable car meets",
                    "one that some car meets",
                    "correct it, or delete the entry",
                )
