"""The order check on the demonstration shop: every variant settled, with the verdict of its own plan and proof."""

from dataclasses import replace
from typing import Any

import pytest

from loomwright.documents.car import resolve
from loomwright.fitting import outcomes as outcomes_module
from loomwright.fitting.order import Order, advance, order_check
from loomwright.fitting.outcomes import Variant, plan_of
from loomwright.fitting.questions import (
    ELSEWHERE,
    KEYS,
    NOT_SURE,
    PARKED,
    PARKINGS,
    PLACE,
    AnswerError,
    Question,
    Settled,
    next_question,
)
from loomwright.network.proof import prove
from loomwright.network.results import Finding, Proof, verdict
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from tests.fitting.builders import FALLOW, ROOKERY, SHOP, Edit, demo_pairs, order, proved_order, truthfully

_BASE = {"year": "2013", "body": "sedan", "engine": "2.4", "trim": "base"}
_V6_IS_MANUAL: tuple[Edit, ...] = (
    (FALLOW, "    gearbox: automatic\n", ""),
    (FALLOW, "  - {only: {engine: \"2.4\"}, ", "  - {only: {engine: \"2.4\"}, gearbox: automatic, "),
    (FALLOW, "  - {only: {engine: \"3.3\"}, ", "  - {only: {engine: \"3.3\"}, gearbox: manual, "),
)  # fmt: skip


def _found(asked: Order, variant: Variant) -> Installation | Refusal:
    """Plan the kit into one variant, by itself."""
    return match(resolve(asked.vehicle, dict(variant), asked.evidence), asked.kit, asked.shop)


def _next(asked: Order, answers: dict[str, str]) -> Question | Settled:
    return next_question(asked.vehicle, asked.kit, asked.shop, answers, asked.outcomes)


def _about_the_car(asked: Order, answers: dict[str, str]) -> list[str]:
    return [name for name in answers if name in {axis.id for axis in asked.vehicle.axes}]


# Every variant --------------------------------------------------------------------------------------------------------


# One pair in two in every run; the long runs take them all.
_PAIRS = [pytest.param(*pair, marks=pytest.mark.soak if n % 2 else ()) for n, pair in enumerate(demo_pairs())]


@pytest.mark.parametrize(("file", "kit"), _PAIRS)
def test_every_variant_has_the_outcome_of_its_own_plan(file: str, kit: str) -> None:
    asked = order(vehicle=file, kit=kit)
    assert asked.outcomes
    for variant, outcome in asked.outcomes.items():
        found = _found(asked, variant)
        if isinstance(found, Refusal):
            assert isinstance(outcome.found, Refusal)
            assert (outcome.verdict, outcome.plan, outcome.found.code) == ("does-not-fit", "", found.code)
        else:
            assert outcome.verdict == verdict(found, ())
            assert outcome.plan == plan_of(found)


@pytest.mark.parametrize(("file", "kit"), demo_pairs())
def test_truthful_answers_settle_every_variant_with_no_question_to_spare(file: str, kit: str) -> None:
    asked = order(vehicle=file, kit=kit)
    axes = [axis.id for axis in asked.vehicle.axes]
    counts = []
    for variant, outcome in asked.outcomes.items():
        answers: dict[str, str] = {}
        while isinstance(step := _next(asked, answers), Question):
            answers[step.id] = dict(variant).get(step.id, NOT_SURE)
        assert variant in step.possible
        assert {asked.outcomes[v].matters for v in step.possible} == {outcome.matters}
        assert step.open == ()
        counts.append(len(_about_the_car(asked, answers)))
    assert max(counts) <= len(axes)
    results = {outcome.matters for outcome in asked.outcomes.values()}
    if len(results) < len(asked.outcomes):  # some cars need not be told apart, so some questions are saved
        assert sum(counts) / len(counts) < len(axes)
    if len(results) == 1:
        assert max(counts) == 0


def test_the_verdict_is_that_of_the_cars_own_proof() -> None:
    """Of the cars that need not be told apart the last one is taken; the check has planned and proved the first."""
    asked = proved_order()
    last = {outcome.matters: variant for variant, outcome in asked.outcomes.items()}
    assert len(last) > 6
    for variant in list(last.values())[::2]:
        asked, answers = truthfully(asked, {**dict(variant), KEYS: "1", PARKED: "street", PLACE: ELSEWHERE})
        check = order_check(asked, answers)
        found = _found(asked, variant)
        assert isinstance(found, Installation)
        proof = prove(found)
        assert check.verdict == verdict(found, proof.findings)
        assert [f.subject for f in check.unproven] == [f.subject for f in proof.findings if f.code == "unproven"]
        assert variant in check.possible
        assert check.settled
        assert check.question is None


# Refusals, exceptions, and what only the proof tells ------------------------------------------------------------------


