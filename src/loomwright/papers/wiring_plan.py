"""The builder's wiring plan: the verdict, every route with its joint, the drawing, the reasons, and what is open."""

from collections.abc import Iterator, Mapping

from loomwright.documents.shop import Shop
from loomwright.network.results import Finding, Proof, Readings, verdict
from loomwright.network.states import state_words
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Picture, Table, Text
from loomwright.papers.checked import assumptions, elsewhere, solved_text
from loomwright.papers.connecting import car_end, connections, route_function
from loomwright.papers.cut_list import cut_list
from loomwright.papers.job import Job, colour_words, plug_of
from loomwright.papers.measures import minutes
from loomwright.papers.programming import setting_rows
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import capital, joined, lifted, listed, say
from loomwright.papers.t_through import t_through
from loomwright.papers.wiring_rows import wiring_drawing
from loomwright.papers.words.en import handover, naming
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Installation
from loomwright.planning.leftovers import packed_branches
from loomwright.sentences import told

__all__ = ["route_function", "wiring_plan"]


def wiring_plan(installation: Installation, proof: Proof, shop: Shop, marks: Mapping[str, str]) -> Paper:
    """Return the wiring plan of a kit in a car, for the one who builds and sells it.

    Parameters
    ----------
    installation, proof
        What was planned, and what the rules found about it.
    shop
        The units.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    none = Readings(installation=installation.id, battery_v=BATTERY_V, readings=())
    job = Job(installation=installation, proof=proof, readings=none, shop=shop)
    return Paper(
        id="wiring-plan",
        title=words.PLAN_TITLE,
        subtitle=told(words.PLAN_SUBTITLE, kit=job.kit.name, revision=job.kit.revision, car=job.car.name),
        language="en",
        marks=job.marks(marks),
        blocks=tuple(_blocks(job)),
    )


def _blocks(job: Job) -> Iterator[Block]:
    yield from _verdict(job)
    yield Heading(text=words.HEAD_ROUTES, level=1, anchor="routes")
    yield Paragraph(text=say(words.ROUTES_CAPTION), small=True)
    yield from connections(job)
    yield Heading(text=words.HEAD_DRAWING, level=1, anchor="drawing")
    drawing = wiring_drawing(job)
    yield Picture(drawing=drawing, caption=words.DRAWING_CAPTION, words=words.DRAWING_WORDS, wide=True)
    yield from t_through(job)
    yield from cut_list(job)
    yield from _unserved(job)
    yield from _findings(job)
    yield from _unproven(job)
    yield from _settings(job)
    yield from _unused(job)
    yield from _why(job)
    yield from _checked(job)
    yield from _not_drawn(job)


def _verdict(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_VERDICT, level=1, anchor="verdict")
    found = job.proof.findings
    yield Paragraph(text=say(words.VERDICT[verdict(job.installation, found)]))
    counts = {
        s: Quantity(value=sum(f.severity == s for f in found), unit="", trace="proof:findings", digits=0)
        for s in ("stop", "fix", "note")
    }
    unserved = Quantity(value=len(job.installation.unserved), unit="", trace="installation:unserved", digits=0)
    yield Paragraph(text=say(words.VERDICT_COUNTS, unserved=unserved, **counts))
    yield Heading(text=words.HEAD_VARIANT)
    yield Bullets(
        items=tuple(say(words.VARIANT, ask=capital(a), value=v, cue=cue) for a, v, cue in job.car.choice_words)
    )


def _why(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_WHY, level=1, anchor="why")
    rows: list[tuple[Text, ...]] = []
    for route in job.installation.routes:
        trace = f"route:{route.task}"
        text = say(words.WHY, task=capital(route_function(route)), why=job.lifted(route.why, trace))
        if route.pinned is not None:
            text = joined(text, say(words.PINNED, reason=route.pinned))
        if route.gated is not None:
            text = joined(text, say(words.GATED, gate=route.gated))
        yield Paragraph(text=text)
        rows += [
            (
                (route_function(route),), (naming.HOW[r.how],), job.lifted(r.what, trace), job.lifted(r.fact, trace),
                () if r.minutes is None else (minutes(r.minutes, trace),),
            )
            for r in route.rejected
        ]  # fmt: skip
    if rows:
        yield Table(head=words.REJECTED_TABLE, rows=tuple(rows), widths=(1.3, 1.3, 2.2, 3.4, 0.8))


def _settings(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_SETTINGS, level=1, anchor="settings")
    rows = tuple(
        (
            (s.name,), (c.value,), (c.means,), (s.how or "",),
            (s.default,) if s.default != c.value else (words.THE_SAME,),
        )
        for s, c, _ in setting_rows(job)
    )  # fmt: skip
    yield Table(head=words.SETTINGS_TABLE, rows=rows, widths=(1.6, 1.0, 3.4, 1.2, 1.0))


def _unused(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_UNUSED, level=1, anchor="unused")
    rows = tuple(
        (
            (u.label,), (colour_words(u.colour, u.stripe),), (u.terminal,), (u.where,),
            lifted(u.clash, f"route:unused/{u.label}") if u.clash else (words.NOTHING,),
        )
        for u in job.installation.unused_leads
    )  # fmt: skip
    if rows:
        yield Table(head=words.UNUSED_TABLE, rows=rows, widths=(1.0, 1.2, 1.2, 1.2, 3.4))
    else:
        yield Paragraph(text=say(words.NO_UNUSED))


def _unserved(job: Job) -> Iterator[Block]:
    if not job.installation.unserved:
        return
    yield Heading(text=words.HEAD_UNSERVED, level=1, anchor="unserved")
    rows = tuple(
        (
            say(words.REQUIRED, function=u.function) if u.required else (u.function,),
            job.lifted(u.why, f"route:{u.task}"), job.lifted(u.would_fit_if, f"route:{u.task}"),
        )
        for u in job.installation.unserved
    )  # fmt: skip
    yield Table(head=words.UNSERVED_TABLE, rows=rows, widths=(1.2, 3.0, 3.0))


def _when(finding: Finding) -> str:
    if finding.state is None:
        return words.ALWAYS
    return told(words.WHEN, stage=naming.STAGE[finding.state.stage], state=state_words(finding.state))


def _findings(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_FINDINGS, level=1, anchor="findings")
    rows = tuple(
        (
            (naming.SEVERITY[f.severity],), job.lifted(f.message, f"finding:{f.code}"), (_when(f),),
            job.lifted(f.advice, f"finding:{f.code}"), lifted(f.source, f"finding:{f.code}"),
        )
        for f in job.proof.findings
    )  # fmt: skip
    if rows:
        yield Table(head=words.FINDINGS_TABLE, rows=rows, widths=(0.9, 3.0, 1.8, 2.2, 1.6))
    else:
        yield Paragraph(text=say(words.NO_FINDINGS))


def _unproven(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_UNPROVEN, level=1, anchor="unproven")
    rows: list[tuple[Text, ...]] = []
    for joint in job.ordered_joints:
        if joint.circuit is None or job.car.standing[joint.circuit].status == "proven":
            continue
        standing = job.car.standing[joint.circuit]
        why = say(words.STANDING_WHY, standing=naming.STANDING[standing.status], why=standing.why)
        rows.append(((job.circuit_name(joint.circuit),), car_end(job, joint), why))
    if rows:
        yield Table(head=words.UNPROVEN_TABLE, rows=tuple(rows), widths=(1.4, 2.6, 2.4))
    else:
        yield Paragraph(text=say(words.ALL_PROVEN))
    yield from elsewhere(job)


def _checked(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_CHECKED, level=1, anchor="checked")
    yield Paragraph(text=solved_text(job))
    stages = dict.fromkeys(s.stage for s in job.proof.states)
    yield Paragraph(text=say(words.CHECKED_FAMILIES, stages=listed((naming.STAGE[s] for s in stages), naming.AND)))
    residual = Quantity(value=job.proof.worst_residual * 1e9, unit="nA", trace="proof:worst_residual", digits=1)
    yield Paragraph(text=say(handover.CHECKED_RESIDUAL, residual=residual))
    yield Bullets(items=(*assumptions(job), say(words.SPREADS)))
    yield Heading(text=handover.HEAD_NOT_CHECKED)
    yield Bullets(items=tuple(say(t) for t in handover.NOT_CHECKED))


def _not_drawn(job: Job) -> Iterator[Block]:
    """Yield the photographs that would help the buyer here and that no document names yet."""
    yield Heading(text=words.HEAD_NOT_DRAWN, level=1, anchor="not-drawn")
    items = _missing(job)
    if not items:
        yield Paragraph(text=say(words.ALL_DRAWN))
        return
    yield Paragraph(text=say(words.NOT_DRAWN_INTRO))
    yield Bullets(items=items, ticked=True)


def _missing(job: Job) -> tuple[Text, ...]:
    """Return the photographs of plugs, places, the ground point and the kit that no document names."""
    plugs = dict.fromkeys(plug_of(j.pin) for j in job.ordered_joints if j.pin is not None)
    items = [
        say(words.NOT_DRAWN_PLUG, plug=job.car.plugs[p].name, place=job.car.places[job.car.plugs[p].place].name)
        for p in plugs
        if job.car.plugs[p].photo is None
    ]
    places = (job.car.places[p] for p in job.places)
    items += [say(words.NOT_DRAWN_PLACE, place=p.name) for p in places if p.access and p.photo is None]
    items += [
        say(words.NOT_DRAWN_GROUND, point=g.words)
        for g in job.car.grounds
        if g.photo is None
        and any(j.kind == "ground point" and j.id.endswith(f"/{g.id}") for j in job.installation.joints)
    ]
    packed = packed_branches(job.kit, job.installation.joints)
    items += [say(words.NOT_DRAWN_BRANCH, label=b.label) for b in packed if b.photo is None]
    if job.kit.controller.photo is None:
        sockets = dict.fromkeys(t.plug.upper() for t in job.kit.controller.terminals)
        items += [say(words.NOT_DRAWN_SOCKET, plug=s) for s in sockets]
        items.append(say(words.NOT_DRAWN_BOXES))
    return tuple(items)
