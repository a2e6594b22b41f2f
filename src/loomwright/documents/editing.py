"""One value or one entry of a document changed in its text, so that everything else stays as it was written.

It works on documents that are not complete or not in order yet: what is changed is the text and its plain values, not
the model. Comments of other entries stay. Where a text is written in a way that cannot be cut line by line, the whole
document is written anew; whichever way is taken, the text that comes out is read again and must mean what was wanted.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from loomwright.documents.reading import Path, Source, Tree, read_tree
from loomwright.documents.writing import dump_tree
from loomwright.errors import DocumentError

__all__ = ["value_at", "with_item", "with_items", "with_values", "without_item"]

_ITEM = re.compile(r"( *)- ")
_ASIDE = re.compile(r"\s*(#.*)?$")


def value_at(tree: Tree, path: Sequence[str | int]) -> Any:
    """Return what stands at a path of keys and indexes, `None` where nothing does."""
    here: Any = tree.value
    for step in path:
        if isinstance(here, dict) and isinstance(step, str):
            here = here.get(step)
        elif isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
            here = here[step]
        else:
            return None
    return here


def with_item(text: str, path: Sequence[str], index: int | None, item: object) -> str:
    """Return the text with one item of a list put in place of another, or added at its end.

    Parameters
    ----------
    text
        The text of a document.
    path
        Keys that lead to the list, such as ``("controller", "terminals")``; a list that is not there is begun.
    index
        Which item to replace, or `None` to add one.
    item
        What stands there from now on, in plain values.

    Raises
    ------
    DocumentError
        Where the text is no YAML of a document.
    IndexError
        Where the list has no such item.
    """
    tree = read_tree(Source(file="document", text=text))
    items = _list_at(tree, path)
    if index is not None and not 0 <= index < len(items):
        raise IndexError(index)
    wanted = [*items, item] if index is None else [*items[:index], item, *items[index + 1 :]]
    expected = _with(tree.value, path, wanted)
    return _first_that_means(expected, _spliced(tree, text, path, index, _lines_of([item])))


def with_items(text: str, path: Sequence[str], items: Sequence[object]) -> str:
    """Return the text with several items added at the end of a list; raises DocumentError as `with_item` does."""
    tree = read_tree(Source(file="document", text=text))
    expected = _with(tree.value, path, [*_list_at(tree, path), *items])
    return _first_that_means(expected, _spliced(tree, text, path, None, _lines_of(items)))


def without_item(text: str, path: Sequence[str], index: int) -> str:
    """Return the text without one item of a list; a list that becomes empty is left out with its key.

    Raises DocumentError and IndexError as `with_item` does.
    """
    tree = read_tree(Source(file="document", text=text))
    items = _list_at(tree, path)
    if not 0 <= index < len(items):
        raise IndexError(index)
    wanted = [*items[:index], *items[index + 1 :]]
    expected = _with(tree.value, path, wanted or None)
    cut = _spliced(tree, text, path, index, []) if wanted else None
    return _first_that_means(expected, cut)


def with_values(text: str, path: Sequence[str], values: Mapping[str, object]) -> str:
    """Return the text with some keys of a mapping set; a value of `None` leaves its key out.

    Raises DocumentError as `with_item` does.
    """
    tree = read_tree(Source(file="document", text=text))
    expected: dict[str, Any] = tree.value
    new: str | None = text
    for key, value in values.items():
        expected = _with(expected, (*path, key), value)
        new = None if new is None else _with_key(new, (*path, key), value)
    return _first_that_means(expected, new)


def _list_at(tree: Tree, path: Sequence[str]) -> list[Any]:
    found = value_at(tree, path)
    return found if isinstance(found, list) else []


def _with(value: Any, path: Sequence[str], wanted: Any) -> dict[str, Any]:
    """Return a mapping with the value of a path set; `None` takes its key away."""
    key, *rest = path
    data = dict(value) if isinstance(value, dict) else {}
    inner = _with(data.get(key), rest, wanted) if rest else wanted
    if inner is None:
        data.pop(key, None)
    else:
        data[key] = inner
    return data


def _first_that_means(expected: dict[str, Any], cut: str | None) -> str:
    if cut is not None:
        try:
            if read_tree(Source(file="document", text=cut)).value == expected:
                return cut
        except DocumentError:
            pass  # the text is written in a way that this module does not know
    return dump_tree(expected)


def _lines_of(value: object) -> list[str]:
    """Return the lines of a value as they stand below a key."""
    return [line.removeprefix("  ") for line in dump_tree({"x": value}).splitlines()[1:]]


def _spliced(tree: Tree, text: str, path: Sequence[str], index: int | None, new: list[str]) -> str | None:
    lines = text.splitlines()
    count = len(_list_at(tree, path))
    at: list[int] = []
    for n in range(count):
        line = tree.lines.get((*path, n))
        if line is None or not _ITEM.match(lines[line - 1]):
            return None
        at.append(line - 1)
    if not at:
        return None
    found = _ITEM.match(lines[at[0]])
    indent = found[1] if found else ""
    ends = [*at[1:], _end(lines, at[-1], len(indent))]
    which = count - 1 if index is None else index
    begin, end = at[which], ends[which]
    while end > begin + 1 and _ASIDE.match(lines[end - 1]):
        end -= 1  # comments above the next entry are that entry's
    put = [f"{indent}{line}" if line else "" for line in new]
    return _joined([*lines[: end if index is None else begin], *put, *lines[end:]])


def _end(lines: Sequence[str], start: int, indent: int) -> int:
    """Return the first line after an item of a list that belongs to none of its items."""
    for n in range(start + 1, len(lines)):
        line = lines[n]
        if _ASIDE.match(line):
            continue
        inner = len(line) - len(line.lstrip(" "))
        if inner < indent or (inner == indent and not line.lstrip(" ").startswith("- ")):
            return n
    return len(lines)


def _with_key(text: str, path: Path, value: object) -> str | None:
    """Return the text with a key of block style set, added or taken away; `None` where that cannot be done by lines."""
    lines = text.splitlines()
    begin, end, indent = 0, len(lines), ""
    for depth, step in enumerate(path):
        at = next((n for n in range(begin, end) if re.match(rf"{indent}{re.escape(str(step))}:(\s|$)", lines[n])), None)
        last = depth == len(path) - 1
        if at is None:
            if not last:
                return None
            at = to = _behind(lines, begin, end)
        else:
            to = _behind(lines, at, next((n for n in range(at + 1, end) if _is_next(lines[n], indent)), end))
        if last:
            put = [] if value is None else [f"{indent}{line}" for line in dump_tree({str(step): value}).splitlines()]
            return _joined([*lines[:at], *put, *lines[to:]])
        begin, end = at + 1, to
        inner = next((line for line in lines[begin:end] if not _ASIDE.match(line)), "")
        indent = inner[: len(inner) - len(inner.lstrip(" "))]
    return None


def _is_next(line: str, indent: str) -> bool:
    """Tell whether a line begins what comes after a key of this indent; a list may stand as deep as its key."""
    inner = line.lstrip(" ")
    return not _ASIDE.match(line) and len(line) - len(inner) <= len(indent) and not inner.startswith("- ")


def _behind(lines: Sequence[str], begin: int, end: int) -> int:
    while end > begin + 1 and _ASIDE.match(lines[end - 1]):
        end -= 1
    return end


def _joined(lines: Sequence[str]) -> str:
    return "".join(f"{line}\n" for line in lines)
