"""A document kept a second time under an id and a name of its own, with its photographs."""

from collections.abc import Iterable

from loomwright.documents.editing import with_item, with_values
from loomwright.store.values import Attachment, Revision
from loomwright.web.desk import Desk
from loomwright.web.forms.draft import Draft, draft_of

__all__ = ["COPIED", "save_copy"]

COPIED = ("vehicle", "kit")
"""Kinds of which a shop may have a copy. Evidence twice would count what was measured once as measured twice."""

_LONGEST = 100  # letters of an id that a copy's id begins with; ids have at most 120


def save_copy(desk: Desk, of: Revision, text: str, *, by: str, attach: Iterable[Attachment] = ()) -> Revision:
    """Keep a text that was made from a document as a new document.

    Parameters
    ----------
    desk
        Whose store keeps it.
    of
        The revision from which the text was made: its photographs come along.
    text
        The text, with the id and the name of the document it was made from.
    by
        Id of the person.
    attach
        Photographs that the text names beyond those of `of`.
    """
    number = _free_number(desk, of)
    count = f" {number}" if number > 1 else ""
    id = _id_of(of, number)
    named = _named(draft_of(of.kind, of.id, text), f"(copy{count})")
    photos = {
        one.name: Attachment(name=one.name, media_type=one.media_type, data=desk.store.bytes_of(one))
        for one in desk.store.attachments(of)
    } | {one.name: one for one in attach}
    return desk.store.save(of.kind, id, with_values(named, (), {"id": id}), by=by, attach=tuple(photos.values()))


def _id_of(of: Revision, number: int) -> str:
    return f"{of.id[:_LONGEST].rstrip('-.')}-copy" + (f"-{number}" if number > 1 else "")


def _free_number(desk: Desk, of: Revision) -> int:
    """Return which copy this is; an id that was ever used, a removed document's too, is not free."""
    number = 1
    while desk.store.revisions(of.kind, _id_of(of, number)):
        number += 1
    return number


def _named(draft: Draft, mark: str) -> str:
    """Return the text with a mark behind its name: behind the model of every badge, where it is a vehicle."""
    text = draft.text
    if draft.kind != "vehicle":
        return with_values(text, (), {"name": f"{draft.name} {mark}"})
    for n, badge in enumerate(draft.items(("names",))):
        if badge.get("model"):
            text = with_item(text, ("names",), n, {**badge, "model": f"{badge['model']} {mark}"})
    return text
