"""Search over everything that is kept."""

from dataclasses import dataclass

from loomwright.store.values import Hit
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk

__all__ = ["show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchPage:
    """What was looked for and what was found: (hit, its name, where it leads)."""

    words: str
    hits: tuple[tuple[Hit, str, str], ...]


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what was found."""
    words = ask.one("q")[:200]
    kinds = ("vehicle", "kit", "job", "evidence", "shop")
    hits = tuple((h, desk.line(h.entry).glance.name or h.entry.id, _path(h)) for h in desk.store.search(words, kinds))
    return Page(template="search.html", title="Search", context=SearchPage(words=words, hits=hits))


def _path(hit: Hit) -> str:
    entry = hit.entry
    if entry.kind in ("vehicle", "kit", "job"):
        return f"/{entry.kind}s/{entry.id}"
    return f"/vehicles/{entry.id.removesuffix('-evidence')}" if entry.kind == "evidence" else "/documents"
