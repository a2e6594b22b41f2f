"""The geometry of a connector face: where each pin is as seen from either side and however the plug is turned.

Two frames are used. The *drawing* is how the rows were written down. The *upright mating view* is what one sees
looking at the mating side with the latch up; every other view is this one mirrored (wire side) and then turned.
x runs to the right and y down, as on paper; the unit is one pitch; the origin is the middle of the face.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from loomwright.documents.vehicle import Plug

__all__ = [
    "Cavity",
    "Count",
    "Direction",
    "Edge",
    "FaceShape",
    "Side",
    "Turn",
    "count_to",
    "find_pin",
    "latch_edge",
    "lines",
    "neighbours",
    "shape_of",
    "stands_upright",
    "touching",
    "view",
]

Side = Literal["wire", "mating"]
Turn = Literal[0, 90, 180, 270]
Edge = Literal["top", "right", "bottom", "left"]
Direction = Literal["left", "right", "above", "below"]

_EDGES: tuple[Edge, ...] = ("top", "right", "bottom", "left")
_LARGE = 1.6  # A place for a bigger terminal takes this many pitches each way.
_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Cavity:
    """One numbered place of a face: its middle and its size, in pitches."""

    pin: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceShape:
    """A face as written down: rows of pin numbers in reading order, None where the plastic has no place at all.

    Rows of unequal length are centred, which gives the staggered rows of many plugs; `stagger` moves single rows
    by a number of pitches where that is not enough. `large` names the pins with bigger terminals.
    """

    id: str
    rows: tuple[tuple[str | None, ...], ...]
    large: frozenset[str] = frozenset()
    latch: Edge = "top"
    drawn_from: Side = "mating"
    stagger: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Refuse an empty row, a pin given twice, a large pin that is not there, and a wrong number of staggers."""
        pins = [pin for row in self.rows for pin in row if pin is not None]
        if not self.rows or any(all(pin is None for pin in row) for row in self.rows):
            msg = f"face {self.id!r}: found a row without a pin, expected at least one pin in each row"
            raise ValueError(msg)
        twice = sorted({pin for pin in pins if pins.count(pin) > 1})
        if twice:
            msg = f"face {self.id!r}: found pin {twice[0]!r} twice, expected each pin once"
            raise ValueError(msg)
        stray = sorted(self.large - set(pins))
        if stray:
            msg = f"face {self.id!r}: found large pin {stray[0]!r}, expected one of the pins in its rows"
            raise ValueError(msg)
        if self.stagger and len(self.stagger) != len(self.rows):
            msg = (
                f"face {self.id!r}: found {len(self.stagger)} staggers, expected one for each of {len(self.rows)} rows"
            )
            raise ValueError(msg)

    @property
    def pins(self) -> tuple[str, ...]:
        """Return all pins in the order written."""
        return tuple(pin for row in self.rows for pin in row if pin is not None)


