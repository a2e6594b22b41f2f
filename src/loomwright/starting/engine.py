"""Battery, starter, engine, glow plugs and alternator: the few equations that a start in time needs, in SI units.

Numbers that no document states are typical ones of common practice and named as such; what is computed with them is an
estimate of how a start goes, not of a particular engine.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

from loomwright.documents.vehicle import Traits
from loomwright.network.standing_draw import DEFAULT_CAPACITY_AH
from loomwright.network.vehicle_defaults import DEFAULT_CCA_A, DEFAULT_STARTER_A

__all__ = [
    "GLOW", "GRID", "LAMP_MARGIN", "OIL_C", "Heater", "Machine", "battery_emf_v", "battery_ohm", "friction_factor",
    "heater_c", "heater_need_c", "heater_time_s", "machine_of", "starter_current_a", "tach_hz",
]  # fmt: skip

_CHARGE_V: tuple[tuple[float, float], ...] = (
    (0.0, 11.89), (0.25, 12.06), (0.5, 12.24), (0.75, 12.45), (1.0, 12.65)
)  # fmt: skip
# Source: Battery Council International, open-circuit voltage against state of charge at 26.7 degC, 12 V flooded.

_COLD_C, _WARM_C = -18.0, 25.0
_WARM_SHARE = 0.5  # a warm battery has about half its resistance at -18 degC: common practice
_LEAST_CHARGE = 0.1

OIL_C: Mapping[str, float] = MappingProxyType({"0W": -35.0, "5W": -30.0, "10W": -25.0, "15W": -20.0, "20W": -15.0})
"""Temperature of the cold-cranking viscosity limit of each grade [degC]: SAE J300 (from memory)."""
_THICK = 2.4
"""Friction at that limit against 25 degC. All grades have about the same viscosity there; 2.4 makes a 5W engine ask for
twice its warm torque at -18 degC (common practice)."""

_STALL_OHM = 4.0 / 880.0
_STALL_OF_A = 150.0
# A starter's winding and brushes: stalled it takes 780 to 980 A at 4 V (bench data of a 1.4 kW starter in a published
# compact-car manual of 2001). Other starters are scaled by their cranking current.
_LOSS_SHARE = 0.3  # share of the warm cranking current lost in the starter itself: common practice
_CABLE_OHM = 0.002
"""Both starter cables: well below the 0.5 V for each side that TM 5-3805-254 allows [ohm]."""
_LEAST_EMF_V = 1.0
_CRANK_RPM: Mapping[str, float] = MappingProxyType({"petrol": 200.0, "diesel": 170.0})
_INERTIA_KG_M2 = 0.05  # for each cylinder, flywheel and armature with it: common practice
_DRY_SHARE = 0.6  # of friction does not depend on speed: common practice


def battery_emf_v(charge: float) -> float:
    """Return the open-circuit voltage of a rested battery.

    Straight lines between the published points; temperature moves it by less than 0.1 V and is left out.

    Parameters
    ----------
    charge : float -- state of charge, 0 to 1 [1]

    Returns
    -------
    emf_v : float -- [V]

    References
    ----------
    Battery Council International, open-circuit voltage against charge at 26.7 degC.
    """
    at = min(max(charge, 0.0), 1.0)
    for (low, v_low), (high, v_high) in pairwise(_CHARGE_V):
        if at <= high:
            return v_low + (v_high - v_low) * (at - low) / (high - low)
    return _CHARGE_V[-1][1]


def battery_ohm(cca_a: float, temperature_c: float, charge: float) -> float:
    """Return the internal resistance of a battery.

    R = (12.6 - 7.2) / CCA at -18 degC, half of that at 25 degC, straight between and beyond; divided by the charge,
    because a half-charged battery gives about half its current.

    Parameters
    ----------
    cca_a : float -- cold-cranking rating, > 0 [A]
    temperature_c : float -- of the battery [degC]
    charge : float -- state of charge, 0 to 1 [1]

    Returns
    -------
    ohm : float -- [ohm]

    References
    ----------
    SAE J537: 7.2 V at the rated current and -18 degC; the other factors are common practice.
    """
    cold = (12.6 - 7.2) / cca_a
    warmth = min((temperature_c - _COLD_C) / (_WARM_C - _COLD_C), 1.0)
    return cold * (1.0 - (1.0 - _WARM_SHARE) * warmth) / max(charge, _LEAST_CHARGE)


def friction_factor(temperature_c: float, oil: str = "5W") -> float:
    """Return how many times its torque at 25 degC the cold engine asks for.

    f = 2.4 ** ((25 - T) / (25 - T_grade)), never below 1.

    Parameters
    ----------
    temperature_c : float -- of engine and oil [degC]
    oil : str -- winter grade, a key of `OIL_C`

    Returns
    -------
    factor : float -- [1]

    References
    ----------
    SAE J300 for the grades' temperatures (from memory); the factor is common practice.
    """
    return float(max(_THICK ** ((_WARM_C - temperature_c) / (_WARM_C - OIL_C[oil])), 1.0))


def tach_hz(speed_rpm: float, pulses_per_rev: float) -> float:
    """Return the frequency on an engine-speed wire.

    f = n p / 60.

    Parameters
    ----------
    speed_rpm : float -- n [rpm]
    pulses_per_rev : float -- p, pulses for each turn of the crankshaft [1]

    Returns
    -------
    frequency_hz : float -- [Hz]

    References
    ----------
    National Semiconductor, LM1819 data sheet: eight cylinders (4 pulses a turn) at 4,500 rpm give 300 Hz.
    """
    return speed_rpm * pulses_per_rev / 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Heater:
    """What heats a diesel's chamber before a start: rise at 11 V [K] and time constant [s]."""

    name: str
    rise_k: float
    tau_s: float


