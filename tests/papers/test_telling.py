"""The readings a guide asks for are few, and still no exchange of wires passes unseen that a meter could show.

Every exchange is tried, one by one, against the limits printed and the volts of the untouched car.
"""

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import pairwise, permutations

import pytest

from loomwright.network.results import Reading
from loomwright.papers.measures import METER_V
from loomwright.papers.reading_fields import limits_of
from loomwright.papers.slips import Slips, slips_of
from loomwright.papers.telling import at_free_plugs, by_state, effort, of_plug, of_wire
from tests.pairs import PAIRS
from tests.papers.builders import VARIANTS, built, built_pair, steps

variants = pytest.mark.parametrize("variant", VARIANTS)


@cache
def _slips(variant: str) -> Slips:
    return slips_of(built(variant).job)


def _passes(slips: Slips, reading: Reading, pin: str) -> bool:
    """Tell whether the wire of a pin would pass as right in a reading of another one."""
    volts = slips.at(pin, reading.band.state)
    assert volts is not None
    if reading.flicker:
        return False
    limits = limits_of(reading.band)
    return limits.low - METER_V <= volts <= limits.high + METER_V


def _unseen(
    slips: Slips, taken: Mapping[str, Sequence[Reading]], pins: Mapping[str, str]
) -> set[tuple[tuple[str, str], ...]]:
    """Return every exchange of the wires that all readings let pass, as pairs (meant, found there instead)."""
    names = list(pins)
    passes = {(a, b) for a in names for b in names if all(_passes(slips, r, pins[b]) for r in taken[a])}
    unseen = set()
    for order in permutations(names):
        moved = tuple((a, b) for a, b in zip(names, order, strict=True) if a != b)
        if moved and passes.issuperset(moved):
            unseen.add(moved)
    return unseen


def _plug(variant: str) -> dict[str, tuple[Reading, ...]]:
    made = built(variant)
    action = next(a for a in made.job.order if a.kind == "T")
    return {str(j.pin): made.readings.of(j.id, "identify") for j in action.joints}


def _ends(variant: str) -> tuple[dict[str, tuple[Reading, ...]], dict[str, str]]:
    made = built(variant)
    found = {j.id: r for j in made.job.ordered_joints if (r := made.readings.of(j.id, "after joining"))}
    by_hand = {j.id: str(j.pin) for j in made.installation.joints if j.kind == "tap" and j.id in found}
    return found, by_hand


def _grouped(taken: Sequence[tuple[str, Reading]]) -> dict[str, list[Reading]]:
    out: dict[str, list[Reading]] = {}
    for name, reading in taken:
        out.setdefault(name, []).append(reading)
    return out


@variants
def test_no_exchange_in_a_plug_passes_that_all_readings_would_show(variant: str) -> None:
    slips, found = _slips(variant), _plug(variant)
    taken = _grouped(of_plug(slips, found))
    pins = {pin: pin for pin in found}
    assert _unseen(slips, taken, pins) == _unseen(slips, found, pins)
    assert sum(map(len, taken.values())) * 2 <= sum(map(len, found.values()))
    # Only the two feeds from the battery look alike to a meter.
    assert len(_unseen(slips, found, pins)) == 1


@variants
def test_each_pin_of_a_plug_is_read_live_and_where_it_can_be_dead(variant: str) -> None:
    slips, found = _slips(variant), _plug(variant)
    for pin, readings in _grouped(of_plug(slips, found)).items():
        volts = [r.band.nominal for r in readings]
        assert max(volts) > 8.0, pin
        if any(r.band.nominal < 1.0 for r in found[pin]):
            assert min(volts) < 1.0, pin


@variants
def test_no_exchange_of_joined_leads_passes_that_all_readings_would_show(variant: str) -> None:
    slips, (found, by_hand) = _slips(variant), _ends(variant)
    assert len(by_hand) >= 4
    taken = _grouped(at_free_plugs(slips, found, by_hand))
    assert _unseen(slips, taken, by_hand) == _unseen(slips, found, by_hand) == set()
    # One reading each, and fewer second ones than leads that rest alike.
    assert set(taken) == set(found)
    assert sum(map(len, taken.values())) < len(found) + len(by_hand)


@variants
def test_without_the_second_readings_an_exchange_would_pass(variant: str) -> None:
    slips, (found, by_hand) = _slips(variant), _ends(variant)
    taken = _grouped(at_free_plugs(slips, found, by_hand))
    assert _unseen(slips, {name: readings[:1] for name, readings in taken.items()}, by_hand)


@variants
def test_a_lead_is_read_live_at_its_end_where_it_can_be_so_that_the_joint_is_shown_to_conduct(variant: str) -> None:
    slips, (found, by_hand) = _slips(variant), _ends(variant)
    for name, readings in _grouped(at_free_plugs(slips, found, by_hand)).items():
        if any(r.band.nominal > 11.0 for r in found[name]):
            assert any(r.band.nominal > 11.0 for r in readings), name


@variants
def test_the_state_changes_as_seldom_as_can_be(variant: str) -> None:
    slips, (found, by_hand) = _slips(variant), _ends(variant)
    for taken in (at_free_plugs(slips, found, by_hand), of_plug(slips, _plug(variant))):
        states = [(r.clip, r.band.state.key, r.band.state.active) for _, r in taken]
        changes = sum(a != b for a, b in pairwise(states))
        assert changes == len(set(states)) - 1
        keys = [key for _, key, _ in states]
        assert keys == sorted(keys, key=("off", "acc", "run", "crank").index)
    assert by_state([]) == ()


@variants
def test_a_wire_joined_by_hand_is_told_from_every_pin_that_a_reading_could_tell(variant: str) -> None:
    made, slips = built(variant), _slips(variant)
    for joint in made.installation.joints:
        every = made.readings.of(joint.id, "identify")
        if joint.kind != "tap" or not every:
            continue
        others = slips.pins[str(joint.pin)]
        taken = of_wire(slips, every, others, pair_only=False)
        assert list(taken) == sorted(taken, key=lambda r: effort(r.band.state))
        for other in others:
            if not all(_passes(slips, r, other) for r in every):
                assert not all(_passes(slips, r, other) for r in taken), (joint.id, other)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_a_wire_that_a_switch_changes_is_read_on_both_sides_of_it(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    bands = {r.id: r.band for r in made.readings.readings}
    polled = 0
    for joint in made.installation.joints:
        every = made.readings.of(joint.id, "identify")
        told = [r.id for s in steps(made.guide) if s.id == f"measure:{joint.id}" for r in s.readings]
        if told and len({r.band.state.active for r in every}) > 1:
            assert len({bands[i].state.active for i in told}) > 1, joint.label
            polled += any(r.flicker for r in every)
    if pair[0] == "averdahl-siskin":
        assert polled, "its door switch is asked in short pulses"
