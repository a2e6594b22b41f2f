"""The schema, as the ordered changes that made it. A change that was ever released is never edited: the next is added.

Written as plain statements for each engine and not with a library of migrations: the triggers and the index of words
differ between the engines anyway, such a library rebuilds tables of SQLite without their triggers, and it takes longer
to import than all the rest of the store.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

__all__ = ["MIGRATIONS", "Migration", "guards", "lifted_guards"]

_TYPES = {
    # Ids are ordered by code point on both engines.
    "sqlite": {"key": "TEXT", "whole": "INTEGER", "bytes": "BLOB", "strict": "STRICT"},
    "postgresql": {"key": 'TEXT COLLATE "C"', "whole": "BIGINT", "bytes": "BYTEA", "strict": ""},
}

# People are changed, and overwritten when they are erased; their rows stay, since revisions point at them.
_GUARDED = {
    "migrations": ("UPDATE", "DELETE"),
    "revisions": ("UPDATE", "DELETE"),
    "blobs": ("UPDATE", "DELETE"),
    "attachments": ("UPDATE", "DELETE"),
    "serials": ("UPDATE", "DELETE"),
    "erasures": ("UPDATE", "DELETE"),
    "people": ("DELETE",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Migration:
    """One change of the schema.

    Parameters
    ----------
    number, name
        Its place in the order, and what it is about.
    statements
        Gives its statements for an engine.
    derives
        Whether what follows from the revisions has to be made anew after it.
    """

    number: int
    name: str
    statements: Callable[[str], Iterator[str]]
    derives: bool = False


def guards(dialect: str) -> Iterator[str]:
    """Yield the statements that make the tables append-only."""
    for table, actions in _GUARDED.items():
        if dialect == "sqlite":
            for action in actions:
                yield (
                    f"CREATE TRIGGER {table}_{action.lower()} BEFORE {action} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, '{table} is append-only'); END"
                )
        else:
            yield (
                f"CREATE TRIGGER {table}_rows BEFORE {' OR '.join(actions)} ON {table} "
                "FOR EACH ROW EXECUTE FUNCTION refuse_change()"
            )
            yield (
                f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} "
                "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
            )


def lifted_guards(dialect: str) -> Iterator[str]:
    """Yield the statements that take the triggers away, for a restore inside one transaction."""
    for table, actions in _GUARDED.items():
        if dialect == "sqlite":
            yield from (f"DROP TRIGGER {table}_{action.lower()}" for action in actions)
        else:
            yield from (f"DROP TRIGGER {table}_{name} ON {table}" for name in ("rows", "whole"))


def _revisions(dialect: str) -> Iterator[str]:
    for statement in (
        """CREATE TABLE people (
            id {key} PRIMARY KEY, name TEXT NOT NULL, contact TEXT NOT NULL, address TEXT NOT NULL, note TEXT NOT NULL
        ) {strict}""",
        """CREATE TABLE revisions (
            number {whole} PRIMARY KEY, kind {key} NOT NULL, id {key} NOT NULL, version {whole} NOT NULL,
            base {whole} REFERENCES revisions (number),
            action TEXT NOT NULL CHECK (action IN ('save', 'undo', 'remove')),
            by_person {key} NOT NULL REFERENCES people (id), at TEXT NOT NULL, sha256 TEXT NOT NULL, text TEXT NOT NULL,
            UNIQUE (kind, id, version)
        ) {strict}""",
        "CREATE TABLE blobs (sha256 {key} PRIMARY KEY, data {bytes} NOT NULL) {strict}",
        """CREATE TABLE attachments (
            revision {whole} NOT NULL REFERENCES revisions (number), name {key} NOT NULL, media_type TEXT NOT NULL,
            sha256 {key} NOT NULL REFERENCES blobs (sha256), PRIMARY KEY (revision, name)
        ) {strict}""",
        """CREATE TABLE serials (
            serial {key} PRIMARY KEY, at TEXT NOT NULL, by_person {key} NOT NULL REFERENCES people (id)
        ) {strict}""",
        """CREATE TABLE erasures (
            person {key} PRIMARY KEY REFERENCES people (id), at TEXT NOT NULL,
            by_person {key} NOT NULL REFERENCES people (id)
        ) {strict}""",
        """CREATE TABLE heads (
            slot {whole} PRIMARY KEY REFERENCES revisions (number), kind {key} NOT NULL, id {key} NOT NULL,
            number {whole} NOT NULL REFERENCES revisions (number), UNIQUE (kind, id)
        ) {strict}""",
        "CREATE INDEX heads_by_number ON heads (kind, number)",
    ):
        yield statement.format(**_TYPES[dialect])
    if dialect == "postgresql":
        yield (
            "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE EXCEPTION USING MESSAGE = TG_TABLE_NAME || ' is append-only'; END $$"
        )
    yield from guards(dialect)


def _words(dialect: str) -> Iterator[str]:
    if dialect == "sqlite":
        # No positions: a search asks for documents that have all words, wherever they stand.
        yield "CREATE VIRTUAL TABLE found USING fts5(words, detail = none, prefix = '2 3')"
    else:
        yield "CREATE TABLE found (slot BIGINT PRIMARY KEY REFERENCES heads (slot), words TSVECTOR NOT NULL)"
        yield "CREATE INDEX found_words ON found USING gin (words)"


MIGRATIONS = (
    Migration(number=1, name="revisions of documents, people, attachments", statements=_revisions),
    Migration(number=2, name="index of words", statements=_words, derives=True),
)
