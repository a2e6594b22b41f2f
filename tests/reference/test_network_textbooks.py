"""Small networks with printed answers.

Sources, by the short names used below:

- UP2: OpenStax, *University Physics* volume 2, chapter 10 (direct-current circuits).
- CP: OpenStax, *College Physics 2e*, chapters 20 and 21 (electric current; circuits and DC instruments).
- LEC: T. Kuphaldt, *Lessons in Electric Circuits*, volume I, DC (series-parallel circuits, network analysis), and
  volume III, Semiconductors (diodes).

Tolerances follow the printed digits. An ideal source stands as a battery with 1 µΩ, an ideal wire as 1 µΩ.
"""

import numpy as np
import pytest

from loomwright.network.solver import Solution, solve
from tests.independent.drawing import Drawing, from_drawing

_IDEAL = 1e6


def _solved(net: Drawing, leak: float = 1e-12) -> Solution:
    branches, scale, emf = from_drawing(net)
    return solve(branches, scale, emf, leak=leak)


def _chain(net: Drawing, volts: float, ohms: list[float]) -> list[int]:
    """Resistors in series across an ideal source; returns their branches."""
    ends = [net.node() for _ in ohms] + [-1]
    net.branch(ends[0], -1, _IDEAL, emf=volts)
    return [net.branch(a, b, 1.0 / ohm) for a, b, ohm in zip(ends, ends[1:], ohms, strict=False)]


# Source: UP2, example on resistors in series: 9 V across four of 20 Ω and one of 10 Ω: 90 Ω, 0.1 A, 2 V each and 1 V.
def test_series_resistors_share_the_voltage() -> None:
    net = Drawing()
    chain = _chain(net, 9.0, [20.0, 20.0, 20.0, 20.0, 10.0])
    solution = _solved(net)
    current = solution.current[chain, 0]
    assert current == pytest.approx(np.full(5, 0.1), rel=1e-6)
    assert current * [20.0, 20.0, 20.0, 20.0, 10.0] == pytest.approx([2.0, 2.0, 2.0, 2.0, 1.0], rel=1e-6)
    assert 9.0 * current[0] == pytest.approx(0.9, rel=1e-6)


# Source: UP2, example on resistors in parallel: 3.00 V across 1, 2 and 2 Ω: 3.00, 1.50, 1.50 A; 9.00, 4.50, 4.50 W.
def test_parallel_resistors_share_the_current() -> None:
    net = Drawing()
    post = net.node()
    net.branch(post, -1, _IDEAL, emf=3.0)
    loads = [net.branch(post, -1, 1.0 / ohm) for ohm in (1.0, 2.0, 2.0)]
    current = _solved(net).current[loads, 0]
    assert current == pytest.approx([3.0, 1.5, 1.5], rel=1e-5)
    assert 3.0 * current == pytest.approx([9.0, 4.5, 4.5], rel=1e-5)


# Source: UP2 and CP, 12.0 V through 1 Ω of wiring to 6 Ω and 13 Ω in parallel: 5.10 Ω, 2.35 A, 2.35 V lost, 9.65 V at
# the loads, 1.61 A and 0.74 A, 15.5 W in the first load.
def test_wiring_ahead_of_two_loads_loses_voltage() -> None:
    net = Drawing()
    post, loads = net.node(), net.node()
    net.branch(post, -1, _IDEAL, emf=12.0)
    wire = net.branch(post, loads, 1.0)
    first, second = net.branch(loads, -1, 1.0 / 6.0), net.branch(loads, -1, 1.0 / 13.0)
    solution = _solved(net)
    assert solution.current[[wire, first, second], 0] == pytest.approx([2.35, 1.61, 0.74], abs=0.005)
    assert solution.voltage[loads, 0] == pytest.approx(9.65, abs=0.005)
    assert solution.current[first, 0] ** 2 * 6.0 == pytest.approx(15.5, abs=0.05)
    assert 12.0 / solution.current[wire, 0] == pytest.approx(5.10, abs=0.01)


