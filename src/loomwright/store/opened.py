"""What every part of the store stands on: an open database, a clock, and the folder beside it."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from loomwright.errors import StoreError
from loomwright.store.connecting import Database
from loomwright.store.people import noted_erasures
from loomwright.store.values import Erasure

__all__ = ["Clock", "Opened", "no_document", "utc_now"]

Clock = Callable[[], datetime]


def utc_now() -> datetime:
    """Return the present time."""
    return datetime.now(UTC)


class Opened:
    """An open database with its clock, and the folder for backups and for the list of erasures."""

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
        moment = self.clock()
        if moment.tzinfo is None:
            msg = f"clock: found {moment.isoformat()} without a zone, expected one with it"
            raise ValueError(msg)
        return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")

    @property
    def ledger(self) -> Path | None:
        """The list of erasures that stays when the store is lost; `None` where there is no folder for it."""
        return None if self.folder is None else self.folder / f"{self._short_name}.erased"

    def noted_erasures(self) -> tuple[Erasure, ...]:
        """Return what that list holds."""
        return () if self.ledger is None else noted_erasures(self.ledger)

    def free_path(self, ending: str) -> Path:
        """Return a path that nobody has yet, for a backup that is made before something else.

        Raises
        ------
        StoreError
            Where there is no folder for it.
        """
        if self.folder is None:
            raise StoreError(
                f"{self.database.name}: found no folder for the backup that comes first, expected one; name it when "
                "the store is opened"
            )
        count, path = 1, self.folder / f"{self._short_name}.{ending}"
        while path.exists():
            count += 1
            path = self.folder / f"{self._short_name}.{ending}-{count}"
        return path

    def forget(self) -> None:
        """Let nothing of overwritten data stand in the file of recent changes."""
        if self.database.path is not None:
            with self.database.engine.connect() as connection:
                connection.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    @property
    def _short_name(self) -> str:
        path = self.database.path
        return path.name if path is not None else str(self.database.engine.url.database)


def no_document(kind: str, id: str) -> StoreError:
    """Return what is said about a document that is not there."""
    return StoreError(f"{kind} {id[:130]}: found no such document, expected one that was saved; look at the list")
