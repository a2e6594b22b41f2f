"""Files brought in: kept where they are in order, refused with every fault where they are not."""

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.store.store import Store
from tests.web.conftest import token_of
from tests.web.hostile import seen


def _bring(client: TestClient, name: str, data: bytes) -> tuple[int, str]:
    token = token_of(client)
    found = client.post("/documents", data={"token": token}, files={"file": (name, data)})
    return found.status_code, found.text


def _confirm(client: TestClient, page: str) -> dict[str, list[str]]:
    return next(f for f in seen(page).forms if "data" in {one.name for one in f.fields}).filled()


def test_a_document_that_is_not_here_is_kept_at_once(own: tuple[TestClient, Store]) -> None:
    client, store = own
    text = demo_files()["kits/dunlin-7.yaml"].replace("dunlin-7", "dunlin-8")
    assert _bring(client, "d.yaml", b"\xef\xbb\xbf" + text.encode())[0] == 303
    assert store.latest("kit", "dunlin-8").text == text


def test_a_corrected_vehicle_becomes_its_newest_version_once_that_was_confirmed(own: tuple[TestClient, Store]) -> None:
    client, store = own
    text = demo_files()["vehicles/kestrin-fallow.yaml"].replace("model: Fallow", "model: Fallow Two")
    status, page = _bring(client, "fallow.yaml", text.encode())
    assert (status, "Fallow became Fallow Two" in page) == (200, True)
    assert store.latest("vehicle", "kestrin-fallow").version == 1
    assert client.post("/documents", data=_confirm(client, page) | {"do": ["version"]}).status_code == 303
    assert store.latest("vehicle", "kestrin-fallow").version == 2
    assert store.latest("vehicle", "kestrin-fallow").text == text
    assert "Kestrin Fallow Two" in client.get("/vehicles").text


def test_what_a_colleague_saved_is_not_superseded_by_a_file_unseen(own: tuple[TestClient, Store]) -> None:
    client, store = own
    base = store.latest("vehicle", "kestrin-fallow")
    text = base.text.replace("model: Fallow", "model: Fallow Two").replace("\n", "\r\n")
    _, page = _bring(client, "fallow.yaml", text.encode())
    theirs = base.text.replace("maker: Kestrin", "maker: Kestrin Works", 1)
    store.save("vehicle", "kestrin-fallow", theirs, by=base.by, base=base)
    told = client.post("/documents", data=_confirm(client, page) | {"do": ["version"]})
    assert (told.status_code, store.latest("vehicle", "kestrin-fallow").text) == (409, theirs)
    assert "R. Bench saved another version" in told.text
    assert "Kestrin Works became Kestrin" in told.text
    copied = client.post("/documents", data=_confirm(client, told.text) | {"do": ["copy"]})
    assert copied.headers["location"] == "/vehicles/kestrin-fallow-copy/edit?copy-of=kestrin-fallow"
    assert store.latest("vehicle", "kestrin-fallow").text == theirs
    assert "model: Fallow Two (copy)" in store.latest("vehicle", "kestrin-fallow-copy").text


def test_a_file_that_says_nothing_new(own: tuple[TestClient, Store]) -> None:
    client, store = own
    text = store.latest("shop", "pennywick").text
    status, page = _bring(client, "shop.yaml", text.encode())
    assert (status, "says exactly what is kept" in page, 'name="do"' in page) == (200, True, False)
    _, page = _bring(client, "shop.yaml", f"# looked through\n{text}".encode())
    assert "Only its comments or the way it is written differ" in page
    assert "copy" not in _confirm(client, page)
    # A shop has no copy, and a form that is not whole keeps nothing.
    assert client.post("/documents", data=_confirm(client, page) | {"do": ["copy"]}).status_code == 200
    assert client.post("/documents", data=_confirm(client, page) | {"data": ["%%%"]}).status_code == 400
    assert [entry.version for entry in store.list("shop")] == [1]


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("photo.jpg", b"\xff\xd8\xff\xe0\x00\x10JFIF", "photo.jpg"),
        ("zip.yaml", b"PK\x03\x04" + b"\x00" * 200, "zip.yaml"),
        ("odd.yaml", b"format: 1\nkind: boat\nid: a\n", "expected"),
        ("bomb.yaml", b"a: &a [x,x]\nb: &b [*a,*a]\n", "bomb.yaml"),
        ("list.yaml", b"- 1\n- 2\n", "list.yaml"),
        ("../../etc/passwd", b"kind: kit\n", "passwd"),
        ("<script>alert(1)</script>.yaml", b"kind: kit\n", "script&gt;.yaml"),
        ("s.yaml", b"kind: '<script>alert(1)</script>'\n", "s.yaml"),
    ],
)  # fmt: skip
def test_a_file_that_is_none_is_refused_with_its_faults(
    own: tuple[TestClient, Store], name: str, data: bytes, words: str
) -> None:
    client, store = own
    before = store.recent(limit=1)[0].number
    status, text = _bring(client, name, data)
    assert status == 422
    assert words in text
    assert "<script>alert" not in text
    assert "/etc/" not in text
    assert store.recent(limit=1)[0].number == before


def test_no_file_at_all(own: tuple[TestClient, Store]) -> None:
    client, _ = own
    found = client.post("/documents", data={"token": token_of(client)})
    assert (found.status_code, "No file came with the form." in found.text) == (400, True)


def test_a_document_that_is_kept_but_not_in_order_is_told_everywhere(own: tuple[TestClient, Store]) -> None:
    client, store = own
    base = store.latest("vehicle", "kestrin-fallow")
    broken = base.text.replace("kind: vehicle", "kind: vehicle\nwheels: 4", 1)
    store.save("vehicle", "kestrin-fallow", broken, by=base.by, base=base)
    for path in ("/vehicles/kestrin-fallow", "/documents"):
        assert "wheels" in client.get(path).text
    page = client.get("/fit/kestrin-fallow/rookery-4")
    assert (page.status_code, "wheels" in page.text) == (422, True)


def test_hostile_words_in_every_field_are_only_words(own: tuple[TestClient, Store]) -> None:
    client, store = own
    text = demo_files()["vehicles/kestrin-fallow.yaml"]
    evil = "<script>alert(1)</script>\\\"'&"
    for key in ("maker", "model", "name", "look", "words", "note", "ask", "cue", "opening", "stripe"):
        first = next((line for line in text.splitlines() if line.strip().removeprefix("- ").startswith(f"{key}: ")), "")
        if first:
            text = text.replace(first, first.partition(":")[0] + f': "{evil}"', 1)
    base = store.latest("vehicle", "kestrin-fallow")
    store.save("vehicle", "kestrin-fallow", text, by=store.add_person(evil).id, base=base)
    for path in ("/", "/vehicles", "/vehicles/kestrin-fallow", "/fit/kestrin-fallow/rookery-4", "/documents", "/fit"):
        page = client.get(path)
        assert page.status_code in (200, 422), path
        assert "<script>alert" not in page.text, path
    assert client.get("/vehicles/kestrin-fallow").text.count("&lt;script&gt;") > 3
