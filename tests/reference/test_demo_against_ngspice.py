"""The demonstration's joined circuit against other programs, in many states with many draws of its parameters."""

from collections.abc import Callable

import numpy as np
import pytest

from loomwright.network.branches import BoolArray, FloatArray
from loomwright.network.compiling import Compiled, scale_of
from loomwright.network.held import driven
from loomwright.network.latches import Outcome
from loomwright.network.solution import Solution, contact_scale
from loomwright.network.solver import solve
from loomwright.network.states import State
from tests import demonstration
from tests.independent.balls import solve_balls
from tests.independent.ngspice_deck import solve_decks


def _drawn(
    choice: demonstration.Choice, lanes: int, seed: int
) -> tuple[Compiled, tuple[State, ...], FloatArray, FloatArray, BoolArray]:
    """Seeded points of the joined circuit: a state of a story, the relays as it leaves them, and one sound car each."""
    solved = demonstration.solved(choice)
    compiled = solved.compiled
    rng = np.random.default_rng(seed)
    # Every state is as likely as any other, but no state comes twice before all have come once.
    order = np.concatenate([rng.permutation(solved.points) for _ in range(-(-lanes // solved.points))])[:lanes]
    states = tuple(solved.states[lane] for lane in order)
    factor, emf = demonstration.drawn_parameters(compiled, lanes, seed + 1)
    return compiled, states, scale_of(compiled.netlist, states) * factor, emf, solved.latched[:, order]


def _points(
    choice: demonstration.Choice, lanes: int, seed: int
) -> tuple[Compiled, Solution, FloatArray, FloatArray, BoolArray]:
    compiled, states, scale, emf, latched = _drawn(choice, lanes, seed)
    assert len({state.stage for state in states}) >= 4
    solution = solve(compiled.branches, scale, emf, latched=latched)
    assert (solution.outcome == Outcome.SETTLED).all()
    return compiled, solution, scale, emf, driven(compiled.branches, solution, scale)


# Source: ngspice (Debian's program), operating points with the contacts frozen where the relays were found and the same
# leaks as explicit resistors. Tolerance: 1 mV, the last digit a workshop meter shows.
@pytest.mark.parametrize("choice", [demonstration.BASE, demonstration.V6], ids=demonstration.choice_name)
def test_the_joined_circuit_equals_a_circuit_simulator(
    choice: demonstration.Choice, needs_program: Callable[[str], str]
) -> None:
    lanes = 120
    compiled, solution, scale, emf, held = _points(choice, lanes, seed=101)
    shut = contact_scale(compiled.branches, scale, solution.latched)
    simulated = solve_decks(needs_program("ngspice"), compiled.branches, shut, emf)
    assert simulated.shape == (compiled.branches.nodes, lanes)
    assert not np.isnan(simulated).any()
    # Most nodes are driven in any state; a test of floating ones only would compare nothing.
    assert held.mean() > 0.6
    error = np.where(held, np.abs(simulated - solution.voltage), 0.0)
    node, lane = np.unravel_index(int(error.argmax()), error.shape)
    assert error.max() < 1e-3, (compiled.netlist.nodes[node], lane)
    # The relays stand where the simulator's own coil currents would have them.
    grounded = np.concatenate([simulated, np.zeros((1, lanes))])
    for number, latch in enumerate(compiled.branches.latches):
        across = grounded[compiled.branches.a[latch.coil]] - grounded[compiled.branches.b[latch.coil]]
        current = np.abs(scale[latch.coil] * compiled.branches.g[latch.coil, 0] * across)
        pulled = solution.latched[number]
        assert (current[pulled] > latch.drop_out_a - 1e-6).all()
        assert (current[~pulled] < latch.pull_in_a + 1e-6).all()


# Source: python-flint (Arb), ball arithmetic with 260 bits: each ball contains the true value of the linear network.
def test_the_joined_circuit_equals_ball_arithmetic() -> None:
    lanes = 200
    compiled, solution, scale, emf, held = _points(demonstration.V6, lanes, seed=303)
    branches = compiled.branches
    worst = 0.0
    for lane in range(lanes):
        shut = [True] * branches.count
        for number, latch in enumerate(branches.latches):
            for contact in latch.breaks if solution.latched[number, lane] else latch.makes:
                shut[contact] = False
        exact, radius = solve_balls(branches, scale[:, lane], emf[:, lane], solution.segment[:, lane], shut=shut)
        assert radius < 1e-30
        error = np.abs(exact - solution.voltage[:, lane])
        worst = max(worst, float(error[held[:, lane]].max()))
    assert worst < 1e-10
