"""Leads this car does not need, and kit leads whose colours are those of a wire they do not belong to."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Heading, Paragraph, Table, Text
from loomwright.papers.cautioning import clashes
from loomwright.papers.job import Job, colour_words, plug_of
from loomwright.papers.saying import lifted, say
from loomwright.papers.words.en import joining as words

__all__ = ["unused_leads"]


def unused_leads(job: Job) -> Iterator[Block]:
    """Yield the page about leads that stay over and colours that mislead."""
    unused = job.installation.unused_leads
    if unused:
        yield Heading(text=words.UNUSED_HEAD, level=1, anchor="unused")
        yield Paragraph(text=say(words.UNUSED_INTRO))
        branches = {b.label: b.kind for b in job.kit.branches}
        rows: list[tuple[Text, ...]] = []
        for lead in unused:
            inside = lead.where in branches
            what = words.UNUSED_T.format(where=lead.where) if inside else words.UNUSED_LOOSE
            clash = (
                say(words.UNUSED_CLASH, clash=lifted(lead.clash, f"route:unused/{lead.label}"))
                if lead.clash
                else say(words.NO_CLASH)
            )
            rows.append(((lead.label,), (colour_words(lead.colour, lead.stripe),), (what,), clash))
        yield Table(head=words.UNUSED_TABLE, rows=tuple(rows), widths=(1.0, 1.2, 1.8, 3.0))
    found = tuple(_clash_rows(job))
    if found:
        yield Heading(text=words.CLASH_HEAD, level=2 if unused else 1, anchor="clash")
        yield Paragraph(text=say(words.CLASH_INTRO))
        yield Table(head=words.CLASH_TABLE, rows=found, widths=(1.2, 2.4, 2.0))


def _clash_rows(job: Job) -> Iterator[tuple[Text, ...]]:
    for joint in job.ordered_joints:
        if joint.pin is None or joint.kind != "tap":
            continue
        for other in clashes(job, joint)[:2]:
            plug, _, pin = other.partition("/")
            occupant = job.car.pins[other]
            looks = words.CLASH_OTHER.format(
                plug=job.car.plugs[plug].name, pin=pin, colour=occupant.words, name=job.circuit_name(occupant.circuit)
            )
            right = words.CLASH_RIGHT.format(
                plug=job.car.plugs[plug_of(joint.pin)].name, pin=joint.pin.partition("/")[2], colour=job.wire(joint)
            )
            yield (say(words.CLASH_LEAD, label=joint.label, colour=job.lead_colour(joint)), (looks,), (right,))