# Source: CP, 12.0 V across 1.00, 6.00 and 13.0 Ω in parallel: 0.804 Ω, 14.92 A.
def test_three_unequal_loads_in_parallel() -> None:
    net = Drawing()
    post = net.node()
    source = net.branch(post, -1, _IDEAL, emf=12.0)
    for ohm in (1.0, 6.0, 13.0):
        net.branch(post, -1, 1.0 / ohm)
    current = -_solved(net).current[source, 0]
    assert current == pytest.approx(14.92, abs=0.005)
    assert 12.0 / current == pytest.approx(0.804, abs=0.0005)


# Source: UP2, 50.00 V across 10 Ω, 10 Ω and two of 10 Ω in parallel: 25.00 Ω, 2.00 A; 40 + 40 + 10 + 10 = 100 W.
def test_series_and_parallel_powers_add_up() -> None:
    net = Drawing()
    a, b, c = net.node(), net.node(), net.node()
    net.branch(a, -1, _IDEAL, emf=50.0)
    four = [net.branch(*ends, 0.1) for ends in ((a, b), (b, c), (c, -1), (c, -1))]
    power = _solved(net).current[four, 0] ** 2 * 10.0
    assert power == pytest.approx([40.0, 40.0, 10.0, 10.0], rel=1e-5)


# Source: UP2, Kirchhoff example: I1 + I2 = I3, 3 I1 - 8 I2 = -1.8, 8 I2 + 1 I3 = 2.9 (A, V, Ω) with 0.5, 0.6 and
# 2.30 V; printed answers 0.20, 0.30 and 0.50 A.
def test_three_branches_with_three_sources() -> None:
    # The first loop is 3 Ω with 0.5 V against 2.30 V (-1.8 V); the second 8 Ω with 2.30 V, closed over 1 Ω with 0.6 V.
    net = Drawing()
    joint = net.node()
    first = net.branch(joint, -1, 1.0 / 3.0, emf=0.5)
    second = net.branch(joint, -1, 1.0 / 8.0, emf=2.3)
    third = net.branch(-1, joint, 1.0, emf=0.6)
    # Currents counted into the joint by the first two branches and out of it by the third.
    current = _solved(net).current
    assert [-current[first, 0], -current[second, 0], -current[third, 0]] == pytest.approx([0.2, 0.3, 0.5], abs=0.005)


# Source: CP, Kirchhoff example: I1 = I2 + I3, -3 I2 + 18 - 6 I1 = 0, 6 I1 + 2 I3 - 45 = 0; printed 4.75, -3.50, 8.25 A.
def test_a_source_that_is_driven_backwards() -> None:
    net = Drawing()
    joint = net.node()
    first = net.branch(-1, joint, 1.0 / 6.0)
    second = net.branch(joint, -1, 1.0 / 3.0, emf=-18.0)
    third = net.branch(joint, -1, 1.0 / 2.0, emf=-45.0)
    current = _solved(net).current
    assert current[[first, second, third], 0] == pytest.approx([4.75, -3.50, 8.25], abs=0.005)


def _two_batteries(load_ohm: float) -> tuple[Drawing, int, int, int]:
    net = Drawing()
    joint = net.node()
    one, other = net.branch(joint, -1, 1.0 / 4.0, emf=28.0), net.branch(joint, -1, 1.0, emf=7.0)
    return net, one, other, net.branch(joint, -1, 1.0 / load_ohm)


# Source: LEC vol. I, network analysis: 28 V through 4 Ω and 7 V through 1 Ω feed 2 Ω: 8 V; 5 A from the first, 4 A in
# the load, 1 A into the second.
def test_two_batteries_feed_one_load() -> None:
    net, one, other, load = _two_batteries(2.0)
    solution = _solved(net)
    assert solution.voltage[0, 0] == pytest.approx(8.0, rel=1e-9)
    assert solution.current[[one, load, other], 0] == pytest.approx([-5.0, 4.0, 1.0], rel=1e-9)


