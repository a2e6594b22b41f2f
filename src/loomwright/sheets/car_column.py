"""The car's side of the drawn circuit: one of its wires from the plug to the harness, and how the kit meets it.

The wire stands upright. Its end at the plug is a box with the pin's number, its end in the car's harness an arrow with
a piece of the wire in its colours. Of an opened wire the end that brings the car's own signal stands above.
"""

from dataclasses import dataclass

from loomwright.papers.drawings import WiringRow
from loomwright.sheets.part_symbols import (
    add_arrow,
    add_contact_pair,
    add_diode,
    add_ground,
    add_switch,
    add_wire_piece,
)
from loomwright.sheets.schematic import Circuit
from loomwright.sheets.svg import circle
from loomwright.sheets.wire_swatch import Area

__all__ = ["COLUMN_HALF", "ColumnEnds", "add_column", "column_above"]

COLUMN_HALF = 7.0
"""How far a column reaches to each side of its wire [mm]."""

_PLUG_WIDE, _PLUG_HIGH = 13.0, 6.0
_PIECE = 7.5  # length of the piece of wire
_HARNESS = _PIECE + 1.2 + 2.2
_T_REACH = 6.5  # from where the kit meets a T's wire to the outer end of its contacts
_CUT_GAP = 3.2  # of a wire that is open with nothing between
_DIODE = 8.5  # from the joint up to the factory's end where a diode stands between


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnEnds:
    """How far a column reaches [mm]."""

    top: float
    bottom: float


def _is_t(row: WiringRow) -> bool:
    return row.joint in {"T tapped", "T interrupted"}


def _spread(row: WiringRow, rise: float) -> float:
    """Return how far above the joint the upper end begins: 0 of a wire that is whole [mm]."""
    if not row.opened:
        return 0.0
    if row.part is not None and row.part.pattern == "diode cuts in":
        return _DIODE
    return rise or _CUT_GAP


def _plug_above(row: WiringRow) -> bool:
    return row.factory_side != "harness side"


def column_above(row: WiringRow, rise: float) -> float:
    """Return how far a column reaches above the axis; `rise` is where a relay brings the factory's end [mm]."""
    match row.joint:
        case "tap" | "cut in" | "T tapped" | "T interrupted":
            end = _PLUG_HIGH + 1.6 if _plug_above(row) else _HARNESS + 1.6
            return _spread(row, rise) + (_T_REACH if _is_t(row) else 1.4) + end
        case "plug":
            return 4.0
        case _:
            return 3.0


def add_column(circuit: Circuit, x: float, axis: float, row: WiringRow, *, rise: float) -> ColumnEnds:
    """Add the column at x; the kit's wire has been drawn up to (x, axis)."""
    match row.joint:
        case "tap" | "cut in" | "T tapped" | "T interrupted":
            return _wire_column(circuit, x, axis, row, rise=rise)
        case "plug":
            return _socket(circuit, x, axis, row)
        case "added part":
            upper, lower = add_switch(circuit, x, axis + 6.0)
            circuit.wire((x, axis), upper)
            circuit.wire(lower, (x, axis + 12.0))
            add_ground(circuit, x, axis + 12.0)
            return ColumnEnds(top=axis - 3.0, bottom=axis + 15.0)
        case _:
            with circuit.sign("ring", (x - 1.6, axis + 2.4, 3.2, 3.2), {"1": (x, axis + 2.4), "2": (x, axis + 5.6)}):
                circuit.marks += [circle(x, axis + 4.0, 1.6), circle(x, axis + 4.0, 0.6)]
            circuit.wire((x, axis), (x, axis + 2.4))
            circuit.wire((x, axis + 5.6), (x, axis + 7.4))
            add_ground(circuit, x, axis + 7.4)
            return ColumnEnds(top=axis - 3.0, bottom=axis + 10.4)


def _plug_end(circuit: Circuit, x: float, y: float, row: WiringRow, *, up: bool) -> float:
    """Add the plug's end of a wire that leaves it at y; return where it ends."""
    top = y - _PLUG_HIGH if up else y
    circuit.pin_box("car pin", x - _PLUG_WIDE / 2, top, row.pin, {"": (x, y)}, wide=_PLUG_WIDE)
    return top if up else top + _PLUG_HIGH


