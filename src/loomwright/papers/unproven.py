"""The warning beside a wire that nobody has proven on a car like the buyer's."""

from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.words.en import measuring as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told

__all__ = ["unproven_of", "unproven_words"]


def unproven_words(job: Job, circuit: str | None) -> str | None:
    """Return the warning beside a wire nobody has proven on this car, or None."""
    if circuit is None:
        return None
    standing = job.car.standing[circuit]
    template = {"unproven": words.UNPROVEN, "contradicted": words.CONTRADICTED}.get(standing.status)
    return None if template is None else told(template, why=job.why_words(circuit))


def unproven_of(job: Job, joints: tuple[Joint, ...]) -> str | None:
    """Return one warning for several wires, those with the same standing named together; None where all are proven."""
    labels: dict[str, list[str]] = {}
    for joint in joints:
        warning = unproven_words(job, joint.circuit)
        if warning is not None:
            labels.setdefault(warning, []).append(joint.label)
    found = [told(words.UNPROVEN_OF, labels=listed(of, naming.AND), why=why) for why, of in labels.items()]
    return linked(found) or None
