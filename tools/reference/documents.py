"""docs/reference/documents.md: every key of every kind of document, from the models that check them."""

import inspect
import types
from collections.abc import Iterable, Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from loomwright.documents import basis
from loomwright.documents.behaviour import Behaviour, Condition1, KeyPosition, Stimulus
from loomwright.documents.functions import FunctionName
from loomwright.documents.kinds import MODELS
from tools.reference.key_meanings import KEY_MEANINGS
from tools.reference.markdown import anchor, code, page, table

__all__ = ["documents_page", "key_meaning", "keys", "parts_of"]

# Types that have a name of their own on the page. Their text ends in the unit where they have one.
_NAMED: tuple[tuple[Any, str], ...] = (
    (basis.Slug, "id"),
    (basis.Words, "text"),
    (basis.Condition, "condition"),
    (basis.Amps, "quantity [A]"),
    (basis.Volts, "quantity [V]"),
    (basis.Ohms, "quantity [ohm]"),
    (basis.LengthM, "quantity [m]"),
    (basis.AreaMm2, "quantity [mm2]"),
    (basis.Minutes, "number [min]"),
    (FunctionName, "function"),
    (KeyPosition, "key position"),
    (Condition1, "stimulus"),
    (Stimulus, "stimulus"),
    (Behaviour, "template"),
)
_SHARED = [
    mark.description for shared in (basis.Condition, Condition1) for mark in get_args(shared)
    if isinstance(mark, FieldInfo)
]  # fmt: skip
_QUANTITIES: tuple[tuple[str, Any], ...] = (
    ("A", basis.Amps), ("V", basis.Volts), ("ohm", basis.Ohms), ("m", basis.LengthM), ("mm2", basis.AreaMm2),
    ("min", basis.Minutes),
)  # fmt: skip
_SUFFIX_UNITS = {"_a": "A", "_v": "V", "_ohm": "ohm", "_m": "m", "_mm2": "mm2", "_s": "s", "_rpm": "rpm"}
_PLAIN = {str: "text", int: "whole number", float: "number", bool: "true or false"}


def parts_of(model: type[BaseModel]) -> tuple[type[BaseModel], ...]:
    """Return a model and every model inside it, in the order in which a reader meets them."""
    found: dict[type[BaseModel], None] = {model: None}
    waiting = [model]
    while waiting:
        for hint in get_type_hints(waiting.pop(0), include_extras=True).values():
            for inner in _models_in(hint):
                if inner not in found:
                    found[inner] = None
                    waiting.append(inner)
    return tuple(found)


def _models_in(hint: Any) -> Iterator[type[BaseModel]]:
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        yield hint
    for inner in get_args(hint):
        yield from _models_in(inner)


def keys(model: type[BaseModel]) -> Iterator[tuple[str, FieldInfo, Any]]:
    """Yield (key as written, field, type) of a model."""
    hints = get_type_hints(model, include_extras=True)
    for name, field in model.model_fields.items():
        yield field.alias or name, field, hints[name]


def key_meaning(model: type[BaseModel], key: str, field: FieldInfo) -> str:
    """Return what a key means: from its model, else from the table beside this module.

    Raises LookupError where neither says anything.
    """
    own = f"{model.__name__}.{key}"
    # What a condition or a stimulus is stands once at the top of the page; here counts what this one is for.
    said = None if field.description in _SHARED else field.description
    for text in (said, KEY_MEANINGS.get(own), KEY_MEANINGS.get(key)):
        if text:
            return text
    raise LookupError(f"the key {own} has no description")


def _type_words(hint: Any) -> str:
    for named, words in _NAMED:
        if hint == named:
            return words
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return " or ".join(_type_words(part) for part in inner if part is not type(None))
    if origin is Annotated:
        return _type_words(inner[0])
    if origin is Literal:
        return "one of " + ", ".join(code(str(value)) for value in inner)
    if origin is tuple:
        return f"list of {_type_words(inner[0])}"
    if origin is dict:
        return f"map of {_type_words(inner[0])} to {_type_words(inner[1])}"
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return f"[{_title(hint)}]({anchor(_title(hint))})"
    return _PLAIN.get(hint, getattr(hint, "__name__", str(hint)))


