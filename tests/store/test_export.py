"""An export holds everything, comes back as it was, and what comes in from outside is looked at with suspicion."""

import io
import json
import shutil
import stat
import zipfile
from collections.abc import Callable, Iterator
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from loomwright.errors import DocumentError, StoreError
from loomwright.store.files_in import Limits, opened_archive, opened_folder
from loomwright.store.store import Clock, Store, open_store
from loomwright.store.values import Attachment
from tests.store.conftest import Ticking
from tests.store.test_backup import state

PHOTO = Attachment(name="plug.jpg", media_type="image/jpeg", data=bytes(range(256)))


@pytest.fixture
def filled(store: Store, by: str) -> Store:
    first = store.save("vehicle", "fallow", "id: fallow\nnote: one\n", by=by, attach=[PHOTO])
    store.save("vehicle", "fallow", "id: fallow\nnote: two\r\n# ünïcode\n", by=by, base=first)
    store.undo("vehicle", "fallow", by=by)
    store.save("shop", "bench", "id: bench\n", by=by)
    gone = store.save("kit", "rook", "note: three\n", by=by)
    store.remove("kit", "rook", by=by, base=gone)
    serial = store.new_serial(by=by)
    store.save("job", serial, "note: four\n", by=by)
    store.record("issue", serial, "note: five\n", by=by, attach=[PHOTO])
    store.erase(store.add_person("Ash Bramble").id, by=by)
    return store


@pytest.fixture
def empty(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    with open_store(tmp_path / "other.db", clock=clock) as opened:
        yield opened


def tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_tree_is_one_that_people_can_read(filled: Store, tmp_path: Path) -> None:
    count = filled.export_folder(tmp_path / "out")
    found = tree(tmp_path / "out")
    assert len(found) == count
    assert {name for name in found if "texts/" not in name and "attachments/" not in name} == {
        "shop.yaml", "vehicles/fallow.yaml", "records/jobs/2026-0001.yaml", "records/issues/2026-0001.1.yaml",
        "records/format.json", "records/history.jsonl", "records/people.jsonl", "records/erasures.jsonl",
        "records/serials.jsonl",
    }  # fmt: skip
    assert found["vehicles/fallow.yaml"] == b"id: fallow\nnote: one\n"
    assert len(found["records/history.jsonl"].splitlines()) == 8
    assert b"Bramble" not in b"".join(found.values())


@pytest.mark.parametrize("form", ["folder", "archive"])
def test_an_export_comes_back_as_it_was(filled: Store, empty: Store, tmp_path: Path, form: str) -> None:
    by = filled.people()[0].id
    if form == "folder":
        filled.export_folder(tmp_path / "out")
        result = empty.import_folder(tmp_path / "out", by=by)
    else:
        filled.export_archive(tmp_path / "out.zip")
        result = empty.import_archive(tmp_path / "out.zip", by=by)
    assert (result.history, result.saved, result.conflicts) == (8, (), ())
    assert state(empty) == state(filled)
    assert [hit.entry.id for hit in empty.search("one")] == ["fallow"]
    assert empty.undo("kit", "rook", by=by).text == "note: three\n"


_TEXT = st.text(
    st.characters(exclude_categories=["Cs", "Cc"], exclude_characters="\u2028\u2029\ufeff\ufffe\uffff"), max_size=30
)
_STEP = st.tuples(
    st.sampled_from(["save", "save", "save", "undo", "remove", "record", "person", "erase"]),
    st.sampled_from(["vehicle", "kit", "shop", "evidence", "job"]),
    st.sampled_from(["a", "b-1", "c.2"]),
    _TEXT,
    st.binary(max_size=20),
    st.sampled_from(["\n", "\r\n"]),
)


def _do(store: Store, steps: list[tuple[str, str, str, str, bytes, str]]) -> str:
    by = store.add_person("Wren").id
    for what, kind, id, words, data, end in steps:
        latest = store.latest(kind, id) if store.has(kind, id) else None
        content = f"id: {id}{end}# {words}{end}note: {json.dumps(words, ensure_ascii=False)}{end}"
        photo = [Attachment(name="a.bin", media_type="application/octet-stream", data=data)] if data else []
        if what == "save":
            store.save(kind, id, content, by=by, base=latest, attach=photo)
        elif what == "undo" and len(store.revisions(kind, id)) > 1:
            store.undo(kind, id, by=by)
        elif what == "remove" and latest is not None:
            store.remove(kind, id, by=by, base=latest)
        elif what == "record" and store.has("job", id):
            store.record("reading", id, f"note: {json.dumps(words, ensure_ascii=False)}\n", by=by, attach=photo)
        elif what == "person":
            store.add_person(words, note=words)
        elif what == "erase" and len(store.people()) > 1:
            store.erase(next(one.id for one in store.people() if one.id != by), by=by)
    return by


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(steps=st.lists(_STEP, max_size=15))
def test_whatever_was_done_the_round_trip_loses_nothing(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str, str, str, bytes, str]]
) -> None:
    folder = tmp_path_factory.mktemp("round")
    with open_store(folder / "a.db", clock=Ticking()) as first, open_store(folder / "b.db") as second:
        by = _do(first, steps)
        first.export_folder(folder / "one")
        first.export_archive(folder / "one.zip")
        second.import_archive(folder / "one.zip", by=by)
        second.export_folder(folder / "two")
        second.export_archive(folder / "two.zip")
        assert tree(folder / "one") == tree(folder / "two")
        assert (folder / "one.zip").read_bytes() == (folder / "two.zip").read_bytes()
        assert state(first) == state(second)
        assert second.import_folder(folder / "one", by=by).saved == ()
        assert state(first) == state(second)
    shutil.rmtree(folder)


