"""Settings and numbers that make no sense: they end in findings with advice, never in a wrong number or an error."""

import math
from dataclasses import replace
from typing import get_args

import pytest

from loomwright.starting.explore import explore_settings
from loomwright.starting.findings import findings_of, start_findings
from loomwright.starting.modes import Timer
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS, Event
from loomwright.starting.settings import StartSettings, by_time
from loomwright.starting.verdicts import verdicts_of
from tests.demonstration import KIT_FILE, V6, edited_pair
from tests.starting.cases import installation, settings, wiring

CASE = "keyed V6, speed by wire"


def _with(case: str = CASE, **times: float) -> StartSettings:
    one = settings(case)
    return replace(one, times_s={timer: times.get(timer.replace(" ", "_"), s) for timer, s in one.times_s.items()})


@pytest.mark.parametrize("timer", get_args(Timer))
def test_a_time_of_zero_breaks_no_rehearsal(timer: Timer) -> None:
    # Exploration lets timers run out whenever they like, so what holds there holds for zero as well.
    at = replace(settings(CASE), times_s={**settings(CASE).times_s, timer: 0.0})
    run = rehearse(installation(CASE), replace(SCENARIOS["warm"], lasts_s=15.0), at)
    assert abs(run.energy.gap_j) < 1e-6 * (run.energy.battery_j + run.energy.alternator_j)
    assert not any(v.id == "attempts-bounded" and not v.holds for v in verdicts_of(run))


def test_a_crank_limit_or_a_run_time_of_zero_is_named() -> None:
    limit = start_findings(installation(CASE), _with(crank_limit=0.0))
    assert any("starter never turns" in f.message for f in limit)
    # What should have happened to an engine that never ran is not told as a finding of its own.
    assert {f.code for f in limit} <= {"settings-contradict", "start-goes-wrong", "crank-sags"}
    time = start_findings(installation(CASE), _with(run_time=0.0))
    assert any("stopped as soon as it runs" in f.message for f in time)


def test_a_kit_set_to_no_attempt_never_cranks_and_says_so() -> None:
    none = replace(settings(CASE), attempts=0)
    assert all(h.holds for h in explore_settings(none, wiring(CASE)).properties)
    assert rehearse(installation(CASE), SCENARIOS["warm"], none).asked == ()
    assert any("no attempt at all" in f.message for f in start_findings(installation(CASE), none))


def test_a_battery_that_cannot_carry_its_starter_is_told_by_its_numbers() -> None:
    one = installation(CASE)
    traits = one.car.traits.model_copy(update={"starter_a": 2000.0, "battery_cca_a": 80.0})
    bad = replace(one, car=replace(one.car, traits=traits))
    run = rehearse(bad, replace(SCENARIOS["warm"], lasts_s=5.0))
    assert any("battery rating and the starter current" in f.advice for f in findings_of(bad, run))
    assert all(math.isfinite(m.rpm) and math.isfinite(m.battery_v) for m in run.moments)


def test_a_rehearsal_lasts_as_long_as_its_settings_ask_for() -> None:
    # A run time of half an hour is longer than the scenario was written for, and so is a wait of a minute.
    long = rehearse(installation(CASE), SCENARIOS["run-time"], _with(run_time=1800.0))
    assert next(v for v in verdicts_of(long) if v.id == "stops-at-run-time").holds
    slow = replace(_with("diesel, speed by voltage", wait=60.0, wait_limit=65.0), wait="time")
    run = rehearse(installation("diesel, speed by voltage"), SCENARIOS["hood"], slow)
    assert all(v.holds for v in verdicts_of(run))


def test_a_wait_by_time_is_never_cut_short_by_the_limit_for_a_lamp() -> None:
    timed = by_time(installation("diesel, speed by voltage"), settings("diesel, speed by voltage"))
    assert timed.wait == "time"
    assert timed.times_s["wait limit"] > timed.times_s["wait"]
    tight = _with("diesel, speed by voltage", wait_limit=1.0)
    again = by_time(installation("diesel, speed by voltage"), tight)
    assert again.times_s["wait limit"] > again.times_s["wait"]


@pytest.mark.parametrize("case", [CASE, "button"])
def test_a_stop_asked_at_any_moment_stops(case: str) -> None:
    at = settings(case)
    for mode in ("checking", "ignition on", "cranking", "running"):
        stop = Event(words="a stop is asked for", sets={"request": "stop"}, after_s=0.2, mode=mode)
        run = rehearse(
            installation(case), replace(SCENARIOS["warm"], events=(*SCENARIOS["warm"].events, stop), lasts_s=20.0), at
        )
        assert not run.moments[-1].outputs, mode
        if mode != "cranking" or at.keyed:
            assert not run.engine_lives, mode


def test_a_kit_without_a_hood_switch_is_refused_before_its_start_is_looked_at() -> None:
    pair = edited_pair((KIT_FILE, "function: hood switch", "function: horn"))
    assert pair.messages or getattr(pair.match(V6), "code", "") == "no-hood-switch"
