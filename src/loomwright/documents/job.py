"""The job document: one kit that was sold for one car, under a serial."""

from typing import Literal

from pydantic import Field

from loomwright.documents.basis import Document, Slug, Words

__all__ = ["Job"]


class Job(Document):
    """One kit sold for one car. The buyer stands in it by an id only; names are kept where they can be erased."""

    kind: Literal["job"]
    id: Slug
    name: Words
    vehicle: Slug
    kit: Slug
    choice: dict[str, str] = Field(default_factory=dict)
    verdict: Literal["fits", "fits-with-exceptions", "does-not-fit"]
    unproven: int = 0
    buyer: str = ""
    note: str = ""
