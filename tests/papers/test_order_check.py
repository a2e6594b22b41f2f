# ruff: noqa: E501 - a sentence on one line is easier to compare with what is printed
"""What the order check says: its verdicts in full, and the blocks of its paper."""

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from loomwright.fitting.order import OrderCheck, order_check
from loomwright.fitting.questions import KEYS, NOT_SURE, PARKED, PLACE, next_question
from loomwright.network.results import Finding
from loomwright.papers.blocks import Bullets, Caution, Heading, Quantity
from loomwright.papers.order_check import order_blocks, order_paper, two_sentences, worded
from loomwright.papers.order_object import order_object
from loomwright.papers.saying import plain
from loomwright.planning.installation import Unserved
from loomwright.sheets import render
from tests.fitting.builders import FALLOW, ROOKERY, Edit, order

_BASE = {"year": "2013", "body": "sedan", "engine": "2.4", "trim": "base"}
_FOUND_OTHERWISE: Edit = (
    "evidence/kestrin-fallow.yaml", "{colour: brown, stripe: yellow, pin: body-a/20}", "{colour: grey}",
)  # fmt: skip
_NO_HORN: tuple[Edit, ...] = (
    # The builder's pin goes with the output that it is about; else it is a finding of its own.
    (
        "shop.yaml",
        "pinned:\n  - vehicle: kestrin-fallow\n    function: horn\n    how: tap\n    pin: body-a/6\n"
        "    reason: The only other place of the horn wire is beside the airbag plug of the column.\n",
        "",
    ),
    (
        ROOKERY,
        "    - {id: horn, function: horn, kind: negative output, plug: c2, pin: 7, rating_a: 0.25, resistance_ohm: 1.5}\n",
        "",
    ),
    (
        ROOKERY,
        "  - {id: horn, terminal: horn, label: HORN, colour: brown, stripe: black, area_mm2: 0.5, length_m: 1.5}\n",
        "",
    ),
)
_MANUAL: tuple[Edit, ...] = (
    (FALLOW, "    gearbox: automatic\n", ""),
    (FALLOW, "  - {only: {engine: \"2.4\"}, ", "  - {only: {engine: \"2.4\"}, gearbox: automatic, "),
    (FALLOW, "  - {only: {engine: \"3.3\"}, ", "  - {only: {engine: \"3.3\"}, gearbox: manual, "),
)  # fmt: skip
_HYBRID_OR_MANUAL: tuple[Edit, ...] = (
    (FALLOW, "    drive: combustion\n", ""),
    (FALLOW, "    gearbox: automatic\n", ""),
    (FALLOW, "  - {only: {engine: \"2.4\"}, ", "  - {only: {engine: \"2.4\"}, gearbox: automatic, drive: hybrid, "),
    (FALLOW, "  - {only: {engine: \"3.3\"}, ", "  - {only: {engine: \"3.3\"}, gearbox: manual, drive: combustion, "),
)  # fmt: skip
_THIN_FEED: Edit = (
    ROOKERY, "label: FEED 1, colour: red, area_mm2: 3.0", "label: FEED 1, colour: red, area_mm2: 0.35",
)  # fmt: skip
_TWO_KEYS: Edit = (FALLOW, "keys_to_learn: 1", "keys_to_learn: 2")
_FITS = "Rookery 4 fits this Kestrin Fallow: it serves everything it is meant to, and the {states} states computed show nothing "
_V6 = {"engine": "3.3", "trim": "touring"}
_GEARBOX = (
    "because this car has a manual gearbox: nothing keeps it from being left in gear, and no rule asks for a switch that "
    "would tell."
)


def _said(check: OrderCheck) -> list[str]:
    return [plain(sentence) for sentence in two_sentences(check)]


