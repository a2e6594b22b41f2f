"""What one fact weighs: by hand on the demonstration's car, whose plan and readings are known."""

from dataclasses import replace
from functools import cache

import pytest

from loomwright.faults.car_fact import car_otherwise
from loomwright.faults.kit_fact import kit_otherwise
from loomwright.faults.one_fact import otherwise
from loomwright.faults.spread import CORNERS, at_corner, findings_at
from loomwright.faults.weight import Weight, measure_next
from loomwright.network.joining import joined_netlist
from loomwright.network.proof import prove
from loomwright.starting.findings import with_start
from loomwright.starting.settings import start_settings
from tests.demonstration import BASE, V6, Choice, car, installation, shop
from tests.pairs import EVERY_PAIR, installations

_TOLD: list[tuple[int, int]] = []


@cache
def _unproven() -> tuple[Weight, ...]:
    return measure_next(installation(V6), shop(), tell=lambda done, total: _TOLD.append((done, total)))


def test_how_far_it_is_is_told_before_each_fact_and_at_the_end() -> None:
    assert _unproven()
    total = _TOLD[-1][1]
    assert [(done, total) for done in range(total + 1)] == _TOLD


def test_only_what_nobody_has_measured_is_weighed() -> None:
    of_circuits = [w for w in _unproven() if w.circuit]
    assert {w.standing for w in of_circuits} == {"unproven"}
    assert {w.circuit for w in of_circuits} == {
        j.circuit for j in installation(V6).joints if j.circuit and car(V6).standing[j.circuit].status != "proven"
    }


def test_what_moves_nothing_comes_last_and_what_stops_the_kit_first() -> None:
    moves = [w.moves for w in _unproven()]
    assert moves == sorted(moves, reverse=True)
    spread = [w.fact == "spread" for w in _unproven()]
    assert spread == sorted(spread, reverse=True)
    facts = [w for w in _unproven() if w.fact != "spread"]
    assert facts[0].fitted == "stop"
    heavy = [2 if w.refused else ("none", "fix", "stop").index(w.fitted) for w in facts if w.moves]
    assert heavy == sorted(heavy, reverse=True)


def test_a_parking_light_that_were_negative_would_be_told_by_its_resting_voltage() -> None:
    weight = next(w for w in _unproven() if (w.circuit, w.fact) == ("parking-light", "trigger"))
    # The kit's positive output would be shorted by a switch to ground: its rating, and a wire that is not pulled.
    assert "trigger-not-pulled" in weight.codes
    assert weight.told_by is not None
    # A positive lamp wire rests at ground, a negative trigger at battery voltage.
    assert weight.told_by.written_v == pytest.approx(0.0, abs=0.1)
    assert weight.told_by.instead_v == pytest.approx(12.6, abs=0.1)


def test_a_load_near_its_fuse_moves_the_verdict_within_its_spread_and_stands_first() -> None:
    first = _unproven()[0]
    assert (first.circuit, first.fact) == ("parking-light", "spread")
    assert first.instead == "the greatest load over the poorest wires"
    assert first.codes == ("fuse-too-close",)
    assert (first.verdict_before, first.verdict_after) == ("fits", "fits-with-exceptions")
    # By hand: a fuse is loaded to 75 % at most (common practice); lamps of 3.9 A that may draw 15 % more bring the feed
    # of the kit, with everything else on, from just below that to just above.
    plan = installation(V6)
    finding = next(
        f for f in findings_at(plan, "parking-light", CORNERS[first.instead]) if f.code == "fuse-too-close"
    )
    assert all(f.code != "fuse-too-close" for f in prove(plan).findings)
    numbers = {n.name: n.value for n in finding.numbers}
    assert numbers["rating"] == 30.0
    assert 0.75 * 30.0 < numbers["current"] < 0.75 * 30.0 + 0.15 * 3.9


def test_a_corner_moves_the_elements_of_its_circuit_only_and_to_their_ends() -> None:
    netlist = joined_netlist(installation(V6))
    moved = at_corner(netlist, "horn", CORNERS["the greatest load over the poorest wires"])
    for old, new in zip(netlist.elements, moved.elements, strict=True):
        if old.origin.side == "vehicle" and old.origin.of == "horn" and old.kind in ("wire", "coil"):
            factor = old.high if old.kind == "coil" else old.low
            assert new.shape.g[0] == pytest.approx(factor * old.shape.g[0])
        elif old.origin.of != "horn":
            assert new == old


