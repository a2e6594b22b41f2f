"""Linear networks in eight lanes at a time, as loops for a compiler: what `lanes` does with whole arrays.

Each row fetches what it gets from the nodes eliminated before it, in the order in which `lanes` would have given it, so
that the bits are the same.
"""

import numpy as np
import numpy.typing as npt

from loomwright.network.kernel_eights import WIDE, Eight, add, inverse, load, store, times
from loomwright.network.kernel_plan import WIDTH, Gets, Lists, Order

__all__ = ["LINEAR", "divide", "eliminate", "eliminate_lanes", "gather", "pile", "recover"]

_Floats = npt.NDArray[np.float64]
_1, _2 = np.uintp(1), np.uintp(2)


def eliminate(order: Order, node: int | np.uintp, own: _Floats, share: _Floats) -> None:
    """Eliminate a node whose rows are whole: find its shares."""
    first, count = np.uintp(order.first[node]), np.uintp(order.degree[node])
    total = load(own, (first + count) * WIDE)
    for row in range(first, first + count):
        total = add(total, load(own, row * WIDE))
    divide(order, node, total, own, share)


def divide(order: Order, node: int | np.uintp, total: Eight, own: _Floats, share: _Floats) -> None:
    """Find the shares of a node from its rows and the sum of its conductances."""
    first, part = np.uintp(order.first[node]), inverse(total)
    for row in range(first, first + np.uintp(order.degree[node]) + _2):
        at = row * WIDE
        store(share, at, times(load(own, at), part))


def recover(order: Order, begin: int, end: int, share: _Floats, point: _Floats) -> None:
    """Find the voltages of the places from `begin` to `end` from those of later places."""
    for behind in range(np.uintp(end - begin)):
        node = np.uintp(end) - _1 - behind
        first, count = np.uintp(order.first[node]), np.uintp(order.degree[node])
        found = load(share, (first + count + _1) * WIDE)
        at = first * WIDE
        for index in range(np.uintp(order.later.at[node]), np.uintp(order.later.at[node + _1])):
            found = add(found, times(load(share, at), load(point, np.uintp(order.later.place[index]))))
            at += WIDE
        store(point, node * WIDE, found)


def gather(own: _Floats, share: _Floats, gets: Gets, row: int | np.uintp, begin: Eight) -> Eight:
    """Add to what a row has what it gets from the nodes eliminated before."""
    for index in range(np.uintp(gets.at[row]), np.uintp(gets.at[row + _1])):
        mine, theirs = np.uintp(gets.own[index]), np.uintp(gets.share[index])
        begin = add(begin, times(load(share, theirs), load(own, mine)))
    return begin


def pile(stamps: _Floats, lists: Lists, row: int | np.uintp, begin: Eight) -> Eight:
    """Add to what a row has what is stamped on it."""
    for index in range(np.uintp(lists.at[row]), np.uintp(lists.at[row + _1])):
        begin = add(begin, load(stamps, np.uintp(lists.place[index])))
    return begin


def eliminate_lanes(order: Order, rows: _Floats, voltage: _Floats) -> None:
    """Solve one linear network for each lane, as `lanes.eliminate` does; `voltage` is filled, in node order."""
    lanes = rows.shape[1]
    own = np.empty(order.rows * WIDTH)
    share = np.empty(order.rows * WIDTH)
    point = np.empty(order.nodes * WIDTH)
    for begin in range(0, lanes, WIDTH):
        for row in range(order.rows):
            for lane in range(WIDTH):
                own[row * WIDTH + lane] = rows[row, min(begin + lane, lanes - 1)]
        for node in range(np.uintp(order.nodes)):
            first = np.uintp(order.first[node])
            for row in range(first, first + np.uintp(order.degree[node]) + _2):
                at = row * WIDE
                sum_ = gather(own, share, order.before, row, load(own, at))
                store(own, at, gather(own, share, order.gets, row, sum_))
            eliminate(order, node, own, share)
        recover(order, 0, order.nodes, share, point)
        for node in range(order.nodes):
            for lane in range(min(WIDTH, lanes - begin)):
                voltage[node, begin + lane] = point[order.place[node] * WIDTH + lane]


LINEAR = (divide, eliminate, recover, gather, pile)
"""What a compiler must be told of, beside the eights."""
