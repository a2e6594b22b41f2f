"""Exploration: what holds in every order of events, and that each guard and limit is needed for it."""

from dataclasses import replace

import pytest

from loomwright.network.proof import solved_installation
from loomwright.starting.explore import explore, explore_settings
from loomwright.starting.guards import GUARDS, LIMITS
from loomwright.starting.properties import PROPERTIES
from tests.starting.cases import CASES, everything, installation, settings, wiring

# Which property tells that a guard or a limit is gone.
_BREAKS_GUARD = {
    "valet": "valet", "hood": "starter-hood", "pedal": "starter-pedal", "park": "starter-park",
    "parking brake": "starter-parking-brake", "door": "door-stops", "key": "key-in-lock",
    "own engine": "driving-refused", "over-speed": "over-speed", "battery": "low-battery",
}  # fmt: skip
_BREAKS_LIMIT = {
    "let go": "starter-running", "still first": "engage-turning", "crank limit": "crank-limit", "attempts": "attempts",
    "run time": "run-time", "lost speed": "lost-speed", "key out": "door-stops", "ignition limit": "ignition-bounded",
    "wait limit": "wait-bounded",
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_every_property_holds_in_the_demonstration(case: str) -> None:
    found = explore(installation(case))
    broken = {h.id: [s.words for s in h.story] for h in found.properties if not h.holds}
    assert broken == {}
    assert found.states > 50
    assert found.transitions > 10_000


@pytest.mark.parametrize("case", CASES)
def test_every_command_vector_that_comes_about_was_solved_by_the_proof(case: str) -> None:
    solved = solved_installation(installation(case))
    proved = {state.commands for state in solved.states if state.stage == "fitted"}
    assert set(explore(installation(case)).vectors) <= proved


def test_everything_holds_where_the_controller_reads_all_there_is() -> None:
    found = explore_settings(*everything())
    assert [h.id for h in found.properties if not h.holds] == []
    assert {h.id for h in found.properties} == {p.id for p in PROPERTIES}


@pytest.mark.parametrize("guard", [g.id for g in GUARDS])
def test_taking_a_guard_away_breaks_the_property_it_is_there_for(guard: str) -> None:
    one, wires = everything()
    weaker = replace(one, guards=tuple(g for g in one.guards if g.id != guard))
    found = {h.id: h for h in explore_settings(weaker, wires).properties}
    broken = found[_BREAKS_GUARD[guard]]
    assert not broken.holds
    assert broken.story[-1].words


@pytest.mark.parametrize("limit", sorted(LIMITS))
def test_taking_a_limit_away_breaks_the_property_it_is_there_for(limit: str) -> None:
    one, wires = everything()
    found = {h.id: h for h in explore_settings(replace(one, limits=one.limits - {limit}), wires).properties}
    assert not found[_BREAKS_LIMIT[limit]].holds


def test_the_story_of_a_broken_property_is_the_shortest_and_tells_each_step() -> None:
    one = settings("keyed V6, speed by wire")
    weaker = replace(one, guards=tuple(g for g in one.guards if g.id != "hood"))
    found = {h.id: h for h in explore_settings(weaker, wiring("keyed V6, speed by wire")).properties}
    story = found["starter-hood"].story
    # Ask, check, ignition settled with the hood open: nothing shorter cranks.
    assert [s.number for s in story] == [1, 2, 3]
    assert "hood is open" in story[-1].words
    assert "start" in story[-1].outputs


def test_a_selector_that_moves_without_a_key_stops_the_engine_by_the_pedal() -> None:
    # The kit has no park input in this car: the pedal, which the selector needs, is what drops it.
    one = settings("keyed V6, speed by wire")
    assert "in_park" not in one.senses
    weaker = replace(one, guards=tuple(g for g in one.guards if g.id != "pedal"))
    found = {h.id: h for h in explore_settings(weaker, wiring("keyed V6, speed by wire")).properties}
    assert not found["no-key-no-drive"].holds


def test_of_a_button_car_only_what_the_kit_asks_for_is_claimed() -> None:
    # Its own computer cranks on once it was asked: a rehearsal shows the starter turning with the hood open, so no
    # property may say that it never does.
    told = {h.id: h.words for h in explore(installation("button")).properties}
    assert told["starter-hood"] == "The kit never asks the car to crank with the hood open."
    assert not any(words.startswith("The starter never turns with the hood") for words in told.values())
    keyed = {h.id: h.words for h in explore(installation("keyed V6, speed by wire")).properties}
    assert keyed["starter-hood"] == "The starter never turns with the hood open."
