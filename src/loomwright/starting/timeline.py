"""A rehearsal as a picture in time, without its form: bars for outputs, curves for numbers, marks for what happened."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.sentences import capital, linked, told
from loomwright.starting.advice import Advice
from loomwright.starting.engine import heater_need_c
from loomwright.starting.record import Moment, Rehearsal
from loomwright.starting.telling import StoryStep

__all__ = ["Bar", "Curve", "Mark", "Timeline", "WaitChart", "story_timeline", "timeline_of", "wait_chart", "window_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One thing that is on or off: spans of time [s]."""

    name: str
    spans: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One number against time; `level` is a value to compare it with, told by `level_name`."""

    name: str
    unit: str
    points: tuple[tuple[float, float], ...]  # (s, value)
    level: float | None = None
    level_name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A moment with its words."""

    time_s: float
    words: str
    number: int | None = None  # by its place among the marks where left out


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """A whole picture: `from_s` to `to_s` is what is shown."""

    title: str
    from_s: float
    to_s: float
    bars: tuple[Bar, ...]
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...]
    axis: Literal["s", "step"] = "s"  # a story has no seconds: timers run out whenever they like


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitChart:
    """Waiting time against temperature: what the heater needs, and what the kit gives, by name."""

    title: str
    curves: tuple[tuple[str, tuple[tuple[float, float], ...]], ...]  # name -> (°C, s), the need first


_QUIET_S = 5.0
_COARSE_S = 0.1


def _spans(rehearsal: Rehearsal, holds: Callable[[Moment], bool]) -> tuple[tuple[float, float], ...]:
    """Return from when to when something holds in the record [s]."""
    out: list[list[float]] = []
    on = False
    for moment in rehearsal.moments:
        now = holds(moment)
        if now and not on:
            out.append([moment.time_s, moment.time_s])
        if now or on:
            out[-1][1] = moment.time_s
        on = now
    return tuple((a, b) for a, b in out)


