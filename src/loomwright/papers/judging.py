"""What a reading that somebody typed means, by the verdicts of its field."""

from dataclasses import dataclass

from loomwright.papers.blocks import Quantity, ReadingField

__all__ = ["Judged", "judge", "typed_volts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What a reading means; `below` is how far under the battery it lies where that is what counts [V]."""

    good: bool
    words: str
    below: Quantity | None


def typed_volts(text: str) -> float | None:
    """Return what somebody typed as volts, with a point or a comma; None where it is no number a meter shows."""
    plain = text.strip().replace(",", ".").replace("\u2212", "-").removesuffix("V").strip()
    if not plain.isascii():
        return None
    try:
        value = float(plain)
    except ValueError:
        return None
    return value if abs(value) < 100 else None


def judge(field: ReadingField, value_v: float, battery_v: float) -> Judged | None:
    """Return what a reading means: the first verdict whose limits hold it, or None where none does.

    Parameters
    ----------
    field
        The field, whose limits are volts below the battery where it is `relative`.
    value_v, battery_v
        What the meter shows, and the battery as measured just before [V].
    """
    # Rounded, since 12.6 - 12.2 is 0.4 on the meter but not in binary.
    shown = round(battery_v - value_v, 6) if field.relative else value_v
    below = Quantity(value=shown, unit="V", trace=f"reading:{field.id}", digits=2) if field.relative else None
    for row in field.verdicts:
        if (row.low is None or shown >= row.low.value) and (row.high is None or shown <= row.high.value):
            return Judged(good=row.good, words=row.words, below=below)
    return None
