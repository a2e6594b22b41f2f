"""Several people at once: two browsers on one circuit, and twenty users who read and save without an error."""

import re
import threading
from collections.abc import Iterator

import httpx2
import pytest
from playwright.sync_api import Browser, Page, expect
from starlette.testclient import TestClient

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.vehicle import Circuit, Vehicle
from loomwright.store.store import Store, open_store
from loomwright.store.values import Attachment
from tests.browsing import DESK, PHONE
from tests.web.conftest import CAR, FIT, client_of, clock, fill, vehicle_in
from tests.web.hostile import seen
from tests.web.served import Served

_IGNITION = "/vehicles/kestrin-fallow/circuits/ignition-1"
_USERS = 20
_CHOICE = {"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"}


def _circuit(store: Store, id: str) -> Circuit:
    found = read_document(Source(file="v", text=store.latest("vehicle", "kestrin-fallow").text), MODELS).document
    assert isinstance(found, Vehicle)
    return next(circuit for circuit in found.circuits if circuit.id == id)


@pytest.fixture
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Served, Store]]:
    with open_store(tmp_path_factory.mktemp("users") / "demo.store", clock=clock) as store:
        fill(store)
        found = Served(store)
        yield found, store
        found.close()


def _save(page: Page) -> None:
    page.get_by_role("button", name=re.compile("^Save|^Keep this circuit|^Keep the circuit")).first.click()


def test_two_browsers_at_one_circuit(browser: Browser, served: tuple[Served, Store]) -> None:
    bench, store = served
    with browser.new_context(viewport=DESK) as one, browser.new_context(viewport=PHONE) as other:
        first, second = one.new_page(), other.new_page()
        for page in (first, second):
            page.goto(f"{bench.address}{_IGNITION}")
        first.locator("[name=note]").fill("seen by the first")
        _save(first)
        expect(first.locator("[name=note]")).to_have_value("seen by the first")
        second.locator("[name=note]").fill("seen by the second")
        _save(second)
        # The second is told who was faster and what they changed, and has lost nothing of what was typed.
        told = second.get_by_role("alert")
        expect(told).to_contain_text("R. Bench saved this circuit first")
        expect(told).to_contain_text("seen by the first")
        expect(second.locator("[name=note]")).to_have_value("seen by the second")
        assert _circuit(store, "ignition-1").note == "seen by the first"
        second.locator("[name=note]").fill("seen by the first, and by the second")
        _save(second)
        expect(second.locator("[name=note]")).to_have_value("seen by the first, and by the second")
        assert second.get_by_role("alert").count() == 0
    assert _circuit(store, "ignition-1").note == "seen by the first, and by the second"
    assert [entry.version for entry in store.revisions("vehicle", "kestrin-fallow")] == [1, 2, 3]


def test_two_people_change_different_things_of_one_circuit_and_both_are_kept(own: tuple[TestClient, Store]) -> None:
    client, store = own
    page = client.get(_IGNITION).text
    form = next(form for form in seen(page).forms if "note" in {one.name for one in form.fields})
    first, second = form.filled(), form.filled()
    first["note"] = ["the note of the first"]
    second["name"] = ["the name of the second"]
    assert client.post(_IGNITION, data=first).status_code == 303
    assert client.post(_IGNITION, data=second).status_code == 303
    circuit = _circuit(store, "ignition-1")
    assert (circuit.note, circuit.name) == ("the note of the first", "the name of the second")
    assert store.latest("vehicle", "kestrin-fallow").version == 3


def _circuit_form(client: TestClient) -> dict[str, list[str]]:
    return next(f for f in seen(client.get(_IGNITION).text).forms if "note" in {one.name for one in f.fields}).filled()


def test_who_was_slower_may_keep_theirs_as_a_vehicle_of_its_own(own: tuple[TestClient, Store]) -> None:
    first, store = own
    second = client_of(store)
    base = store.latest("vehicle", "kestrin-fallow")
    picture = Attachment(name="kick-panel.jpg", media_type="image/jpeg", data=b"a picture")
    store.save("vehicle", "kestrin-fallow", base.text, by=base.by, base=base, attach=[picture])
    one, two = _circuit_form(first), _circuit_form(second)
    assert first.post(_IGNITION, data=one | {"note": ["the first"]}).status_code == 303
    told = second.post(_IGNITION, data=two | {"note": ["the second"]})
    assert (told.status_code, "What was measured stays with theirs" in told.text) == (409, True)
    mine = re.search(r'name="copy" value="(\d+)"', told.text)
    assert mine is not None
    # The form on that page is made from the newer version, and the button goes back to the one before.
    again = next(f for f in seen(told.text).forms if "note" in {one.name for one in f.fields}).filled()
    assert again["base"] != [mine[1]]
    for id, called in (("kestrin-fallow-copy", "Fallow (copy)"), ("kestrin-fallow-copy-2", "Fallow (copy 2)")):
        kept = second.post(_IGNITION, data=again | {"copy": [mine[1]]})
        assert kept.headers["location"] == f"/vehicles/{id}/edit?copy-of=kestrin-fallow"
        copy = vehicle_in(store, id)
        assert [circuit.note for circuit in copy.circuits if circuit.id == "ignition-1"] == ["the second"]
        assert copy.names[0].model == called
        assert [photo.name for photo in store.attachments(store.latest("vehicle", id))] == ["kick-panel.jpg"]
        page = second.get(kept.headers["location"]).text
        assert "The evidence stays with the original" in page
        assert "Still to be entered or put right" not in page
    assert _circuit(store, "ignition-1").note == "the first"
    assert store.latest("vehicle", "kestrin-fallow").version == 3
    assert {entry.id for entry in store.list("evidence") if "copy" in entry.id} == set()


