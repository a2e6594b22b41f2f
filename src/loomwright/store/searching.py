"""The index of words: what is put in, and what is found.

Texts are cut into words here and not by the engines, so that both find the same: "2.4" and "c:column/3" would be cut
in different places by each.
"""

import re
import unicodedata
from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Select, and_, select, text

from loomwright.store.tables import heads

__all__ = ["add_words", "begins_in", "drop_words", "excerpt", "id_query_for", "query_for", "words_of"]

_WORD = re.compile(r"[^\W_]+")
_LONGEST = 60  # characters of a word; the engine of the server refuses words of more than 2 kB
_MOST = 12  # words of a query


def words_of(content: str) -> list[str]:
    """Return the words of a text in their order, without accents and capitals."""
    plain = content.casefold()
    if not plain.isascii():  # most are, and this costs ten times as much as all the rest
        plain = "".join(c for c in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(c)).casefold()
    return [word[:_LONGEST] for word in _WORD.findall(plain)]


def drop_words(connection: Connection, slot: int) -> None:
    """Take a document out of the index."""
    column = "rowid" if connection.dialect.name == "sqlite" else "slot"
    connection.execute(text(f"DELETE FROM found WHERE {column} = :slot"), {"slot": slot})


def add_words(connection: Connection, slot: int, id: str, content: str) -> None:
    """Put a document into the index, which does not have it."""
    words: Any = list(dict.fromkeys(words_of(f"{id}\n{content}")))
    if connection.dialect.name == "sqlite":
        statement = "INSERT INTO found (rowid, words) VALUES (:slot, :words)"
        words = " ".join(words)
    else:
        statement = "INSERT INTO found (slot, words) VALUES (:slot, array_to_tsvector(CAST(:words AS text[])))"
    connection.execute(text(statement), {"slot": slot, "words": words})


def query_for(words: list[str], kinds: Iterable[str], dialect: str) -> "Select[Any]":
    """Return the query for documents that have, for every word, one that begins like it, the newest first."""
    wanted = words[:_MOST]
    if dialect == "sqlite":
        asked = " ".join(f'"{word}"*' for word in wanted)
        match = text("heads.slot IN (SELECT rowid FROM found WHERE found MATCH :asked)")
    else:
        asked = " & ".join(f"'{word}':*" for word in wanted)
        match = text("heads.slot IN (SELECT slot FROM found WHERE words @@ CAST(:asked AS tsquery))")
    return (
        select()
        .select_from(heads)
        .where(match.bindparams(asked=asked), heads.c.kind.in_(list(kinds)))
        .order_by(heads.c.number.desc())
    )


def id_query_for(words: list[str], kinds: Iterable[str]) -> "Select[Any]":
    """Return the query for documents in whose id every word stands, the newest first.

    It is apart from the other: to sort all that have a common word by where it stands costs more than to ask twice.
    """
    in_id = and_(*(heads.c.id.contains(word, autoescape=True) for word in words[:_MOST]))
    return select().select_from(heads).where(in_id, heads.c.kind.in_(list(kinds))).order_by(heads.c.number.desc())


def begins_in(id: str, words: list[str]) -> bool:
    """Tell whether every word begins a word of an id."""
    inside = words_of(id)
    return all(any(word.startswith(wanted) for word in inside) for wanted in words[:_MOST])


def excerpt(content: str, words: list[str]) -> tuple[int, str]:
    """Return number and text of the first line in which most of the words begin a word."""
    best = (0, 0, "")
    for number, line in enumerate(content.splitlines(), 1):
        if line.isascii() and not any(wanted in line.lower() for wanted in words):
            continue  # cutting a line into words costs much more than seeing that none of them is in it
        inside = words_of(line)
        count = sum(any(word.startswith(wanted) for word in inside) for wanted in words)
        if count > best[0]:
            best = (count, number, line.strip()[:160])
    return best[1], best[2]
