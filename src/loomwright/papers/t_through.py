"""What a T-harness carries straight through: its contacts and wires beside the car's own fuse before each pin."""

from collections.abc import Iterator

from loomwright.documents.kit import Branch
from loomwright.documents.vehicle import Circuit
from loomwright.papers.blocks import Block, Bullets, Heading, Paragraph, Text
from loomwright.papers.job import Job, plug_of
from loomwright.papers.measures import amperes
from loomwright.papers.saying import joined, say
from loomwright.papers.words.en import sheets as words
from loomwright.planning.sides import fuse_above

__all__ = ["t_through"]


def t_through(job: Job) -> Iterator[Block]:
    """Yield, for each T in this car, what it is built for and the largest fuse of the car before one of its pins.

    The car's own current runs through the T as well, so whoever builds it sees beside it what the car lets through.
    """
    plugged = dict.fromkeys(j.branch for j in job.ordered_joints if j.kind.startswith("T "))
    items = tuple(_item(job, branch) for branch in job.kit.branches if branch.id in plugged)
    if items:
        yield Heading(text=words.HEAD_THROUGH)
        yield Paragraph(text=say(words.THROUGH_INTRO), small=True)
        yield Bullets(items=items)


def _item(job: Job, branch: Branch) -> Text:
    of = f"document:{job.kit.id}/branches/{branch.id}"
    said = say(
        words.THROUGH_T, label=branch.label, rating=amperes(branch.rating_a, f"{of}/rating_a"),
        size=job.measures.size(branch.through_mm2, f"{of}/through_mm2"),
    )  # fmt: skip
    found = max(_fuses(job, branch), key=lambda f: f[1], default=None)
    if found is None:
        return said
    pin, rating = found
    circuit = job.car.pins[pin].circuit
    fuse = amperes(rating, f"document:{job.car.vehicle}/circuits/{circuit}/path")
    larger = say(words.THROUGH_LARGER) if branch.rating_a < rating else ()
    return joined(said, say(words.THROUGH_FUSE, fuse=fuse, pin=pin.partition("/")[2]), larger)


def _fuses(job: Job, branch: Branch) -> Iterator[tuple[str, float]]:
    """Yield each pin of the plug that the T goes between with the smallest fuse of the car before it [A]."""
    plugs = {plug_of(j.pin) for j in job.ordered_joints if j.branch == branch.id and j.pin is not None}
    for pin, occupant in job.car.pins.items():
        if plug_of(pin) in plugs:
            circuit: Circuit = job.car.circuits[occupant.circuit]
            fuse = fuse_above(circuit, pin)
            if fuse is not None and fuse.fuse_a is not None:
                yield pin, fuse.fuse_a
