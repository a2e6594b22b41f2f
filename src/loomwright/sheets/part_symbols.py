"""Symbols of a wiring plan: relay, diode, resistor, fuse, and the ways a kit lead meets a vehicle wire.

Drawn after the shapes common in IEC 60617 diagrams: a coil and a resistor are boxes, a fuse is a box with its wire
through it, a diode is a triangle with its band where the current leaves. Relay terminals have their DIN 72552 numbers.
"""

from loomwright.papers.drawings import WiringPart, WiringRow
from loomwright.sheets.svg import INK, PAPER, circle, line, path, rect, text

__all__ = [
    "RELAY_ABOVE",
    "RELAY_HEIGHT",
    "RELAY_WIDTH",
    "SMALL_WIDTH",
    "coil_fed_by_kit",
    "joint_marks",
    "relay_marks",
    "small_marks",
]

RELAY_WIDTH = 34.0
RELAY_HEIGHT = 20.0
RELAY_ABOVE = 9.0  # room above the box for what feeds it
SMALL_WIDTH = 14.0
_AXIS = 16.0  # where the wire enters and leaves, below the top of the box


def _ground(x: float, y: float) -> list[str]:
    """Three shortening bars below a wire's end."""
    return [line(x - half, y + drop, x + half, y + drop, 0.5) for half, drop in ((2.4, 0.0), (1.5, 1.1), (0.6, 2.2))]


def coil_fed_by_kit(part: WiringPart) -> bool:
    """Tell whether a positive kit output feeds the coil; else a negative one pulls it to ground."""
    return part.pattern == "relay boosts" or (part.pattern == "relay grounds" and part.fed_from is None)


def relay_marks(x: float, axis: float, part: WiringPart) -> list[str]:
    """Return a relay whose coil lead comes in at the left and whose contact leaves at the right, both at `axis`.

    A coil fed by the kit has its other end at ground, one pulled to ground has it at the feed; the contact puts out the
    feed, or ground where the relay grounds. The diode across the coil has its band on the positive end.
    """
    top = axis - _AXIS
    fed_by_kit, grounds = coil_fed_by_kit(part), part.pattern == "relay grounds"
    coil, pole, side, rail = x + 10.0, x + 26.0, x + 4.4, top - 3.0
    upper, lower = ("85", "86") if fed_by_kit else ("86", "85")
    marks = [
        rect(x + 1, top, RELAY_WIDTH - 2, RELAY_HEIGHT, stroke_dasharray="1.6 1", rx=0.6),
        path(f"M{x} {axis}H{coil}V{axis - 4}"),
        rect(coil - 3.2, axis - 9, 6.4, 5, fill=PAPER, stroke_width=0.5),
        # The contact stands open: the drawing is of the relay at rest.
        path(f"M{pole} {axis - 9.5}L{pole - 2.8} {axis - 4.6}", stroke_width=0.5),
        circle(pole, axis - 9.5, 0.5, fill=INK),
        circle(pole, axis - 4.0, 0.5, fill=INK),
        path(f"M{pole} {axis - 4}V{axis}H{x + RELAY_WIDTH}"),
        line(coil + 3.2, axis - 6.5, pole - 1.8, axis - 6.5, 0.25, stroke_dasharray="1 0.8"),
        path(f"M{coil} {axis - 10.6}H{side}V{axis - 2.4}H{coil}", stroke_width=0.25),
        *(circle(coil, y, 0.45, fill=INK) for y in (axis - 10.6, axis - 2.4)),
        *_coil_diode(side, axis - 6.5, down=fed_by_kit),
        text(coil + 1.0, axis - 11.4, upper, 2.4),
        text(coil + 1.0, axis - 0.9, lower, 2.4),
        text(pole + 1.0, axis - 11.4, "30", 2.4),
        text(pole + 1.2, axis - 1.0, "87", 2.4),
    ]
    if fed_by_kit == grounds:  # both ends at the same: one rail for the two
        marks.append(path(f"M{coil} {axis - 9}V{rail}H{pole}V{axis - 9.5}"))
        marks.extend(_to_ground(pole, rail, 6) if grounds else _to_feed(pole, rail))
        return marks
    marks.append(path(f"M{coil} {axis - 9}V{rail}M{pole} {axis - 9.5}V{rail}"))
    marks.extend(_to_ground(coil, rail, -7) if fed_by_kit else _to_feed(coil, rail))
    marks.extend(_to_ground(pole, rail, 6) if grounds else _to_feed(pole, rail))
    return marks


def _to_ground(x: float, y: float, aside: float) -> list[str]:
    return [path(f"M{x} {y}V{y - 2}H{x + aside}V{y - 1}"), *_ground(x + aside, y - 1)]


def _to_feed(x: float, y: float) -> list[str]:
    return [circle(x, y, 0.6, fill=INK), path(f"M{x} {y}V{y - 2}")]


def _coil_diode(x: float, y: float, *, down: bool) -> list[str]:
    tip = 1.1 if down else -1.1
    return [
        path(f"M{x - 1.2} {y - tip}H{x + 1.2}L{x} {y + tip}Z", fill=INK, stroke_width=0.2),
        line(x - 1.3, y + tip * 1.1, x + 1.3, y + tip * 1.1, 0.35),
    ]


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
