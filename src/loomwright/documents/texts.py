"""Every text that stands in a document, wherever in it: what a translation may speak of."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass

from pydantic import BaseModel

__all__ = ["spaced", "texts_of"]


def spaced(text: str) -> str:
    """Return a text with single spaces, as it is compared: documents break their lines where they like."""
    return " ".join(text.split())


def texts_of(value: object) -> Iterator[str]:
    """Yield every string inside a document or a car, its translations left out."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from texts_of(one)
    elif isinstance(value, tuple):
        for one in value:
            yield from texts_of(one)
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            if name != "translations":
                yield from texts_of(getattr(value, name))
    elif is_dataclass(value):
        for field in fields(value):
            if field.name != "translations":
                yield from texts_of(getattr(value, field.name))
