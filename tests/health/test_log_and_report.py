"""The log and the problem report: bounded, complete, and without a word about buyers."""

import io
import re
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loomwright.cli.main import main
from loomwright.health import log as logs
from loomwright.health.check import Check
from loomwright.health.kept_folder import kept_folder
from loomwright.health.log import LOG, failed, log_to, tail
from loomwright.health.report import problem_report
from loomwright.store.store import Store, open_store
from loomwright.web.app import create_app
from loomwright.web.settings import Settings
from tests.web.conftest import fill

_BUYER, _CONTACT, _NOTE, _SEARCH = "Wilhelmina Buyersname", "12 Private Lane", "rings after nine", "Wilhelmina"
_PASSPHRASE = "not to be written anywhere"
_GOOD = (Check(name="Disk", good=True, said="room"),)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[tuple[TestClient, Store]]:
    with open_store(tmp_path / "shop.store") as store:
        fill(store)
        handler = log_to(kept_folder(store))
        app = create_app(store, lambda: datetime.now(UTC), Settings(passphrase=_PASSPHRASE))
        client = TestClient(app, base_url="http://127.0.0.1", follow_redirects=True, raise_server_exceptions=False)
        _form(client, "/enter", {"passphrase": _PASSPHRASE})
        yield client, store
        LOG.removeHandler(handler)
        handler.close()


def _form(client: TestClient, path: str, data: dict[str, str], page: str = "") -> object:
    token = re.search(r'name="token" value="([0-9a-f]{32})"', client.get(page or path).text)
    assert token is not None
    return client.post(path, data={"token": token[1], **data})


def _sold(client: TestClient) -> str:
    car = {"car.year": "2014", "car.body": "sedan", "car.engine": "3.3", "car.trim": "touring"}
    answer = _form(
        client, "/jobs",
        {"vehicle": "kestrin-fallow", "kit": "rookery-4", "buyer": _BUYER, "contact": _CONTACT, "note": _NOTE, **car},
        "/jobs/new?vehicle=kestrin-fallow&kit=rookery-4",
    )  # fmt: skip
    return str(answer.url).rpartition("/")[2]  # type: ignore[attr-defined]


def test_the_log_tells_what_was_done_and_nothing_of_buyers(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    serial = _sold(client)
    client.get(f"/search?q={_SEARCH}")
    client.get(f"/jobs/{serial}")
    text = tail(kept_folder(store))
    assert re.search(r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ INFO POST /jobs 303 \d+ ms$", text, re.MULTILINE)
    assert "GET /jobs/{serial} 200" in text
    for private in (*_BUYER.split(), _CONTACT, _NOTE, _PASSPHRASE, serial):
        assert private not in text


def test_a_fault_of_the_program_is_told_and_logged_without_what_was_typed(
    shop: tuple[TestClient, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    client, store = shop

    def breaks(*_: object, **__: object) -> None:
        raise RuntimeError(f"broken by {_BUYER}")

    monkeypatch.setattr(type(store), "search", breaks)
    answer = client.get(f"/search?q={_SEARCH}")
    assert answer.status_code == 500
    assert "This is a fault of the program." in answer.text
    text = tail(kept_folder(store))
    at = r"ERROR GET /search RuntimeError at test_log_and_report\.py:\d+ breaks < page_search\.py:\d+"
    assert re.search(at, text)
    assert "Wilhelmina" not in text


def test_the_log_has_a_bounded_size(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(logs, "LARGEST", 4000)
    handler = log_to(tmp_path)
    for n in range(2000):
        LOG.info("line %d", n)
    LOG.removeHandler(handler)
    handler.close()
    files = list((tmp_path / "log").iterdir())
    assert len(files) == logs.COPIES + 1
    assert sum(f.stat().st_size for f in files) <= 4000 * (logs.COPIES + 1)
    assert tail(tmp_path, 5).splitlines()[-1].endswith("line 1999")


def test_an_exception_is_told_by_kind_and_place_alone() -> None:
    try:
        raise KeyError(_BUYER)
    except KeyError as problem:
        told = failed(problem)
    name = "test_an_exception_is_told_by_kind_and_place_alone"
    assert re.fullmatch(rf"KeyError at test_log_and_report\.py:\d+ {name}", told)


def test_a_report_holds_what_was_chosen_and_nothing_of_people(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    serial = _sold(client)
    page = _form(client, "/problem", {"vehicle": "kestrin-fallow", "kit": "rookery-4"})
    shown = page.text  # type: ignore[attr-defined]
    link = re.search(r'href="(/problem/[0-9a-f]+\.zip)"', shown)
    assert link is not None
    answer = client.get(link[1])
    assert answer.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        files = {name: archive.read(name).decode() for name in archive.namelist()}
    assert list(files)[:4] == ["what-is-in-it.txt", "versions.txt", "self-check.txt", "log.txt"]
    assert files["documents/vehicle-kestrin-fallow.yaml"] == store.latest("vehicle", "kestrin-fallow").text
    evidence = files["documents/evidence-kestrin-fallow-evidence.yaml"]
    assert set(re.findall(r"\bby: *([^,}\n]+)", evidence)) == {"somebody"}
    # Everything that will be saved is on the page before.
    assert all(f"<strong>{name}</strong>" in shown for name in files)
    for private in (*_BUYER.split(), _CONTACT, _NOTE, _PASSPHRASE, serial, "R. Bench"):
        assert all(private not in text for text in files.values()), private


def test_a_report_has_no_place_for_jobs(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    job = store.latest("job", _sold(client))
    with pytest.raises(ValueError, match="documents: found a job, expected one of vehicle, kit, evidence"):
        problem_report(_GOOD, kept_folder(store), [job])


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("/ho" + "me/wilhelmina/shop.store: found damage", "~/shop.store: found damage"),
        ("C:\\Users\\wilhelmina\\shop.store", "~\\shop.store"),
    ],
)
def test_folders_of_people_are_not_named(tmp_path: Path, path: str, told: str) -> None:
    report = problem_report([Check(name="Store", good=False, said=path, do="Look.")], tmp_path)
    assert told in report.files["self-check.txt"]
    assert "wilhelmina" not in "".join(report.files.values())


def test_the_command_shows_the_report_and_saves_it_only_when_told_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    place, file = tmp_path / "shop.store", tmp_path / "report.zip"
    with open_store(place) as store:
        fill(store)
    asked = ["problem-report", str(file), "--store", str(place), "--document", "kit/rookery-4"]
    monkeypatch.setattr("click.confirm", lambda _: False)
    assert main(asked) == 0
    said = capsys.readouterr().out
    assert "--- versions.txt" in said
    assert "Nothing was saved." in said
    assert not file.exists()
    assert main([*asked, "--yes"]) == 0
    with zipfile.ZipFile(file) as archive:
        assert "documents/kit-rookery-4.yaml" in archive.namelist()
    assert main([*asked, "--yes"]) == 2
    assert "found a file, expected none" in capsys.readouterr().err
    file.unlink()
    for wrong in ("job/2026-0001", "kit", "kit/"):
        assert main(["problem-report", str(file), "--store", str(place), "--document", wrong, "--yes"]) == 2
    assert main(["problem-report", str(file), "--store", str(place), "--document", "kit/none", "--yes"]) == 2
    assert not file.exists()
