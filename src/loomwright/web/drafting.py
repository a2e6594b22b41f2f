"""Documents changed part by part: a change is kept as a new version, unless somebody saved the same first."""

import re
from dataclasses import dataclass, replace
from textwrap import shorten

from loomwright.errors import Message
from loomwright.store.values import Attachment, Change, Conflict, Revision
from loomwright.web.asking import Ask, Redirect, WebError
from loomwright.web.copying import save_copy
from loomwright.web.desk import Desk
from loomwright.web.edits import Edit, stands_at
from loomwright.web.forms.draft import Draft, draft_of
from loomwright.web.forms.translated import without_lost_translations

__all__ = [
    "NotKept", "Opened", "Theirs", "again_at", "found_draft", "housings", "keep_edit", "opened", "theirs_of",
]  # fmt: skip

_LOOKED_AT, _TOLD, _SHOWN = 40, 20, 160
_HOUSING = re.compile(r"\bhousing: \"?([a-z0-9][a-z0-9.-]*)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Theirs:
    """What somebody else saved first: who, when, and what they changed.

    `mine` is the number of the version the form was made from, to which a copy goes back; 0 where there is nothing to
    be copied. `is_gone` tells that what the form is about is not there any more.
    """

    kind: str
    by: str
    at: str
    changes: tuple[str, ...]
    mine: int = 0
    is_gone: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NotKept:
    """Why nothing was kept.

    `messages` are what the check says of the document with the change, where it was in order before: the person may
    keep it all the same.
    """

    base: int
    theirs: Theirs | None = None
    messages: tuple[Message, ...] = ()

    @property
    def status(self) -> int:
        """The status of the page that tells it."""
        return 409 if self.theirs is not None else 422


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A document as a form saw it and as it is now; for a copy both are what the form saw."""

    base: Revision
    latest: Revision
    was: Draft
    now: Draft
    is_copy: bool = False


def found_draft(desk: Desk, kind: str, id: str) -> tuple[Revision, Draft]:
    """Return the latest version of a document as far as it was entered.

    Raises WebError where there is none.
    """
    revision = desk.revision(kind, id)
    return revision, draft_of(kind, id, revision.text)


def opened(desk: Desk, ask: Ask, kind: str, id: str) -> Opened:
    """Return the document of a form that was sent, with the version from which the form was made.

    Places in lists that the form names are those of that version.

    Raises WebError where the form does not say it, or it is one of another document.
    """
    latest, now = found_draft(desk, kind, id)
    copied = ask.sent("copy")
    base = _version(desk, copied or ask.sent("base"), latest)
    was = now if base.number == latest.number else draft_of(kind, id, base.text)
    return Opened(base=base, latest=latest, was=was, now=was if copied else now, is_copy=bool(copied))


def _version(desk: Desk, number: str, latest: Revision) -> Revision:
    if not number.isascii() or not number.isdecimal() or len(number) > 15:
        raise WebError(400, "The form does not say which version it was made from. Load the page again.")
    found = desk.store.at(int(number))
    if (found.kind, found.id) != (latest.kind, latest.id):
        raise WebError(400, "The form was made from another document. Load the page again.")
    return found


def keep_edit(
    desk: Desk, ask: Ask, doc: Opened, edit: Edit, then: str, attach: tuple[Attachment, ...] = ()
) -> Redirect | NotKept:
    """Keep a change as a new version and say where the browser goes, or say why not.

    A change elsewhere in the document, saved while the form was open, is kept beside this one. A document that is in
    order does not get out of it unless the form says so. Where the form says so, what was typed becomes a document of
    its own, made from the version that the form saw.

    Parameters
    ----------
    desk
        Whose store keeps it.
    ask
        The form.
    doc
        The document as `opened` gave it.
    edit
        The change.
    then
        The address to go to once the change is kept.
    attach
        Photographs that come with the change.
    """
    kind, id = doc.latest.kind, doc.latest.id
    by = desk.worker(ask.who)
    text = edit.over(doc.was, doc.now)
    if text is None:
        return NotKept(base=doc.latest.number, theirs=theirs_of(desk, doc.base, doc.latest, edit))
    text = without_lost_translations(doc.now, draft_of(kind, id, text))
    if doc.is_copy:
        copy = save_copy(desk, doc.base, text, by=by, attach=attach)
        return Redirect(to=f"/{kind}s/{copy.id}/edit?copy-of={id}")
    if not ask.sent("anyway") and not desk.faults(kind, id) and (wrong := desk.faults_in(kind, id, text)):
        return NotKept(base=doc.latest.number, messages=wrong)
    try:
        desk.store.save(kind, id, text, by=by, base=doc.latest, attach=attach)
    except Conflict as problem:  # in the very moment between reading and saving
        return NotKept(base=problem.theirs.number, theirs=theirs_of(desk, doc.base, problem.theirs, edit))
    return Redirect(to=then)


def theirs_of(desk: Desk, base: Revision, latest: Revision, edit: Edit | None = None) -> Theirs:
    """Return what was saved since a version that somebody worked from."""
    changes = desk.store.compare(base, latest)
    own = [c for c in changes if not c.path.startswith("translations")]
    said = [_said(change) for change in own[:_TOLD]]
    if len(own) > _TOLD:
        said.append(f"and {len(own) - _TOLD} more")
    if len(changes) > len(own):
        said.append("and translations of it")
    mine = 0 if edit is not None and edit.takes_away else base.number
    return Theirs(kind=latest.kind, by=desk.name_of(latest.by), at=latest.at[:16], changes=tuple(said), mine=mine)


def _said(change: Change) -> str:
    """Return a difference in words; of a whole entry as much as tells which one it is."""
    both = (change.before, change.after)
    before, after = (shorten(text, _SHOWN, placeholder=" …") if text else text for text in both)
    if before is None:
        return f"{change.path}: new, {after}"
    return f"{change.path}: gone, it was {before}" if after is None else f"{change.path}: {before} became {after}"


def again_at(doc: Opened, path: tuple[str, ...], index: int | None, told: NotKept) -> tuple[Draft, int | None, NotKept]:
    """Return with which version, at which place of its list and with what words a form is shown once more.

    An entry may have moved meanwhile. One that is gone is shown as it was: nothing can be saved over it.
    """
    if index is None:
        return doc.now, None, told
    at = stands_at(doc.was, doc.now, path, index)
    if at is not None:
        return doc.now, at, told
    theirs = None if told.theirs is None else replace(told.theirs, is_gone=True)
    return doc.was, index, NotKept(base=doc.base.number, theirs=theirs, messages=told.messages)


def housings(desk: Desk) -> tuple[str, ...]:
    """Return the housing types that the kits and the vehicles changed last name, to be offered while typing."""
    entries = desk.store.recent(("kit", "vehicle"), limit=_LOOKED_AT)
    texts = (desk.store.at(entry.number).text for entry in entries)
    return tuple(sorted({found for text in texts for found in _HOUSING.findall(text)}))
