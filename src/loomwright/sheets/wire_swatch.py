"""A wire as a short drawn piece: its colour, a pattern that survives black-and-white print, a stripe and an outline.

The patterns are named in `loomwright.documents.colours`; the word always stands beside the swatch.
"""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from loomwright.documents.colours import FAMILIES, WireColour, label_ink, outline_ink, swatch
from loomwright.sheets.svg import INK, PAPER, drawing, element, line, rect
from loomwright.sheets.swatches import css, number, wire_colours

__all__ = ["Area", "colour_codes", "colour_words", "draw_swatch", "split_colour", "swatch_marks"]

_STEP = 1.1  # distance of pattern lines [mm]
_BAND_EVERY = 6.0  # distance of the bands of a stripe along the wire, about [mm]
_BAND_SHARE = 0.2  # of the wire that they take, so that the base is what one sees


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


def _strokes(segments: Iterable[tuple[float, float, float, float]], ink: str, dash: str | None = None) -> list[str]:
    """Straight lines of one look as a single path."""
    points = "".join(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}" for x1, y1, x2, y2 in segments)
    return [element("path", d=points, stroke=ink, stroke_width=0.22, stroke_dasharray=dash)]


def _slanted(area: Area, ink: str, *, rising: bool) -> list[str]:
    """Lines at 45 degrees, cut off at the edges of the box."""
    x, y, w, h = area
    segments = []
    offset = -h + _STEP / 2
    while offset < w:
        start, end = max(offset, 0.0), min(offset + h, w)
        top, bottom = start - offset, end - offset
        y1, y2 = (h - top, h - bottom) if rising else (top, bottom)
        segments.append((x + start, y + y1, x + end, y + y2))
        offset += _STEP
    return _strokes(segments, ink)


def _level(area: Area, ink: str, dash: str | None = None) -> list[str]:
    x, y, w, h = area
    rows = max(2, round(h / _STEP))
    levels = (y + h * (i + 0.5) / rows for i in range(rows))
    return _strokes(((x, level, x + w, level) for level in levels), ink, dash)


def _upright(area: Area, ink: str, dash: str | None = None) -> list[str]:
    x, y, w, h = area
    count = max(2, round(w / _STEP))
    at = (x + w * (i + 0.5) / count for i in range(count))
    return _strokes(((place, y, place, y + h) for place in at), ink, dash)


def _spots(area: Area, step: float, *, staggered: bool = True) -> list[tuple[float, float]]:
    x, y, w, h = area
    columns, rows = max(2, round(w / step)), max(1, round(h / step))
    return [
        (x + w * (i + (0.5 if not staggered else 0.25 if j % 2 else 0.75)) / columns, y + h * (j + 0.5) / rows)
        for j in range(rows)
        for i in range(columns)
    ]


def _dots(area: Area, ink: str, step: float, radius: float) -> list[str]:
    # A line without length and with round ends is a dot.
    points = "".join(f"M{number(x)} {number(y)}h0" for x, y in _spots(area, step))
    return [element("path", d=points, stroke=ink, stroke_width=2 * radius, stroke_linecap="round")]


def _rings(area: Area, ink: str) -> list[str]:
    r, across = "0.4", "0.8"
    halves = f"a{r} {r} 0 1 1 {across} 0a{r} {r} 0 1 1 -{across} 0"
    points = "".join(f"M{number(x - 0.4)} {number(y)}{halves}" for x, y in _spots(area, 1.6))
    return [element("path", d=points, fill="none", stroke=ink, stroke_width=0.18)]


def _crosses(area: Area, ink: str) -> list[str]:
    arm = 0.4
    points = "".join(
        f"M{number(x - arm)} {number(y)}h{2 * arm}m-{arm} -{arm}v{2 * arm}"
        for x, y in _spots(area, 1.6, staggered=False)
    )
    return [element("path", d=points, stroke=ink, stroke_width=0.18)]


def _bars(area: Area, ink: str) -> list[str]:
    x, y, w, h = area
    wide = w / 8
    points = "".join(f"M{number(x + wide * (2 * i + 1))} {number(y)}h{number(wide)}v{number(h)}h-{number(wide)}z"
                     for i in range(4))  # fmt: skip
    return [element("path", d=points, fill=ink)]


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
    "dots": lambda area, ink: _dots(area, ink, 1.3, 0.2),
    "dense dots": lambda area, ink: _dots(area, ink, 0.8, 0.16),
    "circles": _rings,
    "crosses": _crosses,
    "grid": lambda area, ink: _level(area, ink) + _upright(area, ink),
    "bars": _bars,
}


def _plain(area: Area, fill: str) -> str:
    x, y, w, h = area
    return element("rect", x=x, y=y, width=w, height=h, fill=fill)


def _filled(colour: WireColour | None, area: Area) -> list[str]:
    x, y, w, h = area
    if colour is None:  # a word nobody knows: a crossed-out box, so that nobody reads it as white
        crossing = [line(x, y, x + w, y + h, 0.2), line(x, y + h, x + w, y, 0.2)]
        return [_plain(area, PAPER), *crossing]
    rgb = swatch(colour)
    pattern = _PATTERNS[FAMILIES[colour.family].pattern]
    return [_plain(area, css(rgb)), *pattern(area, css(label_ink(rgb)))]


def swatch_marks(area: Area, colour: str, stripe: str | None) -> list[str]:
    """Return the marks of one piece of wire; the stripe winds around it in slanting bands between thin lines."""
    x, y, w, h = area
    base, known = wire_colours(colour, stripe or None)
    marks = [_plain(Area(x - 0.5, y - 0.5, w + 1, h + 1), PAPER), *_filled(base, area)]
    if stripe:
        marks.append(_bands(area, PAPER if known is None else css(swatch(known))))
    outline = css(outline_ink(swatch(base))) if base else INK
    marks.append(rect(x, y, w, h, stroke=outline, stroke_width=0.4, rx=0.3))
    return marks


def _bands(area: Area, fill: str) -> str:
    """The turns of a stripe, each a slanting band with an outline, which keeps it apart where both turn one grey."""
    x, y, w, h = area
    count = max(2, round(w / _BAND_EVERY))
    band = _BAND_SHARE * w / count
    slant = min(h * 0.8, w / count - band)
    starts = (x + w * (i + 0.5) / count - (band + slant) / 2 for i in range(count))
    turns = (
        f"M{number(at)} {number(y + h)}l{number(slant)} {number(-h)}h{number(band)}l{number(-slant)} {number(h)}z"
        for at in starts
    )
    return element("path", d="".join(turns), fill=fill, stroke=INK, stroke_width=0.15)


def draw_swatch(colour: str, stripe: str | None, width_mm: float = 18, height_mm: float = 5) -> str:
    """Return a piece of wire as a drawing of its own."""
    words = colour_words(colour, stripe)
    return drawing(
        width_mm, height_mm, words, swatch_marks(Area(0.6, 0.6, width_mm - 1.2, height_mm - 1.2), colour, stripe)
    )
