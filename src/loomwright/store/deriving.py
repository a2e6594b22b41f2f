"""What follows from the revisions and can be made anew from them."""

from sqlalchemy import Connection, delete, func, insert, select, text

from loomwright.store.searching import add_words
from loomwright.store.tables import heads, revisions

__all__ = ["derive"]

# Only what the first schema has already, since an old store is brought up to date by this too.
_COLUMNS = [revisions.c[name] for name in ("number", "kind", "id", "action", "text")]
_AT_ONCE = 200  # texts held in memory


def derive(connection: Connection) -> None:
    """Make anew what follows from the revisions: which is the latest of each document, and the index of words."""
    connection.execute(text("DELETE FROM found"))
    connection.execute(delete(heads))
    ends = select(func.min(revisions.c.number).label("slot"), func.max(revisions.c.number).label("last"))
    found = ends.group_by(revisions.c.kind, revisions.c.id).subquery()
    query = select(found.c.slot, *_COLUMNS).join(found, found.c.last == revisions.c.number).order_by(found.c.slot)
    for rows in connection.execute(query, execution_options={"stream_results": True}).partitions(_AT_ONCE):
        connection.execute(
            insert(heads), [{"slot": row.slot, "kind": row.kind, "id": row.id, "number": row.number} for row in rows]
        )
        for row in rows:
            if row.action != "remove":
                add_words(connection, row.slot, row.id, row.text)
