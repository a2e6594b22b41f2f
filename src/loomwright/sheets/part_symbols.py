"""Signs of the drawn circuit, after the shapes common in IEC 60617 diagrams, in our own drawing.

A coil and a resistor are boxes, a fuse is a box with its wire through it, a diode is a triangle with its band where the
current leaves; contacts are drawn at rest. Each sign tells the circuit the place it takes and the ends it has.
"""

from loomwright.sheets.schematic import Circuit, Point
from loomwright.sheets.svg import INK, PAPER, circle, line, path, rect
from loomwright.sheets.wire_swatch import Area, swatch_marks

__all__ = [
    "FUSE_LENGTH", "PART_LENGTH", "add_arrow", "add_changeover", "add_coil", "add_contact", "add_contact_pair",
    "add_diode", "add_fuse", "add_ground", "add_mark", "add_resistor", "add_switch", "add_wire_piece",
]  # fmt: skip

FUSE_LENGTH = 9.0
PART_LENGTH = 9.0
_NUMBER = 2.4  # height of the numbers of a relay's ends
_NUMBERED = 4.6  # width of such a number


def _number(circuit: Circuit, x: float, top: float, words: str, *, before: bool = False) -> None:
    circuit.write(x, top, words, _NUMBER, _NUMBERED, anchor="end" if before else "start", most=1)


def _turned(marks: list[str], x: float, y: float, *, upright: bool) -> list[str]:
    return [f'<g transform="rotate(90 {x:g} {y:g})">{"".join(marks)}</g>'] if upright else marks


def add_fuse(circuit: Circuit, x: float, y: float, *, upright: bool = False) -> tuple[Point, Point]:
    """Add a fuse around a point; return its ends."""
    half = FUSE_LENGTH / 2
    ends = ((x, y - half), (x, y + half)) if upright else ((x - half, y), (x + half, y))
    box = (x - 1.5, y - half, 3.0, FUSE_LENGTH) if upright else (x - half, y - 1.5, FUSE_LENGTH, 3.0)
    with circuit.sign("fuse", box, {"1": ends[0], "2": ends[1]}):
        marks = [
            rect(x - half, y - 1.5, FUSE_LENGTH, 3.0, fill=PAPER, stroke_width=0.5),
            line(x - half, y, x + half, y, 0.3),
        ]
        circuit.marks.extend(_turned(marks, x, y, upright=upright))
    return ends


def add_resistor(circuit: Circuit, x: float, y: float) -> tuple[Point, Point]:
    """Add a resistor around a point; return its ends."""
    half = PART_LENGTH / 2
    with circuit.sign("resistor", (x - half, y - 1.5, PART_LENGTH, 3.0), {"1": (x - half, y), "2": (x + half, y)}):
        circuit.marks.append(rect(x - half, y - 1.5, PART_LENGTH, 3.0, fill=PAPER, stroke_width=0.5))
    return (x - half, y), (x + half, y)


def add_diode(
    circuit: Circuit, x: float, y: float, *, band: str, half: float = 3.0, arm: float = 2.2
) -> tuple[Point, Point]:
    """Add a diode around a point, its band at the 'right', 'left', 'bottom' or 'top'; return (without, with band)."""
    upright = band in {"top", "bottom"}
    sign = 1.0 if band in {"right", "bottom"} else -1.0
    tip, tail = sign * half * 0.65, -sign * half * 0.65
    plain: Point = (x, y - sign * half) if upright else (x - sign * half, y)
    banded: Point = (x, y + sign * half) if upright else (x + sign * half, y)
    box = (x - arm, y - half, 2 * arm, 2 * half) if upright else (x - half, y - arm, 2 * half, 2 * arm)
    with circuit.sign("diode", box, {"A": plain, "K": banded}):
        marks = [
            line(x - half, y, x + half, y, 0.35),
            path(f"M{x + tail:.2f} {y - arm:.2f}V{y + arm:.2f}L{x + tip:.2f} {y:.2f}Z", fill=INK, stroke_width=0.2),
            line(x + tip, y - arm, x + tip, y + arm, 0.6),
        ]
        circuit.marks.extend(_turned(marks, x, y, upright=upright))
    return plain, banded


