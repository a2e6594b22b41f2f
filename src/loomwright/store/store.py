"""The store: the one door to everything that a shop keeps."""

from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from pydantic import BaseModel
from sqlalchemy import func, insert, select

from loomwright.documents.writing import dump_document
from loomwright.errors import StoreError
from loomwright.store import people as persons
from loomwright.store import saving
from loomwright.store.backing_up import back_up, free_name, restore
from loomwright.store.comparing import changes
from loomwright.store.connecting import Database, connect
from loomwright.store.exporting import export_archive, export_folder, exported
from loomwright.store.files_in import Files, opened_archive, opened_folder
from loomwright.store.importing import Imported, import_files
from loomwright.store.migrating import migrate
from loomwright.store.migrations import MIGRATIONS, Migration
from loomwright.store.searching import excerpt, query_for, words_of
from loomwright.store.tables import blobs, heads, revisions, serials
from loomwright.store.values import KINDS, Attached, Attachment, Change, Entry, Erasure, Hit, Person, Revision

__all__ = ["Clock", "Store", "open_store"]

Clock = Callable[[], datetime]


def _utc_now() -> datetime:
    return datetime.now(UTC)


class Store:
    """Everything that a shop keeps: revisions of documents and records, attachments, people.

    Nothing saved is changed or lost; what is acknowledged has reached the disk. One store may be used by several
    threads, and one database by several programs. Made by `open_store`; to be closed, or used in a `with`.
    """

    def __init__(self, database: Database, clock: Clock, folder: Path | None) -> None:
        self.database = database
        self.clock = clock
        self.folder = folder

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the database."""
        self.database.close()

    def now(self) -> str:
        """Return the present time as it is kept: UTC, ISO 8601, to the microsecond."""
        return _iso(self.clock())

    # Documents

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
        detached = frozenset(detach)
        with self.database.writing() as connection:
            return saving.save(
                connection, kind=kind, id=id, text=text, by=by, at=self.now(), base=base, attach=attach, detach=detached
            )

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
                raise _no_document(kind, id)
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
            raise _no_document(kind, id)
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
        query = select().select_from(heads).where(heads.c.kind.in_(list(kinds)), revisions.c.action != "remove")
        if before is not None:
            query = query.where(heads.c.number < before)
        with self.database.reading() as connection:
            return saving.entries(connection, query.order_by(heads.c.number.desc()).limit(limit))

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
            query = query_for(wanted, kinds, self.database.dialect).limit(limit)
            found = saving.entries(connection, query)
            texts = [saving.revision_at(connection, entry.number).text for entry in found]
        hits = []
        for entry, text in zip(found, texts, strict=True):
            line, shown = excerpt(text, wanted)
            hits.append(Hit(entry=entry, line=line, excerpt=shown))
        return tuple(hits)

    # Attachments

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

    # Jobs and their records

    def new_serial(self, *, by: str) -> str:
        """Return a serial such as ``2026-0001`` that no job has, and never will have but the one it is used for."""
        year = self.now()[:4]
        with self.database.writing() as connection:
            persons.require_person(connection, by)
            taken = [
                *connection.execute(select(serials.c.serial).where(serials.c.serial.startswith(f"{year}-"))).scalars(),
                *connection.execute(
                    select(heads.c.id).where(heads.c.kind == "job", heads.c.id.startswith(f"{year}-"))
                ).scalars(),
            ]
            used = [int(tail) for serial in taken if (tail := serial[5:]).isascii() and tail.isdigit()]
            serial = f"{year}-{max(used, default=0) + 1:04d}"
            connection.execute(insert(serials), {"serial": serial, "at": self.now(), "by_person": by})
        return serial

    def record(self, kind: str, serial: str, text: str, *, by: str, attach: Sequence[Attachment] = ()) -> Revision:
        """Keep an issued guide or a reading of a job for ever, under the next id such as ``2026-0001.2``.

        Parameters
        ----------
        kind
            ``issue`` or ``reading``.
        serial
            The job, which must be there.
        text
            The record as YAML; an `id` in it would have to be the one it gets, so it has none.
        by
            Id of the person who keeps it.
        attach
            The sheets as they went out, or photos.

        Raises
        ------
        StoreError
            Where there is no such job.
        """
        with self.database.writing() as connection:
            job = saving.latest_of(connection, "job", serial)
            if job is None or job.action == "remove":
                raise _no_document("job", serial)
            ids = select(heads.c.id).where(heads.c.kind == kind, heads.c.id.startswith(f"{serial}.", autoescape=True))
            count = len(connection.execute(ids).all())
            return saving.save(
                connection, kind=kind, id=f"{serial}.{count + 1}", text=text, by=by, at=self.now(), base=None,
                attach=attach,
            )  # fmt: skip

    def records(self, kind: str, serial: str) -> tuple[Entry, ...]:
        """Return the issued guides or readings of a job, oldest first."""
        query = select().select_from(heads)
        query = query.where(heads.c.kind == kind, heads.c.id.startswith(f"{serial}.", autoescape=True))
        with self.database.reading() as connection:
            return saving.entries(connection, query.order_by(heads.c.number))

    # People

    def add_person(self, name: str, *, contact: str = "", address: str = "", note: str = "") -> Person:
        """Keep a new person and return it with its id."""
        with self.database.writing() as connection:
            return persons.add_person(connection, name=name, contact=contact, address=address, note=note)

    def change_person(self, person: Person) -> None:
        """Overwrite what is kept about a person; of this there are no revisions."""
        with self.database.writing() as connection:
            persons.change_person(connection, person)

    def person(self, id: str) -> Person:
        """Return a person; after an erasure all but the id is empty.

        Raises
        ------
        StoreError
            Where there is none.
        """
        with self.database.reading() as connection:
            return persons.person_of(connection, id)

    def people(self, words: str = "") -> tuple[Person, ...]:
        """Return everybody, or those in whose data all of some words stand, by name."""
        with self.database.reading() as connection:
            return persons.find_people(connection, words) if words.split() else persons.all_people(connection)

    def erase(self, person: str, *, by: str) -> Erasure:
        """Overwrite a person's data for ever; revisions keep the bare id.

        Backups made before still hold the data; where one is restored, the erasure is made again.

        Raises
        ------
        StoreError
            Where there is no such person, or `by` is nobody.
        """
        erasure = Erasure(person=person, at=self.now(), by=by)
        with self.database.writing() as connection:
            persons.person_of(connection, person)
            if person != by:
                persons.require_person(connection, by)
            if (ledger := _ledger(self.database, self.folder)) is not None:
                persons.note_erasure(ledger, erasure)  # first: an erasure noted twice is none the worse
            persons.erase(connection, erasure)
        self._forget()
        return erasure

    def erasures(self) -> tuple[Erasure, ...]:
        """Return who was erased, when and by whom, in their order."""
        with self.database.reading() as connection:
            return persons.erasures_of(connection)

    # All at once

    def backup(self, path: Path) -> None:
        """Write the present state into a new file, one SQLite file for either engine, while the store is in use.

        Raises
        ------
        StoreError
            Where there is a file of that name, it cannot be written, or the store is damaged.
        """
        back_up(self.database, path, now=self.now)

    def restore(self, path: Path, *, replace: bool = False) -> int:
        """Take over everything that a backup holds, and return the count of revisions.

        Who was erased since the backup was made is erased again, as far as this store or its list of erasures knows.

        Parameters
        ----------
        path
            A file that `backup` wrote, from either engine and from any older program.
        replace
            Whether a store that holds something may be replaced. It is backed up first.

        Raises
        ------
        StoreError
            Where the file is no backup or is damaged, or the store holds something; it is then as it was.
        """
        with self.database.reading() as connection:
            holds_something = connection.execute(select(revisions.c.number).limit(1)).first() is not None
        if holds_something:
            if not replace:
                raise StoreError(
                    f"{self.database.name}: found a store that holds something, expected an empty one; open a new one, "
                    "or say that this one is to be replaced"
                )
            self.backup(_free(self.database, self.folder, f"before-restore-{self.now()[:10]}"))
        ledger = _ledger(self.database, self.folder)
        noted = () if ledger is None else persons.noted_erasures(ledger)
        count = restore(self.database, path, now=self.now, erased=noted)
        self._forget()
        return count

    def export_folder(self, folder: Path) -> int:
        """Write the store as a tree of files into an empty folder, with all of its history; return their count.

        It holds the personal data too. Raises `StoreError` where the folder holds something or cannot be written.
        """
        with self.database.reading() as connection:
            return export_folder(exported(connection), folder)

    def export_archive(self, path: Path) -> int:
        """Write the same tree into one new archive; return the count of its files."""
        with self.database.reading() as connection:
            return export_archive(exported(connection), path)

    def import_folder(self, folder: Path, *, by: str) -> Imported:
        """Take a tree of files in: an export, or a plain folder with a shop's documents.

        Into an empty store the whole history comes, as it was. Else documents are compared one by one: new ones and
        those of which the tree has a newer version are saved by `by`; those changed here and there are reported, and
        stay as they are. All of it is kept, or nothing.

        Raises
        ------
        StoreError
            Where something is not as it is exported, a link, or too large.
        DocumentError
            Where a document cannot be read.
        """
        with opened_folder(folder) as files:
            return self._import(files, by)

    def import_archive(self, path: Path, *, by: str) -> Imported:
        """Take an archive in, as `import_folder` does a folder. It may come from anybody: nothing is unpacked."""
        with opened_archive(path) as files:
            return self._import(files, by)

    def _import(self, files: Files, by: str) -> Imported:
        ledger = _ledger(self.database, self.folder)
        noted = () if ledger is None else persons.noted_erasures(ledger)
        with self.database.writing() as connection:
            erased = (*persons.erasures_of(connection), *noted)
            return import_files(connection, files, by=by, at=self.now(), erased=erased)

    def _forget(self) -> None:
        """Let nothing of overwritten data stand in the file of recent changes."""
        if self.database.path is not None:
            with self.database.engine.connect() as connection:
                connection.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def open_store(
    place: str | Path,
    *,
    clock: Clock = _utc_now,
    keep_in: Path | None = None,
    migrations: Sequence[Migration] = MIGRATIONS,
) -> Store:
    """Open a store and bring it up to date; one that is not there is made.

    Parameters
    ----------
    place
        A path of a file, or an address such as ``postgresql://bench@server/shop``.
    clock
        Gives the present time, with its zone.
    keep_in
        Folder for the backups before changes of the schema and for the list of erasures. For a file it is the file's
        own folder where nothing is said; a server has none, and then no such list.
    migrations
        The changes of the schema.

    Raises
    ------
    StoreError
        Where it cannot be opened, is of another program, or was written by a newer one.
    """
    database = connect(place)
    try:
        folder = keep_in if keep_in is not None or database.path is None else database.path.parent
        store = Store(database, clock, folder)

        def keep(number: int) -> None:
            back_up(database, _free(database, folder, f"before-{number + 1:04d}"), now=store.now, migrations=migrations)

        migrate(database, migrations, now=store.now, backup=keep)
        ledger = _ledger(database, folder)
        if ledger is not None and (noted := persons.noted_erasures(ledger)):
            with database.writing() as connection:
                persons.replay(connection, noted)
    except BaseException:
        database.close()
        raise
    return store


def _name(database: Database) -> str:
    return database.path.name if database.path is not None else str(database.engine.url.database)


def _ledger(database: Database, folder: Path | None) -> Path | None:
    return None if folder is None else folder / f"{_name(database)}.erased"


def _free(database: Database, folder: Path | None, ending: str) -> Path:
    if folder is None:
        raise StoreError(
            f"{database.name}: found no folder for the backup that comes first, expected one; name it when the store "
            "is opened"
        )
    return free_name(folder, f"{_name(database)}.{ending}")


def _iso(moment: datetime) -> str:
    if moment.tzinfo is None:
        msg = f"clock: found {moment.isoformat()} without a zone, expected one with it"
        raise ValueError(msg)
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def _no_document(kind: str, id: str) -> StoreError:
    return StoreError(f"{kind} {id[:130]}: found no such document, expected one that was saved; look at the list")
