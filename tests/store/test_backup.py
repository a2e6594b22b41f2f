"""A backup holds one state of a store in use, and a restore gives all of it back but for whom was erased."""

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from threading import Event, Thread

import pytest
from sqlalchemy import text

from loomwright.errors import StoreError
from loomwright.store.migrations import MIGRATIONS, Migration
from loomwright.store.store import Clock, Store, open_store
from loomwright.store.values import Attachment, Person

PHOTO = Attachment(name="plug.jpg", media_type="image/jpeg", data=bytes(range(256)))


@pytest.fixture
def filled(store: Store, by: str) -> Store:
    first = store.save("vehicle", "fallow", "note: one\n", by=by, attach=[PHOTO])
    store.save("vehicle", "fallow", "note: two\n", by=by, base=first)
    gone = store.save("kit", "rook", "note: three\n", by=by)
    store.remove("kit", "rook", by=by, base=gone)
    store.save("job", store.new_serial(by=by), "note: four\n", by=by)
    return store


@pytest.fixture
def empty(place: str, clock: Clock, tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Store]:
    """A second store on the same engine."""
    other = tmp_path / "other.db" if "://" not in place else request.getfixturevalue("server").new_place()
    (tmp_path / "other").mkdir()
    with open_store(other, clock=clock, keep_in=tmp_path / "other") as opened:
        yield opened


def state(store: Store) -> list[object]:
    tables = ("people", "revisions", "blobs", "attachments", "serials", "erasures", "heads")
    with store.database.reading() as connection:
        rows = [connection.execute(text(f"SELECT * FROM {table} ORDER BY 1, 2")).all() for table in tables]
    return [[tuple(row) for row in table] for table in rows]


def test_a_restored_store_is_the_one_that_was_backed_up(filled: Store, empty: Store, tmp_path: Path) -> None:
    filled.backup(tmp_path / "backup")
    before = state(filled)
    filled.save("kit", "later", "a: 1\n", by=filled.people()[0].id)
    assert empty.restore(tmp_path / "backup") == 5
    assert state(empty) == before
    assert [hit.entry.id for hit in empty.search("two")] == ["fallow"]
    assert empty.search("three") == ()
    by = empty.people()[0].id
    assert empty.undo("kit", "rook", by=by).text == "note: three\n"
    assert empty.new_serial(by=by) == "2026-0002"
    with pytest.raises(StoreError, match="revisions is append-only"), empty.database.writing() as connection:
        connection.execute(text("DELETE FROM revisions"))


def test_a_backup_is_a_store_itself(filled: Store, tmp_path: Path) -> None:
    filled.backup(tmp_path / "backup")
    assert (tmp_path / "backup").stat().st_mode & 0o777 == 0o600
    with open_store(tmp_path / "backup") as opened:
        assert state(opened) == state(filled)
        assert [hit.entry.id for hit in opened.search("two")] == ["fallow"]


def test_a_backup_made_while_somebody_saves_has_one_state(filled: Store, empty: Store, tmp_path: Path) -> None:
    by, done = filled.people()[0].id, Event()

    def save() -> None:
        base = None
        for number in range(2000):
            base = filled.save("kit", "busy", f"n: {number}\n", by=by, base=base)
            if done.is_set():
                return

    writer = Thread(target=save)
    writer.start()
    try:
        for number in range(3):
            filled.backup(tmp_path / f"backup-{number}")
    finally:
        done.set()
        writer.join()
    with open_store(tmp_path / "backup-2") as opened:
        numbers = [entry.number for kind in ("vehicle", "job", "kit") for entry in opened.recent([kind])]
        count = empty.restore(tmp_path / "backup-2")
        assert max(numbers) == count


def test_who_was_erased_after_the_backup_is_erased_again(filled: Store, tmp_path: Path) -> None:
    ash, by = filled.add_person("Ash Bramble", contact="ash@bramble.example").id, filled.people()[0].id
    filled.backup(tmp_path / "backup")
    erasure = filled.erase(ash, by=by)
    filled.restore(tmp_path / "backup", replace=True)
    assert filled.person(ash) == Person(id=ash, name="")
    assert filled.erasures() == (erasure,)


