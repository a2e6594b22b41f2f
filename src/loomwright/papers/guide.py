"""The buyer's guide: from the first look at the car to the hand-over, one action at a time."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings, verdict
from loomwright.papers.baseline import baseline
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Step
from loomwright.papers.cautioning import caution
from loomwright.papers.checking import checking
from loomwright.papers.drawings import Photograph
from loomwright.papers.handing_over import handing_over
from loomwright.papers.job import Job
from loomwright.papers.joining import joining
from loomwright.papers.measuring import measuring
from loomwright.papers.page_one import front_cautions, page_one
from loomwright.papers.programming import programming
from loomwright.papers.safety_tests import safety_tests
from loomwright.papers.saying import say
from loomwright.papers.slips import slips_of
from loomwright.papers.unused import unused_leads
from loomwright.papers.words.en import cautions
from loomwright.papers.words.en import page_one as words
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["guide"]


def guide(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str],
    photos: Mapping[str, Photograph] = MappingProxyType({}),
) -> Paper:  # fmt: skip
    """Return the guide by which a first-timer fits this kit to this car.

    Everything is measured before anything is joined, so the battery comes off once: measure live, join dead, measure
    again at the kit's free plugs, plug the controller in last. Where the proof found something to stop for, the paper
    says that the kit must not be fitted, and nothing else.

    Parameters
    ----------
    installation, proof, readings
        What was planned, what the rules found about it, and what a meter must show.
    shop
        Who to call, and the units.
    marks
        What identifies this issue of the sheet, such as the tool's version; name -> text.
    photos
        The photographs that the documents name and that are at hand, by `showing.photo_key`.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop, photos=photos)
    fits = verdict(installation, proof.findings) != "does-not-fit"
    return Paper(
        id="guide",
        title=words.TITLE,
        subtitle=told(words.SUBTITLE, kit=job.kit.name, car=job.car.name),
        language="en",
        marks=job.marks(marks),
        blocks=tuple(_switched(job, block) for block in (_whole(job) if fits else _not_fitted(job))),
        footer=job.footer,
    )


def _switched(job: Job, block: Block) -> Block:
    """Return a block whose step says of a button car that it has one."""
    if not (isinstance(block, Step) and job.has_button):
        return block
    return replace(block, needs=replace(block.needs, button=True))


def _whole(job: Job) -> Iterator[Block]:
    yield from page_one(job)
    yield from front_cautions(job)
    yield from baseline(job)
    slips = slips_of(job)
    yield from measuring(job, slips)
    yield from joining(job)
    yield from unused_leads(job)
    yield from checking(job, slips)
    yield from programming(job)
    yield from safety_tests(job)
    yield from handing_over(job)


def _not_fitted(job: Job) -> Iterator[Block]:
    yield Heading(text=words.NOT_FITTED_TITLE, level=1, anchor="not-fitted")
    yield caution(cautions.REFUSED, words=say(words.NOT_FITTED))
    items = [
        say(
            words.FINDING, message=job.lifted(f.message, f"finding:{f.code}"),
            advice=job.lifted(f.advice, f"finding:{f.code}"),
        )
        for f in job.proof.findings
        if f.severity == "stop"
    ]
    items += [
        say(
            words.UNSERVED, function=u.function, why=job.lifted(u.why, f"route:{u.task}"),
            cure=job.lifted(u.would_fit_if, f"route:{u.task}"),
        )
        for u in job.installation.unserved
        if u.required
    ]  # fmt: skip
    yield Bullets(items=tuple(items))
    yield Paragraph(text=say(words.CALL, call=job.shop.call))
