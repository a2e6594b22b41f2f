"""The start as one plain object: what `rehearse --json` prints. Its keys are stable; docs/reference lists them."""

from collections.abc import Sequence
from typing import Any

from loomwright.network.results import Finding
from loomwright.papers.shared_object import car_and_kit, finding_object
from loomwright.planning.installation import Installation, Refusal
from loomwright.starting.advice import Advice
from loomwright.starting.contradictions import WaitPoint
from loomwright.starting.explore import Held
from loomwright.starting.record import Happening, Moment, Rehearsal
from loomwright.starting.silent import SilentFault, StartReport
from loomwright.starting.verdicts import Verdict, verdicts_of

__all__ = ["start_object"]


def _property(held: Held) -> dict[str, Any]:
    return {
        "id": held.id,
        "words": held.words,
        "source": held.source,
        "holds": held.holds,
        "story": [step.words for step in held.story],
    }


def _silent(fault: SilentFault) -> dict[str, Any]:
    return {
        "id": fault.fault.id,
        "function": fault.fault.function,
        "words": fault.words,
        "defeats": list(fault.defeats),
        "revealed_by": list(fault.revealed_by),
        "masked_by": {test: list(conditions) for test, conditions in fault.masked_by.items()},
        "story": list(fault.story),
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {"id": verdict.id, "words": verdict.words, "holds": verdict.holds, "found": verdict.found}


def _happening(happening: Happening) -> dict[str, Any]:
    return {"time_s": happening.time_s, "words": happening.words, "mode": happening.mode}


def _moment(moment: Moment) -> dict[str, Any]:
    return {
        "time_s": moment.time_s,
        "mode": moment.mode,
        "rpm": moment.rpm,
        "battery_v": moment.battery_v,
        "battery_a": moment.battery_a,
        "starter_a": moment.starter_a,
        "heater_c": moment.heater_c,
        "outputs": list(moment.outputs),
    }


def _scenario(rehearsal: Rehearsal) -> dict[str, Any]:
    return {
        "id": rehearsal.scenario.id,
        "words": rehearsal.scenario.words,
        "temperature_c": rehearsal.scenario.temperature_c,
        "charge": rehearsal.scenario.charge,
        "verdicts": [_verdict(v) for v in verdicts_of(rehearsal)],
        "events": [_happening(h) for h in rehearsal.happenings],
        "lowest_v": round(rehearsal.lowest_v, 2),
        "cranking_v": None if rehearsal.cranking_v is None else round(rehearsal.cranking_v, 2),
        "starter_peak_a": round(rehearsal.starter_peak_a, 0),
        "solves": rehearsal.solves,
        "steps": rehearsal.steps,
        "series": [_moment(m) for m in rehearsal.moments],
    }


def _wait(point: WaitPoint) -> dict[str, Any]:
    return {
        "temperature_c": point.temperature_c,
        "needed_s": round(point.needed_s, 1),
        "kit_s": round(point.kit_s, 1),
        "enough": point.enough,
    }


def _advice(advice: Advice) -> dict[str, Any]:
    return {
        "detection": advice.detection,
        "detection_why": advice.detection_why,
        "crank_rpm": round(advice.crank_rpm, 0),
        "disengage_rpm": advice.disengage_rpm,
        "disengage_why": advice.disengage_why,
        "crank_needed_s": round(advice.crank_needed_s, 1),
        "crank_why": advice.crank_why,
        "waits": [_wait(w) for w in advice.waits],
        "by_time_s": advice.by_time_s,
        "contradictions": [c.words for c in advice.contradictions],
    }


def start_object(
    found: Installation | Refusal, report: StartReport | None, rehearsals: Sequence[Rehearsal], advice: Advice | None,
    findings: Sequence[Finding] = (),
) -> dict[str, Any]:  # fmt: skip
    """Return what is known of the start of an installation; parts that were not asked for are empty or null."""
    return {
        **car_and_kit(found),
        "refusal": found.code if isinstance(found, Refusal) else None,
        "properties": [] if report is None else [_property(h) for h in report.properties],
        "states": None if report is None else report.states,
        "transitions": None if report is None else report.transitions,
        "explorations": None if report is None else report.explored,
        "silent_faults": [] if report is None else [_silent(f) for f in report.silent],
        "noticed_faults": [] if report is None else list(report.noticed),
        "findings": [finding_object(f) for f in findings],
        "scenarios": [_scenario(r) for r in rehearsals],
        "advice": None if advice is None else _advice(advice),
    }
