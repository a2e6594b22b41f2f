"""The paper of the start: every number carries its trace, and every silent fault is told with its test."""

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

import pytest

from loomwright.papers.blocks import Block, Bullets, Chart, Heading, Paragraph, Quantity, Table, Text
from loomwright.papers.rehearsal import start_paper
from loomwright.papers.saying import plain
from loomwright.sheets import render
from loomwright.starting.advice import advise
from loomwright.starting.explore import explore_settings
from loomwright.starting.findings import property_findings
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.timeline import Timeline, WaitChart, timeline_of
from tests.kept import start_report_of
from tests.starting.cases import installation


def _texts(blocks: tuple[Block, ...]) -> Iterator[Text]:
    for block in blocks:
        match block:
            case Paragraph(text=text):
                yield text
            case Bullets(items=items):
                yield from items
            case Table(rows=rows):
                yield from (cell for row in rows for cell in row)
            case _:
                continue


@pytest.mark.parametrize("case", ["diesel, speed by voltage", "button", "keyed V6, speed by wire"])
def test_the_paper_tells_scenarios_properties_silent_faults_and_advice(case: str) -> None:
    one = installation(case)
    report = start_report_of(one)
    paper = start_paper(one, report, (rehearse(one, SCENARIOS["cold"]),), advise(one))
    texts = list(_texts(paper.blocks))
    said = " ".join(plain(t) for t in texts)
    for fault in report.silent:
        assert fault.fault.words in said
    for held in report.properties:
        assert held.words in said
    numbers = [run for text in texts for run in text if isinstance(run, Quantity)]
    assert len(numbers) > 10
    assert all(re.match(r"^(rehearsal|exploration|advice):", n.trace) for n in numbers)


def _together(timeline: Timeline) -> float:
    """For how long the starter turns an engine that is hot enough to fire, in the longest attempt [s]."""
    spans = {b.name: b.spans for b in timeline.bars}
    return max(
        (min(b, d) - max(a, c) for a, b in spans["starter turns"] for c, d in spans["hot enough to fire"]), default=0.0
    )


@pytest.mark.parametrize("form", ["html", "a4", "text"])
def test_a_broken_property_comes_with_its_steps_and_their_picture(form: Literal["html", "a4", "text"]) -> None:
    one = installation("keyed V6, speed by wire")
    report = start_report_of(one)
    weaker = replace(report.settings, guards=tuple(g for g in report.settings.guards if g.id != "hood"))
    broken = replace(report, properties=explore_settings(weaker, report.wiring).properties)
    paper = start_paper(one, broken, (), None, tuple(property_findings(broken)))
    place = next(
        n for n, b in enumerate(paper.blocks)
        if isinstance(b, Heading) and "starter never turns with the hood open" in b.text
    )  # fmt: skip
    chart, steps = paper.blocks[place + 1 : place + 3]
    assert isinstance(chart, Chart)
    assert isinstance(steps, Bullets)
    assert steps.numbered
    assert len(steps.items) == len(chart.drawing.marks) == 3  # type: ignore[union-attr]
    assert "STOP" in " ".join(plain(t) for t in _texts(paper.blocks))
    content = render(paper, form)
    if form == "html":
        assert content.count(b"hood open") >= 2  # both widths of the drawing
    elif form == "text":
        assert b"hood open               " in content


def test_the_paper_shows_why_a_cold_diesel_needs_a_longer_wait() -> None:
    one = installation("diesel, speed by voltage")
    paper = start_paper(one, None, (rehearse(one, SCENARIOS["cold-by-time"]),), advise(one))
    charts = [b.drawing for b in paper.blocks if isinstance(b, Chart)]
    timeline, wait = charts
    assert isinstance(timeline, Timeline)
    assert isinstance(wait, WaitChart)
    # The heater is hot enough for less than the time of cranking that it takes to fire; with the lamp's wait for more.
    machine = rehearse(one, SCENARIOS["cold"]).machine
    assert _together(timeline) < machine.fire_s <= _together(timeline_of(rehearse(one, SCENARIOS["cold"])))
    needed, by_time = dict(wait.curves[0][1]), dict(wait.curves[2][1])
    assert needed[-30.0] > by_time[-30.0] > needed[0.0]


def test_what_was_not_asked_for_is_left_out() -> None:
    one = installation("keyed V6, speed by wire")
    paper = start_paper(one, None, (), None)
    assert len(paper.blocks) == 1
