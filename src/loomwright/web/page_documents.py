"""Documents: see what is wrong with those that are here, and with a file that was to be brought in."""

from dataclasses import dataclass

from loomwright.errors import Message
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk

__all__ = ["refused", "show"]

_MOST_CHECKED = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentsPage:
    """What is wrong with the shop's documents, and with a file that was to be brought in."""

    checked: int
    not_checked: int
    faulty: tuple[tuple[str, str, tuple[Message, ...]], ...]  # (kind, id, messages)
    file: str = ""
    file_messages: tuple[Message, ...] = ()


def show(desk: Desk, _ask: Ask) -> Answer:
    """Check the documents that were changed last."""
    return Page(template="documents.html", title="Documents", context=_page(desk))


def _page(desk: Desk, file: str = "", messages: tuple[Message, ...] = ()) -> DocumentsPage:
    kinds = ("vehicle", "kit")
    entries = desk.store.recent(kinds, limit=_MOST_CHECKED)
    total = sum(desk.store.count(kind) for kind in kinds)
    found = ((e.kind, e.id, desk.faults(e.kind, e.id)) for e in entries)
    return DocumentsPage(
        checked=len(entries), not_checked=total - len(entries), faulty=tuple(f for f in found if f[2]), file=file,
        file_messages=messages,
    )  # fmt: skip


def refused(desk: Desk, file: str, messages: tuple[Message, ...]) -> Page:
    """Say what is wrong with a file that was to be brought in."""
    context = _page(desk, file, messages)
    return Page(template="documents.html", title="Not brought in", context=context, status=422)
