"""Battery, starter, engine and heaters against published figures, and the limits of each formula."""

import math

import pytest

from loomwright.documents.vehicle import Traits
from loomwright.starting.engine import (
    GLOW,
    OIL_C,
    Machine,
    battery_emf_v,
    battery_ohm,
    friction_factor,
    heater_c,
    heater_need_c,
    heater_time_s,
    machine_of,
    starter_current_a,
    tach_hz,
)

_CABLES_OHM = 0.002


def _machine(temperature_c: float = 20.0, **more: object) -> Machine:
    traits: dict[str, object] = {"fuel": "petrol", "starter_a": 150, "battery_cca_a": 600, "cylinders": 4}
    return machine_of(Traits.model_validate(traits | more), temperature_c)


@pytest.mark.parametrize(
    # Source: Battery Council International, open-circuit voltage against charge, 12 V flooded, 26.7 degC.
    ("charge", "volts"), [(1.0, 12.65), (0.75, 12.45), (0.5, 12.24), (0.25, 12.06), (0.0, 11.89)],
)  # fmt: skip
def test_a_rested_battery_shows_its_charge(charge: float, volts: float) -> None:
    assert battery_emf_v(charge) == pytest.approx(volts, abs=1e-9)
    # Source: cell voltage = 0.84 + specific gravity (common practice), 1.265 full and 1.190 half: within 0.13 V.
    gravity = 1.120 + charge * (1.265 - 1.120)
    assert battery_emf_v(charge) == pytest.approx(6 * (0.84 + gravity), abs=0.15)


@pytest.mark.parametrize("cca_a", [400, 550, 850])
def test_a_battery_just_meets_its_cold_rating(cca_a: float) -> None:
    # Source: SAE J537: at -18 degC and the rated current no less than 7.2 V.
    assert 12.6 - cca_a * battery_ohm(cca_a, -18.0, 1.0) == pytest.approx(7.2)


@pytest.mark.parametrize(
    # Source: half-CCA load test for 15 s, least volts by temperature: service manuals of two makers, 2004.
    ("temperature_c", "least_v"),
    [(20.0, 9.6), (16.0, 9.5), (10.0, 9.4), (4.0, 9.3), (-1.0, 9.1), (-7.0, 8.9), (-12.0, 8.7), (-18.0, 8.5)],
)
def test_a_sound_battery_passes_the_half_load_test(temperature_c: float, least_v: float) -> None:
    volts = battery_emf_v(1.0) - 300.0 * battery_ohm(600.0, temperature_c, 1.0)
    assert volts >= least_v
    # And one at a quarter of its charge does not.
    assert battery_emf_v(0.25) - 300.0 * battery_ohm(600.0, temperature_c, 0.25) < least_v


def test_a_stalled_starter_takes_what_the_bench_shows() -> None:
    # Source: service manual of a 2001 compact car, 1.4 kW starter, stalled: 780 to 980 A at 4 V at its own terminal.
    machine = _machine()
    assert 780 <= 4.0 / machine.starter_ohm <= 980
    assert starter_current_a(machine, 4.0, 0.0) == pytest.approx(4.0 / (machine.starter_ohm + _CABLES_OHM))


@pytest.mark.parametrize(
    # Source: a textbook's upper limits of cranking current, warm: 185 A, 200 A, 250 A for 4, 6, 8 cylinders.
    ("cylinders", "stated_a", "limit_a"), [(4, 150, 185), (6, 160, 200), (8, 190, 250)],
)  # fmt: skip
def test_a_warm_engine_cranks_at_the_stated_current(cylinders: int, stated_a: float, limit_a: float) -> None:
    machine = _machine(25.0, cylinders=cylinders, starter_a=stated_a)
    # At the cranking speed the torque of the starter is what the engine asks for.
    assert machine.k_v_s * (stated_a - machine.loss_a) == pytest.approx(machine.friction_nm(machine.crank_rad_s))
    volts = battery_emf_v(1.0) - stated_a * battery_ohm(600.0, 25.0, 1.0)
    assert starter_current_a(machine, volts, machine.crank_rad_s) == pytest.approx(stated_a)
    assert stated_a <= limit_a
    # Source: cranking at 150 to 300 rpm, common practice.
    assert 150 <= machine.crank_rad_s * 30 / math.pi <= 300


def test_a_cold_engine_asks_for_twice_its_torque_and_thick_oil_for_more() -> None:
    assert friction_factor(25.0) == 1.0
    assert friction_factor(40.0) == 1.0
    assert friction_factor(-18.0) == pytest.approx(2.0, rel=0.02)
    # Source: SAE J300 (from memory): each grade is as thick at its own limit.
    assert {friction_factor(limit, grade) for grade, limit in OIL_C.items()} == {friction_factor(-30.0, "5W")}
    assert friction_factor(-20.0, "15W") > friction_factor(-20.0, "0W")


def test_a_glow_plug_heats_as_its_time_says() -> None:
    # Common practice: 850 degC within ten seconds or so.
    assert 750 < heater_c(GLOW, 20.0, 20.0, 11.0, 10.0) < 950
    for ambient in (-30.0, -10.0, 0.0, 20.0):
        wait = heater_time_s(GLOW, ambient)
        assert heater_c(GLOW, ambient, ambient, 11.0, wait) == pytest.approx(heater_need_c(ambient))
    # Common practice: 10 to 20 s at -30 degC, a few at freezing point, nothing in a hot engine.
    assert 10 < heater_time_s(GLOW, -30.0) < 20
    assert 2 < heater_time_s(GLOW, 0.0) < 8
    assert heater_time_s(GLOW, 60.0) == 0.0
    assert heater_time_s(GLOW, -30.0, volts=9.0) == math.inf


@pytest.mark.parametrize(
    # Source: National Semiconductor LM1819 data sheet for the first; the rest by f = n p / 60 for one coil (n cylinders
    # give n / 2 pulses a turn), two-pulse controller wires and coil per cylinder.
    ("rpm", "pulses", "hertz"),
    [(4500, 4, 300.0), (700, 2, 23.33), (200, 2, 6.67), (2500, 3, 125.0), (700, 0.5, 5.83), (750, 2, 25.0)],
)
def test_an_engine_speed_wire_pulses_with_the_engine(rpm: float, pulses: float, hertz: float) -> None:
    assert tach_hz(rpm, pulses) == pytest.approx(hertz, abs=0.005)
