"""Documents changed part by part: a change is kept as a new version, unless somebody saved the same first."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.documents.checking import check_documents
from loomwright.documents.editing import with_item, with_items, with_values, without_item
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError, Message
from loomwright.store.values import Attachment, Conflict, Revision
from loomwright.web.asking import Ask, WebError
from loomwright.web.desk import Desk
from loomwright.web.forms.draft import Draft, draft_of
from loomwright.web.forms.translated import without_lost_translations

__all__ = [
    "Edit", "NotKept", "Theirs", "base_of", "dropped", "faults_of", "found_draft", "housings", "item_set", "keep_edit",
    "many_added", "values_set",
]  # fmt: skip

_LOOKED_AT = 40
_HOUSING = re.compile(r"\bhousing: \"?([a-z0-9][a-z0-9.-]*)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change of a document.

    `over` gives the text with the change made, or `None` where what it was about is not the same any more as in the
    version from which the form was made.
    """

    over: Callable[[Draft, Draft], str | None]  # (version of the form, latest version) -> text


@dataclass(frozen=True, slots=True, kw_only=True)
class Theirs:
    """What somebody else saved first: who, when, and what they changed."""

    by: str
    at: str
    changes: tuple[str, ...]


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


def found_draft(desk: Desk, kind: str, id: str) -> tuple[Revision, Draft]:
    """Return the latest version of a document as far as it was entered.

    Raises WebError where there is none.
    """
    revision = desk.revision(kind, id)
    return revision, draft_of(kind, id, revision.text)


def faults_of(desk: Desk, kind: str, id: str, text: str) -> tuple[Message, ...]:
    """Return what the check says of a document with this text."""
    try:
        loaded = read_document(Source(file=f"{kind}/{id}", text=text), MODELS)
        records = desk.evidence_revisions(id) if kind == "vehicle" else ()
        return check_documents([loaded, *(desk.loaded(r) for r in records)], whole=False)
    except DocumentError as problem:
        return problem.messages


def keep_edit(
    desk: Desk, ask: Ask, kind: str, id: str, edit: Edit, attach: tuple[Attachment, ...] = ()
) -> Revision | NotKept:
    """Keep a change as a new version, or say why not.

    A change elsewhere in the document, saved while the form was open, is kept beside this one. A document that is in
    order does not get out of it unless the form says so.
    """
    latest, now = found_draft(desk, kind, id)
    base = base_of(desk, ask, latest)
    text = edit.over(draft_of(kind, id, base.text), now)
    if text is None:
        return NotKept(base=latest.number, theirs=_theirs(desk, base, latest))
    text = without_lost_translations(now, draft_of(kind, id, text))
    if not ask.sent("anyway") and not desk.faults(kind, id) and (wrong := faults_of(desk, kind, id, text)):
        return NotKept(base=latest.number, messages=wrong)
    try:
        return desk.store.save(kind, id, text, by=desk.worker(ask.who), base=latest, attach=attach)
    except Conflict as problem:  # in the very moment between reading and saving
        return NotKept(base=problem.theirs.number, theirs=_theirs(desk, latest, problem.theirs))


def base_of(desk: Desk, ask: Ask, latest: Revision) -> Revision:
    """Return the version from which a form was made.

    Raises WebError where the form does not say it, or it is one of another document.
    """
    number = ask.sent("base")
    if not number.isascii() or not number.isdecimal() or len(number) > 15:
        raise WebError(400, "The form does not say which version it was made from. Load the page again.")
    found = desk.store.at(int(number))
    if (found.kind, found.id) != (latest.kind, latest.id):
        raise WebError(400, "The form was made from another document. Load the page again.")
    return found


def _theirs(desk: Desk, base: Revision, latest: Revision) -> Theirs:
    changes = desk.store.compare(base, latest)
    said = tuple(f"{c.path}: {c.before or 'nothing'} became {c.after or 'nothing'}" for c in changes[:20])
    return Theirs(by=desk.name_of(latest.by), at=latest.at[:16], changes=said)


def _moved(base: Draft, now: Draft, path: tuple[str, ...], index: int) -> int | None:
    """Return where an entry stands now that is as it was, `None` where there is none or more than one."""
    before, items = base.items(path), now.items(path)
    if not 0 <= index < len(before):
        return None
    if index < len(items) and items[index] == before[index]:
        return index
    same = [n for n, item in enumerate(items) if item == before[index]]
    return same[0] if len(same) == 1 else None


def item_set(path: tuple[str, ...], index: int | None, raw: object) -> Edit:
    """Return the change that puts an entry in place of another, or adds one.

    Where somebody changed other keys of the same entry, the changes of both are kept.
    """

    def over(base: Draft, now: Draft) -> str | None:
        if index is None:
            return with_item(now.text, path, None, raw)
        at = _moved(base, now, path, index)
        if at is not None:
            return with_item(now.text, path, at, raw)
        before, items = base.items(path), now.items(path)
        if not 0 <= index < len(before) or not isinstance(raw, Mapping):
            return None
        same = [n for n, item in enumerate(items) if "id" in item and item["id"] == before[index].get("id")]
        joined = _joined(before[index], raw, items[same[0]]) if len(same) == 1 else None
        return None if joined is None else with_item(now.text, path, same[0], joined)

    return Edit(over=over)


def _joined(before: Mapping[str, Any], mine: Mapping[str, Any], theirs: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return an entry with the changes of both, `None` where both changed the same key in different ways."""
    joined: dict[str, Any] = {}
    for key in dict.fromkeys((*theirs, *mine)):
        was, ours, other = before.get(key), mine.get(key), theirs.get(key)
        if other not in (was, ours) and ours != was:
            return None
        value = other if ours == was else ours
        if value is not None:
            joined[key] = value
    return joined


def many_added(path: tuple[str, ...], entries: tuple[Mapping[str, Any], ...], also: Edit | None = None) -> Edit:
    """Return the change that adds several entries to a list, on top of another change."""

    def over(base: Draft, now: Draft) -> str | None:
        text = now.text if also is None else also.over(base, now)
        return text if text is None or not entries else with_items(text, path, entries)

    return Edit(over=over)


def dropped(path: tuple[str, ...], index: int) -> Edit:
    """Return the change that takes an entry away."""

    def over(base: Draft, now: Draft) -> str | None:
        at = _moved(base, now, path, index)
        return None if at is None else without_item(now.text, path, at)

    return Edit(over=over)


def values_set(path: tuple[str, ...], values: Mapping[str, object]) -> Edit:
    """Return the change that sets some keys of a mapping; `None` takes a key away."""

    def over(base: Draft, now: Draft) -> str | None:
        if any(base.at(*path, key) != now.at(*path, key) for key in values):
            return None
        return with_values(now.text, path, values)

    return Edit(over=over)


def housings(desk: Desk) -> tuple[str, ...]:
    """Return the housing types that the kits and the vehicles changed last name, to be offered while typing."""
    entries = desk.store.recent(("kit", "vehicle"), limit=_LOOKED_AT)
    texts = (desk.store.at(entry.number).text for entry in entries)
    return tuple(sorted({found for text in texts for found in _HOUSING.findall(text)}))
