"""The part of the store that keeps people, and forgets them."""

from sqlalchemy import select

from loomwright.store import people as persons
from loomwright.store.opened import Opened
from loomwright.store.tables import revisions
from loomwright.store.values import Erasure, Person

__all__ = ["People"]


class People(Opened):
    """Personal data, all in one place."""

    def add_person(self, name: str, *, contact: str = "", address: str = "", note: str = "") -> Person:
        """Keep a new person and return it with its id."""
        with self.database.writing() as connection:
            return persons.add_person(connection, name=name, contact=contact, address=address, note=note)

    def change_person(self, person: Person) -> None:
        """Overwrite what is kept about a person; of this there are no revisions."""
        with self.database.writing() as connection:
            persons.change_person(connection, person)

    def person(self, id: str) -> Person:
        """Return a person; after an erasure all but the id is empty.

        Raises
        ------
        StoreError
            Where there is none.
        """
        with self.database.reading() as connection:
            return persons.person_of(connection, id)

    def people(self, words: str = "") -> tuple[Person, ...]:
        """Return everybody, or those in whose data all of some words stand, by name."""
        with self.database.reading() as connection:
            return persons.find_people(connection, words) if words.split() else persons.all_people(connection)

    def workers(self) -> tuple[Person, ...]:
        """Return those who have saved something, by name: the shop's own people, without its buyers."""
        with self.database.reading() as connection:
            ids = connection.execute(select(revisions.c.by_person).distinct()).scalars()
            found = [persons.person_of(connection, id) for id in ids]
        return tuple(sorted(found, key=lambda p: (p.name, p.id)))

    def usual_person(self) -> str:
        """Return the id under which something is saved where nobody is named: whoever began the shop."""
        with self.database.reading() as connection:
            found = persons.usual_person(connection)
        if found:
            return found
        with self.database.writing() as connection:
            return persons.usual_person(connection, add=True)

    def erase(self, person: str, *, by: str) -> Erasure:
        """Overwrite a person's data for ever; revisions keep the bare id.

        Backups made before still hold the data; where one is restored, the erasure is made again.

        Raises
        ------
        StoreError
            Where there is no such person, or `by` is nobody.
        """
        erasure = Erasure(person=person, at=self.now(), by=by)
        with self.database.writing() as connection:
            persons.person_of(connection, person)
            if person != by:
                persons.require_person(connection, by)
            if (ledger := self.ledger) is not None:
                persons.note_erasure(ledger, erasure)  # first: an erasure noted twice is none the worse
            persons.erase(connection, erasure)
        self.forget()
        return erasure

    def erasures(self) -> tuple[Erasure, ...]:
        """Return who was erased, when and by whom, in their order."""
        with self.database.reading() as connection:
            return persons.erasures_of(connection)
