"""Who is let in, and what every answer says: hosts, forms of other sites, sizes, the passphrase."""

import hashlib
import hmac
import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from loomwright.store.store import Store
from loomwright.web.door import Door, Said
from loomwright.web.guard import POLICY, TOKEN
from loomwright.web.settings import Settings
from tests.web.conftest import client_of, fill, token_of


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8017", "localhost", "LOCALHOST:9", "[::1]:8017"])
def test_this_machine_is_let_in(demo: TestClient, host: str) -> None:
    assert demo.get("/vehicles", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "[::1].evil.example", "127.0.0.2"])
def test_a_name_that_only_points_here_is_refused(demo: TestClient, host: str) -> None:
    found = demo.get("/vehicles", headers={"host": host})
    assert found.status_code == 421
    assert "answers only under the address it was opened with" in found.text
    assert "Kestrin" not in found.text


def test_every_answer_says_what_may_be_loaded(demo: TestClient) -> None:
    for path in ("/vehicles", "/nowhere", "/static/workbench.css", "/vehicles/none"):
        headers = demo.get(path).headers
        assert headers["content-security-policy"] == POLICY
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"
    assert "unsafe" not in POLICY
    assert demo.get("/nowhere", headers={"host": "evil.example"}).headers["content-security-policy"] == POLICY


def test_pages_are_not_kept_and_files_are(demo: TestClient) -> None:
    assert demo.get("/vehicles").headers["cache-control"] == "no-store"
    assert "immutable" in demo.get("/static/htmx.js").headers["cache-control"]


def test_a_form_must_say_the_word_of_its_page(own: tuple[TestClient, Store]) -> None:
    client, store = own
    count = store.count("vehicle")
    sent = {"file": ("a.yaml", b"format: 1\nkind: shop\nid: a\nname: A\ncall: b\n")}
    token = token_of(client)
    refused = [
        client.post("/documents", files=sent),
        client.post("/documents", files=sent, data={"token": "0" * 32}),
        client.post("/documents", files=sent, data={"token": token}, headers={"origin": "https://evil.example"}),
        client.post("/documents", files=sent, data={"token": token}, headers={"sec-fetch-site": "cross-site"}),
    ]
    assert [r.status_code for r in refused] == [403] * 4
    assert "did not come from a page of this workbench" in refused[0].text
    client.cookies.delete(TOKEN)
    assert client.post("/documents", files=sent, data={"token": ""}).status_code == 403
    assert store.count("vehicle") == count
    token = token_of(client)
    good = client.post("/documents", files=sent, data={"token": token}, headers={"origin": "http://127.0.0.1"})
    assert good.status_code == 303


def test_the_cookie_of_forms_is_hidden_from_scripts_and_from_other_sites(make_store: Callable[[], Store]) -> None:
    cookie = client_of(make_store()).get("/begin").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie


def test_a_body_that_is_too_large_is_refused_before_it_is_read(make_store: Callable[[], Store]) -> None:
    client = client_of(make_store(), Settings(largest_upload=2000))
    token = token_of(client, "/begin")
    found = client.post("/begin", data={"token": token, "shop": "x" * 3000})
    assert found.status_code == 413
    assert found.text == "This is too large: expected at most 0.002 MB. Send a smaller file.\n"

    def parts() -> object:
        yield from [b"x" * 900] * 4

    slow = client.post("/begin", content=parts(), headers={"content-type": "application/x-www-form-urlencoded"})  # type: ignore[arg-type]
    assert slow.status_code == 413


def test_a_method_that_a_page_has_not_is_refused(demo: TestClient) -> None:
    assert demo.post("/vehicles").status_code == 405
    assert demo.put("/begin").status_code == 405
    assert demo.head("/vehicles").status_code == 200


