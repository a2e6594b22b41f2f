"""Requests that nobody sends on purpose, or only one who means harm: refused in words, quickly, and nothing is lost."""

import io
import json
import re
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.store.store import Store
from loomwright.web.api.table import API
from loomwright.web.routes import ROUTES
from loomwright.web.settings import Settings
from tests.web.conftest import CAR, FIT, client_of, token_of
from tests.web.hostile import poisoned

_POSTS = sorted(pattern for pattern, by_method in ROUTES.items() if "POST" in by_method)
_GETS = sorted(pattern for pattern, by_method in ROUTES.items() if "GET" in by_method)
_PROMPTLY_S = 60.0  # of the processor; it takes a second, and many minutes where it is not bounded


def _path(pattern: str, word: str | None = None) -> str:
    """Fill the words of a pattern with what is there, or all of them with one word."""
    real = {"vehicle": "kestrin-fallow", "kit": "rookery-4", "sheet": "guide.html", "circuit": "ignition-1"}
    return re.sub(r"{(\w+)(?::path)?}", lambda found: word if word is not None else real.get(found[1], "1"), pattern)


@contextmanager
def _promptly() -> Iterator[None]:
    begun = time.process_time()
    yield
    assert time.process_time() - begun < _PROMPTLY_S


def _bring(client: TestClient, name: str, data: bytes) -> tuple[int, str]:
    token = token_of(client)
    found = client.post("/documents", data={"token": token}, files={"file": (name, data)})
    return found.status_code, found.text


# Who asks ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("pattern", _POSTS)
def test_a_form_that_another_site_sends_is_refused(demo: TestClient, demo_store: Store, pattern: str) -> None:
    token = token_of(demo)
    before = demo_store.recent(limit=1)
    for data, headers in (
        ({}, {}),
        ({"token": ""}, {}),
        ({"token": "0" * 32}, {}),
        ({"token": token}, {"origin": "https://evil.example"}),
        ({"token": token}, {"origin": "null"}),
        ({"token": token}, {"origin": "http://127.0.0.1:1"}),
        ({"token": token}, {"sec-fetch-site": "cross-site"}),
        ({"token": token}, {"sec-fetch-site": "same-site"}),
    ):  # fmt: skip
        found = demo.post(_path(pattern), data=data, headers=headers)
        assert (found.status_code, "did not come from a page of this workbench" in found.text) == (403, True)
    found = demo.post(_path(pattern), content=f"token={token}", headers={"content-type": "text/plain"})
    assert found.status_code == 403
    assert demo_store.recent(limit=1) == before


@pytest.mark.parametrize("pattern", [*_GETS, *(route.path for route in API)])
def test_under_another_name_nothing_is_shown(demo: TestClient, pattern: str) -> None:
    for host in ("evil.example", "127.0.0.1@evil.example", "127.0.0.1.evil.example:80", "localhost.", "[::1", "::1"):
        found = demo.get(_path(pattern), headers={"host": host})
        assert found.status_code == 421, host
        assert "location" not in found.headers
        assert host not in found.text


def test_what_is_too_large_is_refused_by_every_form(demo_store: Store) -> None:
    client = client_of(demo_store, Settings(largest_upload=3000, largest_archive=3000))
    token = token_of(client)
    files = {"file": ("a.yaml", b"x" * 4000)}

    def parts() -> Iterator[bytes]:
        yield from [b"x" * 1000] * 4

    form = {"content-type": "application/x-www-form-urlencoded"}
    for pattern in _POSTS:
        assert client.post(_path(pattern), data={"token": token}, files=files).status_code == 413, pattern
        assert client.post(_path(pattern), content=parts(), headers=form).status_code == 413, pattern
        for length in ("4000", "1e9", "-1", "9" * 30, "²"):
            headers = [(b"content-length", length.encode()), (b"content-type", form["content-type"].encode())]
            assert client.post(_path(pattern), content=b"", headers=headers).status_code == 413, (pattern, length)


# What the address says ---------------------------------------------------------------------------------------------

_WORDS = {
    "line ends": "a%0d%0ax-evil:%201%0d%0a%0d%0a<b>", "zero byte": "a%00b", "up": "..%2f..%2f..%2fetc%2fpasswd",
    "up again": "%2e%2e", "backslashes": "..%5c..%5cboot", "turned": "a%e2%80%aeb", "no text": "%ff%fe",
    "long": "x" * 8000, "percent": "%25%30%30", "template": "{{7*7}}${7*7}", "quotes": "'\"`;--",
    "sign": "%F0%9F%94%A7",
}  # fmt: skip


