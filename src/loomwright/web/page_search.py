"""Search over everything that is kept."""

from dataclasses import dataclass

from loomwright.store.values import Hit
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk

__all__ = ["show"]


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
    hits = tuple((hit, desk.line(hit.entry).glance.name or hit.entry.id, _path(hit)) for hit in found)
    return Page(template="search.html", title="Search", context=SearchPage(words=words, hits=hits))


def _path(hit: Hit) -> str:
    entry = hit.entry
    if entry.kind in ("vehicle", "kit", "job"):
        return f"/{entry.kind}s/{entry.id}"
    return f"/vehicles/{entry.id.removesuffix('-evidence')}" if entry.kind == "evidence" else "/documents"
