"""The guide of the demo car: nothing missing in any step, the right order, cautions before what they warn of."""

from dataclasses import replace
from itertools import pairwise

import pytest

from loomwright.network.results import Finding
from loomwright.network.states import State
from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Step, Table
from loomwright.papers.fuse_places import fused_places
from loomwright.papers.guide import guide
from loomwright.papers.safety_tests import door_stops
from loomwright.papers.saying import plain
from loomwright.papers.unproven import measured_at
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
    whole_plugs = {f"T:{b.id}" for b in made.kit.branches if b.kind == "t"}
    assert {s.id for s in identify} == {
        f"measure:{j.id if a.id not in whole_plugs else a.id}"
        for a in made.job.order
        for j in a.joints
        if made.readings.of(j.id, "identify")
    }
    assert any(s.id.removeprefix("measure:") in whole_plugs for s in identify)
    for step in identify:
        if step.id.removeprefix("measure:") in whole_plugs:
            continue
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
        assert 1 <= len(step.readings) <= len(made.readings.of(joint.id, "identify"))
        assert {r.id for r in step.readings} <= {r.id for r in made.readings.of(joint.id, "identify")}


@variants
def test_a_plug_into_which_nothing_is_joined_by_hand_is_one_step_with_every_pin(variant: str) -> None:
    made = built(variant)
    by_id = {s.id: s for s in steps(made.guide)}
    for action in made.job.order:
        if action.kind != "T":
            continue
        step = by_id[f"measure:{action.id}"]
        pins = [j.pin for j in action.joints if j.pin is not None]
        assert len(pins) == 6
        assert step.face is not None
        assert step.face.drawing.target is None
        assert set(step.face.drawing.labels) >= {p.partition("/")[2] for p in pins}
        assert step.count
        assert step.neighbours
        assert step.label == next(b.label for b in made.kit.branches if b.id == action.branch)
        for joint in action.joints:
            read = [r for r in step.readings if r.id.startswith(f"{joint.id}@identify/")]
            assert read, joint.id
            assert all(f"pin {(joint.pin or '').partition('/')[2]}," in r.probe for r in read)
        # Six wires in four positions of the key are 22 readings; the telling ones are about half as many.
        assert len(pins) <= len(step.readings) <= 12
        # The helper turns the key once through its positions.
        states = [r.state for r in step.readings]
        assert len(list(dict.fromkeys(states))) == sum(
            a != b for a, b in zip(states, [None, *states[:-1]], strict=True)
        )


@variants
def test_every_joint_is_read_after_it_is_made(variant: str) -> None:
    made = built(variant)
    by_id = {s.id: s for s in steps(made.guide)}
    ends = [r.id for r in by_id["check:leads"].readings]
    assert len(ends) == len(set(ends))
    for joint in made.installation.joints:
        if made.readings.of(joint.id, "after joining"):
            assert any(r.startswith(f"{joint.id}@after joining/") for r in ends), joint.id
        if joint.kind in ("tap", "ground point"):
            assert by_id[f"join:{joint.id}"].readings


@variants
def test_every_reading_has_one_right_row_and_says_what_the_others_mean(variant: str) -> None:
    for step in steps(built(variant).guide):
        for field in step.readings:
            assert all((field.clip, field.probe, field.state)), field.id
            assert field.lamp or "battery off" in field.state, field.id
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
        action = next(a for a in made.job.order if joint in a.joints)
        every = {joint.circuit} if len(action.joints) == 1 else {j.circuit for j in action.joints}
        concerned = [s for s in steps(made.guide) if s.id.endswith((f":{joint.id}", f":{action.id}"))]
        assert len(concerned) == 2 or not made.readings.of(joint.id, "identify")
        for step in concerned:
            # Before it is joined, a wire is told apart as well that was measured, but at another of its pins.
            elsewhere = step.kind == "measure" and any(measured_at(made.job, j) is not None for j in action.joints)
            assert (step.unproven is not None) == (bool(every & unproven) or elsewhere), step.id
        if joint.circuit in unproven and made.readings.of(joint.id, "after joining"):
            ends = next(s for s in steps(made.guide) if s.id == "check:leads")
            assert joint.label in (ends.unproven or ""), joint.id
    assert any(s.unproven for s in steps(made.guide) if s.kind == "join") == any(
        j.circuit in unproven for j in made.installation.joints if j.kind in ("tap", "cut in")
    )


def test_the_2014_sedan_has_three_unproven_wires_on_its_last_page() -> None:
    text = " ".join(strings(built("2014 sedan").guide.blocks[-3:]))
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
    measured = [s.id for s in steps(made.guide) if s.id.startswith("measure:")][-1]
    assert {measured, "key-with-kit", "key-after-joining"} <= sound
    last = len(made.job.order) - 1
    assert "key-after-joining" not in {s.id for s in _with_finding(made, _broken("fitting", last)) if s.may_stop}
    assert "key-with-kit" not in {s.id for s in _with_finding(made, _broken("kit dead", None)) if s.may_stop}
    assert measured not in {s.id for s in _with_finding(made, _broken("bare", None)) if s.may_stop}
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


def test_page_one_names_every_badge_of_the_car() -> None:
    made = built("2014 sedan")
    badges = [f"{n.maker} {n.model}" for n in made.vehicle.names]
    assert len(badges) > 1
    words = " ".join(strings(made.guide.blocks[:12]))
    for badge in badges:
        assert badge in words


