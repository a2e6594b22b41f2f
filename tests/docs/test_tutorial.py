"""The tutorial is followed step by step: its commands run, its edits are made, and what it shows is really shown."""

import html
import re
import shlex
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from loomwright.cli.main import OK, main
from tests.docs.pages import DOCS, PAGES, ROOT, Block, blocks

_NOTE = re.compile(r"(exit|in|not in|find in|replace|part:)(?: (\S+))?")


def _plain(text: str) -> str:
    """Return text in one line with single spaces, since columns and broken lines do not matter to a reader."""
    return " ".join(text.split())


def _seen(path: Path) -> str:
    """Return what a reader of a web page sees: blocks apart, the rest run together."""
    text = re.sub(r"<(script|style)\b.*?</\1>", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    text = re.sub(r"</(?:p|h\d|li|td|dd|dt|div)>|<br>", " ", text)
    return _plain(html.unescape(re.sub(r"<[^>]+>", "", text)))


def _missing(shown: str, text: str) -> Iterator[str]:
    """Yield each line that does not follow the ones before it in a text."""
    at = 0
    for line in (_plain(line) for line in shown.splitlines() if line.strip()):
        found = text.find(line, at)
        if found < 0:
            yield line
        else:
            at = found + len(line)


class _Reader:
    """Somebody who follows a page in an empty folder and notes where it does not hold."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys
        self.faults: list[str] = []
        self.printed = ""
        self.searched: tuple[Path, str] | None = None

    def _call(self, block: Block, expected: int) -> None:
        for line in block.text.splitlines():
            words = shlex.split(line)
            assert words[0] == "loomwright", line
            code = main(words[1:])
            caught = self.capsys.readouterr()
            self.printed = _plain(caught.out)
            if code != expected:
                self.faults.append(f"line {block.line}: {line} ended with {code}: {caught.err}")

    def follow(self, page: str) -> None:
        for block in blocks(page):
            match = _NOTE.fullmatch(block.note)
            assert not block.note or match, block.note
            what, where = (match[1], match[2]) if match else ("", "")
            if block.kind == "sh":
                self._call(block, int(where) if what == "exit" else 0)
            elif what == "find in":
                self.searched = (Path(where), block.text)
            elif what == "replace":
                assert self.searched is not None
                path, old = self.searched
                text = path.read_text(encoding="utf-8")
                if text.count(old) != 1:
                    self.faults.append(f"line {block.line}: {path} holds the line {text.count(old)} times")
                path.write_text(text.replace(old, block.text), encoding="utf-8")
            elif what in {"in", "not in"} and not Path(where).is_file():
                self.faults.append(f"line {block.line}: there is no {where}")
            elif what == "in":
                self.faults += [f"line {block.line}: no {m!r}" for m in _missing(block.text, _seen(Path(where)))]
            elif what == "not in":
                if _plain(block.text) in _seen(Path(where)):
                    self.faults.append(f"line {block.line}: {where} holds {block.text!r}")
            elif block.kind == "text" and self.printed:
                self.faults += [f"line {block.line}: not printed: {m!r}" for m in _missing(block.text, self.printed)]


@pytest.fixture
def reader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> _Reader:
    monkeypatch.chdir(tmp_path)
    return _Reader(capsys)


def test_the_tutorial_holds(reader: _Reader) -> None:
    page = (DOCS / "tutorial.md").read_text(encoding="utf-8")
    reader.follow(page)
    assert reader.faults == []
    assert sum(block.kind == "sh" for block in blocks(page)) >= 6


_OTHERS = [p for p in PAGES if p.name != "tutorial.md" and any(b.kind == "sh" for b in blocks(p.read_text("utf-8")))]


@pytest.mark.parametrize("page", _OTHERS, ids=lambda page: page.name)
def test_every_other_page_with_commands_holds(reader: _Reader, page: Path) -> None:
    reader.follow(page.read_text(encoding="utf-8"))
    assert reader.faults == []


def test_the_first_page_has_commands() -> None:
    assert ROOT / "README.md" in _OTHERS


def test_what_does_not_hold_is_told(reader: _Reader, tmp_path: Path) -> None:
    (tmp_path / "a.html").write_text("<p>One <b>two</b></p><p>three</p>")
    reader.follow(
        "<!-- exit 1 -->\n```sh\nloomwright --version\n```\n\n```text\nloomwright, version\nnever said\n```\n"
        "<!-- in a.html -->\n```text\nOne two three\nfour\n```\n<!-- not in a.html -->\n```text\ntwo\n```\n"
        "<!-- find in a.html -->\n```yaml\nx: 1\n```\n<!-- replace -->\n```yaml\nx: 2\n```\n"
    )
    assert [fault.partition(":")[2].strip()[:24].strip() for fault in reader.faults] == [
        "loomwright --version end", "not printed: 'never said", "no 'four'", "a.html holds 'two\\n'",
        "a.html holds the line 0",
    ]  # fmt: skip


def test_what_make_run_calls_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first command of the first page: every call of the program in `make run`, in an empty folder."""
    asked = ["make", "--no-print-directory", "-n", "run", "SHOP=shop", "SHEETS=sheets"]
    lines = subprocess.run(asked, cwd=ROOT, check=True, capture_output=True, text=True).stdout.splitlines()
    calls = [words[1:] for line in lines if (words := shlex.split(line)) and words[0].endswith("/loomwright")]
    assert [words[0] for words in calls] == ["demo", "write"]
    monkeypatch.chdir(tmp_path)
    for words in calls:
        assert main(words) == OK, words
    assert {"guide.html", "guide-a4.pdf", "wiring-plan.html"} <= {path.name for path in Path("sheets").iterdir()}
