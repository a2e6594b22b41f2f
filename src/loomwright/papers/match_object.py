"""Results as one plain object: what `--json` prints. Its keys are stable and documented in docs/reference."""

from typing import Any

from loomwright.faults.wrong_pins import Shown, WrongPin
from loomwright.network.results import Proof, Readings, verdict
from loomwright.papers.shared_object import car_and_kit, finding_object, state_object
from loomwright.planning.installation import Installation, Joint, Refusal, Rejected, Route, Unserved, UnusedLead

__all__ = ["match_object", "readings_object", "refusal_object"]


def _rejected(entry: Rejected) -> dict[str, Any]:
    return {"how": entry.how, "what": entry.what, "fact": entry.fact, "minutes": entry.minutes}


def _joint(joint: Joint) -> dict[str, Any]:
    part = joint.part
    return {
        "id": joint.id,
        "kind": joint.kind,
        "terminal": joint.terminal,
        "label": joint.label,
        "colour": joint.colour,
        "stripe": joint.stripe,
        "circuit": joint.circuit,
        "pin": joint.pin,
        "place": joint.place,
        "part": None if part is None else {"id": part.id, "part": part.part, "pattern": part.pattern, "why": part.why},
    }


def _route(route: Route) -> dict[str, Any]:
    return {
        "task": route.task,
        "function": route.function,
        "how": route.how,
        "required": route.required,
        "joints": [_joint(j) for j in route.joints],
        "setting": None if route.setting is None else {"id": route.setting[0], "value": route.setting[1]},
        "minutes": round(route.minutes, 1),
        "why": route.why,
        "rejected": [_rejected(r) for r in route.rejected],
        "pinned": route.pinned,
        "gated": route.gated,
    }


def _unserved(entry: Unserved) -> dict[str, Any]:
    return {
        "task": entry.task,
        "function": entry.function,
        "required": entry.required,
        "why": entry.why,
        "would_fit_if": entry.would_fit_if,
        "rejected": [_rejected(r) for r in entry.rejected],
    }


def _lead(lead: UnusedLead) -> dict[str, Any]:
    return {
        "label": lead.label,
        "colour": lead.colour,
        "stripe": lead.stripe,
        "where": lead.where,
        "terminal": lead.terminal,
        "clash": lead.clash,
    }


def _shown(shown: Shown | None) -> dict[str, Any] | None:
    if shown is None:
        return None
    return {
        "state": state_object(shown.state),
        "right_v": [round(v, 3) for v in shown.right],
        "wrong_v": [round(v, 3) for v in shown.wrong],
        "gap_v": round(shown.gap_v, 3),
    }


def _wrong_pin(wrong: WrongPin) -> dict[str, Any]:
    return {
        "joint": wrong.joint,
        "pin": wrong.pin,
        "landed": wrong.landed,
        "how": wrong.how,
        "told_by": _shown(wrong.told_by),
        "harms": [
            {
                "kind": h.kind,
                "subject": h.subject,
                "later": h.later,
                "state": state_object(h.state),
                "value": round(h.value, 3),
            }
            for h in wrong.harms
        ],
    }


def refusal_object(refusal: Refusal) -> dict[str, Any]:
    """Return a refusal with the same top keys as a match, its lists empty."""
    return {
        "verdict": "does-not-fit",
        **car_and_kit(refusal),
        "installation": None,
        "refusal": {
            "code": refusal.code,
            "reason": refusal.reason,
            "caution": refusal.caution,
            "would_fit_if": refusal.would_fit_if,
        },
        "routes": [],
        "unserved": [_unserved(u) for u in refusal.unserved],
        "findings": [],
        "unproven": [],
        "unused_leads": [],
        "wrong_pins": [],
        "settings": {},
        "minutes": None,
        "proof": None,
    }


def match_object(
    found: Installation | Refusal, proof: Proof | None, wrong_pins: tuple[WrongPin, ...] = ()
) -> dict[str, Any]:
    """Return plan and proof as one object.

    `unproven` lists the circuits the kit uses whose evidence does not prove them on this car.
    """
    if isinstance(found, Refusal) or proof is None:
        if not isinstance(found, Refusal):
            raise ValueError("an installation needs its proof")
        return refusal_object(found)
    used = dict.fromkeys(j.circuit for j in found.joints if j.circuit is not None)
    return {
        "verdict": verdict(found, proof.findings),
        **car_and_kit(found),
        "installation": found.id,
        "refusal": None,
        "routes": [_route(r) for r in found.routes],
        "unserved": [_unserved(u) for u in found.unserved],
        "findings": [finding_object(f) for f in proof.findings],
        "unproven": [
            {"circuit": c, "status": found.car.standing[c].status, "why": found.car.standing[c].why}
            for c in used
            if found.car.standing[c].status != "proven"
        ],
        "unused_leads": [_lead(lead) for lead in found.unused_leads],
        "wrong_pins": [_wrong_pin(w) for w in wrong_pins],
        "settings": dict(found.settings),
        "minutes": round(found.minutes, 1),
        "proof": {
            "nodes": proof.nodes,
            "elements": proof.elements,
            "states": proof.points,
            "worst_residual": proof.worst_residual,
            "standing": None
            if proof.standing is None
            else {
                "car_a": round(proof.standing.car_a, 5),
                "kit_a": round(proof.standing.kit_a, 5),
                "days_warm": round(proof.standing.days_warm, 1),
                "days_cold": round(proof.standing.days_cold, 1),
            },
        },
    }


def readings_object(found: Installation, table: Readings) -> dict[str, Any]:
    """Return every reading with its band [V], relative to the battery at rest."""
    return {
        **car_and_kit(found),
        "installation": found.id,
        "battery_v": table.battery_v,
        "readings": [
            {
                "id": r.id,
                "joint": r.joint,
                "circuit": r.circuit,
                "node": r.node,
                "purpose": r.purpose,
                "state": state_object(r.band.state),
                "clip": r.clip,
                "lo_v": round(r.band.lo, 4),
                "hi_v": round(r.band.hi, 4),
                "nominal_v": round(r.band.nominal, 4),
                "per_battery_volt": round(r.band.per_battery_volt, 5),
                "driven": r.band.driven,
                "widened_v": round(r.band.widened_v, 6),
                "flicker": r.flicker,
                "lamp": {"allowed": r.lamp.allowed, "lit": r.lamp.lit, "why": r.lamp.why},
            }
            for r in table.readings
        ],
    }
