"""Bands of readings: by hand, against many samples, and where a relay stands near its threshold."""

from typing import Any

import numpy as np
import pytest

from loomwright.network.adjoint import Point, Through
from loomwright.network.bounds import bounds
from loomwright.network.branches import Branches, FloatArray
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.synthetic import build, draw_points


def _spread(branches: Branches, low: float = 0.7, high: float = 1.3, volts: float = 0.2) -> dict[str, Any]:
    emf = np.zeros(branches.count)
    emf[0] = volts
    count = branches.count
    return {"spread_lo": np.full(count, low), "spread_hi": np.full(count, high), "emf_lo": -emf, "emf_hi": emf}


def _divider() -> tuple[Branches, FloatArray, FloatArray]:
    net = Drawing()
    post, middle = net.node(), net.node()
    net.branch(post, -1, 1e6, emf=12.0)
    net.branch(post, middle, 1.0 / 100.0)
    net.branch(middle, -1, 1.0 / 200.0)
    return from_drawing(net)


def test_divider_by_hand() -> None:
    # Source: worked out by hand. Conductances 10 mS and 5 mS, each within a fifth; the battery within 0.2 V; the
    # largest reading is 12.2 V * 12 / (12 + 4), the smallest 11.8 V * 8 / (8 + 6).
    branches, scale, emf = _divider()
    found = bounds(branches, scale, emf, **_spread(branches, 0.8, 1.2), points=[(0, 1)])
    assert found.nominal[0] == pytest.approx(8.0, rel=1e-6)
    assert found.hi[0] == pytest.approx(12.2 * 12.0 / 16.0, rel=1e-6)
    assert found.lo[0] == pytest.approx(11.8 * 8.0 / 14.0, rel=1e-6)
    assert found.escaped[0] == 0.0
    assert not found.flips[0]


def test_current_of_the_divider_by_hand() -> None:
    # 12.2 V over 1 / 12 mS + 1 / 6 mS and 11.8 V over 1 / 8 mS + 1 / 4 mS.
    branches, scale, emf = _divider()
    found = bounds(branches, scale, emf, **_spread(branches, 0.8, 1.2), points=[Through(lane=0, branch=2)])
    assert 1e3 * found.hi[0] == pytest.approx(12.2 / (1 / 12 + 1 / 6), rel=1e-5)
    assert 1e3 * found.lo[0] == pytest.approx(11.8 / (1 / 8 + 1 / 4), rel=1e-5)


def test_nothing_spread_is_no_band() -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 3, seed=7)
    points: list[Point] = [(lane, node) for lane in range(3) for node in range(60)]
    found = bounds(net.branches, scale, emf, **_spread(net.branches, 1.0, 1.0, 0.0), points=points)
    assert np.array_equal(found.lo, found.nominal)
    assert np.array_equal(found.hi, found.nominal)


def test_four_hundred_samples_stay_inside_where_no_relay_flips() -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 16, seed=7)
    points: list[Point] = [(lane, node) for lane in range(16) for node in range(60)]
    points += [Through(lane=lane, branch=branch) for lane in range(16) for branch in range(0, 150, 10)]
    spread = _spread(net.branches)
    found = bounds(net.branches, scale, emf, **spread, points=points, audit=400, seed=9)
    assert (found.lo <= found.nominal).all()
    assert (found.nominal <= found.hi).all()
    assert (~found.flips).mean() > 0.5
    assert found.escaped[~found.flips].max() == 0.0
    # Without samples the bands are those of the vertices, and nobody says that anything escaped.
    bare = bounds(net.branches, scale, emf, **spread, points=points, audit=0)
    assert bare.escaped.max() == 0.0
    still = ~found.flips
    assert np.array_equal(bare.hi[still], found.hi[still])


def test_a_relay_near_its_threshold_widens_the_band_and_is_told() -> None:
    # 12 V on a coil of 90 Ω is 133 mA. It pulls in at 130 mA: with the coil a little high or the battery a little low
    # it does not, and the lamp's feed is then dead.
    net = Drawing()
    post, out = net.node(), net.node()
    net.branch(post, -1, 100.0, emf=12.0)
    coil = net.branch(post, -1, 1.0 / 90.0)
    net.relay(coil, makes=net.branch(post, out, 100.0), pull_in_a=0.130, drop_out_a=0.02)
    net.branch(out, -1, 0.1)
    branches, scale, emf = from_drawing(net)
    found = bounds(branches, scale, emf, **_spread(branches, 0.9, 1.1), points=[(0, out), (0, post)], audit=64)
    assert found.nominal[0] > 11.5
    assert found.lo[0] < 1e-3
    assert found.flips.tolist() == [True, True]
    assert found.escaped[0] > 11.0
    # From the dropped-out side the extreme is sought again: the post is highest where battery and coil are.
    assert found.hi[1] == pytest.approx(12.2, abs=0.02)


def test_points_do_not_depend_on_the_other_points() -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 4, seed=7)
    spread = _spread(net.branches)
    many: list[Point] = [(lane, node) for lane in range(4) for node in range(60)]
    every = bounds(net.branches, scale, emf, **spread, points=many)
    one = bounds(net.branches, scale, emf, **spread, points=[many[77]])
    assert [one.lo[0], one.hi[0], one.escaped[0]] == [every.lo[77], every.hi[77], every.escaped[77]]


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("spread_lo", 1.1, r"spread_lo: branch 1: found 1\.1, expected above 0 and at most 1"),
        ("spread_hi", 0.9, r"spread_hi: branch 1: found 0\.9, expected at least 1"),
        ("emf_lo", 0.5, r"emf_lo: branch 1: found 0\.5, expected at most 0"),
        ("emf_hi", -0.5, r"emf_hi: branch 1: found -0\.5, expected at least 0"),
    ],
)
def test_a_range_without_the_nominal_value_is_told(name: str, value: float, message: str) -> None:
    branches, scale, emf = _divider()
    spread = _spread(branches)
    spread[name][1] = value
    with pytest.raises(ValueError, match=message):
        bounds(branches, scale, emf, **spread, points=[(0, 1)])


def test_a_range_has_one_value_for_each_branch() -> None:
    branches, scale, emf = _divider()
    spread = _spread(branches) | {"emf_hi": np.zeros(2)}
    with pytest.raises(ValueError, match=r"emf_hi: found shape \(2,\), expected \(3,\)"):
        bounds(branches, scale, emf, **spread, points=[(0, 1)])
