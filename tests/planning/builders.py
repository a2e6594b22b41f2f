"""Small cars and kits for tests of planning: one complete pair, and pieces to change it with."""

from collections.abc import Mapping, Sequence
from typing import Any

from loomwright.documents.car import Car, resolve
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.planning.installation import Installation, Refusal, Route, Unserved
from loomwright.planning.plan import match

__all__ = [
    "CIRCUITS", "LEADS", "RELAY", "TERMINALS", "car", "circuit", "data_wire", "feed", "fitted", "grounded",
    "keyed", "kit", "lamps", "lead", "place", "plug", "refused", "restraint", "route", "shop", "t_branch",
    "terminal", "thick", "unserved", "wire",
]  # fmt: skip

Piece = Mapping[str, Any]


def circuit(name: str, function: str, behaviour: Piece, *steps: Piece, **extra: Any) -> dict[str, Any]:
    """Return a circuit document; each step is a segment."""
    return {"id": name, "function": function, "behaviour": dict(behaviour), "path": [dict(s) for s in steps], **extra}


def wire(start: str, end: str, colour: str = "blue", stripe: str | None = None) -> dict[str, Any]:
    return {"from": start, "to": end, "colour": colour, **({"stripe": stripe} if stripe else {})}


def thick(part: Piece) -> Piece:
    """Return a circuit with all its wires, or a lead or T, of 5 mm2, so that no current is too much for copper."""
    if "path" in part:
        return {**part, "path": [{**s, "area_mm2": 5.0} if "colour" in s else s for s in part["path"]]}
    if "conductors" in part:
        return {**part, "conductors": [thick(c) for c in part["conductors"]], "through_mm2": 5.0, "length_m": 0.6}
    return {**part, "area_mm2": 5.0, **({"length_m": 0.6} if "id" in part else {})}


def keyed(
    name: str, function: str, pin: str, colour: str, amps: float, live: Sequence[str], fed_by: str = "feed"
) -> Piece:
    """Return a circuit that the ignition switch feeds at a pin and that ends in its load."""
    return circuit(
        name, function, {"template": "keyed feed", "fed_by": fed_by, "live": list(live), "load_a": amps},
        {"from": "source", "to": pin}, wire(pin, "load", colour),
    )  # fmt: skip


def feed(name: str, pin: str, fuse_a: float, colour: str = "red") -> Piece:
    """Return a fused battery feed that ends at a pin."""
    return circuit(
        name, "battery feed", {"template": "battery feed", "load_a": 0},
        {"from": "source", "to": f"s:{name}", "fuse_a": fuse_a}, wire(f"s:{name}", pin, colour),
        {"from": pin, "to": "load"},
    )  # fmt: skip


def grounded(name: str, function: str, pin: str, colour: str, when: str, **extra: Any) -> Piece:
    """Return a wire that a module holds up at a pin and that a switch grounds."""
    return circuit(
        name, function, {"template": "ground switch", **extra},
        {"from": "source", "to": pin}, wire(pin, f"s:{name}", colour),
        {"from": f"s:{name}", "to": "ground", "closed_when": when},
    )  # fmt: skip


def restraint(name: str, pin: str) -> Piece:
    """Return an airbag wire that ends at a pin."""
    return circuit(
        name, "restraint", {"template": "airbag wire"}, wire("source", pin, "yellow"), {"from": pin, "to": "load"}
    )


def data_wire(name: str, pin: str, bus: str = "single-wire") -> Piece:
    """Return a data wire that leaves a module at a pin."""
    return circuit(
        name, "bus", {"template": "data wire", "bus": bus}, {"from": "source", "to": pin}, wire(pin, "load", "tan")
    )


def lamps(name: str, function: str, pin: str, colour: str, amps: float = 2.0) -> Piece:
    """Return lamps behind a switch, to be reached at a pin after it."""
    return circuit(
        name, function, {"template": "switched feed", "load_a": amps, "load": "lamp"},
        {"from": "source", "to": pin, "closed_when": "lamps on", "switch": "the lamp switch"},
        wire(pin, "load", colour),
    )  # fmt: skip


CIRCUITS: dict[str, Piece] = {
    "feed": feed("feed", "key/1", 40),
    "ign": keyed("ign", "ignition", "key/2", "pink", 8, ("run", "crank")),
    "start": circuit(
        "start", "start",
        {"template": "keyed feed", "fed_by": "feed", "live": ["crank"], "load_a": 10, "starter": True},
        {"from": "source", "to": "key/3"}, wire("key/3", "engine/1", "yellow"),
        {"from": "engine/1", "to": "engine/2", "closed_when": "in park", "switch": "the selector switch"},
        wire("engine/2", "load", "yellow", "black"),
    ),
    "brake": circuit(
        "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
        wire("source", "pedal/1", "orange"),
        {"from": "pedal/1", "to": "pedal/2", "closed_when": "brake pressed", "switch": "the pedal switch"},
        wire("pedal/2", "load", "white"),
    ),
    "hood": grounded("hood", "hood switch", "body/1", "grey", "hood open"),
    "tach": circuit(
        "tach", "tach", {"template": "pulse wire"}, wire("source", "body/2", "violet"), {"from": "body/2", "to": "load"}
    ),
}  # fmt: skip

