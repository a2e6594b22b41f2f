"""Symbols of a wiring plan: relay, diode, resistor, fuse, and the ways a kit lead meets a vehicle wire.

Drawn after the shapes common in IEC 60617 diagrams: a coil and a resistor are boxes, a fuse is a box with its wire
through it, a diode is a triangle with its band where the current leaves. Relay terminals have their DIN 72552 numbers.
"""

from loomwright.papers.drawings import WiringPart, WiringRow
from loomwright.sheets.svg import INK, PAPER, circle, line, path, rect, text

__all__ = ["RELAY_ABOVE", "RELAY_HEIGHT", "RELAY_WIDTH", "SMALL_WIDTH", "joint_marks", "relay_marks", "small_marks"]

RELAY_WIDTH = 34.0
RELAY_HEIGHT = 20.0
RELAY_ABOVE = 9.0  # room above the box for what feeds it
SMALL_WIDTH = 14.0
_AXIS = 16.0  # where the wire enters and leaves, below the top of the box


def _ground(x: float, y: float) -> list[str]:
    """Three shortening bars below a wire's end."""
    return [line(x - half, y + drop, x + half, y + drop, 0.5) for half, drop in ((2.4, 0.0), (1.5, 1.1), (0.6, 2.2))]


def relay_marks(x: float, axis: float, part: WiringPart) -> list[str]:
    """Return a relay whose coil lead comes in at the left and whose contact leaves at the right, both at `axis`.

    A coil switched to ground has its other end, and the contact, at the feed; a coil fed by the kit has both at ground.
    The diode across the coil has its band on the positive end.
    """
    top = axis - _AXIS
    grounds = part.pattern == "relay grounds"
    coil, pole, rail = x + 10.0, x + 26.0, top - 3.0
    upper, lower = ("85", "86") if grounds else ("86", "85")
    marks = [
        rect(x + 1, top, RELAY_WIDTH - 2, RELAY_HEIGHT, stroke_dasharray="1.6 1", rx=0.6),
        path(f"M{x} {axis}H{coil}V{axis - 4}"),
        rect(coil - 3.2, axis - 9, 6.4, 5, fill=PAPER, stroke_width=0.5),
        path(f"M{coil} {axis - 9}V{rail}H{pole}V{axis - 9.5}"),
        # The contact stands open: the drawing is of the relay at rest.
        path(f"M{pole} {axis - 9.5}L{pole - 2.8} {axis - 4.6}", stroke_width=0.5),
        circle(pole, axis - 9.5, 0.5, fill=INK),
        circle(pole, axis - 4.0, 0.5, fill=INK),
        path(f"M{pole} {axis - 4}V{axis}H{x + RELAY_WIDTH}"),
        line(coil + 3.2, axis - 6.5, pole - 1.8, axis - 6.5, 0.25, stroke_dasharray="1 0.8"),
    ]
    side = x + 4.4
    marks.append(path(f"M{coil} {axis - 10.6}H{side}V{axis - 2.4}H{coil}", stroke_width=0.25))
    if grounds:
        marks.append(path(f"M{side - 1.2} {axis - 7.6}H{side + 1.2}L{side} {axis - 5.4}Z", fill=INK, stroke_width=0.2))
        marks.append(line(side - 1.3, axis - 5.3, side + 1.3, axis - 5.3, 0.35))
    else:
        marks.append(path(f"M{side - 1.2} {axis - 5.4}H{side + 1.2}L{side} {axis - 7.6}Z", fill=INK, stroke_width=0.2))
        marks.append(line(side - 1.3, axis - 7.7, side + 1.3, axis - 7.7, 0.35))
    marks.extend(circle(coil, y, 0.45, fill=INK) for y in (axis - 10.6, axis - 2.4))
    for words, tx, ty in (
        (upper, coil + 1.0, axis - 11.4),
        (lower, coil + 1.0, axis - 0.9),
        ("30", pole + 1.0, axis - 11.4),
        ("87", pole + 1.2, axis - 1.0),
    ):
        marks.append(text(tx, ty, words, 2.4))
    if grounds:
        marks.extend(_ground(pole + 6, rail - 3.4))
        marks.append(path(f"M{pole} {rail}V{rail - 5}H{pole + 6}V{rail - 3.4}"))
    else:
        marks.append(circle(pole, rail, 0.6, fill=INK))
        marks.append(path(f"M{pole} {rail}V{rail - 2}"))
    return marks


