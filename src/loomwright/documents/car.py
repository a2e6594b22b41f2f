"""From a vehicle family and a choice on every axis to one Car without conditions."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import product
from types import MappingProxyType

from loomwright.documents.basis import LanguageCode, Translation, holds
from loomwright.documents.evidence import Evidence
from loomwright.documents.standing import Standing, standings
from loomwright.documents.vehicle import Axis, Circuit, GroundPoint, Hazard, Place, Plug, Segment, Traits, Vehicle

__all__ = ["Car", "Occupant", "ResolveError", "expand", "resolve", "variants"]


class ResolveError(ValueError):
    """A choice that does not name one buildable car; the text says which axis and what may be chosen."""


_FAR_STEPS = 100
# A year is easily taken for the next one; a body or an engine is not: it counts as so many years.


@dataclass(frozen=True, slots=True, kw_only=True)
class Occupant:
    """What sits in one pin: the circuit, and the wire that arrives at the harness side (None inside a part)."""

    circuit: str
    colour: str | None
    stripe: str | None
    area_mm2: float | None

    @property
    def words(self) -> str:
        """Colour as a person says it: 'brown/white', or 'no wire' where the pin is fed inside the part."""
        if self.colour is None:
            return "no wire"
        return f"{self.colour}/{self.stripe}" if self.stripe else self.colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    """One buildable car: everything here holds for it, nothing downstream sees an axis."""

    vehicle: str
    name: str  # the first badge
    names: tuple[str, ...]  # every badge under which the car is sold, the first one first
    choice: Mapping[str, str]
    choice_words: tuple[tuple[str, str, str], ...]  # (axis id, value, what the buyer sees)
    traits: Traits
    places: Mapping[str, Place]
    plugs: Mapping[str, Plug]
    grounds: tuple[GroundPoint, ...]
    circuits: Mapping[str, Circuit]
    pins: Mapping[str, Occupant]  # 'plug/pin' -> occupant
    hazards: tuple[Hazard, ...]
    standing: Mapping[str, Standing]  # circuit id -> evidence standing
    translations: Mapping[LanguageCode, tuple[Translation, ...]] = field(default_factory=dict)  # as of the vehicle

    def pins_of(self, circuit: str) -> tuple[str, ...]:
        """Return the pins a circuit passes through, in path order from the source."""
        seen: dict[str, None] = {}
        for segment in self.circuits[circuit].path:
            for end in (segment.from_, segment.to):
                if "/" in end:
                    seen[end] = None
        return tuple(seen)

    def empty_pins(self, plug: str) -> tuple[str, ...]:
        """Return the places of a plug in which no circuit sits."""
        rows = self.plugs[plug].face.rows
        return tuple(pin for row in rows for pin in row if pin is not None and f"{plug}/{pin}" not in self.pins)


def expand(axis: Axis, written: Sequence[str]) -> tuple[str, ...]:
    """Return the axis values a condition names; 'A to B' of an ordered axis covers what lies between."""
    order = [v.value for v in axis.values]
    out: list[str] = []
    for text in written:
        first, _, last = text.partition(" to ")
        if last and axis.ordered and first in order and last in order:
            out.extend(order[order.index(first) : order.index(last) + 1])
        else:
            out.append(text)
    return tuple(out)


def _expanded(vehicle: Vehicle, condition: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    if not condition:  # most have none, and a family has a thousand of them times its cars
        return {}
    axes = {axis.id: axis for axis in vehicle.axes}
    unknown = [axis for axis in condition if axis not in axes]
    if unknown:
        raise ResolveError(f"a condition names the axis {unknown[0]!r}, which {vehicle.id} does not have")
    return {axis: expand(axes[axis], values) for axis, values in condition.items()}


def variants(vehicle: Vehicle) -> Iterator[dict[str, str]]:
    """Yield every buildable choice, in the order of the axes."""
    never = [_expanded(vehicle, condition) for condition in vehicle.not_built]
    names = [axis.id for axis in vehicle.axes]
    for values in product(*([v.value for v in axis.values] for axis in vehicle.axes)):
        choice = dict(zip(names, values, strict=True))
        if not any(holds(condition, choice) for condition in never):
            yield choice


def _check_choice(vehicle: Vehicle, choice: Mapping[str, str]) -> None:
    axes = {axis.id: axis for axis in vehicle.axes}
    for axis_id, value in choice.items():
        if axis_id not in axes:
            known = ", ".join(axes) or "none"
            raise ResolveError(f"{vehicle.id} has no axis {axis_id!r}; its axes are: {known}")
        allowed = [v.value for v in axes[axis_id].values]
        if value not in allowed:
            raise ResolveError(f"{axis_id}={value} is not known for {vehicle.id}; choose one of: {', '.join(allowed)}")
    missing = [axis for axis in axes if axis not in choice]
    if missing:
        wanted = "; ".join(f"{a} is one of {', '.join(v.value for v in axes[a].values)}" for a in missing)
        raise ResolveError(f"the choice does not settle {', '.join(missing)}: {wanted}")
    for condition in vehicle.not_built:
        if holds(_expanded(vehicle, condition), choice):
            rule = " with ".join(f"{axis} {' or '.join(values)}" for axis, values in condition.items())
            near = _nearest_built(vehicle, choice)
            raise ResolveError(
                f"{vehicle.id} was never built as {_choice_words(choice)}: there is no {rule}"
                + ("" if near is None else f"; the nearest that was built is {_choice_words(near)}")
            )


def _choice_words(choice: Mapping[str, str]) -> str:
    return ", ".join(f"{axis}={value}" for axis, value in choice.items())


def _nearest_built(vehicle: Vehicle, choice: Mapping[str, str]) -> dict[str, str] | None:
    """Return the buildable choice that differs in the fewest axes; of those, the one with the nearest years."""

    def away(built: Mapping[str, str]) -> tuple[int, int]:
        differing = [axis for axis in vehicle.axes if built[axis.id] != choice[axis.id]]
        steps = 0
        for axis in differing:
            order = [v.value for v in axis.values]
            steps += abs(order.index(built[axis.id]) - order.index(choice[axis.id])) if axis.ordered else _FAR_STEPS
        return len(differing), steps

    return min(variants(vehicle), key=away, default=None)


def _merge_traits(vehicle: Vehicle, choice: Mapping[str, str]) -> Traits:
    merged: dict[str, object] = {}
    for traits in vehicle.traits:
        if holds(_expanded(vehicle, traits.only), choice):
            merged.update(traits.model_dump(exclude={"only"}, exclude_none=True))
    return Traits.model_validate(merged)


def _wire_at(path: Sequence[Segment], pin: str) -> Segment | None:
    """Return the coloured wire that meets the pin; where two do, the one nearer the source."""
    return next((s for s in path if s.colour is not None and pin in (s.from_, s.to)), None)


def resolve(vehicle: Vehicle, choice: Mapping[str, str], evidence: Sequence[Evidence] = ()) -> Car:
    """Return the car that the choice names.

    Raises ResolveError where the choice leaves an axis open, names an unknown value, or was never built.
    """
    _check_choice(vehicle, choice)

    def kept(only: Mapping[str, tuple[str, ...]], but: Mapping[str, tuple[str, ...]]) -> bool:
        return holds(_expanded(vehicle, only), choice) and not (but and holds(_expanded(vehicle, but), choice))

    circuits = {c.id: c for c in vehicle.circuits if kept(c.only, c.except_)}
    pins: dict[str, Occupant] = {}
    for circuit in circuits.values():
        for segment in circuit.path:
            for end in (segment.from_, segment.to):
                if "/" in end:
                    wire = _wire_at(circuit.path, end)
                    pins[end] = Occupant(
                        circuit=circuit.id,
                        colour=wire.colour if wire else None,
                        stripe=wire.stripe if wire else None,
                        area_mm2=wire.area_mm2 if wire else None,
                    )
    badges = tuple(f"{badge.maker} {badge.model}" for badge in vehicle.names)
    ordered = {axis.id: choice[axis.id] for axis in vehicle.axes}
    cues = tuple(
        (axis.id, ordered[axis.id], next(v.cue for v in axis.values if v.value == ordered[axis.id]))
        for axis in vehicle.axes
    )
    return Car(
        vehicle=vehicle.id,
        name=badges[0],
        names=badges,
        choice=MappingProxyType(ordered),
        choice_words=cues,
        traits=_merge_traits(vehicle, choice),
        places=MappingProxyType({p.id: p for p in vehicle.places}),
        plugs=MappingProxyType({p.id: p for p in vehicle.plugs if kept(p.only, p.except_)}),
        grounds=tuple(g for g in vehicle.grounds if kept(g.only, {})),
        circuits=MappingProxyType(circuits),
        pins=MappingProxyType(pins),
        hazards=tuple(h for h in vehicle.hazards if kept(h.only, {})),
        standing=MappingProxyType(standings(vehicle.id, circuits, ordered, evidence, partial(_expanded, vehicle))),
        translations=vehicle.translations,
    )