def test_the_guide_is_short_enough_to_be_followed() -> None:
    assert len(steps(built("2014 sedan").guide)) <= 45
    assert len(steps(built("2012 wagon").guide)) <= 45


@variants
def test_a_place_is_described_and_shown_once_and_is_open_from_then_on(variant: str) -> None:
    made = built(variant)
    seen: set[str] = set()
    for step in steps(made.guide):
        if not step.id.startswith("measure:"):
            continue
        place = next(
            j.place for a in made.job.order for j in a.joints if step.id in (f"measure:{j.id}", f"measure:{a.id}")
        )
        assert place is not None
        here = made.installation.car.places[place]
        if place in seen:
            assert here.words not in step.place
            assert step.picture is None
        else:
            assert here.words in step.place
            assert step.picture is not None
            assert step.access == (here.access or ("Nothing to open.",))
        seen.add(place)
    assert seen == {j.place for j in made.installation.joints if made.readings.of(j.id, "identify")}


@variants
def test_everything_opened_is_closed_in_the_opposite_order(variant: str) -> None:
    made = built(variant)
    step = next(s for s in steps(made.guide) if s.id == "close:panels")
    told = " ".join(plain(d) for d in step.do)
    places = [p for p in made.job.places if made.installation.car.places[p].access]
    fused = fused_places(made.job)
    at = {p: told.index(made.installation.car.places[p].access[0]) for p in places}
    # The places with fuses come last: these are out until then.
    for group in ([p for p in places if p not in fused], [p for p in places if p in fused]):
        assert [at[p] for p in group] == sorted((at[p] for p in group), reverse=True)
    fuses_in = told.index("Now put the kit's fuses back in")
    assert all((at[p] > fuses_in) == (p in fused) for p in places)
    assert len(at) >= 2


@variants
def test_no_caution_is_said_twice_running_at_one_place(variant: str) -> None:
    """But for danger, for what sits in the very plug touched, and for what the step itself sets going."""
    order = steps(built(variant).guide)
    for before, step in pairwise(order):
        if before.place.split(":")[0].lower() != step.place.split(":")[0].lower():
            continue
        said = {plain(c.text) for c in before.cautions if c.word != "DANGER"}
        again = said & {plain(c.text) for c in step.cautions}
        assert not [t for t in again if not t.startswith(("In this plug", "In this step"))], step.id


def test_a_guide_is_the_same_each_time() -> None:
    made = built("2014 sedan")
    again = guide(made.installation, made.proof, made.readings, made.shop, {"tool": "test"})
    assert again == made.guide
    assert _at(again.blocks, "battery-off") == _at(made.guide.blocks, "battery-off")


@variants
def test_the_kits_plugs_are_told_place_by_place(variant: str) -> None:
    made = built(variant)
    table = next(b for b in made.guide.blocks if isinstance(b, Table) and b.head[0] == "Plug/place")
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    for joint in made.installation.joints:
        terminal = made.job.terminal(joint)
        row = rows[f"{terminal.plug.upper()}/{terminal.pin}"]
        assert row[0] == f"{joint.label}, {made.job.lead_colour(joint)}"
        assert row[-1] != "not used"
        assert ("fuse" in row[1]) == (terminal.fuse_a is not None)
    unused = {row[0].partition(",")[0] for row in rows.values() if row[-1] == "not used"}
    assert unused == {lead.label for lead in made.installation.unused_leads}


@variants
def test_the_list_before_the_first_start_stands_right_before_it(variant: str) -> None:
    blocks = built(variant).guide.blocks
    first = _at(blocks, "test:first")
    ready = blocks[first - 1]
    assert isinstance(ready, Bullets)
    assert ready.ticked
    assert any("park" in plain(item) for item in ready.items)


@variants
def test_a_failed_test_sends_to_the_way_by_which_that_input_comes(variant: str) -> None:
    made = built(variant)
    by_id = {s.id: s for s in steps(made.guide)}
    for name, function in (("brake", "brake"), ("hood", "hood switch"), ("door", "door switch")):
        route = next(r for r in made.installation.routes if r.function == function)
        told = plain(by_id[f"test:{name}"].if_not)
        assert ("data wire" in told) == (route.how == "bus"), name
        for joint in route.joints:
            assert joint.label in told, name


@variants
def test_the_shop_is_named_at_the_foot_of_every_page(variant: str) -> None:
    made = built(variant)
    assert made.shop.call.rstrip(".") in plain(made.guide.footer)
    for paper in made.cards.values():
        assert made.shop.call.rstrip(".") in plain(paper.footer) + " ".join(strings(paper.blocks)), paper.id


@variants
def test_the_card_says_of_doors_what_the_controller_does(variant: str) -> None:
    made = built(variant)
    text = " ".join(strings(made.cards["operating-card"].blocks))
    assert ("Driving off: the engine stops when" in text) == door_stops(made.job)
    assert "three flashes" in text
    for limit in made.shop.local_limits:
        assert limit.place in text


@variants
def test_the_settings_sheet_holds_every_setting_as_planned(variant: str) -> None:
    made = built(variant)
    table = next(b for b in made.cards["settings"].blocks if isinstance(b, Table))
    values = {plain(row[1]): plain(row[2]) for row in table.rows}
    planned = dict(made.installation.settings)
    assert values == {s.name: planned.get(s.id, s.default) for s in made.kit.settings}
    assert all(plain(row[-1]) for row in table.rows)
