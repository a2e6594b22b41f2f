"""Leads that a car does not need, and the vehicle wires they could be taken for."""

from tests.planning import builders as b

_HORN = {**b.TERMINALS, "horn": b.terminal("horn", "horn", "negative output", rating_a=1)}


def test_a_lead_without_a_task_is_listed_with_the_wire_it_looks_like() -> None:
    plan = b.fitted(b.car(), b.kit(_HORN, {**b.LEADS, "horn": b.lead("horn", "grey")}))
    (lead,) = plan.unused_leads
    assert (lead.label, lead.where, lead.terminal) == ("HORN", "loose lead", "horn")
    assert lead.clash == "the grey wire at pin 1 of body plug (hood switch): both are grey"


def test_a_lead_that_looks_like_nothing_near_is_listed_without_a_warning() -> None:
    plan = b.fitted(b.car(), b.kit(_HORN, {**b.LEADS, "horn": b.lead("horn", "turquoise")}))
    assert plan.unused_leads[0].clash is None


def test_wires_where_nobody_works_are_no_matter() -> None:
    # The yellow/black start wire is in the engine plug; nothing is joined there.
    plan = b.fitted(b.car(), b.kit(_HORN, {**b.LEADS, "horn": b.lead("horn", "black", stripe="yellow")}))
    assert plan.unused_leads[0].clash is None or "engine plug" not in plan.unused_leads[0].clash


def test_a_lead_in_unknown_colours_is_listed_without_a_warning() -> None:
    plan = b.fitted(b.car(), b.kit(_HORN, {**b.LEADS, "horn": b.lead("horn", "see-through")}))
    assert plan.unused_leads[0].clash is None


def test_the_conductors_of_a_branch_that_stays_out_are_unused() -> None:
    plan = b.fitted(b.car(), b.kit(branches=[b.t_branch("odd-t", "no-such-housing", "ign", "start")]))
    assert [(u.label, u.where) for u in plan.unused_leads] == [("ODD-T IGN", "ODD-T"), ("ODD-T START", "ODD-T")]


def test_a_t_that_is_packed_for_its_own_cars_only_is_no_lead_to_leave_over() -> None:
    odd = b.t_branch("odd-t", "no-such-housing", "ign", "start", packed="when it fits")
    key = b.t_branch("key-t", "key-h", "power", "ign", "start", "tach", packed="when it fits")
    plan = b.fitted(b.car(), b.kit(branches=[odd, key]))
    assert [u.label for u in plan.unused_leads] == ["KEY-T TACH"]


def test_a_place_taken_by_a_used_t_has_no_loose_lead_left_over() -> None:
    plan = b.fitted(b.car(), b.kit(branches=[b.t_branch("key-t", "key-h", "power", "ign")]))
    joined = {(j.terminal, j.branch) for r in plan.routes for j in r.joints}
    assert {("power", "key-t"), ("ign", "key-t"), ("start", None)} <= joined
    assert plan.unused_leads == ()
