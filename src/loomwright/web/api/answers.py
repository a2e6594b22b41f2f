"""What the HTTP interface answers about what is kept: documents, revisions, jobs, hits."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from loomwright.store.values import Entry
from loomwright.web.api.asked import Kind
from loomwright.web.api.errors import Fault

__all__ = [
    "ChangeAnswer", "CompareAnswer", "DocumentAnswer", "DocumentLine", "DocumentList", "HealthAnswer", "HitAnswer",
    "IssueAnswer", "JobAnswer", "JobLine", "JobList", "KeptReading", "RevisionAnswer", "RevisionList", "RevisionText",
    "SearchAnswer", "SheetLink", "facts_of",
]  # fmt: skip


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class RevisionAnswer(_Part):
    """One revision, as lists show it."""

    number: int = Field(description="Its place in the order of everything that was ever saved.")
    kind: str
    id: str
    version: int = Field(description="Its place among the revisions of this document.")
    base: int | None = Field(description="Number of the revision it was made from.")
    action: str = Field(description="`save`, `undo` or `remove`.")
    by: str = Field(description="Id of the person who saved it.")
    at: str = Field(description="When: UTC, ISO 8601.")
    sha256: str = Field(description="Of the text in UTF-8.")


class DocumentLine(RevisionAnswer):
    """The latest revision of a document, with its name."""

    name: str


class DocumentList(_Part):
    """A page of a list."""

    documents: list[DocumentLine]
    next: str | None = Field(description="What `after` is on the next page; null on the last.")
    total: int


class DocumentAnswer(RevisionAnswer):
    """A document as it is now."""

    text: str
    document: dict[str, Any] | None = Field(
        description="The text as values, with what is left out filled in; null where the text has faults of form."
    )
    faults: list[Fault] = Field(description="Everything that the check says of it.")


class RevisionText(RevisionAnswer):
    """One revision with its text."""

    text: str


class RevisionList(_Part):
    """All revisions of a document, oldest first, removals included."""

    revisions: list[RevisionAnswer]


class ChangeAnswer(_Part):
    """One difference; null where there is no value."""

    path: str
    before: str | None
    after: str | None


class CompareAnswer(_Part):
    """What differs between two revisions, value by value."""

    changes: list[ChangeAnswer]


class JobLine(RevisionAnswer):
    """One job in the list."""

    name: str


class JobList(_Part):
    """A page of the jobs."""

    jobs: list[JobLine]
    next: int | None = Field(description="What `before` is on the next page; null on the last.")
    total: int


class SheetLink(_Part):
    """A sheet as it went out."""

    name: str
    media_type: str
    sha256: str
    href: str = Field(description="Address of its bytes on this workbench.")


class IssueAnswer(RevisionAnswer):
    """One guide as it went out."""

    sheets: list[SheetLink]


class KeptReading(RevisionAnswer):
    """Readings that were kept with a job."""

    text: str


class JobAnswer(RevisionAnswer):
    """One job with everything that is kept under it. The buyer stands in it as an id."""

    name: str
    vehicle: str
    kit: str
    choice: dict[str, str]
    verdict: str
    unproven: int
    buyer: str
    note: str
    issues: list[IssueAnswer]
    readings: list[KeptReading]


class HitAnswer(_Part):
    """A document that a search found."""

    kind: str
    id: str
    name: str
    number: int
    line: int = Field(description="The first line that has one of the words; 0 where only the id has them.")
    excerpt: str


class SearchAnswer(_Part):
    """What was found."""

    hits: list[HitAnswer]


class HealthAnswer(_Part):
    """That the workbench is there, and what it holds."""

    status: str = Field(description="`ok`.")
    version: str
    format: int = Field(description="The newest form of documents that it reads.")
    shop: str = Field(description="Name of the shop; empty before there is one.")
    documents: dict[Kind, int] = Field(description="How many documents there are of each kind.")
    jobs: int


def facts_of(entry: Entry) -> dict[str, Any]:
    """Return what every answer about a revision holds."""
    return {key: getattr(entry, key) for key in RevisionAnswer.model_fields}
