"""The footwell in the middle and beside it, joined to its place by a line, what the kit does there.

Each joint is a stroke from the kit's lead to the car's wire, drawn by what the wire does now.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from loomwright.papers.drawings import DashSpot
from loomwright.sheets.live_marks import live_marks
from loomwright.sheets.svg import INK, PAPER, circle, drawing, in_page, line, path, rect, text, text_width
from loomwright.sheets.underdash import draw_underdash
from loomwright.sheets.wire_swatch import Area, swatch_marks

__all__ = ["Callout", "CalloutLine", "draw_callouts"]

_WIDTH = 290.0
_SIDE = 86.0
_GAP = 7.0
_HEAD = 6.4
_ROW = 10.4
_PAD = 1.6
_EDGE = 2.0
_APART = 4.0
_MAP_MARGIN = 0.03  # of the map's width, as the map has it
_MAP_HEIGHT = 0.66


@dataclass(frozen=True, slots=True, kw_only=True)
class CalloutLine:
    """One joint: the lead, what its wire does, and the wire of the car where there is one."""

    label: str
    lead: tuple[str, str | None]
    wire: tuple[str, str | None] | None
    condition: str
    says: str  # the condition and the voltage in words
    what: str  # what the wire is and where
    flag: str = ""  # a word that must be seen, such as 'not proven'
    changed: bool = False
    cut: str = ""  # 'open' or 'shorted' where somebody asked for it


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """One place of the footwell with what is joined there."""

    spot: DashSpot
    lines: tuple[CalloutLine, ...]

    @property
    def height(self) -> float:
        """How high its box is [mm]."""
        return _HEAD + _ROW * len(self.lines) + _PAD


def draw_callouts(callouts: Sequence[Callout], *, title: str, language: str = "en") -> str:
    """Draw the footwell with its places in order and a box for each beside it; the page sets its width."""
    map_width = _WIDTH - 2 * (_SIDE + _GAP)
    map_height = map_width * _MAP_HEIGHT
    left, right = _columns(callouts)
    height = max(map_height, *(_column_height(callouts, side) for side in (left, right))) + 2
    map_x, map_y = _SIDE + _GAP, (height - map_height) / 2
    footwell = in_page(draw_underdash([c.spot for c in callouts], width_mm=map_width, language=language))
    placed = footwell.replace(
        "<svg", f'<svg x="{map_x:.2f}" y="{map_y:.2f}" width="{map_width:.2f}" height="{map_height:.2f}"', 1
    ).replace(' role="img"', "", 1)

    def at(spot: DashSpot) -> tuple[float, float]:
        margin = map_width * _MAP_MARGIN
        return (
            map_x + margin + spot.x / 100 * (map_width - 2 * margin),
            map_y + margin + spot.y / 100 * (map_height - 2 * margin),
        )

    marks: list[str] = []
    leads: list[str] = []
    for side, x, edge in ((left, 0.0, _SIDE), (right, _WIDTH - _SIDE, _WIDTH - _SIDE)):
        wanted = [at(callouts[i].spot)[1] for i in side]
        for i, top in zip(side, _tops([callouts[i].height for i in side], wanted, height), strict=True):
            px, py = at(callouts[i].spot)
            head = top + _HEAD / 2
            elbow = edge + (_GAP / 2 if edge <= _SIDE else -_GAP / 2)
            leads.append(path(f"M{edge:.2f} {head:.2f}H{elbow:.2f}L{px:.2f} {py:.2f}", stroke_width=0.45))
            leads.append(circle(px, py, 0.7, fill=INK))
            marks.extend(_box(callouts[i], i + 1, x, top))
    size = (_WIDTH + 2 * _EDGE, height + 2 * _EDGE)
    return drawing(*size, title, [*leads, placed, *marks], corner=(-_EDGE, -_EDGE))


def _columns(callouts: Sequence[Callout]) -> tuple[list[int], list[int]]:
    """Return which boxes stand left and which right, from top to bottom: the places' own side, as even as may be."""
    by_x = sorted(range(len(callouts)), key=lambda i: callouts[i].spot.x)
    heights = [callouts[i].height for i in by_x]
    total = sum(heights)
    cut = min(range(len(by_x) + 1), key=lambda n: abs(2 * sum(heights[:n]) - total))

    def down(side: list[int]) -> list[int]:
        return sorted(side, key=lambda i: callouts[i].spot.y)

    return down(by_x[:cut]), down(by_x[cut:])


