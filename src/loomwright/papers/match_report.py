"""The short report of a match, for the screen: verdict, routes, what is open; or why the kit is refused."""

from collections.abc import Iterator

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings, verdict
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Table, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.checked import unproven_items
from loomwright.papers.job import Job
from loomwright.papers.measures import minutes
from loomwright.papers.programming import changed_settings
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import capital, lifted, listed, say
from loomwright.papers.wiring_plan import route_function
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Installation, Joint, Refusal, Route
from loomwright.sentences import told

__all__ = ["match_report"]

_NO_SHOP = Shop.model_validate({"kind": "shop", "id": "none", "name": "-", "call": "-"})


def match_report(result: Installation | Refusal, proof: Proof | None, shop: Shop = _NO_SHOP) -> Paper:
    """Return the report of a match.

    Parameters
    ----------
    result
        What planning returned: the installation, or the refusal.
    proof
        What the rules found; None for a refusal, or where nothing was proved yet.
    shop
        The units; metric where nobody says.
    """
    blocks = _refused(result) if isinstance(result, Refusal) else _report(result, proof, shop)
    return Paper(
        id="match",
        title=words.REPORT_TITLE,
        subtitle=told(words.REPORT_SUBTITLE, kit=result.kit.name, revision=result.kit.revision, car=result.car.name),
        language="en",
        marks={},
        blocks=tuple(blocks),
    )


def _refused(refusal: Refusal) -> Iterator[Block]:
    trace = f"refusal:{refusal.code}"
    yield Paragraph(text=say(words.REFUSED))
    yield Paragraph(text=lifted(refusal.reason, trace))
    yield caution(cautions.REFUSED, words=lifted(refusal.caution, trace))
    yield Paragraph(text=say(words.REFUSED_IF, cure=lifted(refusal.would_fit_if, trace)))
    if refusal.unserved:
        yield Bullets(
            items=tuple(
                say(
                    words.REPORT_UNSERVED, function=u.function, why=lifted(u.why, f"route:{u.task}"),
                    cure=lifted(u.would_fit_if, f"route:{u.task}"),
                )
                for u in refusal.unserved
            )
        )  # fmt: skip
    yield Paragraph(text=say(words.REFUSED_CODE, code=refusal.code), small=True)


def _report(installation: Installation, proof: Proof | None, shop: Shop) -> Iterator[Block]:
    known = proof or Proof(
        installation=installation, findings=(), nodes=0, elements=0, states=(), points=0, worst_residual=0.0
    )
    none = Readings(installation=installation.id, battery_v=BATTERY_V, readings=())
    job = Job(installation=installation, proof=known, readings=none, shop=shop)
    if proof is None:
        yield Paragraph(text=say(words.NOT_PROVED))
    else:
        yield Paragraph(text=say(words.VERDICT[verdict(installation, proof.findings)]))
    yield Heading(text=words.HEAD_REPORT_ROUTES)
    yield Table(
        head=words.REPORT_ROUTES,
        rows=tuple(row for route in installation.routes for row in _rows(job, route)),
        widths=(1.4, 1.6, 1.6, 0.9, 2.8, 1.1),
    )
    needed = tuple(
        say(words.REPORT_BUYER, function=route_function(route), needed=lifted(route.gated, f"route:{route.task}"))
        for route in installation.routes
        if route.gated is not None
    )
    if needed:
        yield Heading(text=words.HEAD_REPORT_BUYER)
        yield Bullets(items=needed)
    items = tuple(_open_items(job))
    if items:
        yield Heading(text=words.HEAD_REPORT_OPEN)
        yield Bullets(items=items)
    yield from _leftovers(job)


def _rows(job: Job, route: Route) -> Iterator[tuple[Text, ...]]:
    if not route.joints:
        yield ((route_function(route),), (naming.HOW[route.how],), (), (), (), ())
    for joint in route.joints:
        lead = told(naming.LEAD, label=joint.label, colour=job.lead_colour(joint))
        yield (
            (route_function(route),), (naming.HOW[route.how],), (lead,), _through(job, joint), (_wire(job, joint),),
            _standing(job, joint),
        )  # fmt: skip


def _wire(job: Job, joint: Joint) -> str:
    plug = job.plug(joint)
    if plug is None or joint.pin is None:
        return naming.JOINT[joint.kind]
    return told(words.REPORT_WIRE, plug=plug.name, pin=joint.pin.partition("/")[2], colour=job.wire(joint))


def _through(job: Job, joint: Joint) -> Text:
    """Return the part that stands between the kit's lead and the wire."""
    if joint.part is None:
        return ()
    used = joint.part.part
    part = next(p for p in job.kit.parts if p.id == used)
    key, value, unit = "rating_a", part.rating_a, "A"
    if part.resistance_ohm is not None:
        key, value, unit = "resistance_ohm", part.resistance_ohm, "Ω"
    trace = f"document:{job.kit.id}/parts/{part.id}/{key}"
    size = Quantity(value=value, unit=unit, trace=trace, digits=0 if value % 1 == 0 else 1)
    return say(words.REPORT_PART, kind=part.kind, size=size)


def _standing(job: Job, joint: Joint) -> Text:
    return () if joint.circuit is None else (naming.STANDING[job.car.standing[joint.circuit].status],)


def _open_items(job: Job) -> Iterator[Text]:
    for u in job.installation.unserved:
        yield say(
            words.REPORT_UNSERVED, function=u.function, why=job.lifted(u.why, f"route:{u.task}"),
            cure=job.lifted(u.would_fit_if, f"route:{u.task}"),
        )  # fmt: skip
    for f in job.proof.findings:
        if f.code != "unproven":
            yield say(
                words.REPORT_FINDING, severity=capital(naming.SEVERITY[f.severity]),
                message=job.lifted(f.message, f"finding:{f.code}"),
                advice=job.lifted(f.advice, f"finding:{f.code}"),
            )  # fmt: skip
    for text in unproven_items(job):
        yield say(words.REPORT_UNPROVEN, wire=text)


def _leftovers(job: Job) -> Iterator[Block]:
    changed = changed_settings(job)
    if changed:
        names = listed((told(words.REPORT_SETTING, name=s.name, value=c.value) for s, c, _ in changed), naming.AND)
        yield Paragraph(text=say(words.REPORT_SETTINGS, settings=names))
    unused = [u.label for u in job.installation.unused_leads]
    if unused:
        yield Paragraph(text=say(words.REPORT_UNUSED, labels=listed(unused, naming.AND)))
    counted = minutes(job.installation.minutes, "installation:minutes")
    yield Paragraph(text=say(words.REPORT_TIME, minutes=counted))
