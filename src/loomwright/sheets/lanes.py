"""A timeline as text lanes for a terminal: one line for each thing that is on or off, and digits for a curve."""

from collections.abc import Iterator, Sequence

from loomwright.sheets.words import figure, words_for
from loomwright.starting.timeline import Curve, Timeline, WaitChart

__all__ = ["timeline_lanes", "wait_lanes"]

_WIDTH = 78
"""Of a terminal's text."""

_NAME = 24
_ON, _OFF = "#", "."


def _fits(name: str, numbers: str = "") -> str:
    """Return what stands before a lane; a name that is too long is cut, the numbers behind it never."""
    tail = f" {numbers}" if numbers else ""
    return f"{name[: _NAME - 1 - len(tail)].rstrip()}{tail}".ljust(_NAME)


def timeline_lanes(timeline: Timeline, *, width: int = _WIDTH, language: str = "en") -> list[str]:
    """Return the lanes of a timeline, at most `width` characters wide, with numbers as in a language.

    A column of a lane is `#` where the thing is on at any time of it. A curve is a row of digits, 0 for its least and 9
    for its greatest value, which stand behind its name. The last line has the numbers of the marks where they happened.
    """
    columns = width - _NAME
    if timeline.axis == "step":
        # A step is as wide as any other, with a gap after it.
        each = max(min(columns // max(round(timeline.to_s), 1), 8), 2)
        columns = each * round(timeline.to_s)
    scale = columns / max(timeline.to_s - timeline.from_s, 1e-9)
    lines = []
    for bar in timeline.bars:
        cells = [_OFF] * columns
        for begin, end in bar.spans:
            first = int((begin - timeline.from_s) * scale)
            last = max(int((end - timeline.from_s) * scale - 1e-9), first)
            for at in range(first, min(last, columns - 1) + 1):
                cells[at] = _ON
        lines.append(_fits(bar.name) + "".join(cells))
    for curve in timeline.curves:
        lines += _digits(curve, timeline.from_s, scale, columns, language)
    lines.append(_fits(f"[{words_for(language)[f'axis {timeline.axis}']}]") + _axis(timeline, scale, columns))
    numbered = _marks(timeline, scale, columns)
    return [*lines, _fits("") + numbered] if numbered.strip() and timeline.axis == "s" else lines


def _digits(curve: Curve, from_s: float, scale: float, columns: int, language: str) -> Iterator[str]:
    values: list[list[float]] = [[] for _ in range(columns)]
    for time_s, value in curve.points:
        values[min(max(int((time_s - from_s) * scale), 0), columns - 1)].append(value)
    low, high = min(v for _, v in curve.points), max(v for _, v in curve.points)
    cells, last = [], curve.points[0][1]
    for found in values:
        # Of several values in a column the one furthest from what came before is shown: a dip of an instant is seen.
        shown = max(found, key=lambda v: abs(v - last)) if found else last
        cells.append(str(round(9 * (shown - low) / max(high - low, 1e-9))))
        last = found[-1] if found else last
    span = "-".join(figure(value, language, ".4g") for value in (low, high))
    yield _fits(curve.name, f"{span} {curve.unit}") + "".join(cells)


def _axis(timeline: Timeline, scale: float, columns: int) -> str:
    cells = [" "] * columns
    if timeline.axis == "step":
        places = [(n + 0.5, str(n + 1)) for n in range(round(timeline.to_s))]
    else:
        span = timeline.to_s - timeline.from_s
        places = [(timeline.from_s + span * n / 6, f"{timeline.from_s + span * n / 6:.0f}") for n in range(7)]
    for time_s, words in places:
        at = min(int((time_s - timeline.from_s) * scale), columns - len(words))
        cells[at : at + len(words)] = words
    return "".join(cells)


def _marks(timeline: Timeline, scale: float, columns: int) -> str:
    cells, free = [" "] * columns, 0
    for number, mark in enumerate(timeline.marks, 1):
        words = str(mark.number or number)
        at = max(int((mark.time_s - timeline.from_s) * scale), free)
        if at + len(words) <= columns:
            cells[at : at + len(words)] = words
            free = at + len(words) + 1
    return "".join(cells)


def wait_lanes(chart: WaitChart, *, width: int = _WIDTH) -> list[str]:
    """Return waiting times as rows of bars, coldest first: how long each curve is at each temperature."""
    columns = width - _NAME - 8
    most = max(value for _, points in chart.curves for _, value in points)
    lines = []
    for temperature in sorted(t for t, _ in chart.curves[0][1]):
        for place, (name, points) in enumerate(chart.curves):
            value = _at(points, temperature)
            head = f"{temperature:4.0f} °C  " if place == 0 else " " * 9
            bar = (_ON if place == 0 else "=" if place == 1 else "-") * round(columns * value / max(most, 1e-9))
            lines.append(f"{head}{name[: _NAME - 10]:<{_NAME - 9}}{bar} {value:.0f} s")
    return lines


def _at(points: Sequence[tuple[float, float]], temperature: float) -> float:
    return next(value for at, value in points if at == temperature)
