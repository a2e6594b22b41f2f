"""From a document to the text of a file that our own reader gives back equal.

The text is written here and not by the YAML library's own dumper, which quotes by its own idea of what a plain scalar
means: it would leave ``1E3`` plain. Keys that say what the model says anyway are left out.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from loomwright.documents._scalars import resolve, written

__all__ = ["dump_document", "dump_tree", "plain_of"]

_WIDTH = 110
# Written in full escapes it is still short enough for a key of YAML, which may have 1024 characters.
_LONGEST_KEY = 160
# Words, joined by single spaces, that no reader of YAML takes for anything but text.
_PLAIN = re.compile(r"[^\W\d_][\w.+/()-]*(?: [\w.+/()-]+)*")
# Other readers take these for booleans, for nothing or for numbers; quotes cost nothing.
_NO_TEXT_ELSEWHERE = frozenset({"y", "n", "yes", "no", "on", "off", "true", "false", "null", "inf", "nan"})
# What double quotes must escape: what the format forbids, its line ends, and what is not seen.
_ESCAPED = re.compile('["\\\\]|[^\x20-\x7e\xa1-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]')
_SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def dump_document(document: BaseModel) -> str:
    """Return the text of a document.

    Parameters
    ----------
    document
        A document as `read_document` returns it.

    Raises
    ------
    ValueError
        Where it holds what no file can: an infinite number, a whole number of more than 18 digits, half a surrogate
        pair, or a key of more than 160 characters.
    """
    return dump_tree(_pruned(document, document.model_dump(mode="json", by_alias=True), is_root=True))


def dump_tree(data: Mapping[str, object]) -> str:
    """Return the text of a document that is still in plain values, such as one that is not complete yet.

    Raises ValueError as `dump_document` does.
    """
    return "".join(f"{line}\n" for line in _block(data, ""))


def plain_of(part: BaseModel) -> dict[str, Any]:
    """Return a part of a document in the plain values of a file, without what the model assumes anyway."""
    found = _pruned(part, part.model_dump(mode="json", by_alias=True))
    return dict(found)


def _pruned(value: object, data: Any, *, is_root: bool = False) -> Any:
    """Leave out of `data`, which is `value` in plain form, what the models assume by themselves."""
    if isinstance(value, BaseModel) and isinstance(data, dict):
        kept = {}
        for name, field in type(value).model_fields.items():
            key = field.serialization_alias or field.alias or name
            inner = getattr(value, name)
            if key in data and ((is_root and name in {"format", "kind"}) or not _is_assumed(field, inner)):
                kept[key] = _pruned(inner, data[key])
        return kept
    if isinstance(value, Mapping) and isinstance(data, dict) and len(value) == len(data):
        return {key: _pruned(inner, data[key]) for key, inner in zip(data, value.values(), strict=True)}
    if isinstance(value, list | tuple) and isinstance(data, list):
        return [_pruned(inner, plain) for inner, plain in zip(value, data, strict=True)]
    return data


def _is_assumed(field: FieldInfo, value: object) -> bool:
    if field.is_required():
        return False
    if get_origin(field.annotation) is Literal and len(get_args(field.annotation)) == 1:
        return False  # the word by which a union tells its branches apart
    assumed = field.get_default(call_default_factory=True, validated_data={})
    return type(assumed) is type(value) and bool(assumed == value)


def _block(value: Any, indent: str) -> Iterator[str]:
    """Lines of a mapping or list that begins on a line of its own."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if len(key) > _LONGEST_KEY:
                msg = f"found a key of {len(key)} characters, expected at most {_LONGEST_KEY}"
                raise ValueError(msg)
            yield from _entry(f"{indent}{_text(key)}:", inner, indent + "  ")
        return
    for inner in value:
        first, *rest = _item(inner, indent + "  ")
        yield f"{indent}- {first}"
        yield from rest


def _item(value: Any, indent: str) -> Iterator[str]:
    """Lines of an item of a list; the first of them stands behind the dash."""
    if isinstance(value, dict) and value:
        first, *rest = _block(value, indent)
        yield first.removeprefix(indent)
        yield from rest
    elif (short := _inline(value, len(indent))) is not None:
        yield short
    elif isinstance(value, str):
        yield from _lines_of_text(value, indent)
    else:
        first, *rest = _block(value, indent)
        yield first.removeprefix(indent)
        yield from rest


def _entry(head: str, value: Any, indent: str) -> Iterator[str]:
    """Lines of a key and its value."""
    if (short := _inline(value, len(head))) is not None:
        yield f"{head} {short}"
    elif isinstance(value, str):
        first, *rest = _lines_of_text(value, indent)
        yield f"{head} {first}"
        yield from rest
    else:
        yield head
        yield from _block(value, indent)


def _inline(value: Any, used: int) -> str | None:
    """Return the value as it stands behind its key, or `None` where it needs lines of its own."""
    if isinstance(value, str):
        return None if _has_own_lines(value) else _text(value)
    if isinstance(value, dict):
        return None if value else "{}"
    if isinstance(value, Sequence):
        if any(isinstance(inner, dict | list | tuple) and inner for inner in value):
            return None
        parts = [_inline(inner, 0) for inner in value]
        flow = f"[{', '.join(part for part in parts if part is not None)}]"
        return flow if None not in parts and (not value or used + len(flow) <= _WIDTH) else None
    return written(value)


def _has_own_lines(text: str) -> bool:
    """Tell whether a text of several lines may stand in lines of its own, just as it is."""
    lines = text.removesuffix("\n").split("\n")
    return (
        len(lines) > 1
        and all(line == line.rstrip() and _ESCAPED.search(line.translate(_ALLOWED)) is None for line in lines)
        and lines[0] != ""
        and lines[-1] != ""
        and not lines[0].startswith(" ")
    )


# A quotation mark and a backslash mean themselves there.
_ALLOWED = str.maketrans({'"': "x", "\\": "x"})


def _lines_of_text(text: str, indent: str) -> Iterator[str]:
    yield "|" if text.endswith("\n") else "|-"
    for line in text.removesuffix("\n").split("\n"):
        yield f"{indent}{line}" if line else ""


def _text(text: str) -> str:
    """Return the text plain where it means itself, else in double quotes."""
    if (
        _PLAIN.fullmatch(text)
        and text.isprintable()
        and text.lower() not in _NO_TEXT_ELSEWHERE
        and resolve(text) == text
    ):
        return text
    return f'"{_ESCAPED.sub(_escape, text)}"'


def _escape(match: re.Match[str]) -> str:
    character = match[0]
    code = ord(character)
    if 0xD800 <= code <= 0xDFFF:
        msg = f"found half a surrogate pair, U+{code:04X}, expected text"
        raise ValueError(msg)
    if character in _SHORT:
        return _SHORT[character]
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
