"""Which nodes float."""

import numpy as np
import pytest

from loomwright.network.held import driven, held_by
from loomwright.network.solver import solve
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.synthetic import build, draw_points


def test_a_wire_cut_off_at_both_ends_floats_and_one_end_is_enough() -> None:
    net = Drawing()
    post, a, b = net.node(), net.node(), net.node()
    net.branch(post, -1, 100.0, emf=12.0)
    hot, wire, cold = net.branch(post, a, 10.0), net.branch(a, b, 10.0), net.branch(b, -1, 10.0)
    branches, scale, emf = from_drawing(net)
    scale = np.repeat(scale, 3, axis=1)
    scale[[hot, cold], 0] = 1e-9
    scale[hot, 1] = 1e-9
    solution = solve(branches, scale, emf)
    assert driven(branches, solution, scale).T.tolist() == [[True, False, False], [True] * 3, [True] * 3]
    # A meter of 10 MΩ does not hold a node, a test lamp of 30 Ω does.
    probed = Drawing(nodes=3, ends=list(net.ends), tables=list(net.tables), scale=list(net.scale), emf=list(net.emf))
    probe = probed.branch(a, -1, 1e-7)
    branches, scale, emf = from_drawing(probed)
    scale = np.repeat(scale, 2, axis=1)
    scale[[hot, cold]] = 1e-9
    scale[probe, 1] = 1.0 / 30.0
    solution = solve(branches, scale, emf)
    assert driven(branches, solution, scale)[[a, b]].T.tolist() == [[False, False], [True, True]]
    assert held_by(branches, solution, scale)[a, 1] == pytest.approx(30.0, rel=1e-6)
    assert wire == 2


def test_a_node_behind_a_blocking_diode_floats() -> None:
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, 100.0, emf=12.0)
    net.branch(out, post, 1.0, breaks=(0.7,), slopes=(1e-9, 40.0))
    branches, scale, emf = from_drawing(net)
    assert not driven(branches, solve(branches, scale, emf), scale)[out, 0]


def test_resistance_is_the_diagonal_of_the_inverse() -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 6, seed=7)
    branches = net.branches
    solution = solve(branches, scale, emf, hold=np.ones((len(branches.latches), 1), dtype=np.bool_))
    found = held_by(branches, solution, scale)
    incidence = np.zeros((branches.count, 61))
    incidence[np.arange(branches.count), branches.a] += 1.0
    incidence[np.arange(branches.count), branches.b] -= 1.0
    incidence = incidence[:, :-1]
    each = np.arange(branches.count)
    for lane in range(6):
        slope = scale[:, lane] * branches.g[each, solution.segment[:, lane]]
        for latch in branches.latches:
            slope[list(latch.makes)] *= 1e-11
        matrix = incidence.T @ (slope[:, None] * incidence) + 1e-9 * np.eye(60)
        # The inverse with a diagonal loses digits that the elimination keeps, hence the tolerance.
        assert found[:, lane] == pytest.approx(np.diag(np.linalg.inv(matrix)), rel=1e-5)
