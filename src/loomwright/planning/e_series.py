"""Preferred values of resistors: the E12 and E24 series, and the value of a series that lies nearest to a wanted one.

References
----------
IEC 60063, Preferred number series for resistors and capacitors: E12 goes with tolerances of 10 %, E24 with 5 %.
"""

import math
from collections.abc import Sequence

__all__ = ["E12", "E24", "E24_TOLERANCE", "nearest"]

E24: tuple[float, ...] = (
    1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
    3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
)  # fmt: skip
"""One decade of the E24 series."""

E12: tuple[float, ...] = E24[::2]
"""One decade of the E12 series: every second value of E24."""

E24_TOLERANCE = 0.05
"""Tolerance that the E24 series stands for."""


def nearest(resistance_ohm: float, series: Sequence[float] = E24) -> float:
    """Return the preferred value nearest to a resistance.

    Parameters
    ----------
    resistance_ohm : float -- wanted value, > 0 [ohm]
    series : sequence of float -- one decade, rising, first value 1

    Returns
    -------
    preferred_ohm : float -- of two that are equally near, the smaller [ohm]

    Raises
    ------
    ValueError -- where the wanted value is not above zero
    """
    if not resistance_ohm > 0:
        raise ValueError(f"a resistance of {resistance_ohm:g} ohm has no preferred value")
    decade = math.floor(math.log10(resistance_ohm))
    # Round to clear the dust of powers of ten: 8.2 * 10 ** 2 must be 820.
    values = [round(v * 10.0**d, 12 - d) for d in (decade - 1, decade, decade + 1) for v in series]
    return min(values, key=lambda value: (abs(value - resistance_ohm), value))
