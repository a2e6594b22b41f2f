"""The workbench in this process, over a store that holds the demonstration shop, and over an empty one."""

import atexit
import re
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.vehicle import Vehicle
from loomwright.store.store import Store, open_store
from loomwright.web.app import create_app
from loomwright.web.settings import Settings

MOMENT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
CAR = "car.year=2014&car.body=sedan&car.engine=3.3&car.trim=touring"
FIT = "/fit/kestrin-fallow/rookery-4"


def clock() -> datetime:
    return MOMENT


def client_of(store: Store, settings: Settings | None = None) -> TestClient:
    settings = settings or Settings(raises=True)
    return TestClient(create_app(store, clock, settings), base_url="http://127.0.0.1", follow_redirects=False)


def token_of(client: TestClient, path: str = "/settings") -> str:
    """Return the token that a form on a page says."""
    found = re.search(r'name="token" value="([0-9a-f]{32})"', client.get(path).text)
    assert found is not None, path
    return found[1]


def fill(store: Store) -> str:
    """Make a new store one that keeps the demonstration shop, and return who did it."""
    assert store.count("vehicle") == 0
    file, by = _filled()
    path = store.database.path
    assert path is not None
    with closing(sqlite3.connect(file)) as filled, closing(sqlite3.connect(path)) as into:
        filled.backup(into)
    return by


@cache
def _filled() -> tuple[Path, str]:
    """Return a store that was filled once in this process, since every save looks through its document, and by whom."""
    folder = tempfile.TemporaryDirectory()
    atexit.register(folder.cleanup)
    file = Path(folder.name) / "demo.store"
    with open_store(file, clock=clock) as store:
        return file, _kept(store)


def _kept(store: Store) -> str:
    by = store.add_person("R. Bench").id
    for name, text in sorted(demo_files().items()):
        kind = re.search(r"^kind: (\w+)", text, re.MULTILINE)
        id = re.search(r"^id: (\S+)", text, re.MULTILINE)
        assert kind is not None
        assert id is not None, name
        store.save(kind[1], id[1], text, by=by)
    return by


@pytest.fixture(scope="session")
def demo_store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """Give a store that tests only read."""
    with open_store(tmp_path_factory.mktemp("web") / "demo.store", clock=clock) as store:
        fill(store)
        yield store


@pytest.fixture(scope="session")
def demo(demo_store: Store) -> TestClient:
    """Give a browser at the demonstration shop, which tests only read."""
    return client_of(demo_store)


@pytest.fixture
def make_store(tmp_path: Path) -> Iterator[Callable[[], Store]]:
    """Give a function that makes a store of its own."""
    made: list[Store] = []

    def make() -> Store:
        made.append(open_store(tmp_path / f"{len(made)}.store", clock=clock))
        return made[-1]

    yield make
    for store in made:
        store.close()


@pytest.fixture
def own(make_store: Callable[[], Store]) -> tuple[TestClient, Store]:
    """Give a browser at a demonstration shop of its own, and its store."""
    store = make_store()
    fill(store)
    return client_of(store), store


def vehicle_in(store: Store, id: str) -> Vehicle:
    """Return a vehicle as it is kept."""
    found = read_document(Source(file=id, text=store.latest("vehicle", id).text), MODELS).document
    assert isinstance(found, Vehicle)
    return found
