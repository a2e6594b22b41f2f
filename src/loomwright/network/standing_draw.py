"""The parked car: what it draws, what the kit adds, and for how long the battery can still crank."""

from dataclasses import dataclass

from loomwright.network.solving import Solved

__all__ = ["DEFAULT_CAPACITY_AH", "StandingDraw", "days_until_no_crank", "share_needed", "standing_draw"]

DEFAULT_CAPACITY_AH = 70.0
"""Capacity where the vehicle states none: a typical car battery, 70 Ah (T. Kuphaldt, Lessons in Electric Circuits)."""

_COLD_C = -18.0
_WARM_C = 25.0
_WARM_GAIN = 2.0
_COLD_OIL = 2.0
# At -18 degC the battery gives its rated cold-cranking current (SAE J537) and the engine asks for about twice its warm
# current; warm, the battery has about half its cold resistance. Both factors are common practice.


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingDraw:
    """What the parked, sleeping car draws: in all and by the kit [A], and days until it no longer cranks."""

    car_a: float
    kit_a: float
    days_warm: float
    days_cold: float


def share_needed(cca_a: float, starter_a: float, temperature_c: float) -> float:
    """Return the share of charge below which a battery no longer cranks the engine.

    s = starter current at T / (CCA x gain at T), both factors straight between -18 and 25 degC and held outside.

    Parameters
    ----------
    cca_a : float -- cold-cranking rating, SAE J537, > 0 [A]
    starter_a : float -- steady cranking current of the warm engine, > 0 [A]
    temperature_c : float -- battery and oil temperature [degC]

    Returns
    -------
    share : float -- between 0 and 1

    References
    ----------
    SAE J537 for the rating; the two factors are common practice.
    """
    warmth = min(max((temperature_c - _COLD_C) / (_WARM_C - _COLD_C), 0.0), 1.0)
    asks = starter_a * (_COLD_OIL + (1.0 - _COLD_OIL) * warmth)
    gives = cca_a * (1.0 + (_WARM_GAIN - 1.0) * warmth)
    return min(asks / gives, 1.0)


def days_until_no_crank(
    draw_a: float, capacity_ah: float, cca_a: float, starter_a: float, temperature_c: float
) -> float:
    """Return how many days a full battery lasts against a steady draw until it no longer cranks.

    days = C (1 - s) / (24 I) with s of `share_needed`; at draws of some milliamperes Peukert's loss is left out.

    Parameters
    ----------
    draw_a : float -- steady draw I, > 0 [A]
    capacity_ah : float -- capacity C at the 20 h rate, > 0 [Ah]
    cca_a : float -- cold-cranking rating, > 0 [A]
    starter_a : float -- steady cranking current of the warm engine, > 0 [A]
    temperature_c : float -- temperature at the moment of the start [degC]

    Returns
    -------
    days : float -- [d]

    References
    ----------
    Charge balance; self-discharge is left out.
    """
    return capacity_ah * (1.0 - share_needed(cca_a, starter_a, temperature_c)) / (24.0 * draw_a)


def standing_draw(
    solved: Solved, capacity_ah: float = DEFAULT_CAPACITY_AH, cca_a: float = 550.0, starter_a: float = 130.0
) -> StandingDraw | None:
    """Return the parked car's draw from its solved sleeping state, or None where no story shows it."""
    for lane, state in enumerate(solved.states):
        asleep = state.stage == "fitted" and state.key == "off" and state.active == {"awake"} and not state.commands
        if not asleep:
            continue
        total = -solved.amps("v:battery", lane)
        kit = sum(
            abs(solved.amps(e.id, lane)) for e in solved.compiled.netlist.elements if e.id.endswith("/sleeping")
        )
        batteries = (capacity_ah, cca_a, starter_a)
        return StandingDraw(
            car_a=total,
            kit_a=kit,
            days_warm=days_until_no_crank(max(total, 1e-6), *batteries, _WARM_C),
            days_cold=days_until_no_crank(max(total, 1e-6), *batteries, _COLD_C),
        )
    return None