def _thinned(points: Sequence[tuple[float, float]], most: int = 400) -> tuple[tuple[float, float], ...]:
    """Keep the shape of a curve with fewer points: the lowest and the highest of each stretch."""
    if len(points) <= most:
        return tuple(points)
    width = -(-2 * len(points) // most)
    out: list[tuple[float, float]] = []
    for first in range(0, len(points), width):
        part = points[first : first + width]
        pair = {min(part, key=lambda p: p[1]), max(part, key=lambda p: p[1])}
        out += sorted(pair)
    return tuple(out)


def _held(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Hold each value until the next where the record is coarse: nothing moved in between, so no slope is drawn."""
    out: list[tuple[float, float]] = []
    for time_s, value in points:
        if out and time_s - out[-1][0] > _COARSE_S:
            out.append((time_s, out[-1][1]))
        out.append((time_s, value))
    return out


def _title(rehearsal: Rehearsal) -> str:
    words = rehearsal.scenario.words
    at = told("{temperature_c:.0f} °C", temperature_c=rehearsal.scenario.temperature_c)
    return linked((capital(words), "" if at in words else at), ", ")


def timeline_of(rehearsal: Rehearsal, *, to_s: float | None = None) -> Timeline:
    """Return the picture of a rehearsal, up to a time or a little beyond its last event [s].

    A long quiet run is cut: what comes after the last thing that happens is not shown.
    """
    last = max((h.time_s for h in rehearsal.happenings), default=rehearsal.scenario.lasts_s)
    end = min(to_s if to_s is not None else last + _QUIET_S, rehearsal.scenario.lasts_s)
    shown = [m for m in rehearsal.moments if m.time_s <= end]
    outputs = dict.fromkeys(o for m in shown for o in m.outputs)

    def bar(name: str, spans: Sequence[tuple[float, float]]) -> Bar:
        return Bar(name=name, spans=tuple((a, min(b, end)) for a, b in spans if a <= end))

    bars = [bar(o, _spans(rehearsal, lambda m, o=o: o in m.outputs)) for o in outputs]  # type: ignore[misc]
    bars.append(bar("starter turns", rehearsal.cranks))

    def curve(name: str, unit: str, values: list[float], level: float | None = None, level_name: str = "") -> Curve:
        points = _thinned(_held(list(zip((m.time_s for m in shown), values, strict=True))))
        return Curve(name=name, unit=unit, points=points, level=level, level_name=level_name)

    curves = [
        curve("engine", "rpm", [m.rpm for m in shown], rehearsal.settings.disengage_rpm, "starter lets go"),
        curve("battery", "V", [m.battery_v for m in shown]),
        curve("starter", "A", [m.starter_a for m in shown]),
    ]
    if rehearsal.machine.heater is not None:
        need = heater_need_c(rehearsal.machine.temperature_c)
        name = rehearsal.machine.heater.name
        curves.append(curve(name, "°C", [m.heater_c for m in shown], need, "the engine fires above"))
        # It fires where this bar and that of the starter have stood together for long enough.
        bars.append(bar("hot enough to fire", _spans(rehearsal, lambda m: m.heater_c >= need)))
    return Timeline(
        title=_title(rehearsal),
        from_s=0.0,
        to_s=end,
        bars=tuple(bars),
        curves=tuple(curves),
        marks=tuple(Mark(time_s=h.time_s, words=h.words) for h in rehearsal.happenings if h.time_s <= end),
    )


def story_timeline(title: str, story: Sequence[StoryStep]) -> Timeline:
    """Return the picture of a story that breaks a property: one column for each step, what is on and what holds then.

    Its axis counts steps, because in a story every timer runs out whenever it likes.
    """
    lanes: dict[str, list[int]] = {}
    for step in story:
        for name in (*step.car, *step.outputs):
            lanes.setdefault(name, []).append(step.number)
    bars = tuple(Bar(name=n, spans=tuple((float(i - 1), float(i)) for i in at)) for n, at in lanes.items())
    marks = tuple(Mark(time_s=s.number - 1.0, words=s.words) for s in story)
    return Timeline(
        title=title, from_s=0.0, to_s=float(max(len(story), 1)), bars=bars, curves=(), marks=marks, axis="step"
    )


def window_of(timeline: Timeline, from_s: float, to_s: float) -> Timeline:
    """Return a stretch of a picture, so that a short event in a long run can be seen [s]."""
    first, last = max(from_s, timeline.from_s), min(to_s, timeline.to_s)

    def cut(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
        """Keep the points inside; the values just before and at the end are carried to the edges."""
        before = [p for p in points if p[0] < first]
        inside = [p for p in points if first <= p[0] <= last]
        kept = [(first, before[-1][1]), *inside] if before else inside
        return (*kept, (last, kept[-1][1])) if kept and kept[-1][0] < last else tuple(kept)

    return replace(
        timeline, from_s=first, to_s=last,
        bars=tuple(
            replace(b, spans=tuple((max(a, first), min(z, last)) for a, z in b.spans if z >= first and a <= last))
            for b in timeline.bars
        ),
        curves=tuple(replace(c, points=cut(c.points)) for c in timeline.curves),
        marks=tuple(m for m in timeline.marks if first <= m.time_s <= last),
    )  # fmt: skip


def wait_chart(name: str, advice: Advice) -> WaitChart:
    """Return the chart of a car's waiting times: needed, as the kit is set, and by the time the kit offers instead."""
    needed = tuple((w.temperature_c, w.needed_s) for w in advice.waits)
    given = tuple((w.temperature_c, w.kit_s) for w in advice.waits)
    curves = [("needed", needed), ("the kit waits", given)]
    if advice.by_time_s is not None and any(s != advice.by_time_s for _, s in given):
        curves.append(
            (
                told("set to {by_time_s:g} s", by_time_s=advice.by_time_s),
                tuple((t, advice.by_time_s) for t, _ in needed),
            )
        )
    return WaitChart(title=told("{name}: wait before the start", name=name), curves=tuple(curves))
