"""Stepped inputs: a resistor behind a negative output gives the resistance of the switch that it stands in for.

The module tells the switches apart by the share of its own voltage that stands on the wire, R / (R + P) with the
resistance R to ground and its pull-up P. A resistor fits where that share, with every part at its worst, stays nearer
to its own step than half the way to the next one.
"""

from collections.abc import Iterator
from itertools import product

from loomwright.documents.behaviour import Step, SteppedInput
from loomwright.documents.kit import InterfacePart, Terminal
from loomwright.planning.candidates import Situation, Task, one
from loomwright.planning.e_series import E12, E24, E24_TOLERANCE, nearest
from loomwright.planning.links import Link, Unfit, sign_of
from loomwright.planning.minutes import NOMINAL_V, load_share
from loomwright.sentences import told

__all__ = ["LOW_SIDE_OHM", "NEAR_SHARE", "PULL_UP_TOLERANCE", "fits_step", "step_links"]

LOW_SIDE_OHM = 2.0
"""Resistance of a negative output where the kit document states none; common practice for small drivers [ohm]."""

NEAR_SHARE = 0.05
"""How far from its step a wire may stand with every part as printed, as a share of the full level; common practice."""

PULL_UP_TOLERANCE = 0.05
"""Tolerance counted for the resistor inside the vehicle's module; common practice."""


def _share(to_ground_ohm: float, pull_up_ohm: float) -> float:
    return to_ground_ohm / (to_ground_ohm + pull_up_ohm)


def fits_step(wire: SteppedInput, step: Step, resistor_ohm: float, output_ohm: float) -> bool:
    """Tell whether a resistor in series with an output is read as the step, and as nothing else.

    Checked at the corners of the tolerances of resistor and pull-up, against half the distance to the neighbouring
    steps and to the wire at rest; without tolerances it must be near its own step. Zero ohm is a wire.
    """
    own = _share(step.resistance_ohm, wire.pull_up_ohm)
    others = [_share(s.resistance_ohm, wire.pull_up_ohm) for s in wire.steps if s is not step]
    if abs(_share(output_ohm + resistor_ohm, wire.pull_up_ohm) - own) > NEAR_SHARE:
        return False
    half = min(abs(own - other) for other in (*others, 1.0)) / 2.0
    corners = product((1 - E24_TOLERANCE, 1 + E24_TOLERANCE), (1 - PULL_UP_TOLERANCE, 1 + PULL_UP_TOLERANCE))
    return all(abs(_share(output_ohm + r * resistor_ohm, p * wire.pull_up_ohm) - own) < half for r, p in corners)


def _amps(wire: SteppedInput, resistance_ohm: float) -> float:
    return (wire.pull_up_v if wire.pull_up_v is not None else NOMINAL_V) / (wire.pull_up_ohm + resistance_ohm)


def step_links(at: Situation, task: Task, terminal: Terminal, wire: SteppedInput) -> Iterator[Link | Unfit]:
    """Yield the way onto a stepped wire: straight where the output alone is the step, else through one resistor."""
    step = next((s for s in wire.steps if s.function == task.function), None)
    if step is None:
        yield Unfit(
            fact=told("None of the steps of the wire stands for {function}.", function=task.function),
            cure=told("the step for {function} were recorded", function=task.function), far=5,
        )  # fmt: skip
        return
    if sign_of(terminal) != "negative":
        yield Unfit(
            fact=told(
                "The wire wants a resistance to ground; the kit's {function} output puts out battery voltage.",
                function=terminal.function,
            ),
            cure=told("the kit had {one} that pulls to ground", one=one(told(
                "{function} output", function=terminal.function,
            ))), far=2,
        )  # fmt: skip
        return
    output_ohm = terminal.resistance_ohm or LOW_SIDE_OHM
    allowed = load_share(task.function) * terminal.rating_a
    amps = _amps(wire, step.resistance_ohm)
    if amps > allowed:
        yield Unfit(
            fact=told(
                "The wire takes {amps:.3g} A; the output carries {rating_a:g} A.", amps=amps,
                rating_a=terminal.rating_a,
            ),
            cure=told(
                "the kit's {function} output carried {amps:.3g} A", function=terminal.function,
                amps=amps / load_share(task.function),
            ), far=1,
        )  # fmt: skip
        return
    if fits_step(wire, step, 0.0, output_ohm):
        yield Link(share=amps / allowed)
        return
    yield from _with_resistor(at, task, wire, step, output_ohm, amps / allowed)


def _with_resistor(
    at: Situation, task: Task, wire: SteppedInput, step: Step, output_ohm: float, share: float
) -> Iterator[Link | Unfit]:
    target = step.resistance_ohm - output_ohm
    preferred = next((v for v in (_nearest(target, E12), _nearest(target, E24)) if _fits(wire, step, v, output_ohm)), 0)
    if not preferred:
        yield Unfit(
            fact=told(
                "No resistor of 5 % is surely read as {function}: the steps of the wire lie too close together.",
                function=task.function,
            ),
            cure="the steps of the wire lay further apart", far=6,
        )  # fmt: skip
        return
    amps = _amps(wire, step.resistance_ohm)
    held = [p for p in at.kit.parts if p.kind == "resistor" and p.resistance_ohm is not None]
    fitting = [p for p in held if _fits(wire, step, p.resistance_ohm or 0.0, output_ohm) and p.rating_a >= amps]
    if fitting:
        part = min(fitting, key=lambda p: (p.stock == 0, abs((p.resistance_ohm or 0.0) - target), p.id))
        yield Link(
            part=part, pattern="resistor", share=share,
            why=told(
                "The wire tells {function} by {resistance_ohm:g} ohm to ground, so a resistor ({part}) stands "
                "before the output, whose own {output_ohm:g} ohm count as well.", function=task.function,
                resistance_ohm=step.resistance_ohm, part=part.name, output_ohm=output_ohm,
            ),
        )  # fmt: skip
        return
    yield Unfit(
        fact=told(
            "The wire tells {function} by {resistance_ohm:g} ohm to ground, and {why_none}", function=task.function,
            resistance_ohm=step.resistance_ohm, why_none=_why_none(held, target, amps),
        ),
        cure=told(
            "the kit held a resistor of {preferred:g} ohm for {function}", preferred=preferred,
            function=task.function,
        ), far=0,
    )  # fmt: skip


def _nearest(target: float, series: tuple[float, ...]) -> float:
    return nearest(target, series) if target > 0 else 0.0


def _fits(wire: SteppedInput, step: Step, resistor_ohm: float, output_ohm: float) -> bool:
    return resistor_ohm > 0 and fits_step(wire, step, resistor_ohm, output_ohm)


def _why_none(held: list[InterfacePart], target: float, amps: float) -> str:
    if not held:
        return "the kit has no resistor."
    part = min(held, key=lambda p: abs((p.resistance_ohm or 0.0) - target))
    if part.rating_a < amps:
        return told(
            "the kit's {part} carries {rating_a:g} A of the {amps:.3g} A there.",
            part=part.name,
            rating_a=part.rating_a,
            amps=amps,
        )
    return told("the kit's nearest, {part}, might be read as another step.", part=part.name)
