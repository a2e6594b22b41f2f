"""Characteristics and spreads of the parts a 12 V network is made of, each with its source.

Conductance spreads are factors on the nominal conductance that a sound part may have; a bad joint or a corroded fuse
lies outside and is what a reading should show.
"""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.network.elements import Kind, Shape, line

__all__ = [
    "BATTERY_V",
    "COIL_DROP_OUT", "COIL_PULL_IN", "CONTACT_OHM", "LINK_OHM", "LOAD_V", "METER_S", "SPREAD",
    "TEST_LAMP_A", "diode_shape", "driver_shape", "joint_ohm", "lamp_shape", "load_shape",
]  # fmt: skip

BATTERY_V = 12.6
"""Rested, charged 12 V battery [V]: BCI open-circuit voltage 12.65 V, rounded."""

LOAD_V = 12.0
"""Load currents in documents are stated at this voltage [V]."""

LINK_OHM = 0.001
"""A short path inside a part or on a bus bar [ohm]; common practice."""

CONTACT_OHM = 0.005
"""A closed switch or relay contact [ohm]; published relay data sheets, 3 typical and 50 mohm at most."""

METER_S = 1e-7
"""Input conductance of a digital meter: 10 Mohm, what study material for technicians asks for at least [S]."""

COIL_PULL_IN = 7.2 / 12.0
"""Pull-in share of nominal coil voltage: at most 7.2 V of a 12 V relay in published data sheets."""

COIL_DROP_OUT = 1.2 / 12.0
"""Drop-out share of nominal coil voltage: at least 1.2 V of a 12 V relay in published data sheets."""

TEST_LAMP_A = 0.25
"""Current of the bulb lamp at 12 V [A]; common practice: a 3 W bulb."""

_LAMP_POWER = 0.55
"""Exponent of lamp current against voltage, common practice for filament lamps (about 0.55)."""

_LAMP_BREAKS = (0.25, 1.0, 3.0, 6.0, 9.0, 12.0)

# Factors (low, high) on conductance. Wires: length as fitted and temperature; loads: part tolerance and ageing.
SPREAD: Mapping[Kind, tuple[float, float]] = MappingProxyType({
    "battery": (0.3, 1.3),  # its EMF is known from the reading at rest, its resistance is not: 3 to 13 mohm
    "alternator": (0.8, 1.2),
    "wire": (0.70, 1.35),
    "link": (0.5, 3.0),
    "joint": (0.4, 3.0),
    "fuse": (0.65, 1.10),  # hot against cold resistance of blade fuses, published rows 32 to 49 %
    "switch": (0.2, 3.0),
    "contact": (0.2, 3.0),
    "coil": (0.80, 1.11),  # 10 % on a coil and up to 25 % more resistance when hot
    "diode": (0.8, 1.25),
    "lamp": (0.85, 1.15),
    "resistor": (0.7, 1.35),
    "motor": (0.6, 1.5),
    "pull": (0.8, 1.25),
    "signal": (0.7, 1.4),
    "driver": (0.8, 1.25),
    "input": (0.9, 1.1),
    "meter": (0.9, 1.0),
    "test lamp": (0.9, 1.1),
})  # fmt: skip


def joint_ohm(area_mm2: float) -> float:
    """Return the resistance of a sound plug contact or tap on a wire of this size [ohm].

    R = 2.5 mohm / A in mm2, held between 0.8 and 5 mohm: bigger wires go into bigger terminals.

    Parameters
    ----------
    area_mm2 : float -- conductor size, > 0 [mm2]

    Returns
    -------
    ohm : float -- both surfaces and the crimp together [ohm]

    References
    ----------
    Common practice: a few milliohms for small terminals, about one for broad blades.
    """
    return min(max(0.0025 / area_mm2, 0.0008), 0.005)


def lamp_shape(current_a: float) -> Shape:
    """Return a filament lamp that draws `current_a` [A] at 12 V.

    i = I (|u| / 12)^0.55 in straight pieces through the breaks, odd in u. The law is concave, so every piece rises;
    the first piece through the origin stands for the cold filament.

    Parameters
    ----------
    current_a : float -- current at 12 V, > 0 [A]

    Returns
    -------
    Shape -- rising and continuous

    References
    ----------
    Filament-lamp exponent: common practice (about 0.55).
    """
    points = [(v, current_a * (v / LOAD_V) ** _LAMP_POWER) for v in _LAMP_BREAKS]
    slopes: list[float] = []
    intercepts: list[float] = []
    last_v, last_i = 0.0, 0.0
    for v, i in points:
        g = (i - last_i) / (v - last_v)
        slopes.append(g)
        intercepts.append(last_i - g * last_v)
        last_v, last_i = v, i
    breaks = [v for v, _ in points[:-1]]
    # Odd: the negative side mirrors the positive one; the middle piece runs through the origin.
    return Shape(
        breaks=tuple([-v for v in reversed(breaks)] + breaks),
        g=tuple(list(reversed(slopes[1:])) + slopes),
        i0=tuple([-c for c in reversed(intercepts[1:])] + intercepts),
    )


def diode_shape(current_a: float) -> Shape:
    """Return a silicon diode of the given average rating, forward from a to b.

    Two straight pieces: 1 nS up to 0.65 V, then a slope that gives 1.0 V at twice the rating of a 1 A part, scaled with
    the rating.

    Parameters
    ----------
    current_a : float -- average forward rating, > 0 [A]

    Returns
    -------
    Shape -- rising and continuous

    References
    ----------
    T. Kuphaldt, Lessons in Electric Circuits, Semiconductors: 1N4004 points 0.70 V at 0.01 A, 1.0 V at 2.0 A.
    """
    knee, off = 0.65, 1e-9
    g = 2.0 * current_a / (1.0 - knee)
    return Shape(breaks=(knee,), g=(off, g), i0=(0.0, off * knee - g * knee))


def driver_shape(limit_a: float, on_ohm: float) -> Shape:
    """Return an output that conducts with `on_ohm` up to `limit_a` and then holds its current.

    Parameters
    ----------
    limit_a : float -- where it begins to limit, > 0 [A]
    on_ohm : float -- resistance below that, > 0 [ohm]

    Returns
    -------
    Shape -- rising and continuous; beyond the limit it rises by 1 mS only

    References
    ----------
    Common practice for protected low-side and high-side outputs.
    """
    g, flat = 1.0 / on_ohm, 1e-3
    knee = limit_a / g
    return Shape(breaks=(-knee, knee), g=(flat, g, flat), i0=(-(g - flat) * knee, 0.0, (g - flat) * knee))


def load_shape(kind: str, current_a: float) -> Shape:
    """Return the load of a document: a lamp as a lamp, everything else as the resistance it has at 12 V.

    Parameters
    ----------
    kind : str -- 'lamp', 'resistive', 'motor', 'coil' or 'electronic'
    current_a : float -- current at 12 V, > 0 [A]

    Returns
    -------
    Shape -- rising and continuous

    References
    ----------
    Ohm's law; filament lamps by `lamp_shape`.
    """
    return lamp_shape(current_a) if kind == "lamp" else line(current_a / LOAD_V)
