"""Files brought in: kept where they are in order, refused with every fault where they are not."""

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.store.store import Store
from tests.web.conftest import token_of


def _bring(client: TestClient, name: str, data: bytes) -> tuple[int, str]:
    token = token_of(client, "/documents")
    found = client.post("/documents", data={"token": token}, files={"file": (name, data)})
    return found.status_code, found.text


def test_a_corrected_vehicle_becomes_its_newest_version(own: tuple[TestClient, Store]) -> None:
    client, store = own
    text = demo_files()["vehicles/kestrin-fallow.yaml"].replace("model: Fallow", "model: Fallow Two")
    assert _bring(client, "fallow.yaml", text.encode())[0] == 303
    assert store.latest("vehicle", "kestrin-fallow").version == 2
    assert "Kestrin Fallow Two" in client.get("/vehicles").text


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
    found = client.post("/documents", data={"token": token_of(client, "/documents")})
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