def _column_height(callouts: Sequence[Callout], side: Sequence[int]) -> float:
    return sum(callouts[i].height for i in side) + _APART * max(0, len(side) - 1)


def _tops(heights: Sequence[float], wanted: Sequence[float], height: float) -> list[float]:
    """Return where boxes begin: each as near to its place as the ones above and below let it."""
    tops: list[float] = []
    free = 1.0
    for i, own in enumerate(heights):
        below = sum(heights[i:]) + _APART * (len(heights) - i - 1)
        tops.append(max(free, min(wanted[i] - own / 2, height - 1 - below)))
        free = tops[-1] + own + _APART
    return tops


def _box(callout: Callout, number: int, x: float, top: float) -> list[str]:
    name = callout.spot.name[:1].upper() + callout.spot.name[1:]
    marks = [
        rect(x, top, _SIDE, callout.height, fill=PAPER, stroke_width=0.35),
        line(x, top + _HEAD, x + _SIDE, top + _HEAD, 0.35),
        circle(x + 4, top + _HEAD / 2, 2.3, fill=INK),
        text(x + 4, top + _HEAD / 2 + 1.15, str(number), 3.3, anchor="middle", bold=True, fill=PAPER),
        text(x + 8, top + 4.5, name, 4.0, bold=True, width=_SIDE - 10),
    ]
    for i, row in enumerate(callout.lines):
        marks.extend(_line(row, x, top + _HEAD + _ROW * i))
    return marks


@lru_cache(maxsize=2048)
def _line(row: CalloutLine, x: float, top: float) -> tuple[str, ...]:
    """Draw one joint: label, lead, stroke, wire and voltage on one line, and in words below it.

    From one state to the next most joints stay as they are, so that their marks are kept.
    """
    y = top + 3.7
    tag = min(text_width(row.label, 3.3, bold=True) + 2.4, 21.0)
    marks = [
        rect(x + 1.5, y - 2.3, tag, 4.6, fill=PAPER, stroke_width=0.4),
        text(x + 1.5 + tag / 2, y + 1.15, row.label, 3.3, anchor="middle", bold=True, width=tag - 1),
    ]
    at = x + 24
    marks += swatch_marks(Area(at, y - 1.5, 7.5, 3), *row.lead)
    marks += live_marks(at + 7.7, at + 19, y, row.condition)
    if row.cut:
        marks += [
            rect(at + 9.6, y - 1.9, 7.4, 3.8, fill=PAPER, stroke_width=0.3),
            text(at + 13.3, y + 0.95, row.cut, 2.6, anchor="middle", bold=True, width=6.6),
        ]
    if row.wire is not None:
        marks += swatch_marks(Area(at + 19.2, y - 1.5, 7.5, 3), *row.wire)
    marks.append(text(at + 28, y + 1.2, row.says, 3.4, bold=True, width=_SIDE - 24 - 29.5))
    words = f"{row.flag.upper()}. {row.what}" if row.flag else row.what
    marks.append(text(x + 1.5, top + 9.1, _short(words, 3.1, _SIDE - 3), 3.1, width=_SIDE - 3))
    if row.changed:
        marks.append(rect(x + 0.5, top + 0.5, _SIDE - 1, _ROW - 0.6, stroke_width=0.6, stroke_dasharray="1.6 0.9"))
    return tuple(marks)


def _short(words: str, size: float, width: float) -> str:
    """Return words cut off where they would be wider than a width; the list below the drawing has all of them."""
    if text_width(words, size) <= width:
        return words
    kept = words
    while kept and text_width(f"{kept} …", size) > width:
        kept = kept.rpartition(" ")[0]
    return f"{kept} …"
