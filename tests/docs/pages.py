"""Reading the documentation pages: files, fenced blocks with the note before them, links and headings."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

__all__ = ["DOCS", "PAGES", "ROOT", "Block", "blocks", "headings", "links", "prose"]

ROOT = Path(__file__).parent.parent.parent
DOCS = ROOT / "docs"
PAGES = (ROOT / "README.md", *sorted(DOCS.rglob("*.md")))

_FENCE = re.compile(
    r"(?:^<!-- (?P<note>[^>]*?) -->\n)?^```(?P<kind>\w*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL
)
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One fenced block: its language, its text, the note in a comment right before it, and its line."""

    kind: str
    text: str
    note: str
    line: int


def blocks(text: str) -> tuple[Block, ...]:
    """Return the fenced blocks of a page."""
    return tuple(
        Block(kind=m["kind"], text=m["text"], note=m["note"] or "", line=text[: m.start()].count("\n") + 1)
        for m in _FENCE.finditer(text)
    )


def prose(text: str) -> str:
    """Return a page without its fenced blocks."""
    return _FENCE.sub("", text)


def links(text: str) -> tuple[str, ...]:
    """Return the targets of the links and pictures of a page, code left out."""
    return tuple(_LINK.findall(re.sub(r"`[^`\n]*`", "", prose(text))))


def headings(text: str) -> Iterator[str]:
    """Yield the headings of a page."""
    for match in re.finditer(r"^#+ (.*)$", prose(text), re.MULTILINE):
        yield match[1].replace("`", "")
