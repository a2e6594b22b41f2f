"""Processes that are killed at any moment lose nothing that was acknowledged, and the store opens after each."""

import os
import random
import signal
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from threading import Timer

import pytest
from sqlalchemy import text

from loomwright.store.store import Store, open_store
from tests.store.saver import Savers
from tests.store.server import Server

KILLS = [20, pytest.param(500, marks=pytest.mark.soak)]
LONGEST_S = 0.2  # enough for some ten saves


@pytest.fixture(scope="module")
def savers() -> Iterator[Savers]:
    with Savers() as running:
        yield running


def _end(pid: int) -> None:
    os.kill(pid, signal.SIGKILL)


def _acknowledged(savers: Savers, place: str, by: str, seed: str, after_s: float) -> list[tuple[int, str]]:
    """Let a process save, kill it so long after it opened the store, and return what it was told to be saved."""
    pid = savers.start("save", place, by, seed)
    said = savers.said()
    assert next(said) == "opened"
    timer = Timer(after_s, _end, [pid])
    timer.start()
    lines = list(said)
    timer.join()
    assert not [line for line in lines if line.startswith("error")], lines
    return [(int(line.split()[0]), line.split()[1]) for line in lines]


def _assert_whole(store: Store, kept: dict[int, str]) -> None:
    """Assert that all that was acknowledged is there, and that everything in the store fits together."""
    with store.database.reading() as connection:
        rows = connection.execute(text("SELECT number, sha256 FROM revisions ORDER BY number")).all()
        hashes = {row.number: row.sha256 for row in rows}
        assert list(hashes) == list(range(1, len(hashes) + 1))
        assert kept.items() <= hashes.items()
        wrong = """SELECT heads.id FROM heads
            WHERE number <> (SELECT max(number) FROM revisions WHERE kind = heads.kind AND id = heads.id)"""
        assert connection.execute(text(wrong)).all() == []
    for entry in store.list("kit"):
        latest = store.latest("kit", entry.id)
        assert entry.id in {hit.entry.id for hit in store.search(latest.text.splitlines()[1])}
        for attached in store.attachments(latest):
            store.bytes_of(attached)


@pytest.mark.parametrize("kills", KILLS)
def test_no_acknowledged_save_is_lost(place: str, tmp_path: Path, savers: Savers, kills: int) -> None:
    seed = os.environ.get("SEED", "7")
    chance = random.Random(seed)
    with open_store(place, keep_in=tmp_path) as store:
        by = store.add_person("Wren").id
    kept: dict[int, str] = {}
    for kill in range(kills):
        kept |= _acknowledged(savers, place, by, f"{seed}-{kill}", chance.uniform(0, LONGEST_S))
        with open_store(place, keep_in=tmp_path) as store:
            _assert_whole(store, kept)
    assert len(kept) >= kills, "the processes were killed before they could save"
    with open_store(place, keep_in=tmp_path) as store:
        for number, digest in kept.items():
            assert store.at(number).sha256 == digest
        store.backup(tmp_path / "backup")  # reads every page
    with open_store(tmp_path / "empty.db") as other:
        assert other.restore(tmp_path / "backup") >= len(kept)  # checks every hash
    if "://" not in place:
        with closing(sqlite3.connect(place)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.parametrize("kills", [5, pytest.param(200, marks=pytest.mark.soak)])
def test_a_store_opens_whose_making_was_killed(tmp_path: Path, savers: Savers, kills: int) -> None:
    chance = random.Random(11)
    for kill in range(kills):
        place = str(tmp_path / f"shop-{kill}.db")
        pid = savers.start("open", place, "-", "-")
        time.sleep(chance.uniform(0, 0.05))
        _end(pid)
        list(savers.said())
        with open_store(place) as store:
            assert store.save("kit", "a", "a: 1\n", by=store.add_person("Wren").id).number == 1


def test_nothing_is_lost_when_the_server_is_killed(server: Server, savers: Savers) -> None:
    place = server.new_place()
    with open_store(place) as store:
        by = store.add_person("Wren").id
        savers.start("save", place, by, "server")
        said = savers.said()
        lines = [next(said), next(said)]  # it has opened the store and saved once
        server.stop(mode="immediate")
        try:
            lines += said
        finally:
            server.start()
        assert lines[-1].startswith(f"error {store.database.name}: found trouble in the database")
        kept = {int(line.split()[0]): line.split()[1] for line in lines[1:-1]}
        assert kept
        # The connections that this store had are dead as well, and it goes on.
        _assert_whole(store, kept)
        assert store.save("kit", "after", "a: 1\n", by=by).number >= len(kept)