# Source: LEC vol. I, the same network seen by its load: 11.2 V behind 0.8 Ω, or 14 A beside 0.8 Ω.
def test_equivalent_source_of_two_batteries() -> None:
    open_circuit = _solved(_two_batteries(1e12)[0]).voltage[0, 0]
    net, _, _, load = _two_batteries(1e-9)
    short_circuit = _solved(net).current[load, 0]
    assert open_circuit == pytest.approx(11.2, rel=1e-9)
    assert short_circuit == pytest.approx(14.0, rel=1e-6)
    assert open_circuit / short_circuit == pytest.approx(0.8, rel=1e-6)


# Source: LEC vol. I, unbalanced bridge, 24 V, 150, 50, 100 (bridge), 300 and 250 Ω: 17.655 and 19.310 V; drops 6.345,
# 4.690, 1.655 V; currents 42.30, 93.79, 16.55, 58.85, 77.24 mA; 136.09 mA from the source.
def test_unbalanced_bridge_of_24_volts() -> None:
    net = Drawing()
    top, left, right = net.node(), net.node(), net.node()
    source = net.branch(top, -1, _IDEAL, emf=24.0)
    ends = ((top, left, 150.0), (top, right, 50.0), (right, left, 100.0), (left, -1, 300.0), (right, -1, 250.0))
    five = [net.branch(a, b, 1.0 / ohm) for a, b, ohm in ends]
    solution = _solved(net)
    assert solution.voltage[[left, right], 0] == pytest.approx([17.655, 19.310], abs=0.0006)
    assert 1e3 * solution.current[five, 0] == pytest.approx([42.30, 93.79, 16.55, 58.85, 77.24], abs=0.006)
    assert -1e3 * solution.current[source, 0] == pytest.approx(136.09, abs=0.006)


# Source: LEC vol. I, bridge, 10 V, 12, 18, 6 (bridge), 18 and 12 Ω: drops 4.706, 5.294, 0.588, 5.294, 4.706 V.
def test_bridge_of_10_volts() -> None:
    net = Drawing()
    top, left, right = net.node(), net.node(), net.node()
    net.branch(top, -1, _IDEAL, emf=10.0)
    for a, b, ohm in ((top, left, 12.0), (top, right, 18.0), (left, right, 6.0), (left, -1, 18.0), (right, -1, 12.0)):
        net.branch(a, b, 1.0 / ohm)
    one, other = _solved(net).voltage[[left, right], 0]
    drops = [10.0 - one, 10.0 - other, one - other, one, other]
    assert drops == pytest.approx([4.706, 5.294, 0.588, 5.294, 4.706], abs=0.0006)


# Source: LEC vol. I, node voltages: 10 V by 2 Ω to node 1, 4 Ω to ground, 2.5 Ω to node 2, 5 Ω to ground, -4 V by 1 Ω:
# 3.8095 and -1.5476 V.
def test_node_voltages_with_a_negative_source() -> None:
    net = Drawing()
    one, two = net.node(), net.node()
    net.branch(one, -1, 0.5, emf=10.0)
    net.branch(one, -1, 0.25)
    net.branch(one, two, 0.4)
    net.branch(two, -1, 0.2)
    net.branch(two, -1, 1.0, emf=-4.0)
    assert _solved(net).voltage[:, 0] == pytest.approx([3.8095, -1.5476], abs=0.00006)


# Source: CP, Wheatstone bridge in balance: R2/R1 = 0.625, R3 = 2500 Ω, Rx = 1.56 kΩ (exactly 1562.5 Ω).
def test_balanced_bridge_shows_nothing() -> None:
    net = Drawing()
    top, left, right = net.node(), net.node(), net.node()
    net.branch(top, -1, _IDEAL, emf=12.0)
    meter = net.branch(left, right, 1.0 / 50.0)
    for a, b, ohm in ((top, left, 1000.0), (left, -1, 625.0), (top, right, 2500.0), (right, -1, 1562.5)):
        net.branch(a, b, 1.0 / ohm)
    # The leaks of 1e-12 S at its two ends are all that is left.
    assert abs(_solved(net).current[meter, 0]) < 1e-11


