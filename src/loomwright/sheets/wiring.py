"""The wiring plan as drawings: one for each way from a kit terminal to a vehicle wire, so that a page may break.

Wide rows run from the kit at the left to the vehicle at the right; narrow ones, for a phone, run from top to bottom.
Everything written is broken to the width of its column and every column has its own room, so nothing lies over another.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.papers.blocks import Quantity
from loomwright.papers.drawings import WiringPart, WiringPlan, WiringRow
from loomwright.sheets.lettering import Box, Letters, break_lines
from loomwright.sheets.part_symbols import (
    RELAY_ABOVE,
    RELAY_HEIGHT,
    RELAY_WIDTH,
    SMALL_WIDTH,
    coil_fed_by_kit,
    joint_marks,
    relay_marks,
    small_marks,
)
from loomwright.sheets.svg import PAPER, drawing, line, path, text_width
from loomwright.sheets.wire_swatch import Area, colour_codes, colour_words, swatch_marks
from loomwright.sheets.words import quantity_words, words_for

__all__ = ["WIDE_FROM_MM", "DrawnRow", "draw_wiring"]

WIDE_FROM_MM = 150.0
_SIZE, _SMALL, _LARGE = 3.4, 2.9, 4.2
_LEFT_WIDTH = 52.0  # of the kit side of a level row
_JOINT_ROOM = 8.5  # from a joint's middle to the end of the word below it
_WIRELESS = frozenset({"bus", "setting", "none"})


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnRow:
    """One row of the plan: the drawing, the boxes everything on it takes, and the row in words."""

    svg: str
    boxes: tuple[Box, ...]
    words: str


def draw_wiring(plan: WiringPlan, *, width_mm: float, language: str = "en") -> tuple[DrawnRow, ...]:
    """Draw a wiring plan row by row.

    Parameters
    ----------
    plan
        The rows, in the order of the paper.
    width_mm
        Width of each drawing [mm]; from 150 a row lies level, below it stands upright (80 at least).
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
    words = words_for(language)
    drawn = []
    for previous, row in zip((None, *plan.rows), plan.rows, strict=False):
        fresh = previous is None or previous.task != row.task
        layout = _wide if width_mm >= WIDE_FROM_MM and _fits_level(row, width_mm) else _narrow
        letters, height = layout(row, width_mm, words, with_task=fresh)
        title = _row_words(row, words)
        frame = [line(0, 0.2, width_mm, 0.2, 0.35 if fresh else 0.15)]
        drawn.append(
            DrawnRow(
                svg=drawing(width_mm, height, title, [*frame, *letters.marks]),
                boxes=tuple(letters.boxes),
                words=title,
            )
        )
    return tuple(drawn)


def _row_words(row: WiringRow, words: Mapping[str, str]) -> str:
    """Return a row as one sentence, for those who cannot see the drawing."""
    kit = " ".join(
        filter(None, (row.terminal, row.label and f"[{row.label}]", _colour(row.lead_colour, row.lead_stripe)))
    )
    steps = [kit, *(part.name for part in row.parts), words[f"joint {row.joint}"]]
    if row.joint not in _WIRELESS:
        wire = _colour(row.wire_colour, row.wire_stripe)
        steps.append(", ".join(filter(None, (wire, _pin(row), row.function, row.place))))
    sentence = f"{_task(row, words)}: {' → '.join(filter(None, steps))}"
    return f"{sentence}. {row.note}" if row.note else sentence


def _task(row: WiringRow, words: Mapping[str, str]) -> str:
    return f"{row.task}, {words[row.end]}" if row.end else row.task


def _pin(row: WiringRow) -> str:
    return f"{row.plug} / {row.pin}" if row.plug and row.pin else row.plug or row.pin


def _colour(colour: str, stripe: str | None) -> str:
    return colour_words(colour, stripe) if colour else ""


def _coded(colour: str, stripe: str | None) -> str:
    """The words first, then the codes of the standard."""
    codes = colour_codes(colour, stripe)
    return f"{colour_words(colour, stripe)} ({codes})" if codes else colour_words(colour, stripe)


