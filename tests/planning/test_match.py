"""One small car and kit: what is joined where, and the sentence that says why."""

from dataclasses import replace

import pytest

from tests.planning import builders as b

_AWAY = {"feed": b.feed("feed", "body/9", 40), "ign": b.keyed("ign", "ignition", "body/8", "pink", 8, ("run", "crank"))}


def test_a_complete_pair_is_planned_with_nothing_left_over() -> None:
    plan = b.fitted(b.car(), b.kit())
    assert [(r.task, r.how, r.joints[0].pin) for r in plan.routes] == [
        ("ground", "tap", None),
        ("battery feed", "tap", "key/1"),
        ("ignition", "tap", "key/2"),
        ("start", "tap", "key/3"),
        ("brake", "tap", "pedal/2"),
        ("hood switch", "tap", "body/1"),
        ("tach", "tap", "body/2"),
    ]
    assert plan.unserved == ()
    assert plan.unused_leads == ()


def test_the_whole_time_counts_each_place_once() -> None:
    plan = b.fitted(b.car(), b.kit())
    # Four minutes for the ground, eight for each of six taps, and column 8, pedals 4 and panel 7 opened once each.
    assert plan.minutes == 4 + 6 * 8 + 8 + 4 + 7


def test_the_reason_names_the_next_way_and_what_it_costs_more() -> None:
    start = b.route(b.fitted(b.car(), b.kit()), "start")
    assert start.why == (
        "Lead START is tapped onto the yellow wire at pin 3 of key plug; "
        "the next way, a tap at pin 1 of engine plug, takes 12 minutes more."
    )
    assert [(r.what, r.fact, r.minutes) for r in start.rejected] == [
        ("pin 1 of engine plug", "It takes 12 minutes more.", 20.0),
        (
            "pin 2 of engine plug",
            "It lies past the park/neutral switch: the starter would turn in gear (49 CFR 571.102).",
            None,
        ),
    ]


def test_a_pin_before_the_pedal_switch_is_no_brake_input() -> None:
    brake = b.route(b.fitted(b.car(), b.kit()), "brake")
    assert [(r.what, r.fact) for r in brake.rejected] == [
        ("pin 1 of pedal plug", "It lies on the wrong side of the pedal switch: nothing changes there.")
    ]


def test_a_pin_past_the_hood_switch_is_no_hood_input() -> None:
    hood = b.circuit(
        "hood", "hood switch", {"template": "ground switch"},
        {"from": "source", "to": "body/1"}, b.wire("body/1", "engine/3", "grey"),
        {"from": "engine/3", "to": "engine/4", "closed_when": "hood open", "switch": "the hood switch"},
        b.wire("engine/4", "ground", "black"),
    )  # fmt: skip
    plan = b.fitted(b.car({**b.CIRCUITS, "hood": hood}), b.kit())
    route = b.route(plan, "hood switch")
    assert route.joints[0].pin == "body/1"
    facts = {r.what: r.fact for r in route.rejected}
    assert facts["pin 4 of engine plug"] == "It lies on the wrong side of the hood switch: nothing changes there."


def test_lamps_are_driven_after_their_switch() -> None:
    lamps = b.circuit(
        "park", "parking light", {"template": "switched feed", "load_a": 2, "load": "lamp"},
        b.wire("source", "body/4", "red"),
        {"from": "body/4", "to": "body/5", "closed_when": "lamps on", "switch": "the lamp switch"},
        b.wire("body/5", "load", "brown"),
    )  # fmt: skip
    kit = b.kit(
        {**b.TERMINALS, "park": b.terminal("park", "parking light", "positive output", rating_a=5)},
        {**b.LEADS, "park": b.lead("park")}, wanted=["parking light"],
    )  # fmt: skip
    route = b.route(b.fitted(b.car({**b.CIRCUITS, "park": lamps}), kit), "parking light")
    assert route.joints[0].pin == "body/5"
    facts = {r.what: r.fact for r in route.rejected}
    assert facts["pin 4 of body plug"] == (
        "It lies on the wrong side of the lamp switch, which would have to be closed first."
    )


def test_a_t_saves_the_taps_of_its_plug() -> None:
    kit = b.kit(branches=[b.t_branch("key-t", "key-h", "power", "ign", "start")])
    plan = b.fitted(b.car(), kit)
    assert {r.task for r in plan.routes if r.how == "T tapped"} == {"battery feed", "ignition", "start"}
    assert b.route(plan, "ignition").why == (
        "KEY-T joins KEY-T IGN at pin 2 of key plug; the next way, a tap at pin 2 of key plug, takes 7.5 minutes more."
    )
    # The plug is opened once for three minutes, and three conductors take half a minute each.
    assert plan.minutes == 4 + 3 * 8 + 3 * 0.5 + 3 + 8 + 4 + 7


