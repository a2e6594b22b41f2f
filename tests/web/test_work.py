"""Long work: asked for, followed, kept, cancelled, bounded, and never lost without a word."""

import io
import multiprocessing
import re
import time
import zipfile
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from loomwright.documents.editing import with_item
from loomwright.documents.writing import plain_of
from loomwright.health.kept_folder import kept_folder
from loomwright.store.store import Store, open_store
from loomwright.store.values import Attachment
from loomwright.web.working import worker as working
from loomwright.web.working.task import Task
from tests.web.conftest import CAR, FIT, client_of, clock, fill, token_of, vehicle_in

_PAIR = {"vehicle": "kestrin-fallow", "kit": "rookery-4"}
_LONG_S = 120


@pytest.fixture
def shop(tmp_path: Path) -> tuple[TestClient, Store]:
    store = open_store(tmp_path / "shop.store", clock=clock)
    fill(store)
    return client_of(store), store


def _ask(client: TestClient, kind: str, **more: str) -> str:
    token = token_of(client, "/vehicles/kestrin-fallow/walk")
    car = dict(pair.split("=") for pair in CAR.split("&"))
    answer = client.post("/tasks", data={"token": token, "kind": kind, **_PAIR, **car, **more})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def _ended(client: TestClient, path: str) -> str:
    until = time.monotonic() + _LONG_S
    while time.monotonic() < until:
        page = client.get(path).text
        if 'hx-trigger="every 1s"' not in page:
            return page
        time.sleep(0.1)
    raise AssertionError(f"{path} did not end within {_LONG_S} s")


def test_every_sheet_is_written_in_the_background(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    base = store.latest("vehicle", "kestrin-fallow")
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "red").save(out, "JPEG")
    words = "The plug of the ignition switch, in place."
    text = with_item(base.text, ("plugs",), 0, {**plain_of(vehicle_in(store, "kestrin-fallow").plugs[0]),
                                               "photo": {"file": "ignition.jpg", "shows": words}})  # fmt: skip
    picture = Attachment(name="ignition.jpg", media_type="image/jpeg", data=out.getvalue())
    store.save("vehicle", "kestrin-fallow", text, by=base.by, base=base, attach=[picture])
    path = _ask(client, "every-sheet")
    page = _ended(client, path)
    assert "Done in" in page
    shown = [client.get(address).text for address in (f"{path}/files/guide.html", f"{FIT}/guide.html?{CAR}")]
    assert shown[0].count("data:image/jpeg") == shown[1].count("data:image/jpeg") > 0
    assert words in shown[0]
    names = re.findall(rf'href="{path}/files/([^"]+)"', page)
    assert {"guide.html", "guide-a4.pdf", "guide-letter.pdf", "wiring-plan-a4.pdf", "match.json"} <= set(names)
    archive = next(name for name in names if name.endswith(".zip"))
    with zipfile.ZipFile(io.BytesIO(client.get(f"{path}/files/{archive}").content)) as found:
        assert found.testzip() is None
        assert sorted(found.namelist()) == sorted(set(names) - {archive})
        assert found.read("guide-a4.pdf").startswith(b"%PDF-")


def test_the_start_is_explored_in_the_background(shop: tuple[TestClient, Store]) -> None:
    client, _ = shop
    # A car with a start button: its own computer cranks on, and holds the engine without the kit.
    path = _ask(client, "start", vehicle="averdahl-siskin", kit="dunlin-7", **{"car.year": "2015"})
    page = _ended(client, path)
    assert re.search(r"\d+ of \d+ properties hold in every order of events\.", page)
    paper = client.get(f"{path}/files/the-start.html").text
    for finding in ("crank-goes-on", "runs-on-without-kit"):
        assert f'data-trace="finding:{finding}"' in paper


def test_progress_is_told_with_scripts_and_without(shop: tuple[TestClient, Store]) -> None:
    client, _ = shop
    path = _ask(client, "every-car")
    page = client.get(path).text
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in page
    assert f'hx-get="{path}" hx-trigger="every 1s"' in page
    until = time.monotonic() + _LONG_S
    while not (told := re.search(r'<progress id="bar" max="(\d+)" value="(\d+)"', page)):
        assert time.monotonic() < until
        time.sleep(0.1)
        page = client.get(path).text
    assert int(told[2]) < int(told[1])
    token = token_of(client, path)
    assert client.post(f"{path}/cancel", data={"token": token}).status_code == 303
    page = client.get(path).text
    assert "Cancelled." in page
    assert "every 1s" not in page