@pytest.mark.parametrize(
    ("edits", "answers", "told"),
    [
        pytest.param(
            (), _BASE,
            [_FITS + "against it.", "You can order it; hold the list below against the car once more before you do."],
            id="fits",
        ),
        pytest.param(
            (), {**_BASE, "year": "2014", "trim": "touring"},
            [
                "Rookery 4 fits this Kestrin Fallow: it serves everything it is meant to, and the {states} states computed "
                "show nothing against it.",
                "You can order it; nobody has proven all of its wires on this variant yet, so the guide has you measure "
                "them before anything is joined.",
            ],
            id="fits, with wires that nobody has proven",
        ),
        pytest.param(
            (_TWO_KEYS,), {**_BASE, KEYS: "1"},
            [
                _FITS + "against it.",
                "Do not order it yet: it needs 2 of your keys that start the engine to learn the car, and you have 1, so "
                "have a key made first.",
            ],
            id="fits, too few keys",
        ),
        pytest.param(
            (), {**_BASE, PLACE: "Marrow Sound"},
            [
                _FITS + "against it.",
                "Do not order it before you have read what Marrow Sound says about it: the limit stands below.",
            ],
            id="fits, forbidden where it is used",
        ),
        pytest.param(
            _NO_HORN, _BASE,
            [
                "Rookery 4 fits this Kestrin Fallow, but leaves something out: horn.",
                "Read the list below, and order it only if you can do without.",
            ],
            id="a function left out",
        ),
        pytest.param(
            (_FOUND_OTHERWISE,), {**_BASE, "year": "2014"},
            [
                "Rookery 4 fits this Kestrin Fallow only once 1 thing is put right.",
                "Do not order it before you have gone through the list below with the shop.",
            ],
            id="one thing to put right",
        ),
        pytest.param(
            (*_NO_HORN, _FOUND_OTHERWISE), {**_BASE, "year": "2014"},
            [
                "Rookery 4 fits this Kestrin Fallow, but leaves something out (horn), and 1 thing must be put right.",
                "Do not order it before you have gone through the list below with the shop.",
            ],
            id="both",
        ),
        pytest.param(
            _MANUAL, {**_BASE, **_V6},
            [
                f"Rookery 4 must not be fitted to this Kestrin Fallow, {_GEARBOX}",
                "Do not order it; it would fit only if the car had an automatic gearbox.",
            ],
            id="refused",
        ),
        pytest.param(
            _MANUAL, {"engine": "3.3"},
            [
                f"Rookery 4 must not be fitted to any of the 9 cars that your answers leave, {_GEARBOX}",
                "Do not order it; it would fit only if the car had an automatic gearbox.",
            ],
            id="refused after one question",
        ),
        pytest.param(
            _HYBRID_OR_MANUAL, {},
            [
                "Rookery 4 must not be fitted to any of the 27 cars that your answers leave, because this car is a hybrid: its engine is started by its own drive system, not by a starter, or because this car has a manual gearbox: nothing keeps it from being left in gear, and no rule asks for a switch that would tell.",
                "Do not order it; no setting and no other way of fitting changes that.",
            ],
            id="refused for two reasons without a question",
        ),
        pytest.param(
            (_THIN_FEED,), _BASE,
            [
                "Rookery 4 does not fit this Kestrin Fallow: the circuit that it would make shows 1 thing that must not "
                "be.",
                "Do not order it; the list below says what was found, and the shop can tell whether another kit fits.",
            ],
            id="stopped by the proof",
        ),
        pytest.param(
            _MANUAL, {**_BASE, "trim": "touring", "engine": NOT_SURE},
            [
                "It is not settled whether Rookery 4 fits: it fits 1 of the 2 cars that your answers leave, and not the "
                "others.",
                "Do not order it before engine is settled: look at the car again, or send the shop a picture of what the "
                "questions below ask for.",
            ],
            id="not sure about what decides",
        ),
        pytest.param(
            (), {**_BASE, "year": NOT_SURE, "body": NOT_SURE},
            [
                "Rookery 4 fits each of the 9 cars that your answers leave, but not in the same way.",
                "Do not order it before year and body are settled: look at the car again, or send the shop a picture of "
                "what the questions below ask for.",
            ],
            id="not sure how it fits",
        ),
        pytest.param(
            (), {},
            [
                "It is not settled yet whether Rookery 4 fits: your answers leave 27 cars.",
                "Do not order it before the questions below are answered.",
            ],
            id="nothing answered",
        ),
    ],
)  # fmt: skip
def test_the_verdict_is_told_in_two_sentences(
    edits: tuple[Edit, ...], answers: dict[str, str], told: list[str]
) -> None:
    check = order_check(order(*edits), answers)
    assert _said(check) == [sentence.replace("{states}", str(check.states)) for sentence in told]


