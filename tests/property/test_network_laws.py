"""Laws that every network obeys: Kirchhoff, energy, superposition, and bands that hold their samples."""

from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.network.bounds import bounds
from loomwright.network.branches import Branches, FloatArray
from loomwright.network.held import driven, held_by
from loomwright.network.solver import solve
from tests.independent.drawing import Drawing, from_drawing

_OHMS = st.sampled_from((0.001, 0.01, 0.1, 1.0, 4.7, 12.0, 90.0, 470.0, 1e4, 1e6, 1e9))
_VOLTS = st.sampled_from((-14.8, -5.0, 0.0, 0.0, 0.0, 3.3, 5.0, 12.6))
_KINDS = st.sampled_from(("resistor", "resistor", "resistor", "diode", "lamp", "driver"))


@st.composite
def _networks(draw: st.DrawFn, *, linear: bool = False) -> tuple[Branches, FloatArray, FloatArray]:
    nodes = draw(st.integers(2, 9))
    net = Drawing(nodes=nodes)
    net.branch(0, -1, 1.0 / draw(_OHMS), emf=12.6)
    for _ in range(draw(st.integers(1, 3 * nodes))):
        a = draw(st.integers(-1, nodes - 1))
        b = draw(st.integers(-1, nodes - 2))
        b += b >= a  # Any end but the first one.
        kind = "resistor" if linear else draw(_KINDS)
        if kind == "resistor":
            net.branch(a, b, 1.0 / draw(_OHMS), emf=draw(_VOLTS))
        elif kind == "diode":
            net.diode(a, b)
        elif kind == "lamp":
            net.lamp(a, b, draw(st.sampled_from((2.0, 21.0, 55.0))))
        else:
            net.driver(a, b, draw(st.sampled_from((0.5, 2.0, 8.0))))
    return from_drawing(net)


def _grounded(voltage: FloatArray) -> FloatArray:
    return np.concatenate([voltage, np.zeros((1, voltage.shape[1]))])


@settings(max_examples=60)
@given(_networks())
def test_currents_into_every_node_cancel_and_power_is_conserved(net: tuple[Branches, FloatArray, FloatArray]) -> None:
    branches, scale, emf = net
    solution = solve(branches, scale, emf)
    volts = _grounded(solution.voltage)[:, 0]
    current = solution.current[:, 0]
    rest = np.zeros(branches.nodes + 1)
    np.add.at(rest, branches.a, current)
    np.add.at(rest, branches.b, -current)
    rest[:-1] += 1e-9 * volts[:-1]
    # A short of 1 mΩ turns the last bit of a voltage into 1e-12 A, and shorts may stand in rows.
    assert np.abs(rest[:-1]).max() < 1e-9
    # What the EMFs deliver is what the branches and leaks take (Tellegen's theorem, with each EMF inside its branch).
    delivered = float(-(emf[:, 0] * current).sum())
    across = volts[branches.a] - volts[branches.b] - emf[:, 0]
    taken = float((across * current).sum() + 1e-9 * (volts**2).sum())
    assert abs(delivered - taken) < 1e-8 * max(1.0, float(np.abs(emf[:, 0] * current).sum()))
    # Every characteristic here passes through zero and rises, so no branch gives power of its own.
    assert (across * current > -1e-9).all()


@settings(max_examples=40)
@given(_networks(linear=True), st.integers(0, 2**20))
def test_sources_superpose_in_linear_networks(net: tuple[Branches, FloatArray, FloatArray], seed: int) -> None:
    branches, scale, emf = net
    mask = np.random.default_rng(seed).random(emf.shape) < 0.5
    solution = solve(branches, scale, emf)
    one, other = (solve(branches, scale, part).voltage for part in (np.where(mask, emf, 0.0), np.where(mask, 0.0, emf)))
    # Two EMFs that drive a large current round a floating loop leave its last bit to the leaks: the rounding of the
    # largest current, times the resistance to the reference.
    rounding = 1e-15 * float((scale * np.abs(emf)).max()) * held_by(branches, solution, scale)
    assert (np.abs(solution.voltage - one - other) <= 1e-9 + 20.0 * rounding).all()


@settings(max_examples=40)
@given(_networks(), st.integers(0, 2**20), st.integers(2, 9))
def test_a_lane_has_the_same_bits_in_every_batch(
    net: tuple[Branches, FloatArray, FloatArray], seed: int, lanes: int
) -> None:
    branches, scale, emf = net
    rng = np.random.default_rng(seed)
    many = scale * np.exp(rng.uniform(-0.5, 0.5, (branches.count, lanes)))
    together = solve(branches, many, emf)
    lane = int(rng.integers(lanes))
    alone = solve(branches, many[:, [lane]], emf)
    assert np.array_equal(alone.voltage[:, 0], together.voltage[:, lane])
    assert np.array_equal(alone.current[:, 0], together.current[:, lane])


@settings(max_examples=25)
@given(_networks(), st.integers(0, 2**20))
def test_samples_stay_inside_the_band(net: tuple[Branches, FloatArray, FloatArray], seed: int) -> None:
    branches, scale, emf = net
    count = branches.count
    shift = np.where(emf[:, 0] != 0.0, 0.3, 0.0)
    spread: dict[str, Any] = {
        "spread_lo": np.full(count, 0.7),
        "spread_hi": np.full(count, 1.3),
        "emf_lo": -shift,
        "emf_hi": shift,
    }
    points = [(0, node) for node in range(branches.nodes)]
    found = bounds(branches, scale, emf, **spread, points=points, audit=32, seed=seed)
    rng = np.random.default_rng(seed + 1)
    sampled = solve(
        branches, scale * rng.uniform(0.7, 1.3, (count, 60)), emf + shift[:, None] * rng.uniform(-1, 1, (count, 60))
    )
    # A node that nothing holds is told as floating and not as a voltage: its number rests on assumed leaks alone.
    held = driven(branches, solve(branches, scale, emf), scale)[:, 0]
    assert (sampled.voltage.max(axis=1) <= found.hi + 1e-9)[held].all()
    assert (sampled.voltage.min(axis=1) >= found.lo - 1e-9)[held].all()


@settings(max_examples=40)
@given(_networks(linear=True), st.integers(0, 8))
def test_a_better_ground_never_raises_what_one_battery_feeds(
    net: tuple[Branches, FloatArray, FloatArray], node: int
) -> None:
    # Rayleigh's monotonicity law for the voltages of a network with one source.
    branches, scale, emf = net
    emf = np.where(np.arange(branches.count) == 0, 12.6, 0.0)[:, None]
    grounded = _with_ground(branches, node % branches.nodes)
    thin, thick = (np.append(scale, [[siemens]], axis=0) for siemens in (1e-6, 10.0))
    emf = np.append(emf, [[0.0]], axis=0)
    drop = solve(grounded, thick, emf).voltage - solve(grounded, thin, emf).voltage
    assert drop.max() < 1e-9


def _with_ground(branches: Branches, node: int) -> Branches:
    return Branches(
        nodes=branches.nodes,
        a=np.append(branches.a, node),
        b=np.append(branches.b, -1),
        breaks=np.append(branches.breaks, np.full((1, branches.breaks.shape[1]), np.inf), axis=0),
        g=np.append(branches.g, np.ones((1, branches.g.shape[1])), axis=0),
        i0=np.append(branches.i0, np.zeros((1, branches.i0.shape[1])), axis=0),
        start=np.append(branches.start, 0),
    )
