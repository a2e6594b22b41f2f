"""What lies over what on a drawn row: the faults of a drawing, found from the places of its labels, signs and wires."""

from collections.abc import Iterator

from loomwright.sheets.lettering import Box
from loomwright.sheets.schematic import Point
from loomwright.sheets.wiring import DrawnRow

__all__ = ["faults", "joined_dots"]

_HAIR = 0.05  # mm: what only touches does not overlap


def _crosses(a: Point, b: Point, box: Box) -> bool:
    """Tell whether a piece of a wire, level or upright, runs through a box."""
    left, right = sorted((a[0], b[0]))
    top, bottom = sorted((a[1], b[1]))
    return (
        left < box.x + box.width - _HAIR
        and right > box.x + _HAIR
        and top < box.y + box.height - _HAIR
        and bottom > box.y + _HAIR
    )


def _on(point: Point, a: Point, b: Point) -> bool:
    """Tell whether a point lies on a piece of a wire."""
    return (
        min(a[0], b[0]) - _HAIR <= point[0] <= max(a[0], b[0]) + _HAIR
        and min(a[1], b[1]) - _HAIR <= point[1] <= max(a[1], b[1]) + _HAIR
    )


def _within(inner: Box, outer: Box) -> bool:
    return (
        inner.x >= outer.x - _HAIR
        and inner.y >= outer.y - _HAIR
        and inner.x + inner.width <= outer.x + outer.width + _HAIR
        and inner.y + inner.height <= outer.y + outer.height + _HAIR
    )


def _edges(frame: Box) -> tuple[tuple[Point, Point], ...]:
    right, bottom = frame.x + frame.width, frame.y + frame.height
    return (
        ((frame.x, frame.y), (right, frame.y)),
        ((frame.x, bottom), (right, bottom)),
        ((frame.x, frame.y), (frame.x, bottom)),
        ((right, frame.y), (right, bottom)),
    )


def joined_dots(row: DrawnRow) -> list[Point]:
    """Every point where a wire ends on another one, not at its end: it needs a dot."""
    found = []
    for i, wire in enumerate(row.wires):
        for end in (wire.points[0], wire.points[-1]):
            for j, other in enumerate(row.wires):
                at_end = any(_on(end, p, p) for p in (other.points[0], other.points[-1]))
                if i != j and not at_end and any(_on(end, a, b) for a, b in other.segments):
                    found.append(end)
    return found


def _wires(row: DrawnRow) -> Iterator[str]:
    for wire in row.wires:
        for a, b in wire.segments:
            if abs(a[0] - b[0]) > _HAIR and abs(a[1] - b[1]) > _HAIR:
                yield f"a wire runs askew from {a} to {b}"
            for label in row.boxes:
                if _crosses(a, b, label):
                    yield f"a wire from {a} to {b} runs through the label {label.words!r}"
            for sign in row.signs:
                if _crosses(a, b, sign):
                    yield f"a wire from {a} to {b} runs through the sign {sign.words!r}"
    for i, one in enumerate(row.wires):
        for other in row.wires[i + 1 :]:
            for a, b in one.segments:
                for c, d in other.segments:
                    box = Box(x=min(c[0], d[0]), y=min(c[1], d[1]), width=abs(c[0] - d[0]), height=abs(c[1] - d[1]),
                              words="")  # fmt: skip
                    upright = abs(c[0] - d[0]) < _HAIR
                    grown = Box(x=box.x - (_HAIR * 2 if upright else 0), y=box.y - (0 if upright else _HAIR * 2),
                                width=box.width + (_HAIR * 4 if upright else 0),
                                height=box.height + (0 if upright else _HAIR * 4), words="")  # fmt: skip
                    meets = any(_on(p, c, d) for p in (a, b)) or any(_on(p, a, b) for p in (c, d))
                    if _crosses(a, b, grown) and not meets:
                        yield f"two wires cross without being joined: {a} to {b}, {c} to {d}"


def faults(row: DrawnRow) -> list[str]:
    """Return everything that lies over something else, or off the sheet."""
    found = list(_wires(row))
    places = [*row.boxes, *row.signs]
    found += [f"{a.words!r} lies over {b.words!r}" for i, a in enumerate(places) for b in places[i + 1 :] if a.meets(b)]
    found += [f"{label.words!r} leaves {sign.words!r}" for label, sign in row.inside if not _within(label, sign)]
    found += [
        f"{label.words!r} lies over the outline of a frame"
        for frame in row.frames
        for label in row.boxes
        for a, b in _edges(frame)
        if _crosses(a, b, label)
    ]
    sheet = Box(x=0, y=0, width=row.width, height=row.height, words="")
    for place in (*places, *row.frames):
        if not _within(place, sheet):
            found.append(f"{place.words!r} leaves the sheet: {place}")
    for wire in row.wires:
        found += [
            f"a wire leaves the sheet at {p}"
            for p in wire.points
            if not _within(Box(x=p[0], y=p[1], width=0, height=0, words=""), sheet)
        ]
    found += [
        f"wires are joined at {end} without a dot"
        for end in joined_dots(row)
        if not any(_on(end, dot, dot) for dot in row.dots)
    ]
    return found
