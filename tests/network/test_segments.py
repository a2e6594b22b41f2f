"""The search for segments, where it is easy and where it must be rescued."""

import itertools
from typing import Any

import numpy as np
import pytest

from loomwright.errors import SolveError
from loomwright.network.segments import Search, descend, locate
from loomwright.network.solver import solve
from tests.independent.dense import solve_dense
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.synthetic import random_network


def test_locate_counts_the_breaks_below() -> None:
    breaks = np.array([[-1.0, 0.0, 2.0], [0.5, np.inf, np.inf]])
    voltage = np.array([[-2.0, -0.5, 1.0, 3.0], [0.0, 0.5, 0.6, 99.0]])
    assert locate(breaks, voltage).tolist() == [[0, 1, 2, 3], [0, 0, 1, 1]]


def test_a_driver_in_its_limit_is_a_current_source() -> None:
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, 1e3, emf=12.0)
    net.driver(post, out, 2.0)
    load = net.branch(out, -1, 1.0 / 3.0)
    branches, scale, emf = from_drawing(net)
    # 2 A at the knee of 0.2 V, then 1 mS: 3 Ω take 6 V and leave a little more than 5.8 V beyond the knee.
    current = solve(branches, scale, emf).current[load, 0]
    assert current == pytest.approx((2.0 + 1e-3 * (12.0 - 0.2)) / (1.0 + 3e-3 + 2e-3 * 1e-3), rel=1e-4)


def test_bridge_rectifier_passes_both_ways() -> None:
    net = Drawing()
    hot, plus, minus = net.node(), net.node(), net.node()
    net.branch(hot, -1, 100.0, emf=10.0)
    for a, b in ((hot, plus), (-1, plus), (minus, hot), (minus, -1)):
        net.diode(a, b)
    load = net.branch(plus, minus, 0.1)
    branches, scale, emf = from_drawing(net)
    emf = np.repeat(emf, 2, axis=1)
    emf[0] = [10.0, -10.0]
    current = solve(branches, scale, emf).current[load]
    assert current[0] == pytest.approx(current[1], rel=1e-9)
    assert current[0] == pytest.approx((10.0 - 1.4) / (10.0 + 0.05 + 0.01), rel=1e-3)


def test_a_search_that_comes_back_goes_on_in_steps_and_then_asks_for_a_descent() -> None:
    breaks = np.array([[-1.0, 1.0], [-1.0, 1.0]])
    search = Search(breaks, np.array([1, 1]), 1)
    # A made-up circuit whose first branch always asks for the other end.
    asked = []
    for _ in range(20):
        low = search.segment[0, 0] == 0
        off, want = search.violated(np.array([[5.0 if low else -5.0], [0.0]]))
        assert off.all()
        descents = search.advance(off, want)
        asked.append(int(search.segment[0, 0]))
        if descents.any():
            break
    assert asked[:3] == [0, 2, 0]
    assert descents.all()
    assert len(asked) < 12


def test_senseless_networks_that_need_the_descent_are_right(monkeypatch: pytest.MonkeyPatch) -> None:
    count = 0

    def counted(*arguments: Any) -> Any:
        nonlocal count
        count += 1
        return descend(*arguments)

    monkeypatch.setattr("loomwright.network.rounds.descend", counted)
    rng = np.random.default_rng(17)
    for _ in range(80):
        branches, scale, emf = random_network(rng, 30)
        before = count
        solution = solve(branches, scale, emf)
        if count > before:
            expected = solve_dense(branches, scale[:, 0], emf[:, 0])[:-1]
            assert np.abs(expected - solution.voltage[:, 0]).max() < 1e-6
    assert count > 0


def test_a_descent_that_never_ends_tells_where() -> None:
    # No network does this: whatever segment is assumed, the voltage asks for the other one.
    signs = itertools.cycle((1.0, -1.0))
    steps = itertools.count(1.0)
    with pytest.raises(SolveError, match=r"did not settle.*at node 0, after 500 steps") as caught:
        descend(
            solve=lambda _segment: np.array([next(steps), 0.0]),
            slope=lambda _point, _way: -1.0,
            across=lambda _point: np.array([next(signs)]),
            breaks=np.array([[0.0]]),
            begin=np.zeros(2),
        )
    assert caught.value.iterations == 500
    assert caught.value.residual == pytest.approx(1.0)
