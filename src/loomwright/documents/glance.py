"""What a list shows of a document, read from its first lines without reading the rest of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

__all__ = ["Glance", "glance"]

_MOST_EVENTS = 400  # what stands further down is not read for a list


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """The name of a document as a list shows it, and its revision where it has one; empty where nothing is found."""

    name: str
    revision: str = ""


def glance(text: str) -> Glance:
    """Return name and revision of a vehicle, a kit or a shop; a text that is no YAML has neither.

    A vehicle is called by the first of its `names`, everything else by its `name`.
    """
    found: dict[str, str] = {}
    try:
        for key, value in _scalars(text):
            found.setdefault(key, value)
            if "name" in found and ("revision" in found or "maker" in found):
                break
            if {"maker", "model"} <= set(found):
                break
    except yaml.YAMLError:
        pass
    name = found.get("name") or " ".join(found[key] for key in ("maker", "model") if key in found)
    return Glance(name=name, revision=found.get("revision", ""))


def _scalars(text: str) -> Iterator[tuple[str, str]]:
    """Yield keys with plain values: those at the top of the document, and those of the entries of `names`."""
    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    depth, key, top = 0, "", ""
    for count, event in enumerate(yaml.parse(text, Loader=loader)):
        if count > _MOST_EVENTS:
            return
        if isinstance(event, yaml.CollectionStartEvent):
            if depth == 1:
                top = key
            depth, key = depth + 1, ""
        elif isinstance(event, yaml.CollectionEndEvent):
            depth, key = depth - 1, ""
        elif isinstance(event, yaml.ScalarEvent) and (depth == 1 or (depth == 3 and top == "names")):
            if key:
                yield key, event.value
                key = ""
            else:
                key = event.value
