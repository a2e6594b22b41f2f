"""docs/reference/sources.md: every standard, law, book and program that the sources or the tests cite, and where."""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tools.reference.bibliography import BIBLIOGRAPHY, NO_DOCUMENT, STANDARD
from tools.reference.markdown import page

__all__ = ["sources_page", "uncited_patterns", "unknown_citations"]

_ROOT = Path(__file__).parent.parent.parent
_SUFFIXES = {".py", ".tsv", ".yaml"}


@cache
def _texts() -> tuple[tuple[Path, str], ...]:
    """Return every file that may cite something, with its text; the demo documents and the tests included."""
    files = [p for folder in ("src", "tests") for p in sorted((_ROOT / folder).rglob("*")) if p.suffix in _SUFFIXES]
    here = [p for p in files if "docs" not in p.relative_to(_ROOT).parts]
    return tuple((p.relative_to(_ROOT), _joined(p.read_text(encoding="utf-8"))) for p in here)


def _joined(text: str) -> str:
    """Join the lines of a comment, so that a citation that is broken over two lines is found whole."""
    return re.sub(r"\n[ \t]*#:? (?!Source:)", " ", text)


def _places(pattern: str) -> tuple[str, ...]:
    """Return whether the program itself cites it, its tests, or both."""
    found = re.compile(pattern)
    words = {"src": "the code", "tests": "the tests"}
    return tuple(dict.fromkeys(words[path.parts[0]] for path, text in _texts() if found.search(text)))


def _known() -> re.Pattern[str]:
    return re.compile("|".join(p for chapter in BIBLIOGRAPHY.values() for p in chapter))


def uncited_patterns() -> tuple[str, ...]:
    """Return the patterns of the bibliography that no file cites."""
    return tuple(p for chapter in BIBLIOGRAPHY.values() for p in chapter if not _places(p))


def unknown_citations() -> tuple[str, ...]:
    """Return every number of a standard, and every `# Source:`, that the bibliography does not cover."""
    return tuple(_unknown())


def _unknown() -> Iterator[str]:
    known, free = _known(), re.compile(NO_DOCUMENT)
    for path, text in _texts():
        for match in re.finditer(STANDARD, text):
            # Some context goes with the match, since a pattern may be longer than the number.
            if not known.search(text[match.start() : match.end() + 8]):
                yield f"{path.as_posix()}: {match[0]}"
        for match in re.finditer(r"# Source: ([^\n]*)", text):
            if not known.search(match[1]) and not free.search(match[1]):
                yield f"{path.as_posix()}: {match[1]}"


def sources_page() -> str:
    """Return the page."""
    chapters = []
    for title, entries in BIBLIOGRAPHY.items():
        cited = sorted(((name, _places(pattern)) for pattern, name in entries.items()), key=lambda e: e[0].casefold())
        lines = [f"* {name} *Cited in {' and '.join(places)}.*" for name, places in cited]
        chapters.append(f"## {title}\n\n" + "\n".join(lines))
    return page(
        "Sources",
        "Each number that is not computed here comes from one of these, or is marked *common practice*, which means "
        "customary in the trade with no published document behind it. Beside every such number stands its source, with "
        "clause or table; where a value was written down from memory and not read in the document, it says so. "
        "Some of the rules are made for boats or aircraft, because no public rule for cars has the number; they are "
        "named as what they are.",
        *chapters,
    )
