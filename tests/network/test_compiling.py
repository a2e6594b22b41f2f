"""Conditions asked of all states together say what each of them says alone; and what conducts joins nodes to groups."""

import networkx
import numpy as np
import pytest

from loomwright.network.branches import OPEN_RATIO
from loomwright.network.compiling import scale_of
from loomwright.network.joining import joined_netlist
from loomwright.network.rules_current import _groups
from loomwright.network.stories import stories_of
from tests.pairs import PAIRS, installations


@pytest.mark.parametrize("pair", PAIRS[::3], ids="-".join)
def test_conditions_hold_in_all_states_together_as_in_each_alone(pair: tuple[str, str]) -> None:
    plan = installations(pair, 1)[0]
    netlist = joined_netlist(plan)
    states = list(dict.fromkeys(state for story in stories_of(plan) for state in story.states))
    alone = [[e.conducts(state, netlist.joined(state)) for state in states] for e in netlist.elements]
    assert np.array_equal(scale_of(netlist, states), np.where(alone, 1.0, OPEN_RATIO))


@pytest.mark.parametrize("seed", range(20))
def test_groups_are_the_connected_components(seed: int) -> None:
    # Independent check: networkx.connected_components.
    rng = np.random.default_rng(seed)
    nodes = int(rng.integers(2, 60))
    ends = rng.integers(0, nodes, size=(2, int(rng.integers(0, 80))))
    graph = networkx.Graph()
    graph.add_nodes_from(range(nodes))
    graph.add_edges_from(ends.T.tolist())
    group = _groups(ends, nodes)
    for together in networkx.connected_components(graph):
        assert {int(group[node]) for node in together} == {min(together)}
