"""A wire's end as a small disc: its colour, its stripe as a diagonal band, and a hatch that tells it without colour.

Hatches are drawn line by line, clipped to the disc here: pattern fills need ids, which collide where several drawings
stand in one page, and some printers' drivers render them coarsely.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from xml.etree.ElementTree import Element, SubElement

from loomwright.documents.colours import FAMILIES, Rgb, WireColour, label_ink, parse_colour, swatch

__all__ = ["add_disc", "css", "exact_codes", "number", "wire_colours"]

_INK = "#1a1a1a"
_HATCH_MM = 0.16  # width of a hatch line, finer on a small disc
_BAND = 0.17  # half the width of the stripe in radii: it takes 22 % of the disc, so that the base is what one sees
_HATCHED_BAND_MM = 0.5  # a narrower stripe is plain: a hatch would hide its colour
_DIAGONAL = math.sqrt(0.5)

Point = tuple[float, float]


def number(value: float) -> str:
    """Return a length for an SVG attribute, in mm to two places, without trailing zeros and never as -0."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def css(rgb: Rgb) -> str:
    """Return a colour in the form #rrggbb."""
    return "#{:02x}{:02x}{:02x}".format(*rgb)


def wire_colours(base: str, stripe: str | None) -> tuple[WireColour | None, WireColour | None]:
    """Return base and stripe, None for a missing stripe and for a word that is no known colour."""
    return _read(base), None if stripe is None else _read(stripe)


def exact_codes(base: str, stripe: str | None) -> str:
    """Return the IEC 60757 codes, base first, as 'BN/WH'; empty where a code would say less than the word does.

    The standard has one code for light and dark green: whoever has both in one plug is not helped by 'GN'.
    """
    ground, band = wire_colours(base, stripe)
    if ground is None or (stripe is not None and band is None):
        return ""
    found = [colour for colour in (ground, band) if colour is not None]
    return "/".join(colour.code for colour in found) if all(each.shade == "plain" for each in found) else ""


def _read(word: str) -> WireColour | None:
    try:
        return parse_colour(word)
    except ValueError:
        return None


@dataclass(frozen=True, slots=True)
class _Region:
    """A disc, cut to the band of its stripe or to what the band leaves of it."""

    cx: float
    cy: float
    r: float
    band: float  # half width of the band; 0 where there is no stripe
    inside: bool  # the band, or the rest

    def offset(self, p: Point) -> float:
        """Distance from the band's middle line, which rises to the right."""
        return ((p[0] - self.cx) + (p[1] - self.cy)) * _DIAGONAL

    def holds(self, p: Point, margin: float) -> bool:
        if math.hypot(p[0] - self.cx, p[1] - self.cy) > self.r - margin:
            return False
        if not self.band:
            return True
        off = abs(self.offset(p))
        return off <= self.band - margin * 0.6 if self.inside else off >= self.band + margin * 0.6

    def cut(self, a: Point, b: Point) -> Iterator[tuple[Point, Point]]:
        """Cut a chord of the disc at the two edges of the band."""
        if not self.band:
            yield a, b
            return
        start, end = self.offset(a), self.offset(b)
        cuts = [0.0, 1.0]
        if abs(end - start) > 1e-9:
            cuts += [t for edge in (-self.band, self.band) if 0 < (t := (edge - start) / (end - start)) < 1]
        cuts.sort()
        for t0, t1 in pairwise(cuts):
            middle = start + (end - start) * (t0 + t1) / 2
            if (abs(middle) <= self.band) == self.inside and t1 - t0 > 1e-6:
                yield _between(a, b, t0), _between(a, b, t1)


def _between(a: Point, b: Point, t: float) -> Point:
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def add_disc(parent: Element, middle: Point, r: float, base: str, stripe: str | None) -> None:
    """Add a wire's end to a drawing: filled disc, stripe and hatch; the outline is the drawing's. Lengths in mm.

    A word that is no known colour gives a disc with a question mark: the word itself stands in the label.
    """
    cx, cy = middle
    ground, band_colour = wire_colours(base, stripe)
    disc = {"cx": number(cx), "cy": number(cy), "r": number(r)}
    if ground is None:
        SubElement(parent, "circle", {**disc, "fill": "#ffffff"})
        _text(parent, "?", cx, cy + r * 0.45, r * 1.3)
        return
    band = r * _BAND if stripe is not None else 0.0
    SubElement(parent, "circle", {**disc, "fill": css(swatch(ground))})
    _hatch(parent, ground, _Region(cx, cy, r, band, inside=False))
    if stripe is not None:
        fill = swatch(band_colour) if band_colour is not None else (255, 255, 255)
        edge = css(label_ink(swatch(ground)))
        SubElement(
            parent, "path", {"d": _band(cx, cy, r, band), "fill": css(fill), "stroke": edge, "stroke-width": "0.12"}
        )
        if band_colour is not None and 2 * band > _HATCHED_BAND_MM:
            _hatch(parent, band_colour, _Region(cx, cy, r, band, inside=True))


