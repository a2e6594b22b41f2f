"""One entry of a document's list put in place of another in its text, so that everything else stays as it was written.

A document that is written anew from its values loses the comments people wrote into it.
"""

import re

from pydantic import BaseModel

from loomwright.documents.basis import Document
from loomwright.documents.reading import Loaded
from loomwright.documents.writing import dump_document

__all__ = ["with_entry"]

_ITEM = re.compile(r"( *)- ")
_TOP = re.compile(r"[^\s#-]")
_ASIDE = re.compile(r"\s*(#.*)?$")


def with_entry(loaded: Loaded, text: str, key: str, index: int | None, entry: BaseModel) -> str:
    """Return the text of a document with one entry of a list at its top replaced, or added at the end.

    Parameters
    ----------
    loaded
        The document as `read_document` gave it for the text.
    text
        Its text.
    key
        The list, such as ``circuits``.
    index
        Which entry to replace, or `None` to add one.
    entry
        What stands there from now on.

    Raises
    ------
    ValueError
        Where the document has no such list.
    """
    document = loaded.document
    entries = getattr(document, key, None)
    if not isinstance(document, Document) or not isinstance(entries, tuple):
        msg = f"{key}: found no list of that name at the top of the document"
        raise ValueError(msg)  # noqa: TRY004 - it is the name that is wrong
    changed = (*entries, entry) if index is None else (*entries[:index], entry, *entries[index + 1 :])
    spliced = _spliced(loaded, text, key, index, entry)
    # Where a list is written in a way that cannot be cut line by line, the whole document is written anew.
    return spliced if spliced is not None else dump_document(document.model_copy(update={key: changed}))


def _spliced(loaded: Loaded, text: str, key: str, index: int | None, entry: BaseModel) -> str | None:
    lines = text.splitlines(keepends=True)
    count = len(getattr(loaded.document, key))
    starts = [loaded.lines.get((key, i)) for i in range(count)]
    if not count or any(line is None or not _ITEM.match(lines[line - 1]) for line in starts):
        return None
    begins = [line - 1 for line in starts if line is not None]
    ends = [*begins[1:], _end_of_list(lines, begins[-1])]
    at = count - 1 if index is None else index
    begin, end = begins[at], ends[at]
    while end > begin + 1 and _ASIDE.match(lines[end - 1].rstrip("\n")):
        end -= 1  # comments above the next entry are that entry's
    found = _ITEM.match(lines[begin])
    indent = found[1] if found else ""
    first, *rest = dump_document(entry).splitlines()
    new = [f"{indent}- {first}\n", *(f"{indent}  {line}\n" if line else "\n" for line in rest)]
    if lines[end - 1 : end] and not lines[end - 1].endswith("\n"):
        lines[end - 1] += "\n"
    return "".join([*lines[: end if index is None else begin], *new, *lines[end:]])


def _end_of_list(lines: list[str], start: int) -> int:
    return next((n for n in range(start + 1, len(lines)) if _TOP.match(lines[n])), len(lines))
