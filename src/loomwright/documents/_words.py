"""Values, choices and near misses in plain words: the vocabulary of the messages about documents."""

import difflib
from collections.abc import Iterable

__all__ = ["alternatives", "choices", "nearest", "quoted", "show"]

_SHOWN = 48  # characters of a text that a message repeats
_LISTED = 12  # choices that a message lists in full
_COMPARED = 80  # a longer word is no slip of the pen, and comparing it takes long


def quoted(text: str) -> str:
    """Return the text in quotes that it does not hold itself, on one line, cut where it is long."""
    short = text if len(text) <= _SHOWN else f"{text[: _SHOWN - 3]}..."
    mark = '"' if "'" in short and '"' not in short else "'"
    shown = "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in short)
    return f"{mark}{shown}{mark}"


def show(value: object) -> str:
    """Return what stands in a document, as a message names it."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"the number {str(value)[:_SHOWN]}"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        keys = [quoted(str(key)) for key in list(value)[:4]]
        more = ", ..." if len(value) > len(keys) else ""
        return f"a block with the keys {', '.join(keys)}{more}" if keys else "an empty block"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}" if value else "an empty list"
    return quoted(str(value))


def nearest(word: str, options: Iterable[str]) -> str | None:
    """Return the option that somebody who wrote `word` most likely meant, or `None`."""
    if len(word) > _COMPARED:
        return None
    plain = {_plain(option): option for option in reversed(list(options))}
    found = difflib.get_close_matches(_plain(word), plain, n=1, cutoff=0.6)
    return plain[found[0]] if found else None


def choices(options: Iterable[object], word: str | None = None) -> str:
    """Return 'one of ...': every choice where they are few, else the ones that come closest to `word`."""
    shown = {str(option): quoted(option) if isinstance(option, str) else str(option) for option in options}
    if len(shown) == 1:
        return next(iter(shown.values()))
    if len(shown) <= _LISTED:
        return f"one of {', '.join(shown.values())}"
    close = difflib.get_close_matches(word, shown, n=5, cutoff=0.4) if word and len(word) <= _COMPARED else []
    listed = ", ".join(shown[name] for name in close or list(shown)[:5])
    return f"one of {listed}, ... ({len(shown)} in all)"


def alternatives(phrases: Iterable[str]) -> str:
    """Join phrases by commas and 'or'."""
    *others, last = dict.fromkeys(phrases)
    return f"{', '.join(others)} or {last}" if others else last


def _plain(word: str) -> str:
    return word.lower().replace("-", "_").replace(" ", "_")
