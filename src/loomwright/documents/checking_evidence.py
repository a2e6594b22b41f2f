"""Checks of evidence and of a shop's pinned routes against the vehicles they speak of."""

from collections.abc import Mapping, Sequence

from loomwright.documents._notes import Notes
from loomwright.documents._tree import Path
from loomwright.documents._words import quoted
from loomwright.documents.basis import holds
from loomwright.documents.car import expand, variants
from loomwright.documents.evidence import Evidence, EvidenceRecord
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle

__all__ = ["check_evidence", "check_shop"]


def check_evidence(notes: Notes, evidence: Evidence, vehicles: Mapping[str, Vehicle], *, whole: bool = True) -> None:
    """Write down every record that says nothing, or speaks of what its vehicle does not have.

    Where `vehicles` are not the whole shop's, evidence about another one is let be.
    """
    for index, record in enumerate(evidence.records):
        _check_record(notes, ("records", index), record)
    if not whole and evidence.vehicle not in vehicles:
        return
    if not vehicles or not notes.known(("vehicle",), evidence.vehicle, vehicles, "a vehicle of this shop"):
        return
    vehicle = vehicles[evidence.vehicle]
    circuits = [circuit.id for circuit in vehicle.circuits]
    choices = _choices(vehicle)
    for index, record in enumerate(evidence.records):
        at = ("records", index)
        notes.known((*at, "circuit"), record.circuit, circuits, "a circuit of the vehicle")
        if record.claims.pin is not None:
            _check_pin(notes, (*at, "claims", "pin"), record.claims.pin, vehicle)
        if notes.condition((*at, "scope"), record.scope, vehicle.axes) and not _covers_a_car(vehicle, choices, record):
            notes.add((*at, "scope"), "a scope that no buildable car meets", "one that some car meets", "correct it")


def check_shop(notes: Notes, shop: Shop, vehicles: Mapping[str, Vehicle], *, whole: bool = True) -> None:
    """Write down every pinned route of a vehicle or pin that does not exist; of others than the whole shop's, none."""
    if not vehicles:
        return
    for index, pinned in enumerate(shop.pinned):
        at = ("pinned", index)
        if not whole and pinned.vehicle not in vehicles:
            continue
        if notes.known((*at, "vehicle"), pinned.vehicle, vehicles, "a vehicle of this shop") and pinned.pin is not None:
            vehicle = vehicles[pinned.vehicle]
            _check_pin(notes, (*at, "pin"), pinned.pin, vehicle)
            _check_function(notes, (*at, "pin"), pinned.pin, pinned.function, vehicle)


def _check_record(notes: Notes, at: Path, record: EvidenceRecord) -> None:
    claims = record.claims
    for key, word in (("colour", claims.colour), ("stripe", claims.stripe)):
        if word is not None:
            notes.colour((*at, "claims", key), word)
    if not any((claims.colour, claims.stripe, claims.pin, claims.kind, record.reading)):
        notes.add(
            (*at, "claims"),
            "a record that claims nothing",
            "a colour, pin, kind or reading",
            "write down what was seen, or delete the record",
        )
    if record.how == "measured" and record.reading is None:
        notes.add(
            (*at, "reading"),
            "a measurement without its reading",
            "what the meter showed, and in which state",
            "add the key 'reading', or say how it is known instead",
        )


def _check_pin(notes: Notes, at: Path, pin: str, vehicle: Vehicle) -> None:
    plug, _, _ = pin.partition("/")
    known = [f"{p.id}/{name}" for p in vehicle.plugs for row in p.face.rows for name in row if name is not None]
    if pin not in known:
        near = [name for name in known if name.startswith(f"{plug}/")]
        advice = f"choose one of {near[0]} to {near[-1]}" if near else "write it as 'plug/pin'"
        notes.add(at, quoted(pin), "a pin of the vehicle", advice)


def _check_function(notes: Notes, at: Path, pin: str, function: str, vehicle: Vehicle) -> None:
    here = [
        circuit.function for circuit in vehicle.circuits if any(pin in (step.from_, step.to) for step in circuit.path)
    ]
    if here and function not in here:
        notes.add(
            at,
            f"{quoted(pin)}, where the {here[0]} circuit sits",
            f"a pin of a {function} circuit",
            "correct the pin or the function",
        )


def _choices(vehicle: Vehicle) -> tuple[Mapping[str, str], ...]:
    """Return every buildable car; none where what is never built names an axis that the vehicle does not have."""
    axes = {axis.id for axis in vehicle.axes}
    return tuple(variants(vehicle)) if all(never.keys() <= axes for never in vehicle.not_built) else ()


def _covers_a_car(vehicle: Vehicle, choices: Sequence[Mapping[str, str]], record: EvidenceRecord) -> bool:
    axes = {axis.id: axis for axis in vehicle.axes}
    scope = {axis: expand(axes[axis], values) for axis, values in record.scope.items()}
    return not choices or any(holds(scope, choice) for choice in choices)