GLOW = Heater(name="glow plugs", rise_k=1000.0, tau_s=6.0)
"""A metal glow plug passes 850 degC in ten seconds and ends near 1,000 degC: common practice."""
GRID = Heater(name="intake heater", rise_k=1000.0, tau_s=9.0)
"""A grid in the intake pipe does the same more slowly; its rise stands for the warmed charge (common practice)."""
_HEATER_V = 11.0
LAMP_MARGIN = 1.15
"""The car's own wait lamp burns this much longer than the heater needs: common practice."""


def heater_c(heater: Heater, before_c: float, ambient_c: float, volts: float, time_s: float) -> float:
    """Return the temperature of a heater after some time at a voltage.

    d(theta)/dt = (ambient + rise (V / 11)^2 - theta) / tau, solved over the time.

    Parameters
    ----------
    heater : Heater -- what heats
    before_c : float -- its temperature at first [degC]
    ambient_c : float -- [degC]
    volts : float -- at the heater, 0 where it is off [V]
    time_s : float -- [s]

    Returns
    -------
    temperature_c : float -- [degC]

    References
    ----------
    First-order heating; the constants are common practice.
    """
    goal = ambient_c + heater.rise_k * (volts / _HEATER_V) ** 2
    return goal + (before_c - goal) * math.exp(-time_s / heater.tau_s)


def heater_need_c(ambient_c: float) -> float:
    """Return the heater temperature from which a diesel fires.

    theta = 500 - 12 T below 40 degC, so that a warm engine needs next to nothing.

    Parameters
    ----------
    ambient_c : float -- temperature of the engine [degC]

    Returns
    -------
    temperature_c : float -- [degC]

    References
    ----------
    Common practice: no glowing above about 40 degC, a few seconds at freezing point, 10 to 20 s at -30 degC.
    """
    return 500.0 - 12.0 * ambient_c if ambient_c < 40.0 else ambient_c


