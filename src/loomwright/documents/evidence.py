"""Evidence: who measured or read what about a circuit, on which car, and how."""

from datetime import date
from typing import Literal

from pydantic import Field

from loomwright.documents.basis import Condition, Document, Part, Slug, Words
from loomwright.documents.pictures import Photo

__all__ = ["Claims", "Evidence", "EvidenceRecord"]


class Claims(Part):
    """What a record says about the circuit; only what was really seen."""

    colour: Words | None = None
    stripe: Words | None = None
    pin: Words | None = Field(None, description="'plug/pin' where it was found.")
    kind: Words | None = Field(None, description="What was found out about how it works, in words.")


class EvidenceRecord(Part):
    """One observation."""

    circuit: Slug
    claims: Claims = Field(default_factory=lambda: Claims.model_validate({}))
    scope: Condition = Field(default_factory=dict, description="Which variants it speaks of.")
    how: Literal["measured", "buyer reported", "maker's diagram", "sibling", "assumed"]
    reading: Words | None = Field(None, description="The meter's reading and the state, as noted.")
    by: Words = Field(description="A role or initials; never a buyer's name.")
    on: date
    photo: Photo | None = Field(None, description="What was seen, such as the wire with the meter on it.")


class Evidence(Document):
    """The evidence about one vehicle family."""

    kind: Literal["evidence"]
    id: Slug
    vehicle: Slug
    records: tuple[EvidenceRecord, ...] = ()
