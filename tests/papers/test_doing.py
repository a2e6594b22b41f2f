"""The states of the guide's readings in words: where the key is, and what must stay at rest."""

import pytest

from loomwright.network.joining import bare_netlist
from loomwright.network.paths import pin_nodes
from loomwright.network.solving import solve_stories
from loomwright.network.states import State
from loomwright.network.stories import Story, stimuli_of
from loomwright.papers.reading_fields import limits_of
from loomwright.papers.words.en import naming
from tests.pairs import PAIRS
from tests.papers.builders import Built, built_pair, steps

pairs = pytest.mark.parametrize("pair", PAIRS, ids="-".join)


def _read(made: Built) -> list[tuple[str, State, str]]:
    """Return (reading id, state, words of the state) of every reading of part A."""
    bands = {r.id: r.band.state for r in made.readings.readings}
    return [(r.id, bands[r.id], r.state) for s in steps(made.guide) for r in s.readings if r.id in bands]


@pairs
def test_with_the_key_off_it_is_out_of_the_lock_unless_the_reading_wants_it_in(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    for reading, state, words in _read(made):
        if made.job.has_button:
            assert "key out" not in words, reading
        elif state.key == "off":
            in_lock = "key in lock" in state.active
            assert words.startswith("key in the ignition lock, not turned" if in_lock else "key out")


@pairs
def test_whatever_would_move_a_reading_out_of_its_band_is_named_at_rest(pair: tuple[str, str]) -> None:
    """Each reading is computed again with each single thing that somebody could do; what spoils it must be told."""
    made = built_pair(pair)
    car = made.job.car
    by_id = {r.id: r for r in made.readings.readings}
    wanted = [(i, s, w) for i, s, w in _read(made) if s.stage == "bare" and s.key != "crank" and "check:" not in i]
    assert len(wanted) > 10
    may = [x for x in stimuli_of(car) if x in naming.RESTING and x != "key in lock"]
    more = [
        (i, x, State(stage="bare", key=s.key, active=s.active | {x}))
        for i, s, _ in wanted
        for x in may
        if x not in s.active
    ]
    solved = solve_stories(
        bare_netlist(car), [Story(id=str(n), name="", states=(s,)) for n, (_, _, s) in enumerate(more)],
        made.readings.battery_v,
    )  # fmt: skip
    lane = {state: n for n, state in enumerate(solved.states)}
    pins = {j.id: j.pin for j in made.installation.joints}
    said = {i: w for i, _, w in wanted}
    spoiled = 0
    for i, stimulus, state in more:
        reading, pin = by_id[i], pins[by_id[i].joint]
        assert pin is not None
        volts = solved.volts(pin_nodes(pin)[0], lane[state])
        limits = limits_of(reading.band)
        if reading.band.driven and not limits.low - 1e-6 <= volts <= limits.high + 1e-6:
            spoiled += 1
            at_rest = naming.RESTING[stimulus] in said[i] or "nobody at the" in said[i]
            assert at_rest, (i, stimulus, volts, said[i])
    assert spoiled
