"""The one table with personal data, and how a person is taken out of it."""

import json
import os
import secrets
from pathlib import Path

from sqlalchemy import Connection, func, insert, select, update

from loomwright.errors import StoreError
from loomwright.store.tables import erasures, people, revisions
from loomwright.store.values import SLUG, Erasure, Person

__all__ = [
    "add_person", "all_people", "change_person", "erase", "erasures_of", "find_people", "note_erasure",
    "noted_erasures", "person_of", "replay", "require_person", "usual_person",
]  # fmt: skip

_LONGEST = 2000
_BENCH = "Bench"
_FIELDS = ("name", "contact", "address", "note")
_EMPTY = dict.fromkeys(_FIELDS, "")


def add_person(connection: Connection, person: Person | None = None, **fields: str) -> Person:
    """Keep a person, under a new id where only the fields are given."""
    if person is None:
        # Drawn at random, so that no two stores give the same one and it tells nothing about anybody.
        person = Person(id=f"p-{secrets.token_hex(6)}", **{**_EMPTY, **fields})
    _check(person)
    connection.execute(insert(people), _row(person))
    return person


def change_person(connection: Connection, person: Person) -> None:
    """Overwrite what is kept about a person."""
    require_person(connection, person.id)
    _check(person)
    connection.execute(update(people).where(people.c.id == person.id).values(_row(person)))


def person_of(connection: Connection, id: str) -> Person:
    """Return a person; after an erasure all but the id is empty.

    Raises
    ------
    StoreError
        Where there is none.
    """
    row = connection.execute(select(people).where(people.c.id == id)).one_or_none()
    if row is None:
        raise StoreError(f"store: found no person {id[:130]!r}, expected one of the shop's list; add the person first")
    return Person(**row._mapping)


def require_person(connection: Connection, id: str) -> None:
    """Make sure that somebody is there under whose id something can be done.

    Raises
    ------
    StoreError
        Where there is no such person, or the data were erased.
    """
    person_of(connection, id)
    if connection.execute(select(erasures.c.person).where(erasures.c.person == id)).first() is not None:
        raise StoreError(f"store: found the person {id}, whose data were erased, expected another one; choose one")


def usual_person(connection: Connection, *, add: bool = False) -> str:
    """Return the id under which something is saved where nobody is named: whoever began the shop, else 'Bench'.

    Buyers are kept among the people too, so the first of them by name will not do. Nobody is 'Bench' yet where nothing
    was saved so: it is added if `add` is set, in a writing transaction, else the answer is empty.
    """
    shops = select(func.min(revisions.c.number)).where(revisions.c.kind == "shop")
    number = connection.execute(shops).scalar() or 1
    query = select(people.c.id, people.c.name).join(revisions, revisions.c.by_person == people.c.id)
    began = connection.execute(query.where(revisions.c.number == number)).first()
    if began is not None and began.name:  # not where that person was erased
        return str(began.id)
    bench = connection.execute(select(people.c.id).where(people.c.name == _BENCH).order_by(people.c.id)).first()
    if bench is not None:
        return str(bench.id)
    return add_person(connection, name=_BENCH).id if add else ""


def all_people(connection: Connection) -> tuple[Person, ...]:
    """Return everybody whose data were not erased, by name."""
    gone = select(erasures.c.person)
    rows = connection.execute(select(people).where(people.c.id.not_in(gone)))
    return tuple(sorted((Person(**row._mapping) for row in rows), key=lambda one: (one.name.casefold(), one.id)))


def find_people(connection: Connection, words: str) -> tuple[Person, ...]:
    """Return the people in whose data every one of the words stands; they are in no index that would outlive them."""
    wanted = words.casefold().split()
    return tuple(
        one
        for one in all_people(connection)
        if wanted and all(word in f"{one.name}\n{one.contact}\n{one.address}\n{one.note}".casefold() for word in wanted)
    )


def erase(connection: Connection, erasure: Erasure) -> None:
    """Overwrite a person's data and keep that it was done. Doing it twice changes nothing more."""
    connection.execute(update(people).where(people.c.id == erasure.person).values(_EMPTY))
    if connection.execute(select(erasures.c.person).where(erasures.c.person == erasure.person)).first() is None:
        row = {"person": erasure.person, "at": erasure.at, "by_person": erasure.by}
        connection.execute(insert(erasures), row)


def erasures_of(connection: Connection) -> tuple[Erasure, ...]:
    """Return all erasures in their order."""
    rows = connection.execute(select(erasures).order_by(erasures.c.at, erasures.c.person))
    return tuple(Erasure(person=row.person, at=row.at, by=row.by_person) for row in rows)


def replay(connection: Connection, done: tuple[Erasure, ...]) -> None:
    """Erase again who was erased before, as far as they are in this store."""
    known = set(connection.execute(select(people.c.id)).scalars())
    for one in done:
        if one.person in known:
            # Who did it may have come into the shop's list only after this backup was made.
            erase(connection, one if one.by in known else Erasure(person=one.person, at=one.at, by=one.person))


def note_erasure(ledger: Path, erasure: Erasure) -> None:
    """Add an erasure to the file beside the store, which stays when the store itself is lost or restored."""
    line = json.dumps({"person": erasure.person, "at": erasure.at, "by": erasure.by})
    with ledger.open("a", encoding="utf-8") as stream:
        stream.write(line + "\n")
        stream.flush()
        os.fsync(stream.fileno())


def noted_erasures(ledger: Path) -> tuple[Erasure, ...]:
    """Read that file back; a last line that was cut off by a power failure was not yet an erasure.

    Raises
    ------
    StoreError
        Where another line is not one of ours.
    """
    if not ledger.is_file():
        return ()
    text = ledger.read_text(encoding="utf-8", errors="replace")
    found = []
    for number, line in enumerate(text.split("\n")[:-1], 1):
        try:
            found.append(Erasure(**json.loads(line)))
        except (ValueError, TypeError) as problem:
            raise StoreError(
                f"{ledger}:{number}: found a line that cannot be read, expected person, at and by; correct or delete it"
            ) from problem
    return tuple(found)


def _check(person: Person) -> None:
    if not SLUG.fullmatch(person.id):
        raise StoreError(f"person: id: found {person.id[:130]!r}, expected lower-case words joined by '-'; rename it")
    for field in _FIELDS:
        value = getattr(person, field)
        if len(value) > _LONGEST:
            raise StoreError(
                f"person {person.id}: {field}: found {len(value)} characters, expected at most {_LONGEST}; shorten it"
            )
        if "\0" in value or any("\ud800" <= character <= "\udfff" for character in value):
            raise StoreError(
                f"person {person.id}: {field}: found a character that is no text, expected text; type it again"
            )


def _row(person: Person) -> dict[str, str]:
    return {
        "id": person.id, "name": person.name, "contact": person.contact, "address": person.address, "note": person.note
    }  # fmt: skip