def test_a_plain_folder_of_documents_is_taken_in(store: Store, by: str) -> None:
    with as_file(files("loomwright") / "demo_shop") as folder:
        result = store.import_folder(folder, by=by)
        again = store.import_folder(folder, by=by)
    assert len(result.saved) == len(again_kinds := [one.kind for one in result.saved]) == again.unchanged > 20
    assert set(again_kinds) == {"vehicle", "kit", "shop", "evidence"}
    assert (again.saved, again.conflicts) == ((), ())


def test_a_file_that_was_edited_becomes_a_new_revision(filled: Store, tmp_path: Path) -> None:
    by = filled.people()[0].id
    filled.export_folder(tmp_path / "out")
    (tmp_path / "out" / "vehicles" / "fallow.yaml").write_text("id: fallow\nnote: by hand\n", encoding="utf-8")
    result = filled.import_folder(tmp_path / "out", by=by)
    assert [(one.id, one.version, one.text) for one in result.saved] == [("fallow", 4, "id: fallow\nnote: by hand\n")]
    assert [one.name for one in filled.attachments(result.saved[0])] == ["plug.jpg"]


# Pictures beside documents


def _picture(kind: str, red: int, **more: Any) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 20), (red, 90, 90)).save(out, kind, **more)
    return out.getvalue()


def _jpeg(content: bytes) -> bytes:
    return _picture("JPEG", sum(content) % 256)


_PLAIN_PNG = _picture("PNG", 1)


_PHOTO_OF = "photo: {{file: {}, shows: It.}}\n".format


def _pictures(store: Store, kind: str, id: str) -> dict[str, bytes]:
    return {one.name: store.bytes_of(one) for one in store.attachments(store.latest(kind, id))}


def test_a_folder_made_by_hand_brings_its_pictures_and_an_export_has_them_beside_again(
    store: Store, by: str, empty: Store, tmp_path: Path
) -> None:
    folder = tmp_path / "in"
    text = "id: fallow\n" + _PHOTO_OF("photos/car.jpg") + "plugs: [{id: a, photo: {file: plug 1.PNG, shows: It.}}]\n"
    made = {
        "vehicles/fallow.yaml": text.encode(), "vehicles/photos/car.jpg": _jpeg(b"car"),
        "vehicles/plug 1.PNG": _PLAIN_PNG, "kits/rook.yaml": _PHOTO_OF("car.jpg").encode(),
        "kits/car.jpg": _jpeg(b"kit"),
    }  # fmt: skip
    for name, content in made.items():
        _add(name, content)(folder)
    assert len(store.import_folder(folder, by=by).saved) == 2
    assert _pictures(store, "vehicle", "fallow") == {
        "photos/car.jpg": _jpeg(b"car"), "plug 1.PNG": _PLAIN_PNG,
    }  # fmt: skip
    assert _pictures(store, "kit", "rook") == {"car.jpg": _jpeg(b"kit")}
    assert store.import_folder(folder, by=by).saved == ()
    store.export_folder(tmp_path / "out")
    store.export_archive(tmp_path / "out.zip")
    assert {name: content for name, content in tree(tmp_path / "out").items() if "records/" not in name} == made
    result = empty.import_archive(tmp_path / "out.zip", by=by)
    assert (result.saved, state(empty)) == ((), state(store))


