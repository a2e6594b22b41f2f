"""One part of a document checked by itself, with its faults at the fields they concern."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import BaseModel, ValidationError

from loomwright.documents._messages import troubles_of
from loomwright.documents._strict import checker
from loomwright.documents.reading import Path, Tree

__all__ = ["CheckedPart", "PartFault", "check_part"]

_P = TypeVar("_P", bound=BaseModel)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFault:
    """One fault of a part, by the path of keys and indexes inside it."""

    path: Path
    found: str
    expected: str
    advice: str

    def __str__(self) -> str:
        return f"found {self.found}, expected {self.expected}; {self.advice}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckedPart(Generic[_P]):
    """A part, or what is wrong with it."""

    part: _P | None
    faults: tuple[PartFault, ...]


def check_part(model: type[_P], raw: Mapping[str, object]) -> CheckedPart[_P]:
    """Return the part that some plain values make, or every fault of them.

    Parameters
    ----------
    model
        The model of the part, such as `Plug`.
    raw
        Its keys as a file has them.
    """
    try:
        part = checker(model).validate_python(dict(raw))
    except ValidationError as problem:
        tree = Tree(file="", value=dict(raw), lines={(): 1})
        troubles = troubles_of(problem, model, tree)
        faults = tuple(PartFault(path=t.path, found=t.found, expected=t.expected, advice=t.advice) for t in troubles)
        return CheckedPart(part=None, faults=faults)
    return CheckedPart(part=part, faults=())
