"""What the check says about a whole document, brought to the fields of the form that it concerns."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from loomwright.documents.part_checking import PartFault
from loomwright.errors import Message

__all__ = ["Beside", "beside", "path_of"]

_STEP = re.compile(r"\.?([^.\[\]]+)|\[\"((?:[^\"\\]|\\.)*)\"\]|\[([^\]]*)\]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Faults that stand beside fields of one entry, and messages about everything else."""

    here: tuple[PartFault, ...]
    elsewhere: tuple[Message, ...]


def path_of(field: str) -> tuple[str | int, ...]:
    """Return the steps of a field as messages write it: ``circuits[lock].path[2].colour``."""
    steps: list[str | int] = []
    for found in _STEP.finditer(field):
        word = next(part for part in found.groups() if part is not None)
        steps.append(int(word) if found[3] is not None and word.isdecimal() else word)
    return tuple(steps)


def beside(messages: Iterable[Message], path: Sequence[str], index: int, id: str) -> Beside:
    """Return the faults of one entry of a list by their place in it, and the messages about other things.

    Parameters
    ----------
    messages
        What the check says.
    path, index, id
        The list, and the entry by its place and by its id, since messages use either.
    """
    here: list[PartFault] = []
    elsewhere: list[Message] = []
    for message in messages:
        steps = path_of(message.field)
        inner = steps[len(path) :]
        if steps[: len(path)] == tuple(path) and inner and inner[0] in (index, id):
            here.append(
                PartFault(path=inner[1:], found=message.found, expected=message.expected, advice=message.advice)
            )
        else:
            elsewhere.append(message)
    return Beside(here=tuple(here), elsewhere=tuple(elsewhere))
