"""Whatever the planner plans for random small cars and kits, the proof finds nothing in it.

The two know nothing of each other's rules: the planner weighs documents, the proof solves the joined circuit.
"""

from collections import Counter

import pytest

from loomwright.network.proof import prove
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests.planning import builders as b
from tests.planning.random_cases import random_situation

_GROUPS = 6
_EACH = 25


def _planned(first: int) -> list[tuple[int, Installation]]:
    found = []
    for seed in range(first, first + _EACH):
        at = random_situation(seed)
        plan = match(at.car, at.kit, b.shop())
        if isinstance(plan, Installation):
            found.append((seed, plan))
    return found


@pytest.mark.parametrize("group", range(_GROUPS))
def test_a_plan_has_nothing_to_stop_for_or_to_fix(group: int) -> None:
    for seed, plan in _planned(20_000 + group * _EACH):
        findings = [(f.code, f.subject, f.message) for f in prove(plan).findings if f.severity != "note"]
        assert findings == [], f"seed {seed}"


def test_the_plans_hold_every_kind_of_part() -> None:
    patterns = Counter(
        joint.part.pattern
        for group in range(2 * _GROUPS)
        for _, plan in _planned(20_000 + group * _EACH)
        for joint in plan.joints
        if joint.part is not None
    )
    assert set(patterns) == {
        "relay inverts", "relay boosts", "relay grounds", "relay changes over", "diode", "diode cuts in", "resistor",
    }  # fmt: skip
    assert patterns.total() > 60