def small_marks(x: float, axis: float, part: WiringPart) -> list[str]:
    """Return a diode, resistor or fuse in its wire, `SMALL_WIDTH` long, from left (kit) to right (vehicle)."""
    left, right, middle = x + 3.5, x + SMALL_WIDTH - 3.5, x + SMALL_WIDTH / 2
    leads = [line(x, axis, left, axis), line(right, axis, x + SMALL_WIDTH, axis)]
    if part.pattern == "resistor":
        return [*leads, rect(left, axis - 1.5, right - left, 3, fill=PAPER, stroke_width=0.5)]
    if part.pattern == "fuse":
        return [
            *leads,
            rect(left, axis - 1.5, right - left, 3, fill=PAPER, stroke_width=0.5),
            line(left, axis, right, axis, 0.3),
        ]
    tip, tail = (middle + 2, middle - 2) if part.band == "vehicle" else (middle - 2, middle + 2)
    return [
        line(x, axis, x + SMALL_WIDTH, axis),
        path(f"M{tail} {axis - 2.2}V{axis + 2.2}L{tip} {axis}Z", fill=INK),
        line(tip, axis - 2.4, tip, axis + 2.4, 0.6),
    ]


def joint_marks(x: float, axis: float, row: WiringRow) -> list[str]:
    """Return how the lead that comes in from the left meets the vehicle at x: a symbol about 8 mm high."""
    dash = "1.4 1" if row.unproven else None
    through = {"stroke_width": 0.9, "stroke_dasharray": dash}
    match row.joint:
        case "tap":
            return [line(x, axis - 4, x, axis + 4, 0.9, stroke_dasharray=dash), circle(x, axis, 1.0, fill=INK)]
        case "T tapped":
            return [
                rect(x - 2.4, axis - 4, 4.8, 8, fill=PAPER, rx=0.6),
                line(x, axis - 5.4, x, axis + 5.4, 0.9, stroke_dasharray=dash),
                circle(x, axis, 1.0, fill=INK),
            ]
        case "T interrupted":
            ends = (axis - 5.4, axis) if row.end == "switch side" else (axis, axis + 5.4)
            other = (axis + 2.2, axis + 5.4) if row.end == "switch side" else (axis - 5.4, axis - 2.2)
            return [
                rect(x - 2.4, axis - 4, 4.8, 8, fill=PAPER, rx=0.6),
                path(f"M{x} {ends[0]}V{ends[1]}", **through),
                path(f"M{x} {other[0]}V{other[1]}", **through),
                path(f"M{x - 2.4} {axis}H{x}"),
                circle(x, axis, 0.6, fill=INK),
            ]
        case "plug":
            return [path(f"M{x - 2.4} {axis}H{x - 1}M{x + 1.6} {axis - 2.4}A2.4 2.4 0 0 0 {x + 1.6} {axis + 2.4}"),
                    circle(x, axis, 1.1, fill=INK)]  # fmt: skip
        case "ground point":
            return [path(f"M{x - 2.4} {axis}H{x}V{axis + 1.5}"), *_ground(x, axis + 1.5)]
        case "added part":
            return [
                rect(x - 2.4, axis - 2.4, 4.8, 4.8, fill=PAPER),
                path(f"M{x - 1.2} {axis + 1}L{x + 1.4} {axis - 1.4}"),
            ]
        case "bus":
            wave = "".join(f"q1.25 {'-' if i % 2 else ''}2.2 2.5 0" for i in range(3))
            return [path(f"M{x - 3.7} {axis - 0.8}{wave}"), path(f"M{x - 3.7} {axis + 0.8}{wave}")]
        case _:
            return [
                path(f"M{x - 2} {axis - 2}L{x + 2} {axis + 2}M{x - 2} {axis + 2}L{x + 2} {axis - 2}", stroke_width=0.5)
            ]
