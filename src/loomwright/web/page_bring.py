"""A document out of a file: kept at once where it is new, and only once it was looked at where there is one already.

A file does not say from which version it was made, so nobody but a person can tell whether what differs is a change or
somebody else's newer work.
"""

import base64
import binascii
from dataclasses import dataclass, replace

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError
from loomwright.store.values import Change, Conflict, Revision
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.copying import COPIED, save_copy
from loomwright.web.desk import Desk
from loomwright.web.forms.draft import draft_of
from loomwright.web.page_documents import refused

__all__ = ["bring"]

_MOST_CHANGES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class BringPage:
    """What a file would change in a document that is there already."""

    kind: str
    id: str
    called: str
    file: str
    data: str  # the file, as it goes along in the form
    base: int
    version: int
    by: str
    at: str
    is_same: bool
    is_newer: bool  # somebody saved while the page was open
    changes: tuple[Change, ...]
    more: int
    may_copy: bool


def bring(desk: Desk, ask: Ask) -> Answer:
    """Keep a document from a file, asking first where there is one of its id."""
    name, data = _file(ask)
    try:
        document = read_document(Source(file=name, text=data), MODELS).document
    except DocumentError as problem:
        return refused(desk, name, problem.messages)
    kind, id = str(getattr(document, "kind", "")), str(getattr(document, "id", ""))
    text, by = data.decode("utf-8-sig"), desk.worker(ask.who)
    do, base = ask.sent("do"), ask.sent("base")
    if not desk.store.has(kind, id):
        try:
            desk.store.save(kind, id, text, by=by)
        except Conflict as problem:  # somebody brought the same one in at this moment
            return _page(desk, problem.theirs, name, data, is_newer=True)
        return Redirect(to=_page_of(kind, id))
    latest = desk.store.latest(kind, id)
    if do == "copy" and kind in COPIED:
        copy = save_copy(desk, latest, text, by=by)
        return Redirect(to=f"/{kind}s/{copy.id}/edit?copy-of={id}")
    if do == "version" and base == str(latest.number):
        try:
            desk.store.save(kind, id, text, by=by, base=latest)
        except Conflict as problem:
            return _page(desk, problem.theirs, name, data, is_newer=True)
        return Redirect(to=_page_of(kind, id))
    return _page(desk, latest, name, data, is_newer=do == "version")


def _page_of(kind: str, id: str) -> str:
    return f"/{kind}s/{id}" if kind in COPIED else "/documents"


def _file(ask: Ask) -> tuple[str, bytes]:
    """Return name and bytes of the file, from the first form or from the one that asks whether it is meant so."""
    upload = ask.files.get("file")
    if upload is not None and upload.data:
        return upload.name.replace("\\", "/").rpartition("/")[2][:120], upload.data
    try:
        data = base64.b64decode(ask.sent("data"), validate=True)
    except (binascii.Error, ValueError) as problem:
        raise WebError(400, "This form is not whole. Choose the file once more.") from problem
    if not data:
        raise WebError(400, "No file came with the form. Choose a .yaml file of a vehicle, kit, shop or evidence.")
    return ask.sent("named")[:120], data


def _page(desk: Desk, latest: Revision, name: str, data: bytes, *, is_newer: bool) -> Page:
    text = data.decode("utf-8-sig")
    changes = desk.store.compare(latest, replace(latest, text=text))
    context = BringPage(
        kind=latest.kind, id=latest.id, called=draft_of(latest.kind, latest.id, latest.text).name, file=name,
        data=base64.b64encode(data).decode(), base=latest.number, version=latest.version, by=desk.name_of(latest.by),
        at=latest.at[:16].replace("T", " "), is_same=text == latest.text, is_newer=is_newer,
        changes=changes[:_MOST_CHANGES], more=max(0, len(changes) - _MOST_CHANGES), may_copy=latest.kind in COPIED,
    )  # fmt: skip
    return Page(template="bring.html", title=f"Bring in {name}", context=context, status=409 if is_newer else 200)
