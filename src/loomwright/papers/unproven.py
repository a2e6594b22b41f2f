"""The warning beside a wire, or a pin of it, that nobody has proven on a car like the buyer's."""

from collections.abc import Callable, Sequence

from loomwright.papers.job import Job, plug_of
from loomwright.papers.saying import listed
from loomwright.papers.words.en import handover, naming
from loomwright.papers.words.en import measuring as words
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told

__all__ = ["measured_at", "pin_words", "unproven_of", "unproven_words"]


def unproven_words(job: Job, joint: Joint) -> str | None:
    """Return the warning beside a wire nobody has proven on this car, or None."""
    if joint.circuit is None:
        return None
    standing = job.car.standing[joint.circuit]
    template = {"unproven": words.UNPROVEN, "contradicted": words.CONTRADICTED}.get(standing.status)
    return None if template is None else told(template, why=job.why_words(joint.circuit))


def pin_words(job: Job, joint: Joint) -> str | None:
    """Return the warning beside a wire before it is joined: also where it was proven, but at another of its pins."""
    warning = unproven_words(job, joint)
    known = measured_at(job, joint)
    if warning is not None or known is None:
        return warning
    return told(words.PIN_UNPROVEN, places=listed(known, naming.AND)) if known else words.PIN_UNPROVEN_UNTOLD


def unproven_of(
    job: Job, joints: Sequence[Joint], warn: Callable[[Job, Joint], str | None] = unproven_words
) -> str | None:
    """Return one warning for several wires, those with the same one named together; None where all are proven."""
    labels: dict[str, list[str]] = {}
    for joint in joints:
        warning = warn(job, joint)
        if warning is not None:
            labels.setdefault(warning, []).append(joint.label)
    found = [told(words.UNPROVEN_OF, labels=listed(of, naming.AND), why=why) for why, of in labels.items()]
    return linked(found) or None


def measured_at(job: Job, joint: Joint) -> tuple[str, ...] | None:
    """Return the other pins at which a proven wire was measured, in words; None where it is not proven, or proven here.

    Empty where the record does not tell at which pin.
    """
    if joint.circuit is None or joint.pin is None:
        return None
    standing = job.car.standing[joint.circuit]
    if standing.status != "proven" or joint.pin in standing.pins:
        return None
    known = [pin for pin in sorted(standing.pins) if plug_of(pin) in job.car.plugs]
    return tuple(
        told(handover.ELSEWHERE_PIN, plug=job.car.plugs[plug_of(p)].name, pin=p.partition("/")[2]) for p in known
    )
