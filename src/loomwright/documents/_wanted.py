"""What a model wants at a place, in plain words: 'a number in metres, above 0 and at most 30'."""

import datetime
import re
from collections.abc import Iterable
from dataclasses import replace
from enum import Enum
from typing import Any, Literal, get_args, get_origin

import annotated_types
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from loomwright.documents._scalars import NotFiniteError, resolve
from loomwright.documents._where import Kind, keys_of, stripped
from loomwright.documents._words import alternatives, choices, quoted

__all__ = ["number_advice", "options", "tags_of", "unit_of", "wanted"]

# Ending of a key -> its unit in words.
_UNITS: dict[str, str] = {
    "a": "amperes", "ah": "ampere-hours", "c": "degrees Celsius", "hz": "hertz", "j": "joules", "kg": "kilograms",
    "m": "metres", "minutes": "minutes", "mm": "millimetres", "mm2": "square millimetres", "ms": "milliseconds",
    "n": "newtons", "ohm": "ohms", "rpm": "turns per minute", "s": "seconds", "v": "volts", "w": "watts",
}  # fmt: skip


def unit_of(key: object) -> str | None:
    """Return the unit in words that the ending of a key names: ``length_m`` is in metres."""
    match = re.search(r"(?:^|_)([a-z]+2?)$", key) if isinstance(key, str) and len(key) > 2 else None
    return None if match is None else _UNITS.get(match[1])


def options(kind: Kind) -> tuple[object, ...]:
    """Return the words or numbers among which a place lets one choose; empty where it is free."""
    if kind.branches:
        inner = [options(stripped(branch)) for branch in kind.branches]
        return tuple(option for found in inner for option in found) if all(inner) else ()
    if get_origin(kind.type) is Literal:
        return get_args(kind.type)
    if isinstance(kind.type, type) and issubclass(kind.type, Enum):
        return tuple(member.value for member in kind.type)
    return ()


def wanted(kind: Kind | None, key: object = None) -> str:
    """Return what may stand at a place of this kind; `key` is the key it stands under, which may name a unit."""
    if kind is None:
        return "a value"
    if allowed := options(kind):
        return choices(allowed)
    if kind.branches:
        if kind.discriminator is not None:
            tags = tags_of(kind)
            return f"a block whose {quoted(kind.discriminator)} is {choices(tags)}"
        phrases = [wanted(stripped(branch), key) for branch in kind.branches]
        return alternatives(phrase for phrase in phrases if phrase.replace("a whole", "a") not in {*phrases} - {phrase})
    bare = get_origin(kind.type) or kind.type
    if not isinstance(bare, type):
        return "a value"
    if issubclass(bare, BaseModel):
        needed = [quoted(name) for name, field in keys_of(bare).items() if field.is_required()]
        return f"a block with {_and(needed)}" if needed else f"a block with {_any(keys_of(bare))}"
    return _plain_type(bare, kind.metadata, key)


def number_advice(value: object, key: object) -> str:
    """Return how to write the number that somebody seems to have meant."""
    unit = unit_of(key)
    alone = f"write the number alone, in {unit}" if unit else "write the number alone"
    if not isinstance(value, str):
        return "write a number" + (f" in {unit}" if unit else "")
    text = value.strip()
    try:
        is_number = text != "" and isinstance(resolve(text), int | float) and text not in {"true", "false"}
    except NotFiniteError:
        return "write the number itself, or leave it out"
    if is_number:
        return "write it without quotes"
    if re.fullmatch(r"-?\d+,\d+", text):
        return f"write {text.replace(',', '.')}"
    if re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,2})?", text, re.ASCII):
        number = float(text)
        return f"write {number:.15g}" if 1e-4 < abs(number) < 1e15 else "write out all its digits"
    if re.match(r"[-+]?[.,]?\d", text, re.ASCII):
        return alone
    return "write a number" + (f" in {unit}" if unit else "")


def _plain_type(bare: type, metadata: tuple[Any, ...], key: object) -> str:
    if issubclass(bare, bool):
        return "true or false"
    if issubclass(bare, int | float):
        noun = "a whole number" if issubclass(bare, int) else "a number"
        unit = unit_of(key)
        limits = _limits(metadata)
        return noun + (f" in {unit}" if unit else "") + (f" {limits}" if limits else "")
    if issubclass(bare, str):
        return "text"
    if issubclass(bare, datetime.date):
        return "a date such as 2026-05-31"
    if issubclass(bare, list | tuple | set | frozenset):
        return "a list"
    if issubclass(bare, dict) or bare.__name__ in {"Mapping", "MutableMapping"}:
        return "a block of keys"
    return "a list" if bare.__name__ in {"Sequence", "Iterable", "Set"} else "a value"


def _limits(metadata: tuple[Any, ...]) -> str:
    bounds: dict[str, float] = {}
    for said in _spread(metadata):
        for name in ("ge", "gt", "le", "lt"):
            if isinstance(bound := getattr(said, name, None), int | float):
                bounds[name] = bound
    if "ge" in bounds and "le" in bounds:
        return f"from {bounds['ge']:.15g} to {bounds['le']:.15g}"
    words = {"ge": "of at least", "gt": "above", "le": "at most" if "gt" in bounds else "of at most", "lt": "below"}
    return " and ".join(f"{words[name]} {bound:.15g}" for name, bound in sorted(bounds.items()))


def _spread(metadata: Iterable[Any]) -> Iterable[Any]:
    """Take apart what one `Field(ge=..., le=...)` inside an `Annotated` says at once."""
    for said in metadata:
        if isinstance(said, FieldInfo):
            yield from _spread(said.metadata)
        elif isinstance(said, annotated_types.GroupedMetadata):
            yield from said
        else:
            yield said


def tags_of(kind: Kind) -> list[str]:
    """Return the words by which the branches of a discriminated union are told apart."""
    found: list[str] = []
    for branch in kind.branches:
        inner = stripped(branch)
        if inner.branches:
            found += tags_of(replace(inner, discriminator=kind.discriminator))
        elif isinstance(inner.type, type) and issubclass(inner.type, BaseModel) and kind.discriminator is not None:
            field = keys_of(inner.type).get(kind.discriminator)
            found += map(str, options(stripped(field.annotation)) if field is not None else ())
    return list(dict.fromkeys(found))


def _and(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _any(keys: Iterable[str]) -> str:
    return f"any of {', '.join(quoted(key) for key in keys)}"
