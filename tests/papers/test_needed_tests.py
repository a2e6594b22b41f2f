"""Every wire that nobody would miss has its test in the guide, alone and before the car is handed over."""

from dataclasses import replace

import pytest

from loomwright.documents.behaviour import StartRequest
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Step
from loomwright.papers.gear_test import sees_key
from loomwright.papers.job import Job
from loomwright.papers.operating_card import operating_card
from loomwright.papers.safety_tests import hands_over, needed_for, safety_tests
from loomwright.papers.saying import plain
from loomwright.papers.words.en import tests as words
from loomwright.planning.installation import Installation
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import start_settings
from loomwright.starting.trying import outcome
from tests.demonstration import shop
from tests.kept import guide_of, start_report_of
from tests.pairs import PAIRS, installations
from tests.papers.builders import strings

_VARIANTS = 2

__all__ = ["job_of"]


def job_of(installation: Installation) -> Job:
    """The tests ask nothing of proof and readings but whether a stage was found sound."""
    proof = Proof(
        installation=installation, findings=(), nodes=0, elements=0, states=(), points=0, worst_residual=0.0
    )
    none = Readings(installation=installation.id, battery_v=12.6, readings=())
    return Job(installation=installation, proof=proof, readings=none, shop=shop())


def _blocks(pair: tuple[str, str]) -> tuple[Block, ...]:
    return guide_of(installations(pair, _VARIANTS)[0]).blocks


def _said(step: Step) -> str:
    return " ".join(plain(line) for line in step.do)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_every_silent_fault_has_its_test_in_the_guide_before_the_hand_over(pair: tuple[str, str]) -> None:
    blocks = _blocks(pair)
    at = {b.id: n for n, b in enumerate(blocks) if isinstance(b, Step)}
    begin = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.anchor == "part-e")
    end = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.anchor == "hand-over")
    report = start_report_of(installations(pair, _VARIANTS)[0])
    assert report.silent
    for fault in report.silent:
        assert any(begin < at.get(f"test:{t}", -1) < end for t in fault.revealed_by[:1]), fault.words
    ticked = max(n for n, b in enumerate(blocks) if n < at["test:first"] and isinstance(b, Bullets) and b.ticked)
    assert all(ticked < at[f"test:{t}"] for f in report.silent for t in f.revealed_by if f"test:{t}" in at)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_the_guide_tells_which_wire_would_be_missed_by_nobody_and_where_it_is_proved(pair: tuple[str, str]) -> None:
    blocks = _blocks(pair)
    place = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.anchor == "proved")
    told = next(b for b in blocks[place:] if isinstance(b, Bullets))
    said = " ".join(plain(item) for item in told.items)
    one = installations(pair, _VARIANTS)[0]
    for fault in start_report_of(one).silent:
        title = job_of(one).fill(words.TITLES[fault.revealed_by[0]])
        assert f"\u201c{title}\u201d" in said
        assert words.LOST[fault.fault.input] in said
        if fault.fault.kind == "lead off":
            assert fault.fault.words in said


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_no_test_is_masked_and_each_asks_for_what_this_kit_has(pair: tuple[str, str]) -> None:
    for one in installations(pair, _VARIANTS):
        job, report = job_of(one), start_report_of(one)
        steps = {b.id: b for b in safety_tests(job) if isinstance(b, Step)}
        needed = {n.test.id: n for n in needed_for(job)}
        for name, need in needed.items():
            said = _said(steps[f"test:{name}"])
            for other in need.clear:
                assert job.fill(words.AT_REST[other]) in said, (name, other)
            for fault in need.shows:
                broken = {**report.wiring.sound, fault.input: fault.levels}
                shown = outcome(need.test, broken, report.settings)
                assert shown != outcome(need.test, report.wiring.sound, report.settings)
        # And nothing is tested that this kit does not read: such a test would always fail.
        asked = {i.removeprefix("test:") for i in steps} & words.TITLES.keys()
        assert asked == {*needed, "selector"}


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_in_the_test_of_the_selector_the_foot_neither_lets_the_car_go_nor_hides_a_fault(pair: tuple[str, str]) -> None:
    for one in installations(pair, _VARIANTS):
        job = job_of(one)
        step = next(b for b in safety_tests(job) if isinstance(b, Step) and b.id == "test:selector")
        warned = " ".join(plain(c.text) for c in step.cautions if isinstance(c, Caution))
        wanted = ("Chock the wheels", "parking brake", "foot hard on", "clear", "workshop")
        for phrase in (*wanted, *(() if sees_key(job) else ("over the brake, not on it",))):
            assert phrase in warned + _said(step), phrase
        # With a key in the lock the kit refuses by the key; it is then asked nothing, and the step says why.
        assert ("Ask for a start with the remote" in _said(step)) is not sees_key(job)
        lines = [plain(d) for d in step.do]
        asking = [n for n, line in enumerate(lines) if "Ask for a start with the remote" in line]
        assert all(lines[n].startswith("Now hold the foot over the pedal, not on it") for n in asking)
        # The starter on its key is not stopped by the brake, so there the foot stays on it: were the switch bad, the
        # car would crank in gear.
        trying = next(n for n, line in enumerate(lines) if "The starter must stay still" in line)
        assert "keep the foot hard on it" in lines[trying - 1]


@pytest.mark.parametrize(("hold_s", "words"), [
    (None, "for two seconds"), (2.5, "for two seconds"), (2.0, "one second, no longer"), (1.5, "one second, no longer"),
    (1.0, "lets go at once"), (0.4, "for a moment only"),
])  # fmt: skip
def test_the_key_is_never_held_in_start_for_as_long_as_the_computer_calls_a_fault(
    hold_s: float | None, words: str
) -> None:
    one = installations(("torvane-eamont", "dunlin-7"), 1)[0]
    circuits = {
        name: c.model_copy(update={"behaviour": c.behaviour.model_copy(update={"hold_s": hold_s})})
        if isinstance(c.behaviour, StartRequest) else c
        for name, c in one.car.circuits.items()
        if hold_s is not None or not isinstance(c.behaviour, StartRequest)
    }  # fmt: skip
    job = job_of(replace(one, car=replace(one.car, circuits=circuits)))
    assert job.key_states["crank"].endswith(words)
    assert ("one second" in job.words["Crank_try"]) is (hold_s is None or hold_s > 1.0)


def test_the_demonstrations_computer_cranked_cars_are_never_told_to_hold_for_two_seconds() -> None:
    for one in installations(("torvane-eamont", "dunlin-7"), 2):
        said = " ".join(strings(guide_of(one).blocks))
        assert "in start for two seconds" not in said
        assert "one second, no longer" in said


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_what_the_guide_says_of_getting_in_is_what_a_rehearsal_shows(pair: tuple[str, str]) -> None:
    for one in installations(pair, 2):
        job = job_of(one)
        at = start_settings(one)
        name = "takeover" if at.keyed else "takeover-button" if sees_key(job) else "unseen-driver"
        lives = rehearse(one, SCENARIOS[name], at).engine_lives
        assert hands_over(job) is lives
        step = next(b for b in safety_tests(job) if isinstance(b, Step) and b.id == "test:takeover")
        assert ("The engine runs on" in plain(step.see)) is lives
        card = " ".join(strings(operating_card(one, job.proof, job.readings, shop(), {}).blocks))
        assert ("engine runs on" in card.partition("What the parking lamps say")[0]) is lives
        assert ("lost its supply" in card) is job.has_button
