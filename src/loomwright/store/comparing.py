"""What differs between two texts of a document, value by value."""

import json
from collections.abc import Iterator
from typing import Any, TypeAlias

from loomwright.documents.reading import Path, Source, Tree, read_tree
from loomwright.store.values import Change

__all__ = ["changes"]

# For the old and the new mapping or list: what its items are followed by -> where they stand.
_Places: TypeAlias = tuple[dict[str, str | int], dict[str, str | int]]


def changes(before: str, after: str) -> tuple[Change, ...]:
    """Return the differences between two texts, in the order of the second; what was taken away comes after the rest.

    Items of a list that have an `id` of their own, or as translations do a `text` of which they speak, are followed by
    it, so that a circuit put in at the top does not change all the others. Comments and layout are no difference.

    Parameters
    ----------
    before, after
        Texts of two documents.

    Raises
    ------
    DocumentError
        Where one of them cannot be read.
    """
    trees = read_tree(Source(file="before", text=before)), read_tree(Source(file="after", text=after))
    return tuple(_between(trees, trees[0].value, trees[1].value, (), ()))


def _between(trees: tuple[Tree, Tree], old: Any, new: Any, at_old: Path, at_new: Path) -> Iterator[Change]:
    if type(old) is type(new) and old == new:
        return
    if isinstance(old, dict) and isinstance(new, dict):
        places: _Places = {key: key for key in old}, {key: key for key in new}
    elif isinstance(old, list) and isinstance(new, list):
        places = _places(old, new)
    else:
        yield Change(path=trees[1].named(at_new), before=_shown(old), after=_shown(new))
        return
    for name, place in places[1].items():
        value = new[place]
        if name in places[0]:
            was = places[0][name]
            yield from _between(trees, old[was], value, (*at_old, was), (*at_new, place))
        else:
            yield Change(path=trees[1].named((*at_new, place)), before=None, after=_shown(value))
    for name, was in places[0].items():
        if name not in places[1]:
            yield Change(path=trees[0].named((*at_old, was)), before=_shown(old[was]), after=None)


def _places(old: list[object], new: list[object]) -> _Places:
    ids = _ids(old), _ids(new)
    if ids[0] is None or ids[1] is None:
        return {str(place): place for place in range(len(old))}, {str(place): place for place in range(len(new))}
    return {name: place for place, name in enumerate(ids[0])}, {name: place for place, name in enumerate(ids[1])}


def _ids(items: list[object]) -> list[str] | None:
    """Return the ids of all items; `None` where one has none or one stands twice, as under two conditions."""
    ids = [item.get("id", item.get("text")) if isinstance(item, dict) else None for item in items]
    names = [str(name) for name in ids if name is not None]
    return names if len(set(names)) == len(items) else None


def _shown(value: object) -> str:
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
