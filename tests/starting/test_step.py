"""The controller's step: what it reads, what it takes for unsafe, and that its outputs follow the present inputs."""

import random
from dataclasses import replace

import pytest

from loomwright.starting.guards import GUARDS
from loomwright.starting.modes import ENGINE, INPUTS, MODES, REST, Inputs, Mode, Timer, changed
from loomwright.starting.settings import StartSettings
from loomwright.starting.step import READS, reads, step
from loomwright.starting.tables import DOMAIN
from tests.starting.cases import CASES, CRANKING, NOTHING, RUNNING, START, everything, settings

_TIMERS: tuple[Timer, ...] = tuple(dict.fromkeys(t for r in READS.values() for t in r.timers))


def _drawn(rng: random.Random) -> Inputs:
    values: dict[str, object] = {n: rng.choice((*domain, None)) for n, domain in DOMAIN.items()}
    return changed(REST, values | {"request": rng.choice(DOMAIN["request"])})


def _every_setting() -> list[StartSettings]:
    return [*(settings(case) for case in CASES), everything()[0]]


@pytest.mark.parametrize("mode", MODES)
def test_an_input_that_a_mode_does_not_read_never_changes_what_it_does(mode: str) -> None:
    rng = random.Random(20260701)
    for one in _every_setting():
        read = reads(mode, one)  # type: ignore[arg-type]
        for _ in range(300):
            state = Mode(name=mode, attempts=rng.randint(0, one.attempts))  # type: ignore[arg-type]
            inputs, expired = _drawn(rng), frozenset(t for t in _TIMERS if rng.random() < 0.3)
            before = step(state, inputs, expired, one)
            for name in set(INPUTS) - set(read.inputs):
                for value in (*DOMAIN[name], None)[: 3 if name == "request" else None]:
                    assert step(state, changed(inputs, {name: value}), expired, one) == before, name
            # Timers of other modes are nothing to it.
            assert step(state, inputs, expired & frozenset(read.timers), one) == before


def test_an_undefined_safety_input_counts_as_unsafe() -> None:
    one, _ = everything()
    for name in ("hood_open", "brake_pressed", "in_park", "door_open"):
        for mode in (CRANKING, RUNNING):
            decision = step(mode, changed(replace(REST, engine="cranking"), {name: None}), NOTHING, one)
            assert decision.mode.name == "stopping", name
            assert not decision.commands, name
    lost = step(RUNNING, replace(REST, engine=None), NOTHING, one)
    assert (lost.mode.name, lost.commands) == ("stopping", frozenset())


def test_the_starter_follows_the_present_input_and_is_not_one_step_late() -> None:
    one = settings("keyed V6, speed by wire")
    assert "start" in step(CRANKING, replace(REST, engine="cranking"), NOTHING, one).commands
    for change in ({"hood_open": True}, {"brake_pressed": True}, {"engine": "running"}, {"request": "stop"}):
        found = step(CRANKING, changed(replace(REST, engine="cranking"), change), NOTHING, one)
        assert "start" not in found.commands, change


def test_a_second_request_changes_nothing_once_the_first_is_under_way() -> None:
    one = settings("keyed V6, speed by wire")
    for mode, engine in ((CRANKING, "cranking"), (RUNNING, "running")):
        inputs = changed(REST, {"engine": engine})
        assert step(mode, replace(inputs, request="start"), NOTHING, one) == step(mode, inputs, NOTHING, one)


def test_a_pulsed_start_ends_its_signal_and_keeps_the_ignition() -> None:
    one = settings("computer cranks")
    turning = replace(REST, engine="cranking")
    assert "start" in step(CRANKING, turning, NOTHING, one).commands
    after = step(CRANKING, turning, frozenset({"pulse"}), one)
    assert after.mode == CRANKING
    assert "start" not in after.commands
    assert "ignition" in after.commands


def test_the_press_that_stops_a_button_car_is_given_to_a_running_engine_only() -> None:
    one = settings("button")
    stopping = Mode(name="stopping")
    for engine in ENGINE:
        commands = step(stopping, replace(REST, engine=engine), NOTHING, one).commands
        assert commands == (frozenset({"start button"}) if engine in ("running", "over") else frozenset()), engine
    assert not step(stopping, replace(REST, engine="running"), frozenset({"stop press"}), one).commands


def test_settings_come_from_the_kit_document_and_the_routes() -> None:
    wire, diesel, voltage = (
        settings(case)
        for case in ("keyed V6, speed by wire", "diesel by lamp over the bus", "diesel, speed by voltage")
    )
    assert (wire.detection, diesel.detection, voltage.detection) == ("wire", "bus", "voltage")
    assert (wire.times_s["run time"], wire.times_s["crank limit"], wire.attempts) == (900.0, 4.0, 2)
    assert (wire.wait, diesel.wait) == ("none", "lamp")
    assert settings("computer cranks").times_s["pulse"] == 1.2
    assert not settings("button").keyed
    # Two thirds of the 680 rpm that the vehicle states.
    assert wire.disengage_rpm == pytest.approx(453, abs=1)


def test_every_guard_names_an_input_and_values_it_can_have() -> None:
    for guard in GUARDS:
        assert guard.unsafe <= set(DOMAIN[guard.input]), guard.id
        assert guard.modes <= set(MODES), guard.id
    assert step(Mode(), START, NOTHING, settings("button")).mode.name == "checking"