def test_a_t_whose_through_pins_are_too_small_is_not_used() -> None:
    kit = b.kit(branches=[b.t_branch("key-t", "key-h", "power", "ign", "start", rating_a=9)])
    ignition = b.route(b.fitted(b.car(), kit), "ignition")
    assert ignition.how == "tap"
    assert [r.fact for r in ignition.rejected if r.how == "T tapped"] == [
        "Battery feed takes 18 A through pin 1 of key plug, and the through pins carry 9 A."
    ]


def test_a_t_without_the_conductor_and_a_t_without_the_pin_are_told_apart() -> None:
    kit = b.kit(branches=[b.t_branch("key-t", "key-h", "ign", "brake")])
    plan = b.fitted(b.car(), kit)
    assert [r.fact for r in b.route(plan, "start").rejected if r.how == "T tapped"] == [
        "KEY-T has no conductor for start."
    ]
    assert [r.fact for r in b.route(plan, "brake").rejected if r.how == "T tapped"] == [
        "There is no pin of brake in the plug it fits."
    ]


def test_an_unproven_circuit_and_a_near_airbag_count() -> None:
    hazard = {"id": "bag", "kind": "airbag", "place": "column", "words": "Yellow sleeve."}
    plan = b.fitted(b.car(hazards=[hazard]), b.kit())
    # A tap counts 2, a circuit nobody measured 4, an airbag near by 3 minutes.
    assert b.route(plan, "ignition").penalty == 2 + 4 + 3
    assert b.route(plan, "brake").penalty == 2 + 4


def test_no_wire_is_joined_in_a_plug_of_the_airbags() -> None:
    # Two of the four wires of this plug are restraint wires: it belongs to them.
    bags = {"bag-1": b.restraint("bag-1", "body/9"), "bag-2": b.restraint("bag-2", "body/10")}
    refusal = b.refused(b.car({**b.CIRCUITS, **bags}), b.kit())
    assert refusal.code == "no-hood-switch"
    assert refusal.reason == (
        "Nothing serves hood switch, without which no start may be: The plug belongs to the airbags."
    )


def test_no_wire_is_joined_beside_high_voltage_cable() -> None:
    hazard = {"id": "hv", "kind": "high voltage", "place": "column", "words": "Orange cable."}
    start = b.route(b.fitted(b.car({**b.CIRCUITS, **_AWAY}, hazards=[hazard]), b.kit()), "start")
    assert start.joints[0].pin == "engine/1"
    assert {r.what: r.fact for r in start.rejected}["pin 3 of key plug"] == "High-voltage cable runs at its place."


def test_a_t_never_opens_a_restraint_wire() -> None:
    bag = b.restraint("bag", "key/6")
    kit = b.kit(branches=[b.t_branch("key-t", "key-h", "ign")])
    ignition = b.route(b.fitted(b.car({**b.CIRCUITS, "bag": bag}), kit), "ignition")
    assert ignition.how == "tap"
    assert [r.fact for r in ignition.rejected] == ["It would open an airbag wire that sits in the same plug."]
    # The tap beside it counts six minutes more than elsewhere.
    assert ignition.penalty == 2 + 4 + 6


def test_the_same_documents_give_the_same_installation() -> None:
    first, second = b.fitted(b.car(), b.kit()), b.fitted(b.car(), b.kit())
    assert first == second
    assert len(first.id) == 12
    assert first.id != b.fitted(b.car(), b.kit(serial_at="another label")).id
    assert first.id != b.fitted(b.car(), b.kit(), b.shop(minute_price=1.0)).id


def test_a_shop_that_counts_no_minutes_still_gets_a_plan() -> None:
    plan = b.fitted(b.car(), b.kit(), b.shop(minute_price=0.0))
    assert plan.unserved == ()
    assert b.route(plan, "hood switch").why.startswith("Lead HOOD is tapped onto the grey wire at pin 1 of body plug; ")


def test_a_lead_in_the_colours_of_another_wire_near_it_is_marked() -> None:
    kit = b.kit(leads={**b.LEADS, "tach": b.lead("tach", "gray")})
    tach = b.route(b.fitted(b.car(), kit), "tach").joints[0]
    assert tach.clash == "the grey wire at pin 1 of body plug (hood switch)"


@pytest.mark.parametrize(
    ("gone", "code"), [("brake", "no-brake"), ("hood", "no-hood-switch"), ("tach", "no-tach"), ("ign", "no-ignition")]
)
def test_a_car_without_a_circuit_for_a_required_function_is_refused(gone: str, code: str) -> None:
    refusal = b.refused(b.car({k: v for k, v in b.CIRCUITS.items() if k != gone}), b.kit())
    assert refusal.code == code
    assert refusal.reason.endswith("No such circuit of this car is recorded.")
    assert refusal.would_fit_if.endswith("circuit of this car were recorded")
    assert [u.required for u in refusal.unserved] == [True]


def test_joints_are_listed_in_fitting_order_and_belong_to_their_route() -> None:
    plan = b.fitted(b.car(), b.kit())
    assert [j.id for j in plan.joints][:3] == ["j:ground/bolt", "j:battery-feed/key/1", "j:ignition/key/2"]
    assert replace(plan.joints[0], label="x").label == "x"