def test_what_a_camera_wrote_into_a_picture_beside_a_document_stays_out_and_of_a_history_nothing_is_changed(
    store: Store, by: str, empty: Store, tmp_path: Path
) -> None:
    exif = Image.Exif()
    # Source: Exif 2.32, attributes of IFD0: 0x010F is the maker, 0x0112 the orientation, where 6 lies on its side.
    exif[0x010F], exif[0x0112] = "a maker of cameras", 6
    text = PngInfo()
    text.add_text("Author", "a maker of cameras")
    made = {"car.jpg": _picture("JPEG", 200, exif=exif), "plug.png": _picture("PNG", 200, pnginfo=text)}
    document = _PHOTO_OF("car.jpg") + "plug: {photo: {file: plug.png, shows: It.}}\n"
    _add("vehicles/fallow.yaml", document.encode())(tmp_path / "in")
    for name, content in made.items():
        assert b"a maker of cameras" in content
        _add(f"vehicles/{name}", content)(tmp_path / "in")
    store.import_folder(tmp_path / "in", by=by)
    kept = _pictures(store, "vehicle", "fallow")
    assert kept.keys() == made.keys()
    assert b"a maker of cameras" not in b"".join(kept.values())
    assert [Image.open(io.BytesIO(data)).size for data in kept.values()] == [(20, 40), (40, 20)]
    assert [Image.open(io.BytesIO(data)).format for data in kept.values()] == ["JPEG", "PNG"]
    # The same folder again, and what was kept as it came before, change nothing.
    assert store.import_folder(tmp_path / "in", by=by).saved == ()
    pictures = [Attachment(name=name, media_type="image/jpeg", data=data) for name, data in made.items()]
    store.save("kit", "rook", _PHOTO_OF("car.jpg"), by=by, attach=pictures[:1])
    store.export_folder(tmp_path / "out")
    empty.import_folder(tmp_path / "out", by=by)
    assert _pictures(empty, "kit", "rook") == {"car.jpg": made["car.jpg"]}
    assert state(empty) == state(store)


def test_a_picture_put_beside_an_exported_document_is_taken_and_another_one_is_a_conflict(
    store: Store, by: str, empty: Store, tmp_path: Path
) -> None:
    first = _jpeg(b"first")
    store.save("kit", "rook", _PHOTO_OF("box.jpg"), by=by)
    store.export_folder(tmp_path / "out")
    empty.import_folder(tmp_path / "out", by=by)
    _add("kits/box.jpg", first)(tmp_path / "out")
    assert [one.version for one in empty.import_folder(tmp_path / "out", by=by).saved] == [2]
    assert _pictures(empty, "kit", "rook") == {"box.jpg": first}
    assert empty.import_folder(tmp_path / "out", by=by).saved == ()
    # An export that is up to date has its pictures changed by hand; of a plain folder nobody knows what it was made of.
    for made in ("new", "plain"):
        if made == "new":
            empty.export_folder(tmp_path / made)
        else:
            _add("kits/rook.yaml", _PHOTO_OF("box.jpg").encode())(tmp_path / made)
        _add("kits/box.jpg", _jpeg(made.encode()))(tmp_path / made)
        result = empty.import_folder(tmp_path / made, by=by)
        assert (len(result.saved), len(result.conflicts)) == ((1, 0) if made == "new" else (0, 1))
    assert _pictures(empty, "kit", "rook") == {"box.jpg": _jpeg(b"new")}


def test_two_documents_that_call_two_pictures_by_one_name_never_show_each_others(
    store: Store, by: str, empty: Store, tmp_path: Path
) -> None:
    for id in ("one", "two"):
        picture = Attachment(name="Plug.jpg" if id == "one" else "plug.jpg", media_type="image/jpeg", data=id.encode())
        store.save("kit", id, _PHOTO_OF(picture.name), by=by, attach=[picture])
    store.export_folder(tmp_path / "out")
    assert {name for name in tree(tmp_path / "out") if name.startswith("kits/")} == {"kits/one.yaml", "kits/two.yaml"}
    empty.import_folder(tmp_path / "out", by=by)
    assert state(empty) == state(store)