def _is_relay(part: WiringPart) -> bool:
    return part.pattern.startswith("relay")


def _widths(row: WiringRow) -> list[float]:
    return [RELAY_WIDTH if _is_relay(part) else SMALL_WIDTH for part in row.parts]


def _fits_level(row: WiringRow, width: float) -> bool:
    """Tell whether the parts of a row find room side by side; a longer chain stands upright on any page."""
    return sum(_widths(row)) + 2.0 * (len(row.parts) + 1) <= _joint_x(width) - _JOINT_ROOM - _LEFT_WIDTH


def _joint_x(width: float) -> float:
    return width * 0.655


def _tag(letters: Letters, x: float, axis: float, width: float, label: str) -> None:
    """Draw a printed lead label: a flag with cut corners at its right end."""
    half = 3.0
    letters.marks.append(
        path(
            f"M{x} {axis - half}H{x + width - 2}L{x + width} {axis - 1}V{axis + 1}L{x + width - 2} {axis + half}H{x}Z",
            fill=PAPER,
            stroke_width=0.5,
        )
    )
    letters.write(x + (width - 2) / 2, axis - 2.05, label, _SIZE, width - 4, bold=True, anchor="middle", most=1)


def _size_words(size: Quantity | None) -> str:
    return quantity_words(size) if size else ""


def _wide(row: WiringRow, width: float, words: Mapping[str, str], *, with_task: bool) -> tuple[Letters, float]:
    letters = Letters()
    top = 1.6
    joint_x = _joint_x(width)
    right = joint_x + 9.0
    if with_task:
        top = letters.write(0, top, row.task, _LARGE, width - 4, bold=True, most=2)
    if row.end:
        top = letters.write(0, top, words[row.end], _SIZE, width - 4)
    above = RELAY_HEIGHT - 4 + RELAY_ABOVE if any(map(_is_relay, row.parts)) else 6.5
    if row.wire_colour:  # its name stands above the wire
        above = max(above, 3.2 + _name_height(row, width - right - 0.5))
    axis = top + (4.0 if row.joint in _WIRELESS else above + 0.5)
    bottom = _kit_side(letters, row, axis, _LEFT_WIDTH)
    if row.joint in _WIRELESS:
        bottom = max(bottom, _without_wire(letters, row, axis, x=_LEFT_WIDTH, width=width, words=words))
    else:
        bottom = max(bottom, _parts_level(letters, row, axis, _LEFT_WIDTH, joint_x))
        letters.take(joint_x - 3, axis - 5.4, 6, 10.8, row.joint, *joint_marks(joint_x, axis, row))
        bottom = max(
            bottom,
            letters.write(joint_x, axis + 6, words[f"joint {row.joint}"], _SMALL, 16.5, anchor="middle", most=3),
        )
        bottom = max(bottom, _vehicle_side(letters, row, axis, x=right, width=width, words=words))
    if row.note and row.joint not in _WIRELESS:
        bottom = letters.write(0, bottom + 0.5, row.note, _SIZE, width - 2, most=5)
    return letters, bottom + 2.4


def _kit_side(letters: Letters, row: WiringRow, axis: float, width: float) -> float:
    tag = 28.0
    ends = [axis + 4.0]
    if row.label:
        _tag(letters, 0.4, axis, tag, row.label)
    ends.append(letters.write(0.4, axis + 4.0 if row.label else axis - 2.2, row.terminal, _SMALL, tag, most=4))
    if row.lead_colour:
        letters.marks.append(line(tag + 0.4, axis, width, axis, 0.6))
        letters.take(
            tag + 3,
            axis - 2,
            16,
            4,
            "swatch",
            *swatch_marks(Area(tag + 3, axis - 2, 16, 4), row.lead_colour, row.lead_stripe),
        )
        below = letters.write(tag + 2, axis + 3.2, _coded(row.lead_colour, row.lead_stripe), _SMALL, 21.5, most=3)
        ends.append(letters.write(tag + 2, below, _size_words(row.size), _SMALL, 21.5, most=1))
    elif row.joint not in _WIRELESS:
        letters.marks.append(line(tag + 0.4, axis, width, axis, 0.6))
    return max(ends)


