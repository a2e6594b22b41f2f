"""Sensitivities against finite differences."""

import numpy as np
import pytest

from loomwright.network.adjoint import Point, Through, observe, sensitivity, values
from loomwright.network.solver import solve
from tests.independent.synthetic import build, draw_points

_POINTS: list[Point] = [
    *[(lane, node) for lane in range(4) for node in (0, 17, 33, 59)],
    (3, 20, 30),
    (2, 44, 0),
    Through(lane=2, branch=5),
    Through(lane=1, branch=0),
    Through(lane=3, branch=40),
]


def test_derivatives_equal_finite_differences() -> None:
    net = build(60, seed=1)
    branches = net.branches
    scale, emf = draw_points(net, 4, seed=7)
    solution = solve(branches, scale, emf)
    hold = np.ones_like(solution.latched)
    points = observe(branches, _POINTS, 4)
    found = sensitivity(branches, solution, scale, points)

    def shown(scale: np.ndarray, emf: np.ndarray) -> np.ndarray:
        return values(solve(branches, scale, emf, latched=solution.latched, hold=hold), points)

    for branch in range(0, branches.count, 3):
        step = np.ones((branches.count, 1))
        step[branch] = 1.0 + 1e-6
        slope = (shown(scale * step, emf) - shown(scale / step, emf)) / 2e-6
        # A current of 100 A through 10 mΩ is good to about 1e-12 A, which the step divides by 2e-6.
        assert found.scale[branch] == pytest.approx(slope, rel=1e-5, abs=2e-6)
        shift = np.zeros((branches.count, 1))
        shift[branch] = 1e-5
        slope = (shown(scale, emf + shift) - shown(scale, emf - shift)) / 2e-5
        assert found.emf[branch] == pytest.approx(slope, rel=1e-5, abs=1e-7)


def test_a_voltage_between_two_nodes_is_a_difference_of_two() -> None:
    net = build(60, seed=1)
    solution = solve(net.branches, net.scale, net.emf)
    points = observe(net.branches, [(0, 20), (0, 30), (0, 20, 30)], 1)
    shown = values(solution, points)
    assert shown[2] == pytest.approx(shown[0] - shown[1])
    found = sensitivity(net.branches, solution, net.scale, points)
    assert found.emf[:, 2] == pytest.approx(found.emf[:, 0] - found.emf[:, 1], abs=1e-12)


@pytest.mark.parametrize(
    ("point", "message"),
    [
        ((1, 0), r"point 0: lane 1 lies outside 0 \.\. 0"),
        ((0, 60), r"point 0: a node lies outside -1 \.\. 59"),
        ((0, 0, 60), r"point 0: a node lies outside -1 \.\. 59"),
        (Through(lane=0, branch=-1), "point 0: branch -1 lies outside 0"),
    ],
)
def test_points_that_do_not_exist_are_told(point: Point, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        observe(build(60, seed=1).branches, [point], 1)
