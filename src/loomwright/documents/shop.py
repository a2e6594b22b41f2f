"""The shop document: who sells the kit, in which units and paper, what it wants checked, and pinned routes."""

from typing import Literal

from pydantic import Field

from loomwright.documents.basis import Document, Part, Slug, Words
from loomwright.documents.functions import FunctionName

__all__ = ["PinnedRoute", "Shop"]


class PinnedRoute(Part):
    """A route the builder fixes for one vehicle, with the reason; the plan is made around it."""

    vehicle: Slug
    function: FunctionName
    how: Literal["T tapped", "T interrupted", "tap", "bus", "setting", "added part", "none"]
    pin: Words | None = Field(None, description="'plug/pin' where the joint should be.")
    reason: Words


class Shop(Document):
    """The shop's own facts."""

    kind: Literal["shop"]
    id: Slug
    name: Words
    call: Words = Field(description="How and when the buyer reaches the support line.")
    paper: Literal["A4", "Letter"] = "A4"
    length_unit: Literal["mm", "inch"] = "mm"
    wire_unit: Literal["mm2", "AWG"] = "mm2"
    minute_price: float = Field(0.8, ge=0, description="What a minute of the buyer's or bench's time is counted at.")
    terms: tuple[Words, ...] = ()
    pinned: tuple[PinnedRoute, ...] = ()
