"""Pages read as a browser reads them, forms filled in as nobody should, and documents with an attack in every text."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any

from loomwright.documents.checking import check_documents
from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document, read_tree

__all__ = ["ATTACK", "MARK", "Field", "Form", "Seen", "poisoned", "seen"]

MARK = "zqx"
"""Stands before each attack, so that a test can tell whether it got as far as a page."""

ATTACK = MARK + "<script>alert(1)</script>\"'`&amp;<img src=x onerror=alert(1)>]]>-->{{7*7}}#panic(\"x\")"
"""What ends a text, an attribute, a comment or a block of many kinds, in HTML, SVG, templates and Typst."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field of a form: its kind, the value it has, and those it may have."""

    name: str
    kind: str
    value: str
    options: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class Form:
    """One form as a browser has it."""

    action: str
    method: str
    fields: list[Field] = field(default_factory=list)

    def filled(self) -> dict[str, list[str]]:
        """Return what is sent where nobody changes anything."""
        sent: dict[str, list[str]] = {}
        for one in self.fields:
            if one.kind not in {"file", "off"}:
                sent.setdefault(one.name, []).append(one.value)
        return sent


@dataclass(slots=True, kw_only=True)
class Seen:
    """What a browser makes of a page: what it would do unasked, its links, its forms, its words."""

    faults: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    forms: list[Form] = field(default_factory=list)
    text: str = ""


_NEVER = {"iframe", "object", "embed", "base", "applet", "frame", "portal"}
_LEADS = {"href", "src", "action", "formaction", "xlink:href", "data", "poster"}


class _Reader(HTMLParser):
    def __init__(self, own_scripts: bool) -> None:
        super().__init__()
        self.seen = Seen()
        self._own_scripts = own_scripts
        self._select = ""
        self._options: list[tuple[str, bool]] = []
        self._radios: set[tuple[int, str]] = set()
        self._area: str | None = None
        self._words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attrs}
        self._look(tag, has)
        if tag == "a" and "href" in has:
            self.seen.links.append(has["href"])
        elif tag == "form":
            self.seen.forms.append(Form(action=has.get("action", ""), method=has.get("method", "get").lower()))
        elif tag == "select":
            self._select, self._options = has.get("name", ""), []
        elif tag == "option":
            self._options.append((has.get("value", ""), "selected" in has))
        elif tag == "textarea":
            self._area, self._words = has.get("name", ""), []
        elif tag == "input" or (tag == "button" and "name" in has):
            self._input(has)

    def _look(self, tag: str, has: dict[str, str]) -> None:
        is_foreign = tag == "script" and not has.get("src", "").startswith("/static/") and not self._own_scripts
        if tag in _NEVER or is_foreign:
            self.seen.faults.append(f"<{tag}>")
        for name, value in has.items():
            if name.startswith("on") or name == "srcdoc" or not re.fullmatch(r"[a-z][a-z0-9:_.-]*", name):
                self.seen.faults.append(f"<{tag} {name}={value[:40]!r}>")
            if name in _LEADS and not re.match(r"(/(?!/)|#|\?|data:image/|data:,\Z|https?://|\Z)", value):
                self.seen.faults.append(f"<{tag} {name}={value[:40]!r}>")

    def _input(self, has: dict[str, str]) -> None:
        if not self.seen.forms or "name" not in has:
            return
        kind, form = has.get("type", "text"), self.seen.forms[-1]
        if kind in {"checkbox", "radio"} and "checked" not in has:
            kind = "off"
        form.fields.append(Field(name=has["name"], kind=kind, value=has.get("value", "")))

    def handle_endtag(self, tag: str) -> None:
        if tag == "select" and self.seen.forms and self._options:
            chosen = next((value for value, is_chosen in self._options if is_chosen), self._options[0][0])
            options = tuple(value for value, _ in self._options)
            self.seen.forms[-1].fields.append(Field(name=self._select, kind="select", value=chosen, options=options))
        elif tag == "textarea" and self._area is not None and self.seen.forms:
            value = "".join(self._words)
            self.seen.forms[-1].fields.append(Field(name=self._area, kind="textarea", value=value))
            self._area = None

    def handle_data(self, data: str) -> None:
        self.seen.text += data
        if self._area is not None:
            self._words.append(data)


def seen(html: str, *, own_scripts: bool = False) -> Seen:
    """Read a page; `own_scripts` where it says itself which scripts it has, as a guide for a phone does."""
    reader = _Reader(own_scripts)
    reader.feed(html)
    reader.close()
    return reader.seen


# Documents ---------------------------------------------------------------------------------------------------------

# Keys whose value is free text, by kind; every other one is checked against a list, an id or a unit.
_FREE = {
    "vehicle": {"maker", "model", "ask", "cue", "name", "words", "access", "tools", "look", "opening", "note",
                "switch"},
    "kit": {"name", "revision", "serial_at", "bag", "hardware", "firmware", "version", "range_note", "note", "label",
            "place", "how", "means", "press", "reply", "way_out", "start", "stop", "service"},
    "shop": {"name", "call", "terms", "reason", "place", "source"},
    "evidence": {"kind", "reading", "by"},
}  # fmt: skip


def _attacked(value: Any, free: set[str], attack: str, key: str = "", depth: int = 0) -> Any:
    if isinstance(value, dict):
        return {
            name: inner if name == "translations" else _attacked(inner, free, attack, name, depth + 1)
            for name, inner in value.items()
        }
    if isinstance(value, list):
        return [_attacked(inner, free, attack, key, depth) for inner in value]
    return f"{value} {attack}" if key in free and depth > (key == "kind") and isinstance(value, str) else value


def _free_texts(value: Any, free: set[str], key: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for name, inner in value.items():
            if name != "translations":
                yield from _free_texts(inner, free, name)
    elif isinstance(value, list):
        for inner in value:
            yield from _free_texts(inner, free, key)
    elif key in free and isinstance(value, str):
        yield value


def _with_translations(value: dict[str, Any], free: set[str], attack: str) -> dict[str, Any]:
    """Return a document whose translations are those of the attacked texts, and attacks themselves."""
    texts = frozenset(_free_texts(value, free))
    found: dict[str, Any] = _attacked(value, free, attack)
    if "translations" in value:
        found["translations"] = {
            language: [
                {"text": f"{one['text']} {attack}" if one["text"] in texts else one["text"],
                 "said": f"{one['said']} {attack}"}
                for one in entries
            ]
            for language, entries in value["translations"].items()
        }  # fmt: skip
    return found


def poisoned(names: tuple[str, ...], attack: str = ATTACK) -> dict[str, str]:
    """Return files of the demonstration with the attack in every free text, as JSON, which is YAML.

    Raises AssertionError where the check refuses one of them: it would then never get as far as a page.
    """
    found: dict[str, str] = {}
    for name in names:
        value = read_tree(Source(file=name, text=demo_files()[name])).value
        free = _FREE[str(value["kind"])]
        found[name] = json.dumps(_with_translations(value, free, attack), default=str, indent=1)
    loaded = [read_document(Source(file=name, text=text), MODELS) for name, text in found.items()]
    faults = check_documents(loaded, whole=False)
    assert faults == (), faults[0]
    return found
