"""A store taken elsewhere and brought back from the command line, and what is refused on the way."""

import zipfile
from pathlib import Path

import pytest

from loomwright.cli.main import BAD_INPUT, OK, main
from loomwright.store.store import open_store
from loomwright.store.values import Attachment

_PHOTO = Attachment(name="box.jpg", media_type="image/jpeg", data=b"\xff\xd8\xff\xe0box")
_KIT = "id: rook\nphoto: {file: box.jpg, shows: It.}\n"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give the file of a store with two versions, a picture, a buyer and somebody who was erased."""
    monkeypatch.chdir(tmp_path)
    with open_store(tmp_path / "loomwright.store") as store:
        by = store.add_person("R. Bench").id
        store.add_person("Wren Alder", address="1 Example Way")
        first = store.save("kit", "rook", _KIT, by=by, attach=[_PHOTO])
        store.save("kit", "rook", f"{_KIT}note: two\n", by=by, base=first, attach=[_PHOTO])
        store.save("shop", "bench", "id: bench\n", by=by)
        store.erase(store.add_person("Ash Bramble").id, by=by)
    return tmp_path / "loomwright.store"


def _tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_out_and_in_and_out_again_gives_the_same_bytes(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for target in ("one", "one.zip"):
        assert main(["export", target]) == OK
        said = capsys.readouterr().out
        assert f"Everything is in {target}: 12 files, 3 revisions.\nThe names and addresses of people" in said
        assert main(["import", target, "--store", f"of-{target}.store"]) == OK
        said = capsys.readouterr().out
        assert said == "The whole history came: 3 revisions.\n0 saved as new versions, 2 unchanged.\n"
        assert main(["export", f"again-{target}", "--store", f"of-{target}.store"]) == OK
        capsys.readouterr()
    assert _tree(Path("again-one")) == _tree(Path("one"))
    assert Path("again-one.zip").read_bytes() == Path("one.zip").read_bytes()
    with zipfile.ZipFile("one.zip") as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == _tree(Path("one"))


def test_a_folder_that_was_edited_comes_in_document_by_document(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["export", "out"])
    main(["import", "out", "--store", "other.store"])
    Path("out/kits/rook.yaml").write_text(f"{_KIT}note: by hand\n", encoding="utf-8")
    capsys.readouterr()
    assert main(["import", "out", "--by", "W. Hand"]) == OK
    assert capsys.readouterr().out == "1 saved as new versions, 1 unchanged.\n"
    with open_store(shop) as store:
        kept = store.latest("kit", "rook")
        assert (kept.version, store.person(kept.by).name) == (3, "W. Hand")
    with open_store(Path("other.store")) as store:
        last = store.latest("kit", "rook")
        store.save("kit", "rook", f"{_KIT}note: there\n", by=store.usual_person(), base=last)
    main(["export", "newer"])
    assert main(["import", "newer", "--store", "other.store"]) == OK
    assert "kit rook: changed here and there; it stays as it is here." in capsys.readouterr().out


def test_a_backup_becomes_a_new_store(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_store(shop) as store:
        store.backup(Path("kept"))
    assert main(["restore", "kept", "--store", "new.store"]) == OK
    assert capsys.readouterr().out == f"{Path('new.store').resolve()} has everything from kept: 3 revisions.\n"
    main(["export", "one"])
    main(["export", "two", "--store", "new.store"])
    assert _tree(Path("one")) == _tree(Path("two"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["export", "out", "--store", "none.store"], "none.store: found no store, expected one; name it with --store"),
        (["export", "plain"], "plain: found a folder that holds something, expected an empty one"),
        (["export", "text.zip"], "text.zip: found a file, expected none; name another one for the archive"),
        (["import", "text.zip", "--store", "new.store"], "text.zip: found nothing that can be read (file is not a zip"),
        (["import", "plain", "--store", "new.store"], "plain: text.txt: found a file that is no part of a shop"),
        (["import", "nowhere"], "Path 'nowhere' does not exist."),
        (["restore", "text.zip", "--store", "new.store"], "text.zip: found a file that is no backup"),
        (["restore", "text.zip"], "loomwright.store: found a file, expected none; name another one with --store"),
        (["restore", "text.zip", "--store", "other://x/y"], "found a server of kind other, expected postgresql"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_cannot_be_done_is_told_and_nothing_is_left(
    shop: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("plain").mkdir()
    for name in ("text.zip", "plain/text.txt"):
        Path(name).write_text("no archive", encoding="utf-8")
    before = _tree(shop.parent)
    assert main(words) == BAD_INPUT
    assert said in capsys.readouterr().err
    assert _tree(shop.parent) == before
