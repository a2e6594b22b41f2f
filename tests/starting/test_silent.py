"""Single faults of an input's wiring: which pass unnoticed, which test shows them, and what masks that test."""

from dataclasses import replace

import pytest

from loomwright.starting.trying import CARELESS, TESTS, needed_tests, outcome, starts
from loomwright.starting.wiring import InputFault
from tests.kept import start_report_of
from tests.starting.cases import CASES, everything, installation, settings, wiring


@pytest.mark.parametrize("case", CASES)
def test_every_silent_fault_is_shown_by_some_test(case: str) -> None:
    report = start_report_of(installation(case))
    assert [f.fault.id for f in report.silent if not f.revealed_by] == []
    assert {f.id for f in report.wiring.faults} == {f.fault.id for f in report.silent} | set(report.noticed)


@pytest.mark.parametrize("case", CASES)
def test_a_lead_that_came_off_leaves_hood_and_pedal_unprotected(case: str) -> None:
    report = start_report_of(installation(case))
    silent = {f.fault.id.rpartition("!")[2] + " " + f.fault.input: f for f in report.silent}
    assert "starter-hood" in silent["lead-off hood_open"].defeats
    assert "pedal-stops" in silent["lead-off brake_pressed"].defeats
    assert "hood" in silent["lead-off hood_open"].revealed_by
    assert "the kit cranking" in " ".join(silent["lead-off hood_open"].story) or silent["lead-off hood_open"].story


def test_a_hood_test_with_the_foot_on_the_brake_proves_nothing() -> None:
    report = start_report_of(installation("keyed V6, speed by wire"))
    hood = next(f for f in report.silent if f.fault.input == "hood_open" and f.fault.kind == "lead off")
    assert "a foot on the brake pedal" in hood.masked_by["hood"]
    # Tried by hand: with the pedal pressed the engine is off already, hood switch or not.
    case = "keyed V6, speed by wire"
    test = next(t for t in TESTS if t.id == "hood")
    broken = {**wiring(case).sound, "hood_open": hood.fault.levels}
    careless = {"brake_pressed": True}
    assert outcome(test, broken, settings(case), careless) == outcome(
        test, wiring(case).sound, settings(case), careless
    )
    assert outcome(test, broken, settings(case)) != outcome(test, wiring(case).sound, settings(case))


def test_an_input_that_reads_true_for_ever_is_noticed_at_once() -> None:
    report = start_report_of(installation("keyed V6, speed by wire"))
    assert {f.id for f in report.wiring.faults if f.kind == "stuck true"} <= set(report.noticed)


def test_a_shorted_brake_lead_blows_the_lamp_fuse_and_then_reads_nothing() -> None:
    # The pedal's wire is fused: shorted to ground it goes dead when the pedal is pressed.
    wires = wiring("keyed V6, speed by wire")
    short = next(f for f in wires.faults if f.input == "brake_pressed" and f.kind == "short to ground")
    assert set(short.levels["running"].values()) == {False}


def test_a_lost_wait_lamp_lead_lets_a_cold_diesel_crank_too_early() -> None:
    report = start_report_of(installation("diesel, speed by voltage"))
    lost = next(f for f in report.silent if f.fault.input == "wait_lamp" and f.fault.kind == "lead off")
    assert lost.defeats == ("wait-lamp",)
    assert lost.revealed_by == ("lamp",)


def test_a_silent_engine_speed_is_noticed_by_the_first_start() -> None:
    report = start_report_of(installation("keyed V6, speed by wire"))
    assert {f.id for f in report.wiring.faults if f.input == "engine"} <= set(report.noticed)


@pytest.mark.parametrize("case", CASES)
def test_the_needed_tests_show_every_silent_fault_with_everything_else_at_rest(case: str) -> None:
    report = start_report_of(installation(case))
    needed = needed_tests(report.settings, report.wiring)
    shown = {f.id: n for n in needed for f in n.shows}
    for fault in report.silent:
        assert fault.fault.id in shown, fault.words
        assert shown[fault.fault.id].test.id == fault.revealed_by[0]
    for one in needed:
        for shows in one.shows:
            broken = {**report.wiring.sound, shows.input: shows.levels}
            assert outcome(one.test, broken, report.settings) != outcome(one.test, report.wiring.sound, report.settings)


@pytest.mark.parametrize("case", CASES)
def test_what_masks_a_needed_test_is_all_that_does(case: str) -> None:
    one, sound = settings(case), wiring(case).sound
    for needed in needed_tests(one, wiring(case)):
        for name, value in CARELESS.items():
            if name in needed.test.sets or name not in one.senses:
                continue
            hidden = [
                f.id for f in needed.shows
                if outcome(needed.test, {**sound, f.input: f.levels}, one, {name: value})
                == outcome(needed.test, sound, one, {name: value})
            ]  # fmt: skip
            assert bool(hidden) is (name in needed.clear), (needed.test.id, name)


@pytest.mark.parametrize("name", ["in_park", "parking_brake"])
def test_a_kit_that_reads_selector_or_parking_brake_needs_their_tests(name: str) -> None:
    one, wires = everything()
    stuck = InputFault(
        id="x!stuck-true", input=name, function=name, kind="stuck true", words=f"{name} always reads true",
        levels={phase: {False: True, True: True} for phase in wires.sound["engine"]},
    )  # fmt: skip
    assert starts({**wires.sound, name: stuck.levels}, one)
    found = needed_tests(one, replace(wires, faults=(stuck,)))
    assert [n.test.id for n in found] == ["selector" if name == "in_park" else "parking-brake"]
    assert "brake_pressed" in found[0].clear, "a foot on the pedal hides it"
