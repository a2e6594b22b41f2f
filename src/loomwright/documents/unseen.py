"""Characters that nobody sees and that change what is seen: controls, and marks that turn the direction of writing.

A name with one of them may read as another name than it is, on a screen, on paper and in a message. Scripts that are
written from right to left need none of them.
"""

import re
from collections.abc import Iterator

__all__ = ["unseen_in", "without_unseen"]

# Source: the Unicode Standard 17.0, chapter 23 (controls, separators of lines, noncharacters, tags) and Unicode
# Standard Annex 9, section 2 (embeddings, overrides, isolates). Tab and the usual line ends are let through, and so are
# the joiners that some scripts are spelled with.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufff9-\ufffb"
    "\ufffe\uffff\U000e0000-\U000e007f]"
)


def without_unseen(text: str) -> str:
    """Return a text without such characters."""
    return _UNSEEN.sub("", text)


def unseen_in(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Yield path and first such character of every text in plain values, keys included."""
    if isinstance(value, str):
        if found := _UNSEEN.search(value):
            yield path, found[0]
    elif isinstance(value, dict):
        for key, inner in value.items():
            if found := _UNSEEN.search(key):
                yield (*path, key), found[0]
            yield from unseen_in(inner, (*path, key))
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from unseen_in(inner, (*path, place))
