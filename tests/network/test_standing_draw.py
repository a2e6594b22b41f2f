"""The parked car: days until it no longer cranks."""

import pytest

from loomwright.network.standing_draw import days_until_no_crank, share_needed


def test_days_follow_from_the_charge_that_may_be_used() -> None:
    # By hand: 70 Ah, 20 mA, and an engine that warm asks 130 A of a battery that gives 2 x 550 A: s = 0.118.
    assert share_needed(550, 130, 25) == pytest.approx(130 / 1100)
    assert days_until_no_crank(0.020, 70, 550, 130, 25) == pytest.approx(70 * (1 - 130 / 1100) / 0.48)


def test_cold_leaves_fewer_days_than_warm() -> None:
    assert share_needed(550, 130, -18) == pytest.approx(260 / 550)
    assert days_until_no_crank(0.020, 70, 550, 130, -18) < days_until_no_crank(0.020, 70, 550, 130, 25)


def test_twice_the_draw_halves_the_days() -> None:
    one, two = (days_until_no_crank(draw, 60, 500, 120, 10) for draw in (0.01, 0.02))
    assert one == pytest.approx(2 * two)


def test_a_battery_too_small_for_the_engine_gives_no_day_at_all() -> None:
    assert days_until_no_crank(0.02, 50, 200, 400, -18) == 0.0
