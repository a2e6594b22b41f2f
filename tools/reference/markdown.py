"""The little Markdown the reference pages need."""

from collections.abc import Iterable, Sequence

__all__ = ["NOTE", "anchor", "cell", "code", "page", "table"]

NOTE = "*This page is made from the code by `make reference`; do not edit it by hand.*"


def cell(text: str) -> str:
    """Return text as it may stand in a cell of a table."""
    return " ".join(text.replace("|", "\\|").split())


def code(text: str) -> str:
    """Return text in the letters of code."""
    return f"`{text}`"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table with a header row."""
    lines = ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    lines += ["| " + " | ".join(cell(entry) for entry in row) + " |" for row in rows]
    return "\n".join(lines)


def anchor(title: str) -> str:
    """Return the link to a heading of the same page, in the way the usual renderers make it."""
    kept = "".join(c for c in title.lower() if c.isalnum() or c in " -")
    return "#" + kept.replace(" ", "-")


def page(title: str, *blocks: str) -> str:
    """Return a whole page."""
    return "\n\n".join([f"# {title}", NOTE, *blocks]) + "\n"
