"""What a pin of the untouched car should read, pin by pin."""

import pytest

from loomwright.network.joining import bare_netlist
from loomwright.network.pin_levels import pin_levels
from loomwright.network.solving import solve_stories
from loomwright.network.stories import Story
from tests.demonstration import BASE, car


def test_levels_are_those_of_the_untouched_car() -> None:
    found = car(BASE)
    levels = pin_levels(found, "ignition/2")
    assert [level.state.key for level in levels] == ["off", "acc", "run", "crank"]
    assert [(level.volts or 0.0) > 11.0 for level in levels] == [False, False, True, True]
    for level in levels:
        solved = solve_stories(bare_netlist(found), [Story(id="s", name="s", states=(level.state,))])
        assert level.volts == pytest.approx(solved.volts("c:ignition/2:h", 0))


def test_airbag_wires_have_none_and_every_other_pin_is_asked() -> None:
    found = car(BASE)
    for pin, occupant in found.pins.items():
        if found.circuits[occupant.circuit].function == "restraint":
            assert pin_levels(found, pin) == ()


def test_an_empty_pin() -> None:
    with pytest.raises(KeyError, match="ignition/8"):
        pin_levels(car(BASE), "ignition/8")
