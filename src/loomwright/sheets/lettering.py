"""Lettering on a drawing: lines broken to a width, and the box each takes up, so that none is laid over another."""

import re
from dataclasses import dataclass

from loomwright.sheets.characters import printable
from loomwright.sheets.svg import INK, text, text_width

__all__ = ["Box", "Letters", "break_lines"]

# A number stays with its unit, and a sign of French with the word before it.
_SPACE = re.compile(r"[^\S\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}]+")
_UNIT = re.compile(r"(?<=\d) (?=(?:A|V|W|ohm|AWG|mm2|mm²|mm)\b)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A place that is taken on a drawing [mm], and what takes it."""

    x: float
    y: float
    width: float
    height: float
    words: str

    def meets(self, other: "Box") -> bool:
        """Tell whether the two overlap; touching edges do not."""
        slack = 1e-6
        return (
            self.x < other.x + other.width - slack
            and other.x < self.x + self.width - slack
            and self.y < other.y + other.height - slack
            and other.y < self.y + self.height - slack
        )


def break_lines(words: str, width: float, size: float, *, bold: bool = False, most: int = 6) -> list[str]:
    """Break a text into lines that fit a width, words too long for a line included; the last one ends in … if cut."""
    lines: list[str] = []
    for word in _SPACE.split(_UNIT.sub("\N{NO-BREAK SPACE}", printable(words))):
        if not word:
            continue
        rest = word
        if lines and text_width(f"{lines[-1]} {rest}", size, bold=bold) <= width:
            lines[-1] = f"{lines[-1]} {rest}"
            continue
        while text_width(rest, size, bold=bold) > width and len(rest) > 1:
            cut = len(rest) - 1
            while cut > 1 and text_width(rest[:cut], size, bold=bold) > width:
                cut -= 1
            lines.append(rest[:cut])
            rest = rest[cut:]
        lines.append(rest)
    if len(lines) > most:
        last = lines[most - 1]
        while last and text_width(f"{last}…", size, bold=bold) > width:
            last = last[:-1]
        lines = [*lines[: most - 1], f"{last}…"]
    return lines


class Letters:
    """A drawing in the making: marks to draw and the boxes they take."""

    def __init__(self) -> None:
        self.marks: list[str] = []
        self.boxes: list[Box] = []

    def line(
        self, x: float, top: float, words: str, size: float, width: float, *, bold: bool = False, anchor: str = "start"
    ) -> None:
        """Write words on one line below `top`, squeezed where they would be wider than `width`; nothing is left out."""
        said = " ".join(printable(words).split())
        if not said:
            return
        wide = min(text_width(said, size, bold=bold), width)
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor]
        self.marks.append(text(x, top + size * 0.95, said, size, anchor=anchor, bold=bold, width=width))
        self.boxes.append(Box(x=left, y=top, width=wide, height=size * 1.25, words=said))

    def write(
        self,
        x: float,
        top: float,
        words: str,
        size: float,
        width: float,
        *,
        bold: bool = False,
        anchor: str = "start",
        fill: str = INK,
        most: int = 6,
    ) -> float:
        """Write broken lines below `top`; x is their left end, middle or right end. Return where they end [mm]."""
        y = top
        for words_of_line in break_lines(words, width, size, bold=bold, most=most):
            wide = text_width(words_of_line, size, bold=bold)
            left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor]
            self.marks.append(
                text(x, y + size * 0.95, words_of_line, size, anchor=anchor, bold=bold, fill=fill, width=width)
            )
            self.boxes.append(Box(x=left, y=y, width=min(wide, width), height=size * 1.25, words=words_of_line))
            y += size * 1.25
        return y

    def take(self, x: float, y: float, width: float, height: float, what: str, *marks: str) -> None:
        """Draw marks and note the box they take."""
        self.marks.extend(marks)
        self.boxes.append(Box(x=x, y=y, width=width, height=height, words=what))
