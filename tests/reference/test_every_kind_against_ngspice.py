"""Every kind of element, every piece of its characteristic and both stands of every relay against ngspice.

The demonstration's joined circuits and untouched hard cars, in seeded states with seeded values; batteries from a full
one to one connected the wrong way round, and leads shorted to the body, so that lamps, diodes and outputs are driven
through all their pieces.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pytest

from loomwright.network.branches import BoolArray, FloatArray
from loomwright.network.compiling import Compiled, compile_netlist, scale_of
from loomwright.network.elements import GROUND, Element, Netlist, Origin, line
from loomwright.network.held import driven
from loomwright.network.joining import bare_netlist, joined_netlist, with_probes
from loomwright.network.latches import Outcome
from loomwright.network.solution import Solution, contact_scale
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.network.stories import bare_stories, stories_of
from tests import demonstration
from tests.independent.balls import solve_balls
from tests.independent.ngspice_library import solve_points
from tests.network.test_hard_cars import FAMILIES
from tests.pairs import PAIRS, car_of, installations

_SHORT = "short:"
_SHORT_S = 100.0
_UNUSED = 1e-13


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A circuit ready to be drawn from: its states, and where shorts may be put."""

    name: str
    compiled: Compiled
    states: tuple[State, ...]
    shorts: tuple[int, ...]


def _with_shorts(netlist: Netlist) -> Netlist:
    """Add a dead short to the body at every lead and every driven pin of a controller, lifted off."""
    nodes = [n for n in netlist.nodes if n.endswith((":far", ":lead"))] or [
        n for n in netlist.nodes if n.startswith("e:") and n.endswith("/load")
    ]
    extra = [
        Element(
            id=_SHORT + n, kind="meter", a=n, b=GROUND, shape=line(_SHORT_S), when=(),
            origin=Origin(side="tool", of=n, words="short"),
        )
        for n in nodes
    ]  # fmt: skip
    return Netlist.of([*netlist.elements, *extra], netlist.joints_made)


def _circuit(name: str, netlist: Netlist, states: Sequence[State]) -> Circuit:
    probed = with_probes(netlist, [n for n in netlist.nodes if n.startswith("c:") and n.endswith(":h")][:6])
    compiled = compile_netlist(_with_shorts(probed))
    shorts = tuple(i for name, i in compiled.element.items() if name.startswith(_SHORT))
    return Circuit(name=name, compiled=compiled, states=tuple(dict.fromkeys(states)), shorts=shorts)


def _circuits() -> Iterator[Circuit]:
    for pair in PAIRS:
        (plan,) = installations(pair, 1)
        states = [s for story in stories_of(plan) for s in story.states]
        yield _circuit("-".join(pair), joined_netlist(plan), states)
    fitted = {family for family, _ in PAIRS}
    for family in FAMILIES:
        if family not in fitted:
            car = car_of(family)
            yield _circuit(family, bare_netlist(car), [s for story in bare_stories(car) for s in story.states])


