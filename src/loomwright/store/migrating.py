"""Bringing the schema of a store up to date: each change with its record in one transaction, after a backup."""

from collections.abc import Callable, Sequence

from sqlalchemy import Connection, inspect, text

from loomwright.errors import StoreError
from loomwright.store.connecting import Database
from loomwright.store.deriving import derive
from loomwright.store.migrations import Migration

__all__ = ["migrate", "schema_number"]


def migrate(
    database: Database, migrations: Sequence[Migration], *, now: Callable[[], str], backup: Callable[[int], None]
) -> None:
    """Make the changes that a store does not have yet.

    Parameters
    ----------
    database
        The store.
    migrations
        All changes in their order.
    now
        Gives the time for the record.
    backup
        Is called with the present number before each change of a store that holds something.

    Raises
    ------
    StoreError
        Where a newer program wrote it, or it is the database of another program.
    """
    while True:
        with database.reading() as connection:
            number = schema_number(connection, database.name)
        _refuse_newer(database.name, number, migrations)
        pending = [migration for migration in migrations if migration.number > number]
        if not pending:
            return
        if number:
            backup(number)
        # A store that holds nothing yet gets all changes at once, so that nobody ever sees half a schema.
        with database.writing() as connection:
            # Another program may have made the change while this one waited for its turn.
            if schema_number(connection, database.name) == number:
                for migration in pending[:1] if number else pending:
                    _make(connection, migration, database.dialect, now())


def schema_number(connection: Connection, name: str) -> int:
    """Return the number of the last change that a store has had, 0 for an empty database.

    Raises
    ------
    StoreError
        Where it is the database of another program.
    """
    tables = inspect(connection).get_table_names()
    if "migrations" in tables:
        return int(connection.execute(text("SELECT coalesce(max(number), 0) FROM migrations")).scalar_one())
    if tables:
        raise StoreError(
            f"{name}: found the database of another program, with a table {sorted(tables)[0]}, expected a store or an "
            "empty database; name another one"
        )
    return 0


def _refuse_newer(name: str, number: int, migrations: Sequence[Migration]) -> None:
    if number > migrations[-1].number:
        raise StoreError(
            f"{name}: found a store of schema {number}, expected at most {migrations[-1].number}, the newest that this "
            "program knows; update the program"
        )


def _make(connection: Connection, migration: Migration, dialect: str, at: str) -> None:
    connection.execute(
        text("CREATE TABLE IF NOT EXISTS migrations (number BIGINT PRIMARY KEY, name TEXT NOT NULL, at TEXT NOT NULL)")
    )
    for statement in migration.statements(dialect):
        connection.exec_driver_sql(statement)
    if migration.derives:
        derive(connection)
    connection.execute(
        text("INSERT INTO migrations (number, name, at) VALUES (:number, :name, :at)"),
        {"number": migration.number, "name": migration.name, "at": at},
    )
