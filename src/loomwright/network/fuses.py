"""Blade fuses: ratings and colours, resistance cold and hot, and how long they carry an overload."""

import math
from dataclasses import dataclass
from functools import cache

from loomwright.network.published import read_table

__all__ = [
    "OpeningTime",
    "cold_resistance_ohm",
    "fuse_colour",
    "fuse_ratings_a",
    "hot_resistance_ohm",
    "opening_time",
    "smallest_fuse_a",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningTime:
    """How long a fuse carries a current: at least `min_s`, at most `max_s`; infinite where it need not open."""

    min_s: float
    max_s: float


@cache
def fuse_ratings_a() -> tuple[float, ...]:
    """Return the ratings of blade fuses, rising [A]. References: SAE J1284 / ISO 8820-3."""
    return tuple(sorted(float(key) for key in read_table("blade_fuses").rows))


def fuse_colour(rating_a: float) -> str:
    """Return the colour of the body of a blade fuse.

    Parameters
    ----------
    rating_a : float -- one of `fuse_ratings_a` [A]

    Returns
    -------
    str -- colour word

    Raises
    ------
    ValueError
        Where there is no such rating.

    References
    ----------
    SAE J1284, colours as published in charts; 35 A and 40 A from memory.
    """
    row = read_table("blade_fuses").rows.get(f"{rating_a:g}")
    if row is None:
        ratings = ", ".join(f"{each:g}" for each in fuse_ratings_a())
        msg = f"rating_a: found {rating_a:g} A, expected a blade fuse rating: {ratings} A"
        raise ValueError(msg)
    return row["colour"]


def smallest_fuse_a(load_a: float, share: float = 0.75) -> float:
    """Return the smallest blade fuse that carries a load continuously.

    rating >= load / share

    Parameters
    ----------
    load_a : float -- continuous load, >= 0 [A]
    share : float -- share of its rating that a fuse carries for hours, 0.75 at 25 degC [-]

    Returns
    -------
    float -- rating [A]

    Raises
    ------
    ValueError
        Where no blade fuse is big enough.

    References
    ----------
    Common practice, guides of fuse makers: at most 75 % of the rating at 25 degC (70 to 80 % in use).
    """
    for rating in fuse_ratings_a():
        # A load of exactly the share, computed by division, must not fall to rounding.
        if rating * share >= load_a * (1 - 1e-12):
            return rating
    msg = f"load_a: found {load_a:g} A, expected at most {fuse_ratings_a()[-1] * share:g} A; split it over two fuses"
    raise ValueError(msg)


def cold_resistance_ohm(rating_a: float) -> float:
    """Return the resistance of a blade fuse that carries almost no current.

    Between published rows straight in log R over log rating; outside them the line of the nearest two rows goes on.

    Parameters
    ----------
    rating_a : float -- rating, > 0 [A]

    Returns
    -------
    float -- resistance at room temperature [ohm]

    Raises
    ------
    ValueError
        Where the rating is not positive.

    References
    ----------
    Data sheet of an ISO 8820-3 type C blade-fuse series: 1, 2, 4 and 10 A. Other ratings are interpolated, and above
    10 A extrapolated.
    """
    return _along(read_table("blade_fuses").numbers("cold_mohm"), rating_a) / 1000


def hot_resistance_ohm(rating_a: float) -> float:
    """Return the resistance of a blade fuse at its rated current: the published drop over the rating.

    Interpolated like `cold_resistance_ohm`; it is 32 to 49 % above the cold one in the published rows.

    Parameters
    ----------
    rating_a : float -- rating, > 0 [A]

    Returns
    -------
    float -- resistance at rated current [ohm]

    Raises
    ------
    ValueError
        Where the rating is not positive.

    References
    ----------
    Data sheet of an ISO 8820-3 type C blade-fuse series, drop at rated current: 1, 2, 4 and 10 A.
    """
    drops = read_table("blade_fuses").numbers("drop_mv")
    return _along({rating: drop / rating for rating, drop in drops.items()}, rating_a) / 1000


def opening_time(rating_a: float, current_a: float) -> OpeningTime:
    """Return the least and the greatest time for which a blade fuse carries a steady current.

    Between the gates of the standard straight in log t over log I. Up to 110 % it need not open at all; up to 135 % it
    may stay closed for good. Beyond 600 % the least time falls as 1/I^2 and the greatest is that at 600 %.

    Parameters
    ----------
    rating_a : float -- rating, > 0 [A]
    current_a : float -- steady current, >= 0 [A]

    Returns
    -------
    OpeningTime -- bounds [s]

    Raises
    ------
    ValueError
        Where the rating is not positive.

    References
    ----------
    ISO 8820-3 type C and SAE J1284, gates at 110, 135, 160, 200, 350 and 600 % (from memory).
    """
    _check_rating(rating_a)
    percent = 100 * current_a / rating_a
    table = read_table("blade_fuse_times")
    small = "small_" if rating_a <= 2 else ""
    least, most = table.numbers(f"{small}min_s"), table.numbers(f"{small}max_s")
    if percent <= min(least):
        return OpeningTime(min_s=math.inf, max_s=math.inf)
    last = max(least)
    min_s = _along(least, percent) if percent <= last else least[last] * (last / percent) ** 2
    max_s = math.inf if percent < min(most) else _along(most, min(percent, max(most)))
    return OpeningTime(min_s=min_s, max_s=max_s)


def _check_rating(rating_a: float) -> None:
    if not 0 < rating_a < math.inf:
        msg = f"rating_a: found {rating_a:g} A, expected a positive rating"
        raise ValueError(msg)


def _along(points: dict[float, float], x: float) -> float:
    """Interpolate straight in log y over log x, through the two points around x, or the two nearest."""
    _check_rating(x)
    if x in points:
        return points[x]
    xs = sorted(points)
    right = min(max(next((i for i, each in enumerate(xs) if each > x), len(xs)), 1), len(xs) - 1)
    x0, x1 = xs[right - 1], xs[right]
    slope = math.log(points[x1] / points[x0]) / math.log(x1 / x0)
    return float(points[x0] * (x / x0) ** slope)
