"""The builder's plan, the reading table and the report of a match say everything the installation holds."""

from dataclasses import replace

import pytest

from loomwright.documents.car import resolve
from loomwright.network.results import Finding
from loomwright.network.states import State
from loomwright.papers.blocks import Caution, Picture, Quantity, Table
from loomwright.papers.drawings import WiringPlan
from loomwright.papers.match_report import match_report
from loomwright.papers.reading_table import reading_table
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.planning.installation import PartPattern, PartUse, Refusal
from tests.papers.builders import VARIANTS, built, documents, quantities, steps, strings

variants = pytest.mark.parametrize("variant", VARIANTS)


def _words(value: object) -> str:
    return " ".join(strings(value))


@variants
def test_the_plan_has_a_row_and_a_drawing_row_for_each_joint(variant: str) -> None:
    made = built(variant)
    plan = wiring_plan(made.installation, made.proof, made.shop, {})
    joints = {j.label: j for j in made.installation.joints}
    tables = [b for b in plan.blocks if isinstance(b, Table) and b.head[3:5] == ("Kit lead", "Kit pin")]
    assert sum(len(table.rows) for table in tables) == len(made.installation.joints)
    wireless = next(b for b in plan.blocks if isinstance(b, Table) and b.head == ("For", "How", "By"))
    assert len(wireless.rows) == sum(not r.joints for r in made.installation.routes)
    drawing = next(b.drawing for b in plan.blocks if isinstance(b, Picture))
    assert isinstance(drawing, WiringPlan)
    assert {row.label for row in drawing.rows if row.label} == set(joints)
    # What is joined at one plug or place stands together, in table and drawing alike, in the order of the fitting.
    places = [row.where for row in drawing.rows]
    assert [w for n, w in enumerate(places) if w not in places[:n]] == [t.caption for t in tables] + [wireless.caption]
    for row in (r for r in drawing.rows if r.label):
        joint = joints[row.label]
        assert (row.lead_colour, row.lead_stripe) == (joint.colour, joint.stripe)
        if joint.pin is not None:
            occupant = made.installation.car.pins[joint.pin]
            assert (row.wire_colour, row.wire_stripe) == (occupant.colour or "", occupant.stripe)


@variants
def test_the_plan_names_every_reason_and_every_alternative_with_its_fact(variant: str) -> None:
    made = built(variant)
    plan = wiring_plan(made.installation, made.proof, made.shop, {})
    whole = _words(plan.blocks)
    for route in made.installation.routes:
        for other in route.rejected:
            # A number of the fact is a quantity, so the words around it are looked for.
            first = other.fact.split(" ")[0]
            assert first in whole
    alternatives = next(b for b in plan.blocks if isinstance(b, Table) and b.head[0] == "Instead of")
    assert len(alternatives.rows) == sum(len(r.rejected) for r in made.installation.routes)


def test_the_plan_shows_findings_with_their_numbers_traced() -> None:
    made = built("2012 wagon")
    finding = Finding(
        code="drop-too-large", severity="fix", subject="ignition-1", message="ignition loses 0.74 V through the kit.",
        state=State(key="run"), path=(), numbers=(), advice="Use a larger conductor.", source="test",
    )  # fmt: skip
    proof = replace(made.proof, findings=(finding,))
    plan = wiring_plan(made.installation, proof, made.shop, {})
    assert "fits with exceptions" in _words(plan.blocks)
    assert Quantity(value=0.74, unit="V", trace="finding:drop-too-large", digits=2) in list(quantities(plan.blocks))


def test_sizes_are_in_the_units_of_the_shop() -> None:
    made = built("2012 wagon")
    metric = made.shop.model_copy(update={"wire_unit": "mm2"})
    units = {q.unit for q in quantities(wiring_plan(made.installation, made.proof, made.shop, {}).blocks)}
    assert "AWG" in units
    assert "mm²" not in units
    units = {q.unit for q in quantities(wiring_plan(made.installation, made.proof, metric, {}).blocks)}
    assert "mm²" in units
    assert "AWG" not in units


@variants
def test_the_reading_table_has_every_reading(variant: str) -> None:
    made = built(variant)
    table = next(b for b in reading_table(made.installation, made.readings, made.shop).blocks if isinstance(b, Table))
    assert len(table.rows) == len(made.readings.readings)


@variants
def test_the_report_names_every_route_and_every_open_point(variant: str) -> None:
    made = built(variant)
    report = match_report(made.installation, made.proof)
    whole = _words(report.blocks)
    assert "It fits." in whole
    for joint in made.installation.joints:
        assert joint.label in whole
    for lead in made.installation.unused_leads:
        assert lead.label in whole


def test_the_report_names_parts_and_what_the_buyer_must_have() -> None:
    made = built("2012 wagon")
    use = PartUse(id="p:horn/x", part="diode-3", pattern="diode", fed_from=None, why="test")
    routes = tuple(
        replace(r, joints=tuple(replace(j, part=use) for j in r.joints), gated="two keys at hand")
        if r.function == "horn"
        else r
        for r in made.installation.routes
    )
    report = match_report(replace(made.installation, routes=routes), made.proof)
    table = next(b for b in report.blocks if isinstance(b, Table))
    column = table.head.index("Through")
    horn = next(row for row in table.rows if _words(row[2]).startswith("HORN"))
    assert "diode" in _words(horn[column])
    assert [run.value for run in horn[column] if isinstance(run, Quantity)] == [3.0]
    whole = _words(report.blocks)
    assert "Needed of the buyer" in whole
    assert "two keys at hand" in whole
    assert "Needed of the buyer" not in _words(match_report(made.installation, made.proof).blocks)


