"""A joint is measured where its lead ends while the fuses are out: behind an empty holder nothing conducts."""

import re

import pytest

from loomwright.papers.blocks import Step
from loomwright.papers.saying import plain
from tests.pairs import EVERY_PAIR
from tests.papers.builders import built_pair, steps


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_a_lead_with_a_fuse_is_measured_at_its_empty_holder_and_any_other_at_the_plug(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    order = steps(made.guide)
    fuses_in = next(n for n, step in enumerate(order) if step.id == "fuses-in")
    fused = {t.id for t in made.kit.controller.terminals if t.fuse_a is not None}
    joints = {j.id: j for j in made.installation.joints}
    seen: list[tuple[Step, bool]] = []
    for number, step in enumerate(order):
        for reading in step.readings:
            if not reading.id.startswith("ohm:"):
                continue
            assert number < fuses_in, step.id
            joint = joints[re.sub("/(closed|open|resistor)$", "", reading.id.removeprefix("ohm:"))]
            assert ("empty fuse holder" in reading.probe) == (joint.terminal in fused), step.id
            assert joint.label in reading.probe
            seen.append((step, joint.terminal in fused))
    assert seen


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_the_fuse_of_a_relay_is_told_apart_from_those_that_go_in(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    parts = {p.id: p for p in made.kit.parts}
    own = [j.label for j in made.installation.joints if j.part is not None and parts[j.part.part].fuse_a is not None]
    step = next(s for s in steps(made.guide) if s.id == "fuses-in")
    told = [plain(do) for do in step.do if "its own fuse" in plain(do)]
    assert len(told) == bool(own)
    assert all(label in told[0] for label in own)
