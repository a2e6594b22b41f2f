"""Changes of a document, each made over the latest version so that what others changed elsewhere in it stays."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.documents.editing import with_item, with_items, with_values, without_item
from loomwright.web.forms.draft import Draft

__all__ = ["Edit", "dropped", "item_set", "many_added", "stands_at", "values_set"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change of a document.

    `over` gives the text with the change made, or `None` where what it was about is not the same any more as in the
    version from which the form was made.
    """

    over: Callable[[Draft, Draft], str | None]  # (version of the form, latest version) -> text
    takes_away: bool = False  # then nothing was typed that a copy would keep


def stands_at(was: Draft, now: Draft, path: tuple[str, ...], index: int) -> int | None:
    """Return where an entry stands now, changed or not; those of one id keep their order."""
    if (same := _moved(was, now, path, index)) is not None:
        return same
    before, items = was.items(path), now.items(path)
    if not 0 <= index < len(before):
        return None
    id = before[index].get("id")
    if id is None:
        return index if len(before) == len(items) else None
    there = [n for n, item in enumerate(items) if item.get("id") == id]
    twins = [n for n, item in enumerate(before) if item.get("id") == id]
    return there[twins.index(index)] if len(there) == len(twins) else None


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

    return Edit(over=over, takes_away=True)


def values_set(path: tuple[str, ...], values: Mapping[str, object]) -> Edit:
    """Return the change that sets some keys of a mapping; `None` takes a key away."""

    def over(base: Draft, now: Draft) -> str | None:
        if any(base.at(*path, key) != now.at(*path, key) for key in values):
            return None
        return with_values(now.text, path, values)

    return Edit(over=over, takes_away=all(value is None for value in values.values()))
