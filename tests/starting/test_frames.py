"""A rehearsal event by event: nothing that happened is left out, and each circuit is the rehearsal's own."""

import pytest

from loomwright.network.battery_held import starter_motors
from loomwright.network.what_if import Held, bench_of, what_if
from loomwright.planning.installation import Installation
from loomwright.starting.frames import start_steps
from loomwright.starting.port import Port
from loomwright.starting.record import Rehearsal
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from tests.pairs import PAIRS, installations

_NAMES = ("warm", "stall", "hood", "kit-fuse", "power-lost")


def _rehearsed(pair: tuple[str, str], name: str) -> tuple[Installation, Rehearsal]:
    installation = installations(pair, 1)[0]
    return installation, rehearse(installation, SCENARIOS[name])


@pytest.mark.parametrize("name", _NAMES)
@pytest.mark.parametrize("pair", PAIRS[:3], ids=lambda p: p[0])
def test_every_happening_stands_in_one_step_and_steps_follow_each_other(pair: tuple[str, str], name: str) -> None:
    _, rehearsal = _rehearsed(pair, name)
    steps = start_steps(rehearsal)
    told = [words for step in steps for words in step.words]
    happened = [h.words for h in rehearsal.happenings]
    assert [w for w in told if w in happened] == happened
    assert all(step.words for step in steps)
    assert [s.time_s for s in steps[1:]] == [s.until_s for s in steps[:-1]]
    assert steps[-1].until_s == rehearsal.scenario.lasts_s
    assert min(s.lowest_v for s in steps) >= rehearsal.lowest_v * (0 if name == "power-lost" else 1) - 0.001
    assert max(s.starter_a for s in steps) <= rehearsal.starter_peak_a + 0.01


@pytest.mark.parametrize("name", ["warm", "kit-fuse"])
@pytest.mark.parametrize("pair", PAIRS[:3], ids=lambda p: p[0])
def test_the_picture_of_a_step_is_the_network_that_the_rehearsal_solved(pair: tuple[str, str], name: str) -> None:
    installation, rehearsal = _rehearsed(pair, name)
    steps, bench, port = start_steps(rehearsal), bench_of(installation), Port(installation)
    latched = port.rest()
    for number, step in enumerate(steps, 1):
        equivalent = port.at(step.state, step.battery_v, latched, step.opened)
        latched = equivalent.latched
        seen = what_if(bench, [s.state for s in steps[:number]], held=[s.held for s in steps[:number]])
        assert seen.battery_v == pytest.approx(step.battery_v, abs=0.02)
        for point in seen.points.values():
            at = port.node.get(point.point.node)
            if at is not None and point.condition != "loose":
                assert point.volts == pytest.approx(equivalent.volts(at, step.battery_v), abs=0.05), point.point.id


def test_a_battery_held_at_a_voltage_has_it_whatever_the_circuit_takes() -> None:
    installation = installations(PAIRS[0], 1)[0]
    bench = bench_of(installation)
    step = start_steps(rehearse(installation, SCENARIOS["warm"]))[3]
    for volts in (0.0, 6.0, 12.6, 14.4):
        seen = what_if(bench, [step.state], held=[Held(battery_v=volts)])
        assert seen.battery_v == pytest.approx(volts, abs=0.02)
    assert len(starter_motors(bench.compiled)) >= 1


def test_as_many_voltages_as_states_are_asked_for() -> None:
    installation = installations(PAIRS[0], 1)[0]
    step = start_steps(rehearse(installation, SCENARIOS["warm"]))[0]
    with pytest.raises(ValueError, match="held: found 0, expected one for each of 1 states"):
        what_if(bench_of(installation), [step.state], held=[])
