"""What `weigh --json` prints, as one plain object. Its keys are stable and documented in docs/reference."""

from collections.abc import Sequence
from typing import Any

from loomwright.faults.weight import Weight
from loomwright.papers.shared_object import car_and_kit, state_object
from loomwright.planning.installation import Installation, Refusal

__all__ = ["weigh_object"]


def _weight(weight: Weight) -> dict[str, Any]:
    told = weight.told_by
    return {
        "circuit": weight.circuit,
        "pin": weight.pin,
        "terminal": weight.terminal,
        "standing": weight.standing,
        "fact": weight.fact,
        "written": weight.written,
        "instead": weight.instead,
        "moves": weight.moves,
        "as_planned": weight.fitted,
        "codes": list(weight.codes),
        "verdict_after": weight.verdict_after,
        "routes": list(weight.routes),
        "refused": weight.refused,
        "told_by": None
        if told is None
        else {
            "state": state_object(told.state),
            "pin": told.pin,
            "written_v": round(told.written_v, 2),
            "instead_v": round(told.instead_v, 2),
        },
    }


def weigh_object(found: Installation | Refusal, verdict: str, weights: Sequence[Weight]) -> dict[str, Any]:
    """Return the weights of a pair, heaviest first."""
    return {
        **car_and_kit(found),
        "refusal": found.code if isinstance(found, Refusal) else None,
        "verdict": verdict,
        "facts": [_weight(w) for w in weights],
    }
