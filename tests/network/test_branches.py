"""What a network must be like, and how a wrong one is told."""

from typing import Any

import numpy as np
import pytest

from loomwright.network.branches import Branches, Latch

_INF = np.inf


def _given(**changes: Any) -> dict[str, Any]:
    """A battery, a diode and a load, as keywords, with some of them changed."""
    given: dict[str, Any] = {
        "nodes": 2,
        "a": np.array([0, 0, 1]),
        "b": np.array([-1, 1, -1]),
        "breaks": np.array([[_INF], [0.7], [_INF]]),
        "g": np.array([[1.0, 1.0], [0.0, 40.0], [1.0, 1.0]]),
        "i0": np.array([[0.0, 0.0], [0.0, -28.0], [0.0, 0.0]]),
        "start": np.array([0, 0, 0]),
        "latches": (),
    }
    return given | changes


def _table(name: str, row: int, column: int, value: float) -> dict[str, Any]:
    array = np.array(_given()[name], dtype=float)
    array[row, column] = value
    return {name: array}


def test_a_good_network_is_kept_as_arrays() -> None:
    branches = Branches(**_given())
    assert branches.count == 3
    assert branches.a.dtype == np.int64
    assert branches.g.flags.c_contiguous


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"nodes": 0}, "nodes: found 0, expected at least 1"),
        ({"start": np.array([0, 0])}, r"start: found shape \(2,\), expected \(3,\)"),
        ({"breaks": np.zeros((3, 2))}, r"breaks: found shape \(3, 2\), expected \(3, 1\)"),
        ({"a": np.array([0, 0, 2])}, r"branch 2: an end lies outside -1 \.\. 1"),
        ({"b": np.array([-1, 0, -1])}, "branch 1: both ends are the same node"),
        (_table("g", 1, 1, np.nan), "branch 1: a slope or intercept is not a finite number"),
        (_table("g", 1, 0, -1e-3), "branch 1: a segment falls; characteristics must rise or stay level"),
        (_table("breaks", 1, 0, np.nan), "branch 1: a break is not a voltage"),
        (_table("i0", 1, 1, -27.9), "branch 1: the characteristic jumps at a break"),
        ({"start": np.array([0, 1, 0])}, "branch 1: the start segment does not hold 0 V"),
        ({"latches": (Latch(coil=3, pull_in_a=0.1, drop_out_a=0.05),)}, r"latch 0: branch 3 lies outside 0 \.\. 2"),
        (
            {"latches": (Latch(coil=2, pull_in_a=0.1, drop_out_a=0.05, makes=(2,)),)},
            "latch 0: its coil, branch 2, is a contact of latch 0",
        ),
        (
            {"latches": tuple(Latch(coil=2, pull_in_a=0.1, drop_out_a=0.05, makes=(0,)) for _ in range(2))},
            "latch 1: branch 0 is already a contact of latch 0",
        ),
        (
            {"latches": (Latch(coil=2, pull_in_a=0.05, drop_out_a=0.1),)},
            "latch 0: found pull-in 0.05 A and drop-out 0.1 A, expected 0 < drop-out <= pull-in",
        ),
    ],
)
def test_a_wrong_network_is_told_in_one_sentence(changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Branches(**_given(**changes))


@pytest.mark.parametrize(
    ("breaks", "message"),
    [
        ([1.0, 0.5], "branch 0: breaks do not rise"),
        ([0.5, 0.5], "branch 0: breaks do not rise"),
        ([_INF, 0.5], "branch 0: a break follows the padding"),
    ],
)
def test_breaks_rise_and_padding_comes_last(breaks: list[float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Branches(
            nodes=1,
            a=np.array([0]),
            b=np.array([-1]),
            breaks=np.array([breaks]),
            g=np.ones((1, 3)),
            i0=np.zeros((1, 3)),
            start=np.array([0]),
        )


def test_a_byte_must_hold_the_segment() -> None:
    with pytest.raises(ValueError, match="g: found 129 segments, expected at most 128"):
        Branches(
            nodes=1,
            a=np.array([0]),
            b=np.array([-1]),
            breaks=np.arange(1.0, 129.0)[None, :],
            g=np.ones((1, 129)),
            i0=np.zeros((1, 129)),
            start=np.array([0]),
        )
