"""What the kit has to do in a car, from the terminals of the one and the circuits of the other."""

from collections.abc import Iterator
from typing import Literal, get_args

from loomwright.documents.functions import FUNCTIONS, FunctionName
from loomwright.planning.bus import services_of
from loomwright.planning.candidates import Situation, Task
from loomwright.planning.interface import SUBSTITUTES

__all__ = ["tasks_of"]

# A car that has such a circuit wants it driven, whatever the kit lists: its engine or its heater hangs on it.
_CAR_WANTS: frozenset[FunctionName] = frozenset({"second ignition", "second start", "accessory", "accessory 2"})

# A car may simply not have these; nothing is missing then.
_MAY_LACK: frozenset[FunctionName] = frozenset({
    "second ignition", "second start", "accessory 2", "parking light left", "parking light right", "wait-to-start",
    "key sense", "driver unlock", "factory alarm arm", "factory alarm disarm", "running status", "bus",
})  # fmt: skip

_FUNCTIONS: tuple[FunctionName, ...] = get_args(FunctionName)
_Need = Literal["required", "wanted", "helping"]
_OUTPUTS = frozenset({"relay output", "positive output", "negative output"})
_INPUTS = frozenset({"positive input", "negative input", "pulse input"})


def _terminals(at: Situation, function: FunctionName, kinds: frozenset[str]) -> tuple[str, ...]:
    return tuple(t.id for t in at.kit.controller.terminals if t.function == function and t.kind in kinds)


def _circuits(at: Situation, function: FunctionName) -> tuple[str, ...]:
    return tuple(c.id for c in at.car.circuits.values() if c.function == function)


def _feeds(at: Situation) -> Iterator[Task]:
    circuits = _circuits(at, "battery feed")
    inputs = at.power_inputs
    for terminal in inputs:
        yield Task(
            id="battery feed" if len(inputs) == 1 else f"battery feed:{terminal.id}", function="battery feed",
            kind="feed", need="required", circuits=circuits, terminals=(terminal.id,),
        )  # fmt: skip
    grounds = _terminals(at, "ground", frozenset({"ground"}))
    for name in grounds:
        yield Task(
            id="ground" if len(grounds) == 1 else f"ground:{name}", function="ground", kind="ground", need="required",
            circuits=(), terminals=(name,),
        )  # fmt: skip


def _wanted(at: Situation, function: FunctionName) -> bool:
    substitute = SUBSTITUTES.get(function)
    wished = function in at.kit.wanted or substitute in at.kit.wanted
    return wished or (function in _CAR_WANTS and bool(_circuits(at, function)))


def _drives(at: Situation) -> Iterator[Task]:
    for function in _FUNCTIONS:
        facts = FUNCTIONS[function]
        if facts.kit != "drive" or not (facts.needed or _wanted(at, function)):
            continue
        own = _terminals(at, function, _OUTPUTS)
        substitute = SUBSTITUTES.get(function)
        terminals = own + (_terminals(at, substitute, _OUTPUTS) if substitute else ())
        circuits = _circuits(at, function)
        need: _Need = "required" if facts.needed else "wanted"
        for circuit in circuits:
            yield Task(
                id=function if len(circuits) == 1 else f"{function}:{circuit}", function=function, kind="drive",
                need=need, circuits=(circuit,), terminals=terminals,
            )  # fmt: skip
        if circuits or (not facts.needed and _absent(at, function)):
            continue
        yield Task(id=function, function=function, kind="drive", need=need, circuits=(), terminals=terminals)


def _absent(at: Situation, function: FunctionName) -> bool:
    """Tell whether a function without a circuit is no loss: the car may lack it, or has it in two halves."""
    halves = [f for f, whole in SUBSTITUTES.items() if whole == function]
    return (function in _MAY_LACK and not services_of(at, function)) or any(_circuits(at, f) for f in halves)


def _senses(at: Situation) -> Iterator[Task]:
    chosen_by_settings = {choice.needs for setting in at.kit.settings for choice in setting.choices}
    need: _Need
    for function in _FUNCTIONS:
        facts = FUNCTIONS[function]
        if facts.kit != "sense":
            continue
        circuits = _circuits(at, function)
        diesel_waits = function == "wait-to-start" and at.car.traits.fuel == "diesel"
        if facts.needed:
            need = "required"
        elif diesel_waits or (function in at.kit.wanted and not _lacks(at, function)):
            need = "wanted"
        elif function in chosen_by_settings:
            need = "helping"
        else:
            continue
        yield Task(
            id=function, function=function, kind="sense", need=need, circuits=circuits,
            terminals=_terminals(at, function, _INPUTS),
        )  # fmt: skip


def _lacks(at: Situation, function: FunctionName) -> bool:
    if function == "wait-to-start":
        return at.car.traits.fuel != "diesel"
    return function in _MAY_LACK and not _circuits(at, function) and not services_of(at, function)


def _button_brake(at: Situation) -> Iterator[Task]:
    """Yield the task of driving the brake line, which only a button car asks for before it starts."""
    terminals = _terminals(at, "brake", _OUTPUTS)
    if at.car.traits.key == "button" and terminals:
        for circuit in _circuits(at, "brake")[:1]:
            yield Task(
                id="brake:drive", function="brake", kind="drive", need="required", circuits=(circuit,),
                terminals=terminals,
            )  # fmt: skip


def _talks(at: Situation) -> Iterator[Task]:
    ports = _terminals(at, "bus", frozenset({"data port"}))
    if ports:
        need: _Need = "wanted" if "bus" in at.kit.wanted and _circuits(at, "bus") else "helping"
        yield Task(id="bus", function="bus", kind="talk", need=need, circuits=_circuits(at, "bus"), terminals=ports)


def _keys(at: Situation) -> Iterator[Task]:
    """Yield the task of satisfying the immobiliser; only the vehicle module can, and its wires are never touched."""
    if at.car.traits.immobiliser not in (None, "none"):
        yield Task(
            id="immobiliser", function="immobiliser", kind="module", need="required", circuits=(), terminals=()
        )


def tasks_of(at: Situation) -> tuple[Task, ...]:
    """Return the tasks in the order in which a person fits a kit: ground and feeds, outputs, inputs, data."""
    feeds = sorted(_feeds(at), key=lambda t: t.kind != "ground")
    return (*feeds, *_drives(at), *_button_brake(at), *_senses(at), *_talks(at), *_keys(at))
