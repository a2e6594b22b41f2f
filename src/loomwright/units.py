"""Conversions of units, and the one parser for a quantity that a person wrote.

Inside, every quantity has one unit, named at the end of its name: ``length_m``, ``area_mm2``, ``current_a``. What comes
from outside passes `parse_quantity`, which knows a short list of spellings and refuses the rest.
"""

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

__all__ = [
    "UNITS",
    "awg_from_area_mm2",
    "awg_from_name",
    "awg_name",
    "celsius_from_fahrenheit",
    "celsius_from_kelvin",
    "diameter_mm_from_awg",
    "express",
    "foot_from_m",
    "inch_from_mm",
    "kelvin_from_celsius",
    "m_from_foot",
    "mil_from_mm",
    "mm2_from_awg",
    "mm_from_inch",
    "mm_from_mil",
    "newton_from_pound_force",
    "parse_quantity",
    "pound_force_from_newton",
]

# Source: International yard and pound agreement of 1959; NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, exactly.
_MM_PER_INCH = 25.4
# Source: the same; 1 ft = 0.3048 m, exactly.
_M_PER_FOOT = 0.3048
# Source: NIST SP 811 (2008), appendix B.8: 1 mil = 0.001 in.
_MM_PER_MIL = _MM_PER_INCH / 1000
# Source: NIST SP 811 (2008), appendix B.8: 1 lbf = 4.448 222 N; 0.453 592 37 kg x 9.806 65 m/s2, both exact.
_NEWTON_PER_POUND_FORCE = 0.45359237 * 9.80665
# Source: SI Brochure, 9th edition (2019), section 2.3.1: t/degC = T/K - 273.15.
_KELVIN_AT_0_CELSIUS = 273.15


def mm_from_inch(length_in: float) -> float:
    """Length [mm] of a length in inches [in]."""
    return length_in * _MM_PER_INCH


def inch_from_mm(length_mm: float) -> float:
    """Length [in] of a length in millimetres [mm]."""
    return length_mm / _MM_PER_INCH


def mm_from_mil(length_mil: float) -> float:
    """Length [mm] of a length in thousandths of an inch [mil]."""
    return length_mil * _MM_PER_MIL


def mil_from_mm(length_mm: float) -> float:
    """Length in thousandths of an inch [mil] of a length in millimetres [mm]."""
    return length_mm / _MM_PER_MIL


def m_from_foot(length_ft: float) -> float:
    """Length [m] of a length in feet [ft]."""
    return length_ft * _M_PER_FOOT


def foot_from_m(length_m: float) -> float:
    """Length [ft] of a length in metres [m]."""
    return length_m / _M_PER_FOOT


def kelvin_from_celsius(temperature_c: float) -> float:
    """Thermodynamic temperature [K] of a temperature in degrees Celsius [degC]."""
    return temperature_c + _KELVIN_AT_0_CELSIUS


def celsius_from_kelvin(temperature_k: float) -> float:
    """Temperature [degC] of a thermodynamic temperature [K]."""
    return temperature_k - _KELVIN_AT_0_CELSIUS


def celsius_from_fahrenheit(temperature_f: float) -> float:
    """Temperature [degC] of a temperature in degrees Fahrenheit [degF].

    References
    ----------
    NIST SP 811 (2008), appendix B.8: t/degC = (t/degF - 32)/1.8.
    """
    return (temperature_f - 32) / 1.8


def newton_from_pound_force(force_lbf: float) -> float:
    """Force [N] of a force in pounds-force [lbf]."""
    return force_lbf * _NEWTON_PER_POUND_FORCE


def pound_force_from_newton(force_n: float) -> float:
    """Force [lbf] of a force in newtons [N]."""
    return force_n / _NEWTON_PER_POUND_FORCE


def diameter_mm_from_awg(gauge: int) -> float:
    """Diameter [mm] of a solid round wire of an American Wire Gauge number.

    ``d = 0.127 mm * 92**((36 - n) / 39)``: number 36 is 0.005 in, number 0000 is 0.46 in, with 39 equal ratios between.

    Parameters
    ----------
    gauge
        Gauge number from -3 to 40; 0, 00, 000 and 0000 are 0, -1, -2 and -3 [-].

    Raises
    ------
    ValueError
        Where the number is outside the table of the standard.

    References
    ----------
    ASTM B258, "Standard Specification for Standard Nominal Diameters and Cross-Sectional Areas of AWG Sizes of Solid
    Round Wires Used as Electrical Conductors".
    """
    if not _LARGEST_AWG <= gauge <= _SMALLEST_AWG:
        msg = f"found gauge number {gauge}, expected one from {_LARGEST_AWG} (4/0 AWG) to {_SMALLEST_AWG}"
        raise ValueError(msg)
    return float(mm_from_inch(0.005) * 92 ** ((36 - gauge) / 39))


