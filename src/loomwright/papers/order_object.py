"""The order check as one plain object: what `ask --json` prints. Its keys are stable."""

from typing import Any

from loomwright.fitting.order import LimitCheck, OrderCheck
from loomwright.fitting.questions import PARKED, Question
from loomwright.network.results import Finding
from loomwright.papers.order_check import open_questions, two_sentences, worded
from loomwright.papers.saying import plain
from loomwright.planning.installation import Unserved

__all__ = ["order_object"]


def _question(question: Question) -> dict[str, Any]:
    said = worded(question)
    return {
        "id": said.id,
        "kind": said.kind,
        "ask": said.ask,
        "choices": [{"value": c.value, "cue": c.cue} for c in said.choices],
        "not_built": [c.value for c in said.never],
    }


def _exception(entry: Unserved | Finding) -> dict[str, Any]:
    if isinstance(entry, Unserved):
        return {"kind": "unserved", "subject": entry.function, "why": entry.why, "advice": entry.would_fit_if}
    return {"kind": entry.severity, "subject": entry.subject, "why": entry.message, "advice": entry.advice}


def _limit(check: LimitCheck) -> dict[str, Any]:
    limit = check.limit
    return {
        "place": limit.place,
        "idle_minutes": limit.idle_minutes,
        "unattended": limit.unattended,
        "source": limit.source,
        "on": limit.on.isoformat(),
        "kept": check.kept,
        "run_time": check.run_time,
    }


def order_object(check: OrderCheck) -> dict[str, Any]:
    """Return the order check.

    `verdict` is null while the car is asked about or where the cars that are left differ in it, `choice` where more
    than one car is left, `question` where nothing is left to ask.
    """
    order = check.order
    open_axes = open_questions(check)
    return {
        "verdict": check.verdict,
        "settled": check.settled,
        "ready": check.ready,
        "two_sentences": [plain(sentence) for sentence in two_sentences(check)],
        "vehicle": order.vehicle.id,
        "kit": order.kit.id,
        "kit_revision": order.kit.revision,
        "answers": dict(check.answers),
        "choice": check.choice,
        "possible": [dict(variant) for variant in check.possible],
        "open": [axis.id for axis, _ in open_axes],
        "makes_no_difference": list(check.spare),
        "question": None if check.question is None else _question(check.question),
        "refusals": [
            {"code": r.code, "reason": r.reason, "caution": r.caution, "would_fit_if": r.would_fit_if}
            for r in check.refusals
        ],
        "exceptions": [_exception(entry) for entry in check.exceptions] if check.settled else [],
        "unproven": [f.subject for f in check.unproven] if check.settled else [],
        "keys": {"needed": check.keys_needed, "have": check.keys, "ok": check.keys_ok},
        "parked": check.answers.get(PARKED),
        "timed_starts": check.timed_starts,
        "settings_off": [setting.id for setting in check.settings_off],
        "cautions": list(check.cautions),
        "limit": None if check.limit is None else _limit(check.limit),
    }
