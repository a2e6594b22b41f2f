"""The guide of the demo car: nothing missing in any step, the right order, cautions before what they warn of."""

from dataclasses import replace

import pytest

from loomwright.network.results import Finding
from loomwright.network.states import State
from loomwright.papers.blocks import Block, Caution, Heading, Step
from loomwright.papers.guide import guide
from loomwright.papers.saying import plain
from tests.papers.builders import VARIANTS, Built, built, steps, strings

variants = pytest.mark.parametrize("variant", VARIANTS)


def _at(paper_blocks: tuple[Block, ...], step_id: str) -> int:
    return next(n for n, b in enumerate(paper_blocks) if isinstance(b, Step) and b.id == step_id)


@variants
def test_every_step_says_where_what_to_see_and_what_else(variant: str) -> None:
    for step in steps(built(variant).guide):
        assert step.title, step.id
        assert step.place, step.id
        assert step.access, step.id
        assert all(step.access), step.id
        assert step.do, step.id
        assert all(plain(d).strip() for d in step.do), step.id
        assert plain(step.see), step.id
        assert plain(step.if_not), step.id


@variants
def test_every_measured_wire_has_face_count_label_colours_states_and_verdicts(variant: str) -> None:
    made = built(variant)
    identify = [s for s in steps(made.guide) if s.id.startswith("measure:")]
    assert {s.id for s in identify} == {
        f"measure:{j.id}" for j in made.installation.joints if made.readings.of(j.id, "identify")
    }
    for step in identify:
        joint = next(j for j in made.installation.joints if step.id == f"measure:{j.id}")
        assert step.face is not None
        assert joint.pin == f"{step.face.plug}/{step.face.drawing.target}"
        assert step.face.drawing.side == made.installation.car.plugs[step.face.plug].seen_side
        assert step.label == joint.label
        assert step.lead_colour is not None
        assert step.lead_colour.startswith(joint.colour)
        assert step.wire_colour == made.installation.car.pins[joint.pin or ""].words
        assert step.count
        assert step.neighbours
        assert len(step.readings) == len(made.readings.of(joint.id, "identify"))


@variants
def test_every_joint_is_read_after_it_is_made(variant: str) -> None:
    made = built(variant)
    by_id = {s.id: s for s in steps(made.guide)}
    for joint in made.installation.joints:
        if made.readings.of(joint.id, "after joining"):
            assert by_id[f"check:{joint.id}"].readings
        if joint.kind in ("tap", "ground point"):
            assert by_id[f"join:{joint.id}"].readings


@variants
def test_every_reading_has_one_right_row_and_says_what_the_others_mean(variant: str) -> None:
    for step in steps(built(variant).guide):
        for field in step.readings:
            assert all((field.clip, field.probe, field.state, field.lamp)), field.id
            assert plain(field.expect), field.id
            assert [v.good for v in field.verdicts].count(True) == 1, field.id
            assert field.verdicts[0].good, field.id
            assert len(field.verdicts) >= 2, field.id
            assert all(v.words for v in field.verdicts)


@variants
def test_the_order_is_measure_all_then_battery_off_then_join_then_battery_on(variant: str) -> None:
    made = built(variant)
    order = [s.id for s in steps(made.guide)]
    off, on = order.index("battery-off"), order.index("battery-on")
    assert all(order.index(i) < off for i in order if i.startswith(("measure:", "open:", "baseline")))
    joins = [i for i in order if i.startswith("join:") and i != "join:controller"]
    assert all(off < order.index(i) < on for i in joins)
    assert order.index("wait") == off + 1
    assert all(order.index(i) > on for i in order if i.startswith("check:"))
    assert order.index("join:controller") > max(order.index(i) for i in order if i.startswith("check:"))
    assert order.count("battery-off") == 1
    wanted = [f"join:{a.id}" for a in made.job.order]
    assert [i for i in order if i.startswith("join:")] == wanted


@variants
def test_battery_is_off_in_every_step_between_and_on_everywhere_else(variant: str) -> None:
    order = list(steps(built(variant).guide))
    names = [s.id for s in order]
    off, on = names.index("battery-off"), names.index("battery-on")
    for n, step in enumerate(order):
        assert step.needs.battery == ("off" if off <= n < on else "on"), step.id


@variants
def test_no_remote_start_before_learning_and_tests_last(variant: str) -> None:
    made = built(variant)
    order = [s.id for s in steps(made.guide)]
    first = order.index("test:first")
    assert all(order.index(i) < first for i in order if i.startswith(("dialogue:", "set:")))
    for name in ("brake", "hood", "selector", "door", "time-out"):
        assert order.index(f"test:{name}") > first


@variants
def test_each_protection_is_tested_alone(variant: str) -> None:
    by_id = {s.id: s for s in steps(built(variant).guide)}
    selector = by_id["test:selector"]
    words = " ".join(plain(d) for d in selector.do) + " ".join(plain(c.text) for c in selector.cautions)
    assert "over" in words
    assert "not on it" in words
    assert any(c.word == "WARNING" for c in selector.cautions)
    assert "feet away from the pedals" in " ".join(plain(d) for d in by_id["test:brake"].do)


@variants
def test_cautions_stand_before_what_they_warn_of(variant: str) -> None:
    made = built(variant)
    blocks = made.guide.blocks
    first_step = next(n for n, b in enumerate(blocks) if isinstance(b, Step))
    front = [b for b in blocks[:first_step] if isinstance(b, Caution)]
    assert front[0].word == "DANGER"
    assert "garage" in plain(front[0].text)
    assert any("yellow sleeve" in plain(c.text) for c in front)
    by_id = {s.id: s for s in steps(made.guide)}
    waits = " ".join(plain(c.text) for c in by_id["wait"].cautions)
    assert "3 min" in waits
    assert "fuses" in waits
    for step in steps(made.guide):
        cranks = any("holds the key in start" in r.state or "engine running" in r.state for r in step.readings)
        if cranks:
            assert any("starter turns" in plain(c.text) for c in step.cautions), step.id
        if step.id.startswith("dialogue:learn"):
            assert any("starter turns" in plain(c.text) for c in step.cautions), step.id


