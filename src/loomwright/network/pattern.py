"""The elimination pattern of one topology: in which order nodes go, and what fills in.

Found once for each set of node pairs and kept, because thousands of operating points share it. The order is the greedy
minimum fill order; it is then sorted by level, so that all nodes of one level (no two of them adjacent) are eliminated
at once. Whole levels cost far fewer calls than single nodes, which counts up to about a thousand lanes.

Two stages. The nodes named as *late* come last, and before them go as many others as leave little fill. What is stamped
on late nodes may then change as often as it likes: the early stage is worth doing only once. In a car's circuit most
nodes are pins and splices between wires, and few touch a diode or a contact.

Rows. All lane data of an elimination live in one array whose rows are laid out here: for each node, in elimination
order, one row for each branch to a later neighbour, then the row of its conductance to the reference, then the row of
its injected current.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
import numpy.typing as npt

__all__ = ["Block", "Level", "Pattern", "Stage", "find_pattern"]

_Index = npt.NDArray[np.intp]

_EARLY_FILL = 2
"""A node whose elimination joins more pairs of neighbours than this is left for the late stage."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """The rows of one node.

    Parameters
    ----------
    first, neighbours
        Rows ``first .. first + neighbours`` for its branches, then its conductance, then its injection.
    inverse
        Rows in which the inverse between each two of its later neighbours is kept, laid out like the conductances.
    """

    first: int
    neighbours: int
    inverse: _Index


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Level:
    """The elimination of all nodes of one level, those with the most neighbours first.

    Parameters
    ----------
    nodes, rows
        Positions and rows of these nodes, both consecutive and, like all numbers below, counted from where the stage
        begins.
    conductances, injections
        The row of each node's conductance to the reference and of its injection, numbered within `rows`.
    branches
        For the first, second ... neighbour: the branch row within `rows` of each node that has so many, and where it
        leads. The nodes that have so many are the first ones of the level.
    owner
        Which node, numbered within the level, each row belongs to.
    passes
        Additions ``all_rows[target] += rows[factor] * shares[share]``, the last two numbered within `rows`, cut into
        passes in which no target stands twice.
    """

    nodes: slice
    rows: slice
    conductances: _Index
    injections: _Index
    branches: tuple[tuple[_Index, _Index], ...]
    owner: _Index
    passes: tuple[tuple[_Index, _Index, _Index], ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stage:
    """A part of the elimination.

    Parameters
    ----------
    first_node, first_row
        Position and row that it begins with.
    levels
        The levels in turn.
    """

    first_node: int
    first_row: int
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pattern:
    """The order, rows and steps of one topology.

    Parameters
    ----------
    nodes
        Number of nodes without the reference.
    position
        Place of each node in the elimination order.
    rows
        Number of rows.
    to_reference, injection
        Row of each node's conductance to the reference and of its injected current.
    edges
        Row of each branch that exists or fills in, by its two node numbers, the smaller one first.
    blocks
        The rows of each node, in elimination order.
    early, late
        The two stages of the elimination.
    """

    nodes: int
    position: _Index
    rows: int
    to_reference: _Index
    injection: _Index
    edges: dict[tuple[int, int], int]
    blocks: tuple[Block, ...]
    early: Stage
    late: Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """Row numbers by position: first row of a block, later neighbours, branch rows, conductance rows."""

    first: list[int]
    after: list[list[int]]
    branch: dict[tuple[int, int], int]
    conductance: list[int]

    def targets(self, at: int, index: int) -> list[int]:
        """Rows that eliminating `at` adds to by way of its neighbour number `index`."""
        one = self.after[at][index]
        ahead = [self.branch[one, other] for other in self.after[at][index + 1 :]]
        return [*ahead, self.conductance[one], self.conductance[one] + 1]


@lru_cache(maxsize=128)
def find_pattern(nodes: int, pairs: frozenset[tuple[int, int]], late: frozenset[int] = frozenset()) -> Pattern:
    """Find the elimination pattern of a network.

    Parameters
    ----------
    nodes
        Number of nodes, the reference not counted.
    pairs
        Node pairs joined by at least one branch, the smaller number first; the reference does not appear.
    late
        Nodes to be eliminated in the late stage.

    Notes
    -----
    Minimum fill is the usual greedy rule for sparse symmetric elimination (the pairwise check of the neighbours of each
    remaining node); ties go to the smaller degree, then to the smaller number, so that the pattern is reproducible.
    """
    order, later, early = _minimum_fill(nodes, pairs, late)
    level = [0] * nodes
    for at, node in enumerate(order):
        if at >= early:
            level[node] = max(level[node], 1 + max((level[other] for other in order[:early]), default=-1))
        for other in later[node]:
            level[other] = max(level[other], level[node] + 1)
    place = {node: at for at, node in enumerate(order)}
    order.sort(key=lambda node: (level[node], -len(later[node]), place[node]))
    position = [0] * nodes
    for at, node in enumerate(order):
        position[node] = at

    first: list[int] = []
    after: list[list[int]] = []
    branch: dict[tuple[int, int], int] = {}
    edges: dict[tuple[int, int], int] = {}
    rows = 0
    for at, node in enumerate(order):
        ahead = sorted(position[other] for other in later[node])
        first.append(rows)
        after.append(ahead)
        for offset, other in enumerate(ahead):
            branch[at, other] = rows + offset
            edges[min(node, order[other]), max(node, order[other])] = rows + offset
        rows += len(ahead) + 2
    conductance = [first[at] + len(after[at]) for at in range(nodes)]
    table = _Rows(first=first, after=after, branch=branch, conductance=conductance)
    return Pattern(
        nodes=nodes,
        position=np.array(position, dtype=np.intp),
        rows=rows,
        to_reference=np.array([conductance[position[node]] for node in range(nodes)], dtype=np.intp),
        injection=np.array([conductance[position[node]] + 1 for node in range(nodes)], dtype=np.intp),
        edges=edges,
        blocks=tuple(_block(at, table) for at in range(nodes)),
        early=_stage([level[node] for node in order[:early]], 0, table),
        late=_stage([level[node] for node in order[early:]], early, table),
    )


def _minimum_fill(
    nodes: int, pairs: frozenset[tuple[int, int]], late: frozenset[int]
) -> tuple[list[int], list[set[int]], int]:
    """Order the nodes; returns the order, each one's neighbours at its turn, and how many go early."""
    near: list[set[int]] = [set() for _ in range(nodes)]
    for one, other in pairs:
        near[one].add(other)
        near[other].add(one)

    def cost(node: int) -> tuple[int, int, int]:
        around = near[node]
        missing = sum(len(around - near[other]) - 1 for other in around)
        return missing, len(around), node

    left = set(range(nodes)) - late
    costs = {node: cost(node) for node in range(nodes)}
    order: list[int] = []
    later: list[set[int]] = [set() for _ in range(nodes)]
    early = -1
    while len(order) < nodes:
        node = min(left, key=costs.__getitem__, default=-1)
        # Each missing pair is counted from both of its ends.
        if early < 0 and (node < 0 or (late and costs[node][0] > 2 * _EARLY_FILL)):
            early = len(order)
            left |= late
            continue
        left.remove(node)
        around = near[node]
        order.append(node)
        later[node] = set(around)
        touched = set(around)
        for other in around:
            near[other].discard(node)
        for one, other in combinations(around, 2):
            if other not in near[one]:
                # A new branch changes the count of everybody who sees both of its ends.
                touched |= near[one] & near[other]
                near[one].add(other)
                near[other].add(one)
        for other in touched:
            costs[other] = cost(other)
    return order, later, early if early >= 0 else nodes