def _parts_level(letters: Letters, row: WiringRow, axis: float, start: float, end: float) -> float:
    """Put the parts into the wire from start to the joint at end, evenly; return where their names end."""
    widths = _widths(row)
    room = (end - _JOINT_ROOM - start - sum(widths)) / (len(widths) + 1)
    bottom = axis + 4
    x = start
    for part, wide in zip(row.parts, widths, strict=True):
        letters.marks.append(line(x, axis, x + room, axis, 0.35))
        x += room
        bottom = max(bottom, _part(letters, part, x, axis, wide))
        x += wide
    letters.marks.append(line(x, axis, end, axis, 0.35))
    return bottom


def _part(letters: Letters, part: WiringPart, x: float, axis: float, wide: float) -> float:
    if _is_relay(part):
        letters.take(x, axis - 16, wide, RELAY_HEIGHT, part.pattern, *relay_marks(x, axis, part))
        if part.fed_from:
            at = x + 14 if coil_fed_by_kit(part) else x  # above the end that is fed
            letters.write(at, axis - 16 - RELAY_ABOVE + 0.5, part.fed_from, _SMALL, wide + 20 - (at - x), most=1)
        return letters.write(x + wide / 2, axis + 4.6, part.name, _SMALL, wide, anchor="middle", most=3)
    letters.take(x, axis - 2.5, wide, 5, part.pattern, *small_marks(x, axis, part))
    return letters.write(x + wide / 2, axis + 3.2, part.name, _SMALL, wide + 2, anchor="middle", most=3)


def _vehicle_side(
    letters: Letters, row: WiringRow, axis: float, *, x: float, width: float, words: Mapping[str, str]
) -> float:
    room = width - x - 0.5
    below = axis - 3.0
    if row.wire_colour:
        letters.marks.append(line(x - 9, axis, x, axis, 0.35))
        letters.take(
            x,
            axis - 2.2,
            20,
            4.4,
            "swatch",
            *swatch_marks(Area(x, axis - 2.2, 20, 4.4), row.wire_colour, row.wire_stripe),
        )
        letters.write(
            x,
            axis - 3.2 - _name_height(row, room),
            _coded(row.wire_colour, row.wire_stripe),
            _SIZE,
            room,
            bold=True,
            most=2,
        )
        below = axis + 3.2
    if row.unproven:
        below = letters.write(x, below, f"? {words['unproven']}", _SMALL, room, bold=True, most=2)
    for words_of_line in filter(None, (row.function, _pin(row), row.place)):
        below = letters.write(x, below, words_of_line, _SMALL, room, most=3)
    return below


def _name_height(row: WiringRow, room: float) -> float:
    """Height of the vehicle wire's colour, broken into at most two lines [mm]."""
    words = _coded(row.wire_colour, row.wire_stripe)
    return _SIZE * 1.25 * len(break_lines(words, room, _SIZE, bold=True, most=2))


def _without_wire(
    letters: Letters, row: WiringRow, axis: float, *, x: float, width: float, words: Mapping[str, str]
) -> float:
    """What stands where there is no wire: a sign, its word, and what serves instead."""
    letters.take(x, axis - 2.6, 8, 5.2, row.joint, *joint_marks(x + 4, axis, row))
    below = letters.write(x + 11, axis - 2.2, words[f"joint {row.joint}"], _SIZE, width - x - 12, bold=True, most=2)
    return letters.write(x + 11, below, row.note or row.function, _SIZE, width - x - 12, most=6)


