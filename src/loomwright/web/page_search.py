"""Search over everything that is kept."""

from dataclasses import dataclass

from loomwright.store.values import Hit
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk

__all__ = ["path_of", "show"]


_HITS = 10  # to show a line of each, its whole text is read


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchPage:
    """What was looked for and what was found: (hit, its name, where it leads)."""

    words: str
    hits: tuple[tuple[Hit, str, str], ...]


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what was found."""
    words = ask.one("q")[:200]
    kinds = ("vehicle", "kit", "job", "evidence", "shop")
    found = desk.store.search(words, kinds, limit=_HITS)
    hits = tuple((h, desk.line(h.entry).glance.name or h.entry.id, path_of(h.entry.kind, h.entry.id)) for h in found)
    return Page(template="search.html", title="Search", context=SearchPage(words=words, hits=hits))


def path_of(kind: str, id: str) -> str:
    """Return the page that shows a document."""
    if kind in ("vehicle", "kit", "job"):
        return f"/{kind}s/{id}"
    if kind in ("issue", "reading"):  # of a job, and named after it
        return f"/jobs/{id.rpartition('.')[0]}"
    return f"/vehicles/{id.removesuffix('-evidence')}" if kind == "evidence" else "/documents"
