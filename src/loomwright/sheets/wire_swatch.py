"""A wire as a short drawn piece: its colour, a pattern that survives black-and-white print, a stripe and an outline.

The patterns are named in `loomwright.documents.colours`; the word always stands beside the swatch.
"""

from collections.abc import Callable
from typing import NamedTuple

from loomwright.documents.colours import FAMILIES, WireColour, label_ink, outline_ink, swatch
from loomwright.sheets.svg import INK, PAPER, circle, drawing, line, path, rect
from loomwright.sheets.swatches import css, number, wire_colours

__all__ = ["Area", "colour_codes", "colour_words", "draw_swatch", "split_colour", "swatch_marks"]

_STEP = 1.1  # distance of pattern lines [mm]


class Area(NamedTuple):
    """A box on a drawing [mm]."""

    x: float
    y: float
    width: float
    height: float


def split_colour(words: str) -> tuple[str, str | None]:
    """Take 'brown/white' apart into base and stripe; without a slash there is no stripe."""
    base, _, stripe = words.partition("/")
    return base.strip(), stripe.strip() or None


def colour_words(colour: str, stripe: str | None) -> str:
    """Return base and stripe as one says them: 'brown/white'."""
    return f"{colour}/{stripe}" if stripe else colour


def colour_codes(colour: str, stripe: str | None) -> str:
    """Return the IEC 60757 codes, base first, as 'BN/WH'; empty where a word is not known."""
    base, band = wire_colours(colour, stripe or None)
    if base is None or (stripe and band is None):
        return ""
    return "/".join(item.code for item in (base, band) if item)


def _slanted(area: Area, ink: str, *, rising: bool) -> list[str]:
    """Lines at 45 degrees, cut off at the edges of the box."""
    x, y, w, h = area
    marks = []
    offset = -h + _STEP / 2
    while offset < w:
        start, end = max(offset, 0.0), min(offset + h, w)
        top, bottom = start - offset, end - offset
        y1, y2 = (h - top, h - bottom) if rising else (top, bottom)
        marks.append(line(x + start, y + y1, x + end, y + y2, 0.22, stroke=ink))
        offset += _STEP
    return marks


def _level(area: Area, ink: str, dash: str | None = None) -> list[str]:
    x, y, w, h = area
    rows = max(2, round(h / _STEP))
    levels = (y + h * (i + 0.5) / rows for i in range(rows))
    return [line(x, level, x + w, level, 0.22, stroke=ink, stroke_dasharray=dash) for level in levels]


def _upright(area: Area, ink: str, dash: str | None = None) -> list[str]:
    x, y, w, h = area
    count = max(2, round(w / _STEP))
    at = (x + w * (i + 0.5) / count for i in range(count))
    return [line(place, y, place, y + h, 0.22, stroke=ink, stroke_dasharray=dash) for place in at]


def _spots(area: Area, step: float, *, staggered: bool = True) -> list[tuple[float, float]]:
    x, y, w, h = area
    columns, rows = max(2, round(w / step)), max(1, round(h / step))
    return [
        (x + w * (i + (0.5 if not staggered else 0.25 if j % 2 else 0.75)) / columns, y + h * (j + 0.5) / rows)
        for j in range(rows)
        for i in range(columns)
    ]


def _crosses(area: Area, ink: str) -> list[str]:
    arm = 0.4
    return [
        path(
            f"M{number(x - arm)} {number(y)}h{2 * arm}M{number(x)} {number(y - arm)}v{2 * arm}",
            stroke=ink,
            stroke_width=0.18,
        )
        for x, y in _spots(area, 1.6, staggered=False)
    ]


def _bars(area: Area, ink: str) -> list[str]:
    x, y, w, h = area
    wide = w / 8
    return [rect(x + wide * (2 * i + 1), y, wide, h, fill=ink, stroke="none") for i in range(4)]


# Each pattern of the colours, drawn in a box with an ink.
_PATTERNS: dict[str, Callable[[Area, str], list[str]]] = {
    "solid": lambda _area, _ink: [],
    "blank": lambda _area, _ink: [],
    "cross-hatch": lambda area, ink: _slanted(area, ink, rising=True) + _slanted(area, ink, rising=False),
    "rising lines": lambda area, ink: _slanted(area, ink, rising=True),
    "falling lines": lambda area, ink: _slanted(area, ink, rising=False),
    "level lines": _level,
    "broken level lines": lambda area, ink: _level(area, ink, "1 0.6"),
    "upright lines": _upright,
    "broken upright lines": lambda area, ink: _upright(area, ink, "0.7 0.5"),
    "dots": lambda area, ink: [circle(x, y, 0.2, fill=ink, stroke="none") for x, y in _spots(area, 1.3)],
    "dense dots": lambda area, ink: [circle(x, y, 0.16, fill=ink, stroke="none") for x, y in _spots(area, 0.8)],
    "circles": lambda area, ink: [circle(x, y, 0.4, stroke=ink, stroke_width=0.18) for x, y in _spots(area, 1.6)],
    "crosses": _crosses,
    "grid": lambda area, ink: _level(area, ink) + _upright(area, ink),
    "bars": _bars,
}


def _filled(colour: WireColour | None, area: Area) -> list[str]:
    x, y, w, h = area
    if colour is None:  # a word nobody knows: a crossed-out box, so that nobody reads it as white
        crossing = [line(x, y, x + w, y + h, 0.2), line(x, y + h, x + w, y, 0.2)]
        return [rect(*area, fill=PAPER, stroke="none"), *crossing]
    rgb = swatch(colour)
    pattern = _PATTERNS[FAMILIES[colour.family].pattern]
    return [rect(*area, fill=css(rgb), stroke="none"), *pattern(area, css(label_ink(rgb)))]


def swatch_marks(area: Area, colour: str, stripe: str | None) -> list[str]:
    """Return the marks of one piece of wire; the stripe runs along its middle between two thin lines."""
    x, y, w, h = area
    base, known = wire_colours(colour, stripe or None)
    marks = [rect(x - 0.5, y - 0.5, w + 1, h + 1, fill=PAPER, stroke="none"), *_filled(base, area)]
    if stripe:
        band = h * 0.36
        top = y + (h - band) / 2
        marks.extend(_filled(known, Area(x, top, w, band)))
        # The lines keep the stripe apart from its base where both turn the same grey.
        marks.extend(line(x, edge, x + w, edge, 0.2) for edge in (top, top + band))
    outline = css(outline_ink(swatch(base))) if base else INK
    marks.append(rect(x, y, w, h, stroke=outline, stroke_width=0.4, rx=0.3))
    return marks


def draw_swatch(colour: str, stripe: str | None, width_mm: float = 18, height_mm: float = 5) -> str:
    """Return a piece of wire as a drawing of its own."""
    words = colour_words(colour, stripe)
    return drawing(
        width_mm, height_mm, words, swatch_marks(Area(0.6, 0.6, width_mm - 1.2, height_mm - 1.2), colour, stripe)
    )
