"""What the remote asks for besides a start, tried on the bench at the far end of its lead, relay and all."""

from collections.abc import Iterator

from loomwright.papers.blocks import Text
from loomwright.papers.job import Job
from loomwright.papers.safety_tests import how_to_try
from loomwright.papers.words.en import bench_test as words
from loomwright.planning.installation import Joint

__all__ = ["outputs_tried"]

_ASKED = ("lock", "unlock", "driver unlock", "hatch", "horn", "factory alarm arm")
_GIVES_BATTERY = frozenset({"relay inverts", "relay boosts", "relay changes over"})


def outputs_tried(job: Job) -> Iterator[Text]:
    """Yield each lead that an output drives when the remote asks, how a lamp is clipped to it, and how one asks.

    A lead with a resistor in it is left out: a lamp on it stays dark, and ringing out has shown the resistor.
    """
    for joint in job.ordered_joints:
        how = how_to_try(job, joint.function) if joint.function in _ASKED else None
        if how is not None and (joint.part is None or joint.part.pattern != "resistor"):
            yield job.say(words.OUTPUT_DO, label=joint.label, clip=_clip(job, joint), how=how)


def _clip(job: Job, joint: Joint) -> str:
    pattern = None if joint.part is None else joint.part.pattern
    if pattern in _GIVES_BATTERY:
        return words.END_TO_GROUND
    pulls = pattern == "relay grounds" or job.terminal(joint).kind == "negative output"
    return words.END_TO_PLUS if pulls else words.END_TO_GROUND