def test_a_refused_engine_ends_the_questions_at_once() -> None:
    asked = order(*_V6_IS_MANUAL)
    step = _next(asked, {})
    assert isinstance(step, Question)
    assert (step.id, step.kind) == ("engine", "axis")
    check = order_check(asked, {"engine": "3.3"})
    assert check.question is None
    assert check.verdict == "does-not-fit"
    assert check.settled
    assert not check.ready
    assert [r.code for r in check.refusals] == ["manual-gearbox"]
    assert check.open == ()
    # The V6 was only built as touring, so that axis is no longer open.
    assert check.spare == ("year", "body")
    assert (check.cautions, check.settings_off, check.keys_needed) == ((), (), 0)


def test_a_contradicted_wire_is_an_exception() -> None:
    edit = ("evidence/kestrin-fallow.yaml", "{colour: brown, stripe: yellow, pin: body-a/20}", "{colour: grey}")
    asked = order(edit)
    check = order_check(asked, {**_BASE, "year": "2014"})
    assert check.verdict == "fits-with-exceptions"
    assert [(type(e), getattr(e, "code", "")) for e in check.exceptions] == [(Finding, "evidence-contradicts")]
    assert not check.ready
    assert order_check(asked, _BASE).verdict == "fits"


def test_what_only_the_proof_tells_apart_is_asked_after_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two years whose plans read alike; in one a wire that no joint is near is found at fault."""
    behaviour = "    behaviour: {template: switched feed, fed_by: ignition-2, load_a: 2.0}\n    only: {trim: touring"
    asked = order((FALLOW, behaviour, f"{behaviour}, year: 2013"))
    touring = {"engine": "2.4", "trim": "touring", "body": "sedan"}
    years = [asked.outcomes[tuple({**_BASE, **touring, "year": year}.items())] for year in ("2012", "2013")]
    assert years[0].plan == years[1].plan
    assert years[0].found is not years[1].found

    def fake(installation: Installation) -> Proof:
        found = prove(installation)
        if "mirror-heat" not in installation.car.circuits:
            return found
        stop = Finding(
            code="wire-above-rating", severity="stop", subject="mirror-heat", message="A wire is overloaded.",
            state=None, path=(), numbers=(), advice="Do not fit it.", source="a test",
        )  # fmt: skip
        return replace(found, findings=(stop, *found.findings))

    answers = {**touring, "year": NOT_SURE}
    assert order_check(asked, answers).verdict == "fits"
    monkeypatch.setattr(outcomes_module, "prove", fake)
    check = order_check(asked, answers)
    assert check.verdict is None
    assert check.open == ("year",)
    proved, step = advance(asked, touring)
    assert isinstance(step, Question)
    assert step.id == "year"
    # An answer not yet proved leads to more questions about the car, where the plans alone had none left.
    told = {**touring, "year": "2013"}
    assert order_check(proved, told).verdict == "does-not-fit"
    assert order_check(proved, {**touring, "year": "2012"}).verdict == "fits"


# Not sure -------------------------------------------------------------------------------------------------------------


def test_not_sure_about_everything_leaves_open_what_matters() -> None:
    asked, answers = truthfully(proved_order(), {})
    assert set(answers) == {*_BASE, KEYS, PARKED, PLACE}
    check = order_check(asked, answers)
    assert len(check.possible) == len(asked.outcomes)
    assert check.open == ("year", "body", "engine", "trim")
    assert (check.choice, check.settled, check.ready) == (None, False, False)
    assert check.verdict == "fits"  # all of them fit, each in its way
    assert check.keys_ok is None
    assert not check.timed_starts
    assert check.cautions == ("garage unknown", "idling")


def test_not_sure_about_one_axis_goes_on_with_the_others() -> None:
    asked, answers = truthfully(order(), _BASE, unsure=("engine",))
    # Crank windows were not built with the V6, so the trim settles the engine.
    check = order_check(asked, answers)
    assert answers["trim"] == "base"
    assert check.open == ()
    assert {dict(variant)["engine"] for variant in check.possible} == {"2.4"}
    asked, answers = truthfully(order(), {**_BASE, "trim": "touring"}, unsure=("engine",))
    check = order_check(asked, answers)
    assert check.open == ("engine",)
    assert check.choice is None


def test_nothing_answered_has_a_question_and_no_verdict(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(_installation: Installation) -> Any:
        raise AssertionError("nothing is proved while the car is asked about")

    monkeypatch.setattr(outcomes_module, "prove", never)
    check = order_check(order(), {"engine": "3.3"})
    assert check.question is not None
    assert check.question.kind == "axis"
    assert check.verdict is None
    assert not check.settled


# The other questions --------------------------------------------------------------------------------------------------


def test_after_the_car_come_keys_parking_and_place() -> None:
    asked = order()
    seen = []
    answers = dict(_BASE)
    while isinstance(step := _next(asked, answers), Question):
        seen.append((step.id, step.kind, [choice.value for choice in step.choices]))
        answers[step.id] = NOT_SURE
    assert seen == [
        (KEYS, "keys", ["0", "1"]),
        (PARKED, "parking", list(PARKINGS)),
        (PLACE, "place", ["Brindle Falls", "Port Corvane", "Marrow Sound", ELSEWHERE]),
    ]


def test_a_shop_without_limits_asks_for_no_place() -> None:
    asked = order()
    shop = asked.shop.model_copy(update={"local_limits": ()})
    answers = {**_BASE, KEYS: "1", PARKED: "street"}
    assert isinstance(next_question(asked.vehicle, asked.kit, shop, answers, asked.outcomes), Settled)


@pytest.mark.parametrize(
    ("keys", "ok", "ready"), [("0", False, False), ("1", False, False), ("2", True, True), (NOT_SURE, None, True)]
)
def test_too_few_keys_stand_against_the_order(keys: str, ok: bool | None, ready: bool) -> None:
    asked = order((FALLOW, "keys_to_learn: 1", "keys_to_learn: 2"))
    check = order_check(asked, {**_BASE, KEYS: keys})
    assert (check.keys_needed, check.keys_ok, check.ready) == (2, ok, ready)
    assert check.verdict == "fits"


@pytest.mark.parametrize(
    ("parked", "timed"),
    [("attached-garage", False), ("enclosed-garage", False), (NOT_SURE, False), ("street", True),
     ("private-ground", True)],
)  # fmt: skip
def test_a_car_that_may_stand_indoors_does_not_start_by_itself(parked: str, timed: bool) -> None:
    check = order_check(order(), {**_BASE, PARKED: parked})
    assert check.timed_starts is timed
    assert [setting.id for setting in check.settings_off] == ([] if timed else ["start-in-cold"])


@pytest.mark.parametrize(
    ("place", "kept", "run_time", "too_long"),
    [
        ("Brindle Falls", True, "10 min", False),
        ("Port Corvane", False, None, True),
        ("Marrow Sound", False, None, False),
    ],
)
def test_a_limit_is_held_against_the_kits_run_times(
    place: str, kept: bool, run_time: str | None, too_long: bool
) -> None:
    check = order_check(order(), {**_BASE, PLACE: place})
    assert check.limit is not None
    assert (check.limit.kept, check.limit.run_time, check.limit.too_long) == (kept, run_time, too_long)
    assert check.limit.locks  # the vehicle module locks over the bus
    assert check.limit.lock_setting == "Lock after a start"
    assert check.ready is kept


def test_locked_only_is_not_kept_by_a_kit_that_cannot_lock() -> None:
    """Neither over the bus nor by a lead, and not wanted any more, so that the kit still fits."""
    asked = order(
        (ROOKERY, "    - {function: lock, vehicle: kestrin-fallow}\n", ""),
        (ROOKERY, "  - lock\n", ""),
    )  # fmt: skip
    check = order_check(asked, {**_BASE, PLACE: "Brindle Falls"})
    assert check.limit is not None
    assert not check.limit.locks
    assert not check.limit.kept


def test_a_limit_of_no_idling_at_all_is_kept_by_no_run_time() -> None:
    check = order_check(order((SHOP, "idle_minutes: 3", "idle_minutes: 0")), {**_BASE, PLACE: "Port Corvane"})
    assert check.limit is not None
    assert check.limit.too_long


# Bad answers ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        (
            {"body": "wagon", "engine": "2.4", "year": "2015"},
            "No Kestrin Fallow was built as year 2015, body wagon; look again at year 2015 (Driver's door frame label, "
            "last line begins MY15; a camera above the rear plate); body wagon (One tall tailgate with the rear window "
            "in it and a wiper on it)",
        ),
        ({"body": "van"}, "body: found 'van', expected one of: sedan, wagon, not sure; correct that word"),
        (
            {"gearbox": "manual"},
            "found an answer about 'gearbox', expected one about: year, body, engine, trim; correct that word",
        ),
        ({KEYS: "two"}, "keys: found 'two', expected a whole number; count those that start the engine"),
        (
            {PARKED: "attic"},
            "parked: found 'attic', expected one of: attached-garage, enclosed-garage, street, private-ground, not "
            "sure; correct that word",
        ),
        (
            {PLACE: "Nowhere"},
            "place: found 'Nowhere', expected one of: Brindle Falls, Port Corvane, Marrow Sound, elsewhere, not sure; "
            "correct that word",
        ),
    ],
)
def test_a_bad_answer_is_told(answers: dict[str, str], told: str) -> None:
    asked = order()
    with pytest.raises(AnswerError) as problem:
        _next(asked, answers)
    assert str(problem.value) == told


def test_only_values_built_with_the_answers_are_offered() -> None:
    asked = order()
    known = {"year": "2015", "engine": "2.4", "trim": NOT_SURE}
    step = _next(asked, known)
    assert isinstance(step, Question)
    assert step.id != "body"  # of 2015 there are only sedans
    answers = {"body": "wagon", "engine": "2.4", "trim": "base"}
    step = _next(asked, answers)
    assert isinstance(step, Question)
    assert step.id == "year"
    assert [choice.value for choice in step.choices] == ["2011", "2012", "2013", "2014"]
    assert [choice.value for choice in step.never] == ["2015"]


# Progress -------------------------------------------------------------------------------------------------------------


def test_progress_counts_every_variant() -> None:
    asked = order()
    told: list[tuple[int, int]] = []
    outcomes_module.outcomes(asked.vehicle, asked.kit, asked.shop, asked.evidence, lambda *at: told.append(at))
    assert told == [(i, 27) for i in range(1, 28)]