@pytest.mark.parametrize("pattern", [*_GETS, *(route.path for route in API if route.method == "GET")])
def test_whatever_stands_in_an_address_is_only_a_word(demo: TestClient, pattern: str) -> None:
    for what, word in _WORDS.items():
        query = f"q={word}&at={word}&after={word}&car.year={word}&{word}={word}"
        for path in (_path(pattern, word), f"{_path(pattern)}?{query}"):
            found = demo.get(path)
            assert found.status_code < 500, what
            assert "x-evil" not in found.headers, what
            for name, value in found.headers.multi_items():
                assert value.isprintable(), (what, name)
            assert "root:x:" not in found.text, what
            assert "\0" not in found.text, what
            assert "\u202e" not in found.text, what


def test_a_cookie_is_only_a_word(demo_store: Store) -> None:
    for word in ("'\"<script>", "x" * 10_000, "p-nobody", "\xff"):
        client = client_of(demo_store)
        headers = [(b"cookie", f"loomwright-who={word}; loomwright-token={word}".encode("latin-1"))]
        found = client.get("/vehicles/kestrin-fallow", headers=headers)
        assert found.status_code == 200
        assert word not in found.text
        assert re.search(r"loomwright-token=[0-9a-f]{32};", found.headers["set-cookie"])


# What is sent ------------------------------------------------------------------------------------------------------


def test_long_turned_and_unseen_words_in_a_form(own: tuple[TestClient, Store]) -> None:
    client, store = own
    car = dict(pair.split("=") for pair in CAR.split("&"))
    token = token_of(client)
    sent = {"token": token, "vehicle": "kestrin-fallow", "kit": "rookery-4", **car}
    made = client.post("/jobs", data={**sent, "buyer": "A\0\u202eB\x1b[2J", "note": "n\0\u2066\n" * 50})
    job = made.headers["location"]
    page = client.get(job).text
    assert "AB[2J" in page
    assert re.search("[\0\u202e\u2066\x1b]", page) is None
    assert client.get("/documents").status_code == 200
    before = store.recent(limit=1)
    for name, value in (("buyer", "x" * 1_000_000), ("vehicle", "y" * 1_000_000), ("car.year", "z" * 1_000_000)):
        with _promptly():
            found = client.post("/jobs", data={**sent, name: value})
        if name != "car.year":  # a word that no car has: the nearest car is meant
            assert found.status_code in {400, 404, 409, 422}, name
            assert store.recent(limit=1) == before
        assert len(found.text) < 50_000


def test_thousands_of_fields_and_broken_forms(demo: TestClient) -> None:
    token = token_of(demo)
    fields = "&".join(f"f{n}=1" for n in range(5000))
    form = {"content-type": "application/x-www-form-urlencoded"}
    with _promptly():
        assert demo.post("/jobs", content=f"token={token}&{fields}", headers=form).status_code in {400, 403}
    for kind, content in (
        ("multipart/form-data", b"--x\r\n"),
        ("multipart/form-data; boundary=x", b"--x\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\n"),
        ("multipart/form-data; boundary=x", b"\xff" * 5000),
        ("application/x-www-form-urlencoded; charset=utf-7", b"+ADw-script+AD4-=1"),
    ):
        found = demo.post("/documents", content=content, headers={"content-type": kind})
        assert found.status_code in {400, 403}, kind
        assert "<script" not in found.text.replace("<script src=", "")


def _zip(name: str, data: bytes) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, data)
    return packed.getvalue()


_LAUGHS = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12)
)


