"""What the workbench asks of a store besides documents: whether it changed, who works there, whether all is sound."""

from loomwright.store.store import Store
from loomwright.store.values import Attachment


def test_the_last_number_changes_with_every_save_and_only_then(store: Store, by: str) -> None:
    assert store.last_number() == 0
    first = store.save("kit", "a-kit", "format: 1\nkind: kit\nname: one\n", by=by)
    assert store.last_number() == first.number
    store.list("kit")
    assert store.last_number() == first.number
    second = store.save("kit", "a-kit", "format: 1\nkind: kit\nname: two\n", by=by, base=first)
    assert store.last_number() == second.number > first.number


def test_workers_are_those_who_saved_something(store: Store, by: str) -> None:
    buyer, helper = store.add_person("A. Buyer").id, store.add_person("B. Helper").id
    store.save("kit", "a-kit", "format: 1\nkind: kit\nname: one\n", by=helper)
    store.save("kit", "b-kit", "format: 1\nkind: kit\nname: one\n", by=by)
    found = store.workers()
    assert {person.id for person in found} == {by, helper}
    assert buyer not in {person.id for person in found}
    assert [person.name for person in found] == sorted(person.name for person in found)


def test_everything_that_is_kept_is_looked_through(store: Store, by: str) -> None:
    assert store.check() == 0
    store.save(
        "kit", "a-kit", "format: 1\nkind: kit\nname: one\n", by=by,
        attach=[Attachment(name="a.png", media_type="image/png", data=bytes(range(256)))],
    )  # fmt: skip
    assert store.check() == 2  # one revision, one attachment