def _narrow(row: WiringRow, width: float, words: Mapping[str, str], *, with_task: bool) -> tuple[Letters, float]:
    """Stand the row upright: the wire runs down the left, what it passes is written beside it."""
    letters = Letters()
    size, axis, x = 4.0, 6.0, 12.5
    room = width - x - 1.0
    y = 2.0
    if with_task:
        y = letters.write(0, y, row.task, 5.0, width - 2, bold=True, most=2)
    if row.end:
        y = letters.write(0, y, words[row.end], size, width - 2)
    y += 1.0
    if row.label:
        tag = min(max(text_width(row.label, 4.0, bold=True) + 7, 22), room)
        _tag(letters, 0.4, y + 3.4, tag + x - 0.8, row.label)
        y += 7.4
    start = y
    y = letters.write(x, y, row.terminal, size, room, most=3)
    if row.lead_colour:
        letters.take(
            x, y + 0.8, 24, 5, "swatch", *swatch_marks(Area(x, y + 0.8, 24, 5), row.lead_colour, row.lead_stripe)
        )
        letters.write(x + 26, y + 1.0, _size_words(row.size), size, room - 26, most=1)
        y = letters.write(x, y + 6.4, _coded(row.lead_colour, row.lead_stripe), size, room, bold=True, most=2)
    if row.joint in _WIRELESS:
        letters.take(axis - 4, y + 1, 8, 5.2, row.joint, *joint_marks(axis, y + 3.6, row))
        y = letters.write(x, y + 1.2, words[f"joint {row.joint}"], size, room, bold=True, most=2)
        y = letters.write(x, y, row.note or row.function, size, room, most=8)
        return letters, y + 3
    for part in row.parts:
        y += 1.5
        if _is_relay(part):
            middle = y + RELAY_ABOVE + 16
            letters.marks.append(path(f"M{axis} {start}V{middle}H{x}"))
            letters.marks.append(path(f"M{x + RELAY_WIDTH} {middle}H{x + RELAY_WIDTH + 2}V{middle + 6}H{axis}"))
            letters.take(x, middle - 16, RELAY_WIDTH, RELAY_HEIGHT, part.pattern, *relay_marks(x, middle, part))
            if part.fed_from:
                letters.write(x, y, part.fed_from, size, room, most=1)
            side = letters.write(x + RELAY_WIDTH + 4, middle - 14, part.name, size, room - RELAY_WIDTH - 4, most=5)
            y = max(middle + 7, side)
            start = middle + 6
        else:
            middle = y + SMALL_WIDTH / 2
            letters.marks.append(line(axis, start, axis, y, 0.35))
            symbol = "".join(small_marks(axis - SMALL_WIDTH / 2, middle, part))
            letters.take(
                axis - 2.5, y, 5, SMALL_WIDTH, part.pattern, f'<g transform="rotate(90 {axis} {middle})">{symbol}</g>'
            )
            y = max(letters.write(x, middle - 2.5, part.name, size, room, most=3), y + SMALL_WIDTH)
            start = middle + SMALL_WIDTH / 2
    y += 2.0
    middle = y + 5.4
    letters.marks.append(path(f"M{axis} {start}V{middle}"))
    turned = "".join(joint_marks(axis, middle, row))
    letters.take(axis - 5.4, y, 10.8, 10.8, row.joint, f'<g transform="rotate(90 {axis} {middle})">{turned}</g>'
                 if row.joint != "ground point" else turned)  # fmt: skip
    y = letters.write(x, middle - 2.5, words[f"joint {row.joint}"], size, room, most=2)
    if row.wire_colour:
        letters.take(
            x, y + 0.8, 24, 5, "swatch", *swatch_marks(Area(x, y + 0.8, 24, 5), row.wire_colour, row.wire_stripe)
        )
        y = letters.write(x, y + 6.4, _coded(row.wire_colour, row.wire_stripe), size, room, bold=True, most=2)
    if row.unproven:
        y = letters.write(x, y, f"? {words['unproven']}", size, room, bold=True, most=2)
    for words_of_line in filter(None, (row.function, _pin(row), row.place, row.note)):
        y = letters.write(x, y, words_of_line, size, room, most=6)
    return letters, max(y, middle + 6) + 3
