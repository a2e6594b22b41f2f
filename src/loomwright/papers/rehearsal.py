"""The paper of the start: scenarios with their answers, what holds in every order, silent faults, and advice."""

from collections.abc import Iterator, Sequence

from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Quantity, Table, Text
from loomwright.papers.saying import lifted, listed, say
from loomwright.papers.words.en import rehearsal as words
from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told
from loomwright.starting.advice import Advice
from loomwright.starting.record import Rehearsal
from loomwright.starting.silent import SilentFault, StartReport
from loomwright.starting.trying import TESTS
from loomwright.starting.verdicts import verdicts_of

__all__ = ["start_paper"]


def _count(value: int, trace: str) -> Quantity:
    return Quantity(value=float(value), unit="", trace=trace, digits=0)


def _yes(holds: bool) -> Text:
    return (words.YES if holds else words.NO,)


def start_paper(
    installation: Installation, report: StartReport | None, rehearsals: Sequence[Rehearsal], advice: Advice | None
) -> Paper:
    """Return the paper of the start; parts that were not asked for are left out."""
    blocks: list[Block] = []
    if rehearsals:
        blocks += _scenarios(rehearsals)
    if report is not None:
        blocks += _explored(report)
    if advice is not None:
        blocks += _advised(advice)
    blocks.append(Paragraph(text=say(words.NOTHING_SAID), small=True))
    return Paper(
        id="rehearsal",
        title=words.TITLE,
        subtitle=told(
            words.SUBTITLE, kit=installation.kit.name, revision=installation.kit.revision, car=installation.car.name
        ),
        language="en",
        marks={},
        blocks=tuple(blocks),
    )


def _scenarios(rehearsals: Sequence[Rehearsal]) -> Iterator[Block]:
    yield Heading(text=words.HEAD_SCENARIOS)
    rows = []
    for one in rehearsals:
        trace = f"rehearsal:{one.scenario.id}"
        for number, verdict in enumerate(verdicts_of(one)):
            name = one.scenario.words if number == 0 else ""
            found = lifted(verdict.found, trace)
            rows.append((lifted(name, trace), (verdict.words,), _yes(verdict.holds), found))
    yield Table(head=words.SCENARIOS, rows=tuple(rows), widths=(3, 3, 1, 3))
    solves = sum(r.solves for r in rehearsals)
    yield Paragraph(text=say(words.SOLVES, solves=_count(solves, "rehearsal:solves")), small=True)
    if len(rehearsals) == 1:
        one = rehearsals[0]
        yield Heading(text=told(words.HEAD_EVENTS, words=one.scenario.words), level=3)
        yield Table(
            head=words.EVENTS,
            rows=tuple(
                (
                    (Quantity(value=h.time_s, unit="", trace=f"rehearsal:{one.scenario.id}", digits=1),),
                    lifted(h.words, f"rehearsal:{one.scenario.id}"),
                    (h.mode,),
                )
                for h in one.happenings
            ),
            widths=(1, 5, 2),
        )


def _explored(report: StartReport) -> Iterator[Block]:
    yield Heading(text=words.HEAD_PROPERTIES)
    yield Paragraph(
        text=say(
            words.EXPLORED,
            states=_count(report.states, "exploration:states"),
            transitions=_count(report.transitions, "exploration:transitions"),
            explored=_count(report.explored, "exploration:count"),
        )
    )
    yield Table(
        head=words.PROPERTIES,
        rows=tuple(((h.words,), _yes(h.holds), (h.source,)) for h in report.properties),
        widths=(5, 1, 4),
    )
    for held in report.properties:
        if not held.holds:
            yield Heading(text=told(words.HEAD_STORY, words=held.words), level=3)
            story = tuple(lifted(s.words, f"exploration:{held.id}") for s in held.story)
            yield Bullets(items=story, numbered=True)
    yield Heading(text=words.HEAD_SILENT)
    if report.silent:
        yield Paragraph(text=say(words.SILENT_INTRO))
        groups: dict[tuple[str, tuple[str, ...]], list[SilentFault]] = {}
        for fault in report.silent:
            groups.setdefault((fault.fault.input, fault.defeats), []).append(fault)
        yield Bullets(items=tuple(_silent(group, report) for group in groups.values()))
    else:
        yield Paragraph(text=say(words.SILENT_NONE))
    noticed = _count(len(report.noticed), "exploration:noticed")
    yield Paragraph(text=say(words.NOTICED, count=noticed), small=True)


def _silent(group: Sequence[SilentFault], report: StartReport) -> Text:
    tests = {t.id: t.words for t in TESTS}
    shown = dict.fromkeys(t for fault in group for t in fault.revealed_by)
    masks = dict.fromkeys(c for fault in group for conditions in fault.masked_by.values() for c in conditions)
    return say(
        words.SILENT_ITEM,
        faults=listed((fault.fault.words for fault in group), words.SILENT_LAST),
        lost=linked(h.words for h in report.properties if h.id in group[0].defeats),
        tests=linked((tests[t] for t in shown), "; "),
        masks=listed(masks, words.MASKS_LAST),
    )


def _advised(advice: Advice) -> Iterator[Block]:
    yield Heading(text=words.HEAD_ADVICE)
    why = lifted(advice.detection_why, "advice:detection")
    speed = Quantity(value=advice.disengage_rpm, unit="rpm", trace="advice:disengage", digits=0)
    time = Quantity(value=advice.crank_needed_s, unit="s", trace="advice:crank")
    yield Bullets(
        items=(
            say(words.DETECTION, detection=advice.detection, why=why),
            say(words.DISENGAGE, speed=speed, why=lifted(advice.disengage_why, "advice:disengage")),
            say(words.CRANK, time=time, why=lifted(advice.crank_why, "advice:crank")),
        )
    )
    if advice.waits:
        yield Table(
            head=words.WAITS,
            rows=tuple(
                (
                    (Quantity(value=w.temperature_c, unit="°C", trace="advice:wait", digits=0),),
                    (Quantity(value=w.needed_s, unit="s", trace="advice:wait"),),
                    (Quantity(value=w.kit_s, unit="s", trace="advice:wait"),),
                    _yes(w.enough),
                )
                for w in advice.waits
            ),
            caption=words.WAIT_CAPTION,
        )
    if advice.contradictions:
        yield Heading(text=words.HEAD_CONTRADICTIONS, level=3)
        yield Bullets(items=tuple(lifted(c.words, "advice:contradiction") for c in advice.contradictions))
