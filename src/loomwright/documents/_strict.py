"""The check of a document against its model: exact about scalars, lenient about everything else.

A document says what it says: a quoted ``"12"`` is no number, ``yes`` is no boolean, and a date is written as a date.
pydantic's strict mode is not that: it would also refuse the lists of a file for the tuples of a frozen model. So the
model's own schema is taken and only its scalars are made strict. Validators that models run first still see what was
written, and may turn it into something else, such as '30 cm' into metres.
"""

import re
from functools import lru_cache
from typing import Any

from pydantic import BaseModel
from pydantic_core import CoreSchema, PydanticCustomError, SchemaValidator

__all__ = ["checker"]

_SCALARS = frozenset({"int", "float", "bool", "str"})
_DATES = frozenset({"date", "datetime", "time"})
# What in a schema is not a schema, and may look like one.
_OPAQUE = frozenset({"cls", "default", "expected", "members", "metadata", "ref", "schema_ref", "serialization"})
# Schemas by the name of a field or of a branch, which may be any word.
_TABLES = frozenset({"choices", "fields"})


@lru_cache(maxsize=64)
def checker(model: type[BaseModel]) -> SchemaValidator:
    """Return the validator of a document model."""
    model.model_rebuild()
    # Without the last argument (pydantic 2.13 and later have it) the validators that the inner models were built with,
    # which are not strict, would be reused.
    return SchemaValidator(_strict(model.__pydantic_core_schema__), None, _use_prebuilt=False)


def _strict(schema: CoreSchema) -> CoreSchema:
    made: CoreSchema = _copy(schema)
    return made


def _copy(node: Any) -> Any:
    if isinstance(node, list | tuple):
        return type(node)(_copy(part) for part in node)
    if not isinstance(node, dict):
        return node
    copied = {key: _part(key, part) for key, part in node.items()}
    kind = node.get("type")
    if kind in _SCALARS:
        copied["strict"] = True
        if kind == "float":
            copied["allow_inf_nan"] = False
    elif kind in _DATES:
        return {"type": "function-before", "function": {"type": "no-info", "function": _as_date}, "schema": copied}
    return copied


def _part(key: str, part: Any) -> Any:
    if key in _TABLES and isinstance(part, dict):
        return {name: _copy(schema) for name, schema in part.items()}
    return part if key in _OPAQUE else _copy(part)


def _as_date(value: object) -> object:
    """Refuse a number for a date, which pydantic would count as seconds since 1970."""
    if isinstance(value, bool | int | float) or (isinstance(value, str) and not re.search(r"\d[-:]\d", value)):
        kind = "date_written"
        raise PydanticCustomError(kind, "a date")
    return value
