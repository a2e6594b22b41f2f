"""Small cars and kits of thick wire and fitting fuses: the proof finds nothing but what a test changes in them."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from loomwright.documents.car import Car
from loomwright.documents.kit import Kit
from loomwright.network.proof import prove
from loomwright.planning.installation import Installation, Joint
from tests.planning import builders as b

__all__ = ["DIODE", "codes", "rejoined", "sound_car", "sound_kit"]

DIODE: b.Piece = {"id": "diode", "kind": "diode", "name": "diode 3 A", "rating_a": 3, "stock": 4, "price": 0.5}

_FUSED_BRAKE = b.circuit(
    "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
    {"from": "source", "to": "s:fuse", "fuse_a": 15}, b.wire("s:fuse", "pedal/1", "orange"),
    {"from": "pedal/1", "to": "pedal/2", "closed_when": "brake pressed", "switch": "the pedal switch"},
    b.wire("pedal/2", "load", "white"),
)  # fmt: skip


def sound_car(*circuits: b.Piece, **traits: Any) -> Car:
    """Return the small car with some more circuits, all of thick wire."""
    named = {**b.CIRCUITS, "brake": _FUSED_BRAKE, **{c["id"]: c for c in circuits}}
    return b.car({name: b.thick(c) for name, c in named.items()}, traits=traits)


def sound_kit(*terminals: b.Piece, **changes: Any) -> Kit:
    """Return the small kit with some more terminals, each with a lead, all of thick wire."""
    held = {**b.TERMINALS, **{t["id"]: t for t in terminals}}
    leads: Mapping[str, b.Piece] = {**b.LEADS, **{t["id"]: b.lead(t["id"]) for t in terminals}}
    thick = {name: b.thick(lead) for name, lead in leads.items()}
    parts = [b.RELAY, DIODE]
    return b.kit(held, thick, **{"parts": parts, **changes})


def codes(plan: Installation) -> set[tuple[str, str]]:
    """Return (code, subject) of everything that the proof finds, but for what nobody has measured."""
    return {(f.code, f.subject) for f in prove(plan).findings if f.severity != "note"}


def rejoined(plan: Installation, task: str, change: Callable[[Joint], Joint]) -> Installation:
    """Return the plan with the joints of one route changed: a way the planner would not take."""
    routes = tuple(
        replace(r, joints=tuple(change(j) for j in r.joints)) if r.task == task else r for r in plan.routes
    )
    return replace(plan, routes=routes)