def add_coil(circuit: Circuit, x: float, y: float) -> tuple[Point, Point]:
    """Add a relay's coil around a point, its positive end 86 up and 85 down; return (86, 85)."""
    upper, lower = (x, y - 2.6), (x, y + 2.6)
    with circuit.sign("coil", (x - 3.2, y - 2.6, 6.4, 5.2), {"86": upper, "85": lower}):
        circuit.marks.append(rect(x - 3.2, y - 2.6, 6.4, 5.2, fill=PAPER, stroke_width=0.5))
        _number(circuit, x + 0.8, y - 8.4, "86")
        _number(circuit, x + 0.8, y + 5.4, "85")
    return upper, lower


def add_contact(circuit: Circuit, x: float, y: float, upper: str, lower: str) -> tuple[Point, Point]:
    """Add a contact that closes, open as it is at rest, with the numbers of its ends; return (upper, lower)."""
    ends = ((x, y - 4.0), (x, y + 4.0))
    with circuit.sign("contact", (x - 3.2, y - 4.0, 4.0, 8.0), {upper: ends[0], lower: ends[1]}):
        circuit.marks += [
            line(x, y - 4.0, x, y - 2.6),
            path(f"M{x:.2f} {y + 4:.2f}V{y + 2.6:.2f}L{x - 2.9:.2f} {y - 2.2:.2f}", stroke_width=0.5),
        ]
        _number(circuit, x + 0.8, y - 8.4, upper)
        _number(circuit, x + 0.8, y + 5.4, lower)
    return ends


def add_changeover(circuit: Circuit, x: float, y: float) -> tuple[Point, Point, Point]:
    """Add a changeover contact, its arm at rest on 87a; return its ends 87, 87a and 30."""
    makes, rests, common = (x - 3.0, y - 4.0), (x + 3.0, y - 4.0), (x, y + 4.0)
    with circuit.sign("changeover", (x - 4.0, y - 4.0, 8.0, 8.0), {"87": makes, "87a": rests, "30": common}):
        circuit.marks += [
            line(makes[0], y - 4.0, makes[0], y - 2.2),
            line(rests[0], y - 4.0, rests[0], y - 2.2),
            path(f"M{x:.2f} {y + 4:.2f}V{y + 2.6:.2f}L{x + 3.2:.2f} {y - 2.4:.2f}", stroke_width=0.5),
        ]
        _number(circuit, makes[0] - 0.8, y - 8.4, "87", before=True)
        _number(circuit, rests[0] + 0.8, y - 8.4, "87a")
        _number(circuit, x + 0.8, y + 5.4, "30")
    return makes, rests, common


def add_ground(circuit: Circuit, x: float, y: float, at_pin: str = "") -> Point:
    """Add the sign of ground below a point, three bars that grow shorter; return that point.

    `at_pin` is written below it: the pin of the kit whose lead is the way to ground.
    """
    with circuit.sign("ground", (x - 2.4, y, 4.8, 2.6), {"": (x, y)}):
        circuit.marks += [
            line(x - half, y + drop, x + half, y + drop, 0.5) for half, drop in ((2.4, 0.2), (1.5, 1.2), (0.6, 2.2))
        ]
        circuit.line(x, y + 3.1, at_pin, 2.6, 13.0, anchor="middle")
    return x, y


