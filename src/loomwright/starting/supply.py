"""Battery, alternator, starter and the network's port in balance at one moment."""

from typing import Literal

from loomwright.errors import SolveError
from loomwright.starting.engine import Machine, battery_emf_v, battery_ohm, starter_current_a
from loomwright.starting.port import PortEquivalent

__all__ = ["Supply", "accepting_ohm", "settle_supply"]

Supply = tuple[float, float, float, float]
"""Battery voltage [V], current out of the battery, into the starter, out of the alternator [A]."""

_ALTERNATOR_OHM = 0.01
_ACCEPTS_A = 5.0
_ACCEPTS_EMPTY_A = 60.0
# What a full battery takes at charging voltage, and how much more an empty one: common practice [A].

_Regulating = Literal["idles", "holds", "gives most"]
_BRANCHES: tuple[tuple[bool, _Regulating, bool], ...] = tuple(
    (charging, regulating, motoring)
    for motoring in (False, True)
    for regulating in ("idles", "holds", "gives most")
    for charging in (False, True)
)
"""Battery charged or not, alternator idle, holding its voltage or giving its most, starter driving or not."""


def accepting_ohm(machine: Machine, charge: float) -> float:
    """Return the resistance of a battery that is being charged: it takes far less than it would give.

    R = (V_charging - E_full) / (5 A + 60 A (1 - charge)).

    Parameters
    ----------
    machine : Machine -- for its charging voltage
    charge : float -- state of charge, 0 to 1 [1]

    Returns
    -------
    ohm : float -- [ohm]

    References
    ----------
    Common practice for what a car battery takes.
    """
    return (machine.charging_v - battery_emf_v(1.0)) / (_ACCEPTS_A + _ACCEPTS_EMPTY_A * (1.0 - charge))


def settle_supply(
    machine: Machine, found: PortEquivalent, *, charge: float, speed_rad_s: float, engaged: bool, alternator_a: float,
    charging_v: float,
) -> Supply:  # fmt: skip
    """Return battery voltage and currents.

    (E - V) / R + I_alternator = I_starter + I_network, every term a straight line of V in the right case: a battery
    that gives or takes, an alternator that idles, holds its voltage or gives its most, a starter that drives or
    freewheels. Each case is tried; the one whose answer agrees with itself is the answer, and there is just one,
    because every current falls or stays as V rises.

    Parameters
    ----------
    machine : Machine -- the car's
    found : PortEquivalent -- the network
    charge : float -- state of charge, 0 to 1 [1]
    speed_rad_s : float -- of the crankshaft [rad/s]
    engaged : bool -- whether the starter is switched on
    alternator_a : float -- the most the alternator can give now [A]
    charging_v : float -- the voltage it holds [V]

    Returns
    -------
    supply : Supply

    Raises
    ------
    SolveError
        Where no case agrees with itself, which would be a fault of this program.

    References
    ----------
    Kirchhoff's current law at the battery terminal.
    """
    emf = battery_emf_v(charge)
    v = emf
    for charging, regulating, motoring in _BRANCHES:
        ohm = accepting_ohm(machine, charge) if charging else battery_ohm(machine.cca_a, machine.temperature_c, charge)
        g = 1.0 / ohm + found.slope_s
        i = emf / ohm - found.current_a + found.slope_s * found.at_v
        if motoring:
            per_v = starter_current_a(machine, 1.0, 0.0)
            g += per_v
            i += per_v * machine.k_v_s * speed_rad_s
        if regulating == "holds":
            g += 1.0 / _ALTERNATOR_OHM
            i += charging_v / _ALTERNATOR_OHM
        elif regulating == "gives most":
            i += alternator_a
        v = i / g
        wants = (charging_v - v) / _ALTERNATOR_OHM
        sound = {
            "idles": wants < 0.0 or alternator_a == 0.0,
            "holds": 0.0 <= wants <= alternator_a,
            "gives most": wants > alternator_a > 0.0,
        }[regulating]
        drives = engaged and v > machine.k_v_s * speed_rad_s
        if sound and charging == (v > emf) and motoring == drives:
            gives = {"idles": 0.0, "holds": wants, "gives most": alternator_a}[regulating]
            return v, (emf - v) / ohm, starter_current_a(machine, v, speed_rad_s) if motoring else 0.0, gives
    raise SolveError("battery, alternator and starter did not settle", residual=abs(v - emf))
