"""The elimination pattern: order, fill and levels."""

import numpy as np
import pytest

from loomwright.network.pattern import Pattern, find_pattern


def _pairs(pattern: Pattern) -> set[tuple[int, int]]:
    return set(pattern.edges)


def test_a_chain_and_a_star_fill_nothing() -> None:
    chain = frozenset((node, node + 1) for node in range(30))
    star = frozenset((0, node) for node in range(1, 30))
    assert _pairs(find_pattern(31, chain)) == set(chain)
    assert _pairs(find_pattern(30, star)) == set(star)


def test_a_ring_fills_one_branch_less_than_it_has_beyond_two() -> None:
    # Eliminating a ring of n nodes leaves triangles: n - 3 branches fill in, whatever the order.
    ring = frozenset((min(node, (node + 1) % 20), max(node, (node + 1) % 20)) for node in range(20))
    assert len(_pairs(find_pattern(20, ring))) == 20 + 17


def test_every_row_has_one_owner() -> None:
    pairs = _random_pairs(40, seed=2)
    pattern = find_pattern(40, pairs, frozenset({1, 2, 3}))
    rows = [*pattern.edges.values(), *pattern.to_reference.tolist(), *pattern.injection.tolist()]
    assert sorted(rows) == list(range(pattern.rows))
    assert pairs <= _pairs(pattern)
    assert sorted(pattern.position.tolist()) == list(range(40))


def _random_pairs(nodes: int, seed: int) -> frozenset[tuple[int, int]]:
    drawn = np.random.default_rng(seed).integers(0, nodes, (2 * nodes, 2))
    return frozenset((int(min(a, b)), int(max(a, b))) for a, b in drawn if a != b)


@pytest.mark.parametrize("late", [frozenset[int](), frozenset(range(0, 50, 3)), frozenset(range(50))])
def test_no_two_nodes_of_a_level_are_neighbours_and_no_pass_hits_a_row_twice(late: frozenset[int]) -> None:
    pattern = find_pattern(50, _random_pairs(50, seed=3), late)
    level = {
        stage.first_node + at: (stage.first_node, number)
        for stage in (pattern.early, pattern.late)
        for number, one in enumerate(stage.levels)
        for at in range(one.nodes.start, one.nodes.stop)
    }
    assert sorted(level) == list(range(50))
    for a, b in pattern.edges:
        assert level[int(pattern.position[a])] != level[int(pattern.position[b])]
    for stage in (pattern.early, pattern.late):
        for one in stage.levels:
            for target, _, _ in one.passes:
                assert len(set(target.tolist())) == len(target)


def test_late_nodes_come_last_and_their_rows_too() -> None:
    late = frozenset({3, 8, 20, 31})
    pattern = find_pattern(40, _random_pairs(40, seed=4), late)
    first = pattern.late.first_node
    assert 0 < first <= 36
    assert all(pattern.position[node] >= first for node in late)
    for node in late:
        assert pattern.to_reference[node] >= pattern.late.first_row
    for (a, b), row in pattern.edges.items():
        both_late = min(pattern.position[a], pattern.position[b]) >= first
        assert (row >= pattern.late.first_row) == both_late


def test_a_hub_that_would_fill_much_stays_for_the_late_stage() -> None:
    # A ground point with ten late ends around it: without it 45 pairs would be joined.
    pattern = find_pattern(11, frozenset((0, node) for node in range(1, 11)), frozenset(range(1, 11)))
    assert pattern.late.first_node == 0
    assert len(pattern.edges) == 10


def test_a_pattern_is_found_once() -> None:
    pairs = frozenset({(0, 1), (1, 2)})
    assert find_pattern(3, pairs) is find_pattern(3, frozenset({(1, 2), (0, 1)}))
