"""One state at a time: what each wire does, and what an open or shorted wire changes."""

import numpy as np
import pytest

from loomwright.network.joining import joined_netlist
from loomwright.network.proof import solved_installation
from loomwright.network.solving import solve_stories
from loomwright.network.states import State
from loomwright.network.stories import Story, stories_of
from loomwright.network.what_if import Bench, WhatIf, bench_of, history_of, what_if
from tests.demonstration import BASE, installation

_IGNITION = "lead:j:ignition/ignition/2"


@pytest.fixture(scope="module")
def bench() -> Bench:
    return bench_of(installation(BASE))


def _ask(bench: Bench, phase: str | None = None, state: State | None = None, **faults: list[str]) -> WhatIf:
    history = history_of(bench.installation, phase, state or State())
    return what_if(bench, history, opened=faults.get("opened", ()), shorted=faults.get("shorted", ()))


def test_a_state_is_solved_as_the_proof_solves_it(bench: Bench) -> None:
    # The proof solves its own netlist, without shorts, all states at once.
    solved = solved_installation(bench.installation)
    story = next(s for s in stories_of(bench.installation) if s.id == "fitted/start")
    now = what_if(bench, story.states[:4])
    lane = next(i for i, s in enumerate(solved.states) if s == story.states[3] and solved.story_of[i] == story.id)
    for point in now.points.values():
        assert point.volts == pytest.approx(solved.volts(point.point.node, lane), abs=1e-6)
        assert not point.changed
    assert now.findings == ()


def test_the_history_of_a_phase_is_that_of_a_start_by_the_kit(bench: Bench) -> None:
    story = next(s for s in stories_of(bench.installation) if s.id == "fitted/start")
    assert history_of(bench.installation, "running", State()) == story.states[:4]
    assert history_of(bench.installation, None, State(key="run")) == (State(key="run"),)


def test_every_kit_wire_and_every_wire_of_the_used_plugs_is_told(bench: Bench) -> None:
    car, joints = bench.installation.car, bench.installation.joints
    plugs = {j.pin.partition("/")[0] for j in joints if j.pin}
    pins = {f"pin:{pin}" for pin, o in car.pins.items() if pin.partition("/")[0] in plugs}
    never = {f"pin:{pin}" for pin, o in car.pins.items() if car.circuits[o.circuit].function == "restraint"}
    assert {name for name, p in bench.points.items() if p.side == "vehicle"} == pins - never
    assert {p.joint for p in bench.points.values() if p.side == "kit"} == {j.id for j in joints}


def test_conditions_follow_key_and_pedal(bench: Bench) -> None:
    rest, run = _ask(bench), _ask(bench, state=State(key="run"))
    assert rest.points["pin:ignition/2"].condition == "dead"
    assert run.points["pin:ignition/2"].condition == "live"
    assert rest.points["lead:j:brake/pedal/2"].condition == "dead"
    pressed = _ask(bench, state=State(active=frozenset({"brake pressed"})))
    assert pressed.points["lead:j:brake/pedal/2"].condition == "live"
    assert next(s for s in pressed.senses if s.function == "brake").reads is True
    assert rest.points["lead:j:hood-switch/body-a/5"].condition == "up"
    hood = _ask(bench, state=State(active=frozenset({"hood open"})))
    assert hood.points["lead:j:hood-switch/body-a/5"].condition == "pulled"


def test_before_the_kit_is_joined_its_leads_hang_loose(bench: Bench) -> None:
    bare = _ask(bench, state=State(stage="bare", key="run"))
    leads = [p for p in bare.points.values() if p.point.side == "kit"]
    assert {p.condition for p in leads} == {"loose"}


def test_an_open_lead_is_the_same_as_a_lead_that_was_never_made(bench: Bench) -> None:
    # Independent way: the element is taken out of the netlist and the story solved anew.
    cut = _ask(bench, "running", opened=[_IGNITION])
    whole = joined_netlist(bench.installation)
    without = type(whole).of([e for e in whole.elements if e.id != "j:ignition/ignition/2/lead"], whole.joints_made)
    states = history_of(bench.installation, "running", State())
    solved = solve_stories(without, [Story(id="s", name="s", states=states)])
    for point in cut.points.values():
        if point.condition != "loose":
            assert point.volts == pytest.approx(solved.volts(point.point.node, len(states) - 1), abs=1e-3)
    assert cut.points["pin:ignition/2"].condition == "dead"
    assert cut.points["pin:ignition/2"].sound_condition == "live"
    assert {f.code for f in cut.findings} == {"dead-when-it-should-live"}
    assert [f.severity for f in cut.findings] == sorted((f.severity for f in cut.findings), reverse=True)


def test_a_short_opens_the_fuse_that_feeds_it_and_no_other(bench: Bench) -> None:
    short = _ask(bench, "running", shorted=[_IGNITION])
    assert short.blown
    first = short.blown[0]
    assert first.element.fuse_a is not None
    # ISO 8820-3: at 135 % and more a blade fuse must open.
    assert first.current_a >= 1.35 * first.element.fuse_a
    assert first.within_s < 1
    # Kit and car have a fuse each in this path; the smaller one goes first and spares the other.
    assert [b.element.origin.side for b in short.blown] == ["kit"]
    assert short.points[_IGNITION].condition in ("dead", "loose")
    assert short.points["pin:ignition/3"].condition == "live"


def test_a_fuse_that_opened_stays_open_in_the_states_that_follow(bench: Bench) -> None:
    feed = "lead:j:battery-feed/ignition/1"
    at_rest, later = _ask(bench, shorted=[feed]), _ask(bench, "running", shorted=[feed])
    assert [b.element.id for b in at_rest.blown] == [b.element.id for b in later.blown][: len(at_rest.blown)]


def test_a_pulled_trigger_does_what_it_is_for(bench: Bench) -> None:
    horn = _ask(bench, shorted=["lead:j:horn/body-a/6"])
    assert horn.points["pin:body-a/6"].condition == "pulled"
    assert horn.blown == ()
    assert any(f.code == "live-when-it-should-be-dead" for f in horn.findings)


def test_faults_are_asked_about_with_words_that_exist(bench: Bench) -> None:
    with pytest.raises(KeyError, match="none"):
        _ask(bench, opened=["lead:none"])
    with pytest.raises(ValueError, match="found no state, expected at least the one asked about"):
        what_if(bench, ())


def test_asking_leaves_the_bench_as_it_was(bench: Bench) -> None:
    before = _ask(bench, "cranking")
    _ask(bench, "cranking", shorted=[_IGNITION], opened=["pin:ignition/3"])
    after = _ask(bench, "cranking")
    assert np.array_equal(
        [p.volts for p in before.points.values()], [p.volts for p in after.points.values()]
    )


def test_a_history_that_goes_on_from_an_answer_is_the_whole_one(bench: Bench) -> None:
    history = history_of(bench.installation, "running", State())
    wire = next(name for name, point in bench.points.items() if point.joint is not None and "start" in name)
    for shorted in ((), (wire,)):
        whole = what_if(bench, history, shorted=shorted)
        begun = what_if(bench, history[:2], shorted=shorted)
        rest = what_if(bench, history[2:], shorted=shorted, since=begun)
        assert [b.element.id for b in rest.blown] == [b.element.id for b in whole.blown]
        assert (rest.latched == whole.latched).all()
        for name, point in whole.points.items():
            assert rest.points[name].condition == point.condition
            assert rest.points[name].volts == pytest.approx(point.volts, abs=1e-9)
