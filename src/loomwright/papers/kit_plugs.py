"""The kit's own plugs: what sits in which place, and what becomes of it in this car."""

from collections.abc import Iterator

from loomwright.documents.kit import Terminal
from loomwright.papers.blocks import Block, Heading, Paragraph, Table, Text
from loomwright.papers.job import Job, colour_words
from loomwright.papers.measures import amperes
from loomwright.papers.saying import say
from loomwright.papers.words.en import page_one as words
from loomwright.planning.installation import Joint
from loomwright.planning.leftovers import packed_branches
from loomwright.sentences import told

__all__ = ["kit_plugs"]


def kit_plugs(job: Job) -> Iterator[Block]:
    """Yield the table of the kit's plugs, place by place."""
    yield Heading(text=words.HEAD_PLUGS, anchor="kit-plugs")
    first = job.kit.controller.terminals[0]
    plug = first.plug.upper()
    place = told(words.PLUGS_PLACE, plug=plug, pin=first.pin)
    yield Paragraph(text=job.say(words.PLUGS_INTRO, first=place, plug=plug, pin=first.pin))
    yield Table(head=words.PLUGS_TABLE, rows=tuple(_rows(job)), widths=(0.8, 2.2, 1.8, 1.4))
    if job.fused:
        yield Paragraph(text=job.say(words.PLUGS_FUSES))
    module = job.kit.vehicle_module
    data = next((j for j in job.installation.joints if job.terminal(j).kind == "data port"), None)
    if module is not None and data is not None:
        by = words.PLUGS_MODULE if module.plug is None else words.PLUGS_MODULE_BY
        yield Paragraph(text=job.say(by, module=module.name, label=data.label, plug=module.plug or ""))


def _rows(job: Job) -> Iterator[tuple[Text, ...]]:
    kit = job.kit
    leads = {lead.terminal: lead for lead in kit.leads}
    packed = packed_branches(kit, job.installation.joints)
    for terminal in kit.controller.terminals:
        joints = [j for j in job.installation.joints if j.terminal == terminal.id]
        lead = leads.get(terminal.id)
        if lead is not None and (not joints or joints[0].label == lead.label):
            trace = f"document:{kit.id}/leads/{lead.id}/length_m"
            length: Text = (job.measures.length(lead.length_m, trace),)
            length = _with_fuse(length, terminal.fuse_a, f"document:{kit.id}/controller/{terminal.id}/fuse_a")
            colour = colour_words(lead.colour, lead.stripe)
            yield _row(terminal, lead.label, colour, length, _use(job, joints[0] if joints else None))
            continue
        # One place may feed several conductors of a T-harness, each with its own label.
        for branch, inside in ((b, c) for b in packed for c in b.conductors if c.terminal == terminal.id):
            joint = next((j for j in joints if j.branch == branch.id and j.label == inside.label), None)
            of = f"branches/{branch.id}/conductors" if inside.fuse_a is not None else f"controller/{terminal.id}"
            fuse_a = inside.fuse_a or terminal.fuse_a
            length = _with_fuse(say(words.PLUGS_INSIDE, label=branch.label), fuse_a, f"document:{kit.id}/{of}/fuse_a")
            yield _row(terminal, inside.label, colour_words(inside.colour, inside.stripe), length, _use(job, joint))


def _with_fuse(length: Text, fuse_a: float | None, trace: str) -> Text:
    return length if fuse_a is None else say(words.PLUGS_FUSED, length=length, fuse=amperes(fuse_a, trace))


def _row(terminal: Terminal, label: str, colour: str, length: Text, use: Text) -> tuple[Text, ...]:
    place = say(words.PLUGS_PLACE, plug=terminal.plug.upper(), pin=terminal.pin)
    return place, say(words.PLUGS_LEAD, label=label, colour=colour), length, use


def _use(job: Job, joint: Joint | None) -> Text:
    """Return what becomes of a lead in this car."""
    if joint is None:
        return say(words.PLUGS_UNUSED)
    branch = next((b for b in job.kit.branches if b.id == joint.branch), None)
    if joint.kind == "ground point":
        return say(words.PLUGS_GROUND)
    if joint.kind == "added part":
        added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
        return say(words.PLUGS_ADDED, name=added.name)
    if joint.kind in ("T tapped", "T interrupted", "plug") and branch is not None:
        return say(words.PLUGS_WITH, label=branch.label)
    return say(words.PLUGS_JOIN)