def _block(at: int, table: _Rows) -> Block:
    ahead = table.after[at]
    inverse = [
        [table.conductance[one] if one == other else table.branch[min(one, other), max(one, other)] for other in ahead]
        for one in ahead
    ]
    return Block(
        first=table.first[at],
        neighbours=len(ahead),
        inverse=np.array(inverse, dtype=np.intp).reshape(len(ahead), len(ahead)),
    )


def _stage(levels: list[int], first_node: int, table: _Rows) -> Stage:
    """The stage of the nodes that begin at a position, given the level of each of them."""
    # A stage without nodes begins where the rows end.
    first_row = [*table.first, table.conductance[-1] + 2][first_node]
    members: dict[int, list[int]] = {}
    for offset, number in enumerate(levels):
        members.setdefault(number, []).append(first_node + offset)
    return Stage(
        first_node=first_node,
        first_row=first_row,
        levels=tuple(_level(members[number], table, first_node, first_row) for number in sorted(members)),
    )


def _level(nodes: list[int], table: _Rows, first_node: int, first_row: int) -> Level:
    first, after, conductance = table.first, table.after, table.conductance
    start, end = first[nodes[0]], conductance[nodes[-1]] + 2
    passes: list[tuple[list[int], list[int], list[int]]] = []
    times: dict[int, int] = {}
    for at in nodes:
        for index in range(len(after[at])):
            for offset, target in enumerate(table.targets(at, index)):
                turn = times.get(target, 0)
                times[target] = turn + 1
                if turn == len(passes):
                    passes.append(([], [], []))
                passes[turn][0].append(target - first_row)
                passes[turn][1].append(first[at] + index - start)
                passes[turn][2].append(first[at] + index + 1 + offset - start)
    branches = []
    for index in range(len(after[nodes[0]])):
        having = [at for at in nodes if len(after[at]) > index]
        branches.append(
            (
                _numbers(first[at] + index - start for at in having),
                _numbers(after[at][index] - first_node for at in having),
            )
        )
    return Level(
        nodes=slice(nodes[0] - first_node, nodes[-1] + 1 - first_node),
        rows=slice(start - first_row, end - first_row),
        conductances=_numbers(conductance[at] - start for at in nodes),
        injections=_numbers(conductance[at] + 1 - start for at in nodes),
        branches=tuple(branches),
        owner=_numbers(index for index, at in enumerate(nodes) for _ in range(len(after[at]) + 2)),
        passes=tuple((_numbers(target), _numbers(factor), _numbers(share)) for target, factor, share in passes),
    )


def _numbers(values: Iterable[int]) -> _Index:
    return np.fromiter(values, dtype=np.intp)
