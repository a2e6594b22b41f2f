"""The removal page: back to stock, after a flat battery, and what a workshop needs to know."""

from collections.abc import Iterator, Mapping

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings
from loomwright.papers.after_flat import after_flat, keys_needed, learned
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Text
from loomwright.papers.job import Job, plug_of
from loomwright.papers.operating_card import service
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import listed
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import handover as guide_words
from loomwright.papers.words.en import naming, page_one
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["removal", "removal_page"]

_STAGES = ("fitted", "kit dead", "removed")


def removal_page(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str]
) -> Paper:
    """Return the page by which the kit comes out again, and what holds after a flat battery and in a workshop.

    Parameters
    ----------
    installation, proof, readings, shop
        What was planned, found and computed, and whom to call.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop)
    return Paper(
        id="removal", title=words.REMOVAL_TITLE,
        subtitle=told(words.REMOVAL_SUBTITLE, kit=job.kit.name, car=job.car.name), language="en",
        marks=job.marks(marks), blocks=tuple(_page(job)), footer=job.call_line,
    )  # fmt: skip


def _page(job: Job) -> Iterator[Block]:
    yield from removal(job)
    yield Heading(text=words.HEAD_AFTER, anchor="after")
    tried = job.lines(t for f, t in page_one.BASELINE_WORKS.items() if f in job.served)
    module = job.kit.vehicle_module
    locked = job.lines((words.AFTER_LOCKED,)) if module is not None and module.locked and job.uses_module else ()
    yield Bullets(items=(*job.lines(words.AFTER), *tried, *locked), ticked=True)
    yield Heading(text=words.HEAD_FLAT, anchor="flat-battery")
    yield Bullets(items=tuple(after_flat(job)), numbered=True)
    yield Heading(text=words.HEAD_SERVICE_MODE, anchor="service")
    yield Bullets(items=tuple(service(job)))
    yield Heading(text=words.HEAD_DEALER, anchor="workshop")
    yield Bullets(items=tuple(_workshop(job)))


def removal(job: Job) -> Iterator[Block]:
    """Yield how the kit is taken out, backwards through the fitting."""
    yield Heading(text=guide_words.HEAD_REMOVE, level=1, anchor="removal")
    yield Paragraph(text=job.say(guide_words.REMOVE_INTRO))
    off = guide_words.REMOVE_OFF_TWO if job.two_batteries else guide_words.REMOVE_OFF
    items: list[Text] = [job.say(off, wait=job.wait), job.say(guide_words.REMOVE_CONTROLLER)]
    branches = {b.id: b for b in job.kit.branches}
    for action in reversed(job.order):
        if action.kind == "controller":
            continue
        joint = action.joints[0]
        name, _, pin = (joint.pin or "").partition("/")
        plug = job.car.plugs[name].name if name else ""
        if action.kind in ("T", "plug"):
            template = guide_words.REMOVE_T if action.kind == "T" else guide_words.REMOVE_PLUG
            items.append(job.say(template, label=branches[action.branch or ""].label, plug=plug))
        elif joint.kind == "cut in" and joint.part is not None:
            cut = next(p for p in job.kit.parts if joint.part is not None and p.id == joint.part.part)
            items.append(
                job.say(
                    guide_words.REMOVE_CUT, name=cut.name, label=joint.label, plug=plug, pin=pin,
                    colour=job.wire(joint),
                )
            )  # fmt: skip
        elif action.kind == "tap":
            items.append(job.say(guide_words.REMOVE_TAP, label=joint.label, plug=plug, pin=pin, colour=job.wire(joint)))
        elif action.kind == "added part":
            added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
            items.append(job.say(guide_words.REMOVE_ADDED, name=added.name, label=joint.label))
        else:
            items.append(job.say(guide_words.REMOVE_GROUND, label=joint.label))
    items.append(job.say(guide_words.REMOVE_ON))
    yield Bullets(items=tuple(items), numbered=True)


def _workshop(job: Job) -> Iterator[Text]:
    joined = dict.fromkeys(job.car.plugs[plug_of(j.pin)].name for j in job.ordered_joints if j.pin is not None)
    plugs = dict.fromkeys(job.terminal(j).plug.upper() for j in job.installation.joints)
    broken = [
        f for f in job.proof.findings if f.severity != "note" and f.state is not None and f.state.stage in _STAGES
    ]
    count = Quantity(value=len(broken), unit="", trace="proof:findings", digits=0)
    yield from job.lines(
        words.DEALER, kit=job.kit.name, revision=job.kit.revision, joined=listed(joined, naming.AND),
        plugs=listed(plugs, naming.AND), count=count,
    )  # fmt: skip
    for action in job.order:
        plug = job.plug(action.joints[0]) if action.kind == "plug" else None
        if plug is not None:
            label = next(b.label for b in job.kit.branches if b.id == action.branch)
            yield job.say(words.DEALER_SOCKET, label=label, plug=plug.name)
    names = learned(job)
    if names:
        yield job.say(words.DEALER_LEARN, names=listed(names, naming.AND))
    keys = keys_needed(job)
    if keys is not None:
        yield job.say(words.FLAT_KEYS, count=keys)
    if not any(j.circuit is not None and job.is_restraint(j.circuit) for j in job.ordered_joints):
        yield job.say(words.DEALER_AIRBAGS, wait=job.wait)
