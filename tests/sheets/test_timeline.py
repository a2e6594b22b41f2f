"""The picture of a rehearsal: everything stands inside it, bars and marks where they happened."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from loomwright.papers.languages import FRENCH
from loomwright.papers.translating import drawing_in_language
from loomwright.sheets.lanes import timeline_lanes, wait_lanes
from loomwright.sheets.timeline import draw_chart, draw_timeline, draw_wait_chart
from loomwright.starting.advice import advise
from loomwright.starting.explore import explore_settings
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.telling import StoryStep
from loomwright.starting.timeline import Timeline, story_timeline, timeline_of, wait_chart
from tests.starting.cases import installation, settings, wiring

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


def _broken() -> tuple[tuple[StoryStep, ...], Timeline]:
    one = settings("keyed V6, speed by wire")
    weaker = replace(one, guards=tuple(g for g in one.guards if g.id != "hood"))
    found = {h.id: h for h in explore_settings(weaker, wiring("keyed V6, speed by wire")).properties}
    story = found["starter-hood"].story
    return story, story_timeline("How it is broken", story)


def test_a_story_has_a_column_for_each_step_with_what_is_on_and_what_holds() -> None:
    story, timeline = _broken()
    assert (timeline.axis, timeline.to_s) == ("step", float(len(story)))
    spans = {bar.name: bar.spans for bar in timeline.bars}
    last = float(len(story))
    # What breaks the property stands in one column: the hood is open and the starter is on.
    assert spans["hood open"][-1] == spans["start"][-1] == (last - 1, last)
    assert [m.words for m in timeline.marks] == [s.words for s in story]


def test_a_story_is_drawn_without_seconds_because_timers_run_out_whenever_they_like() -> None:
    story, timeline = _broken()
    for width in (100.0, 178.0):
        root = ElementTree.fromstring(draw_chart(timeline, width_mm=width))
        shown = [t.text for t in root.iter(f"{_SVG}text")]
        assert "s" not in shown
        assert [t for t in shown if t in {"1", "2", "3"}] == ["1", "2", "3"][: len(story)]
        assert {"hood open", "start", "ignition"} <= set(shown)


def test_the_lanes_of_a_story_show_the_same_in_a_terminal() -> None:
    story, timeline = _broken()
    lanes = timeline_lanes(timeline)
    rows = {line[:24].strip(): line[24:] for line in lanes}
    width = len(rows["start"]) // len(story)
    for name in ("start", "hood open", "ignition"):
        on = {n + 1 for n in range(len(story)) if "#" in rows[name][n * width : (n + 1) * width]}
        told = {s.number for s in story if name in (*s.outputs, *s.car)}
        assert on == told, name
    assert max(map(len, lanes)) <= 78


@pytest.mark.parametrize("scenario", ["cold", "cold-by-time", "takeover"])
def test_the_lanes_of_a_rehearsal_are_on_where_the_bars_are(scenario: str) -> None:
    timeline = timeline_of(rehearse(installation(CASE), SCENARIOS[scenario]))
    lanes = timeline_lanes(timeline)
    assert max(map(len, lanes)) <= 78
    rows = {line[:24].strip(): line[24:] for line in lanes}
    for bar in timeline.bars:
        cells = rows[bar.name]
        scale = len(cells) / (timeline.to_s - timeline.from_s)
        for begin, end in bar.spans:
            middle = min(int(0.5 * (begin + end) * scale), len(cells) - 1)
            assert cells[middle] == "#"
        assert ("#" in cells) is bool(bar.spans)
    battery = next(row for name, row in rows.items() if name.startswith("battery"))
    assert set(battery) <= set("0123456789")
    assert abs(battery.index("0") - rows["starter turns"].index("#")) <= 1, "the inrush is the lowest"


def test_the_wait_in_a_terminal_shows_which_bar_is_longer() -> None:
    chart = wait_chart("Car", advise(installation(CASE)))
    lines = wait_lanes(chart)
    assert len(lines) == 3 * len(chart.curves[0][1])
    cold = lines[:3]
    assert cold[0].lstrip().startswith("-30 \N{DEGREE SIGN}C")
    assert cold[0].count("#") > cold[2].count("-") - 1, "twelve seconds are too short at -30 degrees"
    warm = lines[-3:]
    assert warm[0].count("#") < warm[2].count("-")


@pytest.mark.parametrize("scenario", ["cold", "warm"])
def test_in_french_the_pictures_have_french_words_units_and_decimal_signs(scenario: str) -> None:
    one = drawing_in_language(timeline_of(rehearse(installation(CASE), SCENARIOS[scenario])), FRENCH)
    root = ElementTree.fromstring(draw_timeline(one, width_mm=180.0, language="fr"))
    shown = [t.text or "" for t in root.iter(f"{_SVG}text")]
    assert {"[tr/min]", "moteur", "batterie", "le démarreur tourne"} <= set(shown)
    assert [text for text in shown if re.search(r"\d\.\d|rpm|\b(?:the|starter|engine)\b", text)] == []
    lanes = "\n".join(timeline_lanes(one, language="fr"))
    assert re.search(r"^batterie \d+,\d+-\d+,\d+ V", lanes, re.MULTILINE)
    assert re.search(r"^moteur 0-\d+ tr/min", lanes, re.MULTILINE)
    assert max(map(len, lanes.splitlines())) <= 78


def test_a_long_name_before_a_lane_never_pushes_its_numbers_out() -> None:
    one = drawing_in_language(timeline_of(rehearse(installation(CASE), SCENARIOS["cold"])), FRENCH)
    heater = next(c for c in one.curves if c.unit == "\N{DEGREE SIGN}C")
    longer = replace(one, curves=(replace(heater, name="préchauffage " * 4),))
    lane = next(line for line in timeline_lanes(longer, language="fr") if line.startswith("pré"))
    assert re.match(r"préchauffa\S* -?\d+-\d+ °C +$", lane[:24])


def test_in_french_the_chart_of_the_wait_says_what_it_shows_in_french() -> None:
    chart = drawing_in_language(wait_chart("Car", advise(installation(CASE))), FRENCH)
    svg = draw_wait_chart(chart, width_mm=120.0, language="fr")
    assert "demande" in svg
    assert "needs" not in svg
    assert "needs" in draw_wait_chart(wait_chart("Car", advise(installation(CASE))), width_mm=120.0)
    assert "nécessaire" in svg