TERMINALS: dict[str, Piece] = {
    str(t["id"]): t
    for t in (
        {"id": "power", "function": "battery feed", "kind": "power in", "rating_a": 30, "fuse_a": 30},
        {"id": "earth", "function": "ground", "kind": "ground"},
        {"id": "ign", "function": "ignition", "kind": "relay output", "fed_from": "power", "rating_a": 30},
        {"id": "start", "function": "start", "kind": "relay output", "fed_from": "power", "rating_a": 30},
        {"id": "brake", "function": "brake", "kind": "positive input"},
        {"id": "hood", "function": "hood switch", "kind": "negative input"},
        {"id": "tach", "function": "tach", "kind": "pulse input"},
    )
}


def terminal(name: str, function: str, kind: str, **extra: Any) -> Piece:
    return {"id": name, "function": function, "kind": kind, **extra}


def lead(name: str, colour: str = "white", **extra: Any) -> Piece:
    """Return a loose lead of the terminal of the same name."""
    return {"id": name, "terminal": name, "label": name.upper(), "colour": colour, **extra}


LEADS: dict[str, Piece] = {
    **{name: lead(name) for name in TERMINALS if name != "earth"},
    "earth": lead("earth", "black", end="ring"),
}

RELAY: Piece = {
    "id": "relay", "kind": "relay", "name": "relay 30 A", "rating_a": 30, "coil_ohm": 90, "stock": 2, "minutes": 6,
    "price": 4,
}  # fmt: skip


def plug(name: str, place: str, pins: int = 6) -> Piece:
    return {
        "id": name, "name": f"{name} plug", "housing": f"{name}-h", "place": place, "look": "white",
        "face": {"rows": [list(range(1, pins + 1))]},
    }  # fmt: skip


def place(name: str, minutes: float) -> Piece:
    return {"id": name, "name": name, "words": f"at the {name}", "x": 1, "y": 1, "minutes": minutes}


_PLUGS = (plug("key", "column"), plug("engine", "wall"), plug("pedal", "pedals"), plug("body", "panel", 20))
_PLACES = (place("column", 8), place("wall", 12), place("pedals", 4), place("panel", 7))
_TRAITS: Piece = {
    "fuel": "petrol", "drive": "combustion", "gearbox": "automatic", "key": "keyed", "start_style": "heavy feed",
    "park_interlock": "start circuit", "immobiliser": "none",
}  # fmt: skip


def car(circuits: Mapping[str, Piece] = CIRCUITS, **changes: Any) -> Car:
    """Return a car of some circuits; keyword arguments change traits, plugs, grounds or hazards."""
    traits = {**_TRAITS, **changes.pop("traits", {})}
    document = {
        "kind": "vehicle", "id": "test-car", "names": [{"maker": "Test", "model": "Car"}], "traits": [traits],
        "places": list(_PLACES), "plugs": list(_PLUGS),
        "grounds": [{"id": "bolt", "place": "panel", "words": "M6 bolt behind the panel"}],
        "circuits": list(circuits.values()), **changes,
    }  # fmt: skip
    return resolve(Vehicle.model_validate(document), {})


def kit(terminals: Mapping[str, Piece] = TERMINALS, leads: Mapping[str, Piece] = LEADS, **changes: Any) -> Kit:
    """Return a kit; terminals are numbered in their order, keyword arguments give the rest of the document."""
    numbered = [{"plug": "c1", "pin": index, **t} for index, t in enumerate(terminals.values(), start=1)]
    document = {
        "kind": "kit", "id": "test-kit", "name": "Test kit", "revision": "A", "serial_at": "the label",
        "controller": {"name": "C", "hardware": "1", "firmware": "f", "version": "1", "terminals": numbered},
        "leads": list(leads.values()), **changes,
    }  # fmt: skip
    return Kit.model_validate(document)


def t_branch(name: str, housing: str, *terminals: str, **extra: Any) -> Piece:
    """Return a T-harness with one conductor for each terminal."""
    conductors = [{"terminal": t, "label": f"{name} {t}".upper(), "colour": "blue"} for t in terminals]
    return {"id": name, "label": name.upper(), "kind": "t", "housing": housing, "conductors": conductors, **extra}


def shop(*pinned: Piece, minute_price: float = 0.8) -> Shop:
    document = {
        "kind": "shop", "id": "test-shop", "name": "Test shop", "call": "by day", "minute_price": minute_price,
        "pinned": [{"vehicle": "test-car", **p} for p in pinned],
    }  # fmt: skip
    return Shop.model_validate(document)


def fitted(a_car: Car, a_kit: Kit, a_shop: Shop | None = None) -> Installation:
    """Return the installation, and fail with the refusal's reason where there is none."""
    result = match(a_car, a_kit, a_shop or shop())
    assert isinstance(result, Installation), f"refused: {result.reason}"
    return result


def refused(a_car: Car, a_kit: Kit) -> Refusal:
    """Return the refusal, and fail where the kit fits."""
    result = match(a_car, a_kit, shop())
    assert isinstance(result, Refusal), "the kit was not refused"
    return result


def route(installation: Installation, task: str) -> Route:
    """Return the route of a task."""
    found = [r for r in installation.routes if r.task == task]
    assert found, f"no route for {task}; unserved: {[(u.task, u.why) for u in installation.unserved]}"
    return found[0]


def unserved(installation: Installation, task: str) -> Unserved:
    """Return what is said about an unserved task."""
    found = [u for u in installation.unserved if u.task == task]
    assert found, f"{task} is served: {[(r.task, r.how) for r in installation.routes]}"
    return found[0]
