"""What part C reads at the end of a lead was read at its wire in part A, with what the lead is for operated."""

import pytest

from loomwright.network.results import Reading
from loomwright.papers.reading_fields import limits_of
from loomwright.papers.saying import plain
from loomwright.papers.telling import same_state
from tests.pairs import EVERY_PAIR
from tests.papers.builders import Built, built_pair, steps

pairs = pytest.mark.parametrize("pair", EVERY_PAIR, ids="-".join)


def _printed(made: Built, purpose: str) -> list[Reading]:
    shown = {f.id for s in steps(made.guide) for f in s.readings}
    return [r for r in made.readings.readings if r.id in shown and r.purpose == purpose]


@pairs
def test_part_c_sends_back_to_a_line_that_part_a_has(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    before, after = _printed(made, "identify"), _printed(made, "after joining")
    grounds = {j.id for j in made.installation.joints if j.kind == "ground point"}
    assert after
    for reading in after:
        if reading.joint not in grounds:
            assert any(
                b.joint == reading.joint and same_state(b.band.state, reading.band.state) for b in before
            ), reading.id


def test_a_wire_with_two_buttons_is_read_with_the_one_that_the_lead_is_for() -> None:
    made = built_pair(("torvane-eamont", "dunlin-7"))
    for function, pressed, other in (("lock", "lock pressed", "unlock pressed"),
                                     ("unlock", "unlock pressed", "lock pressed")):
        joint = next(j for j in made.installation.joints if j.function == function)
        states = [r.band.state.active for r in _printed(made, "identify") if r.joint == joint.id]
        assert any(pressed in active for active in states)
        assert not any(other in active for active in states)
    # What each step should show lies apart, or the two readings would not tell the buttons apart.
    either = {"lock pressed", "unlock pressed"}
    limits = {r.joint: limits_of(r.band) for r in _printed(made, "identify") if r.band.state.active & either}
    lock, unlock = sorted(limits.values(), key=lambda m: m.high)
    assert lock.high < unlock.low


def test_a_wire_that_hangs_on_the_pedal_is_read_with_the_pedal_pressed() -> None:
    made = built_pair(("averdahl-siskin", "dunlin-7"))
    joint = next(j for j in made.installation.joints if j.function == "brake line")
    bands = [r.band for r in _printed(made, "identify") if r.joint == joint.id]
    assert all(b.nominal > 10.0 if "brake pressed" in b.state.active else b.nominal < 1.0 for b in bands)
    assert {"brake pressed" in b.state.active for b in bands} == {True, False}


@pairs
def test_each_fuse_of_the_kit_is_named_wherever_fuses_come_out_or_go_in(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    fused = [j for j in made.installation.joints if made.job.is_fused(j)]
    assert fused
    by_id = {s.id: s for s in steps(made.guide)}
    into = " ".join(plain(d) for d in by_id["fuses-in"].do)
    for joint in fused:
        assert f"{joint.label} {made.job.fuse(joint).value:g}" in into.replace("\u00a0", " "), joint.id
        assert joint.label in " ".join(plain(d) for d in by_id["wait"].do)
        place = made.installation.car.places[str(joint.place)].name
        assert place in by_id["fuses-in"].place, joint.id