def mm2_from_awg(gauge: int) -> float:
    """Cross-section [mm2] of a solid round wire of an American Wire Gauge number, see `diameter_mm_from_awg`.

    A stranded conductor sold under the same number has nearly this much copper; automotive wire to SAE J1128 may have
    about a tenth less. Where that matters, give the section in mm2.
    """
    return math.pi / 4 * diameter_mm_from_awg(gauge) ** 2


def awg_from_area_mm2(area_mm2: float) -> float:
    """Gauge number [-], not rounded, of a round wire of a cross-section [mm2]: the inverse of `mm2_from_awg`.

    Raises
    ------
    ValueError
        Where the section is not a positive number.
    """
    if not 0 < area_mm2 < math.inf:
        msg = f"found a section of {area_mm2} mm2, expected a positive one"
        raise ValueError(msg)
    return 36 - 39 * math.log(math.sqrt(4 * area_mm2 / math.pi) / mm_from_inch(0.005), 92)


_LARGEST_AWG = -3
_SMALLEST_AWG = 40
_GAUGE = re.compile(r"(?:([1-4])/0|(0|[1-9]\d?))")


def awg_from_name(name: str) -> int:
    """Gauge number of its printed name: ``"18"`` is 18, ``"1/0"`` is 0, ``"4/0"`` is -3.

    Raises
    ------
    ValueError
        Where the name is not one of 4/0, 3/0, 2/0, 1/0, 0, 1 ... 40.
    """
    match = _GAUGE.fullmatch(name)
    gauge = _SMALLEST_AWG + 1 if match is None else 1 - int(match[1]) if match[1] else int(match[2])
    if gauge > _SMALLEST_AWG:
        msg = f"found gauge {name!r}, expected 4/0, 3/0, 2/0, 1/0 or a whole number from 0 to {_SMALLEST_AWG}"
        raise ValueError(msg)
    return gauge


def awg_name(gauge: int) -> str:
    """Printed name of a gauge number: ``"18 AWG"``, and ``"1/0 AWG"`` for 0.

    Raises
    ------
    ValueError
        Where the number is outside the table of the standard.
    """
    diameter_mm_from_awg(gauge)  # refuses a number that does not exist
    return f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"


# Unit used inside -> what the quantity is, and the spellings allowed outside, with their factor. Case matters.
UNITS: Mapping[str, tuple[str, Mapping[str, float]]] = MappingProxyType(
    {
        unit: (quantity, MappingProxyType(spellings))
        for unit, quantity, spellings in [
            ("A", "current", {"A": 1.0, "mA": 1e-3, "uA": 1e-6, "µA": 1e-6}),
            ("Ah", "charge", {"Ah": 1.0, "mAh": 1e-3}),
            ("F", "capacitance", {"F": 1.0, "mF": 1e-3, "uF": 1e-6, "µF": 1e-6, "nF": 1e-9, "pF": 1e-12}),
            ("H", "inductance", {"H": 1.0, "mH": 1e-3, "uH": 1e-6, "µH": 1e-6}),
            ("Hz", "frequency", {"Hz": 1.0, "kHz": 1e3, "MHz": 1e6}),
            ("N", "force", {"N": 1.0, "kN": 1e3, "lbf": _NEWTON_PER_POUND_FORCE}),
            ("V", "voltage", {"V": 1.0, "mV": 1e-3, "kV": 1e3}),
            ("W", "power", {"W": 1.0, "mW": 1e-3, "kW": 1e3}),
            ("degC", "temperature", {"degC": 1.0, "°C": 1.0}),
            ("m", "length", {"m": 1.0, "cm": 1e-2, "mm": 1e-3, "in": _MM_PER_INCH / 1000, "ft": _M_PER_FOOT}),
            (
                "mm",
                "length",
                {"mm": 1.0, "cm": 10.0, "m": 1e3, "in": _MM_PER_INCH, "ft": _M_PER_FOOT * 1000, "mil": _MM_PER_MIL},
            ),
            ("mm2", "wire size", {"mm2": 1.0, "mm²": 1.0}),
            (
                "ohm",
                "resistance",
                {"ohm": 1.0, "mohm": 1e-3, "kohm": 1e3, "Mohm": 1e6, "Ω": 1.0, "mΩ": 1e-3, "kΩ": 1e3, "MΩ": 1e6},
            ),
            ("rpm", "speed", {"rpm": 1.0}),
            ("s", "time", {"s": 1.0, "ms": 1e-3, "us": 1e-6, "µs": 1e-6, "min": 60.0, "h": 3600.0}),
        ]
    }
)

