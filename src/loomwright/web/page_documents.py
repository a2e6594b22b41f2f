"""Documents: bring one in from a file, and see what is wrong with those that are here."""

from dataclasses import dataclass

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError, Message
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.desk import Desk

__all__ = ["bring", "show"]

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


def bring(desk: Desk, ask: Ask) -> Answer:
    """Keep a document from a file as a new revision, if it is one."""
    upload = ask.files.get("file")
    if upload is None or not upload.data:
        raise WebError(400, "No file came with the form. Choose a .yaml file of a vehicle, kit, shop or evidence.")
    name = upload.name.replace("\\", "/").rpartition("/")[2][:120]
    try:
        read_document(Source(file=name, text=upload.data), MODELS)
    except DocumentError as problem:
        page = _page(desk, name, problem.messages)
        return Page(template="documents.html", title="Not brought in", context=page, status=422)
    kind, id = desk.named(name, upload.data.decode("utf-8-sig"))
    base = desk.store.latest(kind, id) if desk.store.has(kind, id) else None
    desk.store.save(kind, id, upload.data.decode("utf-8-sig"), by=desk.worker(ask.who), base=base)
    return Redirect(to=f"/{kind}s/{id}" if kind in ("vehicle", "kit") else "/documents")
