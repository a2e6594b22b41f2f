"""How much current a wire may carry, by size, insulation, bundle and place; and which fuse still guards it.

The rules are those written for boats, since they are public law, speak of 12 V, and state their assumptions; car makers
publish none. Where a car is hotter or its harness thicker, the caller says so and the factors apply.
"""

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from loomwright.network.copper import nominal_areas_mm2
from loomwright.network.published import read_table
from loomwright.units import awg_from_name, awg_name, mm2_from_awg, mm_from_mil

__all__ = [
    "Ampacity",
    "ampacity",
    "ampacity_a",
    "area_for_fuse_mm2",
    "bundling_factor",
    "engine_space_factor",
    "fuse_guards_wire",
    "sae_area_mm2",
]

_NAME_TOLERANCE = 0.05
"""A nominal mm2 within this share below a gauge's area counts as that gauge, with the current cut in proportion."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ampacity:
    """The current a wire may carry, and how it came about: row of the table, its value, the factors, the source."""

    current_a: float
    gauge: str
    table_a: float
    area_factor: float
    bundling: float
    engine_space: float
    source: str


def ampacity_a(area_mm2: float, conductors: int = 1, insulation_c: int = 105, *, engine_space: bool = False) -> float:
    """Return the current that a wire of a nominal size may carry, as `ampacity` does, without its story.

    Parameters
    ----------
    area_mm2 : float -- nominal size, > 0 [mm2]
    conductors : int -- current-carrying conductors in the bundle, >= 1 [-]
    insulation_c : int -- temperature rating of the insulation: 60, 75, 80, 90, 105, 125 or 200 [degC]
    engine_space : bool -- whether the wire runs in an engine space, 50 degC instead of 30 degC

    Returns
    -------
    float -- allowable current [A]

    Raises
    ------
    ValueError
        As for `ampacity`.

    References
    ----------
    33 CFR 183.425, Table 5.
    """
    return ampacity(area_mm2, conductors, insulation_c, engine_space=engine_space).current_a


def ampacity(area_mm2: float, conductors: int = 1, insulation_c: int = 105, *, engine_space: bool = False) -> Ampacity:
    """Return the current that a wire of a nominal size may carry.

    I = table x area factor x bundling factor x engine-space factor. A size in mm2 takes the row of the largest gauge
    whose automotive (SAE) area it reaches; a name within 5 % below that area takes the row too, cut in proportion to
    the area. So 0.5 mm2 counts as 20 AWG less 3 %, 1 mm2 as 18 AWG and 2.5 mm2 as 14 AWG. Below the smallest row the
    current density stays that of the smallest row, which is safe: a thinner wire sheds its heat better.

    Parameters
    ----------
    area_mm2 : float -- nominal size, > 0 [mm2]
    conductors : int -- current-carrying conductors in the bundle, >= 1 [-]
    insulation_c : int -- temperature rating of the insulation: 60, 75, 80, 90, 105, 125 or 200 [degC]
    engine_space : bool -- whether the wire runs in an engine space, 50 degC instead of 30 degC

    Returns
    -------
    Ampacity -- allowable current and how it came about

    Raises
    ------
    ValueError
        Where the size is not positive, the insulation is not in the table, or the bundle is empty; and for a size
        below 18 AWG with another insulation than 105 degC, for which nothing is at hand.

    Notes
    -----
    The rows below 18 AWG come from sources for 50 degC and more; the engine-space factor is applied to them as well,
    which makes up for the aircraft wire they speak of having up to a fifth more copper than AWG.

    References
    ----------
    33 CFR 183.425, Table 5 and its factors (published; engine-space factors other than 105 degC from memory).
    FAA AC 43.13-1B, Table 11-9, and MIL-W-5088B for the rows below 18 AWG.
    """
    if not 0 < area_mm2 < math.inf:
        msg = f"area_mm2: found {area_mm2:g} mm2, expected a positive size"
        raise ValueError(msg)
    engine = engine_space_factor(insulation_c) if engine_space else 1.0
    bundle = bundling_factor(conductors)
    areas = _areas()
    reached = [gauge for gauge, area in areas.items() if area <= area_mm2 * (1 + _NAME_TOLERANCE)]
    gauge = max(reached, key=lambda each: areas[each]) if reached else min(areas, key=lambda each: areas[each])
    share = min(area_mm2 / areas[gauge], 1.0)
    table_a, source = _row(gauge, insulation_c)
    return Ampacity(
        current_a=table_a * share * bundle * engine,
        gauge=awg_name(awg_from_name(gauge)),
        table_a=table_a,
        area_factor=share,
        bundling=bundle,
        engine_space=engine,
        source=source,
    )


def bundling_factor(conductors: int) -> float:
    """Return the factor on the current of each wire in a bundle.

    Parameters
    ----------
    conductors : int -- current-carrying conductors in the bundle, >= 1 [-]

    Returns
    -------
    float -- factor [-]

    Raises
    ------
    ValueError
        Where there is no conductor.

    References
    ----------
    ABYC E-11 / 33 CFR 183.425: 3 conductors 0.70, 4 to 6 0.60, 7 to 24 0.50, 25 and more 0.40.
    """
    if conductors < 1:
        msg = f"conductors: found {conductors}, expected 1 or more"
        raise ValueError(msg)
    steps = read_table("bundling").numbers("factor")
    return steps[max(least for least in steps if least <= conductors)]


def engine_space_factor(insulation_c: int) -> float:
    """Return the factor on the current in an engine space, at 50 degC instead of 30 degC.

    Parameters
    ----------
    insulation_c : int -- temperature rating of the insulation: 60, 75, 80, 90, 105, 125 or 200 [degC]

    Returns
    -------
    float -- factor [-]

    Raises
    ------
    ValueError
        Where the table has no such insulation.

    References
    ----------
    33 CFR 183.425: 0.85 for 105 degC (published); the others from memory, equal to sqrt((T - 50)/(T - 30)).
    """
    factor = read_table("engine_space").numbers("factor").get(insulation_c)
    if factor is None:
        raise ValueError(_no_insulation(insulation_c))
    return factor


def fuse_guards_wire(fuse_a: float, wire_a: float) -> Literal["within", "within 150 %", "too large"]:
    """Say whether a fuse opens before the wire behind it is hurt.

    Parameters
    ----------
    fuse_a : float -- rating of the fuse [A]
    wire_a : float -- ampacity of the thinnest wire behind it, all factors applied [A]

    Returns
    -------
    str -- 'within' the ampacity; 'within 150 %' of it, which the rule allows where no smaller rating serves; or
        'too large'

    References
    ----------
    33 CFR 183.455: at most 150 % of the ampacity (from memory); a rating within the ampacity is common practice.
    """
    if fuse_a <= wire_a:
        return "within"
    return "within 150 %" if fuse_a <= 1.5 * wire_a else "too large"


def area_for_fuse_mm2(fuse_a: float) -> float:
    """Return the thinnest nominal wire that a fuse guards, alone in free air of a cabin [mm2].

    Parameters
    ----------
    fuse_a : float -- rating of the fuse at the beginning of the wire [A]

    Raises
    ------
    ValueError
        Where no size of the table is thick enough.

    References
    ----------
    As for `ampacity` and `fuse_guards_wire`; the rating within the ampacity.
    """
    for area in nominal_areas_mm2():
        if fuse_guards_wire(fuse_a, ampacity_a(area)) == "within":
            return area
    raise ValueError(f"no wire of the table is guarded by a fuse of {fuse_a:g} A")


def sae_area_mm2(gauge: str) -> float:
    """Return the least area of copper in automotive wire of a gauge.

    Parameters
    ----------
    gauge : str -- name as printed, '18' to '4/0'

    Returns
    -------
    float -- area [mm2]

    Raises
    ------
    ValueError
        Where the table has no such gauge.

    References
    ----------
    SAE J1128 minimum areas in circular mils, as printed in a boat-cable catalogue.
    """
    table = read_table("wire_areas")
    if gauge not in table.rows:
        msg = f"gauge: found {gauge!r}, expected one of {', '.join(table.rows)}"
        raise ValueError(msg)
    return float(table.rows[gauge]["sae_cmil"]) * math.pi / 4 * mm_from_mil(1.0) ** 2


@cache
def _areas() -> dict[str, float]:
    """Return the area by which a size reaches a gauge: SAE from 18 AWG up, the true AWG area below and for 3 AWG."""
    gauges = (*read_table("ampacity_small").rows, *read_table("ampacity_marine").rows)
    listed = read_table("wire_areas").rows
    return {gauge: sae_area_mm2(gauge) if gauge in listed else mm2_from_awg(awg_from_name(gauge)) for gauge in gauges}


def _row(gauge: str, insulation_c: int) -> tuple[float, str]:
    marine, small = read_table("ampacity_marine"), read_table("ampacity_small")
    if gauge in small.rows:
        if insulation_c != 105:
            msg = f"insulation_c: found {insulation_c} degC for {gauge} AWG, expected 105 degC, the only one at hand"
            raise ValueError(msg)
        return float(small.rows[gauge]["current_a"]), small.header["document"]
    if str(insulation_c) not in marine.columns[1:]:
        raise ValueError(_no_insulation(insulation_c))
    return float(marine.rows[gauge][str(insulation_c)]), "33 CFR 183.425, Table 5"


def _no_insulation(insulation_c: int) -> str:
    known = ", ".join(read_table("ampacity_marine").columns[1:])
    return f"insulation_c: found {insulation_c} degC, expected one of {known}"