def test_an_entry_that_moved_meanwhile_is_found_and_no_other_is_changed(own: tuple[TestClient, Store]) -> None:
    client, store = own
    edit = "/vehicles/kestrin-fallow/edit/places"
    before = vehicle_in(store, "kestrin-fallow").places

    def form_of(page: str) -> dict[str, list[str]]:
        return next(f for f in seen(page).forms if "minutes" in {one.name for one in f.fields}).filled()

    mine, theirs = form_of(client.get(f"{edit}/3").text), form_of(client.get(f"{edit}/3").text)
    assert client.post(f"{edit}/3", data=theirs | {"minutes": ["31"]}).status_code == 303
    gone = {"token": theirs["token"], "base": [str(store.latest("vehicle", "kestrin-fallow").number)],
            "anyway": ["yes"]}  # fmt: skip
    assert client.post(f"{edit}/1/remove", data=gone).status_code == 303
    told = client.post(f"{edit}/3", data=mine | {"minutes": ["33"]})
    assert (told.status_code, f'action="{edit}/2"' in told.text) == (409, True)
    assert client.post(f"{edit}/2", data=form_of(told.text) | {"anyway": ["yes"]}).status_code == 303
    after = vehicle_in(store, "kestrin-fallow").places
    assert [(p.id, p.minutes) for p in after] == [
        (p.id, 33 if p.id == before[2].id else p.minutes) for p in before[1:]
    ]
    # What was taken away by somebody else cannot be saved over, and nothing else is touched instead.
    mine = form_of(client.get(f"{edit}/1").text)
    gone["base"] = [str(store.latest("vehicle", "kestrin-fallow").number)]
    assert client.post(f"{edit}/1/remove", data=gone).status_code == 303
    for _ in range(2):
        told = client.post(f"{edit}/1", data=mine | {"minutes": ["44"]})
        assert (told.status_code, "took this place away" in told.text) == (409, True)
        mine = form_of(told.text)
    assert [p.id for p in vehicle_in(store, "kestrin-fallow").places] == [p.id for p in after[1:]]


class _User:
    """Somebody with a browser and a program: what they were told, and what went wrong."""

    def __init__(self, address: str, number: int) -> None:
        self.number = number
        self.wrong: list[str] = []
        self.serials: list[str] = []
        self.saved = 0
        self._client = httpx2.Client(base_url=address, timeout=120, follow_redirects=False)

    def run(self) -> None:
        try:
            with self._client:
                self._work()
        except Exception as problem:
            self.wrong.append(repr(problem))

    def _get(self, path: str) -> str:
        found = self._client.get(path)
        if found.status_code != 200:
            self.wrong.append(f"{path}: {found.status_code}")
        return found.text

    def _work(self) -> None:
        n = self.number
        state = f"{FIT}?{CAR}&key=run"
        for path in ("/", "/vehicles", f"/vehicles/kestrin-fallow?{CAR}", state, "/jobs", "/search?q=horn"):
            self._get(path)
        token = re.findall(r'name="token" value="([0-9a-f]{32})"', self._get("/documents"))[0]
        car = {f"car.{axis}": value for axis, value in _CHOICE.items()}
        made = self._client.post("/jobs", data={"token": token, "vehicle": "kestrin-fallow", "kit": "rookery-4", **car})
        if made.status_code == 303:
            self.serials.append(made.headers["location"].rpartition("/")[2])
        else:
            self.wrong.append(f"/jobs: {made.status_code}")
        asked = {"vehicle": "kestrin-fallow", "kit": "rookery-4", "choice": _CHOICE}
        if (found := self._client.post("/api/match", json=asked)).json().get("verdict") != "fits":
            self.wrong.append(f"/api/match: {found.text[:200]}")
        # All of them save into one document; who is slower is told, merges, and asks again.
        path = "/api/documents/evidence/kestrin-fallow-evidence"
        old = self._client.get(path).json()
        sent = {"text": old["text"] + f"# user {n}\n", "base": old["number"]}
        for _ in range(3 * _USERS):
            found = self._client.put(path, json=sent)
            if found.status_code == 200:
                self.saved += 1
                return
            conflict = found.json()["conflict"]
            sent = {"text": conflict["theirs_text"] + f"# user {n}\n", "base": conflict["theirs"]}
        self.wrong.append("never saved")


def test_twenty_users_at_once_see_no_error_and_lose_nothing(served: tuple[Served, Store]) -> None:
    bench, store = served
    users = [_User(bench.address, number) for number in range(_USERS)]
    threads = [threading.Thread(target=user.run) for user in users]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=300)
    assert [wrong for user in users for wrong in user.wrong] == []
    serials = [serial for user in users for serial in user.serials]
    assert len(set(serials)) == _USERS
    assert {entry.id for entry in store.list("job")} == set(serials)
    text = store.latest("evidence", "kestrin-fallow-evidence").text
    assert [n for n in range(_USERS) if f"# user {n}\n" not in text] == []
    assert store.latest("evidence", "kestrin-fallow-evidence").version == 1 + _USERS
