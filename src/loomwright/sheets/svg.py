"""The few SVG elements our drawings are made of: escaped, in millimetres, with presentation attributes only.

No style attributes and no links: a page that forbids both still shows every drawing, and no id can meet another.
"""

import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from html import escape

from loomwright.sheets.characters import printable
from loomwright.sheets.swatches import number

__all__ = [
    "FONT",
    "INK",
    "PAPER",
    "circle",
    "drawing",
    "element",
    "in_page",
    "line",
    "path",
    "rect",
    "shared",
    "text",
    "text_width",
]

INK = "#1a1a1a"
PAPER = "#ffffff"
FONT = "'Source Sans 3', system-ui, 'Segoe UI', Roboto, Helvetica, Arial, sans-serif"

# The weight is said twice: browsers read the weight; the setting keeps a variable font from falling back to its
# thinnest cut where a renderer takes the normal weight for the font's default.
_REGULAR = {"font_weight": "400", "font_variation_settings": "'wght' 400"}
_BOLD = {"font_weight": "700", "font_variation_settings": "'wght' 700"}

# A group with a place, and no group inside it.
_PIECE = re.compile(r'<g transform="translate\(([-\d.]+) ([-\d.]+)\)">((?:(?!</?g\b).)*)</g>')
_SETTING = re.compile(r' font-variation-settings="[^"]*"')

# Widths in em for a rough, generous estimate: a phone's own font may be wider than the one on paper.
_NARROW, _MIDDLE, _WIDE = 0.34, 0.6, 0.9


def element(name: str, /, *children: str, **attributes: str | float | None) -> str:
    """Return one element; underscores in names become hyphens, attributes that are None are left out."""
    parts = [name]
    for key, value in attributes.items():
        if value is not None:
            words = printable(value) if isinstance(value, str) else number(value)
            parts.append(f'{key.rstrip("_").replace("_", "-")}="{escape(words)}"')
    head = " ".join(parts)
    return f"<{head}>{''.join(children)}</{name}>" if children else f"<{head}/>"


def line(x1: float, y1: float, x2: float, y2: float, width: float = 0.35, **more: str | float | None) -> str:
    """Return a straight line of a width in millimetres."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke_width=width, **({"stroke": INK} | more))


def rect(x: float, y: float, width: float, height: float, **more: str | float | None) -> str:
    """Return a rectangle, outlined in ink and empty unless told otherwise."""
    look: dict[str, str | float | None] = {"fill": "none", "stroke": INK, "stroke_width": 0.35}
    return element("rect", x=x, y=y, width=width, height=height, **(look | more))


def circle(x: float, y: float, radius: float, **more: str | float | None) -> str:
    """Return a circle, outlined in ink and empty unless told otherwise."""
    look: dict[str, str | float | None] = {"fill": "none", "stroke": INK, "stroke_width": 0.35}
    return element("circle", cx=x, cy=y, r=radius, **(look | more))


def path(points: str, **more: str | float | None) -> str:
    """Return a path, outlined in ink and empty unless told otherwise."""
    look: dict[str, str | float | None] = {
        "fill": "none", "stroke": INK, "stroke_width": 0.35, "stroke_linejoin": "round", "stroke_linecap": "round"
    }  # fmt: skip
    return element("path", d=points, **(look | more))


def text(
    x: float,
    y: float,
    words: str,
    size: float,
    *,
    anchor: str = "start",
    bold: bool = False,
    fill: str = INK,
    width: float | None = None,
) -> str:
    """Return a line of text with its baseline at y; `width` squeezes it where it would be wider than that."""
    squeeze = width if width is not None and text_width(words, size, bold=bold) > width else None
    return element(
        "text",
        escape(printable(words), quote=False),
        x=x,
        y=y,
        font_size=size,
        **(_BOLD if bold else {}),
        text_anchor=None if anchor == "start" else anchor,
        fill=None if fill == INK else fill,
        textLength=squeeze,
        lengthAdjust="spacingAndGlyphs" if squeeze is not None else None,
    )


def text_width(words: str, size: float, *, bold: bool = False) -> float:
    """Estimate the width of a line of text in the unit of `size`, on the generous side for any plain sans font."""
    return _ems(words) * size * (1.06 if bold else 1.0)


@lru_cache(maxsize=4096)  # a text is measured for many widths of its column
def _ems(words: str) -> float:
    em = 0.0
    for character in words:
        if character in "iljtfrI.,:;!'|()[] /":
            em += _NARROW
        elif character in "mwMW@%" or ord(character) >= 0x2E80:
            em += _WIDE
        elif character.isupper():
            em += 0.7
        else:
            em += _MIDDLE
    return em


def drawing(
    width_mm: float,
    height_mm: float,
    title: str,
    children: Iterable[str],
    *,
    described: str = "",
    corner: tuple[float, float] = (0.0, 0.0),
) -> str:
    """Return a whole drawing whose user unit is one millimetre, with its title and description for the ear."""
    width, height = number(width_mm), number(height_mm)
    return element(
        "svg",
        element("title", escape(printable(title), quote=False)) if title else "",
        element("desc", escape(printable(described), quote=False)) if described and described != title else "",
        *children,
        xmlns="http://www.w3.org/2000/svg",
        width=f"{width}mm",
        height=f"{height}mm",
        font_family=FONT,
        **_REGULAR,
        viewBox=f"{number(corner[0])} {number(corner[1])} {width} {height}",
        role="img",
        fill=INK,
    )


def in_page(svg: str) -> str:
    """Return a drawing without what it needs only in a file of its own: a page gives it its font and its size."""
    start = svg.index(" xmlns=")
    head = svg[:start] + svg[svg.index(" viewBox=") :]
    return _SETTING.sub("", head)


def shared(svg: str, name: Callable[[str], str]) -> str:
    """Return a drawing whose placed pieces are references; `name` gives the id under which the page holds a piece.

    A piece is a group that is moved to its place and holds no group: what looks alike then stands on a page once.
    """

    def use(found: re.Match[str]) -> str:
        return element("use", href=f"#{name(found[3])}", x=float(found[1]), y=float(found[2]))

    return _PIECE.sub(use, svg)