def test_an_erasure_outlives_the_store_itself(filled: Store, place: str, tmp_path: Path, empty: Store) -> None:
    ash, by = filled.add_person("Ash Bramble").id, filled.people()[0].id
    filled.backup(tmp_path / "backup")
    filled.erase(ash, by=by)
    (ledger,) = tmp_path.glob("*.erased")
    assert "Bramble" not in ledger.read_text(encoding="utf-8")
    # The disk with the store is lost; the list of erasures, kept with the backups, is not.
    ledger.rename(tmp_path / "other" / ("other.db.erased" if "://" not in place else ledger.name))
    empty.restore(tmp_path / "backup")
    assert empty.person(ash).name == ""


def test_a_file_put_in_the_place_of_the_store_is_cleaned_when_it_is_opened(tmp_path: Path) -> None:
    with open_store(tmp_path / "shop.db") as store:
        by, ash = store.add_person("Wren").id, store.add_person("Ash Bramble").id
        store.backup(tmp_path / "backup")
        store.erase(ash, by=by)
    for path in tmp_path.glob("shop.db*"):
        if path.suffix != ".erased":
            path.unlink()
    (tmp_path / "backup").rename(tmp_path / "shop.db")
    with open_store(tmp_path / "shop.db") as store:
        assert store.person(ash).name == ""
    (tmp_path / "shop.db.erased").write_text("nonsense\n", encoding="utf-8")
    with pytest.raises(
        StoreError, match=r"shop.db.erased:1: found a line that cannot be read, expected person, at and"
    ):
        open_store(tmp_path / "shop.db")


def test_a_store_that_holds_something_is_replaced_only_on_demand_and_after_a_backup(
    filled: Store, empty: Store, tmp_path: Path
) -> None:
    filled.backup(tmp_path / "backup")
    by = empty.add_person("Ash").id
    empty.save("kit", "mine", "a: 1\n", by=by)
    with pytest.raises(StoreError, match="found a store that holds something, expected an empty one"):
        empty.restore(tmp_path / "backup")
    empty.restore(tmp_path / "backup", replace=True)
    assert not empty.has("kit", "mine")
    (kept,) = (tmp_path / "other").glob("*.before-restore-*")
    with open_store(kept) as opened:
        assert opened.latest("kit", "mine").text == "a: 1\n"


def test_a_backup_is_not_written_over_a_file(store: Store, tmp_path: Path) -> None:
    (tmp_path / "backup").write_bytes(b"mine")
    with pytest.raises(StoreError, match="backup: found a file, expected none; name another one for the backup"):
        store.backup(tmp_path / "backup")
    with pytest.raises(StoreError, match=r"no/backup: found no way to write a backup \(no such file or directory\)"):
        store.backup(tmp_path / "no" / "backup")
    assert (tmp_path / "backup").read_bytes() == b"mine"


@pytest.mark.parametrize("harm", ["missing", "text", "cut", "other program", "changed text", "newer"])
def test_what_is_no_sound_backup_is_refused_and_nothing_changes(
    filled: Store, empty: Store, tmp_path: Path, harm: str
) -> None:
    path = tmp_path / "backup"
    filled.backup(path)
    if harm == "missing":
        path.unlink()
    elif harm == "text":
        path.write_text("no database at all, but long enough to have a header\n" * 100, encoding="utf-8")
    elif harm == "cut":
        path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    elif harm == "other program":
        path.unlink()
        with closing(sqlite3.connect(path)) as file:
            file.execute("CREATE TABLE birds (name TEXT)")
    else:
        with closing(sqlite3.connect(path)) as file, file:
            if harm == "newer":
                file.execute("INSERT INTO migrations VALUES (99, 'from the future', '')")
            else:
                file.execute("DROP TRIGGER revisions_update")
                file.execute("UPDATE revisions SET text = 'note: forged' WHERE number = 2")
    by = empty.add_person("Ash").id
    before = state(empty)
    words = {
        "missing": "found no file, expected a backup; check the path",
        "text": r"found a file that is no backup \(file is not a database\); name another one",
        "cut": "backup: found (a file that is no backup|damage)",
        "other program": "found no store in this file, expected a backup; name another one",
        "changed text": "found revision 2 with other content than was saved, expected it sound; use another backup",
        "newer": "found a store of schema 99, expected at most 2, the newest that this program knows; update",
    }
    with pytest.raises(StoreError, match=words[harm]):
        empty.restore(path)
    assert state(empty) == before
    assert empty.save("kit", "a", "a: 1\n", by=by).number == 1
    with pytest.raises(StoreError, match="append-only"), empty.database.writing() as connection:
        connection.execute(text("DELETE FROM revisions"))


