"""How a lead gets to its wires: out of the cabin, and to several of them."""

from collections.abc import Iterator

from loomwright.papers.blocks import Text
from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.words.en import joining as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.sentences import told

__all__ = ["split_lead", "way_out"]


def way_out(job: Job, joint: Joint) -> Iterator[Text]:
    """Yield how the lead, which sits in the kit's plug, gets out of the cabin to where it is joined.

    A part that is added has no place of the car's: its lead goes by the first way under the hood that is told.
    """
    places = job.car.places
    under_hood = [p.through for p in places.values() if p.behind == "hood open"]
    ways = under_hood if joint.place is None else [places[joint.place].through]
    through = next((way for way in ways if way is not None), None)
    if through is None and joint.kind == "added part":
        through = words.ADDED_WAY
    if through is not None:
        yield job.say(words.WAY_OUT, label=joint.label, through=through)


def split_lead(job: Job, joint: Joint) -> Iterator[Text]:
    """Yield that a lead goes to several wires, and where the others are."""
    others = [j for j in job.ordered_joints if j.terminal == joint.terminal and j.id != joint.id]
    plugs = [(plug.name, (j.pin or "").partition("/")[2]) for j in others if (plug := job.plug(j)) is not None]
    if plugs:
        at = listed((told(words.TAP_SPLIT_AT, plug=name, pin=pin) for name, pin in plugs), naming.AND)
        yield job.say(words.TAP_SPLIT, label=joint.label, others=at)
