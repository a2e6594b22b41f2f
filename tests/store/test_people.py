"""Personal data stand in one place, and an erasure leaves nothing of them anywhere."""

from pathlib import Path

import pytest

from loomwright.errors import StoreError
from loomwright.store.store import Clock, Store, open_store
from loomwright.store.values import Person


def test_people_are_kept_changed_and_found(store: Store) -> None:
    ash = store.add_person("Ash Bramble", contact="ash@bramble.example", address="3 Fen Row", note="rings late")
    wren = store.add_person("wren Alder")
    assert store.people() == (ash, wren)
    assert store.people("FEN bram") == (ash,)
    assert store.people("nobody") == ()
    changed = Person(id=ash.id, name="Ash Bramble", contact="", address="4 Fen Row", note="")
    store.change_person(changed)
    assert store.person(ash.id) == changed


def test_ids_of_people_tell_nothing_and_differ(store: Store) -> None:
    ids = {store.add_person("Ash").id for _ in range(20)}
    assert len(ids) == 20
    assert all(id.startswith("p-") and "ash" not in id for id in ids)


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("a\0b", "name: found a character that is no text, expected text; type it again"),
        ("\ud800", "name: found a character that is no text"),
        ("x" * 2001, "name: found 2001 characters, expected at most 2000; shorten it"),
    ],
)
def test_what_is_no_name_is_refused(store: Store, name: str, message: str) -> None:
    with pytest.raises(StoreError, match=message):
        store.add_person(name)
    assert store.people() == ()


def test_an_erased_person_is_gone_but_for_the_id(store: Store, by: str) -> None:
    ash = store.add_person("Ash Bramble", contact="ash@bramble.example", address="3 Fen Row", note="rings late")
    saved = store.save("job", "2026-0001", f"buyer: {ash.id}\n", by=ash.id)
    erasure = store.erase(ash.id, by=by)
    assert store.person(ash.id) == Person(id=ash.id, name="")
    assert store.erasures() == (erasure,)
    assert (erasure.person, erasure.by) == (ash.id, by)
    assert ash not in store.people()
    assert store.people("bramble") == ()
    assert store.at(saved.number).by == ash.id


def test_an_erased_person_does_nothing_any_more(store: Store, by: str) -> None:
    ash = store.add_person("Ash")
    store.erase(ash.id, by=by)
    with pytest.raises(StoreError, match=rf"found the person {ash.id}, whose data were erased, expected another one"):
        store.save("kit", "a", "a: 1\n", by=ash.id)
    with pytest.raises(StoreError, match="whose data were erased"):
        store.change_person(ash)


def test_erasing_twice_or_oneself_is_one_erasure(store: Store) -> None:
    ash = store.add_person("Ash")
    store.erase(ash.id, by=ash.id)
    store.erase(ash.id, by=ash.id)
    assert [one.person for one in store.erasures()] == [ash.id]


def test_who_is_not_there_cannot_be_erased(store: Store, by: str) -> None:
    with pytest.raises(StoreError, match="found no person 'p-1'"):
        store.erase("p-1", by=by)
    assert store.erasures() == ()


def test_no_file_holds_a_name_after_its_erasure(tmp_path: Path, clock: Clock) -> None:
    def files_with_name() -> list[str]:
        return sorted(path.name for path in tmp_path.iterdir() if b"Bramblethorpe" in path.read_bytes())

    with open_store(tmp_path / "shop.db", clock=clock) as store:
        wren = store.add_person("Wren Alder")
        ash = store.add_person("Ash Bramblethorpe", note="Bramblethorpe " * 100)
        assert files_with_name() != []
        store.erase(ash.id, by=wren.id)
        assert files_with_name() == []
    assert files_with_name() == []


def test_the_file_is_its_owners_alone(tmp_path: Path) -> None:
    with open_store(tmp_path / "shop.db") as store:
        store.add_person("Wren Alder")
        assert {path.stat().st_mode & 0o777 for path in tmp_path.glob("shop.db*")} == {0o600}
