"""How a wire is drawn by what it does: a stroke for each condition, told by its pattern and never by colour alone."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.sheets.svg import INK, circle, drawing, line

__all__ = ["draw_live_mark", "live_marks"]

_THICK, _THIN = 1.5, 0.35
_DASHES: Mapping[str, str] = MappingProxyType({"between": "1.3 1.1", "moving": "2.6 0.9 0.5 0.9", "loose": "0.4 1.5"})


def live_marks(x1: float, x2: float, y: float, condition: str) -> list[str]:
    """Return the level stroke of a wire from x1 to x2 [mm].

    Live is thick, dead thin; held up is two thin lines, pulled to ground is thick and ends in the sign of ground, at
    ground is thin and ends in it; what moves, stands in between or hangs loose is broken, each in its own way.
    """
    match condition:
        case "live":
            return [line(x1, y, x2, y, _THICK)]
        case "up":
            return [line(x1, y - 0.65, x2, y - 0.65, 0.4), line(x1, y + 0.65, x2, y + 0.65, 0.4)]
        case "pulled":
            return [line(x1, y, x2 - 2.4, y, _THICK), *_ground(x2 - 2.2, y)]
        case "ground":
            return [line(x1, y, x2 - 2.4, y, _THIN), *_ground(x2 - 2.2, y)]
        case "moving" | "between":
            return [line(x1, y, x2, y, 1.0, stroke_dasharray=_DASHES[condition])]
        case "loose":
            return [
                line(x1, y, x2 - 1.6, y, 0.6, stroke_dasharray=_DASHES[condition]),
                circle(x2 - 0.9, y, 0.6, stroke_width=0.3),
            ]
    return [line(x1, y, x2, y, _THIN)]


def _ground(x: float, y: float) -> list[str]:
    """Return the sign of ground, lying on its side: three bars that grow shorter."""
    return [
        line(x + 0.9 * i, y - half, x + 0.9 * i, y + half, 0.45, stroke=INK) for i, half in enumerate((1.5, 1, 0.5))
    ]


def draw_live_mark(condition: str, words: str = "", width_mm: float = 16) -> str:
    """Return one stroke as a drawing of its own."""
    return drawing(width_mm, 4, words, live_marks(0.5, width_mm - 0.5, 2, condition))
