"""The paper of the start: scenarios with pictures, findings, what holds in every order, silent faults, and advice."""

from collections.abc import Iterator, Sequence

from loomwright.network.results import Finding
from loomwright.papers.blocks import Block, Bullets, Chart, Heading, Paper, Paragraph, Quantity, Table, Text
from loomwright.papers.saying import capital, lifted, listed, say
from loomwright.papers.words.en import naming, tests
from loomwright.papers.words.en import rehearsal as words
from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told
from loomwright.starting.advice import Advice
from loomwright.starting.record import Rehearsal
from loomwright.starting.silent import SilentFault, StartReport
from loomwright.starting.timeline import story_timeline, timeline_of, wait_chart
from loomwright.starting.trying import TESTS
from loomwright.starting.verdicts import verdicts_of

__all__ = ["start_paper"]


def _count(value: int, trace: str) -> Quantity:
    return Quantity(value=float(value), unit="", trace=trace, digits=0)


def _yes(holds: bool) -> Text:
    return (words.YES if holds else words.NO,)


def start_paper(
    installation: Installation, report: StartReport | None, rehearsals: Sequence[Rehearsal], advice: Advice | None,
    findings: Sequence[Finding] = (),
) -> Paper:  # fmt: skip
    """Return the paper of the start; parts that were not asked for are left out.

    Parameters
    ----------
    installation
        Kit and car.
    report
        What exploration told; None where it was not asked for.
    rehearsals
        What the scenarios came to. One alone is told event by event with its picture; of several, those that went wrong
        are shown.
    advice
        How to set the controller; None where it was not asked for.
    findings
        What the start adds to the findings of the installation.
    """
    blocks: list[Block] = []
    if rehearsals:
        blocks += _scenarios(rehearsals)
    if findings:
        blocks += _found(findings)
    if report is not None:
        blocks += _explored(report)
        blocks += _silent_part(report)
    if advice is not None:
        blocks += _advised(installation, advice)
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
    alone = len(rehearsals) == 1
    for one in rehearsals:
        # Where many were asked for, the picture of one that came out right says nothing that the table does not.
        if alone or not all(v.holds for v in verdicts_of(one)):
            yield from _events(one)


def _events(one: Rehearsal) -> Iterator[Block]:
    """Yield what happens in one scenario, as a picture and as a table with the numbers of its marks."""
    trace = f"rehearsal:{one.scenario.id}"
    yield Heading(text=told(words.HEAD_EVENTS, words=one.scenario.words), level=3)
    timeline = timeline_of(one)
    yield Chart(drawing=timeline, caption=words.CHART, words=words.CHART_WORDS)
    yield Table(
        head=words.EVENTS,
        rows=tuple(
            (
                (_count(number, trace),),
                (Quantity(value=h.time_s, unit="", trace=trace, digits=1),),
                lifted(h.words, trace),
                (h.mode,),
            )
            for number, h in enumerate((h for h in one.happenings if h.time_s <= timeline.to_s), 1)
        ),
        widths=(0.5, 1, 5, 2),
    )


def _found(findings: Sequence[Finding]) -> Iterator[Block]:
    yield Heading(text=words.HEAD_FOUND)
    yield Bullets(
        items=tuple(
            say(
                words.FOUND, severity=capital(naming.SEVERITY[f.severity]), message=lifted(f.message, _trace(f)),
                advice=lifted(f.advice, _trace(f)),
            )
            for f in findings
        )
    )  # fmt: skip


def _trace(finding: Finding) -> str:
    return f"finding:{finding.code}"


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
            title = told(words.HEAD_STORY, words=held.words)
            yield Heading(text=title, level=3)
            yield Chart(drawing=story_timeline(title, held.story), caption=words.STORY_CHART, words=words.STORY_WORDS)
            story = tuple(lifted(s.words, f"exploration:{held.id}") for s in held.story)
            yield Bullets(items=story, numbered=True)


def _silent_part(report: StartReport) -> Iterator[Block]:
    """Yield the wires that nobody would miss: what each protects, and where the guide makes the buyer prove it."""
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
    """Return one wire in words: its faults, what is lost with them, the test that shows it, and what would hide it."""
    first = group[0]
    faults = listed((fault.fault.words for fault in group), words.SILENT_LAST)
    plainly = tests.LOST[first.fault.input]
    lost = linked(h.words for h in report.properties if h.id in first.defeats)
    if not first.revealed_by:
        return say(words.SILENT_UNTESTED, faults=faults, plainly=plainly, lost=lost)
    shown = first.revealed_by[0]
    return say(
        words.SILENT_ITEM, faults=faults, plainly=plainly, lost=lost, title=tests.TITLES[shown],
        test=next(t.words for t in TESTS if t.id == shown), masks=listed(first.masked_by[shown], words.MASKS_LAST),
    )  # fmt: skip


def _advised(installation: Installation, advice: Advice) -> Iterator[Block]:
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
        chart = wait_chart(installation.car.name, advice)
        yield Chart(drawing=chart, caption=words.WAIT_CAPTION, words=words.WAIT_WORDS)
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
        )
    if advice.contradictions:
        yield Heading(text=words.HEAD_CONTRADICTIONS, level=3)
        yield Bullets(items=tuple(lifted(c.words, "advice:contradiction") for c in advice.contradictions))
