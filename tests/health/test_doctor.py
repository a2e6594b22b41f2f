"""The self-check says what is wrong where something is, and nothing where nothing is."""

import platform
import shutil
import sqlite3
import subprocess
from contextlib import closing
from importlib import metadata
from pathlib import Path

import pytest

from loomwright.cli.main import main
from loomwright.errors import StoreError
from loomwright.health import doctor as looked
from loomwright.health import rendering
from loomwright.health.check import checked
from loomwright.health.demo_result import demo_summary
from loomwright.health.doctor import check_disk, check_store
from loomwright.health.loops import check_loops
from loomwright.health.versions import check_packages, check_python, holds
from loomwright.network import kernel
from loomwright.store.store import open_store
from loomwright.store.values import Attachment


@pytest.fixture
def place(tmp_path: Path) -> Path:
    path = tmp_path / "shop.store"
    with open_store(path) as store:
        by = store.add_person("A. Bench").id
        for n in range(5):
            text = f"format: 1\nkind: kit\nid: kit-{n}\nname: one of five kits, number {n}\n"
            store.save("kit", f"kit-{n}", text, by=by)
    return path


def test_all_is_in_order_here(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["doctor", "--store", str(place)]) == 0
    said = capsys.readouterr().out
    assert said.count("in order:") == 8
    assert "NOT" not in said
    assert "5 revisions and attachments are as they were saved" in said
    assert said.endswith("Everything is in order.\n")


def test_the_compiled_loops_are_told_of_and_not_compiled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kernel, "_compile", lambda _: pytest.fail("it compiles"))
    monkeypatch.setenv(kernel.VARIABLE, "off")
    assert check_loops().said.startswith("off, since LOOMWRIGHT_KERNEL says so; numpy does the same work")
    monkeypatch.setenv(kernel.VARIABLE, "auto")
    one = kernel.Kernel(folder=tmp_path)
    assert check_loops(one).said.startswith("not compiled yet; the first long work compiles them")
    assert list(tmp_path.iterdir()) == []
    (tmp_path / kernel._fingerprint()).mkdir()
    (tmp_path / kernel._fingerprint() / "compiled").touch()
    assert check_loops(one).said == f"ready, in {tmp_path}"
    assert "no home folder" in check_loops(kernel.Kernel(folder=None)).said

    def gone() -> str:
        raise ModuleNotFoundError

    monkeypatch.setattr(kernel, "_fingerprint", gone)
    assert check_loops(one).said.startswith("not there, numba is not installed; numpy does the same work")
    monkeypatch.setenv(kernel.VARIABLE, "yes")
    assert not checked("Compiled loops", check_loops, "").good


def test_a_store_that_is_not_there_yet_is_no_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["doctor", "--store", str(tmp_path / "none.store")]) == 0
    assert "there is none yet" in capsys.readouterr().out
    assert not (tmp_path / "none.store").exists()


def test_content_that_was_changed_behind_the_store_is_found(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(sqlite3.connect(place)) as opened:
        for (name,) in opened.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            opened.execute(f'DROP TRIGGER "{name}"')
        opened.execute("UPDATE revisions SET text = replace(text, 'five', 'nine') WHERE number = 3")
        opened.commit()
    assert main(["doctor", "--store", str(place)]) == 1
    said = capsys.readouterr().out
    assert "NOT IN ORDER: Store:" in said
    assert "revision 3 with other content than was saved" in said
    assert "What to do:" in said


def test_a_file_that_is_no_store_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "shop.store"
    path.write_bytes(b"nothing of ours " * 400)
    assert main(["doctor", "--store", str(path)]) == 1
    assert "NOT IN ORDER: Store:" in capsys.readouterr().out
    assert path.read_bytes() == b"nothing of ours " * 400


def test_a_full_disk_is_told(tmp_path: Path) -> None:
    check = check_disk(tmp_path, least=shutil.disk_usage(tmp_path).total * 2)
    assert not check.good
    assert check.do.startswith("Make room:")


# Source of the rules: PEP 440, "Version specifiers"; trailing zeros do not count ("Version matching").
@pytest.mark.parametrize(
    ("version", "bounds", "good"),
    [
        ("2.13.1", ">=2.13,<3", True), ("3.0", ">=2.13,<3", False), ("2.12.9", ">=2.13,<3", False),
        ("3.52", "==3.52", True), ("3.52.0", "==3.52", True), ("3.53", "==3.52", False), ("10.0", ">=9.1", True),
        ("1.0", "", True), ("2.0", "!=2.0", False), ("2.1", ">2.0", True), ("2.0", "<=2", True),
    ],
)  # fmt: skip
def test_versions_are_compared_number_by_number(version: str, bounds: str, good: bool) -> None:
    assert holds(version, bounds) is good


def test_a_package_that_is_missing_or_too_old_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    real = metadata.version

    def other(name: str) -> str:
        if name == "jinja2":
            raise metadata.PackageNotFoundError(name)
        return "1.0" if name == "numpy" else real(name)

    monkeypatch.setattr(metadata, "version", other)
    check = check_packages()
    assert not check.good
    assert "jinja2 is missing" in check.said
    assert "numpy is 1.0, expected" in check.said


def test_an_old_python_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "python_version", lambda: "3.9.1")
    assert check_python().said == "3.9.1, expected >=3.11"
    assert not check_python().good


def test_a_page_without_its_font_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rendering, "render", lambda *_: b"%PDF-1.7 nothing in it")
    check = rendering.check_typesetter()
    assert not check.good
    assert "without its font" in check.said


def test_another_result_in_a_fresh_process_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    answer = subprocess.CompletedProcess(args=(), returncode=0, stdout="0" * 64 + "\n", stderr="")
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: answer)
    assert not looked.check_demo().good
    assert "000000000000 in a fresh process" in looked.check_demo().said


def test_the_pair_of_the_demonstration_fits() -> None:
    found = demo_summary()
    assert str(found["verdict"]).startswith("fits")


def test_a_look_that_breaks_off_is_a_finding() -> None:
    def look() -> object:
        raise StoreError("it is not there")

    check = checked("Store", look, "Look for it.")  # type: ignore[arg-type]
    assert (check.good, check.said, check.do) == (False, "it is not there", "Look for it.")


def test_the_store_is_looked_through_attachments_too(tmp_path: Path) -> None:
    with open_store(tmp_path / "shop.store") as store:
        by = store.add_person("A. Bench").id
        serial = store.new_serial(by=by)
        store.save("job", serial, "format: 1\nkind: job\n", by=by)
        sheet = Attachment(name="a.txt", media_type="text/plain", data=b"x")
        store.record("issue", serial, "format: 1\n", by=by, attach=[sheet])
        assert check_store(store).said.startswith("3 revisions and attachments")