def test_the_report_of_a_refusal_gives_reason_caution_and_cure() -> None:
    made = built("2012 wagon")
    refusal = Refusal(
        car=made.installation.car, kit=made.kit, code="manual-gearbox", reason="This car has a manual gearbox.",
        caution="It can leap forward.", would_fit_if="the car had an automatic gearbox",
    )  # fmt: skip
    report = match_report(refusal, None)
    whole = _words(report.blocks)
    for part in (refusal.reason, refusal.caution, refusal.would_fit_if, "must not be fitted", "manual-gearbox"):
        assert part in whole
    assert any(isinstance(b, Caution) and b.word == "WARNING" for b in report.blocks)


def test_a_part_in_the_lead_is_in_bag_step_plan_and_drawing() -> None:
    from loomwright.papers.guide import guide

    made = built("2012 wagon")
    part = made.kit.parts[1]
    use = PartUse(id="p:horn/x", part=part.id, pattern="diode", fed_from=None, why="test")
    routes = tuple(
        replace(r, joints=tuple(replace(j, part=use) for j in r.joints)) if r.function == "horn" else r
        for r in made.installation.routes
    )
    installation = replace(made.installation, routes=routes)
    plan = wiring_plan(installation, made.proof, made.shop, {})
    assert part.name.split(" ")[0] in _words(plan.blocks)
    drawing = next(b.drawing for b in plan.blocks if isinstance(b, Picture))
    assert isinstance(drawing, WiringPlan)
    held = [r.part for r in drawing.rows if r.label == "HORN" and r.part is not None]
    # The horn output pulls to ground, so the diode's band points to the kit.
    assert [(p.pattern, p.positive) for p in held] == [("diode", False)]
    assert "band to the kit" in _words(plan.blocks)
    paper = guide(installation, made.proof, made.readings, made.shop, {})
    step = next(b for b in paper.blocks if getattr(b, "id", "").startswith("join:j:horn"))
    assert part.name in _words(step)
    assert step.readings == ()  # type: ignore[union-attr]


@pytest.mark.parametrize("pattern", ["relay changes over", "diode cuts in"])
def test_a_wire_that_is_cut_is_told_of_wherever_it_is_met(pattern: PartPattern) -> None:
    from loomwright.papers.guide import guide

    made = built("2014 sedan")
    part = made.kit.parts[0]
    use = PartUse(id="p:horn/x", part=part.id, pattern=pattern, fed_from=None, why="test")
    horn = next(r for r in made.installation.routes if r.function == "horn")
    joint = replace(horn.joints[0], kind="cut in", part=use, factory_side="harness side")
    routes = tuple(replace(r, joints=(joint,)) if r is horn else r for r in made.installation.routes)
    installation = replace(made.installation, routes=routes)
    found = tuple(r for r in made.readings.readings if (r.joint, r.purpose) != (joint.id, "after joining"))
    paper = guide(installation, made.proof, replace(made.readings, readings=found), made.shop, {})
    by_id = {s.id: s for s in steps(paper)}
    # Taped where it is measured, cut where it is joined, tried on the car's own switch, and put back on removal.
    assert "HORN" in _words(by_id[f"measure:{joint.id}"].do[-1])
    joined = _words(by_id[f"join:{joint.id}"].do)
    assert "This wire is cut, not tapped." in joined
    assert "comes out of the end that leads away from the plug" in joined
    assert part.name in joined
    assert ("87a" in joined) == (pattern == "relay changes over")
    assert ("its band away from" in joined) == (pattern == "diode cuts in")
    assert by_id[f"join:{joint.id}"].readings == ()
    assert not any(r.id.startswith(joint.id) for r in by_id["check:leads"].readings)
    assert "Press the horn." in _words(by_id["key-after-joining"].do)
    start = next(n for n, b in enumerate(paper.blocks) if getattr(b, "anchor", "") == "removal")
    removal = _words(paper.blocks[start + 2])
    assert f"Take the {part.name} of HORN out of the wire" in removal
    assert any(part.name in _words(b) for b in paper.blocks[:12]), "the bag holds it"
    plan = wiring_plan(installation, made.proof, made.shop, {})
    drawing = next(b.drawing for b in plan.blocks if isinstance(b, Picture))
    assert isinstance(drawing, WiringPlan)
    drawn = next(r for r in drawing.rows if r.label == "HORN")
    assert (drawn.joint, drawn.factory_side) == ("cut in", "harness side")
    assert drawn.part is not None
    assert drawn.part.pattern == pattern
    assert "the wire is cut, the part between" in _words(plan.blocks)


def test_no_paper_of_any_variant_fails() -> None:
    from loomwright.documents.car import variants as every
    from loomwright.network.proof import prove
    from loomwright.network.readings import readings
    from loomwright.papers.guide import guide
    from loomwright.planning.installation import Installation
    from loomwright.planning.plan import match

    vehicle, kit, evidence, shop = documents()
    made = 0
    for n, choice in enumerate(every(vehicle)):
        if n % 4:  # every fourth one: each kind of body, engine and trim is among them
            continue
        installation = match(resolve(vehicle, choice, [evidence]), kit, shop)
        if isinstance(installation, Installation):
            made += 1
            proof = prove(installation)
            assert guide(installation, proof, readings(installation), shop, {}).blocks
            assert wiring_plan(installation, proof, shop, {}).blocks
    assert made >= 4
