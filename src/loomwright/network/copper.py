"""Resistance of copper wire by section and temperature, and the voltage that a wire drops.

A size in mm2 is a name, not a measured area: real wire of a nominal size has 4 to 16 % more resistance than copper of
that area. So resistance comes from the tables of maximum values, and only between their sizes from the area.
"""

import math
from functools import cache
from typing import Literal

from loomwright.network.published import read_table

__all__ = [
    "COPPER_OHM_MM2_PER_M",
    "Standard",
    "at_temperature_ohm",
    "ideal_resistance_ohm_per_m",
    "resistance_ohm_per_m",
    "section_for_drop_mm2",
    "voltage_drop_v",
]

COPPER_OHM_MM2_PER_M = 1 / 58
"""Resistivity of annealed copper at 20 degC, 58 MS/m: IEC 60028 (100 % IACS; from memory) [ohm mm2/m]."""

_DROP_OHM_MM2_PER_M = 10.75 * math.pi / 4 * 0.0254**2 / 0.3048
"""Resistivity in the sizing formula of ABYC E-11, 10.75 ohm cmil/ft (from memory), in [ohm mm2/m]."""

Standard = Literal["IEC 60228 class 2", "IEC 60228 class 5", "IEC 60228 class 5 tinned", "ISO 6722-1"]
_COLUMNS: dict[Standard, str] = {
    "IEC 60228 class 2": "iec_class_2",
    "IEC 60228 class 5": "iec_class_5",
    "IEC 60228 class 5 tinned": "iec_class_5_tinned",
    "ISO 6722-1": "iso_6722",
}


def at_temperature_ohm(resistance_20_ohm: float, temperature_c: float) -> float:
    """Return the resistance of a copper conductor at a temperature from that at 20 degC.

    R(T) = R20 (234.5 + T) / (234.5 + 20)

    Parameters
    ----------
    resistance_20_ohm : float -- resistance at 20 degC, >= 0 [ohm]
    temperature_c : float -- temperature of the conductor, -60 to 250 [degC]

    Returns
    -------
    float -- resistance at that temperature [ohm]

    Raises
    ------
    ValueError
        Where the temperature is outside the range for which the straight line holds.

    References
    ----------
    FAA AC 43.13-1B CHG 1, chapter 11, section 5: L2 = (254.5 x L1) / (234.5 + T2), the same law for the length of a
    run. It equals the coefficient 0.00393 /K at 20 degC of IACS copper.
    """
    if not -60 <= temperature_c <= 250:
        msg = f"temperature_c: found {temperature_c:g} degC, expected -60 to 250 degC"
        raise ValueError(msg)
    return resistance_20_ohm * (234.5 + temperature_c) / 254.5


def ideal_resistance_ohm_per_m(area_mm2: float, temperature_c: float = 20.0, lay: float = 1.0) -> float:
    """Return the resistance per metre of copper that truly has the given area, such as a solid AWG wire.

    R' = rho lay / A

    Parameters
    ----------
    area_mm2 : float -- true area of the copper, > 0 [mm2]
    temperature_c : float -- temperature of the conductor, -60 to 250 [degC]
    lay : float -- how much longer the strands are than the wire; 1.02 for concentric strands [-]

    Returns
    -------
    float -- resistance per metre [ohm/m]

    Raises
    ------
    ValueError
        Where the area is not positive or the temperature is out of range.

    References
    ----------
    IEC 60028 for the resistivity. NEC (NFPA 70), chapter 9, table 8: stranded copper has 1.02 times the resistance of
    solid copper of the same gauge.
    """
    _check_area(area_mm2)
    return at_temperature_ohm(COPPER_OHM_MM2_PER_M * lay / area_mm2, temperature_c)


