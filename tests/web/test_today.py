"""Today: what is open, each with the next thing to do, and fast however much is kept."""

import re
import time
from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

from loomwright.store.store import Store
from loomwright.web import desk
from tests.web.conftest import CAR, token_of
from tests.web.hostile import seen

_LONG_S = 180


def _sell(client: TestClient) -> str:
    car = dict(pair.split("=") for pair in CAR.split("&"))
    token = token_of(client, f"/jobs/new?vehicle=kestrin-fallow&kit=rookery-4&{CAR}")
    answer = client.post("/jobs", data={"token": token, "vehicle": "kestrin-fallow", "kit": "rookery-4", **car})
    return str(answer.headers["location"])


def _todo(page: str, what: str) -> tuple[str, str]:
    """Return the next thing to do and where it leads."""
    found = re.search(rf"<strong>{re.escape(what)}</strong>.*?<p><a href=\"([^\"]+)\">([^<]+)</a>", page, re.DOTALL)
    assert found is not None, what
    return found[2], found[1]


def test_a_job_tells_what_comes_next_until_nothing_does(own: tuple[TestClient, Store]) -> None:
    client, store = own
    job = _sell(client)
    serial = job.rpartition("/")[2]
    assert _todo(client.get("/").text, serial) == ("Issue the guide", job)
    client.post(f"{job}/issue", data={"token": token_of(client, job)})
    assert _todo(client.get("/").text, serial) == ("Type in what the buyer reads", f"{job}/readings")
    kit = store.latest("kit", "rookery-4")
    store.save("kit", "rookery-4", kit.text + "# changed\n", by=kit.by, base=kit)
    words, to = _todo(client.get("/").text, serial)
    assert words == "Look whether the guide still holds"
    assert to.startswith("/fit/kestrin-fallow/rookery-4?car.year=2014")
    client.post(f"{job}/issue", data={"token": token_of(client, job)})
    store.record("reading", serial, "format: 1\nkind: reading\n", by=kit.by)
    assert "Nothing is open" in client.get("/").text
    for task in re.findall(r"/tasks/\d+", client.get("/tasks").text):
        client.post(f"{task}/cancel", data={"token": token_of(client, task)})


def test_what_matters_most_for_an_open_job_is_found_beside_the_page(own: tuple[TestClient, Store]) -> None:
    client, _ = own
    _sell(client)
    page = client.get("/").text
    assert "Still being looked over" in page
    task = re.findall(r'href="(/tasks/\d+)"', page)[0]
    until = time.monotonic() + _LONG_S
    while "Still being looked over" in page:
        assert time.monotonic() < until
        time.sleep(0.3)
        page = client.get("/").text
    assert "Done in" in client.get(task).text
    # The ignition-side circuits of this variant are proven; those that are not and move something are named.
    measured = re.findall(r'<a href="/vehicles/kestrin-fallow/walk\?at=([\w-]+/\w+)&amp;car\.[^"]*">Measure pin', page)
    assert measured
    for pin in measured:
        assert client.get(f"/vehicles/kestrin-fallow/walk?at={pin}&{CAR}").status_code == 200
    # It is asked for once, however often the page is looked at.
    assert client.get("/tasks").text.count("Find what matters most") == 1


def test_a_document_that_is_not_in_order_stands_there(own: tuple[TestClient, Store]) -> None:
    client, store = own
    latest = store.latest("kit", "rookery-4")
    store.save("kit", "rookery-4", latest.text.replace("how: ", "hwo: ", 1), by=latest.by, base=latest)
    page = client.get("/").text
    found = re.search(r"<strong>[^<]* is not in order: (\d+) messages?</strong>", page)
    assert found is not None
    assert int(found[1]) >= 1
    assert 'href="/kits/rookery-4">Put it right' in page


def test_vehicles_with_circuits_that_nobody_measured_are_named(own: tuple[TestClient, Store]) -> None:
    client, _ = own
    page = client.get("/").text
    named = re.findall(r"<strong>(\d+) of (\d+) circuits are not proven", page)
    assert named
    assert all(0 < int(some) <= int(every) for some, every in named)
    assert "Walk its wires with a meter" in page


def test_after_one_edit_only_what_it_touches_is_worked_out_again(
    own: tuple[TestClient, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    client, store = own
    _sell(client)
    done: list[tuple[str, str]] = []

    def counted(what: str, of: Callable[..., str]) -> None:
        real = getattr(desk, what)

        def call(*given: Any, **more: Any) -> Any:
            done.append((what, of(given[0])))
            return real(*given, **more)

        monkeypatch.setattr(desk, what, call)

    counted("read_document", lambda source: source.file)
    counted("check_documents", lambda loaded: loaded[0].file)
    counted("resolve", lambda vehicle: vehicle.id)
    client.get("/")
    assert len(done) > 6
    done.clear()
    kit = store.latest("kit", "rookery-4")
    store.save("kit", "rookery-4", kit.text + "# changed\n", by=kit.by, base=kit)
    client.get("/")
    assert sorted(done) == [("check_documents", "kit/rookery-4"), ("read_document", "kit/rookery-4")]
    # What the form checked before it kept the change is not checked once more for the page.
    edit = "/vehicles/kestrin-fallow/edit/places/1"
    form = next(f for f in seen(client.get(edit).text).forms if "minutes" in {one.name for one in f.fields}).filled()
    done.clear()
    assert client.post(edit, data=form | {"minutes": ["7"]}).status_code == 303
    client.get("/")
    assert sorted(done) == [
        ("check_documents", "vehicle/kestrin-fallow"), ("read_document", "vehicle/kestrin-fallow"),
        ("resolve", "kestrin-fallow"),
    ]  # fmt: skip
    for task in re.findall(r"/tasks/\d+", client.get("/tasks").text):
        client.post(f"{task}/cancel", data={"token": token_of(client, task)})
