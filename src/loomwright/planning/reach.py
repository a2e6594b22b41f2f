"""Where a kit wire can meet a circuit: pins that may be opened, through a T, a plug branch or with a loose lead."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.car import Car
from loomwright.documents.kit import Branch, Conductor, Lead
from loomwright.documents.vehicle import Circuit, Plug
from loomwright.planning.candidates import End, RuledOut, Situation, Task, pin_words
from loomwright.planning.groups import SUBSTITUTES
from loomwright.planning.loads import through_a
from loomwright.sentences import told

__all__ = ["airbag_near", "ends_for", "restraint_pins"]


def restraint_pins(car: Car, plug: str) -> tuple[str, ...]:
    """Return the pins of a plug in which a restraint wire sits."""
    return tuple(
        pin
        for circuit in car.circuits.values()
        if circuit.behaviour.template == "airbag wire" or circuit.function == "restraint"
        for pin in car.pins_of(circuit.id)
        if pin.partition("/")[0] == plug
    )


def _belongs_to_restraints(car: Car, plug: str) -> bool:
    """Tell whether half the wires of a plug or more are restraint wires: then nobody works in it at all.

    A big plug of a body module or cluster may carry one crash signal among thirty others. Its other wires are tapped
    where they leave it, without opening it; a T is never put there, since it would open the restraint wire as well.
    """
    occupied = [pin for pin in car.pins if pin.partition("/")[0] == plug]
    return 2 * len(restraint_pins(car, plug)) >= len(occupied) > 0


def airbag_near(car: Car, place: str | None) -> bool:
    """Tell whether an airbag is recorded as a hazard of the place."""
    return any(h.kind == "airbag" and h.place == place for h in car.hazards)


def _wire_end(circuit: Circuit, pin: str) -> bool:
    return any(s.colour is not None and pin in (s.from_, s.to) for s in circuit.path)


def _overloaded(car: Car, plug: Plug, branch: Branch) -> str | None:
    """Return in words the pin whose factory current the T would not carry, or None."""
    for circuit in car.circuits.values():
        pins = [p for p in car.pins_of(circuit.id) if p.partition("/")[0] == plug.id]
        amps = through_a(car, circuit) if pins else 0.0
        if amps > branch.rating_a:
            carries = told(
                "{function} takes {amps:.3g} A through {where}",
                function=circuit.function,
                amps=amps,
                where=pin_words(car, pins[0]),
            )
            return told(
                "{carries}, and the through pins carry {rating_a:g} A", carries=carries, rating_a=branch.rating_a
            )
    return None


def _conductor_end(conductor: Conductor, branch: Branch, circuit: Circuit, pin: str, plug: Plug) -> End:
    return End(
        kind="T tapped" if branch.kind == "t" else "plug", terminal=conductor.terminal, label=conductor.label,
        colour=conductor.colour, stripe=conductor.stripe, area_mm2=conductor.area_mm2, length_m=branch.length_m,
        circuit=circuit.id, pin=pin, branch=branch.id, place=plug.place,
    )  # fmt: skip


def _lead_end(lead: Lead, circuit: Circuit, pin: str, plug: Plug) -> End:
    return End(
        kind="tap", terminal=lead.terminal, label=lead.label, colour=lead.colour, stripe=lead.stripe,
        area_mm2=lead.area_mm2, length_m=lead.length_m, circuit=circuit.id, pin=pin, lead=lead.id, place=plug.place,
    )  # fmt: skip


def ends_for(at: Situation, task: Task, terminal: str, circuit: Circuit) -> Iterator[End | RuledOut]:
    """Yield every end that could join a terminal to a circuit, and why a pin, branch or lead cannot."""
    leads = [lead for lead in at.kit.leads if lead.terminal == terminal and lead.end == "bare"]
    pins = [pin for pin in at.car.pins_of(circuit.id) if pin.partition("/")[0] in at.car.plugs]
    if not pins:
        yield RuledOut(
            task=task.id, how="tap", what=told("the {function} wire", function=circuit.function),
            fact="Nobody has recorded a plug in which it can be reached.",
            cure=told("a plug of the {function} wire were recorded", function=circuit.function), far=5,
        )  # fmt: skip
    for pin in pins:
        plug = at.car.plugs[pin.partition("/")[0]]
        if _belongs_to_restraints(at.car, plug.id):
            yield RuledOut(
                task=task.id, how="tap", what=pin_words(at.car, pin), fact="The plug belongs to the airbags.",
                cure=told(
                    "the {function} wire could be reached in a plug without airbag wires", function=circuit.function,
                ), far=6,
            )  # fmt: skip
            continue
        if any(h.kind == "high voltage" and h.place == plug.place for h in at.car.hazards):
            yield RuledOut(
                task=task.id, how="tap", what=pin_words(at.car, pin), fact="High-voltage cable runs at its place.",
                cure=told(
                    "the {function} wire could be reached away from high-voltage cable", function=circuit.function,
                ), far=6,
            )  # fmt: skip
            continue
        yield from _in_branches(at, task, terminal, circuit, pin)
        if not _wire_end(circuit, pin):
            continue
        yield from (_lead_end(lead, circuit, pin, plug) for lead in leads)
    yield from _strange_branches(at, task, terminal)
    if not leads and pins:
        yield RuledOut(
            task=task.id, how="tap", what=told(
                "the {function} wire", function=circuit.function,
            ), fact="The kit has no loose lead for it.",
            cure=told("the kit had a loose lead for {function}", function=task.function), far=4,
        )  # fmt: skip


def _strange_branches(at: Situation, task: Task, terminal: str) -> Iterator[RuledOut]:
    """Yield the fact that none of the kit's branches with a conductor for the terminal fits this car, if so it is."""
    holding = [b for b in at.kit.branches if any(c.terminal == terminal for c in b.conductors)]
    housings = {p.housing for p in at.car.plugs.values()}
    if not holding or any(b.housing in housings for b in holding):
        return
    only = holding[0].label if len(holding) == 1 else None
    yield RuledOut(
        task=task.id, how="T tapped" if holding[0].kind == "t" else "plug", what=", ".join(b.label for b in holding),
        fact=told(
            "{only} fits no plug of this car.", only=only,
        ) if only else "None of the kit's T-harnesses fits a plug of this car.",
        cure=told("{only} fitted a plug of this car", only=only or 'a T-harness of the kit'), far=4,
    )  # fmt: skip