# Source: UP2, one loop, 24 V against 12 V through 10 Ω, 30 Ω and R3: printed 0.20 A and 0.40, 1.20, 0.80, 2.40 W. These
# powers need R3 = 20 Ω; the text prints 10 Ω, which would give 0.24 A. The misprint is in the text: 20 Ω is used here.
def test_two_sources_against_each_other_in_one_loop() -> None:
    def current(third_ohm: float) -> float:
        net = Drawing()
        a, b, c = net.node(), net.node(), net.node()
        net.branch(a, -1, _IDEAL, emf=24.0)
        loop = net.branch(a, b, 1.0 / 10.0)
        net.branch(b, c, 1.0 / 30.0)
        net.branch(c, -1, 1.0 / third_ohm, emf=12.0)
        return float(_solved(net).current[loop, 0])

    assert current(20.0) == pytest.approx(0.20, rel=1e-5)
    assert [current(20.0) ** 2 * ohm for ohm in (10.0, 30.0, 20.0)] == pytest.approx([0.40, 1.20, 0.80], rel=1e-5)
    assert 12.0 * current(20.0) == pytest.approx(2.40, rel=1e-5)
    assert current(10.0) == pytest.approx(0.24, rel=1e-5)


# Source: CP, flashlight, 1.58 V with 0.100 Ω inside, bulb of 2.30 Ω: 0.658 A, 0.997 W. UP2, radio of 3.20 Ω on 1.25 V
# with 0.0400 Ω and on 1.58 V with 0.200 Ω: 0.476 W and 0.691 W.
@pytest.mark.parametrize(
    ("volts", "inside", "load", "watts"), [(1.58, 0.1, 2.3, 0.997), (1.25, 0.04, 3.2, 0.476), (1.58, 0.2, 3.2, 0.691)]
)
def test_a_cell_with_its_own_resistance(volts: float, inside: float, load: float, watts: float) -> None:
    net = Drawing()
    post = net.node()
    net.branch(post, -1, 1.0 / inside, emf=volts)
    bulb = net.branch(post, -1, 1.0 / load)
    assert _solved(net).current[bulb, 0] ** 2 * load == pytest.approx(watts, abs=0.0006)


def _zener(net: Drawing, node: int, volts: float) -> int:
    """From ground to the node: it conducts when the node is above its voltage, or below ground by 0.7 V."""
    return net.branch(node, -1, 1.0, breaks=(-0.7, volts), slopes=(1e5, 1e-9, 1e5))


# Source: LEC vol. III, zener of 12.6 V on 45 V: by 1 kΩ 32.4 mA without load; with 500 Ω 25.2 mA in the load and 7.2 mA
# in the zener; by 100 kΩ the zener is off and the load has 0.224 V.
@pytest.mark.parametrize(
    ("series", "load", "zener_ma", "load_ma"),
    [(1e3, 1e12, 32.4, 0.0), (1e3, 500.0, 7.2, 25.2), (1e5, 500.0, 0.0, 0.448)],
)
def test_zener_holds_its_voltage_while_it_has_current(
    series: float, load: float, zener_ma: float, load_ma: float
) -> None:
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, _IDEAL, emf=45.0)
    net.branch(post, out, 1.0 / series)
    zener, user = _zener(net, out, 12.6), net.branch(out, -1, 1.0 / load)
    current = _solved(net).current
    assert 1e3 * current[[zener, user], 0] == pytest.approx([zener_ma, load_ma], abs=0.0006)


# Source: LEC vol. III, LED of 1.6 V and 20 mA: 220 Ω on 6 V, 1.12 kΩ on 24 V. Silicon drops 0.7 V; a peak of 5 V leaves
# 4.3 V behind one diode.
@pytest.mark.parametrize(
    ("volts", "drop", "ohm", "ma"), [(6.0, 1.6, 220.0, 20.0), (24.0, 1.6, 1120.0, 20.0), (5.0, 0.7, 1000.0, 4.3)]
)
def test_diode_takes_its_drop(volts: float, drop: float, ohm: float, ma: float) -> None:
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, _IDEAL, emf=volts)
    net.branch(post, out, 1.0, breaks=(drop,), slopes=(1e-12, 1e6))
    load = net.branch(out, -1, 1.0 / ohm)
    assert 1e3 * _solved(net).current[load, 0] == pytest.approx(ma, rel=1e-5)