def _limits(marks: Iterable[Any]) -> str:
    sign = {"ge": "at least", "gt": "above", "le": "at most", "lt": "below"}
    told = [
        f"{words} {getattr(mark, name):.9g}"
        for mark in marks
        for name, words in sign.items()
        if getattr(mark, name, None) is not None
    ]
    return ", ".join(told)


def _quantity_limits() -> str:
    """Return the limits of every quantity, for the section on types."""
    told = []
    for unit, hint in _QUANTITIES:
        marks = [m for field in get_args(hint) if isinstance(field, FieldInfo) for m in field.metadata]
        told.append(f"{_limits(marks)} {unit}")
    return "; ".join(told)


def _type_cell(key: str, field: FieldInfo, hint: Any) -> str:
    words = _type_words(hint)
    unit = next((unit for end, unit in _SUFFIX_UNITS.items() if key.endswith(end)), None)
    if unit is not None and "[" not in words:
        words += f" [{unit}]"
    named = any(part == quantity for part in (hint, *get_args(hint)) for _, quantity in _QUANTITIES)
    limits = "" if named else _limits(field.metadata)
    return f"{words}, {limits}" if limits else words


def _default_cell(field: FieldInfo) -> str:
    if field.is_required():
        return "required"
    value = field.default if field.default is not PydanticUndefined else None
    if value is None or value == ():
        return "left out"
    if isinstance(value, bool):
        return code(str(value).lower())
    if isinstance(value, tuple):
        return code("[" + ", ".join(str(v) for v in value) + "]")
    return code(f"{value:g}" if isinstance(value, float) else str(value))


def _template(model: type[BaseModel]) -> str | None:
    field = model.model_fields.get("template")
    return None if field is None else str(get_args(field.annotation)[0])


def _title(model: type[BaseModel]) -> str:
    template = _template(model)
    return f"Template: {template}" if template else model.__name__


def _section(model: type[BaseModel], level: int) -> str:
    rows = [
        (code(key), _type_cell(key, field, hint), _default_cell(field), key_meaning(model, key, field))
        for key, field, hint in keys(model)
    ]
    about = inspect.cleandoc(model.__doc__ or "")
    return "\n\n".join([f"{'#' * level} {_title(model)}", about, table(("key", "type", "default", "meaning"), rows)])


_ABOUT = """
Documents are YAML files. Each begins with `format: 1` and its `kind`. A key that is not in these tables is a fault,
never silently dropped. `loomwright check` tells all faults at once, each with file, line, what was found, what was
expected and what to do. `loomwright schema KIND` prints the same tables as a JSON Schema for editors.

## Types

* **id**: lower-case words joined by `-`, such as `key-sense`. Ids tie entries together; keep them once in use.
* **text**: any words. Write them in quotes where they hold a colon.
* **quantity [unit]**: a plain number in that unit, or a text with a unit of the same kind: `1.5` or `"150 cm"`,
  `0.5` or `"20 AWG"`. See [units](nomenclature.md). Limits: {limits}.
* **function**: one of the functions in the [list of words](nomenclature.md).
* **key position**: `off`, `acc`, `run` or `crank`.
* **stimulus**: something that happens to the car, such as `brake pressed`; `not brake pressed` is its opposite. See the
  [list](nomenclature.md).
* **condition**: which cars an entry is for, such as `{engine: "2.4", year: 2011 to 2013}`. Every axis that is named
  must fit; a list inside one axis means any of them. Left out: every car.
* **left out** in the column *default* means that the key may be missing, and nothing is assumed in its place.
"""


def documents_page() -> str:
    """Return the page."""
    blocks, told = [inspect.cleandoc(_ABOUT).replace("{limits}", _quantity_limits())], set[type[BaseModel]]()
    for kind, model in MODELS.items():
        blocks.append(f"## Kind: {kind}")
        for part in parts_of(model):
            if part not in told:
                told.add(part)
                blocks.append(_section(part, 3))
    return page("Documents", *blocks)
