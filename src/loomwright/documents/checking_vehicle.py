"""Checks of a vehicle family's document that need no variant: axes, places, plugs, circuits and who feeds whom."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from loomwright.documents._notes import Notes
from loomwright.documents._tree import Path
from loomwright.documents._words import quoted
from loomwright.documents.behaviour import FED, ReversingLeg
from loomwright.documents.checking_paths import check_path
from loomwright.documents.checking_variants import check_variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.vehicle import Circuit, GroundPoint, Hazard, Plug, Vehicle

__all__ = ["check_vehicle"]


def check_vehicle(notes: Notes, vehicle: Vehicle, evidence: Sequence[Evidence]) -> None:
    """Write down every fault of the family; where its conditions are sound, every buildable variant is made too."""
    _check_axes(notes, vehicle)
    _check_places(notes, vehicle)
    for index, plug in enumerate(vehicle.plugs):
        _check_face(notes, ("plugs", index, "face"), plug)
    # Of plugs that stand twice under disjoint conditions the bigger face decides here; the variants look closer.
    plugs = {plug.id: plug for plug in sorted(vehicle.plugs, key=lambda plug: sum(map(len, plug.face.rows)))}
    for index, circuit in enumerate(vehicle.circuits):
        check_path(notes, ("circuits", index), circuit, plugs)
    fed = _check_feeding(notes, vehicle) and _check_legs(notes, vehicle)
    sound = [notes.condition(path, condition, vehicle.axes) for path, condition in _conditions(vehicle)]
    if all(sound) and fed:
        check_variants(notes, vehicle, evidence)


def _conditions(vehicle: Vehicle) -> Iterator[tuple[Path, Mapping[str, tuple[str, ...]]]]:
    for index, never in enumerate(vehicle.not_built):
        yield ("not_built", index), never
    for index, traits in enumerate(vehicle.traits):
        yield ("traits", index, "only"), traits.only
    for index, plug in enumerate(vehicle.plugs):
        yield ("plugs", index, "only"), plug.only
        yield ("plugs", index, "except"), plug.except_
    for index, ground in enumerate(vehicle.grounds):
        yield ("grounds", index, "only"), ground.only
    for index, circuit in enumerate(vehicle.circuits):
        yield ("circuits", index, "only"), circuit.only
        yield ("circuits", index, "except"), circuit.except_
    for index, hazard in enumerate(vehicle.hazards):
        yield ("hazards", index, "only"), hazard.only


def _check_axes(notes: Notes, vehicle: Vehicle) -> None:
    notes.once([(("axes", i, "id"), axis.id) for i, axis in enumerate(vehicle.axes)], "id")
    for index, axis in enumerate(vehicle.axes):
        at = ("axes", index, "values")
        notes.once([((*at, i, "value"), value.value) for i, value in enumerate(axis.values)], "value")
        notes.once([((*at, i, "cue"), value.cue) for i, value in enumerate(axis.values)], "cue")


def _check_places(notes: Notes, vehicle: Vehicle) -> None:
    notes.once([(("places", i, "id"), place.id) for i, place in enumerate(vehicle.places)], "id")
    notes.once([(("grounds", i, "id"), ground.id) for i, ground in enumerate(vehicle.grounds)], "id")
    notes.once([(("hazards", i, "id"), hazard.id) for i, hazard in enumerate(vehicle.hazards)], "id")
    for index, place in enumerate(vehicle.places):
        _check_actions(notes, ("places", index, "access"), place.access)
    places = [place.id for place in vehicle.places]
    standing: tuple[tuple[str, Sequence[Plug | GroundPoint | Hazard]], ...] = (
        ("plugs", vehicle.plugs),
        ("grounds", vehicle.grounds),
        ("hazards", vehicle.hazards),
    )
    for key, parts in standing:
        for index, part in enumerate(parts):
            notes.known((key, index, "place"), part.place, places, "a place of this vehicle")


def _check_actions(notes: Notes, at: Path, actions: Sequence[str]) -> None:
    """In a list in square brackets a comma ends an action, also where it was meant as part of its sentence."""
    for index, (before, action) in enumerate(pairwise(actions), 1):
        if action[:1].islower() and before[-1:] not in ".!?":
            notes.add(
                (*at, index), quoted(action), "an action of its own, as a whole sentence",
                "put the whole sentence in quotes, since a comma without them begins a new action",
            )  # fmt: skip


def _check_face(notes: Notes, at: Path, plug: Plug) -> None:
    pins = [
        ((*at, "rows", r, i), pin)
        for r, row in enumerate(plug.face.rows)
        for i, pin in enumerate(row)
        if pin is not None
    ]
    notes.once(pins, "pin")
    names = [pin for _, pin in pins]
    for index, pin in enumerate(plug.face.large):
        notes.known((*at, "large", index), pin, names, "a pin of this face")


def _fed_by(circuit: Circuit) -> str | None:
    behaviour = circuit.behaviour
    return behaviour.fed_by if isinstance(behaviour, FED) else None


def _check_feeding(notes: Notes, vehicle: Vehicle) -> bool:
    """Tell whether every circuit that another feeds names one that exists, ends at a load and is not fed by itself."""
    by_id = {circuit.id: circuit for circuit in vehicle.circuits}
    sound = True
    for index, circuit in enumerate(vehicle.circuits):
        at = ("circuits", index, "behaviour", "fed_by")
        feeder = _fed_by(circuit)
        if feeder is None:
            continue
        if not notes.known(at, feeder, by_id, "a circuit of this vehicle"):
            sound = False
            continue
        if not any("load" in (step.from_, step.to) for step in by_id[feeder].path):
            notes.add(
                at,
                f"{quoted(feeder)}, whose path has no end 'load'",
                "a circuit with an end 'load'",
                "name the end that feeds this circuit 'load'",
            )
        chain = [circuit.id]
        while feeder is not None and feeder in by_id and feeder not in chain:
            chain.append(feeder)
            feeder = _fed_by(by_id[feeder])
        # Of a circle its first circuit is told.
        if feeder == circuit.id and circuit.id == next(name for name in by_id if name in chain):
            circle = " <- ".join([*chain, circuit.id])
            notes.add(at, f"a circle of feeds, {circle}", "a chain that ends at the battery", "correct one 'fed_by'")
        sound &= feeder != circuit.id
    return sound


def _check_legs(notes: Notes, vehicle: Vehicle) -> bool:
    """Tell whether every leg of a reversing motor names another leg; several motors may share one."""
    by_id = {circuit.id: circuit.behaviour for circuit in vehicle.circuits}
    sound = True
    for index, circuit in enumerate(vehicle.circuits):
        if not isinstance(circuit.behaviour, ReversingLeg):
            continue
        at, partner = ("circuits", index, "behaviour", "partner"), circuit.behaviour.partner
        other = by_id.get(partner)
        if not notes.known(at, partner, by_id, "a circuit of this vehicle"):
            sound = False
        elif not isinstance(other, ReversingLeg) or partner == circuit.id:
            notes.add(
                at,
                f"{quoted(partner)}, which is no other leg of a motor",
                "another circuit of the template 'reversing leg'",
                "name the leg at the other end of the motor",
            )
            sound = False
    return sound
