"""Wrong pins of the demo pair: what tells them, what does not, and what they do."""

from functools import cache

import pytest

from loomwright.faults.landing import landings
from loomwright.faults.misjoined import Mistake, harm_states, misjoined
from loomwright.faults.wrong_pins import TELLING_GAP_V, WrongPin, wrong_pins
from loomwright.network.joining import joined_netlist
from loomwright.network.solving import solve_stories
from loomwright.network.stories import Story
from tests.demonstration import V6, car, installation


@cache
def _found() -> dict[tuple[str, str], WrongPin]:
    return {(w.joint, w.landed): w for w in wrong_pins(installation(V6))}


def test_nobody_is_led_to_an_airbag_wire() -> None:
    restraint = {p for p, o in car(V6).pins.items() if car(V6).circuits[o.circuit].function == "restraint"}
    assert restraint
    assert not restraint & {w.landed for w in _found().values()}


def test_every_pin_lands_on_its_neighbours_first() -> None:
    ways = landings(car(V6), "body-a/6")
    assert [(w.pin, w.how) for w in ways[:2]] == [("body-a/5", "one off"), ("body-a/11", "wrong side")]


def test_the_brake_lead_on_the_feed_side_is_told_with_the_foot_off_the_pedal() -> None:
    wrong = _found()["j:brake/pedal/2", "pedal/1"]
    assert wrong.told_by is not None
    assert wrong.told_by.state.active == frozenset()
    assert wrong.told_by.gap_v > 12.0
    assert [(h.kind, h.subject) for h in wrong.harms] == [("read wrongly", "brake")]


def test_two_feeds_on_separate_fuses_read_alike_and_no_reading_is_made_up() -> None:
    wrong = _found()["j:battery-feed/ignition/1", "ignition/5"]
    assert wrong.told_by is None
    assert all(s.gap_v < TELLING_GAP_V for s in wrong.shown)


def test_an_output_on_the_start_wire_would_turn_the_starter_once_the_kit_works() -> None:
    wrong = _found()["j:ignition/ignition/2", "ignition/6"]
    harm = next(h for h in wrong.harms if h.subject == "start")
    assert (harm.kind, harm.later) == ("made live", True)


def test_a_trigger_on_the_wrong_wire_operates_it() -> None:
    wrong = _found()["j:horn/body-a/6", "body-a/5"]
    assert ("operated", "hood-switch") in {(h.kind, h.subject) for h in wrong.harms}


def test_a_joint_moved_nowhere_else_is_the_clean_car() -> None:
    """The batch with a mistake in another lane must not disturb a lane: compared with the installation solved alone."""
    whole = installation(V6)
    joint = next(j for j in whole.joints if j.function == "horn")
    landing = next(w for w in landings(whole.car, joint.pin or "") if w.pin == "body-a/5")
    states = harm_states(whole)[:4]
    solved = misjoined(whole, [Mistake(joint=joint, landing=landing)], states)
    alone = solve_stories(joined_netlist(whole), [Story(id=str(n), name="", states=(s,)) for n, s in enumerate(states)])
    for n, _ in enumerate(states):
        for node in ("batt+", "e:ignition-1/load", "e:accessory/load"):
            assert solved.voltage[solved.compiled.node[node], 0, n] == pytest.approx(alone.volts(node, n), abs=1e-6)


def test_most_wrong_pins_are_told_by_one_measurement() -> None:
    told = [w for w in _found().values() if w.told_by is not None]
    assert len(told) > 0.9 * len(_found())