# Source: LEC vol. III, graph of a 1 A rectifier diode: 0.70 V 0.01 A, 0.80 V 0.13 A, 0.90 V 0.7 A, 0.925 V 1.0 A, 1.0 V
# 2.0 A, 1.1 V 3.3 A, 1.2 V 5.3 A, 1.3 V 8.0 A, 1.4 V 12 A. The load line through each point is worked out by hand.
@pytest.mark.parametrize(
    ("drop", "ampere"), [(0.8, 0.13), (0.9, 0.7), (0.925, 1.0), (1.0, 2.0), (1.2, 5.3), (1.3, 8.0)]
)
def test_diode_of_many_segments_runs_through_its_points(drop: float, ampere: float) -> None:
    volts = np.array([0.0, 0.70, 0.80, 0.90, 0.925, 1.0, 1.1, 1.2, 1.3, 1.4])
    amperes = np.array([0.0, 0.01, 0.13, 0.7, 1.0, 2.0, 3.3, 5.3, 8.0, 12.0])
    slopes = np.diff(amperes) / np.diff(volts)
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, _IDEAL, emf=12.0)
    diode = net.branch(post, out, 1.0, breaks=volts[1:-1].tolist(), slopes=slopes.tolist())
    net.branch(out, -1, ampere / (12.0 - drop))
    solution = _solved(net)
    assert solution.current[diode, 0] == pytest.approx(ampere, rel=2e-5)
    assert solution.voltage[post, 0] - solution.voltage[out, 0] == pytest.approx(drop, rel=2e-5)


# Source: common practice: a filament's cold resistance is about a tenth of the hot one. Ratings: 21 W at 12 V.
def test_lamp_draws_its_rating_hot_and_ten_times_as_much_when_just_glowing() -> None:
    # f(u): a tenth of the hot resistance up to 0.2 V, then a line to 1.75 A at 12 V; odd.
    hot = 12.0**2 / 21.0
    cold_slope = 10.0 / hot
    knee = 0.2
    rise = (12.0 / hot - cold_slope * knee) / (12.0 - knee)
    net = Drawing()
    post = net.node()
    net.branch(post, -1, _IDEAL, emf=12.0)
    lamp = net.branch(post, -1, 1.0, breaks=(-knee, knee), slopes=(rise, cold_slope, rise))
    branches, scale, emf = from_drawing(net)
    emf = np.repeat(emf, 2, axis=1)
    emf[0] = [12.0, 0.1]
    current = solve(branches, scale, emf).current[lamp]
    assert current == pytest.approx([1.75, 0.1 * cold_slope], rel=1e-5)


# Source: common practice (arithmetic checked by hand): 12 V over 1 kΩ and 1 kΩ gives 6 V, 4 V beside a load of 1 kΩ and
# 5.714 V beside 10 kΩ; 12.6 V through a diode of 0.7 V to a coil of 90 Ω gives 132.2 mA.
def test_a_meter_or_load_pulls_a_divider_down() -> None:
    readings = []
    for load in (1e15, 1e3, 1e4):
        net = Drawing()
        post, middle = net.node(), net.node()
        net.branch(post, -1, _IDEAL, emf=12.0)
        net.branch(post, middle, 1e-3)
        net.branch(middle, -1, 1e-3)
        net.branch(middle, -1, 1.0 / load)
        readings.append(float(_solved(net).voltage[middle, 0]))
    assert readings == pytest.approx([6.0, 4.0, 5.714], abs=0.0005)


def test_a_coil_behind_a_diode() -> None:
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, _IDEAL, emf=12.6)
    net.branch(post, out, 1.0, breaks=(0.7,), slopes=(1e-12, 1e6))
    coil = net.branch(out, -1, 1.0 / 90.0)
    assert 1e3 * _solved(net).current[coil, 0] == pytest.approx(132.2, abs=0.05)