def test_the_queue_is_bounded_and_its_end_is_told(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    token = token_of(client, "/vehicles/kestrin-fallow/walk")
    answers = [
        client.post("/tasks", data={"token": token, "kind": "every-car", **_PAIR})
        for _ in range(working.MOST_WAITING + 3)
    ]
    assert answers[-1].status_code == 429
    assert "Wait for one, or cancel one." in answers[-1].text
    # Closing the workbench keeps each as stopped, and whoever looks later is told.
    with client:
        pass
    again = client_of(store)
    page = again.get("/tasks").text
    taken = sum(answer.status_code == 303 for answer in answers)
    assert page.count("not done: the workbench was shut down") == taken
    assert "ask for it once more" in again.get(answers[0].headers["location"]).text


def test_work_that_was_going_when_the_program_was_killed_is_told(tmp_path: Path) -> None:
    with open_store(tmp_path / "shop.store", clock=clock) as store:
        by = fill(store)
        task = Task(
            id="000007", kind="every-car", title="Prove it", vehicle="kestrin-fallow", kit="rookery-4", choice={},
            by=by, at="2026-03-02T08:00:00+00:00", state="going", done=3, total=90,
        )  # fmt: skip
        folder = kept_folder(store) / "work" / task.id
        folder.mkdir(parents=True)
        (folder / "task.json").write_text(task.text(), encoding="utf-8")
        (folder.parent / "000008").mkdir()
        (folder.parent / "000008" / "task.json").write_text("{", encoding="utf-8")
        client = client_of(store)
        assert "not done: the workbench was shut down" in client.get("/tasks/000007").text.lower()
        assert client.get("/tasks/000008").status_code == 404
        token = token_of(client, "/tasks/000007")
        answer = client.post("/tasks/000007/again", data={"token": token})
        assert answer.headers["location"] == "/tasks/000008"
        client.post("/tasks/000008/cancel", data={"token": token})


def test_a_document_with_faults_fails_with_its_messages(shop: tuple[TestClient, Store]) -> None:
    client, store = shop
    latest = store.latest("kit", "rookery-4")
    broken = latest.text.replace("how: ", "hwo: ", 1)
    assert broken != latest.text
    store.save("kit", "rookery-4", broken, by=latest.by, base=latest)
    token = token_of(client, "/vehicles/kestrin-fallow/walk")
    answer = client.post("/tasks", data={"token": token, "kind": "every-car", **_PAIR})
    assert answer.status_code == 422
    assert "hwo" in answer.text


@pytest.mark.parametrize(("kind", "status"), [("nothing", 400), ("", 400)])
def test_another_kind_is_not_taken(shop: tuple[TestClient, Store], kind: str, status: int) -> None:
    client, _ = shop
    token = token_of(client, "/vehicles/kestrin-fallow/walk")
    assert client.post("/tasks", data={"token": token, "kind": kind, **_PAIR}).status_code == status


@pytest.mark.parametrize("name", ["..%2Ftask.json", "task.json", "%2Fetc%2Fpasswd", "guide.html"])
def test_only_files_of_the_result_are_given(shop: tuple[TestClient, Store], name: str) -> None:
    client, _ = shop
    path = _ask(client, "every-car")
    assert client.get(f"{path}/files/{name}").status_code == 404
    client.post(f"{path}/cancel", data={"token": token_of(client, path)})


def test_a_process_that_dies_is_told(shop: tuple[TestClient, Store], monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = shop
    monkeypatch.setattr(working, "work", _dies)
    page = _ended(client, _ask(client, "every-car"))
    assert "The work ended by itself (exit code 3)." in page


def test_a_machine_that_gives_no_process_is_told_and_the_next_work_goes_on(
    shop: tuple[TestClient, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    client, _ = shop
    kind = multiprocessing.get_context("spawn").Process
    with monkeypatch.context() as patched:
        patched.setattr(kind, "start", _no_process)
        assert "The machine gave no process for this work." in _ended(client, _ask(client, "every-car"))
    path = _ask(client, "every-car")
    until = time.monotonic() + _LONG_S
    while "<progress" not in client.get(path).text:
        assert time.monotonic() < until
        time.sleep(0.1)
    client.post(f"{path}/cancel", data={"token": token_of(client, path)})


def _no_process(_: object) -> None:
    raise OSError("nothing left")


def _dies(*_: object) -> None:
    raise SystemExit(3)