@variants
def test_airbag_pins_are_warned_of_and_marked_wherever_their_plug_is_touched(variant: str) -> None:
    made = built(variant)
    touched = 0
    for step in steps(made.guide):
        if step.face is None:
            continue
        pins = made.job.restraint_pins(step.face.plug)
        for pin in pins:
            touched += 1
            assert pin in step.face.drawing.avoid, step.id
            assert any(f"pin {pin}" in plain(c.text) for c in step.cautions), step.id
    assert touched


@variants
def test_unproven_circuits_are_marked_wherever_they_are_used(variant: str) -> None:
    made = built(variant)
    unproven = {c for c, s in made.installation.car.standing.items() if s.status != "proven"}
    for joint in made.installation.joints:
        concerned = [s for s in steps(made.guide) if s.id.endswith(f":{joint.id}")]
        for step in concerned:
            assert (step.unproven is not None) == (joint.circuit in unproven), step.id
    assert any(s.unproven for s in steps(made.guide)) == bool(
        unproven & {j.circuit for j in made.installation.joints}
    )


def test_the_2014_sedan_has_three_unproven_wires_on_its_last_page() -> None:
    text = " ".join(strings(built("2014 sedan").guide.blocks[-1]))
    assert "Parking light" in text
    assert "Tach" in text
    assert "Factory alarm disarm" in text


def test_the_brake_lead_of_the_demo_warns_of_the_cruise_wire_in_the_same_plug() -> None:
    by_id = {s.id: s for s in steps(built("2012 wagon").guide)}
    step = by_id["join:j:brake/pedal/2"]
    warned = " ".join(plain(c.text) for c in step.cautions)
    assert "pin 4, white/blue (cruise cancel)" in warned
    assert step.face is not None
    assert "4" in step.face.drawing.avoid


def _with_finding(made: Built, finding: Finding) -> tuple[Step, ...]:
    proof = replace(made.proof, findings=(*made.proof.findings, finding))
    return steps(guide(made.installation, proof, made.readings, made.shop, {}))


def _broken(stage: str, joined: int | None, severity: str = "fix") -> Finding:
    return Finding(
        code="dead-when-it-should-live", severity=severity, subject="ignition-1", message="It is dead.",  # type: ignore[arg-type]
        state=State(stage=stage, key="run", joined=joined), path=(), numbers=(), advice="Look.", source="test",  # type: ignore[arg-type]
    )  # fmt: skip


def test_one_may_stop_only_where_the_proof_found_the_car_to_work() -> None:
    made = built("2012 wagon")
    sound = {s.id for s in steps(made.guide) if s.may_stop}
    assert {"stop-a", "stop-c", "key-after-joining"} <= sound
    last = len(made.job.order) - 1
    assert "key-after-joining" not in {s.id for s in _with_finding(made, _broken("fitting", last)) if s.may_stop}
    assert "stop-c" not in {s.id for s in _with_finding(made, _broken("kit dead", None))}
    assert "stop-a" not in {s.id for s in _with_finding(made, _broken("bare", None))}
    noted = _with_finding(made, _broken("fitting", last, "note"))
    assert "key-after-joining" in {s.id for s in noted if s.may_stop}


@variants
def test_one_never_stops_with_the_battery_off(variant: str) -> None:
    assert not [s.id for s in steps(built(variant).guide) if s.may_stop and s.needs.battery == "off"]


def test_a_kit_that_does_not_fit_gets_no_guide() -> None:
    made = built("2012 wagon")
    proof = replace(made.proof, findings=(_broken("fitted", None, "stop"),))
    paper = guide(made.installation, proof, made.readings, made.shop, {})
    assert steps(paper) == ()
    assert any("Do not fit" in b.text for b in paper.blocks if isinstance(b, Heading))
    assert "It is dead." in " ".join(strings(paper.blocks))


@variants
def test_every_unused_lead_is_named_with_how_to_cap_it(variant: str) -> None:
    made = built(variant)
    text = " ".join(strings(made.guide.blocks))
    assert made.installation.unused_leads
    for lead in made.installation.unused_leads:
        assert lead.label in text
    assert "end cap" in text


@variants
def test_removal_goes_backwards_through_the_fitting(variant: str) -> None:
    made = built(variant)
    blocks = made.guide.blocks
    start = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.anchor == "removal")
    lines = [" ".join(strings(item)) for item in blocks[start + 2].items]  # type: ignore[union-attr]
    labels = [a.joints[0].label if a.branch is None else a.branch for a in made.job.order if a.kind != "controller"]
    names = {b.id: b.label for b in made.kit.branches}
    expected = [names.get(x, x) for x in reversed(labels)]
    for label, line in zip(expected, lines[2:-1], strict=True):
        assert label in line


def test_page_one_asks_for_car_and_kit_before_anything_else() -> None:
    made = built("2014 sedan")
    words = " ".join(strings(made.guide.blocks[:12]))
    for _, value, cue in made.installation.car.choice_words:
        assert value in words
        assert cue in words
    assert made.kit.serial_at in words


def test_a_guide_is_the_same_each_time() -> None:
    made = built("2014 sedan")
    again = guide(made.installation, made.proof, made.readings, made.shop, {"tool": "test"})
    assert again == made.guide
    assert _at(again.blocks, "battery-off") == _at(made.guide.blocks, "battery-off")
