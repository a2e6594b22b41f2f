"""What the start adds to the findings: each NO of a rehearsal that matters, and settings that contradict."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from loomwright.network.finding_codes import FINDING_CODES
from loomwright.network.results import Finding, verdict
from loomwright.starting.explore import explore_settings
from loomwright.starting.findings import REHEARSED, findings_of, property_findings, start_findings, with_start
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS, scenarios_for
from loomwright.starting.verdicts import verdicts_of
from tests.kept import proof_of, start_report_of
from tests.pairs import PAIRS, installations
from tests.starting.cases import CASES, installation, settings, wiring


def _by_code(found: Iterable[Finding]) -> dict[str, Finding]:
    return {f.code: f for f in found}


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_a_sound_pair_has_only_what_its_kind_of_car_brings_with_it(pair: tuple[str, str]) -> None:
    for one in installations(pair, 2):
        found = start_findings(one)
        button = one.car.traits.key == "button"
        assert [f.code for f in found] == (["crank-goes-on", "runs-on-without-kit"] if button else [])
        for f in found:
            assert f.code in FINDING_CODES
            assert f.message.endswith(".")
            assert f.advice
            assert f.source
            assert f.path
            assert f.numbers
            assert f.state is not None
        # Nothing in the kit can be put right, so what is told does not change whether it fits.
        assert verdict(one, found) == verdict(one, ())


def test_a_button_car_cranks_on_with_the_hood_open_and_runs_on_without_the_kit() -> None:
    # A fact of the car: its own computer cranks and holds the ignition by itself (common practice). What the kit asks
    # for and what the starter does are two things, and the second is told with its time.
    found = _by_code(start_findings(installation("button")))
    crank = found["crank-goes-on"]
    longest = next(n.value for n in crank.numbers if n.unit == "s")
    assert 5.0 < longest < 10.0
    assert f"{longest:.1f} s" in crank.message
    runs = found["runs-on-without-kit"]
    assert runs.state is not None
    assert runs.state.stage == "kit dead"
    idle = installation("button").car.traits.idle_rpm
    assert next(n.value for n in runs.numbers if n.unit == "rpm") == pytest.approx(idle, rel=0.05)


@pytest.mark.parametrize("case", [c for c in CASES if c != "button"])
def test_a_keyed_car_stops_cranking_and_stops_running_with_the_kit(case: str) -> None:
    # The kit feeds the ignition wire itself, so without it the engine dies: nothing to tell.
    assert {f.code for f in start_findings(installation(case))} == set()


@pytest.mark.parametrize("case", CASES)
def test_every_no_of_every_scenario_is_a_finding_with_its_answer(case: str) -> None:
    one, at = installation(case), settings(case)
    told = scenarios_for(
        one.car.traits.fuel or "petrol", keyed=at.keyed, pulsed=at.pulsed, senses=at.senses,
        speed=at.detection != "voltage",
    )  # fmt: skip
    assert set(REHEARSED) <= {s.id for s in told}
    solves = 0
    for scenario in told:
        run = rehearse(one, scenario, at)
        solves += run.solves if scenario.id in REHEARSED else 0
        wrong = [v for v in verdicts_of(run) if not v.holds]
        # What another setting would do is no fact of the installation as it is.
        assert len(list(findings_of(one, run))) == (0 if scenario.by_time else len(wrong)), scenario.id
    # What every match rehearses is cheap: a handful of operating points, however many steps there are.
    assert 0 < solves < 50


def test_a_battery_that_sags_or_lets_a_relay_drop_is_told_with_both_voltages() -> None:
    one = installation("keyed V6, speed by wire")
    warm = rehearse(one, SCENARIOS["warm"])
    assert list(findings_of(one, warm)) == []
    sag = _by_code(findings_of(one, replace(warm, cranking_v=9.2)))["crank-sags"]
    assert sag.severity == "fix"
    names = {n.name: n.value for n in sag.numbers}
    assert names["for an instant"] < names["while it cranks"] < names["at least"] == 9.6
    assert verdict(one, (sag,)) == "fits-with-exceptions"

    weak = replace(one, car=replace(one.car, traits=one.car.traits.model_copy(update={"battery_cca_a": 250})))
    found = _by_code(start_findings(weak))["drops-out-in-crank"]
    assert found.severity == "fix"
    assert {n.name: n.value for n in found.numbers}["for an instant"] < 6


def test_settings_that_contradict_are_findings_with_their_numbers() -> None:
    one = installation("diesel, speed by voltage")
    at = replace(settings("diesel, speed by voltage"), wait="none")
    found = [f for f in start_findings(one, at) if f.code == "settings-contradict"]
    assert ["without waiting" in f.message for f in found] == [True]
    assert found[0].advice.startswith("Set the wait")
    wire = "keyed V6, speed by wire"
    short = replace(settings(wire), times_s={**settings(wire).times_s, "crank limit": 1.0})
    limit = next(f for f in start_findings(installation(wire), short) if f.subject == "crank-limit")
    assert {n.name: n.value for n in limit.numbers}["crank limit"] == 1.0


def test_a_broken_property_stops_and_a_kept_one_is_silent() -> None:
    report = start_report_of(installation("keyed V6, speed by wire"))
    assert list(property_findings(report)) == []
    one = settings("keyed V6, speed by wire")
    weaker = replace(one, guards=tuple(g for g in one.guards if g.id != "hood"))
    broken = replace(report, properties=explore_settings(weaker, wiring("keyed V6, speed by wire")).properties)
    found = list(property_findings(broken))
    assert {f.subject for f in found} >= {"starter-hood", "hood-stops"}
    assert {f.severity for f in found} == {"stop"}
    untested = replace(report, silent=(replace(report.silent[0], revealed_by=()),))
    assert [f.code for f in property_findings(untested)] == ["protection-untested"]


def test_the_findings_of_the_start_stand_among_the_others_in_their_order() -> None:
    proof = proof_of(installation("button"))
    joined = with_start(proof)
    order = [("stop", "fix", "note").index(f.severity) for f in joined.findings]
    assert order == sorted(order)
    assert set(joined.findings) >= set(proof.findings)
    assert {f.code for f in joined.findings} >= {"crank-goes-on", "runs-on-without-kit"}
