"""The pages that people wrote: links lead somewhere, examples are documents, nothing is promised that is not there."""

import re
from pathlib import Path

import pytest
from pydantic import BaseModel

from loomwright.cli.main import COMMANDS
from loomwright.documents._tree import read_tree
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.errors import DocumentError
from tests.docs.pages import DOCS, PAGES, ROOT, Block, blocks, headings, links, prose
from tools.reference.documents import parts_of
from tools.reference.markdown import anchor

_PARTS: dict[str, type[BaseModel]] = {p.__name__: p for model in MODELS.values() for p in parts_of(model)}
_YAML = [(p, b) for p in PAGES for b in blocks(p.read_text(encoding="utf-8")) if b.kind == "yaml"]


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _broken(page: Path) -> list[str]:
    text = page.read_text(encoding="utf-8")
    found = []
    for target in links(text):
        if re.match(r"https?://|mailto:", target):
            continue
        name, _, part = target.partition("#")
        other = (page.parent / name).resolve() if name else page
        known = {anchor(h) for h in headings(other.read_text(encoding="utf-8"))} if part and other.exists() else set()
        if not other.exists() or (part and f"#{part}" not in known):
            found.append(target)
    return found


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_every_link_leads_somewhere(page: Path) -> None:
    assert _broken(page) == []


def test_a_broken_link_is_found(tmp_path: Path) -> None:
    page = tmp_path / "a.md"
    page.write_text("# One `two`\n\n[x](b.md) [y](#one-two) [z](#three) `[n](no.md)` ![p](p.png) [w](https://x.y)\n")
    assert _broken(page) == ["b.md", "#three", "p.png"]


def test_every_page_can_be_reached_from_the_list() -> None:
    listed = {(DOCS / target).resolve() for target in links((DOCS / "README.md").read_text(encoding="utf-8"))}
    assert {p for p in PAGES if p.parent != ROOT} - listed == {DOCS / "README.md"}


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_a_page_has_one_title_and_keeps_to_the_width(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert text.startswith("# ")
    if "reference" not in page.parts:
        assert [line for line in prose(text).splitlines() if len(line) > 130 and not line.startswith("|")] == []


# Examples ----------------------------------------------------------------------------------------------------------


def _faults(block: Block) -> list[str]:
    """Return what is wrong with an example: a whole document, its beginning, or one part named in the note."""
    if block.text.startswith("format:"):
        try:
            load([Source(file="example", text=block.text.encode())], MODELS)
        except DocumentError as problem:
            # A beginning may lack the keys that the page writes further down.
            return [str(m) for m in problem.messages if not (m.found == "nothing" and m.advice.startswith("add the"))]
        return []
    kind, _, name = block.note.partition(": ")
    if kind != "part":
        return [f"line {block.line}: an example without a note that says which part it is"]
    _PARTS[name].model_validate(read_tree(Source(file="example", text=block.text.encode())).value)
    return []


@pytest.mark.parametrize(("page", "block"), _YAML, ids=lambda v: _name(v) if isinstance(v, Path) else str(v.line))
def test_every_example_is_a_document_or_a_part_of_one(page: Path, block: Block) -> None:
    if block.note.startswith(("find in ", "replace")):
        return  # the tutorial's edits are made and checked by the test that runs it
    assert _faults(block) == [], page


def test_a_wrong_example_is_found() -> None:
    wrong = Block(kind="yaml", text="format: 1\nkind: shop\nid: A B\n", note="", line=1)
    assert len(_faults(wrong)) == 1
    bare = Block(kind="yaml", text="a: 1\n", note="", line=7)
    assert _faults(bare) == ["line 7: an example without a note that says which part it is"]


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_every_command_named_on_a_page_exists(page: Path) -> None:
    named = set(re.findall(r"`loomwright ([a-z-]+)", page.read_text(encoding="utf-8")))
    named |= {
        word
        for block in blocks(page.read_text(encoding="utf-8"))
        for word in re.findall(r"^loomwright ([a-z-]+)", block.text, re.MULTILINE)
    }
    assert named <= set(COMMANDS)


def test_every_command_is_used_in_some_page_that_people_read() -> None:
    text = "".join(p.read_text(encoding="utf-8") for p in PAGES if "reference" not in p.parts)
    assert [name for name in COMMANDS if f"loomwright {name}" not in text] == []


def test_every_room_is_explained() -> None:
    rooms = {p.name for p in (ROOT / "src" / "loomwright").iterdir() if p.is_dir() and any(p.glob("*.py"))}
    told = re.findall(r"^\| `(\w+)` \|", (DOCS / "explanation" / "rooms.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert set(told) == rooms


# The first page ----------------------------------------------------------------------------------------------------


def test_the_first_paragraph_says_what_the_job_is() -> None:
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[1]
    assert not first.startswith(("#", "```", "*", "!"))
    for word in ("technician", "remote-start", "guide", "wiring plan", "vehicle", "kit", "meter"):
        assert word in first, word


def test_the_targets_that_the_pages_name_are_in_the_makefile() -> None:
    made = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    text = "".join(p.read_text(encoding="utf-8") for p in PAGES)
    assert {"run", "test", "reference"} <= set(re.findall(r"make ([a-z-]+)\b", text)) & made
    assert set(re.findall(r"`make ([a-z-]+)`", text)) <= made


# "safe" may stand where it is said that the program does not say it, and in the name of a source.
_ALLOWED = re.compile(r'never (?:says|claims)[^.]*"?safe"?|says "safe"|safety', re.IGNORECASE)


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_no_page_calls_anything_safe(page: Path) -> None:
    text = _ALLOWED.sub("", page.read_text(encoding="utf-8"))
    assert re.findall(r"\bsafe(?:ly)?\b", text, re.IGNORECASE) == []
