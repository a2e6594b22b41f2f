"""Allowable current against 33 CFR 183.425 and a published set with the factors already applied."""

import math
from itertools import pairwise

import pytest

from loomwright.network.ampacity import (
    ampacity,
    ampacity_a,
    bundling_factor,
    engine_space_factor,
    fuse_guards_wire,
    sae_area_mm2,
)
from loomwright.network.published import read_table
from loomwright.units import awg_from_name, mm2_from_awg

# Source: 33 CFR 183.425, Table 5, 105 degC column [A]. Typed a second time from the regulation.
CFR_105 = {
    "18": 20, "16": 25, "14": 35, "12": 45, "10": 60, "8": 80, "6": 120, "4": 160, "3": 180, "2": 210, "1": 245,
    "1/0": 285, "2/0": 330, "3/0": 385, "4/0": 445,
}  # fmt: skip


@pytest.mark.parametrize(("gauge", "amps"), CFR_105.items())
def test_table_5_at_105_degrees(gauge: str, amps: float) -> None:
    assert ampacity_a(mm2_from_awg(awg_from_name(gauge))) == amps


# Source: 33 CFR 183.425, Table 5, other columns, spot checks [A].
@pytest.mark.parametrize(
    ("gauge", "insulation", "amps"), [("18", 60, 10), ("12", 75, 25), ("8", 90, 70), ("10", 125, 70), ("6", 200, 135)]
)
def test_other_insulations_of_table_5(gauge: str, insulation: int, amps: float) -> None:
    assert ampacity_a(mm2_from_awg(awg_from_name(gauge)), insulation_c=insulation) == amps


# Source: a cable maker's table of 105 degC boat cable in bundles (cableyutai.com.tw, technical data), amperes for 18,
# 16, 14, 12, 10, 8 AWG; printed to a tenth at most, hence 0.06 A.
BUNDLED = [
    (2, False, (20, 25, 35, 45, 60, 80)),
    (2, True, (17, 21.3, 29.8, 38.3, 51, 68)),
    (3, False, (14, 17.5, 24.5, 31.5, 42, 56)),
    (3, True, (11.9, 14.9, 20.8, 26.8, 35.7, 47.6)),
    (4, False, (12, 15, 21, 27, 36, 48)),
    (6, True, (10.2, 12.8, 17.9, 23, 30.6, 40.8)),
    (7, False, (10, 12.5, 17.5, 22.5, 30, 40)),
    (24, True, (8.5, 10.6, 14.9, 19.1, 25.5, 34)),
]


@pytest.mark.parametrize(("conductors", "engine", "amps"), BUNDLED)
def test_bundled_boat_cable(conductors: int, engine: bool, amps: tuple[float, ...]) -> None:
    for gauge, printed in zip((18, 16, 14, 12, 10, 8), amps, strict=True):
        ours = ampacity_a(mm2_from_awg(gauge), conductors, engine_space=engine)
        assert ours == pytest.approx(printed, abs=0.06)


# Source: ABYC E-11 / 33 CFR 183.425: 3 conductors 0.70, 4 to 6 0.60, 7 to 24 0.50, 25 and more 0.40.
def test_bundling_steps() -> None:
    assert [bundling_factor(n) for n in (1, 2, 3, 4, 6, 7, 24, 25, 99)] == [1, 1, 0.7, 0.6, 0.6, 0.5, 0.5, 0.4, 0.4]


# Source: 33 CFR 183.425: 0.85 at 105 degC. The others are from memory; all are the square-root law of conductor
# heating, sqrt((T - 50)/(T - 30)), to two digits (the 200 degC one is set to 1).
@pytest.mark.parametrize("insulation", [60, 75, 80, 90, 105, 125])
def test_engine_space_factors_follow_the_square_root_law(insulation: int) -> None:
    assert engine_space_factor(insulation) == pytest.approx(math.sqrt((insulation - 50) / (insulation - 30)), abs=0.007)


