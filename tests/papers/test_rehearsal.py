"""The paper of the start: every number carries its trace, and every silent fault is told with its test."""

import re
from collections.abc import Iterator

import pytest

from loomwright.papers.blocks import Block, Bullets, Paragraph, Quantity, Table, Text
from loomwright.papers.rehearsal import start_paper
from loomwright.papers.saying import plain
from loomwright.starting.advice import advise
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.silent import check_start
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
    report = check_start(one)
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


def test_what_was_not_asked_for_is_left_out() -> None:
    one = installation("keyed V6, speed by wire")
    paper = start_paper(one, None, (), None)
    assert len(paper.blocks) == 1
