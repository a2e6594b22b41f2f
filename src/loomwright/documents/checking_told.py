"""Advice on a family: wires that a kit drives or reads and that no state of the car tells from their neighbours."""

from loomwright.documents._notes import Notes
from loomwright.documents._words import quoted
from loomwright.documents.behaviour import GroundSwitch, InputWire, RelayTrigger, SwitchedFeed, SwitchedGround
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.vehicle import Circuit, Vehicle

__all__ = ["advise_vehicle"]


def advise_vehicle(notes: Notes, vehicle: Vehicle) -> None:
    """Write down every circuit that a kit joins and whose reading never changes, whatever a person does.

    Nothing is wrong with such a document; but a buyer who holds a meter to the wire cannot tell it from the one beside.
    """
    for index, circuit in enumerate(vehicle.circuits):
        if FUNCTIONS[circuit.function].kit in ("drive", "sense") and _never_changes(circuit):
            notes.add(
                ("circuits", index, "path"),
                f"no switch on the way of {quoted(circuit.id)} ({circuit.function}), so that it always reads the same",
                "a step with 'closed_when'",
                "add the switch that works it",
            )


def _never_changes(circuit: Circuit) -> bool:
    if any(step.closed_when is not None for step in circuit.path):
        return False
    behaviour = circuit.behaviour
    if isinstance(behaviour, SwitchedFeed | InputWire | SwitchedGround):
        return behaviour.fed_by is None  # else it comes and goes with what feeds it
    return isinstance(behaviour, GroundSwitch | RelayTrigger)
