"""Leads this car does not need, and what each of them could be taken for."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Heading, Paragraph, Table, Text
from loomwright.papers.job import Job, colour_words
from loomwright.papers.saying import lifted, listed, say
from loomwright.papers.words.en import joining as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import UnusedLead
from loomwright.sentences import Sentence, told

__all__ = ["unused_leads"]


def unused_leads(job: Job) -> Iterator[Block]:
    """Yield the page about leads that stay over."""
    unused = job.installation.unused_leads
    if unused:
        yield Heading(text=words.UNUSED_HEAD, level=1, anchor="unused")
        branches = {b.label for b in job.kit.branches}
        loose = [lead for lead in unused if lead.where not in branches]
        if loose:
            yield Paragraph(text=say(words.UNUSED_INTRO))
            yield Table(head=words.UNUSED_TABLE, rows=tuple(map(_row, loose)), widths=(1.0, 1.2, 4.0))
        for where in dict.fromkeys(lead.where for lead in unused if lead.where in branches):
            labels = listed((lead.label for lead in unused if lead.where == where), naming.AND)
            yield Paragraph(text=say(words.UNUSED_INSIDE, where=where, labels=labels))


def _nearest(clash: str) -> str:
    """Return what a lead could be taken for without the count of what else looks a little like it."""
    return told(clash.pattern, **{**clash.fields, "more": ""}) if isinstance(clash, Sentence) else clash


def _row(lead: UnusedLead) -> tuple[Text, ...]:
    clash = say(words.NO_CLASH)
    if lead.clash:
        # The nearest one is told; a count of all that look a little alike only frightens.
        nearest = _nearest(lead.clash)
        clash = say(words.UNUSED_CLASH, clash=lifted(nearest, f"route:unused/{lead.label}"))
    return (lead.label,), (colour_words(lead.colour, lead.stripe),), clash
