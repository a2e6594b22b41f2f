"""What was checked and what not: the states solved, the assumptions, findings that remain, wires nobody has proven."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Bullets, Heading, Paragraph, Quantity, Text
from loomwright.papers.job import Job, plug_of
from loomwright.papers.measures import volts
from loomwright.papers.safety_tests import proving_words
from loomwright.papers.saying import capital, lifted, listed
from loomwright.papers.unproven import measured_at
from loomwright.papers.words.en import handover as words
from loomwright.papers.words.en import naming, tests

__all__ = ["assumptions", "checked", "elsewhere", "solved_text", "unproven_items"]

_TOLD = frozenset({"unproven"})
"""Findings about what nobody has measured: the list of such wires tells them."""


def _count(value: int, trace: str) -> Quantity:
    return Quantity(value=value, unit="", trace=trace, digits=0)


def solved_text(job: Job) -> Text:
    """Return what was solved, with its numbers."""
    proof = job.proof
    return job.say(
        words.CHECKED, nodes=_count(proof.nodes, "proof:nodes"), elements=_count(proof.elements, "proof:elements"),
        states=_count(len(proof.states), "proof:states"), points=_count(proof.points, "proof:points"),
    )  # fmt: skip


def assumptions(job: Job) -> tuple[Text, ...]:
    """Return the assumptions, each a sentence."""
    battery = volts(job.readings.battery_v, "readings:battery_v")
    return tuple(job.say(t, battery=battery) for t in words.ASSUMED)


def unproven_items(job: Job) -> tuple[Text, ...]:
    """Return each wire used whose circuit is not proven on this car."""
    found = []
    for joint in job.ordered_joints:
        if joint.circuit is None or joint.pin is None:
            continue
        standing = job.car.standing[joint.circuit]
        if standing.status != "proven":
            found.append(
                job.say(
                    words.UNPROVEN, function=capital(joint.function), plug=job.car.plugs[plug_of(joint.pin)].name,
                    pin=joint.pin.partition("/")[2], colour=job.wire(joint),
                    why=lifted(job.why_words(joint.circuit), f"document:{job.car.vehicle}/evidence/{joint.circuit}"),
                )
            )  # fmt: skip
    return tuple(found)


def _elsewhere_items(job: Job) -> tuple[Text, ...]:
    """Return each pin used whose circuit is proven on this car, though by measurements at other pins of it only."""
    found = []
    for joint in job.ordered_joints:
        known = measured_at(job, joint)
        if known is None or joint.pin is None:
            continue
        places = listed(known, naming.AND)
        found.append(
            job.say(
                words.ELSEWHERE if known else words.ELSEWHERE_UNTOLD, function=capital(joint.function),
                plug=job.car.plugs[plug_of(joint.pin)].name, pin=joint.pin.partition("/")[2], places=places,
            )
        )  # fmt: skip
    return tuple(found)


def checked(job: Job) -> Iterator[Block]:
    """Yield the page that tells what was checked, what not, and what remains."""
    yield Heading(text=words.HEAD_CHECKED, level=1, anchor="checked")
    states = _count(len(job.proof.states), "proof:states")
    yield Paragraph(text=job.say(words.CHECKED_PLAIN, states=states))
    yield Bullets(items=assumptions(job))
    yield Heading(text=words.HEAD_NOT_CHECKED)
    yield Bullets(items=tuple(job.say(t) for t in words.NOT_CHECKED))
    proving = tuple(proving_words(job))
    if proving:
        yield Heading(text=tests.HEAD_PROVED, anchor="proved")
        yield Paragraph(text=job.say(tests.PROVED_INTRO))
        yield Bullets(items=proving)
    yield Heading(text=words.HEAD_REMAINS)
    remains = tuple(
        job.say(
            words.REMAINS, severity=capital(naming.SEVERITY[f.severity]),
            message=job.say(
                words.REMAINS_ADVICE, message=job.lifted(f.message, f"finding:{f.code}"),
                advice=job.lifted(f.advice, f"finding:{f.code}"),
            ),
        )
        for f in job.proof.findings
        if f.code not in _TOLD
    )  # fmt: skip
    if remains:
        yield Bullets(items=remains)
    else:
        yield Paragraph(text=job.say(words.NONE_REMAIN))
    yield Heading(text=words.HEAD_UNPROVEN)
    unproven = unproven_items(job)
    if unproven:
        yield Bullets(items=unproven)
    else:
        yield Paragraph(text=job.say(words.NONE_UNPROVEN))
    yield from elsewhere(job)


def elsewhere(job: Job) -> Iterator[Block]:
    """Yield which pins were not measured themselves, though their wire was; nothing where there are none."""
    items = _elsewhere_items(job)
    if items:
        yield Paragraph(text=job.say(words.ELSEWHERE_INTRO))
        yield Bullets(items=items)
