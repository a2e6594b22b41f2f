"""Eight numbers that stand side by side, so that a compiler may keep them in one register; part of `kernel_code`.

A group is eight lanes: its arrays are flat, one row after the other, the eight numbers of a row side by side.
"""

import numpy as np
import numpy.typing as npt

from loomwright.network.segments import SLACK_V

__all__ = [
    "EIGHTS", "WIDE", "Eight", "add", "beyond", "give", "inverse", "larger", "less", "load", "put", "same", "size",
    "smaller", "store", "take", "times",
]  # fmt: skip

_Floats = npt.NDArray[np.float64]
_Ints = npt.NDArray[np.int64]
Eight = tuple[float, float, float, float, float, float, float, float]

WIDE = np.uintp(8)
_1, _2, _3, _4, _5, _6, _7 = (np.uintp(number) for number in range(1, 8))


def load(array: _Floats, at: np.uintp) -> Eight:
    """Return the eight numbers from one place on."""
    return (
        array[at], array[at + _1], array[at + _2], array[at + _3],
        array[at + _4], array[at + _5], array[at + _6], array[at + _7],
    )  # fmt: skip


def store(array: _Floats, at: np.uintp, x: Eight) -> None:
    """Put eight numbers from one place on."""
    array[at], array[at + _1], array[at + _2], array[at + _3] = x[0], x[1], x[2], x[3]
    array[at + _4], array[at + _5], array[at + _6], array[at + _7] = x[4], x[5], x[6], x[7]


def same(x: float) -> Eight:
    """Return one number eight times."""
    return (x, x, x, x, x, x, x, x)


def add(x: Eight, y: Eight) -> Eight:
    """Return the eight sums."""
    return (x[0] + y[0], x[1] + y[1], x[2] + y[2], x[3] + y[3], x[4] + y[4], x[5] + y[5], x[6] + y[6], x[7] + y[7])


def less(x: Eight, y: Eight) -> Eight:
    """Return the eight differences."""
    return (x[0] - y[0], x[1] - y[1], x[2] - y[2], x[3] - y[3], x[4] - y[4], x[5] - y[5], x[6] - y[6], x[7] - y[7])


def times(x: Eight, y: Eight) -> Eight:
    """Return the eight products."""
    return (x[0] * y[0], x[1] * y[1], x[2] * y[2], x[3] * y[3], x[4] * y[4], x[5] * y[5], x[6] * y[6], x[7] * y[7])


def inverse(x: Eight) -> Eight:
    """Return the eight reciprocals."""
    return (1.0 / x[0], 1.0 / x[1], 1.0 / x[2], 1.0 / x[3], 1.0 / x[4], 1.0 / x[5], 1.0 / x[6], 1.0 / x[7])


def size(x: Eight) -> Eight:
    """Return the eight absolute values."""
    return (abs(x[0]), abs(x[1]), abs(x[2]), abs(x[3]), abs(x[4]), abs(x[5]), abs(x[6]), abs(x[7]))


def larger(x: Eight, y: Eight) -> Eight:
    """Return the larger of each two."""
    return (
        max(x[0], y[0]), max(x[1], y[1]), max(x[2], y[2]), max(x[3], y[3]),
        max(x[4], y[4]), max(x[5], y[5]), max(x[6], y[6]), max(x[7], y[7]),
    )  # fmt: skip


def smaller(x: Eight, y: Eight) -> Eight:
    """Return the smaller of each two."""
    return (
        min(x[0], y[0]), min(x[1], y[1]), min(x[2], y[2]), min(x[3], y[3]),
        min(x[4], y[4]), min(x[5], y[5]), min(x[6], y[6]), min(x[7], y[7]),
    )  # fmt: skip


def beyond(x: Eight, low: Eight, high: Eight) -> bool:
    """Whether one of the numbers is out of its range by more than the slack."""
    above, below = larger(less(x, high), less(low, x)), SLACK_V
    return (
        (above[0] > below) | (above[1] > below) | (above[2] > below) | (above[3] > below)
        | (above[4] > below) | (above[5] > below) | (above[6] > below) | (above[7] > below)
    )  # fmt: skip


def take(values: _Floats, rows: _Ints, into: _Floats, begin: int, groups: int, apart: int) -> None:
    """Take some rows of the lanes from `begin` on, so many groups, whose numbers stand so far apart.

    The last lane stands for those that miss, and so a single column for all.
    """
    width, last = values.shape[1], values.shape[1] - 1
    flat = values.reshape(-1)
    if begin + groups * 8 <= width:
        for row in rows:
            here = np.uintp(row * width + begin)
            for group in range(groups):
                store(into, np.uintp(group * apart + row * 8), load(flat, here))
                here += WIDE
    else:
        for row in rows:
            for lane in range(groups * 8):
                into[lane // 8 * apart + row * 8 + lane % 8] = values[row, min(begin + lane, last)]


def give(found: _Floats, places: _Ints, into: _Floats, begin: int, groups: int, apart: int) -> None:
    """Write the rows that stand at some places of so many groups to the first rows of the lanes from `begin` on."""
    lanes = into.shape[1]
    flat = into.reshape(-1)
    if begin + groups * 8 <= lanes:
        for row, place in enumerate(places):
            here = np.uintp(row * lanes + begin)
            for group in range(groups):
                store(flat, here, load(found, np.uintp(group * apart + place * 8)))
                here += WIDE
    else:
        for row, place in enumerate(places):
            for lane in range(min(groups * 8, lanes - begin)):
                into[row, begin + lane] = found[lane // 8 * apart + place * 8 + lane % 8]


def put(values: _Floats, begin: int, into: _Floats, at: int, count: int) -> None:
    """Copy so many numbers, a multiple of eight, from one place to another."""
    here, there = np.uintp(begin), np.uintp(at)
    for _ in range(count // 8):
        store(into, there, load(values, here))
        here += WIDE
        there += WIDE


EIGHTS = (load, store, same, add, less, times, inverse, size, larger, smaller, beyond, take, give, put)
"""What a compiler must be told of."""
