"""The call: shapes, messages, and that a lane does not know its neighbours."""

import dataclasses
from typing import Any

import numpy as np
import pytest

from loomwright.network.branches import Branches
from loomwright.network.lanes import CHUNK
from loomwright.network.solver import Solution, solve
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.synthetic import build, draw_points


def _equal(one: Solution, other: Solution) -> bool:
    names = [field.name for field in dataclasses.fields(Solution)]
    return all(np.array_equal(getattr(one, name), getattr(other, name)) for name in names)


def _part(solution: Solution, lanes: Any) -> Solution:
    return Solution(**{field.name: getattr(solution, field.name)[..., lanes] for field in dataclasses.fields(Solution)})


def test_a_lane_has_the_same_bits_whatever_stands_beside_it() -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 2 * CHUNK + 150, seed=7)
    whole = solve(net.branches, scale, emf)
    for lanes in (slice(0, 1), slice(5, 7), slice(100, 163), slice(2 * CHUNK - 20, 2 * CHUNK + 150)):
        assert _equal(solve(net.branches, scale[:, lanes], emf[:, lanes]), _part(whole, lanes))
    mixed = np.random.default_rng(1).permutation(2 * CHUNK + 150)
    assert _equal(solve(net.branches, scale[:, mixed], emf[:, mixed]), _part(whole, mixed))


def test_one_column_stands_for_all_lanes() -> None:
    net = build(60, seed=1)
    emf = np.repeat(net.emf, 3, axis=1)
    emf[0] = [11.0, 12.0, 13.0]
    narrow = solve(net.branches, net.scale, emf)
    wide = solve(net.branches, np.repeat(net.scale, 3, axis=1), emf)
    assert _equal(narrow, wide)
    assert narrow.voltage.shape == (60, 3)
    assert solve(net.branches, net.scale, net.emf).voltage.shape == (60, 1)


def test_renaming_nodes_and_reordering_branches_changes_nothing_but_rounding() -> None:
    net = build(60, seed=2)
    scale, emf = draw_points(net, 40, seed=8)
    there = solve(net.branches, scale, emf)
    rng = np.random.default_rng(4)
    name = np.append(rng.permutation(60), -1)
    order = rng.permutation(net.branches.count)
    place = np.argsort(order)
    old = net.branches
    latches = tuple(
        dataclasses.replace(
            latch,
            coil=int(place[latch.coil]),
            makes=tuple(int(place[branch]) for branch in latch.makes),
            breaks=tuple(int(place[branch]) for branch in latch.breaks),
        )
        for latch in old.latches
    )
    renamed = Branches(
        nodes=60,
        a=name[old.a[order]],
        b=name[old.b[order]],
        breaks=old.breaks[order],
        g=old.g[order],
        i0=old.i0[order],
        start=old.start[order],
        latches=latches,
    )
    here = solve(renamed, scale[order], emf[order])
    assert np.array_equal(here.latched, there.latched)
    assert here.voltage[name[:-1]] == pytest.approx(there.voltage, abs=1e-9)
    assert here.current[place] == pytest.approx(there.current, abs=1e-9)


def test_every_current_is_accounted_for() -> None:
    net = build(116, seed=3)
    scale, emf = draw_points(net, 400, seed=9)
    solution = solve(net.branches, scale, emf)
    assert solution.kcl_a.max() < 1e-12


def test_a_node_that_nothing_touches_rests_at_the_reference() -> None:
    net = Drawing(nodes=2)
    net.branch(0, -1, 1.0, emf=5.0)
    branches, scale, emf = from_drawing(net)
    assert solve(branches, scale, emf).voltage[:, 0] == pytest.approx([5.0, 0.0])


def test_no_lanes_are_no_lanes() -> None:
    net = build(60, seed=1)
    nothing = np.zeros((net.branches.count, 0))
    assert solve(net.branches, nothing + 1.0, nothing).voltage.shape == (60, 0)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"scale": np.ones((2, 1))}, r"scale: found shape \(2, 1\), expected \(1, lanes\)"),
        ({"emf": np.ones(1)}, r"emf: found shape \(1,\), expected \(1, lanes\)"),
        (
            {"scale": np.ones((1, 2)), "emf": np.ones((1, 3))},
            r"scale, emf, latched, hold: found \[2, 3\] lanes, expected one number of lanes",
        ),
        ({"scale": np.zeros((1, 1))}, "branch 0: a scale is not a finite number above zero"),
        ({"emf": np.full((1, 1), np.nan)}, "branch 0: an EMF is not a finite number"),
        ({"latched": np.ones((1, 1), dtype=np.bool_)}, r"latched: found shape \(1, 1\), expected \(0, lanes\)"),
        ({"leak": 0.0}, r"leak: found 0\.0, expected a conductance above zero"),
    ],
)
def test_wrong_arguments_are_told_in_one_sentence(changes: dict[str, Any], message: str) -> None:
    net = Drawing()
    net.branch(net.node(), -1, 1.0)
    branches, scale, emf = from_drawing(net)
    with pytest.raises(ValueError, match=message):
        solve(branches, **({"scale": scale, "emf": emf} | changes))
