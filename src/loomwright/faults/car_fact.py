"""One fact of the whole car written otherwise: what decides whether a kit may be fitted at all, and how it starts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Literal

from loomwright.documents.car import Car
from loomwright.faults.measured import measured

__all__ = ["CarFact", "CarOtherwise", "car_otherwise"]

CarFact = Literal[
    "gearbox", "park interlock", "immobiliser", "alternator", "idle speed", "starter current", "battery rating",
]  # fmt: skip

_SLOWER = 0.75
"""An idle speed this much lower comes near the speed of a fast crank."""

_THIRSTIER = 1.5
"""A starter of the next size, or one in cold oil, takes about so much more: common practice."""

_WEAKER = 0.6
"""The smallest battery that fits a tray has about so much of the rating of the largest: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarOtherwise:
    """One fact, as the document has it and as it might be, and the car in which it is so."""

    fact: CarFact
    written: str
    instead: str
    car: Car


_INSTEAD: Mapping[CarFact, tuple[str, Mapping[str, str]]] = MappingProxyType({
    "gearbox": ("gearbox", {"automatic": "manual"}),
    "park interlock": ("park_interlock", {"start circuit": "shifter lock only", "computer": "shifter lock only"}),
    "immobiliser": (
        "immobiliser",
        {
            "none": "transponder", "resistor key": "transponder", "cylinder sensor": "transponder",
            "transponder": "bus code", "proximity": "bus code", "bus code": "transponder",
        },
    ),
    "alternator": ("alternator", {"plain": "smart", "smart": "plain"}),
})  # fmt: skip
"""Fact -> its trait, and what it might be instead: what is most often mistaken for it, or would harm most."""

_FACTORS: Mapping[CarFact, tuple[str, float, str]] = MappingProxyType({
    "idle speed": ("idle_rpm", _SLOWER, "rpm"),
    "starter current": ("starter_a", _THIRSTIER, "A"),
    "battery rating": ("battery_cca_a", _WEAKER, "A"),
})  # fmt: skip


def _changed(car: Car, trait: str, value: object) -> Car:
    return replace(car, traits=car.traits.model_copy(update={trait: value}))


def car_otherwise(car: Car) -> Iterator[CarOtherwise]:
    """Yield each fact of the whole car that its document states, as it might be instead."""
    for fact, (trait, instead) in _INSTEAD.items():
        written: Any = getattr(car.traits, trait)
        if written in instead:
            other = instead[written]
            yield CarOtherwise(fact=fact, written=written, instead=other, car=_changed(car, trait, other))
    for fact, (trait, factor, unit) in _FACTORS.items():
        value: Any = getattr(car.traits, trait)
        if value is not None:
            less = factor * value
            yield CarOtherwise(
                fact=fact, written=measured(value, unit), instead=measured(less, unit, ".0f"),
                car=_changed(car, trait, less),
            )  # fmt: skip
