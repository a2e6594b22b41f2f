"""Whole networks against other programs: ball arithmetic, a circuit simulator, a graph library, a dense solver."""

from collections.abc import Callable

import networkx as nx
import numpy as np
import pytest

from loomwright.network.branches import BoolArray, Branches
from loomwright.network.held import driven, held_by
from loomwright.network.solution import contact_scale
from loomwright.network.solver import Solution, solve
from tests.independent.balls import solve_balls
from tests.independent.dense import contacts, solve_dense
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.ngspice_deck import solve_decks
from tests.independent.synthetic import build, draw_points, random_network


def _shut(branches: Branches, latched: BoolArray) -> list[bool]:
    found = [True] * branches.count
    for latch, pulled in zip(branches.latches, latched, strict=True):
        for branch in latch.breaks if pulled else latch.makes:
            found[branch] = False
    return found


# Source: python-flint (Arb), ball arithmetic with 260 bits: each ball contains the true value of the linear network.
# Tolerance: 1e-10 V is what the rest of the package relies on; the elimination is good to about 1e-13 V.
@pytest.mark.parametrize(
    ("nodes", "lanes"),
    [
        (60, 60),
        (116, 20),
        pytest.param(60, 400, marks=pytest.mark.soak),
        pytest.param(116, 200, marks=pytest.mark.soak),
    ],
)
def test_voltages_equal_ball_arithmetic(nodes: int, lanes: int) -> None:
    net = build(nodes, seed=1)
    scale, emf = draw_points(net, lanes, seed=11)
    solution = solve(net.branches, scale, emf)
    held = driven(net.branches, solution, scale)
    for lane in range(lanes):
        exact, radius = solve_balls(
            net.branches,
            scale[:, lane],
            emf[:, lane],
            solution.segment[:, lane],
            shut=_shut(net.branches, solution.latched[:, lane]),
        )
        assert radius < 1e-30
        error = np.abs(exact - solution.voltage[:, lane])
        assert error[held[:, lane]].max() < 1e-10
        # A floating node's true value is known too, and the elimination finds it; only its meaning is in doubt.
        assert error.max() < 1e-6


# Source: ngspice (Debian's program), operating points with contacts frozen where the relays were found and the same
# leaks as explicit resistors. Tolerance: 1 mV, the trade's last digit; the program's own tolerances are far below it.
@pytest.mark.parametrize(
    ("nodes", "seed", "lanes"),
    [
        (60, 1, 200),
        (116, 2, 100),
        *(pytest.param(nodes, seed, 1000, marks=pytest.mark.soak) for nodes, seed in ((60, 3), (116, 4), (200, 5))),
    ],
)
def test_voltages_equal_a_circuit_simulator(
    needs_program: Callable[[str], str], nodes: int, seed: int, lanes: int
) -> None:
    net = build(nodes, seed=seed)
    scale, emf = draw_points(net, lanes, seed=21)
    solution = solve(net.branches, scale, emf)
    shut = contact_scale(net.branches, scale, solution.latched)
    simulated = solve_decks(needs_program("ngspice"), net.branches, shut, emf)
    assert not np.isnan(simulated).any()
    held = driven(net.branches, solution, scale)
    assert np.abs(simulated - solution.voltage)[held].max() < 1e-3
    # The relays stand where the simulator's own coil currents would have them.
    grounded = np.concatenate([simulated, np.zeros((1, lanes))])
    for number, latch in enumerate(net.branches.latches):
        coil = latch.coil
        across = grounded[net.branches.a[coil]] - grounded[net.branches.b[coil]]
        current = np.abs(scale[coil] * across)
        settled = solution.outcome != 1
        pulled = solution.latched[number] & settled
        assert (current[pulled] > latch.drop_out_a - 1e-6).all()
        assert (current[~solution.latched[number] & settled] < latch.pull_in_a + 1e-6).all()


# Source: networkx.resistance_distance (Klein and Randić, "Resistance distance", J. Math. Chem. 12, 1993).
def test_resistance_to_the_reference_equals_a_graph_library() -> None:
    rng = np.random.default_rng(3)
    graph = nx.gnm_random_graph(14, 30, seed=5)
    graph.add_edges_from((node, 14) for node in range(3))
    assert nx.is_connected(graph)
    net = Drawing(nodes=14)
    for one, other in graph.edges:
        ohm = float(10.0 ** rng.uniform(-2, 4))
        graph.edges[one, other]["weight"] = ohm
        net.branch(min(one, other), -1 if max(one, other) == 14 else max(one, other), 1.0 / ohm)
    branches, scale, emf = from_drawing(net)
    # The leaks stand beside everything here, so they are made too small to count.
    solution = solve(branches, scale, emf, leak=1e-15)
    found = held_by(branches, solution, scale, leak=1e-15)[:, 0]
    expected = [nx.resistance_distance(graph, node, 14, weight="weight", invert_weight=True) for node in range(14)]
    assert found == pytest.approx(expected, rel=1e-8)


# Source: closed form of a ladder of equal resistors of 1 Ω, a continued fraction: n sections have the input resistance
# F(2n+1)/F(2n) of Fibonacci numbers.
def test_ladder_has_the_resistance_of_fibonacci_numbers() -> None:
    net = Drawing()
    before = net.node()
    for _ in range(20):
        after = net.node()
        net.branch(before, after, 1.0)
        net.branch(after, -1, 1.0)
        before = after
    branches, scale, emf = from_drawing(net)
    solution = solve(branches, scale, emf, leak=1e-18)
    fibonacci = [0, 1]
    while len(fibonacci) < 43:
        fibonacci.append(fibonacci[-1] + fibonacci[-2])
    assert held_by(branches, solution, scale, leak=1e-18)[0, 0] == pytest.approx(
        fibonacci[41] / fibonacci[40], rel=1e-12
    )


# Independent check: tests/independent/dense.py, LAPACK and damped Newton on the co-content, nothing shared. Its matrix
# has a diagonal, so floating nodes are good to a few nV only.
def test_voltages_equal_a_dense_solver_lane_by_lane() -> None:
    net = build(60, seed=4)
    scale, emf = draw_points(net, 60, seed=31)
    solution = solve(net.branches, scale, emf)
    for lane in range(60):
        shut = contacts(net.branches, scale[:, lane], solution.latched[:, lane])
        expected = solve_dense(net.branches, shut, emf[:, lane])[:-1]
        assert np.abs(expected - solution.voltage[:, lane]).max() < 1e-7


def test_senseless_networks_equal_a_dense_solver() -> None:
    rng = np.random.default_rng(5)
    for _ in range(60):
        branches, scale, emf = random_network(rng, 30)
        solution: Solution = solve(branches, scale, emf)
        expected = solve_dense(branches, scale[:, 0], emf[:, 0])[:-1]
        assert np.abs(expected - solution.voltage[:, 0]).max() < 1e-6
