"""What one fact weighs: by hand on the demonstration's car, whose plan and readings are known."""

from dataclasses import replace
from functools import cache

import pytest

from loomwright.faults.one_fact import otherwise
from loomwright.faults.weight import Weight, measure_next
from loomwright.network.proof import prove
from tests.demonstration import BASE, V6, Choice, car, installation, shop


@cache
def _unproven() -> tuple[Weight, ...]:
    return measure_next(installation(V6), shop())


def test_only_what_nobody_has_measured_is_weighed() -> None:
    assert {w.standing for w in _unproven()} == {"unproven"}
    assert {w.circuit for w in _unproven()} == {
        j.circuit for j in installation(V6).joints if j.circuit and car(V6).standing[j.circuit].status != "proven"
    }


def test_what_moves_nothing_comes_last_and_what_stops_the_kit_first() -> None:
    moves = [w.moves for w in _unproven()]
    assert moves == sorted(moves, reverse=True)
    assert _unproven()[0].fitted == "stop"
    heavy = [("none", "fix", "stop").index(w.fitted) for w in _unproven() if w.moves]
    assert heavy == sorted(heavy, reverse=True)


def test_a_parking_light_that_were_negative_would_be_told_by_its_resting_voltage() -> None:
    weight = next(w for w in _unproven() if (w.circuit, w.fact) == ("parking-light", "trigger"))
    # The kit's positive output would be shorted by a switch to ground: its rating, and a wire that is not pulled.
    assert "trigger-not-pulled" in weight.codes
    assert weight.told_by is not None
    # A positive lamp wire rests at ground, a negative trigger at battery voltage.
    assert weight.told_by.written_v == pytest.approx(0.0, abs=0.1)
    assert weight.told_by.instead_v == pytest.approx(12.6, abs=0.1)


def test_a_load_is_told_by_no_voltage() -> None:
    weight = next(w for w in _unproven() if (w.circuit, w.fact) == ("parking-light", "load"))
    assert weight.told_by is None


def test_a_pin_one_off_exchanges_two_circuits_and_nothing_else() -> None:
    one = next(o for o in otherwise(car(BASE), "horn", "body-a/6") if o.fact == "pin")
    assert one.car.pins["body-a/6"].circuit == car(BASE).pins[one.instead].circuit
    assert one.car.pins[one.instead].circuit == "horn"
    same = set(car(BASE).circuits) - {"horn", car(BASE).pins[one.instead].circuit}
    assert all(one.car.circuits[c] is car(BASE).circuits[c] for c in same)
    assert set(one.car.pins) == set(car(BASE).pins)


@pytest.mark.parametrize("choice", [BASE, V6])
def test_every_fact_written_otherwise_can_be_proved(choice: Choice) -> None:
    """An edit is another car, not a broken one: the proof of the kit as planned settles in it."""
    plan = installation(choice)
    met = [(j.circuit, j.pin) for j in plan.joints if j.circuit and j.pin]
    facts = [o for circuit, pin in met for o in otherwise(plan.car, circuit, pin)]
    assert {o.fact for o in facts} >= {"pin", "trigger", "live positions", "switch side", "fuse", "load"}
    assert all(o.written != o.instead for o in facts)
    for one in facts[::4]:
        assert prove(replace(plan, car=one.car)).points > 100