# Migrations

EXTRA = Migration(number=3, name="a note", statements=lambda _: iter(["ALTER TABLE people ADD COLUMN extra TEXT"]))


def test_a_change_of_the_schema_comes_after_a_backup_and_with_its_record(
    place: str, tmp_path: Path, clock: Clock
) -> None:
    with open_store(place, keep_in=tmp_path, clock=clock) as store:
        store.save("kit", "a", "a: 1\n", by=store.add_person("Wren").id)
        before = state(store)
    later = (*MIGRATIONS, EXTRA)
    with open_store(place, keep_in=tmp_path, clock=clock, migrations=later) as store:
        with store.database.reading() as connection:
            assert connection.execute(text("SELECT extra FROM people")).all() == [(None,)]
            records = connection.execute(text("SELECT number, name FROM migrations ORDER BY 1")).all()
        assert [tuple(row) for row in records] == [(one.number, one.name) for one in later]
    (kept,) = tmp_path.glob("*.before-0003")
    with open_store(kept) as opened:
        assert state(opened) == before
    with pytest.raises(StoreError, match=r"found a store of schema 3, expected at most 2, .*; update the program"):
        open_store(place, keep_in=tmp_path)


def test_a_change_that_fails_leaves_the_store_as_it_was(place: str, tmp_path: Path) -> None:
    with open_store(place, keep_in=tmp_path) as store:
        store.save("kit", "a", "a: 1\n", by=store.add_person("Wren").id)
        before = state(store)
    broken = Migration(
        number=3, name="broken", statements=lambda _: iter(["ALTER TABLE people ADD COLUMN extra TEXT", "NONSENSE"])
    )
    with pytest.raises(StoreError, match="found trouble in the database"):
        open_store(place, keep_in=tmp_path, migrations=(*MIGRATIONS, broken))
    with open_store(place, keep_in=tmp_path) as store:
        assert state(store) == before


def test_a_store_of_the_first_schema_is_brought_up_to_date(place: str, tmp_path: Path, empty: Store) -> None:
    with (
        open_store(place, keep_in=tmp_path, migrations=MIGRATIONS[:1]) as store,
        store.database.writing() as connection,
    ):
        connection.execute(text("INSERT INTO people VALUES ('p-1', 'Wren', '', '', '')"))
        digest = hashlib.sha256(b"a: violet").hexdigest()
        connection.execute(
            text("INSERT INTO revisions VALUES (1, 'kit', 'a', 1, NULL, 'save', 'p-1', '2026', :digest, 'a: violet')"),
            {"digest": digest},
        )
        connection.execute(text("INSERT INTO heads VALUES (1, 'kit', 'a', 1)"))
    with open_store(place, keep_in=tmp_path) as store:
        assert store.latest("kit", "a").text == "a: violet"
        assert [hit.entry.id for hit in store.search("violet")] == ["a"]


def test_a_server_without_a_folder_is_not_changed(server: object, tmp_path: Path) -> None:
    place = server.new_place()  # type: ignore[attr-defined]
    open_store(place).close()
    with pytest.raises(StoreError, match="found no folder for the backup that comes first, expected one; name it when"):
        open_store(place, migrations=(*MIGRATIONS, EXTRA))
    open_store(place).close()


def test_the_database_of_another_program_is_left_alone(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "birds.db")) as connection:
        connection.execute("CREATE TABLE birds (name TEXT)")
    with pytest.raises(StoreError, match="found the database of another program, with a table birds, expected a store"):
        open_store(tmp_path / "birds.db")
