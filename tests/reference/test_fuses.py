"""Blade fuses against SAE J1284 colours, a published data sheet and the gates of ISO 8820-3."""

import math
from itertools import pairwise

import pytest

from loomwright.network.fuses import (
    cold_resistance_ohm,
    fuse_colour,
    fuse_ratings_a,
    hot_resistance_ohm,
    opening_time,
    smallest_fuse_a,
)

# Source: SAE J1284 colours as published in charts (1, 2 and 4 A: data sheet of an ISO 8820-3 series; 35 and 40 A from
# memory).
COLOURS = {
    1: "black", 2: "grey", 3: "violet", 4: "pink", 5: "tan", 7.5: "brown", 10: "red", 15: "blue", 20: "yellow",
    25: "white", 30: "green", 35: "turquoise", 40: "orange",
}  # fmt: skip


def test_ratings_and_colours() -> None:
    assert fuse_ratings_a() == tuple(COLOURS)
    assert [fuse_colour(rating) for rating in fuse_ratings_a()] == list(COLOURS.values())


# Source: data sheet of an ISO 8820-3 type C blade-fuse series: cold resistance [mohm], drop at rated current [mV].
@pytest.mark.parametrize(
    ("rating", "cold", "drop"), [(1, 123.00, 176), (2, 53.50, 141), (4, 22.80, 136), (10, 7.70, 109)]
)
def test_resistance_of_the_published_rows(rating: float, cold: float, drop: float) -> None:
    assert cold_resistance_ohm(rating) == pytest.approx(cold / 1000)
    assert hot_resistance_ohm(rating) * rating == pytest.approx(drop / 1000)
    # Source: the same rows: hot resistance is 32 to 49 % above cold (recomputed).
    assert 1.31 < hot_resistance_ohm(rating) / cold_resistance_ohm(rating) < 1.50


# Source: worked example of a vocational-school sheet on that series: 2.4 mV across a 10 A fuse is 312 mA.
def test_current_from_the_drop_across_a_fuse() -> None:
    assert 2.4e-3 / cold_resistance_ohm(10) == pytest.approx(0.312, abs=5e-4)


def test_resistance_falls_with_rating_and_stays_plausible_where_extrapolated() -> None:
    cold = [cold_resistance_ohm(rating) for rating in fuse_ratings_a()]
    hot = [hot_resistance_ohm(rating) for rating in fuse_ratings_a()]
    assert cold == sorted(cold, reverse=True)
    assert hot == sorted(hot, reverse=True)
    # Common practice: a sound blade fuse drops some 70 to 180 mV at its rated current, whatever its rating.
    assert all(0.07 < r * rating < 0.18 for r, rating in zip(hot, fuse_ratings_a(), strict=True))


# Source: ISO 8820-3 type C (from memory): 135 %: 0.75 to 600 s; 200 %: 0.15 to 5 s; 350 %: 0.08 to 0.5 s; 600 %: 0.03
# to 0.1 s. For 1 and 2 A: 0.35 to 600 s, 0.10 to 5 s, 0.03 to 0.5 s.
@pytest.mark.parametrize(
    ("rating", "percent", "low", "high"),
    [
        (20, 135, 0.75, 600), (20, 160, 0.25, 50), (20, 200, 0.15, 5), (20, 350, 0.08, 0.5), (20, 600, 0.03, 0.1),
        (2, 135, 0.35, 600), (2, 200, 0.10, 5), (2, 350, 0.03, 0.5),
    ],
)  # fmt: skip
def test_gates_of_iso_8820_3(rating: float, percent: float, low: float, high: float) -> None:
    time = opening_time(rating, rating * percent / 100)
    assert (time.min_s, time.max_s) == pytest.approx((low, high))


def test_below_its_gates_a_fuse_need_not_open() -> None:
    # Source: ISO 8820-3 (from memory): no opening within 100 h at 110 %.
    assert opening_time(20, 22).min_s == math.inf
    assert opening_time(20, 25).max_s == math.inf
    assert opening_time(20, 22.001).min_s == pytest.approx(360000, rel=0.01)


@pytest.mark.parametrize("rating", [2, 20])
def test_more_current_never_takes_longer(rating: float) -> None:
    times = [opening_time(rating, rating * (1.1 + 0.05 * n)) for n in range(200)]
    assert all(b.min_s <= a.min_s and b.max_s <= a.max_s for a, b in pairwise(times))
    assert all(time.min_s < time.max_s or time.min_s == math.inf for time in times)


# Common practice (guides of fuse makers): a continuous load of at most 75 % of the rating.
@pytest.mark.parametrize(("load", "rating"), [(0, 1), (7.5, 10), (7.6, 15), (11.25, 15), (22.5, 30), (30, 40)])
def test_smallest_fuse_for_a_load(load: float, rating: float) -> None:
    assert smallest_fuse_a(load) == rating


def test_what_is_no_blade_fuse_is_refused() -> None:
    with pytest.raises(ValueError, match="load_a: found 31 A, expected at most 30 A; split it over two fuses"):
        smallest_fuse_a(31)
    with pytest.raises(ValueError, match="rating_a: found 12 A, expected a blade fuse rating: 1, 2, 3, 4, 5"):
        fuse_colour(12)
    with pytest.raises(ValueError, match="rating_a: found 0 A, expected a positive rating"):
        hot_resistance_ohm(0)
