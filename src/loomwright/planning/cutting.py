"""Vehicle wires that must be opened: a relay or a diode between the factory's end and the driven end.

The factory's end stays joined to the driven one while the kit does nothing, through a contact that rests closed or
through a diode, so the car works as before with the kit dead.
"""

from collections.abc import Iterator

from loomwright.documents.behaviour import ModuleOutput
from loomwright.documents.kit import Terminal
from loomwright.documents.vehicle import Circuit, Segment
from loomwright.planning.candidates import Situation, Task
from loomwright.planning.links import Link, Unfit, coils_for, own_power, sign_of
from loomwright.planning.loads import demand_a
from loomwright.planning.minutes import CONTINUOUS_SHARE, load_share
from loomwright.planning.sides import fed_without_switch, polarity
from loomwright.sentences import told

__all__ = ["cut_links", "reached_pins", "reason_at", "reason_to_cut"]


_RUNS_BACK = "The kit's voltage must not run back along the wire"


def reason_to_cut(circuit: Circuit) -> str | None:
    """Return as a clause why a circuit is never driven without opening it, or None."""
    behaviour = circuit.behaviour
    if polarity(circuit) == "reversing":
        return "The wire rests at ground through the factory's own contact, and battery voltage beside it is a short"
    if isinstance(behaviour, ModuleOutput):
        if behaviour.shuts_off_when_back_fed:
            return "The module takes a voltage from outside for a fault and shuts this output off"
        if behaviour.duty < 1.0:
            return "The module dims this output by switching it fast, and a steady voltage beside it would run back"
    return None


def reason_at(task: Task, circuit: Circuit, pin: str) -> str | None:
    """Return as a clause why a circuit must be opened at this pin before it is driven there, or None."""
    if task.function == "brake line" and fed_without_switch(circuit, pin):
        return "A voltage there runs back and lights the stop lamps, and the kit would take it for a pressed pedal"
    return reason_to_cut(circuit)


def cut_links(
    at: Situation, task: Task, terminal: Terminal, circuit: Circuit, otherwise: str = ""
) -> Iterator[Link | Unfit]:
    """Yield every sound way to drive the far end of an opened wire.

    `otherwise` says as a clause why a relay stands in a wire that would not have to be opened by itself.
    """
    amps = demand_a(at.car, circuit)
    because = reason_to_cut(circuit)
    clause = because or otherwise or _RUNS_BACK
    if because is None and sign_of(terminal) == "positive":
        yield from _diodes(at, task, terminal, circuit, amps)
    for coil in coils_for(at, task, terminal, circuit, amps, because=clause, feeds=True):
        if isinstance(coil, Unfit):
            yield coil
            continue
        does = told(
            "a relay ({part}) parts the wire from the factory's end while it puts battery voltage on it",
            part=coil.part.name,
        )
        yield Link(
            part=coil.part, pattern="relay changes over", fed_from=coil.fed_from, share=coil.share,
            powers=coil.powers, feed=coil.fed_from, isolation="relay", cuts=True, why=told(
                "{clause}, so {does}.", clause=clause, does=does,
            ),
            does="" if because or otherwise else does,
        )  # fmt: skip


def _diodes(at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed:
        return  # a relay then carries the load
    fitting = [p for p in at.kit.parts if p.kind == "diode" and CONTINUOUS_SHARE * p.rating_a >= amps]
    for part in fitting:
        yield Link(
            part=part, pattern="diode cuts in", share=amps / allowed, powers=own_power(at, terminal, task, circuit),
            isolation="none", cuts=True,
            why=told(
                "{fact}, so a diode ({part}) lets the factory's signal through and nothing back.", fact=_RUNS_BACK,
                part=part.name,
            ),
        )  # fmt: skip
    if not fitting:
        yield Unfit(
            fact=told(
                "The wire would have to be opened for a diode, and the kit has none for {amps:.3g} A.", amps=amps,
            ),
            cure=told(
                "the kit held a diode for {amps:.3g} A for {function}", amps=amps / CONTINUOUS_SHARE,
                function=task.function,
            ), far=0,
        )  # fmt: skip


def reached_pins(circuit: Circuit, pin: str, back: Segment | None) -> frozenset[str]:
    """Return the pins of the circuit that a voltage at `pin` reaches, open switches and the step `back` left out."""
    seen, frontier = {pin}, [pin]
    while frontier:
        here = frontier.pop()
        for step in circuit.path:
            if step is back or step.closed_when is not None or here not in (step.from_, step.to):
                continue
            other = step.to if here == step.from_ else step.from_
            if other not in seen:
                seen.add(other)
                frontier.append(other)
    return frozenset(name for name in seen if "/" in name)
