"""Known values of each conversion, and what the parser of quantities takes and refuses."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright import units

# Source: NIST SP 811 (2008), appendix B.8, printed factors; the tolerance is half a unit of their last printed digit.
# Exact ones (in the standard in bold) get the rounding of a float only.
_EXACT = 1e-15


def test_inch_is_25_point_4_millimetres() -> None:
    assert units.mm_from_inch(1) == 25.4
    assert units.inch_from_mm(25.4) == 1


def test_mil_is_a_thousandth_of_an_inch() -> None:
    # Source: NIST SP 811 (2008), appendix B.8: mil (0.001 in) = 0.0254 mm, exactly.
    assert units.mm_from_mil(1) == pytest.approx(0.0254, rel=_EXACT)
    assert units.mil_from_mm(25.4) == pytest.approx(1000, rel=_EXACT)


def test_foot_is_0_point_3048_metres() -> None:
    assert units.m_from_foot(1) == 0.3048
    assert units.foot_from_m(0.3048) == 1


def test_temperatures_at_the_fixed_points() -> None:
    # Source: SI Brochure, 9th edition (2019), 2.3.1: 0 degC is 273.15 K; water boils at about 100 degC = 212 degF.
    assert units.kelvin_from_celsius(0) == 273.15
    assert units.celsius_from_kelvin(273.15) == 0
    assert units.celsius_from_fahrenheit(32) == 0
    assert units.celsius_from_fahrenheit(212) == pytest.approx(100, rel=_EXACT)
    assert units.celsius_from_fahrenheit(-40) == -40  # where the two scales meet


def test_pound_force_is_4_point_448222_newtons() -> None:
    # Source: NIST SP 811 (2008), appendix B.8: lbf = 4.448 222 E+00 N.
    assert units.newton_from_pound_force(1) == pytest.approx(4.448222, abs=5e-7)
    assert units.pound_force_from_newton(4.448222) == pytest.approx(1, abs=2e-7)


# Source: ASTM B258, nominal diameters in inches, as reprinted to four decimals in wire tables; the gauge numbers 36 and
# 0000 define the series. Tolerance: half a unit of the last printed digit.
@pytest.mark.parametrize(
    ("gauge", "diameter_in"),
    [(36, 0.0050), (-3, 0.4600), (0, 0.3249), (4, 0.2043), (8, 0.1285), (10, 0.1019), (12, 0.0808), (14, 0.0641),
     (16, 0.0508), (18, 0.0403), (20, 0.0320), (22, 0.0253), (24, 0.0201)],
)  # fmt: skip
def test_gauge_diameter_matches_the_printed_table(gauge: int, diameter_in: float) -> None:
    assert units.inch_from_mm(units.diameter_mm_from_awg(gauge)) == pytest.approx(diameter_in, abs=5.1e-5)


# Source: NEC (NFPA 70), chapter 9, table 8, column of circular mils. One circular mil is the area of a circle of one
# mil diameter. The table keeps three or four digits; 1620 for a computed 1624 is the farthest off.
@pytest.mark.parametrize(("gauge", "circular_mils"), [(18, 1620), (14, 4110), (12, 6530), (10, 10380), (8, 16510)])
def test_gauge_area_matches_the_printed_circular_mils(gauge: int, circular_mils: float) -> None:
    one_mm2 = math.pi / 4 * units.mm_from_mil(1) ** 2
    assert units.mm2_from_awg(gauge) / one_mm2 == pytest.approx(circular_mils, rel=3e-3)


def test_thirty_nine_steps_span_a_diameter_ratio_of_92() -> None:
    # Source: ASTM B258: the ratio of 0.4600 in to 0.0050 in is 92.
    assert units.diameter_mm_from_awg(-3) / units.diameter_mm_from_awg(36) == pytest.approx(92, rel=1e-14)


@pytest.mark.parametrize("gauge", range(-3, 41))
def test_gauge_comes_back_from_its_area_and_its_name(gauge: int) -> None:
    assert units.awg_from_area_mm2(units.mm2_from_awg(gauge)) == pytest.approx(gauge, abs=1e-9)
    assert units.awg_from_name(units.awg_name(gauge).removesuffix(" AWG")) == gauge


def test_large_gauges_have_their_slashed_names() -> None:
    assert [units.awg_name(gauge) for gauge in (-3, 0, 1, 18)] == ["4/0 AWG", "1/0 AWG", "1 AWG", "18 AWG"]
    assert [units.awg_from_name(name) for name in ("4/0", "1/0", "0", "18")] == [-3, 0, 0, 18]


@pytest.mark.parametrize("name", ["5/0", "0/0", "41", "018", "-1", "18.5", "1/0 ", ""])
def test_gauge_names_outside_the_series_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match=r"^found gauge .*, expected 4/0, .* or a whole number from 0 to 40$"):
        units.awg_from_name(name)


@pytest.mark.parametrize("gauge", [-4, 41])
def test_gauge_numbers_outside_the_series_are_refused(gauge: int) -> None:
    with pytest.raises(ValueError, match=rf"^found gauge number {gauge}, expected one from -3 \(4/0 AWG\) to 40$"):
        units.diameter_mm_from_awg(gauge)


@pytest.mark.parametrize("area_mm2", [0.0, -1.0, math.inf, math.nan])
def test_a_section_that_is_none_has_no_gauge(area_mm2: float) -> None:
    with pytest.raises(ValueError, match="expected a positive one"):
        units.awg_from_area_mm2(area_mm2)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("2.5 mm2", "mm2", 2.5),
        ("0.75mm²", "mm2", 0.75),
        # Source: ASTM B258: 18 AWG is 0.823 mm2, 1/0 AWG is 53.5 mm2.
        ("18 AWG", "mm2", 0.823),
        ("1/0 AWG", "mm2", 53.48),
        ("30 cm", "m", 0.3),
        ("12 in", "m", 0.3048),
        ("3 ft", "m", 0.9144),
        ("12 in", "mm", 304.8),
        ("500 mA", "A", 0.5),
        ("10 kohm", "ohm", 10_000),
        ("4.7 kΩ", "ohm", 4700),
        ("4.7 k\u2126", "ohm", 4700),  # OHM SIGN looks the same as GREEK OMEGA
        ("100 \u03bcA", "A", 1e-4),  # GREEK MU looks the same as MICRO SIGN
        ("100 \u00b5A", "A", 1e-4),
        ("800 ms", "s", 0.8),
        ("2 min", "s", 120),
        ("-40 degF", "degC", -40),
        ("25 °C", "degC", 25),
        ("273.15 K", "degC", 0),
        ("  12.6 V ", "V", 12.6),
        (".5 A", "A", 0.5),
        ("1e3 ohm", "ohm", 1000),
    ],
)
def test_parser_reads(text: str, unit: str, value: float) -> None:
    assert units.parse_quantity(text, unit) == pytest.approx(value, rel=1e-3 if "AWG" in text else 1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "allowed"),
    [
        ("5 Nm", "N", "expected a force: a number and one of N, kN, lbf"),
        ("500 MA", "A", "expected a current: a number and one of A, mA, uA, µA"),
        ("12", "V", "expected a voltage: a number and one of V, mV, kV"),
        ("2,5 mm2", "mm2", "expected a wire size: a number and one of mm2, mm², AWG (4/0 to 40)"),
        ("41 AWG", "mm2", "expected a wire size: a number and one of mm2, mm², AWG (4/0 to 40)"),
        ("18.5 AWG", "mm2", "expected a wire size: a number and one of mm2, mm², AWG (4/0 to 40)"),
        ("18 AWG", "m", "expected a length: a number and one of m, cm, mm, in, ft"),
        ("1e999 V", "V", "expected a voltage: a number and one of V, mV, kV"),
        ("nan V", "V", "expected a voltage: a number and one of V, mV, kV"),
        ("٣ V", "V", "expected a voltage: a number and one of V, mV, kV"),
        ("1 2 V", "V", "expected a voltage: a number and one of V, mV, kV"),
        ("", "degC", "expected a temperature: a number and one of degC, °C, degF, K"),
    ],
)
def test_parser_refuses_and_names_what_is_allowed(text: str, unit: str, allowed: str) -> None:
    with pytest.raises(ValueError, match=r"^found ") as refusal:
        units.parse_quantity(text, unit)
    assert str(refusal.value) == f"found {text!r}, {allowed}"


def test_parser_refuses_a_unit_that_it_does_not_know() -> None:
    with pytest.raises(ValueError, match=r"^found unit 'furlong', expected one of A, Ah, F, "):
        units.parse_quantity("1 furlong", "furlong")


def test_express_refuses_what_the_table_does_not_have() -> None:
    with pytest.raises(ValueError, match=r"^found 'MA' of 'A', expected one of A, mA, uA, µA$"):
        units.express(1, "A", "MA")
    with pytest.raises(ValueError, match=r"^found 'x' of 'furlong', expected one of A, Ah"):
        units.express(1, "furlong", "x")


@given(
    st.sampled_from([(unit, spelling) for unit, (_, known) in units.UNITS.items() for spelling in known]),
    st.floats(-1e9, 1e9),
)
def test_every_spelling_is_read_back_as_it_was_expressed(pair: tuple[str, str], value: float) -> None:
    unit, spelling = pair
    text = f"{units.express(value, unit, spelling)!r} {spelling}"
    assert units.parse_quantity(text, unit) == pytest.approx(value, rel=1e-14, abs=1e-300)
