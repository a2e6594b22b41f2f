"""A relay of the drawn circuit: coil with its diode, contact, the fuse in its feed, where feed and ground are taken.

The kit's lead comes in at the left and the wire to the car leaves at the right, both at one height, the axis.
"""

from dataclasses import dataclass

from loomwright.papers.drawings import WiringPart
from loomwright.sheets.part_symbols import (
    FUSE_LENGTH,
    add_changeover,
    add_coil,
    add_contact,
    add_diode,
    add_fuse,
    add_ground,
)
from loomwright.sheets.schematic import Circuit, Point
from loomwright.sheets.svg import line

__all__ = ["FACTORY_RISE", "RelayEnds", "add_relay", "relay_above", "relay_width"]

_HALF = 9.0  # of the frame's height
_BELOW = 4.0  # from the frame to the axis
_OVER = 3.4  # from the frame up to a wire that passes over it
FACTORY_RISE = 2 * _HALF + _BELOW + _OVER
"""How far above the axis a changeover brings the wire to the factory's end [mm]."""
_COIL, _CLOSES, _CHANGES = 12.0, 27.0, 30.0  # from the left
_PIN_WIDE = 14.0
_RISE = 14.5  # from the frame up to the pin at which the feed is taken


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayEnds:
    """Where a relay's wires leave: to the driven end of the car's wire, and of a changeover to the factory's end."""

    driven: Point
    factory: Point | None
    bottom: float  # where the names below it end [mm]


def _changes(part: WiringPart) -> bool:
    return part.pattern == "relay changes over"


def relay_width(part: WiringPart) -> float:
    """Return how much of the axis a relay takes [mm]."""
    return 42.0 if _changes(part) else 37.0


def relay_above(part: WiringPart, *, small: float) -> float:
    """Return how far a relay reaches above the axis [mm]."""
    frame = 2 * _HALF + _BELOW
    return frame + (_RISE + 7.0 + small * 1.25 if part.feed else 4.6 if _changes(part) or part.positive else 4.0)


def add_relay(circuit: Circuit, x: float, axis: float, part: WiringPart, *, small: float) -> RelayEnds:
    """Add a relay that begins at x and whose lead has been drawn up to there."""
    with circuit.group("relay"):
        return _relay(circuit, x, axis, part, small=small)


def _relay(circuit: Circuit, x: float, axis: float, part: WiringPart, *, small: float) -> RelayEnds:
    bottom = axis - _BELOW
    top, middle = bottom - 2 * _HALF, bottom - _HALF
    coil_x, contact_x = x + _COIL, x + (_CHANGES if _changes(part) else _CLOSES)
    frame_left, frame_right = x + 2.4, contact_x + (9.6 if _changes(part) else 7.0)
    circuit.frame(frame_left, top, frame_right - frame_left, 2 * _HALF)

    upper, lower = add_coil(circuit, coil_x, middle)
    _coil_diode(circuit, coil_x, middle)
    circuit.marks.append(_link(coil_x + 3.2, contact_x - 1.4, middle))
    names_from = axis + 1.4

    # The kit's lead: to the lower end of the coil where it pulls to ground, to the upper one where it feeds.
    grounded: list[float] = []
    if part.positive:
        circuit.wire((x, axis), (x + 0.8, axis), (x + 0.8, top - _OVER), (coil_x, top - _OVER), upper)
        circuit.wire(lower, (coil_x, bottom + 0.8))
        grounded.append(coil_x)
    else:
        circuit.wire((x, axis), (coil_x, axis), lower)
    factory = None
    out = (x + relay_width(part), axis)
    if part.pattern == "relay grounds":
        first, second = add_contact(circuit, contact_x, middle, "87", "30")
        circuit.wire(second, (contact_x, bottom + 0.8))
        grounded.append(contact_x)
        circuit.wire(first, (contact_x, top - _OVER), (frame_right + 1.4, top - _OVER), (frame_right + 1.4, axis), out)
    elif _changes(part):
        makes, rests, common = add_changeover(circuit, contact_x, middle)
        circuit.wire(common, (contact_x, axis), out)
        factory = (rests[0], top - _OVER)
        circuit.wire(rests, factory)
        first = makes
    else:
        first, second = add_contact(circuit, contact_x, middle, "30", "87")
        circuit.wire(second, (contact_x, axis), out)
    if part.feed:
        to_coil = upper if not part.positive else None
        to_contact = first if part.pattern != "relay grounds" else None
        if to_coil or to_contact:
            _feed(circuit, part, top, to_coil, to_contact, small=small)
    for at in grounded:
        add_ground(circuit, at, bottom + 0.8, part.ground)
        names_from = max(names_from, bottom + 7.6)
    with circuit.group("name"):
        end = circuit.write(x + 2.4, names_from, part.name, small, relay_width(part) - 2.6, most=4)
    return RelayEnds(driven=out, factory=factory, bottom=end)


def _link(x1: float, x2: float, y: float) -> str:
    return line(x1, y, x2, y, 0.25, stroke_dasharray="1 0.8")


def _coil_diode(circuit: Circuit, x: float, y: float) -> None:
    """Add the diode across a coil, its band at the positive end."""
    beside = x - 6.4
    plain, banded = add_diode(circuit, beside, y, band="top", half=1.9, arm=1.4)
    circuit.wire((x, y - 4.6), (beside, y - 4.6), banded)
    circuit.wire((x, y + 4.6), (beside, y + 4.6), plain)
    circuit.dot((x, y - 4.6), 0.55)
    circuit.dot((x, y + 4.6), 0.55)


def _feed(
    circuit: Circuit, part: WiringPart, top: float, coil: Point | None, contact: Point | None, *, small: float
) -> None:
    """Add the pin at which the feed is taken, and the wires from there to the coil and by a fuse to the contact."""
    x = (contact or coil or (0.0, 0.0))[0]
    taken = (x, top - _RISE)
    if contact is not None and part.feed_fuse:
        with circuit.group("fused"):
            above, below = add_fuse(circuit, x, top - 1.6 - FUSE_LENGTH / 2, upright=True)
            high = 2.5 * small
            circuit.write(x - 2.2, top - 5.9 - high / 2, part.feed_fuse, small, 12.2, anchor="end", most=2)
        circuit.wire(contact, below)
        circuit.wire(above, taken)
    else:
        circuit.wire(contact or coil or taken, taken)
    if coil is not None and contact is not None:
        level = top - 12.2
        circuit.wire(coil, (coil[0], level), (x, level))
        circuit.dot((x, level), 0.55)
    circuit.pin_box("kit pin", x - _PIN_WIDE / 2, taken[1] - 6.0, part.feed, {"": taken}, wide=_PIN_WIDE)
    circuit.line(x, taken[1] - 6.4 - small * 1.25, part.feed_label, small, 24.0, anchor="middle")
