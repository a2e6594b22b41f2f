"""The drawn circuit: one row for each way from a pin of the kit to a wire of the car, so that a page may break.

The kit stands at the left: pin, lead with its colours and its printed label. Then come the fuse in the lead and the
part, and at the right the car's wire, upright, from its plug to its harness. On a phone the lead runs down instead.
Rows of one plug or place follow each other and have its name in common.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from loomwright.papers.drawings import WiringPart, WiringPlan, WiringRow
from loomwright.sheets.car_column import COLUMN_HALF, add_column, column_above
from loomwright.sheets.lettering import Box
from loomwright.sheets.part_symbols import (
    FUSE_LENGTH,
    PART_LENGTH,
    add_diode,
    add_fuse,
    add_mark,
    add_resistor,
)
from loomwright.sheets.relay_drawing import FACTORY_RISE, add_relay, relay_above
from loomwright.sheets.schematic import Circuit, Point, Wire
from loomwright.sheets.svg import PAPER, drawing, line, path, text_width
from loomwright.sheets.swatches import exact_codes
from loomwright.sheets.wire_swatch import Area, colour_words, swatch_marks
from loomwright.sheets.words import quantity_words, spoken, words_for

__all__ = ["WIDE_FROM_MM", "DrawnRow", "coded", "draw_wiring"]

WIDE_FROM_MM = 150.0
_WIRELESS = frozenset({"bus", "setting", "none"})
_NOTED = frozenset({"ground point", "added part"})  # their note tells where it is
_LEAD_END = 54.0  # where a level lead ends
_COLUMN_AT = 121.0  # where the car's wire stands in a level row 178 mm wide
_BOLD = 0.9  # of its room that bold writing takes: the bold of some browsers is much wider than that on paper
_GAP = 3.0
_TEXT_LEAST = 38.0  # the room that the words of the car's wire need beside it


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnRow:
    """One row of the plan: the drawing, the places everything on it takes, its wires, and the row in words."""

    svg: str
    boxes: tuple[Box, ...]  # labels
    signs: tuple[Box, ...]
    frames: tuple[Box, ...]
    inside: tuple[tuple[Box, Box], ...]  # a label that belongs into a sign
    wires: tuple[Wire, ...]
    dots: tuple[Point, ...]
    width: float
    height: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """The sizes of what is written [mm]."""

    small: float
    plain: float
    title: float
    place: float


_PAPER, _PHONE = _Look(small=2.9, plain=3.4, title=3.9, place=4.6), _Look(small=3.5, plain=4.0, title=4.4, place=5.0)


def draw_wiring(plan: WiringPlan, *, width_mm: float, language: str = "en") -> tuple[DrawnRow, ...]:
    """Draw a wiring plan row by row.

    Parameters
    ----------
    plan
        The rows, in the order of the paper.
    width_mm
        Width of each drawing [mm]; from 150 a lead lies level, below it runs down (80 at least).
    language
        Of the few words that the drawing adds.

    Raises
    ------
    ValueError
        If the width is below 80 mm.
    """
    if width_mm < 80:
        msg = f"found a width of {width_mm:g} mm, expected 80 mm or more"
        raise ValueError(msg)
    words, say = words_for(language), spoken(language)
    drawn = []
    for previous, row in zip((None, *plan.rows), plan.rows, strict=False):
        fresh = previous is None or previous.where != row.where
        circuit, height = _Row(row, width_mm, words, say).drawn(with_place=fresh)
        title = _row_words(row, words, say, with_place=fresh)
        edge = line(0, 0.2, width_mm, 0.2, 0.5 if fresh else 0.15)
        drawn.append(
            DrawnRow(
                svg=drawing(width_mm, height, title, [edge, *circuit.marks]),
                boxes=tuple(circuit.boxes),
                signs=tuple(circuit.signs),
                frames=tuple(circuit.frames),
                inside=tuple(circuit.inside),
                wires=tuple(circuit.wires),
                dots=tuple(circuit.dots),
                width=width_mm,
                height=height,
                words=title,
            )
        )
    return tuple(drawn)


def coded(colour: str, stripe: str | None, say: Callable[[str], str] = str) -> str:
    """Return a colour in words first, then the codes of the standard where they say as much."""
    codes, said = exact_codes(colour, stripe), say(colour_words(colour, stripe))
    return f"{said} ({codes})" if codes else said


def _row_words(row: WiringRow, words: Mapping[str, str], say: Callable[[str], str], *, with_place: bool) -> str:
    """Return a row as one sentence, for those who cannot see the drawing."""
    colour = say(colour_words(row.lead_colour, row.lead_stripe)) if row.lead_colour else ""
    kit = " ".join(filter(None, (row.kit_pin, row.terminal, row.label and f"[{row.label}]", colour)))
    steps = [kit, row.fuse, _part_words(row.part), _joint_words(row, words)]
    if row.joint not in _WIRELESS:
        wire = say(colour_words(row.wire_colour, row.wire_stripe)) if row.wire_colour else ""
        steps.append(", ".join(filter(None, (wire, _pin(row, words), row.function))))
    sentence = f"{row.task}{words['colon']}{' → '.join(filter(None, steps))}"
    if with_place and row.where:
        sentence = f"{row.where}. {sentence}"
    return f"{sentence}. {row.note}" if row.note else sentence


def _part_words(part: WiringPart | None) -> str:
    if part is None:
        return ""
    feed = " ".join(filter(None, (part.feed, part.feed_label and f"[{part.feed_label}]", part.feed_fuse)))
    return f"{part.name} ({feed})" if feed else part.name


def _joint_words(row: WiringRow, words: Mapping[str, str]) -> str:
    said = words[f"joint {row.joint}"]
    said = f"{said}{words['colon']}{row.branch}" if row.branch else said
    return f"{said}{words['semicolon']}{words[f'factory {row.factory_side}']}" if row.opened else said


def _pin(row: WiringRow, words: Mapping[str, str]) -> str:
    return words["plug and pin"].format(plug=row.plug, pin=row.pin) if row.plug and row.pin else row.plug or row.pin


def _size_words(row: WiringRow) -> str:
    return ", ".join(quantity_words(quantity) for quantity in (row.size, row.length) if quantity)


class _Row:
    """One row in the making."""

    def __init__(self, row: WiringRow, width: float, words: Mapping[str, str], say: Callable[[str], str]) -> None:
        self._row = row
        self._width = width
        self._words = words
        self._say = say
        self._level = width >= WIDE_FROM_MM
        self._look = _PAPER if self._level else _PHONE
        self._circuit = Circuit()

    def drawn(self, *, with_place: bool) -> tuple[Circuit, float]:
        """Draw the row; return it and its height [mm]."""
        circuit, row, look = self._circuit, self._row, self._look
        top = 1.8
        if with_place and row.where:
            top = circuit.write(0, top, row.where, look.place, self._width * _BOLD, bold=True, most=3) + 1.2
        if row.joint in _WIRELESS:
            return circuit, self._wireless(top) + 2.4
        titled = self._title(top)
        bottom = self._with_wire(top, titled)
        if row.note and row.joint not in _NOTED:
            bottom = circuit.write(0, bottom + 0.8, row.note, look.plain, self._width - 2, most=6)
        return circuit, bottom + 2.4

    def _title(self, top: float) -> float:
        """Write what the row is for, and small behind it its number of DIN 72552."""
        row, look = self._row, self._look
        room = _LEAD_END - 2 if self._level else self._width - 2
        if not row.din:
            return self._circuit.write(0, top, row.task, look.title, room * _BOLD, bold=True, most=3)
        beside = self._circuit.write(room, top + 0.9, row.din, look.small, 10.0, anchor="end", most=1)
        return max(beside, self._circuit.write(0, top, row.task, look.title, (room - 8) * _BOLD, bold=True, most=3))

    # --- without a wire ----------------------------------------------------------------------------------------

    def _wireless(self, top: float) -> float:
        """What stands where there is no wire: a sign, its word, and what serves instead."""
        circuit, row, look = self._circuit, self._row, self._look
        titled = self._title(top)
        x, y = (_LEAD_END + 4, top) if self._level else (0.0, titled + 0.6)
        add_mark(circuit, x + 4.2, y + 2.7, row.joint)
        room = self._width - x - 13
        below = circuit.write(x + 11, y, self._words[f"joint {row.joint}"], look.plain, room, bold=True, most=3)
        below = circuit.write(x + 11, below, row.note or row.terminal, look.plain, room, most=8)
        return max(titled, below, y + 5.4)

    # --- with a wire -------------------------------------------------------------------------------------------

    def _with_wire(self, top: float, titled: float) -> float:
        row = self._row
        rise = self._rise()
        above = max(self._strip_above(), column_above(row, rise))
        if self._level:
            axis = max(titled + 4.4, top + above)
            start, bottom = self._level_lead(axis)
        else:
            lead_bottom = self._standing_lead(titled + 1.4)
            axis = lead_bottom + max(above, 2.0)
            self._circuit.wire((4.0, lead_bottom), (4.0, axis))
            start, bottom = (4.0, axis), axis + 2.0
        return max(bottom, self._strip_and_car(start, axis, rise))

    def _rise(self) -> float:
        """Return how far above the axis a relay brings the factory's end of an opened wire [mm]."""
        part = self._row.part
        return FACTORY_RISE if part is not None and part.pattern == "relay changes over" else 0.0

    def _strip_above(self) -> float:
        part = self._row.part
        relay = part is not None and part.pattern.startswith("relay")
        return relay_above(part, small=self._look.small) if part is not None and relay else 3.4

    def _flag(self, x: float, y: float, wide: float, high: float) -> None:
        """Draw a printed lead label: a flag with cut corners at its right end."""
        self._circuit.marks.append(
            path(
                f"M{x:.2f} {y:.2f}H{x + wide - 2:.2f}L{x + wide:.2f} {y + 2:.2f}V{y + high - 2:.2f}"
                f"L{x + wide - 2:.2f} {y + high:.2f}H{x:.2f}Z",
                fill=PAPER, stroke_width=0.5,
            )
        )  # fmt: skip
        # A label is never cut short: a long one is set smaller, and then closer.
        room, size = wide - 3.2, self._look.plain
        size = max(min(size, size * room * _BOLD / max(text_width(self._row.label, size, bold=True), 0.1)), 2.6)
        middle = (x + (wide - 2) / 2, y + high / 2 - size * 0.62)
        with self._circuit.group("label"):
            self._circuit.line(*middle, self._row.label, size, room, bold=True, anchor="middle")

    def _level_lead(self, axis: float) -> tuple[Point, float]:
        """Draw pin and lead of a level row; return the lead's end and where the words below it end."""
        circuit, row, look = self._circuit, self._row, self._look
        circuit.pin_box("kit pin", 0.4, axis - 3, row.kit_pin, {"": (14.4, axis)}, wide=14.0)
        bottom = circuit.write(0.4, axis + 3.8, row.terminal, look.small, 22.0, most=4)
        circuit.wire((14.4, axis), (16.0, axis))
        ends = {"kit": (16.0, axis), "car": (_LEAD_END, axis)}
        with circuit.sign("lead", (16.0, axis - 3.0, _LEAD_END - 16.0, 6.0), ends):
            if row.lead_colour:
                circuit.marks += swatch_marks(Area(16.0, axis - 2, 10.0, 4.0), row.lead_colour, row.lead_stripe)
            circuit.marks.append(line(26.0 if row.lead_colour else 16.0, axis, _LEAD_END, axis, 0.6))
            self._flag(27.0, axis - 3.0, _LEAD_END - 27.6, 6.0)
            below = self._lead_words(24.0, axis + 3.8, 31.0, bold=False)
        return (_LEAD_END, axis), max(bottom, below)

    def _lead_words(self, x: float, y: float, room: float, *, bold: bool) -> float:
        """Write the lead's colours and its size and length; return where they end."""
        row, size = self._row, self._look.small
        if row.lead_colour:
            with self._circuit.group("colour"):
                said = coded(row.lead_colour, row.lead_stripe, self._say)
                y = self._circuit.write(x, y, said, size, room * (_BOLD if bold else 1), bold=bold, most=3)
        with self._circuit.group("size"):
            return self._circuit.write(x, y, _size_words(row), size, room, most=4)

    def _standing_lead(self, top: float) -> float:
        """Draw pin and lead of a row for a phone; return where the lead ends."""
        circuit, row, look = self._circuit, self._row, self._look
        circuit.pin_box("kit pin", 0.4, top, row.kit_pin, {"": (4.0, top + 6.0)}, wide=15.0)
        circuit.write(17.5, top + 0.6, row.terminal, look.plain, self._width - 19, most=1)
        y = top + 7.4
        circuit.wire((4.0, top + 6.0), (4.0, y))
        flag = min(max(text_width(row.label, look.plain, bold=True) + 7, 20.0), 50.0)
        high = 12.0
        with circuit.sign("lead", (1.8, y, 7.2 + flag, high), {"kit": (4.0, y), "car": (4.0, y + high)}):
            if row.lead_colour:
                lying = Area(4.0 - high / 2, y + high / 2 - 2.2, high, 4.4)
                piece = "".join(swatch_marks(lying, row.lead_colour, row.lead_stripe))
                circuit.marks.append(f'<g transform="rotate(90 4 {y + high / 2:g})">{piece}</g>')
            else:
                circuit.marks.append(line(4.0, y, 4.0, y + high, 0.6))
            circuit.marks.append(line(6.2, y + high / 2, 9.0, y + high / 2, 0.3))
            self._flag(9.0, y + high / 2 - 3.4, flag, 6.8)
            x = 9.0 + flag + 2.0
            room = self._width - x - 1.0
            below = self._lead_words(x, y, room, bold=True)
        end = max(y + high + 1.0, below)
        circuit.wire((4.0, y + high), (4.0, end))
        return end

    def _strip_and_car(self, start: Point, axis: float, rise: float) -> float:
        """Draw fuse, part and the car's wire from the end of the lead on; return where they end."""
        circuit, row, look = self._circuit, self._row, self._look
        x, bottom = start[0], axis
        at: Point = start
        if row.fuse:
            middle = x + _GAP + FUSE_LENGTH / 2 + 2.0
            with circuit.group("fused"):
                left, right = add_fuse(circuit, middle, axis)
                bottom = circuit.write(middle, axis + 2.2, row.fuse, look.small, 18.0, anchor="middle", most=2)
            circuit.wire(at, left)
            at, x = right, right[0] + 3.0
        part = row.part
        factory: Point | None = None
        if part is not None and part.pattern.startswith("relay"):
            end = add_relay(circuit, x + _GAP, axis, part, small=look.small)
            circuit.wire(at, (x + _GAP, axis))
            at, factory, bottom = end.driven, end.factory, max(bottom, end.bottom)
        elif part is not None and part.pattern != "diode cuts in":
            at, bottom = self._series(part, at, x, axis, bottom)
        x = max(x, at[0])
        column = max(_COLUMN_AT if self._level else 0.0, x + COLUMN_HALF + (7.0 if row.joint == "plug" else _GAP))
        joint_x = column - COLUMN_HALF - 6.0 if row.joint == "plug" else column
        circuit.wire(at, (joint_x, axis))
        if factory is not None:
            circuit.wire(factory, (column, factory[1]))
        ends = add_column(circuit, column, axis, row, rise=rise)
        return max(bottom, self._car_words(column, ends.top, ends.bottom, bottom))

    def _series(self, part: WiringPart, at: Point, x: float, axis: float, bottom: float) -> tuple[Point, float]:
        """Put a diode or a resistor into the lead; return where the lead goes on and where the words end."""
        circuit, look = self._circuit, self._look
        middle = x + _GAP + 1.0 + PART_LENGTH / 2
        first = len(circuit.boxes)
        with circuit.group("part"):
            if part.pattern == "resistor":
                left, right = add_resistor(circuit, middle, axis)
            else:
                unbanded, banded = add_diode(circuit, middle, axis, band="right" if part.positive else "left")
                left, right = (unbanded, banded) if part.positive else (banded, unbanded)
            with circuit.group("name"):
                below = circuit.write(left[0] - 1.0, axis + 3.0, part.name, look.small, 24.0, most=4)
        circuit.wire(at, left)
        # The car's wire stands behind the name: it goes on downwards.
        behind = max([right[0], *(box.x + box.width for box in circuit.boxes[first:])])
        circuit.wire(right, (behind, axis))
        return (behind, axis), max(bottom, below)

    def _car_words(self, column: float, top: float, foot: float, strip_bottom: float) -> float:
        """Write what the car's wire is, beside it where there is room, else below."""
        circuit, row, look, words = self._circuit, self._row, self._look, self._words
        x = column + COLUMN_HALF + 1.6
        if self._width - x >= _TEXT_LEAST:
            y = top
        else:
            x, y = 0.0, max(foot, strip_bottom) + 1.0
        room = self._width - x - 0.5

        def say(kind: str, said: str, *, bold: bool = False, size: float = look.small, most: int = 6) -> None:
            nonlocal y
            with circuit.group(kind):
                y = circuit.write(x, y, said, size, room * (_BOLD if bold else 1), bold=bold, most=most)

        with circuit.group("car"):
            if row.wire_colour:
                say("colour", coded(row.wire_colour, row.wire_stripe, self._say), bold=True, size=look.plain, most=2)
            if row.unproven:
                say("unproven", f"? {words['unproven']}", bold=True, most=2)
            say("for", row.function)
            say("plug", _pin(row, words))
            say("joint", _joint_words(row, words))
            if row.part is not None and row.part.pattern == "diode cuts in":
                say("name", row.part.name)
            if row.joint in _NOTED:
                say("note", row.note)
        return max(y, foot)
