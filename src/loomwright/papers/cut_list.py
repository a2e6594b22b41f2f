"""The list a builder cuts and labels the loose leads by: wire, label, length and ends, and how much of each wire."""

from collections.abc import Iterator

from loomwright.documents.kit import Lead, Terminal
from loomwright.network.ampacity import area_for_fuse_mm2
from loomwright.papers.blocks import Block, Bullets, Heading, Paragraph, Table, Text
from loomwright.papers.job import Job, colour_words
from loomwright.papers.measures import amperes
from loomwright.papers.saying import joined, say
from loomwright.papers.wiring_rows import part_between
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Joint
from loomwright.planning.leftovers import packed_leads

__all__ = ["cut_list"]


def cut_list(job: Job) -> Iterator[Block]:
    """Yield the loose leads of the bag, the thickest wire first and of one wire the longest, and the sums."""
    leads = packed_leads(job.kit, job.installation.joints)
    if not leads:
        return
    yield Heading(text=words.HEAD_CUT, level=1, anchor="cut")
    yield Paragraph(text=say(words.CUT_CAPTION), small=True)
    joints = {j.lead: j for j in job.installation.joints if j.lead is not None}
    terminals = {t.id: t for t in job.kit.controller.terminals}
    ordered = sorted(leads, key=lambda lead: (-lead.area_mm2, lead.colour, lead.stripe or "", -lead.length_m))
    rows = tuple(_row(job, lead, terminals[lead.terminal], joints.get(lead.id)) for lead in ordered)
    yield Table(head=words.CUT_TABLE, rows=rows, widths=(1.3, 1.4, 0.8, 0.8, 0.8, 2.4))
    yield Paragraph(text=say(words.CUT_SUMS))
    yield Bullets(items=tuple(_sums(job, ordered)))
    supplies = tuple(_supplies(job))
    if supplies:
        yield Heading(text=words.HEAD_SUPPLIES)
        yield Paragraph(text=say(words.SUPPLIES_INTRO), small=True)
        yield Bullets(items=supplies)


def _supplies(job: Job) -> Iterator[Text]:
    """Yield the wires of each relay that are no lead of the car: its supply with the fuse, its coil and its ground."""
    parts = {p.id: p for p in job.kit.parts}
    for joint in job.ordered_joints:
        drawn = part_between(job, joint)
        if joint.part is None or drawn is None or not (drawn.feed or drawn.ground):
            continue
        part = parts[joint.part.part]
        coil = job.measures.size(joint.area_mm2, f"joint:{joint.id}/area_mm2")
        if drawn.feed_fuse and part.fuse_a is not None:
            trace = f"document:{job.kit.id}/parts/{part.id}/fuse_a"
            size = job.measures.size(area_for_fuse_mm2(part.fuse_a), trace)
            yield say(
                words.SUPPLY, label=joint.label, feed=drawn.feed, rating=amperes(part.fuse_a, trace), size=size,
                coil=coil,
            )  # fmt: skip
        else:
            yield say(words.SUPPLY_COIL, label=joint.label, at=drawn.feed or drawn.ground, coil=coil)


def _row(job: Job, lead: Lead, terminal: Terminal, joint: Joint | None) -> tuple[Text, ...]:
    of = f"document:{job.kit.id}/leads/{lead.id}"
    end: list[Text] = []
    if terminal.fuse_a is not None:
        rating = amperes(terminal.fuse_a, f"document:{job.kit.id}/controller/{terminal.id}/fuse_a")
        end.append(say(words.CUT_HOLDER, rating=rating))
    if joint is None:
        end.append((words.CUT_CAP,))
    elif joint.part is not None:
        part = next(p for p in job.kit.parts if p.id == joint.part.part)
        end.append(say(words.CUT_PART, name=part.name))
    else:
        end.append((words.CUT_ENDS[lead.end],))
    return (
        (lead.label,), (colour_words(lead.colour, lead.stripe),), (job.measures.size(lead.area_mm2, f"{of}/area_mm2"),),
        (job.measures.length(lead.length_m, f"{of}/length_m"),),
        say(words.CUT_PLACE, plug=terminal.plug.upper(), pin=terminal.pin), joined(*end, between=", "),
    )  # fmt: skip


def _sums(job: Job, leads: list[Lead]) -> Iterator[Text]:
    """Yield how much wire of each size the leads take together."""
    trace = f"document:{job.kit.id}/leads"
    for area in dict.fromkeys(lead.area_mm2 for lead in leads):
        length = sum(lead.length_m for lead in leads if lead.area_mm2 == area)
        size = job.measures.size(area, trace)
        yield say(words.CUT_OF_SIZE, size=size, length=job.measures.length(length, trace))