def test_what_is_no_picture_of_a_document_is_refused(store: Store, by: str, tmp_path: Path) -> None:
    for n, (name, content, message) in enumerate((
        ("kits/left.jpg", _jpeg(b"x"), r"kits/left.jpg: found a picture that no document in its folder names, exp"),
        ("vehicles/box.jpg", _jpeg(b"x"), r"vehicles/box.jpg: found a picture that no document in its folder names"),
        ("kits/box.jpg", b"<svg>", r"kits/box.jpg: found no picture, expected jpeg as its name says; save it as one"),
        ("kits/box.jpg", b"\xff\xd8\xff\xe0", r"box.jpg of kit rook: found a file that is no whole picture, exp"),
        ("box.jpg", _jpeg(b"x"), r"box.jpg: found a file that is no part of a shop"),
        ("kits/a&b/box.jpg", _jpeg(b"x"), r"attachment: found the name 'a&b/box.jpg', expected a plain file name"),
    )):  # fmt: skip
        folder = tmp_path / str(n)
        _add("kits/rook.yaml", _PHOTO_OF("box.jpg" if "a&b" not in name else "a&b/box.jpg").encode())(folder)
        _add(name, content)(folder)
        with pytest.raises(StoreError, match=message):
            store.import_folder(folder, by=by)
    assert store.count("kit") == 0


def test_of_two_stores_the_newer_version_wins_and_a_conflict_is_told(
    filled: Store, empty: Store, tmp_path: Path
) -> None:
    by = filled.people()[0].id
    filled.export_folder(tmp_path / "old")
    empty.import_folder(tmp_path / "old", by=by)
    here = filled.save("vehicle", "fallow", "note: here\n", by=by, base=filled.latest("vehicle", "fallow"))
    filled.export_folder(tmp_path / "new")
    # The other store has an older version: it takes the newer one, and an older tree changes nothing any more.
    (saved,) = empty.import_folder(tmp_path / "new", by=by).saved
    assert saved.text == here.text
    assert empty.import_folder(tmp_path / "old", by=by).saved == ()
    there = empty.save("vehicle", "fallow", "note: there\n", by=by, base=saved)
    filled.save("vehicle", "fallow", "note: here again\n", by=by, base=here)
    filled.export_folder(tmp_path / "newest")
    result = empty.import_folder(tmp_path / "newest", by=by)
    assert (result.saved, result.conflicts) == ((), (("vehicle", "fallow"),))
    assert empty.latest("vehicle", "fallow") == there


def test_who_was_erased_here_does_not_come_back_with_an_import(store: Store, by: str, tmp_path: Path) -> None:
    ash = store.add_person("Ash Bramble").id
    store.export_folder(tmp_path / "out")
    store.erase(ash, by=by)
    store.import_folder(tmp_path / "out", by=by)
    assert store.person(ash).name == ""