class TestPassphrase:
    @pytest.fixture
    def shut(self, make_store: Callable[[], Store]) -> TestClient:
        store = make_store()
        fill(store)
        return client_of(store, Settings(hosts=None, passphrase="heather and wire"))

    def test_nothing_is_shown_without_it(self, shut: TestClient) -> None:
        for path in ("/", "/vehicles", "/kits/rookery-4", "/fit/kestrin-fallow/rookery-4/guide.html"):
            found = shut.get(path, headers={"host": "bench.local"})
            assert (found.status_code, found.headers["location"]) == (303, "/enter")
        assert shut.post("/documents").status_code == 303

    def test_a_wrong_one_is_not_taken(self, shut: TestClient) -> None:
        found = _enter(shut, "heather")
        assert found.status_code == 403
        assert "That is not the passphrase." in found.text
        assert shut.get("/vehicles").status_code == 303

    def test_the_right_one_opens_it(self, shut: TestClient) -> None:
        found = _enter(shut, "heather and wire")
        assert found.status_code == 303
        cookie = found.headers["set-cookie"]
        assert "heather" not in cookie
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
        assert "domain=" not in cookie.lower()
        assert shut.get("/vehicles").status_code == 200

    def test_who_guesses_must_wait_and_is_not_let_in_meanwhile_even_with_the_right_one(self, shut: TestClient) -> None:
        assert [_enter(shut, f"guess {n}").status_code for n in range(5)] == [403] * 5
        found = _enter(shut, "heather and wire")
        assert found.status_code == 429
        assert re.search(r"Wait \d\d? seconds, then try again", found.text)
        assert shut.get("/vehicles").status_code == 303
        program = shut.get("/api/health", headers={"authorization": "Bearer heather and wire"})
        assert program.status_code == 429
        assert 0 < int(program.headers["retry-after"]) <= 60
        assert program.json()["code"] == "too-many-guesses"

    def test_a_word_made_up_from_the_passphrase_opens_nothing(self, shut: TestClient) -> None:
        key = hashlib.sha256(b"heather and wire").digest()
        for word in (
            hashlib.sha256(b"heather and wire").hexdigest(), "heather and wire", "",
            hmac.new(key, b"entered the workbench", hashlib.sha256).hexdigest(), Door("heather and wire").word(),
        ):  # fmt: skip
            shut.cookies.set("loomwright-entered", word)
            assert shut.get("/vehicles").status_code == 303
            assert shut.get("/api/jobs").status_code == 401
            shut.cookies.clear()

    def test_a_program_says_it_with_each_request(self, shut: TestClient) -> None:
        told = shut.get("/api/health")
        assert (told.status_code, told.headers["www-authenticate"]) == (401, "Bearer")
        assert told.json()["code"] == "passphrase-needed"
        for said in ("Bearer heather", "Basic aGVhdGhlcg==", "Bearer", "heather and wire"):
            assert shut.get("/api/jobs", headers={"authorization": said}).status_code == 401
        right = {"authorization": "Bearer heather and wire"}
        assert shut.get("/api/health", headers=right).status_code == 200
        assert shut.get("/vehicles", headers=right).status_code == 200
        assert shut.get("/api/health").status_code == 401


def _enter(client: TestClient, passphrase: str) -> Response:
    return client.post("/enter", data={"token": token_of(client, "/enter"), "passphrase": passphrase})


class TestDoor:
    def test_waiting_ends(self) -> None:
        now = [1000.0]
        door = Door("right", lambda: now[0])
        for n in range(5):
            assert door.says("a", b"wrong") == Said(let_in=False)
            now[0] += 1
            del n
        assert door.says("a", b"right") == Said(let_in=False, wait_s=56)
        assert door.says("b", b"right").let_in
        now[0] += 56
        assert door.says("a", b"right").let_in
        assert door.says("a", b"wrong") == Said(let_in=False)  # being let in ends the count

    def test_many_addresses_guess_no_faster_than_sixty_a_minute(self) -> None:
        now = [0.0]
        door = Door("right", lambda: now[0])
        judged = [door.says(str(n), b"wrong").wait_s for n in range(200)]
        assert judged.count(0) == 60
        assert not door.says("another", b"right").let_in
        now[0] += 61
        assert door.says("another", b"right").let_in

    def test_many_at_once_guess_no_more_often(self) -> None:
        door = Door("right", lambda: 0.0)
        with ThreadPoolExecutor(20) as pool:
            judged = list(pool.map(lambda n: door.says("a", f"wrong {n}".encode()), range(200)))
        assert sum(said.wait_s == 0 for said in judged) == 5

    def test_a_workbench_without_a_passphrase_is_open(self) -> None:
        door = Door(None)
        assert door.is_open
        assert door.knows("")
        assert Door("").knows("") is False
