"""What federal rules ask of a car in the way of a start, and what the exploration makes of it: each with its source."""

from dataclasses import replace

import numpy as np
import pytest

from loomwright.starting.explore import explore_settings, searcher
from loomwright.starting.modes import MODES
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import start_settings
from loomwright.starting.wiring import wiring_of
from tests.pairs import PAIRS, installations
from tests.starting.cases import CASES, everything, installation, settings, wiring


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_the_starter_does_not_work_in_a_drive_position(pair: tuple[str, str]) -> None:
    # Source: 49 CFR 571.102 S3.1.3 (published): the engine starter shall be inoperative when the transmission is in a
    # forward or reverse drive position.
    for one in installations(pair, 2):
        at = start_settings(one)
        wires = wiring_of(one, at)
        held = {h.id: h.holds for h in explore_settings(at, wires).properties}
        assert held["starter-park"]
        # What keeps it off is the car itself or an input of the kit; the words say which.
        assert wires.interlocked or "in_park" in at.senses
        assert wires.interlock_words
        run = rehearse(one, SCENARIOS["out-of-park"], at)
        assert run.cranks == ()


def test_a_car_without_a_starter_interlock_is_found_out() -> None:
    # Source: 49 CFR 571.102 S3.1.3 again: with the car's interlock taken away and no park input the property breaks, so
    # the test above can fail.
    one = settings("keyed V6, speed by wire")
    assert "in_park" not in one.senses
    bridged = replace(wiring("keyed V6, speed by wire"), interlocked=False)
    found = {h.id: h for h in explore_settings(one, bridged).properties}
    assert not found["starter-park"].holds
    assert "selector leaves park" in " ".join(s.words for s in found["starter-park"].story)


@pytest.mark.parametrize("case", CASES)
def test_without_the_key_the_engine_is_dropped_as_the_selector_leaves_park(case: str) -> None:
    # Source: 49 CFR 571.114 S5.1.1 (published, 2007 text): with the key removed the car must not move by its own power;
    # NHTSA letter of 7 May 1984 on a remote starter whose engine stops as the selector leaves park (published).
    held = {h.id: h.holds for h in explore_settings(settings(case), wiring(case)).properties}
    assert held["no-key-no-drive"]
    run = rehearse(installation(case), SCENARIOS["selector"], settings(case))
    assert not run.engine_lives


def test_the_selector_leaves_park_only_with_the_pedal_pressed() -> None:
    # Source: 49 CFR 571.114 S5.3 (from memory; 74 FR 42837 published): brake-shift interlock in any key position.
    one, wires = everything()
    search = searcher(one, wires)
    for mode in MODES:
        value = search.grids[mode].value
        for engine in range(4):
            ok = search.allowed(mode, 0, 0, engine, 0)
            leaves = ok & (value["in_park"] != 0)
            assert bool(np.all(value["brake_pressed"][leaves] != 0)), mode
            assert leaves.any(), "it may leave with the pedal pressed"


def test_a_key_comes_out_of_its_lock_in_park_only() -> None:
    # Source: 49 CFR 571.114 S5.2 (history published, present numbering from memory): key removable in park only.
    one, wires = everything()
    search = searcher(one, wires)
    for mode in MODES:
        value = search.grids[mode].value
        ok = search.allowed(mode, 1, 1, 0, 0)  # out of park with the key in
        out = ok & (value["key_in"] == 0)
        assert bool(np.all(value["in_park"][out] == 0)), mode


@pytest.mark.parametrize("case", CASES)
def test_a_device_stops_by_hood_door_pedal_and_time(case: str) -> None:
    # Source: NHTSA letters of 18 May 1977 and 7 May 1984 (published; conclusions from memory): the devices described
    # there stop the engine by hood, door and brake, and after a time.
    at = settings(case)
    for name in ("hood", "brake", *(("door",) if "door_open" in at.senses else ())):
        assert not rehearse(installation(case), SCENARIOS[name], at).engine_lives, name
    short = replace(at, times_s={**at.times_s, "run time": 30.0})
    timed = rehearse(installation(case), replace(SCENARIOS["run-time"], lasts_s=90.0), short)
    assert not timed.engine_lives


# The list of what a start must be rehearsed in, and which scenario each is.
_LIST = {
    "warm": "warm", "-30 degC": "cold", "weak battery": "weak-battery", "cold diesel by its lamp": "cold",
    "cold diesel by time": "cold-by-time", "fails to fire": "no-fuel", "stalls after firing": "stall",
    "takeover, keyed": "takeover", "takeover, button, key seen": "takeover-button",
    "takeover, button, key unseen": "unseen-driver", "door opened without key": "door", "brake": "brake",
    "hood": "hood", "hood while cranking": "hood-cranking", "selector moved": "selector", "over-speed": "over-speed",
    "low battery": "low-battery", "run time over": "run-time", "loss of engine speed": "speed-lost",
    "request while driving": "driving", "two requests": "two-requests", "held signal": "held-signal",
    "power lost in the middle": "power-lost", "main fuse blown while running": "kit-fuse",
    "request out of park": "out-of-park",
}  # fmt: skip


def test_every_case_that_must_be_rehearsed_is() -> None:
    assert set(_LIST.values()) == set(SCENARIOS)


@pytest.mark.parametrize("case", [c for c in CASES if settings(c).detection != "voltage"])
def test_a_lost_speed_signal_never_cranks_a_running_engine(case: str) -> None:
    run = rehearse(installation(case), SCENARIOS["speed-lost"], settings(case))
    assert len(run.asked) == 1
    idle = 0.6 * (installation(case).car.traits.idle_rpm or 700.0)
    fired = next(h.time_s for h in run.happenings if h.words == "the engine fires")
    late = [m for m in run.moments if m.starter_a > 0.0 and m.rpm > idle and m.time_s > fired + 1.0]
    assert late == []


def test_a_button_car_whose_kit_sees_the_key_is_handed_over() -> None:
    one = settings("button")
    seeing = replace(one, senses=one.senses | {"key_in"})
    run = rehearse(installation("button"), SCENARIOS["takeover-button"], seeing)
    assert run.engine_lives
    assert not run.moments[-1].outputs
