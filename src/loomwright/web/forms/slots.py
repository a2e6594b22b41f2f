"""The fields of a form, as the model of a part of a document says them."""

import types
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Any, Literal, TypeAlias, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

__all__ = ["Choices", "Kind", "Refs", "Slot", "slots_of"]

Kind: TypeAlias = Literal[
    "text", "long", "number", "whole", "choice", "yes or no", "several", "lines", "pins", "face", "condition", "axes",
    "table", "pairs",
]  # fmt: skip
Choices: TypeAlias = tuple[tuple[str, str], ...]  # value, words


@dataclass(frozen=True, slots=True, kw_only=True)
class Refs:
    """What a form may name of the document around it.

    Parameters
    ----------
    chosen
        Key -> what may be chosen there, such as the places of a vehicle for ``place``.
    suggested
        Key -> words that are offered while typing, others being welcome too.
    axes
        Axes of the vehicle with their values, for conditions; `None` where the conditions are those of other documents.
    """

    chosen: Mapping[str, Choices] = field(default_factory=dict)
    suggested: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    axes: tuple[tuple[str, tuple[str, ...]], ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One field of a form; `path` is where its value stands in the part.

    A table has a slot for each of its columns; of `pairs` the first column is the key.
    """

    path: tuple[str, ...]
    words: str
    hint: str
    kind: Kind
    needed: bool
    assumed: str  # what holds where nothing is typed, as it is typed
    choices: Choices = ()
    suggested: tuple[str, ...] = ()
    columns: tuple["Slot", ...] = ()
    counted: bool = False  # a choice among whole numbers

    @property
    def name(self) -> str:
        """The name of the field in the form."""
        return ".".join(self.path)

    @property
    def key(self) -> str:
        """The last key of its path."""
        return self.path[-1]


_LONG = frozenset(
    {
        "words",
        "note",
        "look",
        "opening",
        "service",
        "access",
        "tools",
        "bag",
        "press",
        "reply",
        "means",
        "way_out",
        "cue",
    }
)


def slots_of(
    model: type[BaseModel], refs: Refs, words: Mapping[str, str], leave: Sequence[str] = (), at: tuple[str, ...] = ()
) -> tuple[Slot, ...]:
    """Return the fields of a model's form.

    Parameters
    ----------
    model
        The model of a part.
    refs
        What it may name of the document.
    words
        Key, or path of keys joined by '.', -> what the form says, behind ' | ' what more it says below; where nothing
        is said the key and the description of the model are.
    leave
        Keys or paths that have no field.
    at
        Where the part stands in the part around it.
    """
    return tuple(_slots(model, refs, words, leave, at))


def _slots(
    model: type[BaseModel], refs: Refs, words: Mapping[str, str], leave: Sequence[str], at: tuple[str, ...]
) -> Iterator[Slot]:
    for name, info in model.model_fields.items():
        key = info.alias or name
        path = (*at, key)
        full = ".".join(path)
        if key in leave or full in leave:
            continue
        bare, many = _bare(info.annotation)
        if not many and _is_model(bare):
            inner = _slots(bare, refs, words, leave, path)
            # Of a block that may be missing nothing is needed; what it lacks once it is begun is told.
            yield from inner if info.is_required() else (replace(slot, needed=False) for slot in inner)
        elif key in ("only", "except") and refs.axes is not None:
            yield from _axes(path, refs.axes, words)
        else:
            said = words.get(full, words.get(key, key.replace("_", " ").capitalize()))
            yield _slot(path, info, bare, many, said, refs, words, leave)


def _axes(
    path: tuple[str, ...], axes: Sequence[tuple[str, tuple[str, ...]]], words: Mapping[str, str]
) -> Iterator[Slot]:
    said = words.get(path[-1], "Not where {axis} is" if path[-1] == "except" else "Only where {axis} is")
    for axis, values in axes:
        yield Slot(
            path=(*path, axis), words=said.format(axis=axis), hint="", kind="axes",
            needed=False, assumed="", suggested=values,
        )  # fmt: skip


def _slot(
    path: tuple[str, ...], info: FieldInfo, bare: Any, many: str, said: str, refs: Refs, words: Mapping[str, str],
    leave: Sequence[str],
) -> Slot:  # fmt: skip
    key = path[-1]
    choices = refs.chosen.get(key) or _literals(bare)
    columns: tuple[Slot, ...] = ()
    kind = _kind(key, bare, many, has_choices=bool(choices))
    if kind in ("table", "pairs"):
        inner = bare if many == "tuple" else get_args(bare)[1]
        columns = slots_of(inner, refs_of_tables(refs), words, leave) if _is_model(inner) else _value_column(inner)
        if kind == "pairs":
            columns = (_key_column(get_args(bare)[0], said), *columns)
    if kind in ("choice", "several") and not refs.chosen.get(key):
        choices = tuple((value, value) for value in _literal_values(bare))
    said, _, hint = said.partition(" | ")
    if not hint and (kind == "face" or not _is_said(path, words)):
        hint = _hint(info, kind)
    return Slot(
        path=path, words=said, hint=hint, kind=kind, needed=info.is_required(),
        assumed=_assumed(info), choices=choices, suggested=refs.suggested.get(key, ()), columns=columns,
        counted=get_origin(bare) is Literal and all(isinstance(word, int) for word in get_args(bare)),
    )  # fmt: skip


def _is_said(path: tuple[str, ...], words: Mapping[str, str]) -> bool:
    return ".".join(path) in words or path[-1] in words


def refs_of_tables(refs: Refs) -> Refs:
    """Return what the columns of a table may name: conditions stand in one cell there."""
    return Refs(chosen=refs.chosen, suggested=refs.suggested, axes=None)


def _value_column(inner: Any) -> tuple[Slot, ...]:
    kind: Kind = "number" if _number(inner) else "text"
    return (Slot(path=("",), words="Value", hint="", kind=kind, needed=True, assumed=""),)


def _key_column(inner: Any, said: str) -> Slot:
    values = tuple((v, v) for v in _literal_values(inner))
    return Slot(
        path=("#",), words=said, hint="", kind="choice" if values else "text", needed=True, assumed="", choices=values
    )


def _kind(key: str, bare: Any, many: str, *, has_choices: bool) -> Kind:
    found: Kind = "text"
    if key == "rows":
        found = "face"
    elif key in ("only", "except"):
        found = "condition"
    elif get_origin(bare) is dict:
        found = "pairs"
    elif many:
        found = "table" if _is_model(bare) else "several" if has_choices else "pins" if key == "large" else "lines"
    elif has_choices:
        found = "choice"
    elif bare is bool:
        found = "yes or no"
    elif bare in (int, float):
        found = "whole" if bare is int else "number"
    elif key in _LONG:
        found = "long"
    return found


def _hint(info: FieldInfo, kind: Kind) -> str:
    if kind == "face":
        return "One line for each row, as printed on the plug: '1-16' is a run of pins, '-' a gap."
    words = (info.description or "").rstrip(".").removeprefix("True where ")  # a form asks it, and takes yes or no
    return words[:1].upper() + words[1:]


def _assumed(info: FieldInfo) -> str:
    if info.is_required():
        return ""
    value = info.get_default(call_default_factory=True, validated_data={})
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else value if isinstance(value, str) else ""


def _is_model(found: Any) -> bool:
    return isinstance(found, type) and issubclass(found, BaseModel)


def _number(found: Any) -> bool:
    return _bare(found)[0] in (int, float)


def _bare(annotation: Any) -> tuple[Any, str]:
    """Return a type without its wrapping, and 'tuple' where there are several of it."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _bare(get_args(annotation)[0])
    if origin in (Union, types.UnionType):
        inner = [one for one in get_args(annotation) if one is not type(None)]
        return _bare(inner[0]) if len(inner) == 1 else (annotation, "")
    if origin is tuple:
        return _bare(get_args(annotation)[0])[0], "tuple"
    return annotation, ""


def _literals(found: Any) -> Choices:
    return tuple((value, value) for value in _literal_values(found))


def _literal_values(found: Any) -> tuple[str, ...]:
    plain = get_args(found)[0] if get_origin(found) is Annotated else found
    return tuple(str(word) for word in get_args(plain)) if get_origin(plain) is Literal else ()
