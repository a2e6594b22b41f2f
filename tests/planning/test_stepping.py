"""Stepped wires: which resistor is surely read as which step, and what is said where none is."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.documents.behaviour import SteppedInput
from loomwright.planning.installation import Installation
from loomwright.planning.stepping import PULL_UP_TOLERANCE, fits_step
from tests.planning import builders as b


def _wire(*ohms: float, pull_up_ohm: float = 1000) -> SteppedInput:
    functions = ("lock", "unlock", "hatch")
    steps = [
        {"function": f, "when": "lock pressed", "resistance_ohm": ohm} for f, ohm in zip(functions, ohms, strict=False)
    ]
    return SteppedInput.model_validate({"template": "stepped input", "pull_up_ohm": pull_up_ohm, "steps": steps})


def test_the_resistance_of_the_output_counts() -> None:
    wire = _wire(47, 470)
    # 47 ohm stand for the lock. The output alone takes 20 of them, and 27 ohm make up the rest.
    assert fits_step(wire, wire.steps[0], 27, 20)
    # 470 ohm are half way to the other step and beyond.
    assert not fits_step(wire, wire.steps[0], 470, 20)


def test_steps_too_close_together_fit_no_resistor_of_five_per_cent() -> None:
    wire = _wire(1000, 1150)
    assert not fits_step(wire, wire.steps[0], 998, 2)


@given(
    st.floats(10, 20_000), st.floats(10, 20_000), st.floats(100, 10_000), st.floats(0.5, 1.5), st.floats(0.5, 1.5),
    st.floats(0.95, 1.05), st.floats(1 - PULL_UP_TOLERANCE, 1 + PULL_UP_TOLERANCE),
)  # fmt: skip
def test_what_fits_is_read_as_its_own_step_with_every_part_within_its_tolerance(
    one: float, other: float, pull_up: float, share: float, output: float, resistor: float, module: float
) -> None:
    wire = _wire(one, other, pull_up_ohm=pull_up)
    step = wire.steps[0]
    if not fits_step(wire, step, share * one, output):
        return
    got = (share * one * resistor + output) / (share * one * resistor + output + pull_up * module)
    levels = [s.resistance_ohm / (s.resistance_ohm + pull_up) for s in wire.steps] + [1.0]
    assert min(range(3), key=lambda n: abs(levels[n] - got)) == 0


_LOCKS = {
    "lock": b.terminal("lock", "lock", "negative output", rating_a=0.25, resistance_ohm=1.5),
    "unlock": b.terminal("unlock", "unlock", "negative output", rating_a=0.25, resistance_ohm=1.5),
}
_STEPS = [
    {"function": "lock", "when": "lock pressed", "resistance_ohm": 1000},
    {"function": "unlock", "when": "unlock pressed", "resistance_ohm": 330},
]


def _resistor(ohm: float, **extra: Any) -> b.Piece:
    return {
        "id": f"r-{ohm:g}", "kind": "resistor", "name": f"resistor {ohm:g} ohm", "rating_a": 0.02, "stock": 2,
        "resistance_ohm": ohm, **extra,
    }  # fmt: skip


def _plan(*parts: b.Piece, kind: str = "negative output", **behaviour: Any) -> Installation:
    """Plan the locks of a car whose stepped wire is called after neither of its steps."""
    circuit = b.circuit(
        "rocker", "other", {"template": "stepped input", "pull_up_ohm": 1000, "steps": _STEPS, **behaviour},
        {"from": "source", "to": "body/7"}, b.wire("body/7", "load", "grey"),
    )  # fmt: skip
    terminals = {name: {**t, "kind": kind} for name, t in _LOCKS.items()}
    leads = {**b.LEADS, **{name: b.lead(name) for name in _LOCKS}}
    kit = b.kit({**b.TERMINALS, **terminals}, leads, parts=list(parts), wanted=["lock", "unlock"])
    return b.fitted(b.car({**b.CIRCUITS, "rocker": circuit}), kit)


def test_each_step_gets_the_resistor_nearest_to_what_the_output_leaves() -> None:
    plan = _plan(_resistor(330), _resistor(1000), _resistor(470), _resistor(910))
    parts = {t: b.route(plan, t).joints[0].part for t in ("lock", "unlock")}
    assert {t: p and (p.part, p.pattern) for t, p in parts.items()} == {
        "lock": ("r-1000", "resistor"), "unlock": ("r-330", "resistor"),
    }  # fmt: skip
    assert parts["lock"] is not None
    assert parts["lock"].why == (
        "The wire tells lock by 1000 ohm to ground, so a resistor (resistor 1000 ohm) stands before the output, whose "
        "own 1.5 ohm count as well."
    )


def test_both_steps_are_joined_at_the_one_pin_of_the_wire() -> None:
    plan = _plan(_resistor(330), _resistor(1000))
    assert [b.route(plan, t).joints[0].pin for t in ("lock", "unlock")] == ["body/7", "body/7"]


@pytest.mark.parametrize(
    ("parts", "why", "cure"),
    [
        ((), "the kit has no resistor.", "the kit held a resistor of 1000 ohm for lock"),
        (
            (_resistor(560),),
            "the kit's nearest, resistor 560 ohm, might be read as another step.",
            "the kit held a resistor of 1000 ohm for lock",
        ),
        (
            (_resistor(1000, rating_a=0.005),),
            "the kit's resistor 1000 ohm carries 0.005 A of the 0.006 A there.",
            "the kit held a resistor of 1000 ohm for lock",
        ),
    ],
)
def test_a_missing_resistor_is_named_by_its_preferred_value(
    parts: tuple[b.Piece, ...], why: str, cure: str
) -> None:
    left = b.unserved(_plan(*parts), "lock")
    assert left.why == f"The wire tells lock by 1000 ohm to ground, and {why}"
    assert left.would_fit_if == cure
    # The fact is the one that decides: with that resistor the lock is served.
    assert b.route(_plan(_resistor(1000)), "lock").joints[0].part is not None


def test_a_resistor_out_of_stock_is_the_fact() -> None:
    left = b.unserved(_plan(_resistor(1000, stock=0), _resistor(330)), "lock")
    assert left.would_fit_if == "the kit held one more resistor 1000 ohm"


def test_an_output_of_battery_voltage_is_no_step() -> None:
    left = b.unserved(_plan(_resistor(1000), kind="positive output"), "lock")
    assert left.why == "The wire wants a resistance to ground; the kit's lock output puts out battery voltage."
    assert left.would_fit_if == "the kit had a lock output that pulls to ground"


def test_steps_too_close_together_are_said_to_be_so() -> None:
    close = [_STEPS[0], {**_STEPS[1], "resistance_ohm": 1100}]
    left = b.unserved(_plan(_resistor(1000), steps=close), "lock")
    assert left.why == "No resistor of 5 % is surely read as lock: the steps of the wire lie too close together."


def test_a_step_that_is_next_to_ground_needs_no_resistor() -> None:
    plan = _plan(_resistor(1000), steps=[_STEPS[0], {**_STEPS[1], "resistance_ohm": 1}])
    assert b.route(plan, "unlock").joints[0].part is None