def _in_branches(at: Situation, task: Task, terminal: str, circuit: Circuit, pin: str) -> Iterator[End | RuledOut]:
    plug = at.car.plugs[pin.partition("/")[0]]
    for branch in at.kit.branches:
        if branch.housing != plug.housing:
            continue
        conductors = [c for c in branch.conductors if c.terminal == terminal]
        what = told("{branch} at {where}", branch=branch.label, where=pin_words(at.car, pin))
        stranger = _made_for_another(at, branch, plug)
        if stranger is not None:
            yield RuledOut(
                task=task.id, how="T tapped", what=told(
                    "{branch} at {plug}", branch=branch.label, plug=plug.name,
                ), fact=stranger,
                cure=told("the wires of {branch} sat where this car has them", branch=branch.label), far=4,
            )  # fmt: skip
            continue
        if not conductors:
            yield RuledOut(
                task=task.id, how="T tapped", what=what, fact=told(
                    "{branch} has no conductor for {function}.", branch=branch.label, function=task.function,
                ),
                cure=told(
                    "{branch} had a conductor for {function}", branch=branch.label, function=task.function,
                ), far=4,
            )  # fmt: skip
            continue
        if restraint_pins(at.car, plug.id):
            yield RuledOut(
                task=task.id, how="T tapped", what=what,
                fact="It would open an airbag wire that sits in the same plug.",
                cure=told(
                    "the {function} wire could be reached in a plug without airbag wires", function=circuit.function,
                ), far=6,
            )  # fmt: skip
            continue
        overload = _overloaded(at.car, plug, branch) if branch.kind == "t" else None
        if overload is not None:
            yield RuledOut(
                task=task.id, how="T tapped", what=what, fact=f"{overload[0].upper()}{overload[1:]}.",
                cure=told("the through pins of {branch} carried more", branch=branch.label), far=1,
            )  # fmt: skip
            continue
        here = [c for c in conductors if c.pin in (None, pin.partition("/")[2])]
        yield from (_conductor_end(c, branch, circuit, pin, plug) for c in here)
        if not here:
            built = conductors[0]
            yield RuledOut(
                task=task.id, how="T tapped", what=what,
                fact=told("{built} is built to pin {pin} of this plug.", built=built.label, pin=built.pin),
                cure=told(
                    "{branch} had a conductor for {function} at that pin", branch=branch.label,
                    function=task.function,
                ), far=4,
            )  # fmt: skip


_DRIVES = frozenset({"power in", "relay output", "positive output", "negative output"})
# What an output may meet besides its own function: halves of it, and for the brake line the wire of the pedal.
_ALSO: Mapping[str, frozenset[str]] = MappingProxyType({
    "brake line": frozenset({"brake"}),
    **{
        whole: frozenset(half for half, other in SUBSTITUTES.items() if other == whole)
        for whole in SUBSTITUTES.values()
    },
})  # fmt: skip


def _made_for_another(at: Situation, branch: Branch, plug: Plug) -> str | None:
    """Return in a sentence the conductor whose fixed pin holds a strange wire in this car, or None.

    Two cars may share a housing and not the order of its wires: such a T would put a feed on the starter.
    """
    for conductor in branch.conductors:
        occupant = at.car.pins.get(f"{plug.id}/{conductor.pin}")
        terminal = at.terminal(conductor.terminal)
        if conductor.pin is None or occupant is None or terminal.kind not in _DRIVES:
            continue
        circuit = at.car.circuits[occupant.circuit]
        if circuit.function not in {terminal.function, *_ALSO.get(terminal.function, ())}:
            return told(
                "{branch} is made for another car: its {conductor} would meet {function} at pin {pin}.",
                branch=branch.label,
                conductor=conductor.label,
                function=circuit.function,
                pin=conductor.pin,
            )
    return None
