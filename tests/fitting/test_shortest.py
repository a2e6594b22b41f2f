"""The shortest questionnaire, on invented families small enough to try every order of questions."""

import random
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import product
from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.fitting import shortest
from loomwright.fitting.outcomes import Outcome, Outcomes, Variant
from loomwright.fitting.shortest import Questionnaire, bits

_NOTHING: Any = None


def _family(sizes: Sequence[int], plans: Mapping[Any, str]) -> Outcomes:
    """A family whose axes have these numbers of values; a combination without a plan was not built, '' is refused."""
    found: dict[Variant, Outcome] = {}
    for values in product(*(range(size) for size in sizes)):
        if values in plans:
            variant = tuple((f"axis-{a}", str(value)) for a, value in enumerate(values))
            plan = plans[values]
            verdict = cast("Any", "fits" if plan else "does-not-fit")
            found[variant] = Outcome(verdict=verdict, plan=plan, found=_NOTHING)
    return found


def _least_mean(outcomes: Outcomes) -> float:
    """Try every tree of questions: the axes one by one, with no bound and no bits."""
    results = {variant: outcome.matters for variant, outcome in outcomes.items()}

    @cache
    def least(left: frozenset[Variant], axes: frozenset[int]) -> float:
        if len({results[v] for v in left}) == 1:
            return 0.0
        costs = []
        for a in axes:
            parts = [frozenset(v for v in left if v[a] == value) for value in {v[a] for v in left}]
            if len(parts) > 1:
                costs.append(1 + sum(len(p) * least(p, axes - {a}) for p in parts) / len(left))
        return min(costs)

    return least(frozenset(outcomes), frozenset(range(len(next(iter(outcomes))))))


def _all(questions: Questionnaire) -> tuple[int, int]:
    return questions.with_answers({}), questions.mask(questions.axes)


def _asked(questions: Questionnaire, truth: Variant) -> list[str]:
    """The axes that a buyer of this variant is asked, answering truthfully."""
    answers: dict[str, str] = {}
    while True:
        left = questions.with_answers(answers)
        axis = questions.next_axis(left, questions.mask(a for a in questions.axes if a not in answers))
        if axis is None:
            mine = questions.outcomes[truth].matters
            assert {questions.outcomes[v].matters for v in questions.listed(left)} == {mine}
            return list(answers)
        assert axis not in answers
        answers[axis] = dict(truth)[axis]


@st.composite
def _families(draw: st.DrawFn, binary: bool = False) -> Outcomes:
    sizes = draw(st.lists(st.integers(2, 2 if binary else 3), min_size=1, max_size=4))
    cells = list(product(*(range(size) for size in sizes)))
    seed = draw(st.integers(0, 2**32 - 1))
    rng = random.Random(seed)
    gap, kinds = draw(st.sampled_from([0.0, 0.3])), draw(st.integers(1, 4))
    plans = {cell: rng.choice(["", "a", "b", "c"][:kinds]) for cell in cells if rng.random() >= gap}
    return _family(sizes, plans or {cells[0]: "a"})


# Source: C. E. Shannon, "A Mathematical Theory of Communication", Bell System Technical Journal 27 (1948), section 6:
# H(1/2, 1/3, 1/6) = H(1/2, 1/2) + 1/2 H(2/3, 1/3), his worked decomposition; section 9: probabilities 1/2, 1/4, 1/8,
# 1/8 give 7/4 bits. Both from memory.
def test_bits_are_those_of_shannons_examples() -> None:
    assert bits([3, 2, 1]) == pytest.approx(bits([1, 1]) + 0.5 * bits([2, 1]), abs=1e-12)
    assert bits([4, 2, 1, 1]) == pytest.approx(7 / 4, abs=1e-12)
    assert bits([1, 1]) == 1.0
    assert bits([7]) == bits([]) == bits([0, 3]) == 0.0


@settings(max_examples=150)
@given(_families())
def test_the_mean_is_the_least_of_all_trees(outcomes: Outcomes) -> None:
    questions = Questionnaire(outcomes=outcomes)
    counts = [len(_asked(questions, variant)) for variant in outcomes]
    assert sum(counts) / len(counts) == pytest.approx(_least_mean(outcomes))
    assert questions.mean(*_all(questions)) == pytest.approx(_least_mean(outcomes))
    assert max(counts) <= len(questions.axes)