def _drawn(circuit: Circuit, lanes: int, seed: int) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Scale, source voltages [V] and relays before, of seeded points."""
    compiled, netlist = circuit.compiled, circuit.compiled.netlist
    rng = np.random.default_rng(seed)
    order = np.concatenate([rng.permutation(len(circuit.states)) for _ in range(-(-lanes // len(circuit.states)))])
    factor, emf = demonstration.drawn_parameters(compiled, lanes, seed + 1)
    scale = scale_of(netlist, [circuit.states[n] for n in order[:lanes]]) * factor
    scale[[i for i, e in enumerate(netlist.elements) if e.origin.side == "tool"]] = _UNUSED
    for i, e in enumerate(netlist.elements):
        if e.kind in ("meter", "test lamp") and not e.id.startswith(_SHORT):
            scale[i, rng.random(lanes) < 0.2] = 1.0
    sources = np.array([i for i, e in enumerate(netlist.elements) if e.kind in ("battery", "alternator")])
    # Half of the points have a battery of any voltage, also one that somebody connected the wrong way round.
    odd = rng.random(lanes) < 0.5
    emf[np.ix_(sources, np.flatnonzero(odd))] *= rng.permutation(np.linspace(-1.15, 1.15, int(odd.sum())))
    for lane in np.flatnonzero(rng.random(lanes) < 0.34):
        scale[rng.choice(circuit.shorts), lane] = 1.0
    latched = rng.random((len(compiled.branches.latches), lanes)) < 0.5
    return scale, emf, latched


def _visited(circuit: Circuit, solution: Solution, settled: BoolArray) -> set[tuple[str, int]]:
    """Return (kind, piece counted from the most negative one) of every element, and ('relay', stand)."""
    out: set[tuple[str, int]] = set()
    for i, e in enumerate(circuit.compiled.netlist.elements):
        out |= {(e.kind, int(s)) for s in np.unique(solution.segment[i, settled])}
    return out | {("relay", int(x)) for x in np.unique(solution.latched[:, settled])}


def _expected(circuits: Sequence[Circuit]) -> set[tuple[str, int]]:
    kinds = {(e.kind, n) for c in circuits for e in c.compiled.netlist.elements for n in range(len(e.shape.g))}
    return kinds | {("relay", 0), ("relay", 1)}


def _chosen(circuit: Circuit, solution: Solution, seen: set[tuple[str, int]], keep: int) -> BoolArray:
    """Choose lanes that settle: those that come to a piece or stand which none before them came to, then the first."""
    lanes = len(solution.outcome)
    settled = np.array([o == Outcome.SETTLED for o in solution.outcome])
    assert settled.mean() > 0.8, circuit.name  # the rest chatters, and no operating point is its own
    chosen = np.zeros(lanes, dtype=np.bool_)
    for lane in np.flatnonzero(settled):
        new = _visited(circuit, solution, np.arange(lanes) == lane) - seen
        chosen[lane] = bool(new)
        seen |= new
    left = np.flatnonzero(settled & ~chosen)
    chosen[left[: max(keep - int(chosen.sum()), 0)]] = True
    return chosen


def _compare(
    file: str, circuits: Sequence[Circuit], lanes: int, keep: int, seed: int
) -> tuple[int, float, set[tuple[str, int]]]:
    """Return how many points were compared, the largest difference on a held node [V], and what was visited."""
    points, worst = 0, 0.0
    visited: set[tuple[str, int]] = set()
    seen: set[tuple[str, int]] = set()
    for number, circuit in enumerate(circuits):
        branches = circuit.compiled.branches
        scale, emf, latched = _drawn(circuit, lanes, seed + 10 * number)
        solution = solve(branches, scale, emf, latched=latched)
        settled = _chosen(circuit, solution, seen, keep)
        wanted = int(settled.sum())
        shut = contact_scale(branches, scale, solution.latched)
        simulated = np.full_like(solution.voltage, np.nan)
        simulated[:, settled] = solve_points(file, branches, shut[:, settled], emf[:, settled], say=print)
        # Rarely the simulator's iteration finds no operating point; such a point is none.
        settled &= ~np.isnan(simulated).any(axis=0)
        assert settled.sum() > 0.9 * wanted, circuit.name
        simulated = simulated[:, settled]
        held = driven(branches, solution, scale)[:, settled]
        assert held.mean() > 0.5
        error = np.where(held, np.abs(simulated - solution.voltage[:, settled]), 0.0)
        node, lane = np.unravel_index(int(error.argmax()), error.shape)
        assert error.max() < 1e-3, (circuit.name, circuit.compiled.netlist.nodes[node], int(lane), float(error.max()))
        points += int(settled.sum())
        worst = max(worst, float(error.max()))
        visited |= _visited(circuit, solution, settled)
    print(f"{points} points, worst {worst:.2e} V, {len(visited)} of {len(_expected(circuits))} pieces and stands")
    return points, worst, visited


# Source: ngspice as a shared library (Debian's libngspice0): operating points with the contacts frozen where the relays
# were found and the same leaks as explicit resistors. Tolerance: 1 mV, the last digit a workshop meter shows.
def test_every_kind_piece_and_stand_equals_a_circuit_simulator(needs_library: Callable[[str], str]) -> None:
    circuits = list(_circuits())
    points, _, visited = _compare(needs_library("ngspice"), circuits, 110, 23, seed=404)
    assert points >= 240
    assert _expected(circuits) - visited == set()


@pytest.mark.soak
def test_a_thousand_points_equal_a_circuit_simulator(needs_library: Callable[[str], str]) -> None:
    circuits = list(_circuits())
    points, _, visited = _compare(needs_library("ngspice"), circuits, 110, 110, seed=505)
    assert points >= 1000
    assert _expected(circuits) - visited == set()


# Source: python-flint (Arb), ball arithmetic with 260 bits: each ball contains the true value of the linear network.
@pytest.mark.soak
def test_two_hundred_points_of_all_circuits_equal_ball_arithmetic() -> None:
    worst, points = 0.0, 0
    for number, circuit in enumerate(_circuits()):
        branches = circuit.compiled.branches
        scale, emf, latched = _drawn(circuit, 22, 606 + number)
        solution = solve(branches, scale, emf, latched=latched)
        held = driven(branches, solution, scale)
        for lane in range(scale.shape[1]):
            shut = [True] * branches.count
            for relay, latch in enumerate(branches.latches):
                for contact in latch.breaks if solution.latched[relay, lane] else latch.makes:
                    shut[contact] = False
            exact, radius = solve_balls(branches, scale[:, lane], emf[:, lane], solution.segment[:, lane], shut=shut)
            assert radius < 1e-30
            worst = max(worst, float(np.abs(exact - solution.voltage[:, lane])[held[:, lane]].max()))
            points += 1
    print(f"{points} points, worst {worst:.2e} V")
    assert points >= 200
    assert worst < 1e-10
