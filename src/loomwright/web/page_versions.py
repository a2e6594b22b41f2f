"""Every version of a document: who saved it, what changed, and any of them brought back."""

from dataclasses import dataclass

from loomwright.store.values import Change, Conflict, Entry
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import found_draft
from loomwright.web.page_edit import kind_and_id

__all__ = ["bring_back", "show"]

_SHOWN, _MOST_CHANGES = 30, 40
_COMPARED = 4  # each takes two texts to be read; of the others one is compared when it is asked for


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionView:
    """One version with what it changed in the one before."""

    number: int
    version: int
    by: str
    at: str
    action: str
    is_compared: bool
    changes: tuple[Change, ...]
    more: int


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionsPage:
    """The versions of a document, newest first."""

    kind: str
    id: str
    name: str
    latest: int
    versions: tuple[VersionView, ...]
    older: int


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the versions."""
    kind, id = kind_and_id(ask)
    latest, draft = found_draft(desk, kind, id)
    entries = desk.store.revisions(kind, id)
    shown = entries[-_SHOWN:]
    before = {entry.number: entries[n - 1] if n else None for n, entry in enumerate(entries)}
    context = VersionsPage(
        kind=kind, id=id, name=draft.name, latest=latest.number, older=len(entries) - len(shown),
        versions=tuple(
            _view(desk, entry, before[entry.number], compare=n < _COMPARED or ask.one("look") == str(entry.version))
            for n, entry in enumerate(reversed(shown))
        ),
    )  # fmt: skip
    return Page(template="versions.html", title=f"Versions of {draft.name}", context=context)


def _view(desk: Desk, entry: Entry, before: Entry | None, *, compare: bool) -> VersionView:
    changes: tuple[Change, ...] = ()
    if before is not None and compare:
        changes = desk.store.compare(desk.store.at(before.number), desk.store.at(entry.number))
    return VersionView(
        number=entry.number, version=entry.version, by=desk.name_of(entry.by), at=entry.at[:16].replace("T", " "),
        action=entry.action, is_compared=compare or before is None, changes=changes[:_MOST_CHANGES],
        more=max(0, len(changes) - _MOST_CHANGES),
    )  # fmt: skip


def bring_back(desk: Desk, ask: Ask) -> Answer:
    """Make an older version the newest; those between stay."""
    kind, id = kind_and_id(ask)
    latest, _ = found_draft(desk, kind, id)
    number = ask.sent("number")
    entries = {str(entry.number): entry for entry in desk.store.revisions(kind, id)}
    if number not in entries:
        raise WebError(400, f"Found {number[:20]!r}, expected the number of a version of {id}. Load the page again.")
    if ask.sent("latest") != str(latest.number):
        raise WebError(409, "Somebody saved another version while this page was open. Load it again and look first.")
    try:
        old = desk.store.at(entries[number].number)
        desk.store.save(kind, id, old.text, by=desk.worker(ask.who), base=latest)
    except Conflict as problem:
        raise WebError(409, "Somebody saved another version at this moment. Load the page again.") from problem
    return Redirect(to=f"/{kind}s/{id}/edit")
