"""Backups of a store that is in use, and a store from a backup.

A backup is always one SQLite file that can be opened as a store itself, whatever engine the store has: so a bench's
file moves to the shop's server and back by the same way, and a backup can be looked into without a server.
"""

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import Connection, delete, func, inspect, select, text

from loomwright.errors import StoreError
from loomwright.store.connecting import Database, connect
from loomwright.store.deriving import derive
from loomwright.store.migrating import migrate, schema_number
from loomwright.store.migrations import MIGRATIONS, Migration, guards, lifted_guards
from loomwright.store.people import erasures_of, replay
from loomwright.store.saving import sha256_of
from loomwright.store.tables import heads, metadata, revisions
from loomwright.store.values import Erasure

__all__ = ["back_up", "check_whole", "restore"]

# In the order in which each can be filled; what follows from these is made anew.
_KEPT = ("people", "revisions", "blobs", "attachments", "serials", "erasures")
_AT_ONCE = {"blobs": 4}  # rows held in memory; a blob may have 32 MB
_AT_ONCE_ELSE = 500
_STREAMED = {"stream_results": True}


def back_up(
    database: Database, path: Path, *, now: Callable[[], str], migrations: Sequence[Migration] = MIGRATIONS
) -> None:
    """Write the present state of a store, which may be in use, into a new file.

    Raises
    ------
    StoreError
        Where there is a file of that name, it cannot be written, or the store is damaged.
    """
    if path.exists():
        raise StoreError(f"{path}: found a file, expected none; name another one for the backup")
    try:
        part = Path(tempfile.mkdtemp(dir=path.parent, prefix=".backup-")) / path.name
    except OSError as problem:
        raise _unwritable(path, problem) from problem
    try:
        if database.path is not None:
            _copy_file(database, part)
        else:
            _copy_rows_to_file(database, part, now=now, migrations=migrations)
        with part.open("rb+") as stream:
            os.fsync(stream.fileno())
        part.chmod(0o600)
        part.rename(path)
        _sync_folder(path.parent)
    except (OSError, sqlite3.Error) as problem:
        raise _unwritable(path, problem) from problem
    finally:
        shutil.rmtree(part.parent, ignore_errors=True)


def restore(database: Database, path: Path, *, now: Callable[[], str], erased: tuple[Erasure, ...]) -> int:
    """Replace everything in a store by what a backup holds, in one transaction; return the count of revisions.

    Parameters
    ----------
    database
        The store.
    path
        The backup; it is not changed.
    now
        Gives the time for records of migrations.
    erased
        Erasures that are made again; so are those that the store itself knows.

    Raises
    ------
    StoreError
        Where the file is no backup, or is damaged; the store is then as it was.
    """
    with _opened_copy(path, now=now) as copy, copy.reading() as source, database.writing() as target:
        erased = (*erasures_of(target), *erased)
        for statement in lifted_guards(database.dialect):
            target.exec_driver_sql(statement)
        target.execute(text("DELETE FROM found"))
        target.execute(delete(heads))
        for table in reversed(_KEPT):
            target.execute(delete(metadata.tables[table]))
        _copy_rows(source, target, str(path))
        derive(target)
        replay(target, erased)
        for statement in guards(database.dialect):
            target.exec_driver_sql(statement)
        return int(target.execute(select(func.count()).select_from(revisions)).scalar_one())


def check_whole(database: Database) -> int:
    """Look through everything that is kept and return how many revisions and attachments there are.

    Raises
    ------
    StoreError
        Where the file is damaged, or something has other content than was saved.
    """
    count = 0
    if database.path is not None:
        with database.engine.connect() as connection:
            opened = connection.connection.driver_connection
            if opened is None:  # only a connection that is closed already has none
                raise StoreError(f"{database.name}: found a closed connection, expected an open one; try again")
            _check_sound(opened, database.name)
    with database.reading() as source:
        for table in ("revisions", "blobs"):
            columns = "number, sha256, text" if table == "revisions" else "sha256, data"
            rows = source.execute(text(f"SELECT {columns} FROM {table} ORDER BY 1"), execution_options=_STREAMED)
            for some in rows.mappings().partitions(_AT_ONCE.get(table, _AT_ONCE_ELSE)):
                for row in some:
                    _check_hash(table, dict(row), database.name)
                count += len(some)
    return count


