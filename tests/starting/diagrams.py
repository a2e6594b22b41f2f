"""The tables of the step function as decision diagrams, small enough to print into other provers' languages."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.starting.tables import DOMAIN, ModeTable

__all__ = ["Leaf", "Node", "diagram"]


@dataclass(frozen=True)
class Leaf:
    value: int


@dataclass(frozen=True)
class Node:
    """Ask a variable; `branches[i]` goes on where it has its i-th value."""

    variable: str
    branches: "tuple[Leaf | Node, ...]"


def diagram(table: ModeTable, values: npt.NDArray[np.int64]) -> "Leaf | Node":
    """One column of a table, shared and reduced: a variable that changes nothing is not asked."""
    sizes = [(n, len(DOMAIN[n])) for n in table.inputs] + [(t, 2) for t in table.timers]
    known: dict[tuple[int, bytes], Leaf | Node] = {}

    def build(level: int, part: npt.NDArray[np.int64]) -> Leaf | Node:
        key = (level, part.tobytes())
        if key not in known:
            if (part == part[0]).all():
                known[key] = Leaf(int(part[0]))
            else:
                name, size = sizes[level]
                below = tuple(build(level + 1, p) for p in np.split(part, size))
                known[key] = below[0] if all(b == below[0] for b in below) else Node(name, below)
        return known[key]

    return build(0, values)
