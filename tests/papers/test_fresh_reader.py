"""Somebody who knows nothing but the words finds the right pin of the plug in front of them.

The reader below turns the plug as the words say and counts; it uses nothing of the program's own geometry.
"""

import re

import pytest

from loomwright.documents.vehicle import Plug
from loomwright.papers.blocks import Step
from loomwright.papers.saying import plain
from loomwright.sheets import render
from tests.papers.builders import VARIANTS, built, steps

_TURNS = {"up": 0, "right": 1, "down": 2, "left": 3}  # quarters clockwise from latch up


def _rows_as_seen(plug: Plug, side: str, latch: str) -> list[list[str | None]]:
    """Return the places row by row, as seen looking at `side` with the latch where the words say."""
    width = max(len(row) for row in plug.face.rows)
    grid: list[list[str | None]] = [list(row) + [None] * (width - len(row)) for row in plug.face.rows]
    assert all(len(row) == width for row in plug.face.rows), "the demo's plugs have rows of equal length"
    if plug.face.drawn_from != side:
        grid = [row[::-1] for row in grid]
    # Written with the latch at `plug.face.latch` as drawn; the other side of it mirrors a latch on the left or right.
    start = {"top": "up", "bottom": "down", "left": "left", "right": "right"}[plug.face.latch]
    if plug.face.drawn_from != side and start in ("left", "right"):
        start = "right" if start == "left" else "left"
    for _ in range((_TURNS[latch] - _TURNS[start]) % 4):
        grid = [list(column) for column in zip(*grid[::-1], strict=True)]
    return grid


_LOOK = {"Look at the side the wires go in": "wire", "Look into the open end": "mating"}


def _found(plug: Plug, words: str) -> str | None:
    """Follow the words of one step from the plug in the hand to a pin."""
    side = next(side for text, side in _LOOK.items() if words.startswith(text))
    latch = re.search(r"(?:latch|wide side) (?:on the )?(up|down|left|right)", words)
    assert latch is not None
    grid = _rows_as_seen(plug, side, latch[1])
    line = re.search(
        r"(?:(\d+)\w\w (row|column) from the (\w+)|(Top|Bottom|Left|Right) (row|column)|one (row|column))", words
    )
    assert line is not None
    kind = line[2] or line[5] or line[6]
    lines = grid if kind == "row" else [list(c) for c in zip(*grid, strict=True)]
    lines = [ln for ln in lines if any(lines)]
    edge = (line[3] or line[4] or "top").lower()
    number = int(line[1] or 1)
    chosen = lines[number - 1] if edge in ("top", "left") else lines[-number]
    place = re.search(r"count from the (\w+) end; it is the (\d+)", words)
    place = place or re.search(r"the first place at the (\w+) end", words)
    assert place is not None
    end, nth = place[1].lower(), int(place[2]) if place.re.groups == 2 else 1
    walked = chosen if end in ("left", "top") else chosen[::-1]
    return [p for p in walked if p is not None][nth - 1]


def _with_pin(variant: str) -> list[Step]:
    return [s for s in steps(built(variant).guide) if s.face is not None and s.face.drawing.target is not None]


@pytest.mark.parametrize("variant", VARIANTS)
def test_the_words_of_each_step_lead_to_its_pin(variant: str) -> None:
    made = built(variant)
    found = _with_pin(variant)
    assert len(found) > 8
    for step in found:
        assert step.face is not None
        assert step.count is not None
        plug = made.installation.car.plugs[step.face.plug]
        assert _found(plug, step.count) == step.face.drawing.target, step.id
        assert _found(plug, step.face.words_turned) == step.face.drawing.target, step.id


@pytest.mark.parametrize("variant", VARIANTS)
def test_the_printed_text_of_each_measuring_step_leads_to_its_pin(variant: str) -> None:
    made = built(variant)
    text = " ".join(render(made.guide, "text").decode().split())
    for step in _with_pin(variant):
        if step.id.startswith("measure:"):  # a whole plug is told in a list, see below
            assert step.face is not None
            plug = made.installation.car.plugs[step.face.plug]
            head = text.index(f"Measure: {step.title}")
            words = text[text.index("Find the pin:", head) + len("Find the pin:") :].lstrip()
            assert _found(plug, words[:400]) == step.face.drawing.target, step.id


@pytest.mark.parametrize("variant", VARIANTS)
def test_the_list_of_a_plug_leads_to_each_of_its_pins(variant: str) -> None:
    made = built(variant)
    found = 0
    for action in made.job.order:
        step = next((s for s in steps(made.guide) if s.id == f"measure:{action.id}"), None)
        if action.kind != "T" or step is None:
            continue
        assert step.face is not None
        assert step.count is not None
        plug = made.installation.car.plugs[step.face.plug]
        lines = [plain(d) for d in step.do]
        for joint in action.joints:
            pin = (joint.pin or "").partition("/")[2]
            begins = f"{joint.label}: pin {pin}, the car's wire is {made.job.wire(joint)}. "
            line = next(d for d in lines if d.startswith(begins))
            assert _found(plug, f"{step.count} {line}") == pin
            found += 1
    assert found == 6


def test_a_wrong_word_leads_to_another_pin() -> None:
    made = built("2012 wagon")
    step = next(s for s in _with_pin("2012 wagon") if s.face is not None and s.face.plug == "body-a")
    assert step.count is not None
    assert step.face is not None
    wrong = step.count.replace("LEFT", "?").replace("RIGHT", "LEFT").replace("?", "RIGHT")
    assert _found(made.installation.car.plugs["body-a"], wrong) != step.face.drawing.target
