"""HTML elements as text: everything a person wrote is escaped, a quantity keeps its trace."""

import json
from collections.abc import Iterable
from html import escape

from loomwright.papers.blocks import Text
from loomwright.papers.foreign import Foreign
from loomwright.sheets.characters import printable
from loomwright.sheets.words import quantity_words

__all__ = ["clean", "compact_json", "items", "runs", "tag"]

_VOID = frozenset({"col", "img", "input", "meta"})


def clean(text: str) -> str:
    """Return text that may stand between tags; words of another language than the page's say which."""
    words = escape(printable(text), quote=False)
    return f'<span lang="{escape(text.language)}">{words}</span>' if isinstance(text, Foreign) else words


def tag(name: str, /, *children: str, **attributes: str | bool | None) -> str:
    """Return one element around children that are already HTML.

    Underscores in attribute names become hyphens, a last one is dropped (`class_`); True is a bare attribute, None,
    False and an empty class are left out.
    """
    parts = [name]
    for key, value in attributes.items():
        words = key.rstrip("_").replace("_", "-")
        if value is True:
            parts.append(words)
        elif value or (isinstance(value, str) and words != "class"):
            parts.append(f'{words}="{escape(printable(str(value)))}"')
    head = " ".join(parts)
    return f"<{head}>" if name in _VOID else f"<{head}>{''.join(children)}</{name}>"


def runs(text: Text) -> str:
    """Set a run of strings and quantities."""
    return "".join(
        clean(run)
        if isinstance(run, str)
        else tag("span", clean(quantity_words(run)), class_="quantity", data_trace=run.trace)
        for run in text
    )


def items(name: str, texts: Iterable[Text], class_: str = "") -> str:
    """Return a list, 'ul' or 'ol'."""
    return tag(name, *(tag("li", runs(text)) for text in texts), class_=class_)


def compact_json(value: object) -> str:
    """Return a value as JSON for an attribute."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
