"""The store: the one door to everything that a shop keeps."""

from collections.abc import Sequence
from pathlib import Path

from loomwright.store import people as persons
from loomwright.store.backing_up import back_up
from loomwright.store.connecting import connect
from loomwright.store.migrating import migrate
from loomwright.store.migrations import MIGRATIONS, Migration
from loomwright.store.opened import Clock, utc_now
from loomwright.store.part_documents import Documents
from loomwright.store.part_jobs import Jobs
from loomwright.store.part_people import People
from loomwright.store.part_whole import Whole

__all__ = ["Clock", "Store", "open_store"]


class Store(Documents, Jobs, People, Whole):
    """Everything that a shop keeps: revisions of documents and records, attachments, people.

    Nothing saved is changed or lost; what is acknowledged has reached the disk. One store may be used by several
    threads, and one database by several programs. Made by `open_store`; to be closed, or used in a `with`.
    """


def open_store(
    place: str | Path,
    *,
    clock: Clock = utc_now,
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
        beside = None if database.path is None else database.path.parent
        store = Store(database, clock, beside if keep_in is None else keep_in)

        def keep(number: int) -> None:
            back_up(database, store.free_path(f"before-{number + 1:04d}"), now=store.now, migrations=migrations)

        migrate(database, migrations, now=store.now, backup=keep)
        if noted := store.noted_erasures():
            with database.writing() as connection:
                persons.replay(connection, noted)
    except BaseException:
        database.close()
        raise
    return store
