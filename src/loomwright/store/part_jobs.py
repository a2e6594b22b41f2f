"""The part of the store that keeps jobs: their serials, and what is kept for ever under one."""

from collections.abc import Sequence

from sqlalchemy import insert, select

from loomwright.store import people as persons
from loomwright.store import saving
from loomwright.store.opened import Opened, no_document
from loomwright.store.tables import heads, serials
from loomwright.store.values import Attachment, Entry, Revision

__all__ = ["Jobs"]


class Jobs(Opened):
    """Serials, issued guides and readings."""

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
                raise no_document("job", serial)
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
