"""A store for tests, on each engine: a file, and a private server."""

import tempfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from loomwright.store.store import Clock, Store, open_store
from tests.store.server import Server, find_programs, quick_folder

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


class Ticking:
    """A clock that goes on by a second each time it is looked at."""

    def __init__(self) -> None:
        self.moment = START

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment


@pytest.fixture
def tmp_path() -> Iterator[Path]:
    """A folder for one test, in memory where there is one."""
    with tempfile.TemporaryDirectory(prefix="store", dir=quick_folder()) as folder:
        yield Path(folder)


@pytest.fixture
def clock() -> Clock:
    return Ticking()


@pytest.fixture(scope="session")
def _servers() -> Iterator[list[Server]]:
    servers: list[Server] = []
    yield servers
    for server in servers:
        server.close()


@pytest.fixture
def server(_servers: list[Server], needs_program: Callable[[str], str]) -> Server:
    """The server of this run, started by the first test that asks for it."""
    if not _servers:
        programs = find_programs() or Path(needs_program("initdb")).resolve().parent
        _servers.append(Server(programs))
    return _servers[0]


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where an empty store can be opened."""
    if request.param == "sqlite":
        return str(tmp_path / "shop.db")
    server: Server = request.getfixturevalue("server")
    return server.new_place()


@pytest.fixture
def store(place: str, clock: Clock, tmp_path: Path) -> Iterator[Store]:
    with open_store(place, clock=clock, keep_in=tmp_path) as opened:
        yield opened


@pytest.fixture
def by(store: Store) -> str:
    """The id of somebody who may save."""
    return store.add_person("Wren Alder").id