def test_nothing_is_written_over(store: Store, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine").write_text("mine", encoding="utf-8")
    with pytest.raises(StoreError, match="out: found a folder that holds something, expected an empty one; name"):
        store.export_folder(tmp_path / "out")
    with pytest.raises(StoreError, match="mine: found a file, expected none; name another one for the archive"):
        store.export_archive(tmp_path / "out" / "mine")
    assert tree(tmp_path / "out") == {"mine": b"mine"}


# What comes in from outside


def _edit(name: str, change: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    def edit(folder: Path) -> None:
        (folder / name).write_bytes(change((folder / name).read_bytes()))

    return edit


def _line(line: int, /, **values: object) -> Callable[[Path], None]:
    def change(content: bytes) -> bytes:
        lines = content.splitlines()
        lines[line - 1] = json.dumps(json.loads(lines[line - 1]) | values).encode()
        return b"\n".join(lines) + b"\n"

    return _edit("records/history.jsonl", change)


def _add(name: str, content: bytes = b"a: 1\n") -> Callable[[Path], None]:
    def add(folder: Path) -> None:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)

    return add


def _first(folder: Path, pattern: str) -> Path:
    return sorted(folder.glob(pattern))[0]


_HARM: dict[str, tuple[Callable[[Path], object], str]] = {
    "gap": (_line(2, number=7), r"history.jsonl:2: number: found 7, expected 2, without a gap; export it again"),
    "version": (_line(2, version=5), r"history.jsonl:2: version: found 5, expected 2, the next of vehicle fallow"),
    "base": (_line(4, base=1), r"history.jsonl:4: base: found 1, expected an earlier revision of shop bench"),
    "kind": (_line(1, kind="bird"), r"history.jsonl:1: kind: found 'bird', expected what was exported"),
    "path in id": (_line(1, id="../x"), r"history.jsonl:1: id: found '../x', expected what was exported"),
    "path in hash": (_line(1, sha256="../x"), r"history.jsonl:1: sha256: found '../x', expected what was exported"),
    "line end in id": (_line(1, id="x\n"), r"history.jsonl:1: id: found 'x\\n', expected what was exported"),
    "text as number": (_line(1, number="1"), r"history.jsonl:1: number: found '1', expected what was exported"),
    "more keys": (_line(1, more=1), r"history.jsonl:1: more: found 1, expected what was exported"),
    "no time": (_line(1, at="now"), r"history.jsonl:1: at: found 'now', expected what was exported"),
    "nobody": (_line(1, by="p-1"), r"history.jsonl:1: by: found p-1, expected somebody in people.jsonl"),
    "no json": (_edit("records/history.jsonl", lambda _: b"{\n"), r"history.jsonl:1: found '\{', expected what was"),
    "two issues": (
        _line(8, kind="issue", id="2026-0001", action="remove"),
        r"history.jsonl:8: found a second revision of issue 2026-0001, expected one for ever",
    ),
    "forged text": (
        lambda folder: _first(folder, "records/texts/*").write_bytes(b"a: 1\n"),
        r"records/texts/\w+.yaml: found another text than its name says, expected the one that was saved",
    ),
    "text gone": (
        lambda folder: _first(folder, "records/texts/*").unlink(),
        r"records/texts/\w+.yaml: found no such file, expected the text of a revision",
    ),
    "forged photo": (
        lambda folder: _first(folder, "records/attachments/*").write_bytes(b"x"),
        r"records/attachments/\w+: found other bytes than its name says, expected those that were saved",
    ),
    "photo gone": (
        lambda folder: _first(folder, "records/attachments/*").unlink(),
        r"records/attachments/\w+: found no such file, expected an attachment of the history",
    ),
    "stranger": (_add("virus.exe"), r"virus.exe: found a file that is no part of a shop, expected shop.yaml and"),
    "newer form": (_add("records/format.json", b'{"format": 2}'), r"found form 2, expected 1, the newest that this"),
    "no form": (_add("records/format.json", b"[]"), r"format.json: found no number of a form, expected \{"),
    "no text": (_add("kits/x.yaml", b"\xff"), r"kits/x.yaml: found bytes that are no text, expected UTF-8"),
    "twice": (_add("kits/x.yaml", b"id: y\n"), r"kits/y.yaml: found kit y a second time, after kits/x.yaml, expected"),
    "bad id": (_add("kits/x.yaml", b"id: ../../x\n"), r"kit: id: found '../../x', expected lower-case words"),
}  # fmt: skip


@pytest.mark.parametrize("place", ["sqlite"], indirect=True)
def test_a_harmed_export_is_refused_and_nothing_of_it_kept(filled: Store, empty: Store, tmp_path: Path) -> None:
    filled.export_folder(tmp_path / "out")
    _add("out/kits/y.yaml", b"id: y\n")(tmp_path)
    before = state(empty)
    for harm, (change, message) in _HARM.items():
        folder = tmp_path / harm
        shutil.copytree(tmp_path / "out", folder)
        change(folder)
        with pytest.raises(StoreError, match=message):
            empty.import_folder(folder, by=filled.people()[0].id)
    assert state(empty) == before


def test_a_document_that_cannot_be_read_is_told_with_file_and_line(store: Store, by: str, tmp_path: Path) -> None:
    _add("out/kits/x.yaml", b"a: 1\nb: [\n")(tmp_path)
    with pytest.raises(DocumentError, match=r"out/kits/x.yaml:\d+: "):
        store.import_folder(tmp_path / "out", by=by)


def test_a_link_in_a_folder_is_refused(store: Store, by: str, tmp_path: Path) -> None:
    _add("out/kits/x.yaml")(tmp_path)
    (tmp_path / "out" / "kits" / "y.yaml").symlink_to(tmp_path / "out" / "kits" / "x.yaml")
    with pytest.raises(StoreError, match=r"kits/y.yaml: found a link, expected plain files; take it away"):
        store.import_folder(tmp_path / "out", by=by)
    with pytest.raises(StoreError, match=r"x.yaml: found no folder, expected one that was exported; check the path"):
        store.import_folder(tmp_path / "out" / "kits" / "x.yaml", by=by)


def _member(name: str, mode: int = stat.S_IFREG | 0o644) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name)
    info.external_attr = mode << 16
    info.compress_type = zipfile.ZIP_DEFLATED
    return info


