"""What a pin of the untouched car should read, in the states that tell its wire from others."""

from dataclasses import dataclass

from loomwright.documents.car import Car
from loomwright.network.asking import moves_by_itself, telling_states
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.held import driven
from loomwright.network.joining import bare_netlist
from loomwright.network.paths import pin_nodes
from loomwright.network.solver import solve
from loomwright.network.states import State

__all__ = ["PinLevel", "pin_levels"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PinLevel:
    """The nominal voltage of a pin in one state [V]; None where nothing holds the wire."""

    state: State
    volts: float | None
    moves: bool  # data or pulses: a meter shows a mean


def pin_levels(car: Car, pin: str) -> tuple[PinLevel, ...]:
    """Return the levels of a pin with everything at its nominal value; none for wires that are never measured.

    Parameters
    ----------
    car
        The car, without a kit.
    pin
        'plug/pin', which must have a circuit.

    Raises
    ------
    KeyError
        Where no circuit sits in the pin.
    """
    circuit = car.circuits[car.pins[pin].circuit]
    states = [State(stage="bare", key=key, active=active) for key, active in telling_states(car, circuit)]
    compiled = compile_netlist(bare_netlist(car))
    node = next((n for n in pin_nodes(pin) if n in compiled.node), None)
    if not states or node is None or circuit.function == "restraint":
        return ()
    scale = scale_of(compiled.netlist, states)
    found = solve(compiled.branches, scale, emf_of(compiled))
    held = driven(compiled.branches, found, scale)
    at = compiled.at(node)
    return tuple(
        PinLevel(
            state=state, volts=float(found.voltage[at, lane]) if held[at, lane] else None,
            moves=moves_by_itself(circuit, state),
        )
        for lane, state in enumerate(states)
    )  # fmt: skip
