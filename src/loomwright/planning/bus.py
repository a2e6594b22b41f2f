"""The data bus: joining the vehicle module to it, and the functions the module then serves."""

from collections.abc import Iterator, Mapping
from itertools import product
from types import MappingProxyType

from loomwright.documents.behaviour import DataWire
from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import BusService
from loomwright.planning.candidates import Candidate, End, RuledOut, Situation, Task, slug
from loomwright.planning.minutes import PENALTIES, T_PIN_MINUTES, TAP_MINUTES
from loomwright.planning.reach import ends_for
from loomwright.sentences import linked, listing, told

__all__ = ["key_without_bus", "served_by_module", "services_of", "talk_candidates"]


def _within(choice: str, written: str) -> bool:
    """Tell whether a value is the one written, or lies in a written span of years such as '2012 to 2015'."""
    first, _, last = written.partition(" to ")
    if last and first.isdigit() and last.isdigit() and choice.isdigit():
        return int(first) <= int(choice) <= int(last)
    return choice == written


def _holds(condition: Mapping[str, tuple[str, ...]], choice: Mapping[str, str]) -> bool:
    return all(axis in choice and any(_within(choice[axis], v) for v in values) for axis, values in condition.items())


def _offered(service: BusService, choice: Mapping[str, str]) -> bool:
    return _holds(service.only, choice) and not (service.except_ and _holds(service.except_, choice))


_SAME: Mapping[str, FunctionName] = MappingProxyType({"start button": "start", "brake line": "start"})
# A module that starts the car by a message needs neither its button nor its brake line.


# What no message replaces: a feed is copper. That some firmware offered it would be no help to tell.
_FEEDS: frozenset[FunctionName] = frozenset({"ignition", "second ignition", "accessory", "accessory 2"})


def services_of(at: Situation, function: FunctionName) -> tuple[BusService, ...]:
    """Return the services the vehicle module has for a function on this vehicle family, whatever the variant."""
    module = at.kit.vehicle_module
    if module is None:
        return ()
    serving = (function, _SAME.get(function))
    return tuple(s for s in module.services if s.function in serving and s.vehicle == at.car.vehicle)


def served_by_module(at: Situation, task: Task) -> Iterator[Candidate | RuledOut]:
    """Yield the way over the bus, or the fact that rules it out."""
    module = at.kit.vehicle_module
    if module is None or task.kind in ("feed", "ground", "talk"):
        return
    what = told("the vehicle module ({firmware} {version})", firmware=module.firmware, version=module.version)
    services = services_of(at, task.function)
    if any(_offered(s, at.car.choice) for s in services):
        keys = at.car.traits.keys_to_learn or 0
        yield Candidate(
            id=f"{task.id}|bus", task=task.id, how="bus", what=what, needs_bus=True, minutes=0.0,
            penalties=(PENALTIES["bus"],),
            gated=told("{keys} working keys at hand while the vehicle module learns", keys=keys)
            if task.function == "immobiliser" and keys > 1
            else None,
        )  # fmt: skip
        return
    if task.function == "immobiliser" and (key := key_without_bus(at)) is not None:
        fact, cure = key
        yield RuledOut(task=task.id, how="bus", what=what, fact=fact, cure=cure, far=3)
        return
    variant = linked((told("{axis} {value}", axis=axis, value=value) for axis, value in at.car.choice.items()), ", ")
    fact = (
        told(
            "Its firmware offers {function} for this model, but not for {variant}.",
            function=task.function,
            variant=variant,
        )
        if services
        else told("Its firmware does not offer {function} for this model.", function=task.function)
    )
    yield RuledOut(
        task=task.id, how="bus", what=what, fact=fact,
        cure=told("the vehicle module's firmware offered {function} for this variant", function=task.function),
        far=3 if _could_serve(task, bool(services)) else 7,
    )  # fmt: skip


def _could_serve(task: Task, elsewhere: bool) -> bool:
    """Tell whether other firmware would help: not where the car has nothing that the function would work."""
    if task.circuits:
        return elsewhere or task.function not in _FEEDS
    return elsewhere and (task.kind != "drive" or task.need == "required")