@pytest.mark.parametrize(
    "name",
    ["../x.yaml", "kits/../../x.yaml", "/x.yaml", "kits//x.yaml", "C:x.yaml", "kits\\x.yaml", "./x.yaml", "a\nb"],
)
def test_a_name_that_leads_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
        archive.writestr(_member(name), b"a: 1\n")
    with (
        pytest.raises(StoreError, match=r"found a name that may lead elsewhere, expected names such as kits/one.yaml"),
        opened_archive(tmp_path / "in.zip"),
    ):
        pass


def test_a_link_or_a_device_in_an_archive_is_refused(tmp_path: Path) -> None:
    for mode, found in ((stat.S_IFLNK, "a link"), (stat.S_IFCHR, "something that is no file")):
        with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
            archive.writestr(_member("kits/x.yaml", mode | 0o777), b"../../secret")
        with (
            pytest.raises(StoreError, match=f"kits/x.yaml: found {found}, expected plain files; do not trust it"),
            opened_archive(tmp_path / "in.zip"),
        ):
            pass


def test_a_bomb_is_refused_before_it_is_unpacked(store: Store, by: str, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "in.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(_member("kits/x.yaml"), bytes(30_000_000))
    with pytest.raises(StoreError, match=r"kits/x.yaml: found 30 MB packed into 0.0 MB, expected at most 200 times"):
        store.import_archive(tmp_path / "in.zip", by=by)


def test_a_member_that_lies_about_its_size_is_noticed(store: Store, by: str, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "in.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(_member("kits/x.yaml"), b"a: " + b"x" * 200_000)
    content = bytearray((tmp_path / "in.zip").read_bytes())
    # Source: PKWARE APPNOTE 6.3, 4.3.12: the uncompressed size stands 24 bytes into the entry of the central directory.
    directory = content.rindex(b"PK\x01\x02")
    content[directory + 24 : directory + 28] = (1000).to_bytes(4, "little")
    (tmp_path / "in.zip").write_bytes(content)
    with pytest.raises(StoreError, match=r"kits/x.yaml: found (another size than it tells|a damaged member)"):
        store.import_archive(tmp_path / "in.zip", by=by)


def test_limits_of_size_and_count_hold_for_folders_and_archives(tmp_path: Path) -> None:
    for number in range(3):
        _add(f"out/kits/{number}.yaml", b"x" * 1000)(tmp_path)
    with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
        for number in range(3):
            archive.writestr(_member(f"kits/{number}.yaml"), b"x" * 1000)
    for limits, message in (
        (Limits(file_bytes=999), "kits/0.yaml: found 0.0 MB, expected at most 0.000999 MB; take it away"),
        (Limits(all_bytes=2500), "kits/2.yaml: found more than 0.0025 MB with this file, expected less"),
        (Limits(files=2), "kits/2.yaml: found more than 2 files, expected less; import it in parts"),
    ):
        with pytest.raises(StoreError, match=message), opened_folder(tmp_path / "out", limits):
            pass
        with pytest.raises(StoreError, match=message), opened_archive(tmp_path / "in.zip", limits):
            pass


def test_what_is_no_archive_is_refused(tmp_path: Path) -> None:
    (tmp_path / "in.zip").write_bytes(b"no archive")
    for name in ("in.zip", "missing.zip"):
        with (
            pytest.raises(StoreError, match=rf"{name}: found nothing that can be read \(.*\), expected an export"),
            opened_archive(tmp_path / name),
        ):
            pass


def test_two_members_of_one_name_and_a_damaged_one_are_refused(store: Store, by: str, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
        archive.writestr(_member("kits/x.yaml"), b"note: " + bytes(range(97, 120)) * 50)
    content = (tmp_path / "in.zip").read_bytes()
    (tmp_path / "bad.zip").write_bytes(content[:60] + b"\xff\xff\xff" + content[63:])
    with pytest.raises(StoreError, match=r"kits/x.yaml: found a damaged member \(.*\), expected a sound one; copy"):
        store.import_archive(tmp_path / "bad.zip", by=by)
    with zipfile.ZipFile(tmp_path / "in.zip", "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr(_member("kits/x.yaml"), b"a: 2\n")
    with pytest.raises(StoreError, match=r"kits/x.yaml: found two members of this name, expected one"):
        store.import_archive(tmp_path / "in.zip", by=by)
