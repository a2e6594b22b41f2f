"""Photographs of vehicles, places, plugs, circuits, ground points and kits: taken in, shown, taken away."""

from collections.abc import Iterator
from typing import Any

from loomwright.store.values import Revision
from loomwright.web.asking import Answer, Ask, Bytes, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import NotKept, keep_edit, opened
from loomwright.web.edits import Edit, item_set, values_set
from loomwright.web.forms.draft import Draft
from loomwright.web.forms.sections import named
from loomwright.web.page_edit import kind_and_id, section_of
from loomwright.web.photos import attached_named, new_photo

__all__ = ["keep", "picture"]


def picture(desk: Desk, ask: Ask) -> Answer:
    """Return a photograph; its name has a mark of its content, so browsers may keep it."""
    kind, id = kind_and_id(ask)

    def revisions() -> Iterator[Revision]:
        yield desk.revision(kind, id)
        if kind == "vehicle":
            yield from desk.evidence_revisions(id)

    found = attached_named(desk, revisions(), ask.path["name"])
    if not found.media_type.startswith("image/") or "svg" in found.media_type:
        raise WebError(404, "There is no such picture here.")
    name = found.name.rpartition("/")[2]
    return Bytes(data=desk.store.bytes_of(found), media_type=found.media_type, name=name, inline=True)


def keep(desk: Desk, ask: Ask) -> Answer:
    """Keep a photograph with an entry, or take it away from there; the versions before keep theirs."""
    kind, id = kind_and_id(ask)
    doc = opened(desk, ask, kind, id)
    path, index, back = _where(ask, doc.was)
    raw = _entry(doc.was, path, index)
    upload = ask.files.get("photo")
    if ask.sent("take") == "away":
        found = keep_edit(desk, ask, doc, _edit(path, index, raw, None), back)
    else:
        shows = ask.sent("shows") or named(raw)
        if upload is None or not upload.data:
            raise WebError(
                400, "Found no picture, expected a photograph. Go back, choose or take one, and send it again."
            )
        try:
            photo, attachment = new_photo(upload, str(raw.get("id") or id), shows[:300])
        except ValueError as problem:
            said = str(problem)
            raise WebError(422, f"{said[:1].upper()}{said[1:]}. Go back and choose another one.") from problem
        edit = _edit(path, index, raw, {"file": photo.file, "shows": photo.shows})
        found = keep_edit(desk, ask, doc, edit, back, (attachment,))
    if isinstance(found, NotKept):
        who = "Somebody saved this first" if found.theirs is None else f"{found.theirs.by} saved this first"
        raise WebError(found.status, f"{who}. Go back, load the page again, and send the picture once more.")
    return found


def _where(ask: Ask, draft: Draft) -> tuple[tuple[str, ...], int | None, str]:
    """Return the path of the section, the place of the entry, and where the browser goes next."""
    key, nth = ask.sent("section"), ask.sent("nth") or "0"
    if not nth.isascii() or not nth.isdecimal() or len(nth) > 4:
        raise WebError(400, "The form does not say what the picture belongs to. Load the page again.")
    base = f"/{draft.kind}s/{draft.id}"
    if key == draft.kind:
        return (), None, f"{base}/edit"
    if key == "circuits" and draft.kind == "vehicle":
        ids = [str(raw.get("id", "")) for raw in draft.items(("circuits",))]
        at = int(nth) - 1
        if not 0 <= at < len(ids):
            raise WebError(404, f"{draft.name} has no circuit {nth}.")
        order = ids[: at + 1].count(ids[at])
        return ("circuits",), at, f"{base}/circuits/{ids[at]}{f'?nth={order}' if order > 1 else ''}"
    section = section_of(draft.kind, key)
    if "photo" not in section.model.model_fields:
        raise WebError(400, f"A {section.one} has no picture.")
    return section.path, None if section.single else int(nth) - 1, f"{base}/edit/{key}/{nth}"


def _entry(draft: Draft, path: tuple[str, ...], index: int | None) -> dict[str, Any]:
    if index is None:
        found = draft.at(*path) if path else draft.tree.value
        return found if isinstance(found, dict) else {}
    items = draft.items(path)
    if not 0 <= index < len(items):
        raise WebError(404, f"{draft.name} has no such entry.")
    return items[index]


def _edit(path: tuple[str, ...], index: int | None, raw: dict[str, Any], photo: dict[str, str] | None) -> Edit:
    if index is None:
        return values_set(path, {"photo": photo})
    rest = {key: value for key, value in raw.items() if key != "photo"}
    return item_set(path, index, {**rest, "photo": photo} if photo else rest)
