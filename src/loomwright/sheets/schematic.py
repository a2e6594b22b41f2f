"""A circuit in the making: signs with their ends, wires from end to end, and labels, each with the place it takes.

Every mark of a sign stands in one group that names its kind and where its ends are, so whoever reads the drawing, a
program or a screen reader, can follow a wire from one to the next. Two wires are joined where one ends on the other.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

from loomwright.sheets.lettering import Box, Letters
from loomwright.sheets.svg import INK, PAPER, circle, element, path, rect
from loomwright.sheets.swatches import number

__all__ = ["Circuit", "Point", "Wire"]

Point = tuple[float, float]

_OWN = "c-"  # before the name of each group, so that no style or script of a page takes it for one of its own


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A drawn wire: the corners of its line, in order [mm]."""

    points: tuple[Point, ...]

    @property
    def segments(self) -> tuple[tuple[Point, Point], ...]:
        """Its straight pieces."""
        return tuple(zip(self.points, self.points[1:], strict=False))


class Circuit(Letters):
    """Marks, and what is known of the places they take: labels in `boxes`, signs, wires, frames."""

    def __init__(self) -> None:
        super().__init__()
        self.signs: list[Box] = []
        self.frames: list[Box] = []  # outlines of what is more than one sign: wires pass through, labels do not
        self.inside: list[tuple[Box, Box]] = []  # a label that belongs into a sign, and the sign
        self.wires: list[Wire] = []
        self.dots: list[Point] = []

    def wire(self, *points: Point, width: float = 0.5, dash: str | None = None) -> None:
        """Draw a wire through points; ends that lie on another wire are joined to it."""
        corners = tuple(p for i, p in enumerate(points) if i == 0 or p != points[i - 1])
        if len(corners) < 2:
            return
        self.wires.append(Wire(points=corners))
        line = "L".join(f"{number(x)} {number(y)}" for x, y in corners)
        self.marks.append(path(f"M{line}", class_=f"{_OWN}wire", stroke_width=width, stroke_dasharray=dash))

    def dot(self, at: Point, radius: float = 0.75) -> None:
        """Mark the point at which wires are joined."""
        self.dots.append(at)
        self.marks.append(circle(*at, radius, fill=INK))

    def frame(self, x: float, y: float, width: float, height: float, *, dash: str | None = "1.6 1") -> None:
        """Draw an outline around signs that are one thing."""
        self.frames.append(Box(x=x, y=y, width=width, height=height, words="frame"))
        self.marks.append(rect(x, y, width, height, rx=0.6, stroke_width=0.3, stroke_dasharray=dash))

    @contextmanager
    def sign(self, kind: str, box: tuple[float, float, float, float], ends: Mapping[str, Point]) -> Iterator[None]:
        """Open a sign: what is drawn and written until it is closed belongs to it.

        `ends` are the points at which wires may meet it, by their printed numbers where they have any.
        """
        first = len(self.marks)
        labels = len(self.boxes)
        yield
        place = Box(x=box[0], y=box[1], width=box[2], height=box[3], words=kind)
        self.signs.append(place)
        own = self.boxes[labels:]
        del self.boxes[labels:]
        for label in own:
            if label.meets(place):
                self.inside.append((label, place))
            else:
                self.boxes.append(label)
        marks = self.marks[first:]
        del self.marks[first:]
        points = " ".join(f"{name}:{number(x)},{number(y)}" for name, (x, y) in ends.items())
        self.marks.append(element("g", *marks, class_=_OWN + kind.replace(" ", "-"), data_ends=points))

    @contextmanager
    def group(self, kind: str) -> Iterator[None]:
        """Open a group: what is drawn and written until it is closed belongs together, such as a relay and its name."""
        first = len(self.marks)
        yield
        marks = self.marks[first:]
        del self.marks[first:]
        if marks:
            self.marks.append(element("g", *marks, class_=_OWN + kind))

    def pin_box(self, kind: str, x: float, y: float, words: str, ends: Mapping[str, Point], *, wide: float) -> None:
        """Draw a plug's place as a box with its name, 6 mm high."""
        with self.sign(kind, (x, y, wide, 6.0), ends):
            self.marks.append(rect(x, y, wide, 6.0, rx=1.2, fill=PAPER, stroke_width=0.5))
            self.line(x + wide / 2, y + 1.1, words, 3.2, wide - 1.0, bold=True, anchor="middle")