def resistance_ohm_per_m(
    area_mm2: float, temperature_c: float = 20.0, standard: Standard = "IEC 60228 class 5"
) -> float:
    """Return the greatest resistance per metre that a wire of a nominal size may have.

    Listed sizes have the value of the table. Between them R' = (rho / A) f, where f is the ratio of the listed maximum
    to rho / A, taken straight over log A; outside the list f is that of the nearest size.

    Parameters
    ----------
    area_mm2 : float -- nominal size, > 0 [mm2]
    temperature_c : float -- temperature of the conductor, -60 to 250 [degC]
    standard : str -- which table; class 5 of IEC 60228 is published and the greatest for plain wire

    Returns
    -------
    float -- resistance per metre [ohm/m]

    Raises
    ------
    ValueError
        Where the area is not positive or the temperature is out of range.

    References
    ----------
    IEC 60228, maximum resistances at 20 degC (published); ISO 6722-1 (from memory).
    """
    _check_area(area_mm2)
    listed = _listed(standard)
    exact = listed.get(area_mm2)
    if exact is not None:
        return at_temperature_ohm(exact / 1000, temperature_c)
    return ideal_resistance_ohm_per_m(area_mm2, temperature_c, _factor(listed, area_mm2))


def voltage_drop_v(
    current_a: float,
    length_m: float,
    area_mm2: float,
    temperature_c: float = 20.0,
    standard: Standard = "IEC 60228 class 5",
) -> float:
    """Return the voltage that a wire drops along its length; for a load count the way there and back.

    V = I R' L

    Parameters
    ----------
    current_a : float -- current [A]
    length_m : float -- length of conductor, >= 0 [m]
    area_mm2 : float -- nominal size, > 0 [mm2]
    temperature_c : float -- temperature of the conductor, -60 to 250 [degC]
    standard : str -- table of resistances

    Returns
    -------
    float -- drop with the sign of the current [V]

    Raises
    ------
    ValueError
        Where the length is negative, the area not positive, or the temperature out of range.

    References
    ----------
    FAA AC 43.13-1B CHG 1, chapter 11, tables 11-7 and 11-8: VD = (ohm/ft)(ft)(A).
    """
    if length_m < 0:
        msg = f"length_m: found {length_m:g} m, expected 0 or more"
        raise ValueError(msg)
    return current_a * length_m * resistance_ohm_per_m(area_mm2, temperature_c, standard)


def section_for_drop_mm2(current_a: float, round_trip_m: float, drop_v: float) -> float:
    """Return the least area of copper that keeps the drop of a circuit within a limit.

    CM = K I L / E with K = 10.75 ohm cmil/ft; here A = rho I L / E in metric units.

    Parameters
    ----------
    current_a : float -- current, >= 0 [A]
    round_trip_m : float -- length from the source to the load and back, >= 0 [m]
    drop_v : float -- drop allowed, > 0 [V]

    Returns
    -------
    float -- area of copper [mm2]

    Raises
    ------
    ValueError
        Where the drop allowed is not positive.

    References
    ----------
    ABYC E-11, voltage drop formula (from memory; it gives the published 3 % table but for two of its cells).
    """
    if drop_v <= 0:
        msg = f"drop_v: found {drop_v:g} V, expected a positive drop"
        raise ValueError(msg)
    return _DROP_OHM_MM2_PER_M * current_a * round_trip_m / drop_v


def nominal_areas_mm2() -> tuple[float, ...]:
    """Return the nominal sizes of automotive wire, the thinnest first [mm2].

    References
    ----------
    ISO 6722-1, from memory; see the table `metric_resistance`.
    """
    return tuple(sorted(_listed("ISO 6722-1")))


def _check_area(area_mm2: float) -> None:
    if not 0 < area_mm2 < math.inf:
        msg = f"area_mm2: found {area_mm2:g} mm2, expected a positive size"
        raise ValueError(msg)


@cache
def _listed(standard: Standard) -> dict[float, float]:
    """Return nominal size [mm2] -> maximum resistance at 20 degC [mohm/m]."""
    return read_table("metric_resistance").numbers(_COLUMNS[standard])


def _factor(listed: dict[float, float], area_mm2: float) -> float:
    sizes = sorted(listed)

    def factor(size: float) -> float:
        return listed[size] / 1000 * size / COPPER_OHM_MM2_PER_M

    if area_mm2 <= sizes[0] or area_mm2 >= sizes[-1]:
        return factor(sizes[0] if area_mm2 <= sizes[0] else sizes[-1])
    above = next(size for size in sizes if size > area_mm2)
    below = max(size for size in sizes if size < area_mm2)
    share = math.log(area_mm2 / below) / math.log(above / below)
    return factor(below) * (1 - share) + factor(above) * share
