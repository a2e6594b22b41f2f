"""Where the kit's fuses are: each near the end of its lead, where that is joined to the car."""

from collections.abc import Mapping

from loomwright.documents.vehicle import Place
from loomwright.papers.blocks import Text
from loomwright.papers.job import Job, plug_of
from loomwright.papers.saying import capital, listed
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import naming
from loomwright.sentences import linked, told

__all__ = ["fused_places", "fuses_found", "fuses_reached"]


def fuses_found(job: Job) -> str:
    """Return the labels of the leads that carry a fuse, those of one place together; empty where none does."""
    found = [
        told(words.FUSE_AT, labels=listed(labels, naming.AND), place=job.car.places[place].name)
        for place, labels in fused_places(job).items()
    ]
    return listed(found, naming.AND)


def fuses_reached(job: Job) -> tuple[Text, ...]:
    """Return how each place with a fuse in it is opened; nothing for a place that is open."""
    places = [job.car.places[place] for place in fused_places(job)]
    return tuple(
        job.say(words.FUSE_REACHED, place=capital(p.name), access=linked(p.access), tools=_tools(p))
        for p in places
        if p.access
    )


def _tools(place: Place) -> str:
    return told(words.FUSE_TOOLS, tools=listed(place.tools, naming.AND)) if place.tools else ""


def fused_places(job: Job) -> Mapping[str, tuple[str, ...]]:
    """Return place -> labels of the leads whose fuse sits there."""
    found: dict[str, dict[str, None]] = {}
    for joint in job.installation.joints:
        if job.is_fused(joint) and joint.pin is not None:
            found.setdefault(job.car.plugs[plug_of(joint.pin)].place, {})[joint.label] = None
    return {place: tuple(labels) for place, labels in found.items()}
