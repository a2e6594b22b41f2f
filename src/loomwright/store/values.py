"""What the store hands out, and what it says when two people saved the same thing."""

import re
from dataclasses import dataclass
from typing import Literal, TypeAlias

from loomwright.errors import StoreError

__all__ = [
    "FROZEN", "KINDS", "LARGEST_FILE", "LARGEST_TEXT", "SLUG", "Action", "Attached", "Attachment", "Change", "Conflict",
    "Entry", "Erasure", "Hit", "Person", "Revision",
]  # fmt: skip

KINDS = ("vehicle", "kit", "shop", "evidence", "job", "issue", "reading")
"""The kinds of what is kept. An issue is a guide as it went out, a reading what the buyer's meter showed."""

FROZEN = frozenset({"issue", "reading"})
"""Kinds that have one revision for ever: paper that is printed does not change, and a meter showed what it showed."""

SLUG = re.compile(r"(?=.{1,120}\Z)[a-z0-9]+(?:[-.][a-z0-9]+)*")
"""How ids are made. They become names of files at export: no slash, no upper case, room for an ending."""

LARGEST_TEXT = 2_000_000  # bytes; a vehicle of 100 circuits has some 60 kB
LARGEST_FILE = 32_000_000  # bytes; a photo of a phone has some 5 MB

Action: TypeAlias = Literal["save", "undo", "remove"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A revision without its text, as lists show it.

    Parameters
    ----------
    number
        Its place in the order of everything that was ever saved, from 1 without gaps.
    kind, id
        The document.
    version
        Its place among the revisions of that document, from 1.
    base
        Number of the revision from which it was made; `None` for a new document.
    action
        How it came about. After a removal the text is that of before, and the document is in no list.
    by
        Id of the person who saved it.
    at
        When: UTC, ISO 8601.
    sha256
        Of the text in UTF-8, in hexadecimal.
    """

    number: int
    kind: str
    id: str
    version: int
    base: int | None
    action: Action
    by: str
    at: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision(Entry):
    """A revision with its text, exactly as it was given."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A photo or a sheet, to be kept with a revision.

    Parameters
    ----------
    name
        The name it has in the document, such as ``plug-1.jpg`` or ``photos/plug-1.jpg``.
    media_type
        As in ``image/jpeg``.
    data
        Its bytes.
    """

    name: str
    media_type: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """What is known about an attachment of a revision without reading its bytes."""

    name: str
    media_type: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody of the shop, or a buyer. Everything but the id is personal data and can be erased."""

    id: str
    name: str
    contact: str = ""
    address: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erasure:
    """That a person's data were erased, when, and by whom."""

    person: str
    at: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One difference between two revisions.

    Parameters
    ----------
    path
        Where, as messages about documents write it: ``circuits[starter].path[2].colour``.
    before, after
        The value as text; `None` where there is none.
    """

    path: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A document that a search found.

    Parameters
    ----------
    entry
        Its latest revision.
    line
        The first line that has one of the words; 0 where only the id has them.
    excerpt
        That line, at most 160 characters.
    """

    entry: Entry
    line: int
    excerpt: str


class Conflict(StoreError):  # noqa: N818 - named as the person reads it
    """Somebody else saved a newer revision first.

    Parameters
    ----------
    base
        The revision from which the caller's text was made; `None` where the caller thought the document new.
    theirs
        The revision that is there now.
    text
        The text that was to be saved; it is not lost, and can be merged or kept as a copy.
    """

    def __init__(self, *, base: Entry | None, theirs: Revision, text: str) -> None:
        expected = "none" if base is None else f"version {base.version}, from which this text was made"
        super().__init__(
            f"{theirs.kind} {theirs.id}: found version {theirs.version}, saved by {theirs.by} at {theirs.at}, "
            f"expected {expected}; merge both texts or keep this one as a copy"
        )
        self.base = base
        self.theirs = theirs
        self.text = text
