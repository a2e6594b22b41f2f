"""Parts, numbers, levels and anchors of a paper."""

from loomwright.papers.blocks import Block, Caution, Heading, Paper, Paragraph, Step, StepNeeds
from loomwright.sheets.characters import printable
from loomwright.sheets.structure import outline
from tests.sheets.sample import long_guide, sample


def _paper(*blocks: Block) -> Paper:
    return Paper(id="x", title="T", subtitle="", language="en", blocks=blocks)


def _step(name: str) -> Step:
    return Step(
        id=name,
        title=name,
        kind="join",
        needs=StepNeeds(battery="off", key="out"),
        place="",
        access=(),
        do=(("do",),),
        see=("see",),
        if_not=("not",),
    )


_TEXT = Paragraph(text=("words",))
_CAUTION = Caution(word="WARNING", text=("mind",))


def test_cautions_and_headings_right_before_a_step_belong_to_it() -> None:
    plan = outline(_paper(Heading(text="A"), _TEXT, _CAUTION, _TEXT, Heading(text="B"), _CAUTION, _step("s")))
    assert [[type(p.block).__name__ for p in part.blocks] for part in plan.parts] == [
        ["Heading", "Paragraph", "Caution", "Paragraph"],
        ["Heading", "Caution", "Step"],
    ]
    assert [part.kind for part in plan.parts] == ["text", "step"]


def test_steps_are_numbered_through_and_nothing_is_lost() -> None:
    plan = outline(long_guide())
    placed = [p for part in plan.parts for p in part.blocks]
    assert [p.block for p in placed] == list(long_guide().blocks)
    assert [p.number for p in placed if p.number is not None] == list(range(1, plan.steps + 1))
    assert plan.steps == 24


def test_levels_begin_at_one_and_skip_none() -> None:
    plan = outline(
        _paper(Heading(text="A", level=3), _TEXT, Heading(text="B", level=3), _TEXT, Heading(text="C", level=1))
    )
    assert [entry.level for entry in plan.contents] == [1, 2, 1]
    assert [entry.level for entry in outline(_paper(_step("s"))).contents] == [1]


def test_anchors_are_unique_and_plain() -> None:
    plan = outline(_paper(*(Heading(text=t) for t in ('Öl & "x"', "l x", "שלום", "")), _step("a/b"), _step("a b")))
    anchors = [entry.anchor for entry in plan.contents]
    assert len(set(anchors)) == len(anchors)
    assert all(anchor.replace("-", "").isalnum() and anchor.isascii() for anchor in anchors)
    assert "step-a-b" in anchors


def test_the_sample_has_contents_for_all_its_headings() -> None:
    assert len(outline(sample()).contents) == 14


def test_only_what_no_page_can_hold_is_taken_out() -> None:
    assert printable("Ω ² – שלום 漢字 \U0001f527") == "Ω ² – שלום 漢字 \U0001f527"
    assert printable("a\x00b\x1fc\ud800d\u202ee\ufffef") == "abcdef"
    assert printable("one\ntwo\tthree") == "one two three"
