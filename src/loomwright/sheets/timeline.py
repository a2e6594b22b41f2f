"""A start in time as a drawing: bars, curves and marks on one axis; and waiting time against temperature."""

import math
from collections.abc import Sequence

from loomwright.sheets.svg import drawing, line, path, rect, text
from loomwright.sheets.words import figure, words_for
from loomwright.starting.timeline import Curve, Timeline, WaitChart

__all__ = ["LEAST_MM", "draw_chart", "draw_timeline", "draw_wait_chart"]

LEAST_MM = 100.0
"""The narrowest that a timeline can be drawn [mm]."""

_LEFT, _RIGHT, _TOP = 34.0, 14.0, 6.0
_BAR, _CURVE, _GAP = 5.0, 24.0, 5.0
_SMALL, _SIZE = 2.8, 3.4
_GREY = "#8a8a8a"
_MARK_ROW = 3.8


def _steps(low: float, high: float, most: int) -> list[float]:
    """Return round values of an axis."""
    raw = max(high - low, 1e-9) / most
    size = 10.0 ** math.floor(math.log10(raw))
    step = next(s * size for s in (1, 2, 5, 10) if s * size >= raw)
    first = math.ceil(low / step - 1e-9)
    return [round(step * n, 6) for n in range(first, math.floor(high / step + 1e-9) + 1)]


def _shape(points: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)


def _curve(curve: Curve, top: float, at: "_Axis", language: str) -> list[str]:
    values = [v for _, v in curve.points] + ([curve.level] if curve.level is not None else [])
    low, high = min([0.0, *values]), max([*values, 1e-6])
    if curve.level is not None and curve.level > low + 0.8 * (high - low):
        high += 0.15 * (high - low)  # room for the name of the level, clear of the curve

    def y(value: float) -> float:
        return top + _CURVE - _CURVE * (value - low) / (high - low)

    out = [rect(_LEFT, top, at.width, _CURVE, stroke=_GREY, stroke_width=0.15)]
    for value in _steps(low, high, 3):
        out.append(line(_LEFT - 1, y(value), _LEFT, y(value), 0.2))
        out.append(text(_LEFT - 1.6, y(value) + 1, figure(value, language), _SMALL, anchor="end"))
    out.append(text(1, top + _SIZE, curve.name, _SIZE, bold=True, width=_LEFT - 12))
    out.append(text(1, top + 2.2 * _SIZE, f"[{curve.unit}]", _SMALL))
    if curve.level is not None:
        out.append(line(_LEFT, y(curve.level), _LEFT + at.width, y(curve.level), 0.2, stroke_dasharray="1.5 1"))
        out.append(text(_LEFT + at.width, y(curve.level) - 0.8, curve.level_name, _SMALL, anchor="end"))
    out.append(path(_shape([(at.x(t), y(v)) for t, v in curve.points]), stroke_width=0.4))
    return out


class _Axis:
    def __init__(self, timeline: Timeline, width: float) -> None:
        self.width = width
        self._from, self._scale = timeline.from_s, width / max(timeline.to_s - timeline.from_s, 1e-6)

    def x(self, time_s: float) -> float:
        return _LEFT + (time_s - self._from) * self._scale


def draw_chart(chart: Timeline | WaitChart, *, width_mm: float, language: str = "en") -> str:
    """Return the drawing of a start as SVG, without its title and the words of its marks, which stand beside it.

    What it says is in a language already; its numbers are written as in `language`.

    Raises
    ------
    ValueError
        If the width is less than 100 mm.
    """
    if isinstance(chart, Timeline):
        return draw_timeline(chart, width_mm=width_mm, told=False, language=language)
    return draw_wait_chart(chart, width_mm=min(width_mm, 140.0), language=language)


