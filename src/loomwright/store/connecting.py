"""The database behind a store: how it is opened so that what is committed stays, and what its errors mean."""

import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, exc, make_url, text

from loomwright.errors import StoreError

__all__ = ["BUSY_S", "Database", "connect"]

BUSY_S = 5
"""How long a writer waits for one of another program [s]."""

_QUEUE_S = 60
"""How long a writer waits for those of its own program, who are known to come to an end [s]."""

# Any number will do that nobody else uses in the same database; writers of one store queue behind it.
_WRITERS_LOCK = 7_205_114_663

_MEANINGS = (
    ("locked", "found another program writing for more than 5 s, expected a free store; end it or try again"),
    ("not a database", "found a file of another kind, expected a store; name another file"),
    ("unable to open", "found no file that can be opened, expected a store in a folder that exists; check the path"),
    ("disk is full", "found no room on the disk, expected some; make room and save again"),
    ("No space left", "found no room on the server's disk, expected some; make room and save again"),
    ("malformed", "found a damaged file, expected a sound store; restore the last backup"),
    ("readonly", "found a file that may only be read, expected one that may be written; change its permissions"),
    ("lock timeout", "found another program writing for more than 5 s, expected a free store; end it or try again"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Database:
    """An open database.

    Parameters
    ----------
    engine
        The pool of connections.
    name
        What messages call it: the path, or the address without its password.
    path
        The file of SQLite; `None` for a server.
    """

    engine: Engine
    name: str
    path: Path | None
    _queue: threading.Lock = field(default_factory=threading.Lock, repr=False, compare=False)

    @property
    def dialect(self) -> str:
        """``sqlite`` or ``postgresql``."""
        return self.engine.dialect.name

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection that sees one state of the store to its end.

        Raises
        ------
        StoreError
            Where the database fails.
        """
        with self._told(), self.engine.connect() as plain:
            level: dict[str, Any] = {} if self.path is not None else {"isolation_level": "REPEATABLE READ"}
            connection = plain.execution_options(**level)
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection whose changes are kept together at the end, or not at all; writers come one by one.

        Threads of one program stand in a queue: the file's own lock is asked for again and again, and on a busy machine
        somebody who asks at the wrong moments would be told that the store is not free.

        Raises
        ------
        StoreError
            Where the database fails, or another writer is not ready in time.
        """
        with self._in_turn(), self._told(), self.engine.connect() as plain:
            connection = plain.execution_options(is_writing=True)
            with connection.begin():
                if self.path is None:
                    # Numbers of revisions then have no gap, and whoever has seen one has seen all before it.
                    connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _WRITERS_LOCK})
                yield connection

    def close(self) -> None:
        """Close all connections."""
        self.engine.dispose()

    @contextmanager
    def _in_turn(self) -> Iterator[None]:
        if not self._queue.acquire(timeout=_QUEUE_S):
            raise StoreError(
                f"{self.name}: found another save of this program that takes longer than {_QUEUE_S} s, expected it to "
                "end; try again"
            )
        try:
            yield
        finally:
            self._queue.release()

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except exc.SQLAlchemyError as problem:
            raise StoreError(f"{self.name}: {_meaning(problem)}") from problem


def _meaning(problem: exc.SQLAlchemyError) -> str:
    said = str(problem.orig if isinstance(problem, exc.DBAPIError) else problem).strip()
    for words, meaning in _MEANINGS:
        if words in said:
            return meaning
    first = said.splitlines()[0] if said else type(problem).__name__
    return f"found trouble in the database ({first}), expected an answer; try again, or look at its log"


def connect(place: str | Path) -> Database:
    """Open a database; a file that is not there is made.

    Parameters
    ----------
    place
        A path, or an address such as ``postgresql://bench@server/shop``.

    Raises
    ------
    StoreError
        Where there is no such server or folder, or the address is of another kind.
    """
    if isinstance(place, str) and "://" in place:
        return _connect_server(place)
    path = Path(place).resolve()
    _make_private(path)
    url = URL.create("sqlite+pysqlite", database=str(path))
    engine = create_engine(url, connect_args={"timeout": BUSY_S}, pool_size=10, max_overflow=30)
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return Database(engine=engine, name=str(path), path=path)


def _make_private(path: Path) -> None:
    """Make an empty file that only its owner may read, since the store holds names and addresses."""
    try:
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as problem:
        reason = (problem.strerror or "no reason given").lower()
        raise StoreError(
            f"{path}: found no file that can be opened ({reason}), expected a store or a place for one; check the path"
        ) from problem


def _set_up_sqlite(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # the driver would begin by itself, and without IMMEDIATE
    cursor = connection.cursor()
    # Two programs that open a new file at once: changing the mode does not wait by itself, it gives up at once.
    deadline = time.monotonic() + BUSY_S
    while True:
        try:
            cursor.execute("PRAGMA journal_mode = WAL")
            break
        except Exception as problem:
            if "locked" not in str(problem) or time.monotonic() > deadline:
                raise
            time.sleep(0.02)
    cursor.execute("PRAGMA synchronous = FULL")  # a commit has reached the disk when it returns
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.execute("PRAGMA recursive_triggers = ON")  # else REPLACE would delete past the triggers
    cursor.execute("PRAGMA secure_delete = ON")  # an erased name is overwritten with zeros, not only given up
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    # A plain BEGIN that reads first and writes then fails at once when somebody else wrote in between.
    is_writing = connection.get_execution_options().get("is_writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if is_writing else "BEGIN")


def _connect_server(address: str) -> Database:
    try:
        url = make_url(address)
    except exc.ArgumentError as problem:
        raise StoreError(
            "store: found an address that cannot be read, expected one such as postgresql://bench@server/shop; "
            "correct it"
        ) from problem
    name = url.render_as_string(hide_password=True)
    if (kind := url.get_backend_name()) not in {"postgresql", "postgres"}:
        raise StoreError(f"{name}: found a server of kind {kind}, expected postgresql; name a file or such a server")
    try:
        engine = create_engine(url.set(drivername="postgresql+psycopg"), pool_size=10, max_overflow=30,
                               pool_pre_ping=True)  # fmt: skip
    except ImportError as problem:
        raise StoreError(
            f"{name}: found no driver for PostgreSQL, expected psycopg; install this program with its extra 'pg'"
        ) from problem
    event.listen(engine, "connect", _set_up_server)
    return Database(engine=engine, name=name, path=None)


def _set_up_server(connection: Any, _record: object) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"SET lock_timeout = '{round(BUSY_S * 1000)}ms'")
        cursor.execute("SHOW synchronous_commit")
        if cursor.fetchone()[0] == "off":
            cursor.execute("SET synchronous_commit = on")
    connection.commit()