def key_without_bus(at: Situation) -> tuple[str, str] | None:
    """Return (fact, cure) for a key that no message on a bus can stand in for; None where firmware may serve it.

    A resistor in the key, and the sensor in the cylinder of a car without a bus, are resistances that the kit has to
    put on the wire while it starts.
    """
    immobiliser = at.car.traits.immobiliser
    bus = any(isinstance(c.behaviour, DataWire) and c.function == "bus" for c in at.car.circuits.values())
    if immobiliser == "resistor key":
        return (
            "The car knows its key by a resistor in it, which no message on a bus stands in for.",
            "the kit held a relay and the key's own measured resistor",
        )
    if immobiliser == "cylinder sensor" and not bus:
        return (
            "The car knows its key by a sensor in the cylinder and has no bus on which anything could answer for it.",
            "the kit held a relay and a resistor of the value measured at the sensor's wire",
        )
    return None


def _line(text: str) -> str | None:
    """Return 'high' or 'low' for the half of a two-wire bus that a terminal or label names."""
    words = text.lower().replace("_", "-").replace(" ", "-").split("-")
    if "high" in words or words[-1] == "h":
        return "high"
    return "low" if "low" in words or words[-1] == "l" else None


def _sets(at: Situation, task: Task) -> Iterator[tuple[tuple[str, str], ...]]:
    """Yield the sets of (terminal, circuit) that make one whole bus: high with low, or one wire alone."""
    halves: dict[str, list[tuple[str, str]]] = {"high": [], "low": []}
    for circuit_id in task.circuits:
        behaviour = at.car.circuits[circuit_id].behaviour
        if not isinstance(behaviour, DataWire):
            continue
        wanted = behaviour.bus.removeprefix("two-wire ") if behaviour.bus.startswith("two-wire") else None
        for terminal in task.terminals:
            if _line(terminal) == wanted:
                if wanted is None:
                    yield ((terminal, circuit_id),)
                else:
                    halves[wanted].append((terminal, circuit_id))
    yield from product(halves["high"], halves["low"])


def talk_candidates(at: Situation, task: Task) -> Iterator[Candidate | RuledOut]:
    """Yield every way to join the vehicle module to a bus; the two wires of a pair are joined in the same plug."""
    sets, ruled_out, found = tuple(_sets(at, task)), False, False
    for pairs in sets:
        offers = [tuple(ends_for(at, task, terminal, at.car.circuits[circuit])) for terminal, circuit in pairs]
        for way in (way for offer in offers for way in offer if isinstance(way, RuledOut)):
            ruled_out = True
            yield way
        for ends in product(*([e for e in offer if isinstance(e, End)] for offer in offers)):
            if len({(e.plug, e.kind) for e in ends}) == 1:
                found = True
                yield _joined(at, task, ends)
    if not task.circuits:
        yield RuledOut(
            task=task.id, how="tap", what="a data wire", fact="No data wire of this car is recorded.",
            cure="a data wire of this car were recorded", far=6,
        )  # fmt: skip
    elif not sets:
        yield RuledOut(
            task=task.id, how="tap", what="the data wires",
            fact="The kit's data ports do not make up a whole bus with the data wires that are recorded.",
            cure="both wires of the bus were recorded and the kit had a port for each", far=4,
        )  # fmt: skip
    elif not found and not ruled_out:
        yield RuledOut(
            task=task.id, how="tap", what="the data wires", fact="No plug holds both wires of the bus.",
            cure="a plug that holds both wires of the bus were recorded", far=5,
        )  # fmt: skip


def _joined(at: Situation, task: Task, ends: tuple[End, ...]) -> Candidate:
    tapped = ends[0].kind == "tap"
    how = "tap" if tapped else "plug" if ends[0].kind == "plug" else "T tapped"
    penalties = [PENALTIES["data tap"]] if tapped else []
    if any(e.circuit is not None and at.car.standing[e.circuit].status != "proven" for e in ends):
        penalties.append(PENALTIES["unproven"])
    pins = " and ".join(e.pin or "" for e in ends)
    plug = at.car.plugs[ends[0].plug or ""].name
    numbers = listing((e.pin or "").partition("/")[2] for e in ends)
    return Candidate(
        id=f"{task.id}|{how}|{slug(pins)}|" + "+".join(e.lead or e.branch or "" for e in ends),
        task=task.id, how=how,  # type: ignore[arg-type]
        what=told("pin {numbers} of {plug}", numbers=numbers, plug=plug) if len(ends) == 1 else told(
            "pins {numbers} of {plug}", numbers=numbers, plug=plug,
        ),
        ends=ends, minutes=(TAP_MINUTES if tapped else T_PIN_MINUTES) * len(ends), penalties=tuple(penalties),
    )  # fmt: skip