# Source: SAE J1128 minimum areas as printed in a boat-cable catalogue: metric name beside gauge, 0.8 is 18 AWG, 2 is
# 14, 3 is 12, 5 is 10, 8 is 8. (It calls 1 mm2 a 16 AWG, whose area 1.18 mm2 it does not reach: here it is an 18.)
@pytest.mark.parametrize(
    ("nominal", "gauge"),
    [(0.35, 22), (0.5, 20), (0.8, 18), (1.0, 18), (1.5, 16), (2.0, 14), (2.5, 14), (3.0, 12), (5.0, 10), (8.0, 8)],
)
def test_a_nominal_size_takes_the_gauge_it_reaches(nominal: float, gauge: int) -> None:
    assert ampacity(nominal).gauge == f"{gauge} AWG"


# Source: IEC-based set for 50 degC ambient and 105 degC conductors, published beside that of MIL-W-5088B in a load
# bench manual [A]. Metric wire for 50 degC is rated below boat cable times its engine-space factor: ours may lie above
# it by no more than a third, and never below, since the rules assume the same conductor temperature.
@pytest.mark.parametrize(("nominal", "amps"), [(1.0, 13.5), (1.5, 16), (2.5, 25), (4.0, 32), (6.0, 40), (10.0, 63)])
def test_metric_sizes_lie_near_an_iec_set(nominal: float, amps: float) -> None:
    ratio = ampacity_a(nominal, engine_space=True) / amps
    assert 1.0 <= ratio <= 1.34


# Source: MIL-W-5088B set, 50 degC ambient: 22 AWG 5.0 A, 20 AWG 8.33 A. FAA AC 43.13-1B, Table 11-9: 24 AWG 2.5 A.
def test_small_wires() -> None:
    assert [ampacity_a(mm2_from_awg(gauge)) for gauge in (24, 22, 20)] == pytest.approx([2.5, 5.0, 8.33])
    # 0.5 mm2 is 3.4 % short of 20 AWG; half the area of 24 AWG carries half its current.
    assert ampacity_a(0.5) == pytest.approx(8.33 * 0.5 / mm2_from_awg(20))
    assert ampacity_a(mm2_from_awg(24) / 2) == pytest.approx(1.25)


def test_more_copper_never_carries_less() -> None:
    sizes = [0.1 * 1.03**n for n in range(240)]
    amps = [ampacity_a(size) for size in sizes]
    assert all(b >= a for a, b in pairwise(amps))


# Source: SAE J1128 minimum areas: 1537, 3702 and 14,810 circular mils for 18, 14 and 8 AWG.
@pytest.mark.parametrize(("gauge", "area"), [("18", 0.779), ("14", 1.876), ("8", 7.504)])
def test_areas_of_automotive_wire(gauge: str, area: float) -> None:
    assert sae_area_mm2(gauge) == pytest.approx(area, abs=5e-4)


# Source: 33 CFR 183.455 (from memory): protection at most 150 % of the conductor's ampacity.
def test_fuse_and_wire() -> None:
    assert [fuse_guards_wire(fuse, 20.0) for fuse in (20, 25, 30, 35)] == [
        "within",
        "within 150 %",
        "within 150 %",
        "too large",
    ]


@pytest.mark.parametrize("name", ["ampacity_marine"])
def test_larger_and_hotter_always_carry_more(name: str) -> None:
    table = read_table(name)
    rows = [[float(row[column]) for column in table.columns[1:]] for row in table.rows.values()]
    assert all(b > a for upper, lower in pairwise(rows) for a, b in zip(upper, lower, strict=True))
    assert all(b >= a for row in rows for a, b in pairwise(row))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: ampacity_a(0), "area_mm2: found 0 mm2, expected a positive size"),
        (lambda: ampacity_a(2, 0), "conductors: found 0, expected 1 or more"),
        (lambda: ampacity_a(2, 1, 70), "insulation_c: found 70 degC, expected one of 60, 75, 80, 90, 105, 125, 200"),
        (
            lambda: ampacity_a(0.5, 1, 90),
            "insulation_c: found 90 degC for 20 AWG, expected 105 degC, the only one at hand",
        ),
        (lambda: sae_area_mm2("17"), "gauge: found '17', expected one of 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 1/0"),
    ],
)
def test_what_the_tables_do_not_have_is_refused(call: object, message: str) -> None:
    with pytest.raises(ValueError, match="found") as caught:
        call()  # type: ignore[operator]
    assert str(caught.value).startswith(message)
