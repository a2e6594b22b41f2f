"""Several who write at once, threads and programs: none is lost, none is let over another's newer revision."""

import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from loomwright.errors import StoreError
from loomwright.store import connecting
from loomwright.store.store import Store, open_store
from loomwright.store.values import Conflict
from tests.store.saver import Savers, count_up

TIMES = 15


def test_threads_and_programs_lose_no_update(store: Store, place: str) -> None:
    people = [store.add_person(f"Person {number}").id for number in range(5)]
    store.save("kit", "shared", "n: 0\n", by=people[0])
    with Savers() as first, Savers() as second, ThreadPoolExecutor() as threads:
        first.start("count", place, people[0], TIMES)
        second.start("count", place, people[1], TIMES)
        counted = [threads.submit(count_up, store, by, TIMES) for by in people[2:]]
        conflicts = sum(one.result() for one in counted)
        for program in (first, second):
            (said,) = program.said()
            conflicts += int(said.removeprefix("conflicts "))
    assert store.latest("kit", "shared").text == f"n: {5 * TIMES}\n"
    versions = store.revisions("kit", "shared")
    assert [one.version for one in versions] == list(range(1, 5 * TIMES + 2))
    assert [one.base for one in versions[1:]] == [one.number for one in versions[:-1]]
    assert conflicts > 0, "they never met, so nothing was tested"


def test_of_many_who_save_over_one_revision_one_is_let_through(store: Store) -> None:
    people = [store.add_person(f"Person {number}").id for number in range(8)]
    base = store.save("kit", "a", "n: 0\n", by=people[0])

    def save(by: str) -> bool:
        try:
            store.save("kit", "a", f"by: {by}\n", by=by, base=base)
        except Conflict:
            return False
        return True

    with ThreadPoolExecutor(8) as threads:
        assert sorted(threads.map(save, people)) == [False] * 7 + [True]


def test_serials_of_many_benches_differ(store: Store, by: str) -> None:
    with ThreadPoolExecutor(8) as threads:
        serials = list(threads.map(lambda _: store.new_serial(by=by), range(24)))
    assert sorted(serials) == [f"2026-{number:04d}" for number in range(1, 25)]


def test_many_may_open_a_new_store_at_once(place: str, tmp_path: Path) -> None:
    def opened(_: int) -> int:
        with open_store(place, keep_in=tmp_path) as store:
            return store.count("kit")

    with ThreadPoolExecutor(6) as threads:
        assert list(threads.map(opened, range(6))) == [0] * 6
    assert list(tmp_path.glob("*before*")) == []


def test_who_waits_too_long_for_another_program_is_told_why(
    place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connecting, "BUSY_S", 0.2)
    with open_store(place, keep_in=tmp_path) as store, open_store(place, keep_in=tmp_path) as other:
        by = store.add_person("Wren").id
        with (
            other.database.writing(),
            pytest.raises(StoreError, match="found another program writing for more than 5 s, expected a free store"),
        ):
            store.save("kit", "a", "a: 1\n", by=by)
        assert store.save("kit", "a", "a: 1\n", by=by).number == 1


def test_threads_of_one_program_wait_for_each_other(
    place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connecting, "BUSY_S", 0.2)
    with open_store(place, keep_in=tmp_path) as store, ThreadPoolExecutor(3) as threads:
        by = store.add_person("Wren").id
        with store.database.writing():
            saved = [threads.submit(store.save, "kit", name, f"a: {name}\n", by=by) for name in ("a", "b", "c")]
            time.sleep(1.0)  # longer than they would wait for another program
            assert not any(one.done() for one in saved)
        assert sorted(one.result().number for one in saved) == [1, 2, 3]
        monkeypatch.setattr(connecting, "_QUEUE_S", 0.1)
        told = "found another save of this program that takes longer than 0.1 s, expected it to end; try again"
        with store.database.writing(), pytest.raises(StoreError, match=told):
            store.save("kit", "d", "a: 1\n", by=by)


def test_who_reads_sees_one_state_and_stops_nobody(store: Store, by: str) -> None:
    first = store.save("kit", "a", "a: 1\n", by=by)
    with store.database.reading() as connection:
        count = "SELECT count(*) FROM revisions"
        assert connection.exec_driver_sql(count).scalar_one() == 1
        store.save("kit", "a", "a: 2\n", by=by, base=first)
        assert connection.exec_driver_sql(count).scalar_one() == 1
    with store.database.reading() as connection:
        assert connection.exec_driver_sql(count).scalar_one() == 2
