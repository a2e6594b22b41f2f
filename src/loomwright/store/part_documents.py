"""The part of the store that keeps documents: saving, undoing, finding, comparing, attachments."""

import builtins
from collections.abc import Iterable, Sequence

from pydantic import BaseModel
from sqlalchemy import func, select

from loomwright.documents.writing import dump_document
from loomwright.errors import StoreError
from loomwright.store import saving
from loomwright.store.comparing import changes
from loomwright.store.opened import Opened, no_document
from loomwright.store.searching import begins_in, excerpt, id_query_for, query_for, words_of
from loomwright.store.tables import blobs, heads, revisions
from loomwright.store.values import KINDS, Attached, Attachment, Change, Entry, Hit, Revision

__all__ = ["Documents"]


class Documents(Opened):
    """Documents and their revisions."""

    def save(
        self,
        kind: str,
        id: str,
        document: str | BaseModel,
        *,
        by: str,
        base: Entry | None = None,
        attach: Sequence[Attachment] = (),
        detach: Iterable[str] = (),
    ) -> Revision:
        """Keep a new revision of a document and return it once it is on the disk.

        Saving what is the latest already, or the same thing from the same base once more, returns what is there: a
        caller that heard no answer may ask again.

        Parameters
        ----------
        kind, id
            The document; one of `KINDS`, and lower-case words.
        document
            Its text, which is kept as it is, or a document, which is written down by `dump_document`.
        by
            Id of the person who saves it.
        base
            The revision from which the text was made; `None` for a document that is new or was removed.
        attach
            Files to be kept with it from this revision on.
        detach
            Names of files to be left out from this revision on. All others stay.

        Raises
        ------
        Conflict
            Where the latest revision is another one than `base`.
        DocumentError
            Where the text is not a document's YAML at all. Whether it is complete is not asked.
        StoreError
            Where the person or kind is not known, something is too large, or the database fails.
        """
        text = document if isinstance(document, str) else dump_document(document)
        detached, digest = frozenset(detach), saving.checked_text(kind, id, text)
        with self.database.writing() as connection:
            return saving.save(
                connection, kind=kind, id=id, text=text, by=by, at=self.now(), base=base, attach=attach,
                detach=detached, digest=digest,
            )  # fmt: skip

    def undo(self, kind: str, id: str, *, by: str, base: Entry | None = None) -> Revision:
        """Keep a new revision that is equal to the one before the latest, attachments included.

        Parameters
        ----------
        kind, id
            The document.
        by
            Id of the person who undoes it.
        base
            The latest revision that the person saw; where it is given and there is a newer one, nothing is undone.

        Raises
        ------
        Conflict
            Where there is a newer revision than `base`.
        StoreError
            Where there is nothing before.
        """
        with self.database.writing() as connection:
            return saving.undo(connection, kind=kind, id=id, by=by, at=self.now(), base=base)

    def remove(self, kind: str, id: str, *, by: str, base: Entry) -> Revision:
        """Take a document out of all lists; its revisions stay, and `undo` brings it back.

        Raises
        ------
        Conflict
            Where there is a newer revision than `base`.
        StoreError
            Where there is no such document, or its kind is never taken away.
        """
        with self.database.writing() as connection:
            latest = saving.latest_of(connection, kind, id)
            if latest is None:
                raise no_document(kind, id)
            return saving.save(
                connection, kind=kind, id=id, text=latest.text, by=by, at=self.now(), base=base, action="remove"
            )

    def latest(self, kind: str, id: str) -> Revision:
        """Return the latest revision of a document.

        Raises
        ------
        StoreError
            Where there is no such document, or it was removed.
        """
        with self.database.reading() as connection:
            found = saving.latest_of(connection, kind, id)
        if found is None or found.action == "remove":
            raise no_document(kind, id)
        return found

    def has(self, kind: str, id: str) -> bool:
        """Tell whether there is such a document that was not removed."""
        with self.database.reading() as connection:
            found = saving.latest_of(connection, kind, id)
        return found is not None and found.action != "remove"

    def revisions(self, kind: str, id: str) -> tuple[Entry, ...]:
        """Return all revisions of a document without their texts, oldest first, removals included."""
        with self.database.reading() as connection:
            return saving.revisions_of(connection, kind, id)

    def at(self, number: int) -> Revision:
        """Return a revision by its number.

        Raises
        ------
        StoreError
            Where there is none.
        """
        with self.database.reading() as connection:
            return saving.revision_at(connection, number)

    def compare(self, before: Revision, after: Revision) -> tuple[Change, ...]:
        """Return the differences between two revisions, value by value, attachments last."""
        files = [{one.name: one.sha256 for one in self.attachments(revision)} for revision in (before, after)]
        attached = (
            Change(path=f"attachments.{name}", before=files[0].get(name), after=files[1].get(name))
            for name in sorted(files[0] | files[1])
            if files[0].get(name) != files[1].get(name)
        )
        return (*changes(before.text, after.text), *attached)

    def list(self, kind: str, *, after: str = "", limit: int | None = None) -> tuple[Entry, ...]:
        """Return the latest revision of every document of a kind, by id.

        Parameters
        ----------
        kind
            One of `KINDS`.
        after
            Only ids after this one, for the next page.
        limit
            At most so many.
        """
        query = select().select_from(heads).where(heads.c.kind == kind, heads.c.id > after)
        query = query.where(revisions.c.action != "remove").order_by(heads.c.id).limit(limit)
        with self.database.reading() as connection:
            return saving.entries(connection, query)

    def recent(self, kinds: Iterable[str] = KINDS, *, before: int | None = None, limit: int = 50) -> tuple[Entry, ...]:
        """Return the documents that were saved last, newest first; `before` is the last number of the page before."""
        found: builtins.list[Entry] = []
        with self.database.reading() as connection:
            # One question for each kind follows the index; one for all would sort every document that there is.
            for kind in set(kinds):
                query = select().select_from(heads).where(heads.c.kind == kind, revisions.c.action != "remove")
                if before is not None:
                    query = query.where(heads.c.number < before)
                found += saving.entries(connection, query.order_by(heads.c.number.desc()).limit(limit))
        return tuple(sorted(found, key=lambda entry: -entry.number)[:limit])

    def last_number(self) -> int:
        """Return the number of the revision that was saved last, 0 where there is none: another one means a change."""
        with self.database.reading() as connection:
            return int(connection.execute(select(func.max(revisions.c.number))).scalar_one() or 0)

    def count(self, kind: str) -> int:
        """Return how many documents of a kind there are, removed ones left out."""
        query = select(func.count()).select_from(heads).join(revisions, revisions.c.number == heads.c.number)
        with self.database.reading() as connection:
            return int(
                connection.execute(query.where(heads.c.kind == kind, revisions.c.action != "remove")).scalar_one()
            )

    def search(self, words: str, kinds: Iterable[str] = KINDS, *, limit: int = 20) -> tuple[Hit, ...]:
        """Return the documents that have every one of some words, or one that begins like it.

        Parameters
        ----------
        words
            What was typed; capitals, accents and signs do not matter.
        kinds
            The kinds to look in.
        limit
            At most so many hits: those with the words in their id first, then the newest.
        """
        wanted = words_of(words)
        if not wanted:
            return ()
        with self.database.reading() as connection:
            every = tuple(kinds)
            first = saving.entries(
                connection, id_query_for(wanted, every).where(revisions.c.action != "remove").limit(limit)
            )
            found = [e for e in first if begins_in(e.id, wanted)]
            if len(found) < limit:
                known = {entry.number for entry in found}
                query = query_for(wanted, every, self.database.dialect).limit(limit + len(known))
                # First the few numbers, then what belongs to them: the other way round all that is found is joined.
                numbers = connection.execute(query.add_columns(heads.c.number)).scalars().all()
                rest = select().select_from(heads).where(heads.c.number.in_(numbers)).order_by(heads.c.number.desc())
                found += [e for e in saving.entries(connection, rest) if e.number not in known]
                del found[limit:]
            texts = [saving.revision_at(connection, entry.number).text for entry in found]
        hits = []
        for entry, text in zip(found, texts, strict=True):
            line, shown = excerpt(text, wanted)
            hits.append(Hit(entry=entry, line=line, excerpt=shown))
        return tuple(hits)

    def attachments(self, revision: Entry) -> tuple[Attached, ...]:
        """Return what is attached to a revision, by name."""
        with self.database.reading() as connection:
            return saving.attached_to(connection, revision.number)

    def bytes_of(self, attached: Attached) -> bytes:
        """Return the bytes of an attachment.

        Raises
        ------
        StoreError
            Where they are not there, or not what was kept.
        """
        with self.database.reading() as connection:
            data = connection.execute(select(blobs.c.data).where(blobs.c.sha256 == attached.sha256)).scalar()
        if data is None or saving.sha256_of(bytes(data)) != attached.sha256:
            found = "no such bytes" if data is None else "other bytes than were kept"
            raise StoreError(
                f"attachment {attached.name}: found {found}, expected those saved; restore the last backup"
            )
        return bytes(data)
