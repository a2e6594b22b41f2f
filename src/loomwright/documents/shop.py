"""The shop document: who sells the kit, in which units and paper, what it wants checked, and pinned routes."""

from datetime import date
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from loomwright.documents.basis import Document, LanguageCode, Minutes, Part, Slug, Words
from loomwright.documents.fault import Fault, Faults
from loomwright.documents.functions import FunctionName

__all__ = ["LocalLimit", "PinnedRoute", "Shop"]


class PinnedRoute(Part):
    """A route the builder fixes for one vehicle, with the reason; the plan is made around it."""

    vehicle: Slug
    function: FunctionName
    how: Literal["T tapped", "T interrupted", "tap", "cut in", "bus", "setting", "added part", "none"]
    pin: Words | None = Field(None, description="'plug/pin' where the joint should be.")
    reason: Words


class LocalLimit(Part):
    """What a place says about an engine that idles or runs with nobody in the car, as the shop read it.

    Nothing here is known to the program: limits differ between states, towns and landlords, and they change.
    """

    place: Words = Field(description="The state, town or site, as its people call it.")
    idle_minutes: Minutes | None = Field(
        None, description="How long an engine may idle there, 0 for not at all [min]; left out where nothing limits it."
    )
    unattended: Literal["allowed", "locked only", "not allowed"] = Field(
        description="Whether an engine may run with nobody in the car."
    )
    source: Words = Field(description="The rule: its name, section and edition.")
    on: date = Field(description="The day on which the shop read it.")


def _each_place_once(limits: tuple[LocalLimit, ...]) -> tuple[LocalLimit, ...]:
    first: dict[str, int] = {}
    again = [
        Fault(
            found=f"the place {limit.place!r} again", expected="each place once", advice="change one of the two",
            at=(index, "place"),
        )
        for index, limit in enumerate(limits)
        if first.setdefault(" ".join(limit.place.split()).casefold(), index) != index
    ]  # fmt: skip
    if again:
        raise Faults(again)
    return limits


class Shop(Document):
    """The shop's own facts."""

    kind: Literal["shop"]
    id: Slug
    name: Words
    call: Words = Field(description="How and when the buyer reaches the support line.")
    paper: Literal["A4", "Letter"] = "A4"
    language: LanguageCode = Field("en", description="What papers are written in where nobody asks for another.")
    written_in: LanguageCode = Field("en", description="What the shop's documents are written in.")
    length_unit: Literal["mm", "inch"] = "mm"
    wire_unit: Literal["mm2", "AWG"] = "mm2"
    minute_price: float = Field(0.8, ge=0, description="What a minute of the buyer's or bench's time is counted at.")
    terms: tuple[Words, ...] = ()
    pinned: tuple[PinnedRoute, ...] = ()
    local_limits: Annotated[tuple[LocalLimit, ...], AfterValidator(_each_place_once)] = Field(
        (), description="Limits on idling and on unattended running, by place, each with its source."
    )
