"""A number as papers hold it: with its unit and where it came from."""

from dataclasses import dataclass

from loomwright.units import awg_name

__all__ = ["Quantity"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with its unit and where it came from."""

    value: float
    unit: str
    trace: str  # e.g. 'reading:j:brake/bcm-a/7@bare/off+brake pressed' or 'document:vehicles/x.yaml:41'
    digits: int = 1
    decimal: str = "."  # as the language of the paper writes it

    @property
    def printed(self) -> str:
        """The number with its digits; of a wire gauge above 1 the name of the trade, '1/0' and so on."""
        if self.unit == "AWG":
            return awg_name(int(self.value)).removesuffix(" AWG")
        return f"{self.value:.{self.digits}f}".replace(".", self.decimal)
