"""Preferred numbers of resistors against the table of the standard and against the law behind it."""

import math

import pytest

from loomwright.planning.e_series import E12, E24, nearest

# Source: IEC 60063:2015, Preferred number series for resistors and capacitors, table of the series E24 and E12 (from
# memory of the standard's table, which every maker's data book repeats).
_E24 = "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91"
_E12 = "10 12 15 18 22 27 33 39 47 56 68 82"


def test_the_two_series_are_those_of_the_standard() -> None:
    assert [round(10 * v) for v in E24] == [int(v) for v in _E24.split()]
    assert [round(10 * v) for v in E12] == [int(v) for v in _E12.split()]


def test_the_values_follow_the_powers_but_for_the_eight_that_the_standard_keeps_by_hand() -> None:
    # Source: IEC 60063: values are the rounded powers 10^(k/24); 2.7 to 4.7 and 8.2 are older, historical roundings.
    by_hand = {2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2}
    off = {value for k, value in enumerate(E24) if round(10 ** (k / 24), 1) != value}
    assert off == by_hand
    assert all(abs(value / 10 ** (k / 24) - 1) < 0.05 for k, value in enumerate(E24))


@pytest.mark.parametrize(
    ("wanted", "e24", "e12"),
    [
        (1.0, 1.0, 1.0), (0.95, 0.91, 1.0), (998.5, 1000, 1000), (328.5, 330, 330), (470, 470, 470), (2199, 2200, 2200),
        (1940, 2000, 1800), (9500, 9100, 10000), (9.56, 10, 10), (5150, 5100, 4700), (14000, 13000, 15000),
    ],
)  # fmt: skip
def test_the_nearest_value_is_found_in_every_decade(wanted: float, e24: float, e12: float) -> None:
    assert nearest(wanted) == e24
    assert nearest(wanted, E12) == e12


def test_no_value_lies_nearer_than_the_nearest() -> None:
    everything = [v * 10.0**d for d in range(-2, 8) for v in E24]
    for k in range(600):
        wanted = 10 ** (k / 100)
        best = min(abs(v - wanted) for v in everything)
        assert math.isclose(abs(nearest(wanted) - wanted), best, rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.parametrize("wanted", [0.0, -1.0, math.nan])
def test_nothing_is_near_to_no_resistance(wanted: float) -> None:
    with pytest.raises(ValueError, match="has no preferred value"):
        nearest(wanted)
