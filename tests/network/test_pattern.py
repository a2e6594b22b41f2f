"""The elimination pattern: order, fill and levels."""

import numpy as np

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
    rng = np.random.default_rng(2)
    pairs = frozenset((int(min(a, b)), int(max(a, b))) for a, b in rng.integers(0, 40, (80, 2)) if a != b)
    pattern = find_pattern(40, pairs)
    rows = [*pattern.edges.values(), *pattern.to_reference.tolist(), *pattern.injection.tolist()]
    assert sorted(rows) == list(range(pattern.rows))
    assert pairs <= _pairs(pattern)
    assert sorted(pattern.position.tolist()) == list(range(40))


def test_no_two_nodes_of_a_level_are_neighbours_and_no_pass_hits_a_row_twice() -> None:
    rng = np.random.default_rng(3)
    pairs = frozenset((int(min(a, b)), int(max(a, b))) for a, b in rng.integers(0, 50, (90, 2)) if a != b)
    pattern = find_pattern(50, pairs)
    level = {at: number for number, one in enumerate(pattern.levels) for at in range(one.nodes.start, one.nodes.stop)}
    for a, b in pattern.edges:
        assert level[int(pattern.position[a])] != level[int(pattern.position[b])]
    for one in pattern.levels:
        for target, _, _ in one.passes:
            assert len(set(target.tolist())) == len(target)


def test_a_pattern_is_found_once() -> None:
    pairs = frozenset({(0, 1), (1, 2)})
    assert find_pattern(3, pairs) is find_pattern(3, frozenset({(1, 2), (0, 1)}))
