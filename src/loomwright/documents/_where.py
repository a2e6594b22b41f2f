"""Where a fault stands: pydantic's location of it, followed through the model's types.

The location mixes keys and indexes of the file with labels of union branches, which are in no file. Which is which can
only be told by walking the types alongside.
"""

import collections.abc
import types
from dataclasses import dataclass
from enum import Enum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, Discriminator, RootModel, Tag
from pydantic.fields import FieldInfo

from loomwright.documents._tree import Path

__all__ = ["Fork", "Kind", "Place", "keys_of", "place_of", "stripped"]

_SEQUENCES = (list, tuple, set, frozenset, collections.abc.Sequence, collections.abc.Set, collections.abc.Iterable)
_MAPPINGS = (dict, collections.abc.Mapping, collections.abc.MutableMapping)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A type of a model without its wrapping, and what the wrapping said.

    `branches` are those of a union; `discriminator` is the key that tells them apart, where there is one.
    """

    type: Any
    metadata: tuple[Any, ...] = ()
    branches: tuple[Any, ...] = ()
    discriminator: str | None = None
    by_tag: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Fork:
    """A union on the way to a fault of which every branch was tried: how deep it stands, and the branch's label."""

    depth: int
    label: str
    branch: Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """The place of one fault.

    Parameters
    ----------
    path
        Keys and indexes of the file.
    kind
        What the model wants there, `None` where its types could not be followed.
    field
        The field whose value this is, where it is the value of a field itself.
    owner
        The model whose key is the last step of the path.
    forks
        The unions on the way, outermost first.
    is_key
        True where the key itself is wrong and not its value.
    """

    path: Path
    kind: Kind | None
    field: FieldInfo | None
    owner: type[BaseModel] | None
    forks: tuple[Fork, ...]
    is_key: bool


def keys_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the keys of a model as they are written in a file."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def stripped(wanted: Any, metadata: tuple[Any, ...] = ()) -> Kind:
    """Take `Annotated`, `None` as an alternative, and named aliases off a type."""
    while True:
        if get_origin(wanted) is Annotated:
            wanted, *more = get_args(wanted)
            metadata = (*more, *metadata)
        elif hasattr(wanted, "__value__"):
            wanted = wanted.__value__
        elif isinstance(wanted, type) and issubclass(wanted, RootModel):
            field = wanted.model_fields["root"]
            wanted, metadata = field.annotation, (*_metadata(field), *metadata)
        elif get_origin(wanted) in {Union, types.UnionType}:
            branches = tuple(branch for branch in get_args(wanted) if branch is not type(None))
            if len(branches) != 1:
                name, by_tag = _discriminator(metadata)
                return Kind(type=Union, metadata=metadata, branches=branches, discriminator=name, by_tag=by_tag)
            wanted = branches[0]
        else:
            return Kind(type=wanted, metadata=metadata)


def place_of(model: type[BaseModel], location: tuple[str | int, ...], document: object) -> Place:
    """Return the place that pydantic's location means in a document of this model."""
    kind: Kind | None = stripped(model)
    field: FieldInfo | None = None
    owner: type[BaseModel] | None = None
    path: list[str | int] = []
    forks: list[Fork] = []
    is_key = False
    here = document
    rest = list(location)
    while rest:
        if kind is not None and kind.branches:
            label = str(rest.pop(0))
            branch = _branch(kind, label)
            if not kind.by_tag:
                forks.append(Fork(depth=len(path), label=label, branch=branch))
            kind = None if branch is None else stripped(branch)
            continue
        step = rest.pop(0)
        if step == "[key]" and not rest:
            is_key = True
            break
        known = isinstance(here, dict) and step in here
        known = known or (isinstance(here, list) and isinstance(step, int) and step < len(here))
        if kind is None and rest and not known:
            continue  # a label of a type that could not be followed
        if isinstance(here, dict | list):
            path.append(step)  # else a validator made a list or block of what the file has as one value
        here = here[step] if known else None  # type: ignore[index]
        owner = None
        field = None
        if kind is None:
            continue
        if isinstance(kind.type, type) and issubclass(kind.type, BaseModel):
            owner = kind.type
            field = keys_of(owner).get(str(step)) or owner.model_fields.get(str(step))
            kind = None if field is None else stripped(field.annotation, _metadata(field))
        else:
            inner = _inner(kind.type, step)
            kind = None if inner is None else stripped(inner)
    return Place(path=tuple(path), kind=kind, field=field, owner=owner, forks=tuple(forks), is_key=is_key)


def _metadata(field: FieldInfo) -> tuple[Any, ...]:
    return (*field.metadata, *([Discriminator(field.discriminator)] if isinstance(field.discriminator, str) else []),
            *([field.discriminator] if isinstance(field.discriminator, Discriminator) else []))  # fmt: skip


def _discriminator(metadata: tuple[Any, ...]) -> tuple[str | None, bool]:
    """Return the key that tells the branches of a union apart, and whether anything does."""
    for said in metadata:
        found = said.discriminator if isinstance(said, FieldInfo | Discriminator) else None
        if isinstance(found, Discriminator):
            found = found.discriminator
        if isinstance(found, str):
            return found, True
        if found is not None:
            return None, True
    return None, False


def _branch(kind: Kind, label: str) -> Any | None:
    if kind.by_tag:
        return next((branch for branch in kind.branches if label in _tags(branch, kind.discriminator)), None)
    for branch in kind.branches:
        bare = stripped(branch).type
        name = getattr(bare, "__name__", str(bare))
        if label == name or label.endswith((f" {name}]", f"-{name}", f" {name}")):
            return branch
        origin = get_origin(bare)
        if origin is Literal and "literal[" in label:
            return branch
        if label.startswith(f"{getattr(origin, '__name__', None)}["):
            return branch
    return None


def _tags(branch: Any, discriminator: str | None) -> set[str]:
    kind = stripped(branch)
    if tags := {said.tag for said in kind.metadata if isinstance(said, Tag)}:
        return tags
    if kind.branches:
        return {tag for inner in kind.branches for tag in _tags(inner, discriminator)}
    if discriminator is None or not (isinstance(kind.type, type) and issubclass(kind.type, BaseModel)):
        return set()
    field = keys_of(kind.type).get(discriminator) or kind.type.model_fields.get(discriminator)
    if field is None:
        return set()
    return {str(value.value if isinstance(value, Enum) else value) for value in get_args(field.annotation)}


def _inner(wanted: Any, step: str | int) -> Any | None:
    origin = get_origin(wanted)
    inside = get_args(wanted)
    if origin in _MAPPINGS and len(inside) == 2:
        return inside[1]
    if origin is tuple and inside and inside[-1] is not Ellipsis:
        return inside[step] if isinstance(step, int) and step < len(inside) else None
    if origin in _SEQUENCES and inside:
        return inside[0]
    return None