def shape_of(plug: Plug) -> FaceShape:
    """Return the geometry of a plug's face as its document has it."""
    face = plug.face
    return FaceShape(
        id=plug.id, rows=face.rows, large=frozenset(face.large), latch=face.latch, drawn_from=face.drawn_from
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How to count to a pin in one view: which line, from which edge, which place, from which end.

    A line is a row where it lies level in this view and a column where it stands upright. Places are counted
    whether or not a wire sits in them; `gaps` is the number of solid spots passed on the way, which do not count.
    `latch_line` is the number of the line counted from the latch, None where the latch is at an end of the lines.
    """

    pin: str
    side: Side
    latch: Edge
    line: Literal["row", "column"]
    lines: int
    line_number: int
    line_from: Edge
    latch_line: int | None
    place: int
    place_from: Edge
    places: int
    gaps: int


def _clockwise(x: float, y: float, quarters: int) -> tuple[float, float]:
    for _ in range(quarters % 4):
        x, y = -y, x
    return x + 0.0, y + 0.0


def _size(shape: FaceShape, pin: str | None) -> float:
    return _LARGE if pin in shape.large else 1.0


@lru_cache(maxsize=256)  # a face is drawn and counted in many times for one paper
def _upright(shape: FaceShape) -> tuple[Cavity, ...]:
    """Lay out the rows as drawn, put the middle at the origin, turn the latch up, and look at the mating side."""
    staggers = shape.stagger or (0.0,) * len(shape.rows)
    widths = [sum(_size(shape, pin) for pin in row) for row in shape.rows]
    heights = [max(_size(shape, pin) for pin in row) for row in shape.rows]
    left = min(shift - width / 2 for shift, width in zip(staggers, widths, strict=True))
    right = max(shift + width / 2 for shift, width in zip(staggers, widths, strict=True))
    quarters = -_EDGES.index(shape.latch)
    flip = -1.0 if shape.drawn_from == "wire" else 1.0
    cavities = []
    y = -sum(heights) / 2
    for row, shift, width, height in zip(shape.rows, staggers, widths, heights, strict=True):
        x = shift - width / 2 - (left + right) / 2
        for pin in row:
            size = _size(shape, pin)
            if pin is not None:
                cx, cy = _clockwise(round(x + size / 2, 6), round(y + height / 2, 6), quarters)
                cavities.append(Cavity(pin=pin, x=flip * cx + 0.0, y=cy, size=size))
            x += size
        y += height
    return tuple(cavities)


def view(shape: FaceShape, side: Side, turn: Turn = 0) -> tuple[Cavity, ...]:
    """Return every place as seen from `side` with the latch up, then turned clockwise by `turn` degrees.

    The wire side is the mating side mirrored left to right, as when the plug is turned around its upright middle.
    """
    flip = -1.0 if side == "wire" else 1.0
    places = []
    for cavity in _upright(shape):
        x, y = _clockwise(flip * cavity.x, cavity.y, turn // 90)
        places.append(Cavity(pin=cavity.pin, x=x, y=y, size=cavity.size))
    return tuple(places)


def latch_edge(turn: Turn) -> Edge:
    """Return where the latch is in a view turned clockwise by `turn` degrees; it is up at 0."""
    return _EDGES[turn // 90]


def _drawn_lines(shape: FaceShape) -> tuple[tuple[str, ...], ...]:
    """Return the pins line by line in the drawing; a face of one-pin rows is one line, written from top to bottom."""
    rows = tuple(tuple(pin for pin in row if pin is not None) for row in shape.rows)
    if len(rows) > 1 and all(len(row) == 1 for row in rows):
        return (tuple(row[0] for row in rows),)
    return rows


def stands_upright(shape: FaceShape, turn: Turn) -> bool:
    """Tell whether the lines stand upright, as columns, in a view of this turn."""
    quarters = turn // 90 - _EDGES.index(shape.latch)
    written_down = len(shape.rows) > 1 and len(_drawn_lines(shape)) == 1
    return (quarters % 2 == 1) != written_down


def lines(shape: FaceShape, side: Side, turn: Turn = 0) -> tuple[tuple[str, ...], ...]:
    """Return the pins line by line as one reads this view: rows from the top, or columns from the left."""
    at = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    columns = stands_upright(shape, turn)

    def along(pin: str) -> float:
        return at[pin].y if columns else at[pin].x

    def across(line: tuple[str, ...]) -> float:
        return at[line[0]].x if columns else at[line[0]].y

    return tuple(sorted((tuple(sorted(line, key=along)) for line in _drawn_lines(shape)), key=across))


def find_pin(shape: FaceShape, pin: str, side: Side, turn: Turn) -> tuple[tuple[tuple[str, ...], ...], int, int]:
    """Return the lines of this view, the number of the pin's line and its number in it, both from 0.

    Raises:     ValueError -- if the face has no such pin.
    """
    ordered = lines(shape, side, turn)
    for number, line in enumerate(ordered):
        if pin in line:
            return ordered, number, line.index(pin)
    msg = f"face {shape.id!r}: found pin {pin!r}, expected one of {', '.join(shape.pins)}"
    raise ValueError(msg)


def _gaps_before(shape: FaceShape, line: tuple[str, ...], passed: int) -> int:
    """Count the solid spots among the first `passed` steps along a line, wherever its drawn row has a None between."""
    if len(shape.rows) > 1 and len(_drawn_lines(shape)) == 1:
        return 0
    row = next(row for row in shape.rows if line[0] in row)
    drawn = row if row.index(line[0]) <= row.index(line[-1]) else row[::-1]
    first = drawn.index(line[0])
    return drawn[first : drawn.index(line[passed])].count(None)


def count_to(shape: FaceShape, pin: str, side: Side, turn: Turn = 0) -> Count:
    """Return how to count to a pin in this view, always from the nearer edge and the nearer end.

    At equal distance lines are counted from the top (left) and places from the left (top).

    Raises:     ValueError -- if the face has no such pin.
    """
    ordered, number, index = find_pin(shape, pin, side, turn)
    line = ordered[number]
    columns = stands_upright(shape, turn)
    first_line: Edge = "left" if columns else "top"
    last_line: Edge = "right" if columns else "bottom"
    first_end: Edge = "top" if columns else "left"
    last_end: Edge = "bottom" if columns else "right"
    from_first_line = number <= len(ordered) - 1 - number
    from_first_end = index <= len(line) - 1 - index
    latch = latch_edge(turn)
    latch_line = number + 1 if latch == first_line else len(ordered) - number if latch == last_line else None
    walked = line if from_first_end else line[::-1]
    place = walked.index(pin)
    return Count(
        pin=pin,
        side=side,
        latch=latch,
        line="column" if columns else "row",
        lines=len(ordered),
        line_number=number + 1 if from_first_line else len(ordered) - number,
        line_from=first_line if from_first_line else last_line,
        latch_line=latch_line,
        place=place + 1,
        place_from=first_end if from_first_end else last_end,
        places=len(line),
        gaps=_gaps_before(shape, walked, place),
    )


def _across_pairs(shape: FaceShape) -> Iterator[tuple[str, str]]:
    """Pair each place with the one straight across in the next line: nearest first, each used once.

    In staggered rows two are equally near; the earlier in the order written is taken, in either direction, so that
    the relation is symmetric and the same in every view.
    """
    drawn = _drawn_lines(shape)
    at = {cavity.pin: cavity for cavity in _upright(shape)}
    columns = stands_upright(shape, 0)

    def apart(a: str, b: str) -> float:
        return round(abs(at[a].y - at[b].y) if columns else abs(at[a].x - at[b].x), 6)

    for upper, lower in pairwise(drawn):
        reach = [
            (apart(a, b), i, j)
            for i, a in enumerate(upper)
            for j, b in enumerate(lower)
            if apart(a, b) < (at[a].size + at[b].size) / 2 - _NEAR
        ]
        done_upper: set[int] = set()
        done_lower: set[int] = set()
        for _, i, j in sorted(reach):
            if i not in done_upper and j not in done_lower:
                done_upper.add(i)
                done_lower.add(j)
                yield upper[i], lower[j]


def neighbours(shape: FaceShape, pin: str, side: Side, turn: Turn = 0) -> dict[Direction, str | None]:
    """Return the pin next to this one in each direction of the view, None where there is none.

    Along a line a solid gap is stepped over. The relation is symmetric: what lies left of a has a on its right.

    Raises:     ValueError -- if the face has no such pin.
    """
    ordered, number, index = find_pin(shape, pin, side, turn)
    line = ordered[number]
    before = line[index - 1] if index > 0 else None
    after = line[index + 1] if index + 1 < len(line) else None
    partners = [b if a == pin else a for a, b in _across_pairs(shape) if pin in (a, b)]
    earlier = next((other for other in partners if number > 0 and other in ordered[number - 1]), None)
    later = next((other for other in partners if number + 1 < len(ordered) and other in ordered[number + 1]), None)
    if stands_upright(shape, turn):
        return {"left": earlier, "right": later, "above": before, "below": after}
    return {"left": before, "right": after, "above": earlier, "below": later}


def touching(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return every place that borders this one, corners included: the nearest first, then in the order written."""
    at = {cavity.pin: cavity for cavity in _upright(shape)}
    if pin not in at:
        find_pin(shape, pin, "mating", 0)
    here = at[pin]

    def distance(other: Cavity) -> float:
        return max(abs(other.x - here.x), abs(other.y - here.y)) - (other.size + here.size) / 2

    near = [c for c in at.values() if c.pin != pin and distance(c) < 0.1]  # a wall between
    near.sort(key=lambda c: round((c.x - here.x) ** 2 + (c.y - here.y) ** 2, 6))
    return tuple(c.pin for c in near)
