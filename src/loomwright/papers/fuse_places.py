"""Where the kit's fuses are: each near the end of its lead, where that is joined to the car."""

from loomwright.papers.job import Job, plug_of
from loomwright.papers.saying import listed
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import naming
from loomwright.sentences import told

__all__ = ["fuses_found"]


def fuses_found(job: Job) -> str:
    """Return the labels of the leads that carry a fuse, each with its place in the car; empty where none does."""
    places: dict[str, str] = {}
    for joint in job.installation.joints:
        if job.terminal(joint).fuse_a is not None and joint.pin is not None:
            place = job.car.places[job.car.plugs[plug_of(joint.pin)].place]
            places[joint.label] = told(words.FUSE_AT, label=joint.label, place=place.name)
    return listed(places.values(), naming.AND)