def _harness_end(circuit: Circuit, x: float, y: float, row: WiringRow, *, up: bool) -> float:
    """Add the harness's end of a wire from y on, with a piece of it in its colours; return where it ends."""
    if not row.wire_colour:
        add_arrow(circuit, x, y, down=not up)
        return y - 2.2 if up else y + 2.2
    top = y - _PIECE if up else y
    upper, lower = add_wire_piece(circuit, Area(x - 2.2, top, 4.4, _PIECE), row.wire_colour, row.wire_stripe)
    near = upper if up else lower
    far = (x, near[1] - 1.2 if up else near[1] + 1.2)
    circuit.wire(near, far)
    add_arrow(circuit, x, far[1], down=not up)
    return far[1] - 2.2 if up else far[1] + 2.2


def _wire_column(circuit: Circuit, x: float, axis: float, row: WiringRow, *, rise: float) -> ColumnEnds:
    spread = _spread(row, rise)
    dash = "1.6 1" if row.unproven else None
    upper, lower = axis - spread, axis  # where the two ends of the wire are joined
    reach = _T_REACH if _is_t(row) else 0.0
    above, below = upper - (reach or 1.4), lower + (reach or 1.4)
    if _is_t(row):
        circuit.frame(x - 5.4, above + 1.5, 10.8, below - above - 3.0, dash=None)
        first, inner_top = add_contact_pair(circuit, x, above + 1.5, upright=True)
        inner_bottom, last = add_contact_pair(circuit, x, below - 1.5, upright=True)
        top, bottom = first[1] - 1.6, last[1] + 1.6
        circuit.wire((x, top), first, width=0.9, dash=dash)
        circuit.wire(last, (x, bottom), width=0.9, dash=dash)
    else:
        top, bottom = above - 1.6, below + 1.6
        inner_top, inner_bottom = (x, top), (x, bottom)
    if row.opened:
        circuit.wire(inner_top, (x, upper), width=0.9, dash=None if _is_t(row) else dash)
        circuit.wire((x, lower), inner_bottom, width=0.9, dash=None if _is_t(row) else dash)
        _between(circuit, x, axis, row, upper)
    else:
        circuit.wire(inner_top, inner_bottom, width=0.9, dash=None if _is_t(row) else dash)
    circuit.dot((x, axis), 1.0)
    plug_above = _plug_above(row)
    ends = (_plug_end if plug_above else _harness_end, _harness_end if plug_above else _plug_end)
    return ColumnEnds(top=ends[0](circuit, x, top, row, up=True), bottom=ends[1](circuit, x, bottom, row, up=False))


def _between(circuit: Circuit, x: float, axis: float, row: WiringRow, upper: float) -> None:
    """Add what stands between the two ends of an opened wire: a diode, or nothing but the gap."""
    part = row.part
    if part is not None and part.pattern == "diode cuts in":
        middle = (upper + axis) / 2 - 0.6
        plain, banded = add_diode(circuit, x, middle, band="bottom", half=2.6)
        circuit.wire((x, upper), plain)
        circuit.wire(banded, (x, axis))
    elif part is None:
        with circuit.sign("open-end", (x - 0.8, upper, 1.6, 1.6), {"": (x, upper)}):
            circuit.marks.append(circle(x, upper + 0.8, 0.7))
    else:
        circuit.dot((x, upper), 0.75)


def _socket(circuit: Circuit, x: float, axis: float, row: WiringRow) -> ColumnEnds:
    """Add a free socket of the car's into which a plug of the kit goes."""
    left, right = add_contact_pair(circuit, x - _PLUG_WIDE / 2 - 3.5, axis, upright=False)
    circuit.wire((x - COLUMN_HALF - 6.0, axis), left)
    circuit.wire(right, (x - _PLUG_WIDE / 2, axis))
    circuit.pin_box(
        "car pin", x - _PLUG_WIDE / 2, axis - 3.0, row.pin,
        {"1": (x - _PLUG_WIDE / 2, axis), "2": (x, axis + 3.0)}, wide=_PLUG_WIDE,
    )  # fmt: skip
    circuit.wire((x, axis + 3.0), (x, axis + 4.6))
    return ColumnEnds(top=axis - 3.0, bottom=_harness_end(circuit, x, axis + 4.6, row, up=False))
