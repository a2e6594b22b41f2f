"""The adiabatic rule for a shorted wire, against the published constants of its formula."""

import math

import pytest

from loomwright.network.rules_short import COPPER_K, withstand_s


def _k(start_c: float, end_c: float) -> float:
    return 226 * math.sqrt(math.log((234.5 + end_c) / (234.5 + start_c)))


def test_the_formula_gives_the_published_constants_of_its_standard() -> None:
    # Source: IEC 60364-4-43, k = 115 for PVC (70 to 160 degC) and 143 for XLPE (90 to 250 degC); values from memory.
    assert _k(70, 160) == pytest.approx(115, abs=0.5)
    assert _k(90, 250) == pytest.approx(143, abs=0.5)
    assert pytest.approx(_k(85, 160), abs=0.1) == COPPER_K


def test_a_wire_stands_the_current_of_its_constant_for_one_second_per_square_millimetre() -> None:
    # Source: the same equation, I^2 t = k^2 S^2.
    assert withstand_s(1.0, COPPER_K) == pytest.approx(1.0)
    assert withstand_s(2.5, 500.0) == pytest.approx((COPPER_K * 2.5 / 500.0) ** 2)
