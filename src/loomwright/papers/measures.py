"""Quantities of the papers, in the units the shop wants, each with its trace."""

from dataclasses import dataclass
from math import ceil, floor

from loomwright.documents.shop import Shop
from loomwright.papers.quantity import Quantity
from loomwright.units import awg_from_area_mm2, foot_from_m, inch_from_mm, mm2_from_awg

__all__ = [
    "AFTER_JOINING_MIN", "FIRST_TIME", "LEAST_WAIT_MIN", "METER_V", "Measures", "amperes", "down", "hours", "minutes",
    "ohms", "up", "volts",
]  # fmt: skip

METER_V = 0.1
"""What a hand meter may be off on its 20 V range [V]; common practice."""

LEAST_WAIT_MIN = 10.0
"""Stand-in where the car's own waiting time is not on record: the longest of the makers' manuals at hand [min]."""

FIRST_TIME = 2.0
"""A first-timer takes about this many times as long as a practised person; common practice of the trade."""

AFTER_JOINING_MIN = 60.0
"""Learning, the tests of part E with a whole run time, tying up and closing [min]; common practice."""


_AWG_HAIR = 0.2


def up(value: float, step: float = 0.1) -> float:
    """Return a value rounded up to a step; a hair above a step counts as the step."""
    return round(ceil(round(value / step, 6)) * step, 6)


def down(value: float, step: float = 0.1) -> float:
    """Return a value rounded down to a step."""
    return round(floor(round(value / step, 6)) * step, 6)


def volts(value: float, trace: str) -> Quantity:
    """Return volts with one digit, as a hand meter is read."""
    return Quantity(value=value, unit="V", trace=trace, digits=1)


def ohms(value: float, trace: str) -> Quantity:
    """Return ohms with one digit, and without one where no hand meter shows tenths any more."""
    return Quantity(value=value, unit="Ω", trace=trace, digits=1 if value < 100 else 0)


def amperes(value: float, trace: str) -> Quantity:
    """Return the rating of a fuse as it is printed on it: 30 A, but 7.5 A."""
    return Quantity(value=value, unit="A", trace=trace, digits=0 if float(value).is_integer() else 1)


def minutes(value: float, trace: str) -> Quantity:
    """Return minutes."""
    return Quantity(value=value, unit="min", trace=trace, digits=0 if float(value).is_integer() else 1)


def hours(value_min: float, trace: str) -> Quantity:
    """Return a time in minutes as half hours, rounded up, or as minutes below one hour."""
    if value_min < 60:
        return minutes(up(value_min, 5.0), trace)
    value = up(value_min / 60, 0.5)
    return Quantity(value=value, unit="h", trace=trace, digits=0 if value.is_integer() else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Lengths and wire sizes in the units of a shop."""

    shop: Shop

    def length(self, length_m: float, trace: str) -> Quantity:
        """Return a length in millimetres or inches, rounded to what one reads off a tape: 10 mm, or a whole inch."""
        mm = length_m * 1000
        if self.shop.length_unit == "inch":
            return Quantity(value=round(inch_from_mm(mm)), unit="in", trace=trace, digits=0)
        return Quantity(value=round(mm, -1), unit="mm", trace=trace, digits=0)

    def size(self, area_mm2: float, trace: str) -> Quantity:
        """Return a conductor size in mm2, or as the even gauge number that is sold and not thinner.

        A hair is forgiven: 0.5 mm2 counts as 20 AWG (0.518 mm2). The number alone is what one asks for at the counter,
        so no mm2 stands beside it.

        References
        ----------
        ASTM B258, by `loomwright.units.awg_from_area_mm2`. That even numbers are the ones sold for cars, and that a
        thicker wire always does: common practice.
        """
        if self.shop.wire_unit == "AWG":
            gauge = 2 * floor((awg_from_area_mm2(area_mm2) + _AWG_HAIR) / 2)
            return Quantity(value=gauge, unit="AWG", trace=trace, digits=0)
        return Quantity(value=area_mm2, unit="mm²", trace=trace, digits=1 if round(area_mm2, 1) == area_mm2 else 2)

    def converted(self, quantity: Quantity) -> Quantity:
        """Return a quantity of another room's sentence in the shop's units; what is neither length nor size stays.

        Lengths in metres become feet: a sentence of another room speaks of runs of wire, not of what is cut.
        """
        metric = self.shop.wire_unit == "mm2"
        if quantity.unit == "mm²" and not metric:
            return self.size(quantity.value, quantity.trace)
        if quantity.unit == "AWG" and metric:
            return self.size(round(mm2_from_awg(int(quantity.value)), 2), quantity.trace)
        if quantity.unit == "m" and self.shop.length_unit == "inch":
            feet = foot_from_m(quantity.value)
            return Quantity(value=feet, unit="ft", trace=quantity.trace, digits=0 if feet >= 10 else 1)
        return quantity
