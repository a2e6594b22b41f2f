"""The search for levels, held against trying every set: nothing meets, and no set without a meeting is cheaper."""

import itertools
import random

import pytest

from loomwright.sheets.label_levels import Lie, cheapest_levels

_LEVEL = 4.0


def _meet(one: Lie, level: int, other: Lie, other_level: int) -> bool:
    """Tell whether two placed labels meet, from the places of their texts and leaders on the sheet."""
    low, high = level * _LEVEL, level * _LEVEL + one.height
    other_low, other_high = other_level * _LEVEL, other_level * _LEVEL + other.height
    beside = one.left > other.right + 2 or other.left > one.right + 2
    if not beside and low < other_high and other_low < high:
        return True
    if other_low > low and one.left - 1 < other.leader_x < one.right + 1:
        return True
    return low > other_low and other.left - 1 < one.leader_x < other.right + 1


def _cheapest(labels: list[list[Lie]]) -> int | None:
    places = [list(itertools.product(each, range(2 * len(labels) + 1))) for each in labels]
    costs = (
        sum(lie.cost + 10 * level for lie, level in chosen)
        for chosen in itertools.product(*places)
        if not any(_meet(*one, *other) for one, other in itertools.combinations(chosen, 2))
    )
    return min(costs, default=None)


@pytest.mark.parametrize("seed", range(40))
def test_no_set_without_a_meeting_is_cheaper(seed: int) -> None:
    chance = random.Random(seed)
    labels = []
    for _ in range(chance.choice((1, 2, 3))):
        x, wide, high = chance.uniform(0, 20), chance.uniform(2, 20), chance.choice((3.9, 7.8, 11.6))
        lefts = [(x - wide + 0.8, 0), (x - wide / 2, 7), (x - 0.8, 7)][: chance.choice((1, 2, 3))]
        labels.append([Lie(left=a, right=a + wide, height=high, leader_x=x, cost=cost) for a, cost in lefts])
    found = cheapest_levels(labels, _LEVEL)
    if found is None:
        assert _cheapest(labels) is None
        return
    chosen = [(each[way], level) for each, (way, level) in zip(labels, found, strict=True)]
    assert not any(_meet(*one, *other) for one, other in itertools.combinations(chosen, 2))
    assert sum(lie.cost + 10 * level for lie, level in chosen) == _cheapest(labels)


def test_texts_that_stand_in_each_others_way_have_no_level() -> None:
    wide = [Lie(left=0, right=30, height=4, leader_x=x, cost=0) for x in (10.0, 20.0)]
    assert cheapest_levels([[one] for one in wide], _LEVEL) is None


def test_many_labels_end_soon_with_a_set() -> None:
    labels = [[Lie(left=x, right=x + 6, height=4, leader_x=x + 3, cost=0)] for x in range(0, 200, 10)]
    assert cheapest_levels(labels, _LEVEL) == [(0, 0)] * 20