def test_a_required_function_that_lost_against_the_rest_is_told() -> None:
    check = order_check(order(), _BASE)
    lost = Unserved(
        task="start", function="start", required=True, why="Its output is taken.", would_fit_if="there were another",
        rejected=(),
    )  # fmt: skip
    first = replace(check.order.outcomes[check.possible[0]], verdict="does-not-fit")
    worse = replace(
        check, verdict="does-not-fit", exceptions=(lost,),
        order=replace(check.order, outcomes={**check.order.outcomes, check.possible[0]: first}),
    )  # fmt: skip
    assert _said(worse)[0] == (
        "Rookery 4 does not fit this Kestrin Fallow: it leaves out what no start may be without: start."
    )


def test_the_same_plan_for_several_cars_is_told_with_their_number() -> None:
    known = {name: value for name, value in _BASE.items() if name != "year"}
    check = order_check(order(), {**_BASE})
    # Of 2011 to 2013 the year makes no difference; the three stand here as if only they were left.
    alike = tuple(tuple({**known, "year": year}.items()) for year in ("2011", "2012", "2013"))
    alike = tuple(tuple((axis, dict(v)[axis]) for axis in _BASE) for v in alike)
    several = replace(check, possible=alike, spare=("year",))
    assert several.settled
    assert _said(several)[0] == (
        "Rookery 4 fits each of the 3 cars that your answers leave, in the same way: it serves everything it is meant to, "
        f"and the {check.states} states computed show nothing against it."
    )
    text = render(order_paper(several), "text").decode()
    assert "[ ] Year: 2011, 2012 or 2013. It makes no difference to this kit." in text


# Blocks -----------------------------------------------------------------------------------------------------------------


def _quantities(value: Any) -> list[Quantity]:
    if isinstance(value, Quantity):
        return [value]
    if is_dataclass(value):
        return [q for f in fields(value) for q in _quantities(getattr(value, f.name))]
    return [q for item in value for q in _quantities(item)] if isinstance(value, tuple) else []


def test_every_computed_number_has_its_trace() -> None:
    check = order_check(order(), {**_BASE, KEYS: "1", PARKED: "street", PLACE: "Port Corvane"})
    found = _quantities(order_blocks(check))
    assert {(q.value, q.trace) for q in found} == {
        (check.states, "proof:states"), (1.0, "document:kestrin-fallow/traits/keys_to_learn"), (1.0, "order:keys"),
        (3.0, "document:shop/local_limits/Port Corvane/idle_minutes"),
    }  # fmt: skip
    for sentence in two_sentences(check):
        for run in sentence:
            assert not isinstance(run, str) or not re.search(r"\d", run.replace("Rookery 4", ""))


def test_the_blocks_can_go_into_a_paper_that_has_the_cues_already() -> None:
    check = order_check(order(), {**_BASE, KEYS: "1", PARKED: "attached-garage"})
    whole, without = order_blocks(check), order_blocks(check, cues=False)
    assert isinstance(whole[0], Heading)
    assert set(without) < set(whole)
    assert not any(isinstance(block, Bullets) and block.ticked for block in without)
    assert any(isinstance(block, Bullets) and block.ticked and len(block.items) == 4 for block in whole)


