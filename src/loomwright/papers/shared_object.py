"""What several of the plain objects have in common: car and kit, a state, a finding."""

from typing import Any

from loomwright.network.results import Finding
from loomwright.network.states import State, state_words
from loomwright.planning.installation import Installation, Refusal

__all__ = ["car_and_kit", "finding_object", "state_object"]


def car_and_kit(found: Installation | Refusal) -> dict[str, Any]:
    """Return which car and which kit an object is about."""
    return {
        "vehicle": found.car.vehicle,
        "choice": dict(found.car.choice),
        "kit": found.kit.id,
        "kit_revision": found.kit.revision,
    }


def state_object(state: State | None) -> dict[str, Any] | None:
    """Return a state of the circuit in words and in parts."""
    if state is None:
        return None
    return {
        "words": state_words(state),
        "stage": state.stage,
        "joined": state.joined,
        "key": state.key,
        "active": sorted(state.active),
        "commands": sorted(state.commands),
    }


def finding_object(finding: Finding) -> dict[str, Any]:
    """Return a finding with its numbers."""
    return {
        "code": finding.code,
        "severity": finding.severity,
        "subject": finding.subject,
        "message": finding.message,
        "state": state_object(finding.state),
        "path": list(finding.path),
        "numbers": [
            {"name": n.name, "value": round(n.value, 6), "unit": n.unit, "where": n.where} for n in finding.numbers
        ],
        "advice": finding.advice,
        "source": finding.source,
    }
