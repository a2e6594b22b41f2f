"""Two people's texts made from the same one, put together where they did not touch the same lines."""

from collections.abc import Iterator
from difflib import SequenceMatcher
from itertools import pairwise

from loomwright.documents.reading import Source, read_tree
from loomwright.errors import DocumentError

__all__ = ["merged"]


def merged(base: str, mine: str, theirs: str) -> str | None:
    """Return a text with the changes of both, or `None` where a person has to decide.

    Changes that touch the same line or lines next to each other are left to a person: what belongs together in a
    document, such as the keys of one circuit, stands together. What comes out must be a document again.

    Parameters
    ----------
    base
        The text from which both were made.
    mine, theirs
        The two texts.
    """
    old = base.splitlines(keepends=True)
    edits = sorted({*_edits(old, mine.splitlines(keepends=True)), *_edits(old, theirs.splitlines(keepends=True))})
    for (_, end, _), (start, _, _) in pairwise(edits):
        if start <= end:
            return None
    lines: list[str] = []
    done = 0
    for start, end, new in edits:
        lines += [*old[done:start], *new]
        done = end
    text = "".join([*lines, *old[done:]])
    try:
        read_tree(Source(file="merged", text=text))
    except DocumentError:
        return None
    return text


def _edits(old: list[str], new: list[str]) -> Iterator[tuple[int, int, tuple[str, ...]]]:
    """Yield which lines of the old text are replaced by what."""
    for kind, start, end, new_start, new_end in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if kind != "equal":
            yield start, end, tuple(new[new_start:new_end])