def heater_time_s(heater: Heater, ambient_c: float, volts: float = _HEATER_V) -> float:
    """Return how long a heater must be on before a diesel fires.

    t = -tau ln(1 - (need - T) / (rise (V / 11)^2)); infinite where it never gets there.

    Parameters
    ----------
    heater : Heater -- what heats
    ambient_c : float -- temperature of the engine [degC]
    volts : float -- at the heater, > 0 [V]

    Returns
    -------
    time_s : float -- [s]

    References
    ----------
    Inverse of `heater_c`.
    """
    share = (heater_need_c(ambient_c) - ambient_c) / (heater.rise_k * (volts / _HEATER_V) ** 2)
    if share <= 0.0:
        return 0.0
    return math.inf if share >= 1.0 else -heater.tau_s * math.log(1.0 - share)


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """Engine, starter, battery and alternator of one car at one temperature.

    `k_v_s` is the starter's constant seen from the crankshaft: volts for each radian a second, newton metres for each
    ampere [V s]. Torques are at the crankshaft.
    """

    fuel: str
    cca_a: float
    capacity_ah: float
    temperature_c: float
    oil: str
    k_v_s: float
    starter_ohm: float
    loss_a: float
    warm_torque_nm: float
    crank_rad_s: float
    inertia_kg_m2: float
    idle_rad_s: float
    heater: Heater | None
    charging_v: float
    smart: bool

    def friction_nm(self, speed_rad_s: float) -> float:
        """Return the torque that the engine asks for at a speed [N m]."""
        shape = _DRY_SHARE + (1.0 - _DRY_SHARE) * speed_rad_s / self.crank_rad_s
        return self.warm_torque_nm * friction_factor(self.temperature_c, self.oil) * shape

    def alternator_a(self, speed_rad_s: float) -> float:
        """Return the most the alternator gives at a speed [A]: nothing below 60 % of idle, 70 A at idle, 120 A above.

        Common practice for a car's alternator.
        """
        share = speed_rad_s / self.idle_rad_s
        return 0.0 if share < 0.6 else min(70.0 * share, 120.0)

    @property
    def fire_s(self) -> float:
        """Return how long a sound engine is cranked before it fires [s]: 0.6 s warm, 1.5 s at -30 degC.

        Common practice; straight between and beyond.
        """
        return 0.6 + 0.9 * max(_WARM_C - self.temperature_c, 0.0) / 55.0

    @property
    def least_rad_s(self) -> float:
        """Return the slowest crank at which it fires [rad/s]: 60 rpm petrol, 100 rpm diesel (common practice)."""
        return (100.0 if self.fuel == "diesel" else 60.0) * math.pi / 30.0


def starter_current_a(machine: Machine, terminal_v: float, speed_rad_s: float) -> float:
    """Return what an engaged starter takes.

    I = (V - k w) / (R_starter + R_cables), never below zero because of the freewheel.

    Parameters
    ----------
    machine : Machine -- the car's
    terminal_v : float -- at the battery [V]
    speed_rad_s : float -- of the crankshaft [rad/s]

    Returns
    -------
    current_a : float -- [A]

    References
    ----------
    Direct-current machine with constant field.
    """
    return max((terminal_v - machine.k_v_s * speed_rad_s) / (machine.starter_ohm + _CABLE_OHM), 0.0)


def machine_of(traits: Traits, temperature_c: float, oil: str = "5W", *, grid: bool = False) -> Machine:
    """Return the machine of a car, fitted so that warm it takes the stated cranking current at a usual cranking speed.

    Parameters
    ----------
    traits : Traits -- of the resolved car
    temperature_c : float -- of engine, oil and battery [degC]
    oil : str -- winter grade, a key of `OIL_C`
    grid : bool -- whether an intake heater does what glow plugs do elsewhere

    Returns
    -------
    machine : Machine

    References
    ----------
    Direct-current machine: E = k w, M = k I; the operating point is common practice.
    """
    fuel = traits.fuel or "petrol"
    starter_a = traits.starter_a or DEFAULT_STARTER_A
    cca = (traits.battery_cca_a or DEFAULT_CCA_A) * (traits.batteries or 1)
    crank = _CRANK_RPM[fuel] * math.pi / 30.0
    ohm = _STALL_OHM * _STALL_OF_A / starter_a
    emf = battery_emf_v(1.0) - starter_a * (battery_ohm(cca, _WARM_C, 1.0) + _CABLE_OHM + ohm)
    # Where the document's battery cannot carry the document's starter nothing is left to turn it with; what little is
    # kept shows in every rehearsal as a crank that sags and does not turn, and the findings send to both numbers.
    k = max(emf, _LEAST_EMF_V) / crank
    loss = _LOSS_SHARE * starter_a
    return Machine(
        fuel=fuel,
        cca_a=cca,
        capacity_ah=(traits.battery_ah or DEFAULT_CAPACITY_AH) * (traits.batteries or 1),
        temperature_c=temperature_c,
        oil=oil,
        k_v_s=k,
        starter_ohm=ohm,
        loss_a=loss,
        warm_torque_nm=k * (starter_a - loss),
        crank_rad_s=crank,
        inertia_kg_m2=_INERTIA_KG_M2 * (traits.cylinders or 4),
        idle_rad_s=(traits.idle_rpm or 700.0) * math.pi / 30.0,
        heater=None if fuel != "diesel" else GRID if grid else GLOW,
        charging_v=traits.charging_v or 14.2,
        smart=traits.alternator == "smart",
    )
