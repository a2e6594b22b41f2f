"""The program against all plans one by one, and properties that every plan has."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from loomwright.planning.program import Program, solve
from loomwright.planning.rules import broken_row
from tests.independent.plans import all_plans, best_plan, is_sound
from tests.planning import builders as b
from tests.planning.random_cases import random_case, random_situation

_CASES = 240
_AT_ONCE = 24


@pytest.mark.parametrize("first", range(0, _CASES, _AT_ONCE))
def test_the_program_finds_what_counting_all_plans_finds(first: int) -> None:
    for seed in range(first, first + _AT_ONCE):
        at, tasks, candidates = random_case(seed, plans=2500)
        program = Program.of(at, tasks, candidates, 0.8)
        found = solve(program)
        assert found is not None
        got = (found.unserved_required, found.unserved_wanted, found.cost_cents, found.rank_sum)
        assert got == best_plan(at, tasks, candidates, 0.8), f"seed {seed}"


@pytest.mark.parametrize("seed", range(20))
def test_the_rows_allow_exactly_the_sound_plans(seed: int) -> None:
    at, tasks, candidates = random_case(seed, plans=800)
    rows = Program.of(at, tasks, candidates, 0.8).rows
    for plan in all_plans(tasks, candidates):
        assert (broken_row(rows, plan) is None) == is_sound(at, tasks, plan), [c.id for c in plan]


def test_the_random_cases_are_worth_counting() -> None:
    """They must not be trivial: in many of them a task stays unserved that has a candidate."""
    contested = 0
    for seed in range(60):
        at, tasks, candidates = random_case(seed, plans=2500)
        found = solve(Program.of(at, tasks, candidates, 0.8))
        assert found is not None
        served = {c.task for c in found.chosen}
        possible = {c.task for c in candidates}
        contested += any(t.need != "helping" and t.id in possible - served for t in tasks)
    assert contested >= 15


@pytest.mark.parametrize("group", range(4))
def test_plans_of_random_pairs_are_sound_and_say_why(group: int) -> None:
    for seed in range(group * 15, group * 15 + 15):
        at = random_situation(5000 + seed)
        plan = match(replace(at.car), at.kit, b.shop())
        if not isinstance(plan, Installation):
            assert plan.would_fit_if
            continue
        pins = [j.pin for j in plan.joints if j.pin is not None and (j.part is None or j.part.pattern != "resistor")]
        assert len(pins) == len(set(pins))
        assert len({j.id for j in plan.joints}) == len(plan.joints)
        for route in plan.routes:
            assert route.why.endswith(".")
            assert route.why.count("; ") >= 1
            assert all(r.fact.endswith(".") for r in route.rejected)
        assert {r.task for r in plan.routes}.isdisjoint(u.task for u in plan.unserved)
        assert all(u.why.endswith(".") and u.would_fit_if for u in plan.unserved)
        # Source: 49 CFR 571.102 S3.1.3: the selector's switch stays between the kit and the starter.
        assert "engine/2" not in {j.pin for j in plan.joints}


@settings(max_examples=25)
@given(seed=st.integers(0, 10_000), price=st.sampled_from([0.0, 0.05, 0.8, 3.0]))
def test_a_dearer_minute_never_lengthens_the_work(seed: int, price: float) -> None:
    """With parts at their price, a plan for dearer minutes takes no more counted minutes than one for cheaper ones."""
    at, tasks, candidates = random_case(seed, plans=400)
    minutes = []
    for minute_price in (price, price + 1.0):
        found = solve(Program.of(at, tasks, candidates, minute_price))
        assert found is not None
        cents = solve(Program.of(at, tasks, candidates, minute_price))
        assert cents == found
        parts = sum(c.price for c in found.chosen)
        minutes.append((found.cost_cents / 100 - parts) / minute_price if minute_price else None)
    if minutes[0] is not None and minutes[1] is not None:
        # Each of some twenty pieces is rounded to a cent, a fraction of a minute at these prices.
        assert minutes[1] <= minutes[0] + 0.005 * 20 / min(price, 1.0) + 1e-9
