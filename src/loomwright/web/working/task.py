"""One piece of long work as it is kept: who asked for what, how far it is, what came of it."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from hashlib import sha256
from typing import Literal, Self

from loomwright.papers.drawings import Photograph

__all__ = ["ENDED", "Asked", "Made", "Task", "TaskState"]

TaskState = Literal["waiting", "going", "done", "failed", "cancelled", "stopped"]
ENDED = frozenset({"done", "failed", "cancelled", "stopped"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is to be worked on: the texts of the documents as they were when it was asked for, and one car of them.

    `photos` are those that the documents name, by `showing.photo_key`; empty for work that shows none.
    """

    vehicle: str
    kit: str
    shop: str
    evidence: tuple[str, ...]
    choice: Mapping[str, str]
    photos: Mapping[str, Photograph] = field(default_factory=dict)

    @property
    def digest(self) -> str:
        """Return what tells this from any other question: the SHA-256 of all of it."""
        text = json.dumps(asdict(self), sort_keys=True, default=lambda picture: sha256(picture).hexdigest())
        return sha256(text.encode()).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What came of it: sentences, a table, and files by name."""

    lines: tuple[str, ...]
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    links: tuple[str, ...] = ()  # query of the installation page, one for each row
    files: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A piece of long work.

    Parameters
    ----------
    id
        Counts up; names the folder of its files.
    kind
        One of the table of `kinds`.
    title
        What it is, in words.
    vehicle, kit, choice
        Ids, to show the installation and to do it once more.
    digest
        Digest of what it was asked of, so that the same need not be done twice.
    by, at
        Id of the person who asked, and when, UTC.
    state
        'stopped' is work that ended with the program, not by itself.
    done, total, words
        How far it is; `total` is 0 where that cannot be told.
    lines, head, rows, links
        Result in words and as a table.
    files
        Names of the files of the result.
    seconds
        How long it took [s].
    """

    id: str
    kind: str
    title: str
    vehicle: str
    kit: str
    choice: Mapping[str, str]
    by: str
    at: str
    digest: str = ""
    state: TaskState = "waiting"
    done: int = 0
    total: int = 0
    words: str = ""
    lines: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    links: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    seconds: float = 0.0

    @property
    def has_ended(self) -> bool:
        """Tell whether nothing more comes of it."""
        return self.state in ENDED

    def text(self) -> str:
        """Return it as it is kept."""
        return json.dumps(asdict(self), ensure_ascii=False, indent=1)

    @classmethod
    def of(cls, text: str) -> Self:
        """Return what was kept.

        Raises ValueError where the text is none of ours.
        """
        try:
            raw = json.loads(text)
            known = {f.name for f in fields(cls)}
            given = {key: value for key, value in raw.items() if key in known}
            for name in ("lines", "head", "links", "files"):
                given[name] = tuple(given[name])
            given["rows"] = tuple(tuple(row) for row in given["rows"])
            return cls(**given)
        except (AttributeError, KeyError, TypeError, ValueError) as problem:
            msg = f"task: found {text[:40]!r}, expected one that was kept"
            raise ValueError(msg) from problem