@pytest.mark.parametrize(
    ("what", "data"),
    [
        ("references that grow", f"format: 1\nkind: kit\nid: a\n{_LAUGHS}".encode()),
        ("a reference to itself", b"format: 1\nkind: kit\nid: a\nname: &a [*a]\n"),
        ("merge keys", b"format: 1\nkind: kit\nid: a\nx: &x {a: 1}\ny:\n  <<: *x\n"),
        ("a program", b"!!python/object/apply:os.system ['true']\n"),
        ("a tag in a value", b"format: 1\nkind: kit\nid: !!python/name:os.system a\n"),
        ("brackets", b"a: " + b"[" * 200_000),
        ("braces", b"{a: " * 100_000),
        ("dashes", b"- " * 200_000),
        ("indentation", b"".join(b" " * n + b"a:\n" for n in range(1500))),
        ("keys", b"format: 1\nkind: kit\nid: a\n" + b"".join(b"k%d: 1\n" % n for n in range(30_000))),
        ("a long key", b"?" * 300_000 + b": 1\n"),
        ("a long number", b"format: 1\nkind: kit\nid: a\nname: " + b"9" * 500_000),
        ("many documents", b"---\na: 1\n" * 50_000),
        ("a zip of zeros", _zip("kit.yaml", b"\0" * 60_000_000)),
        ("a zip of names that lead up", _zip("../../kit.yaml", b"kind: kit\n")),
        ("a zero byte in quotes", b'format: 1\nkind: shop\nid: a\nname: "a\\0b"\ncall: c\n'),
        ("turned words", "format: 1\nkind: shop\nid: a\nname: a\u202eb\ncall: c\n".encode()),
        ("UTF-16", "format: 1\nkind: shop\nid: a\nname: a\ncall: c\n".encode("utf-16")),
        ("a long text", b"format: 1\nkind: shop\nid: a\nname: " + b"x" * 3_000_000),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_file_that_means_harm_is_refused_promptly(
    demo: TestClient, demo_store: Store, what: str, data: bytes
) -> None:
    client, store = demo, demo_store  # which stays as it is, as the last lines see
    before = store.recent(limit=1)
    with _promptly():
        status, text = _bring(client, "../../a\r\nx: y.yaml", data)
    assert status == 422, what
    assert len(text) < 200_000
    assert "Traceback" not in text
    assert store.recent(limit=1) == before
    base = store.latest("shop", before[0].id).number if before[0].kind == "shop" else None
    sent = {"text": data.decode("utf-8", "replace")[:1_900_000], "base": base}
    with _promptly():
        found = client.put("/api/documents/kit/a", json=sent)
    assert found.status_code in {404, 422}, what
    assert store.recent(limit=1) == before


def _with_pins(count: int) -> bytes:
    text = demo_files()["vehicles/kestrin-fallow.yaml"].replace("id: kestrin-fallow\n", "id: many-pins\n", 1)
    rows = json.dumps([list(range(n, n + 50)) for n in range(1, count + 1, 50)])
    plug = (
        "  - id: huge\n    name: huge plug\n    housing: huge\n"
        f"    face: {{rows: {rows}, drawn_from: mating, latch: top}}\n"
        "    look: Huge.\n    place: column\n    seen_side: wire\n    seen_turn: 0\n    opening: Pull.\n"
    )
    return text.replace("plugs:\n", f"plugs:\n{plug}", 1).encode()


def test_ten_thousand_pins_are_shown_or_refused_promptly(own: tuple[TestClient, Store]) -> None:
    client, store = own
    with _promptly():
        status, text = _bring(client, "many.yaml", _with_pins(10_000))
    assert status == 422
    assert "found a list of 200, expected a list of at most 12" in text
    assert not store.has("vehicle", "many-pins")
    assert _bring(client, "many.yaml", _with_pins(200))[0] == 303
    with _promptly():
        assert client.get("/vehicles/many-pins").status_code == 200


def test_very_long_names_are_shown_promptly(own: tuple[TestClient, Store]) -> None:
    client, store = own
    base = store.latest("vehicle", "kestrin-fallow")
    texts = poisoned(("vehicles/kestrin-fallow.yaml", "evidence/kestrin-fallow.yaml"), "W" * 2000)
    store.save("vehicle", base.id, texts["vehicles/kestrin-fallow.yaml"], by=base.by, base=base)
    for path in ("/vehicles", "/vehicles/kestrin-fallow", f"{FIT}?{CAR}", "/order/kestrin-fallow/rookery-4", "/"):
        with _promptly():
            assert client.get(path).status_code == 200, path


def test_what_was_there_is_there_after_all_of_it(make_store: Callable[[], Store]) -> None:
    store = make_store()
    client = client_of(store)
    assert client.post("/begin", data={"token": token_of(client, "/begin"), "choice": "demo", "name": "B"}).is_redirect
    kept = _kept(store)
    for pattern in _POSTS:
        for content, kind in ((b"\xff" * 999, "application/x-www-form-urlencoded"), (b"{}", "application/json")):
            assert client.post(_path(pattern), content=content, headers={"content-type": kind}).status_code < 500
    assert _kept(store) == kept


def _kept(store: Store) -> dict[tuple[str, str], str]:
    kinds = ("vehicle", "kit", "shop", "evidence")
    return {(entry.kind, entry.id): entry.sha256 for kind in kinds for entry in store.list(kind)}
