"""A number as papers hold it: with its unit and where it came from."""

from dataclasses import dataclass

__all__ = ["Quantity"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with its unit and where it came from."""

    value: float
    unit: str
    trace: str  # e.g. 'reading:j:brake/bcm-a/7@bare/off+brake pressed' or 'document:vehicles/x.yaml:41'
    digits: int = 1