def add_contact_pair(circuit: Circuit, x: float, y: float, *, upright: bool) -> tuple[Point, Point]:
    """Add a pin in its socket, as two halves of a plug meet; return its ends."""
    ends = ((x, y - 1.5), (x, y + 1.5)) if upright else ((x - 1.5, y), (x + 1.5, y))
    with circuit.sign("pin-in-socket", (x - 1.5, y - 1.5, 3.0, 3.0), {"1": ends[0], "2": ends[1]}):
        marks = [
            path(f"M{x + 1.5:.2f} {y:.2f}H{x + 0.6:.2f}M{x + 1.4:.2f} {y - 1.3:.2f}A1.5 1.5 0 0 0 {x + 1.4:.2f} "
                 f"{y + 1.3:.2f}", stroke_width=0.45),
            line(x - 1.5, y, x - 0.1, y, 0.9),
        ]  # fmt: skip
        circuit.marks.extend(_turned(marks, x, y, upright=upright))
    return ends


def add_switch(circuit: Circuit, x: float, y: float) -> tuple[Point, Point]:
    """Add a switch that stands open, around a point; return its upper and lower end."""
    with circuit.sign("switch", (x - 3.2, y - 4.0, 4.0, 8.0), {"1": (x, y - 4.0), "2": (x, y + 4.0)}):
        circuit.marks += [
            line(x, y - 4.0, x, y - 2.6),
            circle(x, y - 2.1, 0.5),
            path(f"M{x:.2f} {y + 4:.2f}V{y + 2.6:.2f}L{x - 2.9:.2f} {y - 2.2:.2f}", stroke_width=0.5),
        ]
    return (x, y - 4.0), (x, y + 4.0)


def add_wire_piece(
    circuit: Circuit, area: Area, colour: str, stripe: str | None, *, kind: str = "wire-piece"
) -> tuple[Point, Point]:
    """Add an upright piece of a wire with its colours; return its upper and lower end."""
    x, y, wide, high = area
    ends = ((x + wide / 2, y), (x + wide / 2, y + high))
    lying = Area(x + wide / 2 - high / 2, y + high / 2 - wide / 2, high, wide)
    with circuit.sign(kind, (x, y, wide, high), {"1": ends[0], "2": ends[1]}):
        marks = swatch_marks(lying, colour, stripe)
        circuit.marks.extend(_turned(marks, x + wide / 2, y + high / 2, upright=True))
    return ends


def add_arrow(circuit: Circuit, x: float, y: float, *, down: bool) -> Point:
    """Add the sign that a wire goes on into the car's harness, its tip away from a point; return that point."""
    tip = 2.2 if down else -2.2
    with circuit.sign("to-the-harness", (x - 1.5, min(y, y + tip), 3.0, 2.2), {"": (x, y)}):
        circuit.marks.append(path(f"M{x - 1.3:.2f} {y + tip / 4:.2f}L{x:.2f} {y + tip:.2f}L{x + 1.3:.2f} "
                                  f"{y + tip / 4:.2f}M{x:.2f} {y:.2f}V{y + tip:.2f}", stroke_width=0.5))  # fmt: skip
    return x, y


def add_mark(circuit: Circuit, x: float, y: float, kind: str) -> None:
    """Add what stands where there is no wire: two waves for the bus, a slider for a setting, a cross for nothing."""
    with circuit.sign(kind, (x - 4.0, y - 2.6, 8.0, 5.2), {}):
        if kind == "bus":
            wave = "".join(f"q1.25 {'-' if i % 2 else ''}2.2 2.5 0" for i in range(3))
            circuit.marks += [path(f"M{x - 3.7:.2f} {y + d:.2f}{wave}") for d in (-0.8, 0.8)]
        elif kind == "setting":
            circuit.marks += [line(x - 3.6, y, x + 3.6, y, 0.35), rect(x - 0.6, y - 1.8, 2.4, 3.6, fill=PAPER)]
        else:
            circuit.marks.append(
                path(f"M{x - 2:.2f} {y - 2:.2f}L{x + 2:.2f} {y + 2:.2f}M{x - 2:.2f} {y + 2:.2f}L{x + 2:.2f} "
                     f"{y - 2:.2f}", stroke_width=0.5)
            )  # fmt: skip