def draw_timeline(
    timeline: Timeline, *, width_mm: float, title: str = "", now: tuple[float, float] | None = None, told: bool = True,
    language: str = "en",
) -> str:  # fmt: skip
    """Return the drawing of a rehearsal as SVG; marks stand numbered in it.

    Parameters
    ----------
    timeline
        What is drawn.
    width_mm
        Its width, at least 100 [mm].
    title
        Over it; the timeline's own where left out.
    now
        A stretch of time that is marked as the one that is looked at [s].
    told
        Whether the marks are told in words below; without, whoever places the drawing does so.
    language
        ISO 639-1 code of the language that the timeline is in already; its numbers are written so.

    Raises
    ------
    ValueError
        If the width is less than 100 mm.
    """
    if width_mm < LEAST_MM:
        raise ValueError(f"width_mm: found {width_mm:g}, expected at least 100 for a timeline")
    at = _Axis(timeline, width_mm - _LEFT - _RIGHT)
    out = [text(1, _TOP, title or timeline.title, 4.2, bold=True, width=width_mm - 2)] if told else []
    top = _TOP + (6.0 if told else 0.0)
    marks_top = top
    top += 4.0
    first = len(out)
    for bar in timeline.bars:
        out.append(text(1, top + 0.75 * _BAR, bar.name, _SIZE, width=_LEFT - 3))
        out.append(line(_LEFT, top + _BAR, _LEFT + at.width, top + _BAR, 0.1, stroke=_GREY))
        for begin, end in bar.spans:
            left = at.x(begin)
            out.append(rect(left, top + 0.8, max(at.x(end) - left, 0.3), _BAR - 1.4, fill="#1a1a1a", stroke="none"))
        top += _BAR + 0.6
    top += _GAP
    for curve in timeline.curves:
        out += _curve(curve, top, at, language)
        top += _CURVE + _GAP
    bottom = top - _GAP
    steps = timeline.axis == "step"
    for value in range(round(timeline.to_s) + 1) if steps else _steps(timeline.from_s, timeline.to_s, 10):
        out.append(line(at.x(value), bottom, at.x(value), bottom + 1.2, 0.2))
        if not steps:
            out.append(text(at.x(value), bottom + 4.2, figure(value, language), _SMALL, anchor="middle"))
    if not steps:
        out.append(text(_LEFT + at.width, bottom + 8, "s", _SMALL, anchor="end"))
    if now is not None:
        left, right = (at.x(min(max(t, timeline.from_s), timeline.to_s)) for t in now)
        # Behind everything else, so that it hides nothing; its edge is drawn, since a shade alone is lost in print.
        out.insert(first, rect(left, marks_top + 1.5, max(right - left, 0.8), bottom - marks_top - 1.5,
                               fill="#e4e0d4", stroke=_GREY, stroke_width=0.3))  # fmt: skip
    taken: list[float] = []
    top = bottom + (12 if told else 9)
    for number, mark in ((m.number or n, m) for n, m in enumerate(timeline.marks, 1)):
        x = at.x(mark.time_s)
        out.append(line(x, marks_top + 0.8, x, bottom, 0.15, stroke=_GREY, stroke_dasharray="0.8 0.8"))
        # Marks close together give their numbers one after the other.
        place = max(x, *(t + 3.2 for t in taken[-1:]), 0.0)
        taken.append(place)
        # In a story a number stands over its whole step.
        shown = place + 0.5 * (at.x(1.0) - at.x(0.0)) if steps else place
        out.append(text(shown, marks_top, str(number), _SMALL, anchor="middle", bold=True))
        if not told:
            continue
        out.append(text(1, top, str(number), _SMALL, bold=True))
        if not steps:
            out.append(text(6, top, f"{figure(mark.time_s, language, '.1f')} s", _SMALL))
        out.append(text(20, top, mark.words, _SMALL, width=width_mm - 21))
        top += _MARK_ROW
    between = words_for(language)["semicolon"]
    words = between.join(
        m.words if steps else f"{figure(m.time_s, language, '.1f')} s {m.words}" for m in timeline.marks
    )
    return drawing(width_mm, top + 1, title or timeline.title, out, described=words)


def draw_wait_chart(chart: WaitChart, *, width_mm: float, language: str = "en") -> str:
    """Return the waiting time that the heater needs, and what the kit gives, against temperature, as SVG.

    The chart is in a language already; its numbers are written as in `language`.
    """
    height, left, bottom = 62.0, 16.0, 50.0
    temperatures = [t for t, _ in chart.curves[0][1]]
    low, high = min(temperatures), max(temperatures)
    most = 1.15 * max(v for _, points in chart.curves for _, v in points)
    wide = width_mm - left - 34

    def x(value: float) -> float:
        return left + wide * (value - low) / (high - low)

    def y(value: float) -> float:
        return bottom - 38.0 * value / most

    out = [text(1, 5, chart.title, 4.2, bold=True, width=width_mm - 2)]
    for value in _steps(0.0, most, 5):
        out.append(line(left, y(value), left + wide, y(value), 0.1, stroke=_GREY))
        out.append(text(left - 1.5, y(value) + 1, figure(value, language), _SMALL, anchor="end"))
    for value in temperatures:
        out.append(line(x(value), bottom, x(value), bottom + 1.2, 0.2))
        out.append(text(x(value), bottom + 4.4, figure(value, language), _SMALL, anchor="middle"))
    out.append(text(left + wide + 4, bottom + 4.4, "°C", _SMALL))
    out.append(text(left - 1.5, 9.5, "s", _SMALL, anchor="end"))
    dashes = (None, "2.4 1", "0.8 1")
    ends: list[float] = []
    for (name, points), dash in zip(chart.curves, dashes, strict=False):
        ordered = sorted(points)
        out.append(path(_shape([(x(t), y(v)) for t, v in ordered]), stroke_width=0.5, stroke_dasharray=dash))
        # Names stand at the warm end, each clear of the one before it.
        place = y(ordered[-1][1]) + 1
        while any(abs(place - other) < _SIZE for other in ends):
            place -= 0.5
        ends.append(place)
        out.append(text(left + wide + 2, place, name, _SIZE, bold=True))
    words = words_for(language)
    said = words["semicolon"].join(
        words["wait needed"].format(temperature=figure(t, language), time=f"{n:.0f}") for t, n in chart.curves[0][1]
    )
    return drawing(width_mm, height, chart.title, out, described=said)