_QUANTITY = re.compile(r"([+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z°µΩ]+[2²]?)", re.ASCII)
_AWG = re.compile(r"(\d/0|\d+)\s*(?:AWG|awg)", re.ASCII)
# Two characters that look the same as the ones of the table: MICRO SIGN and GREEK MU, OHM SIGN and GREEK OMEGA.
_LOOK_ALIKES = str.maketrans({"\u03bc": "\u00b5", "\u2126": "\u03a9"})


def parse_quantity(text: str, unit: str) -> float:
    """Read a quantity that a person wrote, such as ``"30 cm"`` or ``"18 AWG"``.

    A number (decimal point, no separators) and one of the spellings that `UNITS` lists for the unit; a wire size may
    also be an American Wire Gauge number, and a temperature may be given in degF or K. A number alone is refused,
    because it is the commonest way to be wrong by a factor of a thousand.

    Parameters
    ----------
    text
        What was written; white space around it and between number and unit does not matter.
    unit
        The unit wanted, a key of `UNITS`.

    Returns
    -------
    float
        The quantity in that unit.

    Raises
    ------
    ValueError
        Where the text is not such a quantity, with what is allowed; or where `unit` is not in the table.

    Examples
    --------
    >>> parse_quantity("30 cm", "m")
    0.3
    >>> parse_quantity("10 kohm", "ohm")
    10000.0
    >>> parse_quantity("5 Nm", "N")
    Traceback (most recent call last):
        ...
    ValueError: found '5 Nm', expected a force: a number and one of N, kN, lbf
    """
    if unit not in UNITS:
        msg = f"found unit {unit!r}, expected one of {', '.join(UNITS)}"
        raise ValueError(msg)
    written = text.strip().translate(_LOOK_ALIKES)
    value = _wire_size_mm2(written) if unit == "mm2" else None
    match = _QUANTITY.fullmatch(written)
    if value is None and match is not None:
        value = _convert(float(match[1]), match[2], unit)
    if value is None or not math.isfinite(value):
        msg = f"found {text!r}, expected a {UNITS[unit][0]}: a number and one of {', '.join(_spellings(unit))}"
        raise ValueError(msg)
    return value


def express(value: float, unit: str, spelling: str) -> float:
    """Turn a quantity into another spelling of its unit: ``express(0.5, "A", "mA")`` is 500.

    Parameters
    ----------
    value
        The quantity in `unit`.
    unit
        A key of `UNITS`.
    spelling
        One of the spellings that `UNITS` lists for it.

    Raises
    ------
    ValueError
        Where the table has no such unit or spelling.
    """
    if unit not in UNITS or spelling not in UNITS[unit][1]:
        known = ", ".join(UNITS[unit][1]) if unit in UNITS else ", ".join(UNITS)
        msg = f"found {spelling!r} of {unit!r}, expected one of {known}"
        raise ValueError(msg)
    return value / UNITS[unit][1][spelling]


def _convert(number: float, spelling: str, unit: str) -> float | None:
    """Return the number in the unit, or `None` where the spelling is not allowed for it."""
    if unit == "degC" and spelling == "degF":
        return celsius_from_fahrenheit(number)
    if unit == "degC" and spelling == "K":
        return celsius_from_kelvin(number)
    factor = UNITS[unit][1].get(spelling)
    return None if factor is None else number * factor


def _wire_size_mm2(written: str) -> float | None:
    match = _AWG.fullmatch(written)
    if match is None:
        return None
    try:
        return mm2_from_awg(awg_from_name(match[1]))
    except ValueError:
        return None


def _spellings(unit: str) -> list[str]:
    extra = {"mm2": ["AWG (4/0 to 40)"], "degC": ["degF", "K"]}.get(unit, [])
    return [*UNITS[unit][1], *extra]
