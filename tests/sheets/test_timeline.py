"""The picture of a rehearsal: everything stands inside it, bars and marks where they happened."""

import re
from xml.etree import ElementTree

import pytest

from loomwright.sheets.timeline import draw_timeline, draw_wait_chart
from loomwright.starting.advice import advise
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.timeline import timeline_of, wait_chart
from tests.starting.cases import installation

_SVG = "{http://www.w3.org/2000/svg}"
CASE = "diesel, speed by voltage"


def _numbers(text: str) -> list[float]:
    return [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", text)]


@pytest.mark.parametrize("scenario", ["cold", "cold-by-time", "takeover"])
@pytest.mark.parametrize("width_mm", [120.0, 180.0])
def test_everything_stands_inside_the_picture(scenario: str, width_mm: float) -> None:
    timeline = timeline_of(rehearse(installation(CASE), SCENARIOS[scenario]))
    root = ElementTree.fromstring(draw_timeline(timeline, width_mm=width_mm))
    width, height = _numbers(root.attrib["viewBox"])[2:]
    assert width == width_mm
    for one in root.iter(f"{_SVG}path"):
        xs, ys = _numbers(one.attrib["d"])[::2], _numbers(one.attrib["d"])[1::2]
        assert min(xs) >= 0
        assert max(xs) <= width
        assert min(ys) >= 0
        assert max(ys) <= height
    for one in root.iter(f"{_SVG}rect"):
        assert float(one.attrib["x"]) + float(one.attrib["width"]) <= width
    shown = " ".join(t.text or "" for t in root.iter(f"{_SVG}text"))
    assert all(mark.words in shown for mark in timeline.marks)
    assert all(bar.name in shown for bar in timeline.bars)


def test_bars_are_as_long_as_what_they_show() -> None:
    found = rehearse(installation(CASE), SCENARIOS["cold-by-time"])
    timeline = timeline_of(found)
    start = next(bar for bar in timeline.bars if bar.name == "start")
    assert len(start.spans) == len(found.asked) == 2
    for (a, b), (c, d) in zip(start.spans, found.asked, strict=True):
        assert (a, b) == pytest.approx((c, d), abs=0.6)


def test_a_long_quiet_run_is_cut() -> None:
    long = rehearse(installation(CASE), SCENARIOS["warm"])
    assert timeline_of(long).to_s < long.scenario.lasts_s
    assert len(timeline_of(long).curves[0].points) <= 400


def test_a_narrow_picture_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 100"):
        draw_timeline(timeline_of(rehearse(installation(CASE), SCENARIOS["warm"])), width_mm=60)


def test_the_chart_sets_the_wait_beside_what_is_needed() -> None:
    chart = wait_chart("Car", advise(installation(CASE)))
    assert [name for name, _ in chart.curves] == ["needed", "the kit waits", "set to 12 s"]
    needed, given = dict(chart.curves[0][1]), dict(chart.curves[1][1])
    assert all(given[t] >= s for t, s in needed.items())
    root = ElementTree.fromstring(draw_wait_chart(chart, width_mm=120))
    assert len(list(root.iter(f"{_SVG}path"))) == 3