def _of_the_car() -> tuple[Weight, ...]:
    return tuple(w for w in _unproven() if not w.circuit)


def test_each_fact_of_the_whole_car_that_its_document_states_is_weighed_once() -> None:
    traits = car(V6).traits
    stated = {
        "gearbox": traits.gearbox, "park interlock": traits.park_interlock, "immobiliser": traits.immobiliser,
        "alternator": traits.alternator, "idle speed": traits.idle_rpm, "starter current": traits.starter_a,
        "battery rating": traits.battery_cca_a,
    }  # fmt: skip
    assert sorted(w.fact for w in _of_the_car()) == sorted(f for f, value in stated.items() if value is not None)
    assert {w.standing for w in _of_the_car()} == {"stated"}
    for one in car_otherwise(car(V6)):
        assert one.car.circuits is car(V6).circuits
        assert one.car.traits != traits


@pytest.mark.parametrize(
    ("fact", "source"),
    [
        # No federal rule asks a manual gearbox for a switch that tells neutral (NHTSA interpretations 24473.drn and
        # 10024).
        ("gearbox", "manual gearbox"),
        # 49 CFR 571.102 S3.1.3: the starter must not work in a position that drives.
        ("park interlock", "mechanical lock"),
    ],
)
def test_what_a_car_must_have_refuses_the_kit_where_it_is_otherwise(fact: str, source: str) -> None:
    weight = next(w for w in _of_the_car() if w.fact == fact)
    assert weight.verdict_after == "does-not-fit"
    assert weight.refused is not None
    assert source in weight.refused
    assert weight.moves


def test_what_only_the_start_can_tell_is_weighed_with_the_start() -> None:
    """A kit that sees the engine by the battery's voltage cannot with a smart alternator: no circuit rule says so."""
    plan = next(
        p for pair in EVERY_PAIR for p in installations(pair, 8)
        if start_settings(p).detection == "voltage" and p.car.traits.alternator == "plain"
    )  # fmt: skip
    other = next(o for o in car_otherwise(plan.car) if o.fact == "alternator")
    found = {f.code for f in with_start(prove(replace(plan, car=other.car))).findings}
    assert "settings-contradict" in found
    assert "settings-contradict" not in {f.code for f in prove(replace(plan, car=other.car)).findings}


@cache
def _of_the_kit() -> tuple[Weight, ...]:
    return tuple(w for w in measure_next(installation(V6), shop(), kit=True) if w.terminal is not None)


def test_facts_of_the_kit_are_weighed_where_that_is_asked_for() -> None:
    assert all(w.terminal is None for w in _unproven())
    assert {w.standing for w in _of_the_kit()} == {"stated"}
    assert all(w.terminal is None for w in _of_the_car())
    assert {w.fact for w in _of_the_kit()} == {
        "terminal's kind", "terminal's rating", "terminal's fuse", "lead's size", "plug's rating",
    }  # fmt: skip


def test_a_hood_input_of_the_other_polarity_would_be_read_wrongly_and_nothing_else_would_serve() -> None:
    weight = next(w for w in _of_the_kit() if (w.terminal, w.fact) == ("hood", "terminal's kind"))
    # A hood that is read as open keeps every start off, so that nothing is said of a crank.
    assert (weight.fitted, weight.verdict_after) == ("stop", "does-not-fit")
    assert weight.codes == ("input-wrong", "start-goes-wrong")


def test_a_plug_of_half_the_rating_stops_a_kit_whose_feed_takes_more() -> None:
    weight = next(w for w in _of_the_kit() if w.fact == "plug's rating")
    assert (weight.written, weight.instead) == ("30 A", "15 A")
    assert weight.codes == ("over-rating",)


def test_each_fact_of_the_kit_is_changed_once_and_in_the_kit_alone() -> None:
    plan = installation(V6)
    facts = kit_otherwise(plan)
    for one in facts:
        assert one.plan.car is plan.car
        assert one.plan.kit != plan.kit
        assert one.written != one.instead
    keys = [(f.fact, f.joint.id if f.fact == "lead's size" else f.joint.terminal) for f in facts]
    assert len(keys) == len(set(keys))


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