@pytest.mark.parametrize(
    ("parked", "words"),
    [("attached-garage", ["DANGER", "WARNING", "NOTICE"]), ("enclosed-garage", ["DANGER", "WARNING", "NOTICE"]),
     ("street", ["WARNING", "WARNING", "NOTICE"]), ("private-ground", ["WARNING", "WARNING", "NOTICE"]),
     (NOT_SURE, ["WARNING", "NOTICE"])],
)  # fmt: skip
def test_the_cautions_follow_where_the_car_stands(parked: str, words: list[str]) -> None:
    blocks = order_blocks(order_check(order(), {**_BASE, PARKED: parked}))
    assert [block.word for block in blocks if isinstance(block, Caution)] == words


def test_a_refusal_has_its_caution_and_nothing_about_use() -> None:
    text = render(order_paper(order_check(order(*_MANUAL), {"engine": "3.3"})), "text").decode()
    assert "WARNING: The car can leap forward the moment it cranks" in text
    assert "Keys" not in text
    assert "Where it starts" not in text


@pytest.mark.parametrize(
    ("place", "told"),
    [
        (
            "Brindle Falls",
            ["an engine may idle for 10 min at most.", "Set the run time to 10 min.",
             "only while the doors are locked and no key is inside.", 'Keep "Lock after a start" on',
             "From Brindle Falls Town Code, chapter 12, section 4, edition of 2023 (invented), read by the shop on "
             "2025-09-02."],
        ),
        ("Port Corvane", ["an engine may idle for 3 min at most.", "None of the kit's run times is that short."]),
        ("Marrow Sound", ["the shop found no limit on idling.", "It may not run with nobody in the car."]),
    ],
)  # fmt: skip
def test_a_limit_is_told_with_its_source(place: str, told: list[str]) -> None:
    text = " ".join(render(order_paper(order_check(order(), {**_BASE, PLACE: place})), "text").decode().split())
    for words in told:
        assert words in text


@pytest.mark.parametrize("form", ["html", "a4"])
def test_the_paper_takes_every_form(form: Any) -> None:
    check = order_check(order(), {**_BASE, "year": "2014", PARKED: "attached-garage", PLACE: "Brindle Falls"})
    assert len(render(order_paper(check), form)) > 2000


# Questions and the object -----------------------------------------------------------------------------------------------


def test_every_question_has_words() -> None:
    asked = order(_TWO_KEYS)
    answers: dict[str, str] = {}
    asks = []
    for _ in range(7):
        step: Any = worded(next_question(asked.vehicle, asked.kit, asked.shop, answers, asked.outcomes))  # type: ignore[arg-type]
        asks.append(step.ask)
        assert step.ask.endswith("?")
        assert all(choice.cue for choice in step.choices) or step.kind == "place"
        answers[step.id] = NOT_SURE
    assert len(set(asks)) == 7
    keys = worded(next_question(asked.vehicle, asked.kit, asked.shop, _BASE, asked.outcomes))  # type: ignore[arg-type]
    assert [choice.cue for choice in keys.choices] == [
        "no key starts it now. A key that only opens the door does not count.",
        "tried one after the other, 1 of them and no more.",
        "tried one after the other, 2 of them or more.",
    ]


def test_the_object_tells_what_the_paper_tells() -> None:
    check = order_check(order(*_NO_HORN, _FOUND_OTHERWISE), {**_BASE, "year": "2014", PLACE: "Port Corvane"})
    found = order_object(check)
    assert found["verdict"] == "fits-with-exceptions"
    assert found["two_sentences"] == _said(check)
    assert [entry["kind"] for entry in found["exceptions"]] == ["unserved", "fix"]
    assert found["choice"] == {**_BASE, "year": "2014"}
    assert found["limit"]["kept"] is False
    assert isinstance(check.exceptions[1], Finding)
    assert found["exceptions"][1]["why"] == check.exceptions[1].message
