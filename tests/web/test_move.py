"""A whole shop taken out of one workbench and into another by the browser, and what is refused on the way."""

import io
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loomwright.store.store import Store
from loomwright.web.settings import Settings
from tests.web.conftest import client_of, token_of

_TYPE = "application/zip"


def _taken_out(client: TestClient) -> bytes:
    answer = client.post("/settings/export", data={"token": token_of(client)})
    assert (answer.status_code, answer.headers["content-type"]) == (200, _TYPE)
    assert answer.headers["content-disposition"] == 'attachment; filename="shop-2026-03-02.zip"'
    assert int(answer.headers["content-length"]) == len(answer.content)
    assert "content-encoding" not in answer.headers
    return answer.content


def _take_in(client: TestClient, data: bytes, name: str = "shop.zip", page: str = "/settings") -> tuple[int, str]:
    answer = client.post(
        "/settings/import", data={"token": token_of(client, page)}, files={"file": (name, data, _TYPE)}
    )
    return answer.status_code, " ".join(answer.text.split())


def _archive(name: str, content: bytes, mode: int = stat.S_IFREG | 0o600) -> bytes:
    info = zipfile.ZipInfo(name)
    info.external_attr, info.compress_type = mode << 16, zipfile.ZIP_DEFLATED
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr(info, content)
    return out.getvalue()


def test_a_shop_moves_with_its_history_and_gives_the_same_archive_again(
    own: tuple[TestClient, Store], make_store: Callable[[], Store]
) -> None:
    client, store = own
    store.add_person("Wren Alder", address="1 Example Way")
    data = _taken_out(client)
    assert not [path for path in Path(store.database.name + ".kept").iterdir() if path.is_file()]
    other = make_store()
    moved = client_of(other)
    status, said = _take_in(moved, data, page="/begin")
    assert status == 200
    assert f"so the whole history came: {store.last_number()} revisions" in said
    assert other.last_number() == store.last_number()
    assert [person.name for person in other.people()] == [person.name for person in store.people()]
    assert _taken_out(moved) == data
    status, said = _take_in(moved, data)
    assert (status, f"0 documents saved, {store.last_number()} unchanged, 0 conflicts." in said) == (200, True)


def test_what_was_changed_here_and_there_stays_and_is_linked(own: tuple[TestClient, Store]) -> None:
    client, store = own
    names = {"vehicles/kestrin-fallow.yaml": "vehicle", "evidence/kestrin-fallow-evidence.yaml": "evidence"}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, kind in names.items():
            id = name.rpartition("/")[2].removesuffix(".yaml")
            archive.writestr(name, f"{store.latest(kind, id).text}# from elsewhere\n")
        archive.writestr("kits/new.yaml", store.latest("kit", "rookery-4").text.replace("id: rookery-4", "id: new", 1))
    before = store.last_number()
    status, said = _take_in(client, out.getvalue())
    assert status == 200
    assert "1 document saved, 0 unchanged, 2 conflicts." in said
    assert '<a href="/vehicles/kestrin-fallow">vehicle kestrin-fallow</a>' in said
    assert '<a href="/vehicles/kestrin-fallow">evidence kestrin-fallow-evidence</a>' in said
    assert store.last_number() == before + 1
    assert store.person(store.latest("kit", "new").by).name == "R. Bench"


@pytest.mark.parametrize(
    ("data", "status", "said"),
    [
        (b"no archive", 422, "shop.zip: found nothing that can be read (file is not a zip file), expected an export"),
        (_archive("kits/a.yaml", bytes(30_000_000)), 422, "found 30 MB packed into 0.0 MB, expected at most 200 times"),
        (_archive("../a.yaml", b"a: 1\n"), 422, "shop.zip: ../a.yaml: found a name that may lead elsewhere"),
        (_archive("kits/a.yaml", b"/etc", stat.S_IFLNK | 0o777), 422, "kits/a.yaml: found a link, expected plain file"),
        (_archive("notes.txt", b"x"), 422, "shop.zip: notes.txt: found a file that is no part of a shop"),
        (_archive("kits/a.yaml", b"a: [\n"), 422, "shop.zip/kits/a.yaml:"),
        (b"", 422, "shop.zip: found nothing that can be read"),
    ],
    ids=["no archive", "bomb", "path", "link", "other file", "no document", "empty"],
)
def test_what_is_no_export_is_told_and_nothing_is_taken(
    own: tuple[TestClient, Store], data: bytes, status: int, said: str
) -> None:
    client, store = own
    before = store.last_number()
    answered, text = _take_in(client, data)
    assert (answered, said in text) == (status, True), text
    assert "<h1>" in text
    assert "Traceback" not in text
    assert store.last_number() == before


def test_a_form_that_is_not_whole_is_told(own: tuple[TestClient, Store]) -> None:
    client, store = own
    token, before = token_of(client), store.last_number()
    assert "Found no file" in client.post("/settings/import", data={"token": token}).text
    files = {"file": ("shop.zip", _archive("kits/a.yaml", b"id: a\n"), _TYPE)}
    assert client.post("/settings/import", files=files).status_code == 403
    assert client.post("/settings/export").status_code == 403
    assert store.last_number() == before


def test_only_this_form_takes_what_is_larger_than_other_uploads(make_store: Callable[[], Store]) -> None:
    client = client_of(make_store(), Settings(largest_upload=2_000, largest_archive=20_000))
    assert _take_in(client, bytes(10_000), page="/begin")[0] == 422
    status, said = _take_in(client, bytes(20_001), page="/begin")
    assert (status, "expected at most 0.02 MB. Bring it in with the command" in said) == (413, True)
    assert client.post("/begin", data={"token": token_of(client, "/begin"), "shop": "x" * 3_000}).status_code == 413