def _copy_file(database: Database, part: Path) -> None:
    with database.engine.connect() as connection, closing(sqlite3.connect(part)) as target:
        source = connection.connection.driver_connection
        if source is None:  # only a connection that is closed already has none
            raise StoreError(f"{database.name}: found a closed connection, expected an open one; try again")
        source.backup(target)  # one step: writers go on, and the copy has one state of the store
        target.execute("PRAGMA journal_mode = DELETE")  # one file, not three
        _check_sound(target, database.name)


def _copy_rows_to_file(
    database: Database, part: Path, *, now: Callable[[], str], migrations: Sequence[Migration]
) -> None:
    copy = connect(part)
    try:
        with database.reading() as source:
            number = schema_number(source, database.name)
            migrate(copy, [one for one in migrations if one.number <= number], now=now, backup=_no_backup)
            with copy.writing() as target:
                _copy_rows(source, target, database.name)
                # A store of an older schema gets these when it is restored, after its changes.
                if number == MIGRATIONS[-1].number:
                    derive(target)
        with copy.engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        copy.close()
    with closing(sqlite3.connect(part)) as target:
        target.execute("PRAGMA journal_mode = DELETE")


def _copy_rows(source: Connection, target: Connection, name: str) -> None:
    """Copy all rows of what is kept, column by column as the target has them, and check every hash on the way."""
    existing = set(inspect(target).get_table_names())
    for table in (one for one in _KEPT if one in existing):
        columns = [column["name"] for column in inspect(target).get_columns(table)]
        count = _AT_ONCE.get(table, _AT_ONCE_ELSE)
        query = text(f"SELECT {', '.join(columns)} FROM {table} ORDER BY 1")
        rows = source.execute(query, execution_options=_STREAMED)
        statement = text(
            f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({', '.join(f':{column}' for column in columns)})"
        )
        for some in rows.mappings().partitions(count):
            values = [dict(row) for row in some]
            for row in values:
                _check_hash(table, row, name)
            target.execute(statement, values)


def _check_hash(table: str, row: dict[str, object], name: str) -> None:
    kept = row["text"] if table == "revisions" else row["data"] if table == "blobs" else None
    if kept is None:
        return
    data = kept.encode() if isinstance(kept, str) else bytes(kept) if isinstance(kept, bytes | memoryview) else b""
    if sha256_of(data) != row["sha256"]:
        which = f"revision {row['number']}" if table == "revisions" else f"attachment {row['sha256']}"
        raise StoreError(
            f"{name}: found {which} with other content than was saved, expected it sound; use another backup"
        )


@contextmanager
def _opened_copy(path: Path, *, now: Callable[[], str]) -> Iterator[Database]:
    """Give a copy of a backup, brought up to date."""
    if not path.is_file():
        raise StoreError(f"{path}: found no file, expected a backup; check the path")
    with tempfile.TemporaryDirectory(prefix="restore-") as folder:
        part = Path(folder) / "backup"
        try:
            shutil.copyfile(path, part)
            with closing(sqlite3.connect(part)) as opened:
                _check_sound(opened, str(path))
                if not opened.execute("SELECT count(*) FROM sqlite_master WHERE name = 'migrations'").fetchone()[0]:
                    raise StoreError(f"{path}: found no store in this file, expected a backup; name another one")
        except (OSError, sqlite3.Error) as problem:
            raise StoreError(f"{path}: found a file that is no backup ({problem}); name another one") from problem
        copy = connect(part)
        try:
            migrate(copy, MIGRATIONS, now=now, backup=_no_backup)
            yield copy
        finally:
            copy.close()


def _check_sound(connection: sqlite3.Connection, name: str) -> None:
    said = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if said != "ok":
        raise StoreError(f"{name}: found damage ({said}), expected a sound file; use the last backup that is")


def _no_backup(number: int) -> None:
    """Do nothing: what is changed is itself a copy."""


def _sync_folder(folder: Path) -> None:
    if os.name == "posix":  # elsewhere a folder cannot be opened, and a rename is kept by itself
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _unwritable(path: Path, problem: Exception) -> StoreError:
    reason = (problem.strerror if isinstance(problem, OSError) else str(problem)) or "no reason given"
    return StoreError(f"{path}: found no way to write a backup ({reason.lower()}); choose another folder")