def _band(cx: float, cy: float, r: float, half: float) -> str:
    """Return the outline of the band that rises to the right, bounded by the disc."""
    reach = math.sqrt(r * r - half * half)

    def point(along: float, across: float) -> str:
        x = cx + (along + across) * _DIAGONAL
        y = cy + (across - along) * _DIAGONAL
        return f"{number(x)} {number(y)}"

    arc = f"A{number(r)} {number(r)} 0 0 1"
    start, back = point(-reach, -half), point(-reach, half)
    return f"M{start}L{point(reach, -half)}{arc} {point(reach, half)}L{back}{arc} {start}Z"


def _hatch(parent: Element, colour: WireColour, region: _Region) -> None:
    """Draw the family's hatch inside the region, in ink or in paper, whichever shows."""
    pattern = FAMILIES[colour.family].pattern
    ink = css(label_ink(swatch(colour)))
    step = max(region.r * 0.36, 0.6)
    hatch = min(_HATCH_MM, region.r * 0.08)
    if pattern in _ANGLES:
        style = {"stroke": ink, "stroke-width": number(hatch), "fill": "none"}
        if pattern.startswith("broken"):
            style["stroke-dasharray"] = "0.5 0.4"
        elif pattern == "bars":
            style["stroke-width"] = number(step * 0.5)
        segments = [
            f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}"
            for angle in _ANGLES[pattern]
            for a, b in _chords(region, angle, step)
        ]
        if segments:
            SubElement(parent, "path", {"d": "".join(segments), **style})
    elif pattern in _SPOTS:
        share, radius, kind = _SPOTS[pattern]
        spots = [(number(x), number(y)) for x, y in _grid(region, step * share, radius)]
        r, arm = number(radius), number(2 * radius)
        if kind == "filled":
            # A line without length and with round ends is a dot, and takes a quarter of the text of a circle.
            style = {"stroke": ink, "stroke-width": arm, "stroke-linecap": "round"}
            marks = [f"M{x} {y}h0" for x, y in spots]
        else:
            style = {"stroke": ink, "stroke-width": "0.12", "fill": "none"}
            # Both are drawn from the left end of the spot: a cross as two strokes, a ring as two half circles.
            cross = f"h{arm}m-{r} -{r}v{arm}"
            ring = f"a{r} {r} 0 1 1 {arm} 0a{r} {r} 0 1 1 -{arm} 0"
            marks = [f"M{x} {y}m-{r} 0{cross if kind == 'cross' else ring}" for x, y in spots]
        if marks:
            SubElement(parent, "path", {"d": "".join(marks), **style})


# Direction of the hatch lines in degrees, 0 level, rising counter-clockwise.
_ANGLES: dict[str, tuple[float, ...]] = {
    "upright lines": (90.0,),
    "broken upright lines": (90.0,),
    "level lines": (0.0,),
    "broken level lines": (0.0,),
    "rising lines": (60.0,),
    "falling lines": (-60.0,),
    "cross-hatch": (60.0, -60.0),
    "grid": (0.0, 90.0),
    "bars": (90.0,),
}
# Share of the step between spots, radius of a spot [mm] and how it is drawn.
_SPOTS: dict[str, tuple[float, float, str]] = {
    "dots": (1.35, 0.17, "filled"),
    "dense dots": (0.75, 0.13, "filled"),
    "circles": (1.5, 0.26, "open"),
    "crosses": (1.5, 0.28, "cross"),
}


def _chords(region: _Region, angle: float, step: float) -> Iterator[tuple[Point, Point]]:
    ux, uy = math.cos(math.radians(angle)), -math.sin(math.radians(angle))
    count = int(region.r / step)
    for k in range(-count, count + 1):
        off = k * step
        reach = math.sqrt(max(region.r**2 - off**2, 0.0))
        if reach < 0.1:
            continue
        mx, my = region.cx - uy * off, region.cy + ux * off
        yield from region.cut((mx - ux * reach, my - uy * reach), (mx + ux * reach, my + uy * reach))


def _grid(region: _Region, step: float, radius: float) -> Iterator[Point]:
    count = int(region.r / step) + 1
    for row in range(-count, count + 1):
        shift = 0.5 if row % 2 else 0.0
        for column in range(-count, count + 1):
            p = region.cx + (column + shift) * step, region.cy + row * step * 0.85
            if region.holds(p, radius + 0.08):
                yield p


def _text(parent: Element, text: str, x: float, y: float, size: float) -> None:
    element = SubElement(
        parent,
        "text",
        {"x": number(x), "y": number(y), "font-size": number(size), "text-anchor": "middle", "fill": _INK},
    )
    element.text = text
