"""Which states tell a wire from another: what to ask a meter about each kind of circuit."""

from collections.abc import Sequence

from loomwright.documents.behaviour import (
    AirbagWire,
    BatteryFeed,
    CodedSwitch,
    DataWire,
    GroundSwitch,
    GroundWire,
    InputWire,
    KeyedFeed,
    KeyPosition,
    ModuleOutput,
    PulseWire,
    RelayTrigger,
    ReversingLeg,
    SensorWire,
    StartRequest,
    SteppedInput,
    SwitchedFeed,
    SwitchedGround,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.states import State

__all__ = ["lamp_never", "moves_by_itself", "stimuli_of_circuit", "telling_states"]

_RUNNING = frozenset({"engine running"})


def _feeding_key(car: Car, circuit: Circuit) -> KeyPosition:
    """Return the key position in which a circuit has its feed."""
    behaviour = circuit.behaviour
    if isinstance(behaviour, SwitchedFeed | SwitchedGround | InputWire | ModuleOutput) and behaviour.fed_by is not None:
        return _feeding_key(car, car.circuits[behaviour.fed_by])
    if isinstance(behaviour, KeyedFeed | StartRequest):
        return "run" if "run" in behaviour.live else "acc" if "acc" in behaviour.live else "crank"
    return "off"


def stimuli_of_circuit(circuit: Circuit) -> tuple[str, ...]:
    """Return the stimuli a circuit answers to: those of its path's switches and of its template."""
    behaviour = circuit.behaviour
    conditions = [s.closed_when for s in circuit.path if s.closed_when is not None]
    if isinstance(behaviour, ModuleOutput):
        conditions.append(behaviour.on_when)
    elif isinstance(behaviour, ReversingLeg):
        conditions.append(behaviour.live_when)
    elif isinstance(behaviour, SteppedInput):
        conditions += [step.when for step in behaviour.steps]
    elif isinstance(behaviour, StartRequest):
        conditions.append(behaviour.needs)
    elif isinstance(behaviour, KeyedFeed) and behaviour.retained:
        conditions.append("retained accessory")
    return tuple(dict.fromkeys(c.removeprefix("not ") for c in conditions))


def _stimuli(car: Car, circuit: Circuit) -> tuple[str, ...]:
    """Return the stimuli a circuit answers to, by its own switches or by those of the circuit that feeds it."""
    own = stimuli_of_circuit(circuit)
    behaviour = circuit.behaviour
    if isinstance(behaviour, SwitchedFeed | SwitchedGround | InputWire | ModuleOutput) and behaviour.fed_by is not None:
        return tuple(dict.fromkeys((*own, *_stimuli(car, car.circuits[behaviour.fed_by]))))
    return own


def telling_states(car: Car, circuit: Circuit) -> Sequence[tuple[KeyPosition, frozenset[str]]]:
    """Return (key, active stimuli) pairs that tell this circuit from others, the resting state first."""
    behaviour = circuit.behaviour
    none: frozenset[str] = frozenset()
    if isinstance(behaviour, AirbagWire | SensorWire):
        return ()
    if isinstance(behaviour, BatteryFeed):
        return (("off", none), ("run", none))
    if isinstance(behaviour, KeyedFeed | StartRequest | CodedSwitch):
        return (("off", none), ("acc", none), ("run", none), ("crank", none))
    if isinstance(behaviour, PulseWire):
        return (("run", none), ("run", _RUNNING))
    if isinstance(behaviour, DataWire | GroundWire):
        return (("run", none),)
    key = _feeding_key(car, circuit)
    if isinstance(behaviour, GroundSwitch) and key not in behaviour.works_in:
        key = behaviour.works_in[0]
    states = [(key, none)]
    states += [(key, frozenset({s})) for s in _stimuli(car, circuit)]
    if key != "off" and not isinstance(behaviour, GroundSwitch | RelayTrigger | SteppedInput | ReversingLeg):
        states.insert(0, ("off", none))
    return tuple(states)


def _closed(state: State, condition: str | None) -> bool:
    """Tell whether a switch of a path conducts in a state; what is no switch is not meant."""
    if condition is None:
        return False
    return state.holds(condition.removeprefix("not ")) is not condition.startswith("not ")


def moves_by_itself(circuit: Circuit | None, state: State) -> bool:
    """Tell whether a meter shows a moving average there: data, or pulses while the engine turns."""
    if circuit is None:
        return False
    if isinstance(circuit.behaviour, DataWire):
        return True
    behaviour = circuit.behaviour
    if isinstance(behaviour, GroundSwitch):
        return behaviour.polled < 1.0 and not any(_closed(state, s.closed_when) for s in circuit.path)
    if isinstance(behaviour, ModuleOutput):
        return behaviour.duty < 1.0 and _closed(state, behaviour.on_when)
    return isinstance(behaviour, PulseWire) and state.holds("engine running")


def lamp_never(circuit: Circuit) -> str | None:
    """Return why no lamp may touch a circuit at all, or None where the solved network may decide."""
    behaviour = circuit.behaviour
    if isinstance(behaviour, AirbagWire) or circuit.function == "restraint":
        return "airbag"
    if isinstance(behaviour, DataWire):
        return "data"
    if isinstance(behaviour, CodedSwitch | SteppedInput | StartRequest):
        return "electronic signal"
    if circuit.function == "immobiliser":
        return "immobiliser"
    if isinstance(behaviour, SensorWire | PulseWire):
        return "electronic signal"
    return None