# Source: Shannon (1948), theorem 9 (noiseless coding): no tree of yes/no questions has a mean below the entropy.
@settings(max_examples=100)
@given(_families(binary=True))
def test_no_mean_is_below_the_entropy_of_the_results(outcomes: Outcomes) -> None:
    results = [outcome.matters for outcome in outcomes.values()]
    entropy = bits(results.count(result) for result in set(results))
    questions = Questionnaire(outcomes=outcomes)
    assert questions.mean(*_all(questions)) >= entropy - 1e-9


@settings(max_examples=100)
@given(_families())
def test_beyond_the_exact_search_every_variant_is_still_settled(outcomes: Outcomes) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(shortest, "_MOST_WORK", 0)
        questions = Questionnaire(outcomes=outcomes)
        counts = [len(_asked(questions, variant)) for variant in outcomes]
    assert max(counts) <= len(questions.axes)
    assert sum(counts) / len(counts) >= _least_mean(outcomes) - 1e-9


@pytest.mark.parametrize("most_work", [shortest._MOST_WORK, 0])
def test_two_axes_that_only_together_tell_are_asked_and_the_third_is_not(
    most_work: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shortest, "_MOST_WORK", most_work)
    outcomes = _family([2, 3, 2], {c: "a" if c[0] == c[2] else "b" for c in product(range(2), range(3), range(2))})
    questions = Questionnaire(outcomes=outcomes)
    for variant in outcomes:
        assert sorted(_asked(questions, variant)) == ["axis-0", "axis-2"]


def test_a_refusal_is_told_after_one_question_whatever_else_differs() -> None:
    plans = {c: "" if c[2] else f"{c[0]}{c[1]}" for c in product(range(4), range(3), range(2))}
    questions = Questionnaire(outcomes=_family([4, 3, 2], plans))
    for variant in questions.variants:
        asked = _asked(questions, variant)
        assert asked[0] == "axis-2"
        assert len(asked) == (1 if dict(variant)["axis-2"] == "1" else 3)


def test_what_was_not_built_together_is_not_asked() -> None:
    plans = {(0, 0): "a", (0, 1): "b", (1, 1): "c"}
    questions = Questionnaire(outcomes=_family([2, 2], plans))
    assert len(_asked(questions, (("axis-0", "1"), ("axis-1", "1")))) == 1
    assert questions.possible("axis-1", questions.with_answers({"axis-0": "1"})) == ("1",)


def test_an_axis_that_changes_nothing_is_never_asked() -> None:
    plans = {c: str(c[1]) for c in product(range(3), range(2))}
    questions = Questionnaire(outcomes=_family([3, 2], plans))
    assert all(_asked(questions, variant) == ["axis-1"] for variant in questions.variants)


def test_where_an_axis_cannot_be_answered_the_others_are_asked_as_far_as_they_tell() -> None:
    plans = {c: "a" if c[0] == c[1] else f"b{c[2]}" for c in product(range(2), range(2), range(2))}
    questions = Questionnaire(outcomes=_family([2, 2, 2], plans))
    left, _ = _all(questions)
    without = questions.mask(["axis-1", "axis-2"])
    assert questions.next_axis(left, without) == "axis-2"
    # Once axis 2 is known, axis 1 alone tells nothing that it did not.
    assert questions.next_axis(questions.with_answers({"axis-2": "0"}), questions.mask(["axis-1"])) is None
    assert questions.needed(left, questions.mask(questions.axes)) == ("axis-0", "axis-1", "axis-2")


def test_a_family_without_axes_has_nothing_to_ask() -> None:
    questions = Questionnaire(outcomes=_family([], {(): "a"}))
    assert questions.axes == ()
    assert _asked(questions, ()) == []
    assert questions.listed(questions.with_answers({})) == ((),)


def test_a_large_family_is_asked_about_without_delay() -> None:
    """12 years, 4 bodies, 5 engines, 4 trims, 2 keys: 1920 variants, beyond the exact search."""
    sizes = [12, 4, 5, 4, 2]
    plans = {c: f"{c[0] // 4}{c[2]}{c[4]}" for c in product(*map(range, sizes))}
    questions = Questionnaire(outcomes=_family(sizes, plans))
    assert sorted(_asked(questions, questions.variants[777])) == ["axis-0", "axis-2", "axis-4"]
