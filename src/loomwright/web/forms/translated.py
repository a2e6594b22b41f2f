"""Translations of texts that a form has changed: a text that stands nowhere any more takes its translations along."""

from collections.abc import Iterator
from typing import Any

from loomwright.documents.editing import without_item
from loomwright.documents.texts import spaced
from loomwright.web.forms.draft import Draft

__all__ = ["without_lost_translations"]


def without_lost_translations(before: Draft, after: Draft) -> str:
    """Return the text of a changed document without the translations of texts that the change took out.

    What was wrong with a translation before stays, and is told by the check.
    """
    languages = after.at("translations")
    if not isinstance(languages, dict):
        return after.text
    stood, stands = set(_texts(before.tree.value)), set(_texts(after.tree.value))
    text = after.text
    for language, lines in languages.items():
        lost = [
            n
            for n, line in enumerate(lines if isinstance(lines, list) else [])
            if isinstance(line, dict) and spaced(str(line.get("text"))) in stood - stands
        ]
        for n in reversed(lost):
            text = without_item(text, ("translations", str(language)), n)
    return text


def _texts(value: Any, *, is_top: bool = True) -> Iterator[str]:
    if isinstance(value, str):
        yield spaced(value)
    elif isinstance(value, dict):
        for key, inner in value.items():
            if not (is_top and key == "translations"):
                yield from _texts(inner, is_top=False)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner, is_top=False)
