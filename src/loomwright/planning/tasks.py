"""What the kit has to do in a car, from the terminals of the one and the circuits of the other."""

from collections.abc import Iterator
from typing import Literal, get_args

from loomwright.documents.functions import FUNCTIONS, FunctionName
from loomwright.planning.bus import services_of
from loomwright.planning.candidates import Situation, Task
from loomwright.planning.groups import SUBSTITUTES, asked_through_the_whole, circuits_for, groups_for

__all__ = ["tasks_of"]

# A car that has such a circuit wants it driven, whatever the kit lists: its engine or its heater hangs on it.
_CAR_WANTS: frozenset[FunctionName] = frozenset({"second ignition", "second start", "accessory", "accessory 2"})

# The computer of a car that starts by its button switches these itself; a kit only presses the button.
_BY_THE_CAR: frozenset[FunctionName] = frozenset({
    "ignition", "second ignition", "accessory", "accessory 2", "start", "second start",
})  # fmt: skip
_BY_THE_KIT: frozenset[FunctionName] = frozenset({"start button", "brake line"})

# A car may simply not have these; nothing is missing then.
_MAY_LACK: frozenset[FunctionName] = frozenset({
    "second ignition", "second start", "accessory 2", "parking light left", "parking light right", "wait-to-start",
    "key sense", "hatch", "driver unlock", "factory alarm arm", "factory alarm disarm", "running status", "bus",
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
    wished = wished or any(c.needed_to_start for c in circuits_for(at, function))
    return wished or (function in _CAR_WANTS and bool(_circuits(at, function)))


def _by_button(at: Situation) -> bool:
    """Tell whether the kit starts the car by its button, whose circuit is recorded or which the module presses."""
    button = _circuits(at, "start button") or services_of(at, "start button")
    return at.car.traits.start_style == "button" and bool(button)


def _need_of(at: Situation, function: FunctionName) -> _Need | None:
    """Return how much a driven function is needed in this car; None where it is no task."""
    if _by_button(at):
        if function in _BY_THE_CAR:
            return None
        if function in _BY_THE_KIT:
            return "required"
    elif function in _BY_THE_KIT:
        return None
    if FUNCTIONS[function].needed:
        return "required"
    return "wanted" if _wanted(at, function) and not asked_through_the_whole(at, function) else None


def _drives(at: Situation) -> Iterator[Task]:
    for function in _FUNCTIONS:
        need = _need_of(at, function) if FUNCTIONS[function].kit == "drive" else None
        if need is None:
            continue
        own = _terminals(at, function, _OUTPUTS)
        substitute = SUBSTITUTES.get(function)
        terminals = own + (_terminals(at, substitute, _OUTPUTS) if substitute else ())
        groups = groups_for(at, function)
        if function == "brake line" and not groups:
            groups = groups_for(at, "brake")  # one wire for lamps and computer: opened between the two
        for circuits in groups:
            starting = any(at.car.circuits[c].needed_to_start for c in circuits)
            yield Task(
                id=function if len(groups) == 1 else f"{function}:{circuits[0]}", function=function, kind="drive",
                need="required" if starting else need, circuits=circuits, terminals=terminals,
            )  # fmt: skip
        if groups or (need != "required" and _absent(at, function)):
            continue
        yield Task(id=function, function=function, kind="drive", need=need, circuits=(), terminals=terminals)


def _absent(at: Situation, function: FunctionName) -> bool:
    """Tell whether a function without a circuit is no loss: the car may lack it, or has it in two halves."""
    halves = [f for f, whole in SUBSTITUTES.items() if whole == function]
    return (function in _MAY_LACK and not services_of(at, function)) or any(circuits_for(at, f) for f in halves)


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
    if function == "parking brake" and at.car.traits.gearbox == "automatic":
        return True  # its park lock holds it, and the controller asks for nothing else: a tap for nothing
    return function in _MAY_LACK and not _circuits(at, function) and not services_of(at, function)


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
    return (*feeds, *_drives(at), *_senses(at), *_talks(at), *_keys(at))
