"""The pins one lands on by a slip: one place out, the wrong end, row or side, upside down, or counting wires only.

The same slips are what the fault finder simulates when a kit's lead sits in a wrong pin.
"""

from dataclasses import dataclass
from typing import Literal

from loomwright.documents.faces import FaceShape, find_pin, view

__all__ = [
    "Miscount",
    "mirrored",
    "miscounts",
    "one_off",
    "other_row",
    "skipping_empty",
    "upside_down",
    "wrong_end",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Miscount:
    """A pin one lands on by one common slip."""

    how: Literal["one off", "wrong end", "other row", "wrong side", "upside down", "skipped empty places"]
    pin: str


def _at(shape: FaceShape, pin: str, flip_x: float, flip_y: float) -> tuple[str, ...]:
    cavities = view(shape, "mating")
    find_pin(shape, pin, "mating", 0)
    here = next(c for c in cavities if c.pin == pin)
    x, y = here.x * flip_x, here.y * flip_y
    hit = [c for c in cavities if max(abs(c.x - x), abs(c.y - y)) < c.size / 2 - 1e-6]
    return tuple(c.pin for c in hit if c.pin != pin)


def mirrored(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return the pin one lands on by reading a picture of the wrong side, latch up; empty if it is the same place."""
    return _at(shape, pin, -1.0, 1.0)


def upside_down(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return the pin one lands on with the latch down instead of up; empty if it is the same place."""
    return _at(shape, pin, -1.0, -1.0)


def wrong_end(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return the pin one lands on by counting from the other end of the same line."""
    ordered, number, index = find_pin(shape, pin, "mating", 0)
    other = ordered[number][::-1][index]
    return () if other == pin else (other,)


def other_row(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return the pins at the same count in the lines next to this one, counted from either end."""
    ordered, number, index = find_pin(shape, pin, "mating", 0)
    back = len(ordered[number]) - 1 - index
    found: list[str] = []
    for beside in (number - 1, number + 1):
        if 0 <= beside < len(ordered):
            line = ordered[beside]
            found += [line[index]] if index < len(line) else []
            found += [line[::-1][back]] if back < len(line) else []
    return tuple(dict.fromkeys(found))


def one_off(shape: FaceShape, pin: str) -> tuple[str, ...]:
    """Return the pins one place before and after in the same line."""
    ordered, number, index = find_pin(shape, pin, "mating", 0)
    line = ordered[number]
    return line[max(index - 1, 0) : index] + line[index + 1 : index + 2]


def skipping_empty(shape: FaceShape, pin: str, occupied: frozenset[str]) -> tuple[str, ...]:
    """Return the pins one lands on by counting wires instead of places, from the nearer end (both if equally near)."""
    ordered, number, index = find_pin(shape, pin, "mating", 0)
    line = ordered[number]
    back = len(line) - 1 - index
    ends = [line] if index < back else [line[::-1]] if back < index else [line, line[::-1]]
    found: list[str] = []
    for walked in ends:
        wires = [other for other in walked if other in occupied]
        place = walked.index(pin)
        found += [wires[place]] if place < len(wires) else []
    return tuple(other for other in dict.fromkeys(found) if other != pin)


def miscounts(shape: FaceShape, pin: str, occupied: frozenset[str] = frozenset()) -> tuple[Miscount, ...]:
    """Return every pin one lands on by one common slip, with the slip; the commonest slips first."""
    found = [Miscount(how="one off", pin=other) for other in one_off(shape, pin)]
    found += [Miscount(how="wrong side", pin=other) for other in mirrored(shape, pin)]
    found += [Miscount(how="wrong end", pin=other) for other in wrong_end(shape, pin)]
    found += [Miscount(how="other row", pin=other) for other in other_row(shape, pin)]
    found += [Miscount(how="upside down", pin=other) for other in upside_down(shape, pin)]
    found += [Miscount(how="skipped empty places", pin=other) for other in skipping_empty(shape, pin, occupied)]
    return tuple(found)
