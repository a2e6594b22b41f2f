"""Revisions into the database and out of it. Each function works inside a transaction that its caller holds."""

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Row, Select, and_, func, insert, select, update

from loomwright.documents.reading import Source, read_tree
from loomwright.errors import StoreError
from loomwright.store.people import require_person
from loomwright.store.searching import add_words, drop_words
from loomwright.store.tables import attachments, blobs, heads, revisions
from loomwright.store.values import (
    FROZEN,
    KINDS,
    LARGEST_FILE,
    LARGEST_TEXT,
    SLUG,
    Action,
    Attached,
    Attachment,
    Conflict,
    Entry,
    Revision,
)

__all__ = [
    "attached_to", "checked_text", "entries", "entry_row", "keep_blob", "latest_of", "linked", "put",
    "revision_at", "revisions_of", "save", "sha256_of", "undo",
]  # fmt: skip

_FILE_NAME = re.compile(r"(?=.{1,120}\Z)\w[\w .()+-]*(?:/\w[\w .()+-]*)*")
_MEDIA_TYPE = re.compile(r"[a-z]+/[a-z0-9][a-z0-9.+-]*")

_ENTRY = [column for column in revisions.columns if column.name != "text"]


def sha256_of(data: bytes) -> str:
    """Return the hash by which texts and attachments are known, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def checked_text(kind: str, id: str, text: str, file: str | None = None) -> str:
    """Return the hash of a text that may be kept as this document; `file` is its name in messages.

    Whether it is a *complete* document is not asked: half a vehicle is worth keeping.

    Raises
    ------
    DocumentError
        Where it is not the YAML of a document at all.
    StoreError
        Where the kind is not known, the id cannot be one, or the text is of another kind, of another id or too long.
    """
    if kind not in KINDS:
        raise StoreError(f"store: found the kind {kind!r}, expected one of {', '.join(KINDS)}; choose one")
    if not SLUG.fullmatch(id):
        raise StoreError(
            f"{kind}: id: found {id[:130]!r}, expected lower-case words joined by '-', at most 120 characters; "
            "rename it"
        )
    data = text.encode("utf-8", errors="replace")
    if len(data) > LARGEST_TEXT:
        raise StoreError(
            f"{kind} {id}: found a text of {len(data) / 1e6:.1f} MB, expected at most {LARGEST_TEXT / 1e6:.0f} MB; "
            "split it"
        )
    value = read_tree(Source(file=file or f"{kind}/{id}", text=text)).value
    for key, wanted in (("kind", kind), ("id", id)):
        if value.get(key, wanted) != wanted:
            raise StoreError(
                f"{kind} {id}: {key}: found {value[key]!r} in the text, expected {wanted!r}; "
                f"save it under its own {key}"
            )
    return sha256_of(data)


def save(
    connection: Connection,
    *,
    kind: str,
    id: str,
    text: str,
    by: str,
    at: str,
    base: Entry | None,
    attach: Sequence[Attachment] = (),
    detach: Iterable[str] = (),
    action: Action = "save",
    digest: str | None = None,
) -> Revision:
    """Keep a text as the latest revision of a document; see `Store.save`.

    `digest` is what `checked_text` returned, where the text was checked before: reading it takes longer than all the
    rest, and other writers wait meanwhile.
    """
    digest = digest or checked_text(kind, id, text)
    require_person(connection, by)
    latest = latest_of(connection, kind, id)
    if base is not None and (base.kind, base.id) != (kind, id):
        msg = f"base: found a revision of {base.kind} {base.id}, expected one of {kind} {id}"
        raise ValueError(msg)
    dropped = set(detach)
    links = {} if latest is None else _links(connection, latest)
    links = {name: one for name, one in links.items() if name not in dropped}
    links |= {file.name: linked(kind, id, file) for file in attach}
    if latest is not None:
        same = latest.sha256 == digest and action == latest.action and links == _links(connection, latest)
        if same and (latest.number == base.number if base else False):
            return latest
        if same and latest.by == by and latest.base == (base.number if base else None):
            return latest  # the caller heard no answer the first time, and asks again
        _refuse_frozen(kind, id)
        made_anew = base is None and latest.action == "remove"
        if not made_anew and (base.number if base else None) != latest.number:
            raise Conflict(base=base, theirs=latest, text=text)
    for file in attach:
        keep_blob(connection, links[file.name].sha256, file.data)
    return put(
        connection, kind=kind, id=id, text=text, digest=digest, by=by, at=at, action=action,
        before=latest, base=base.number if base else None, links=links.values(),
    )  # fmt: skip


def undo(connection: Connection, *, kind: str, id: str, by: str, at: str, base: Entry | None) -> Revision:
    """Make the revision before the latest one the latest again; see `Store.undo`."""
    require_person(connection, by)
    latest = latest_of(connection, kind, id)
    if latest is None or latest.version == 1:
        found = "no such document" if latest is None else "its first version"
        raise StoreError(f"{kind} {id}: found {found}, expected one with something before it; there is nothing to undo")
    if base is not None and base.number != latest.number:
        raise Conflict(base=base, theirs=latest, text=base.text if isinstance(base, Revision) else "")
    rows = select(revisions).where(*_is(kind, id), revisions.c.version == latest.version - 1)
    before = _revision(connection.execute(rows).one())
    return put(
        connection, kind=kind, id=id, text=before.text, digest=before.sha256, by=by, at=at,
        action="remove" if before.action == "remove" else "undo",
        before=latest, base=latest.number, links=attached_to(connection, before.number),
    )  # fmt: skip


def put(
    connection: Connection,
    *,
    kind: str,
    id: str,
    text: str,
    digest: str,
    by: str,
    at: str,
    action: Action,
    before: Revision | None,
    base: int | None,
    links: Iterable[Attached],
) -> Revision:
    """Write one revision, its attachments, and what follows from it."""
    number = connection.execute(select(func.coalesce(func.max(revisions.c.number), 0) + 1)).scalar_one()
    revision = Revision(
        number=number, kind=kind, id=id, version=before.version + 1 if before else 1, base=base, action=action,
        by=by, at=at, sha256=digest, text=text,
    )  # fmt: skip
    connection.execute(insert(revisions), entry_row(revision))
    linked = [
        {"revision": number, "name": one.name, "media_type": one.media_type, "sha256": one.sha256} for one in links
    ]
    if linked:
        connection.execute(insert(attachments), linked)
    _set_head(connection, revision)
    return revision


def _set_head(connection: Connection, revision: Revision) -> None:
    """Write down that a revision is the latest of its document, and index its words."""
    where = and_(heads.c.kind == revision.kind, heads.c.id == revision.id)
    slot = connection.execute(select(heads.c.slot).where(where)).scalar()
    if slot is None:
        slot = revision.number
        row = {"slot": slot, "kind": revision.kind, "id": revision.id, "number": revision.number}
        connection.execute(insert(heads), row)
    else:
        connection.execute(update(heads).where(where).values(number=revision.number))
        drop_words(connection, slot)
    if revision.action != "remove":
        add_words(connection, slot, revision.id, revision.text)


def keep_blob(connection: Connection, digest: str, data: bytes) -> None:
    """Keep the bytes of an attachment, once."""
    if connection.execute(select(blobs.c.sha256).where(blobs.c.sha256 == digest)).first() is None:
        connection.execute(insert(blobs), {"sha256": digest, "data": data})


def latest_of(connection: Connection, kind: str, id: str) -> Revision | None:
    """Return the latest revision of a document, a removal included."""
    rows = select(revisions).join(heads, heads.c.number == revisions.c.number)
    row = connection.execute(rows.where(heads.c.kind == kind, heads.c.id == id)).one_or_none()
    return None if row is None else _revision(row)


def revision_at(connection: Connection, number: int) -> Revision:
    """Return a revision by its number.

    Raises
    ------
    StoreError
        Where there is none.
    """
    row = connection.execute(select(revisions).where(revisions.c.number == number)).one_or_none()
    if row is None:
        raise StoreError(f"store: found no revision {number}, expected one that was saved; look at the list")
    return _revision(row)


def revisions_of(connection: Connection, kind: str, id: str) -> tuple[Entry, ...]:
    """Return the revisions of a document, oldest first."""
    rows = select(*_ENTRY).where(*_is(kind, id)).order_by(revisions.c.version)
    return tuple(_entry(row) for row in connection.execute(rows))


def entries(connection: Connection, query: "Select[Any]") -> tuple[Entry, ...]:
    """Return the latest revisions that a condition on `heads` chooses."""
    rows = query.add_columns(*_ENTRY).join(revisions, revisions.c.number == heads.c.number)
    return tuple(_entry(row) for row in connection.execute(rows))


def attached_to(connection: Connection, number: int) -> tuple[Attached, ...]:
    """Return the attachments of a revision by name."""
    rows = select(attachments).where(attachments.c.revision == number).order_by(attachments.c.name)
    return tuple(
        Attached(name=row.name, media_type=row.media_type, sha256=row.sha256) for row in connection.execute(rows)
    )


def _links(connection: Connection, entry: Entry) -> dict[str, Attached]:
    return {one.name: one for one in attached_to(connection, entry.number)}


def linked(kind: str, id: str, file: Attachment) -> Attached:
    """Return what is known of a file that is to be kept with a document.

    Raises
    ------
    StoreError
        Where its name or type cannot be kept, or it is too large.
    """
    where = f"{kind} {id}: attachment"
    if not _FILE_NAME.fullmatch(file.name):
        raise StoreError(f"{where}: found the name {file.name[:130]!r}, expected a plain file name; rename it")
    if not _MEDIA_TYPE.fullmatch(file.media_type):
        raise StoreError(
            f"{where} {file.name}: found the type {file.media_type!r}, expected one such as image/jpeg; correct it"
        )
    if len(file.data) > LARGEST_FILE:
        raise StoreError(
            f"{where} {file.name}: found {len(file.data) / 1e6:.1f} MB, expected at most {LARGEST_FILE / 1e6:.0f} MB; "
            "make it smaller"
        )
    return Attached(name=file.name, media_type=file.media_type, sha256=sha256_of(file.data))


def _refuse_frozen(kind: str, id: str) -> None:
    if kind in FROZEN:
        raise StoreError(f"{kind} {id}: found one that is kept already, expected a new id; it is kept as it went out")


def _is(kind: str, id: str) -> tuple[Any, ...]:
    return (revisions.c.kind == kind, revisions.c.id == id)


def entry_row(revision: Revision) -> Mapping[str, object]:
    """Return a revision as a row of its table."""
    return {
        "number": revision.number, "kind": revision.kind, "id": revision.id, "version": revision.version,
        "base": revision.base, "action": revision.action, "by_person": revision.by, "at": revision.at,
        "sha256": revision.sha256, "text": revision.text,
    }  # fmt: skip


def _facts(row: Row[Any]) -> dict[str, Any]:
    facts = dict(row._mapping)
    return {"by" if key == "by_person" else key: value for key, value in facts.items()}


def _entry(row: Row[Any]) -> Entry:
    return Entry(**_facts(row))


def _revision(row: Row[Any]) -> Revision:
    return Revision(**_facts(row))
