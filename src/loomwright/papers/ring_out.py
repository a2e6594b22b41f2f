"""Ringing out a harness on the bench: each lead of this car from its place in the kit's plug to its other end.

A lead in the wrong place is the commonest fault of a new harness, and no start on the bench shows it where the output
hangs on a bus of the car. So it is found with a meter, before a supply is clipped on.
"""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Heading, Paragraph, Table, Text
from loomwright.papers.job import Job, colour_words
from loomwright.papers.saying import listed, say
from loomwright.papers.words.en import bench_test as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.planning.leftovers import packed_branches
from loomwright.sentences import told

__all__ = ["ring_out"]


def ring_out(job: Job) -> Iterator[Block]:
    """Yield what must conduct from where to where, with nothing connected."""
    yield Heading(text=words.HEAD_RING, level=1, anchor="ring-out")
    yield Paragraph(text=say(words.RING_INTRO))
    rows = (*(_row(job, j) for j in job.ordered_joints), *_left_over(job))
    yield Table(head=words.RING, rows=rows, widths=(1.0, 2.4, 2.6))
    diodes = [j.label for j in job.ordered_joints if j.part is not None and "diode" in j.part.pattern]
    if diodes:
        yield Paragraph(text=say(words.RING_DIODES, labels=listed(dict.fromkeys(diodes), naming.AND)))
    kinds = {b.id: b for b in job.kit.branches}
    through = dict.fromkeys(
        kinds[j.branch].label for j in job.ordered_joints if j.branch is not None and kinds[j.branch].kind == "t"
    )
    if through:
        cut = [j for j in job.ordered_joints if j.kind == "T interrupted"]
        yield Paragraph(text=say(words.RING_THROUGH, labels=listed(through, naming.AND)))
        if cut:
            pins = listed(dict.fromkeys(_end(job, j) for j in cut), naming.AND)
            yield Paragraph(text=say(words.RING_CUT, pins=pins))


def _row(job: Job, joint: Joint) -> tuple[Text, ...]:
    terminal = job.terminal(joint)
    place = say("{place}", place=told(words.RING_PLACE, plug=terminal.plug.upper(), pin=terminal.pin))
    lead = say("{lead}", lead=told(naming.LEAD, label=joint.label, colour=job.lead_colour(joint)))
    return place, lead, say("{end}", end=_end(job, joint))


def _left_over(job: Job) -> Iterator[tuple[Text, ...]]:
    """Yield the conductors inside the packed plugs that this car does not use: they ring all the same."""
    terminals = {t.id: t for t in job.kit.controller.terminals}
    joined = {(j.branch, j.label) for j in job.installation.joints}
    for branch in packed_branches(job.kit, job.installation.joints):
        for inside in branch.conductors:
            if (branch.id, inside.label) not in joined and inside.pin is not None:
                terminal = terminals[inside.terminal]
                place = say("{place}", place=told(words.RING_PLACE, plug=terminal.plug.upper(), pin=terminal.pin))
                colour = colour_words(inside.colour, inside.stripe)
                lead = say("{lead}", lead=told(naming.LEAD, label=inside.label, colour=colour))
                yield place, lead, say("{end}", end=told(words.RING_PIN, label=branch.label, pin=inside.pin))


def _end(job: Job, joint: Joint) -> str:
    """Return where a lead ends: in a plug of the harness, on a ring, at a part, or bare."""
    label = next((b.label for b in job.kit.branches if b.id == joint.branch), None)
    if joint.part is not None:
        name = next(p.name for p in job.kit.parts if p.id == joint.part.part)
        return told(words.RING_PART, name=name) if label is None else told(words.RING_PART_IN, name=name, label=label)
    if label is not None:
        return told(words.RING_PIN, label=label, pin=(joint.pin or "").partition("/")[2])
    lead = next((one for one in job.kit.leads if one.id == joint.lead), None)
    return words.RING_RING if lead is not None and lead.end == "ring" else words.RING_BARE
