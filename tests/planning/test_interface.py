"""What stands between a kit output and a vehicle wire: nothing, a relay or a diode, by polarity, load and sharing."""

import pytest

from loomwright.planning.installation import Installation, PartUse
from tests.planning import builders as b

_LAMP_LEAD = {**b.LEADS, "park": b.lead("park")}
_LAMPS = {**b.CIRCUITS, "park": b.lamps("park", "parking light", "body/5", "brown", 3)}


def _with_output(function: str, kind: str, circuit: b.Piece, **output: object) -> Installation:
    terminals = {**b.TERMINALS, "out": b.terminal("out", function, kind, **output)}
    leads = {**b.LEADS, "out": b.lead("out")}
    kit = b.kit(terminals, leads, parts=[b.RELAY], wanted=[function])
    return b.fitted(b.car({**b.CIRCUITS, "out": circuit}), kit)


def _part(plan: Installation, task: str) -> PartUse | None:
    return b.route(plan, task).joints[0].part


_UNLOCK = b.circuit(
    "out", "unlock", {"template": "input wire", "pull_down_ohm": 470},
    {"from": "source", "to": "body/5", "closed_when": "unlock pressed", "switch": "the button"},
    b.wire("body/5", "load", "brown"),
)  # fmt: skip
_LAMP = b.lamps("out", "parking light", "body/5", "brown", 3)
_HORN = b.circuit(
    "out", "horn", {"template": "relay trigger", "coil_ohm": 90},
    {"from": "source", "to": "body/6"}, b.wire("body/6", "s:pad", "green"),
    {"from": "s:pad", "to": "ground", "closed_when": "horn pressed"},
)  # fmt: skip


def test_a_positive_output_drives_a_positive_wire_straight() -> None:
    assert _part(_with_output("parking light", "positive output", _LAMP, rating_a=5), "parking light") is None


def test_a_relay_puts_out_battery_for_an_output_that_pulls_to_ground() -> None:
    part = _part(_with_output("unlock", "negative output", _UNLOCK, rating_a=0.25), "unlock")
    assert part == PartUse(
        id="p:unlock/relay", part="relay", pattern="relay inverts", fed_from="power",
        why="The kit's unlock output pulls to ground and the wire needs battery voltage, so a relay "
        "(relay 30 A) puts battery voltage out when the output pulls to ground.",
    )  # fmt: skip


def test_a_relay_carries_what_the_output_cannot() -> None:
    # 12 V over 470 ohm are 25.5 mA; the relay's coil would take more than such an output gives.
    light = {**b.RELAY, "coil_ohm": 2000}
    terminals = {**b.TERMINALS, "out": b.terminal("out", "unlock", "positive output", rating_a=0.02)}
    kit = b.kit(terminals, {**b.LEADS, "out": b.lead("out")}, parts=[light], wanted=["unlock"])
    part = _part(b.fitted(b.car({**b.CIRCUITS, "out": _UNLOCK}), kit), "unlock")
    assert part is not None
    assert (part.pattern, part.fed_from) == ("relay boosts", "power")
    assert part.why == (
        "The wire takes 0.0255 A and the output carries 0.02 A, so a relay (relay 30 A) carries the load in the "
        "output's place."
    )


def test_lamps_behind_a_relay_are_parted_from_their_switch_so_that_two_feeds_never_meet() -> None:
    # Three quarters of 3.9 A are less than the 3 A of the lamps.
    plan = _with_output("parking light", "positive output", _LAMP, rating_a=3.9)
    part = _part(plan, "parking light")
    assert part is not None
    assert (part.pattern, part.fed_from) == ("relay changes over", "power")
    assert part.why == (
        "The wire takes 3 A and the output carries 3.9 A, of which 2.92 A may be used, so a relay (relay 30 A) parts "
        "the wire from the factory's end while it puts battery voltage on it."
    )
    assert "Two feeds of the car, each behind a fuse of its own, would be joined there." in {
        r.fact for r in b.route(plan, "parking light").rejected
    }


def test_three_quarters_of_the_rating_are_enough_at_the_very_limit() -> None:
    assert _part(_with_output("parking light", "positive output", _LAMP, rating_a=4.0), "parking light") is None


def test_a_relay_grounds_a_negative_wire_for_a_positive_output() -> None:
    part = _part(_with_output("horn", "positive output", _HORN, rating_a=1), "horn")
    assert part is not None
    assert (part.pattern, part.fed_from) == ("relay grounds", None)
    assert part.why == (
        "The kit's horn output puts out battery voltage and the wire needs ground, so a relay (relay 30 A) "
        "grounds the wire in the output's place."
    )


# Source: OEN relays, series 78 data sheet: 12 V coil of 100 ohm takes 1.44 W, which is 0.12 A.
@pytest.mark.parametrize(("rating_a", "straight"), [(0.121, True), (0.119, False)])
def test_a_trigger_is_driven_straight_up_to_its_coil_current(rating_a: float, straight: bool) -> None:
    horn = {**_HORN, "behaviour": {"template": "relay trigger", "coil_ohm": 100}}
    # A relay of the kit with a 300 ohm coil (40 mA) can be worked by the same output.
    small = {**b.RELAY, "coil_ohm": 300}
    terminals = {**b.TERMINALS, "out": b.terminal("out", "horn", "negative output", rating_a=rating_a)}
    kit = b.kit(terminals, {**b.LEADS, "out": b.lead("out")}, parts=[small], wanted=["horn"])
    part = _part(b.fitted(b.car({**b.CIRCUITS, "out": horn}), kit), "horn")
    if straight:
        assert part is None
    else:
        assert part is not None
        assert (part.pattern, part.fed_from) == ("relay grounds", "power")


def test_an_output_too_weak_for_the_coil_leaves_the_function_unserved_with_the_cure() -> None:
    plan = _with_output("parking light", "negative output", _LAMP, rating_a=0.1)
    left = b.unserved(plan, "parking light")
    assert left.why == "The coil of relay 30 A takes 0.133 A; the output carries 0.1 A."
    assert left.would_fit_if == "the kit's parking light output carried 0.178 A"
    assert not left.required


def test_a_part_out_of_stock_is_the_nearest_cure() -> None:
    terminals = {**b.TERMINALS, "park": b.terminal("park", "parking light", "negative output", rating_a=1)}
    kit = b.kit(terminals, _LAMP_LEAD, parts=[{**b.RELAY, "stock": 0}], wanted=["parking light"])
    left = b.unserved(b.fitted(b.car(_LAMPS), kit), "parking light")
    assert left.why == "The kit holds no relay 30 A, and no more."
    assert left.would_fit_if == "the kit held one more relay 30 A"


def test_the_last_relay_goes_where_it_serves_most() -> None:
    """Two wishes need a relay, one relay is there, and a third way without a relay frees it."""
    terminals = {
        **b.TERMINALS,
        "park": b.terminal("park", "parking light", "negative output", rating_a=1),
        "horn": b.terminal("horn", "horn", "positive output", rating_a=1),
    }
    leads = {**_LAMP_LEAD, "horn": b.lead("horn")}
    circuits = {**_LAMPS, "horn": {**_HORN, "id": "horn"}}
    kit = b.kit(terminals, leads, parts=[{**b.RELAY, "stock": 1}], wanted=["parking light", "horn"])
    plan = b.fitted(b.car(circuits), kit)
    assert len(plan.unserved) == 1
    assert plan.unserved[0].would_fit_if == "the kit held one more relay 30 A"
    module = {
        "name": "M", "hardware": "1", "firmware": "f", "version": "1",
        "services": [{"function": "horn", "vehicle": "test-car"}],
    }  # fmt: skip
    bus = b.data_wire("bus", "body/8")
    kit = b.kit(
        {**terminals, "data": b.terminal("data", "bus", "data port")}, {**leads, "data": b.lead("data")},
        parts=[{**b.RELAY, "stock": 1}], wanted=["parking light", "horn"], vehicle_module=module,
    )  # fmt: skip
    plan = b.fitted(b.car({**circuits, "bus": bus}), kit)
    assert plan.unserved == ()
    assert b.route(plan, "horn").how == "bus"


_SIDES = {
    **b.CIRCUITS,
    "left": b.lamps("left", "parking light left", "body/5", "brown", 1.5),
    "right": b.lamps("right", "parking light right", "body/6", "tan", 1.5),
}
_DIODE = {"id": "diode", "kind": "diode", "name": "diode 3 A", "rating_a": 3, "stock": 2, "minutes": 4, "price": 0.5}
_PARK = {**b.TERMINALS, "park": b.terminal("park", "parking light", "positive output", rating_a=5)}


def test_one_output_for_the_lamps_of_both_sides_gets_a_diode_each() -> None:
    kit = b.kit(_PARK, _LAMP_LEAD, parts=[_DIODE], wanted=["parking light"])
    plan = b.fitted(b.car(_SIDES), kit)
    parts = [_part(plan, f"parking light {side}") for side in ("left", "right")]
    assert [p and (p.id, p.pattern) for p in parts] == [
        ("p:parking-light-left/diode", "diode"),
        ("p:parking-light-right/diode", "diode"),
    ]
    assert parts[0] is not None
    assert parts[0].why == (
        "One output serves two circuits that must stay apart, so a diode (diode 3 A) stands before each."
    )


def test_with_one_diode_only_one_side_is_lit() -> None:
    kit = b.kit(_PARK, _LAMP_LEAD, parts=[{**_DIODE, "stock": 1}], wanted=["parking light"])
    plan = b.fitted(b.car(_SIDES), kit)
    assert len(plan.unserved) == 1
    assert plan.unserved[0].would_fit_if == "the kit held one more diode 3 A"


def test_two_sides_together_may_not_pass_the_rating_of_the_output() -> None:
    park = {**b.TERMINALS, "park": b.terminal("park", "parking light", "positive output", rating_a=3)}
    kit = b.kit(park, _LAMP_LEAD, parts=[_DIODE], wanted=["parking light"])
    plan = b.fitted(b.car(_SIDES), kit)
    assert len(plan.unserved) == 1
    assert plan.unserved[0].would_fit_if == "the kit held a relay for 2 A for parking light right"
    facts = [r.fact for r in plan.unserved[0].rejected]
    assert "The kit's parking light output would carry more than its rating allows." in facts


_TWO_IGNITIONS = {
    **b.CIRCUITS,
    "ign-2": b.keyed("ign-2", "second ignition", "key/4", "green", 6, ("run", "crank")),
}


def test_a_second_ignition_without_an_output_of_its_own_gets_a_relay() -> None:
    plan = b.fitted(b.car(_TWO_IGNITIONS), b.kit(parts=[b.RELAY]))
    assert _part(plan, "ignition") is None
    second = _part(plan, "second ignition")
    assert second is not None
    assert (second.pattern, second.fed_from) == ("relay boosts", "power")
    assert second.why == (
        "The kit's ignition output has to work second ignition as well, and the two must stay apart, "
        "so a relay (relay 30 A) carries the load in the output's place."
    )


def test_a_second_ignition_that_drops_while_cranking_needs_its_own_output() -> None:
    drops = {**b.CIRCUITS, "ign-2": b.keyed("ign-2", "second ignition", "key/4", "green", 6, ("run",))}
    plan = b.fitted(b.car(drops), b.kit(parts=[b.RELAY]))
    left = b.unserved(plan, "second ignition")
    assert left.why == "The kit's ignition output is on while cranking as well, and second ignition drops then."
    assert left.would_fit_if == "the kit had a second ignition output"


def test_of_two_circuits_on_one_output_the_relay_goes_to_the_one_that_is_live_with_the_other() -> None:
    """A straight wire makes the coil beside it live: the wire that is dead in accessory must be the straight one."""
    both = {
        **b.CIRCUITS,
        "acc-a": b.keyed("acc-a", "accessory", "key/4", "green", 6, ("acc", "run")),
        "acc-b": b.keyed("acc-b", "accessory", "key/5", "tan", 6, ("run",)),
    }
    terminals = {**b.TERMINALS, "acc": b.terminal("acc", "accessory", "relay output", fed_from="power", rating_a=20)}
    kit = b.kit(terminals, {**b.LEADS, "acc": b.lead("acc")}, parts=[{**b.RELAY, "stock": 1}])
    plan = b.fitted(b.car(both), kit)
    assert _part(plan, "accessory:acc-b") is None
    assert _part(plan, "accessory:acc-a") is not None


def test_an_ignition_that_drops_while_cranking_is_none_for_an_output_that_stays_on() -> None:
    drops = b.keyed("ign", "ignition", "key/2", "pink", 8, ("run",))
    refusal = b.refused(b.car({**b.CIRCUITS, "ign": drops}), b.kit())
    assert refusal.would_fit_if == "the kit had an ignition output that drops while cranking"


def test_a_second_ignition_that_the_car_holds_through_the_crank_is_held_by_the_kit() -> None:
    second = b.terminal("ign-2", "second ignition", "relay output", fed_from="power", rating_a=20)
    leads = {**b.LEADS, "ign-2": b.lead("ign-2")}
    plan = b.fitted(b.car(_TWO_IGNITIONS), b.kit({**b.TERMINALS, "ign-2": second}, leads, parts=[b.RELAY]))
    route = b.route(plan, "second ignition")
    assert route.joints[0].terminal == "ign"
    assert "The kit's second ignition output drops while cranking, and the car keeps this wire live then." in {
        r.fact for r in route.rejected
    }
    # An output that the kit holds through the crank is the other way.
    holds = {**second, "on_while": ["ignition on", "cranking", "running"]}
    plan = b.fitted(b.car(_TWO_IGNITIONS), b.kit({**b.TERMINALS, "ign-2": holds}, leads))
    assert b.route(plan, "second ignition").joints[0].terminal == "ign-2"


def test_two_circuits_of_one_function_are_two_tasks() -> None:
    twice = {**b.CIRCUITS, "ign-b": b.keyed("ign-b", "ignition", "key/4", "green", 4, ("run", "crank"))}
    plan = b.fitted(b.car(twice), b.kit(parts=[b.RELAY]))
    assert [r.task for r in plan.routes if r.function == "ignition"] == ["ignition:ign", "ignition:ign-b"]
    kinds = [r.joints[0].part is None for r in plan.routes if r.function == "ignition"]
    assert sorted(kinds) == [False, True]


def test_an_input_of_the_other_polarity_does_not_read_the_wire() -> None:
    terminals = {**b.TERMINALS, "hood": b.terminal("hood", "hood switch", "positive input")}
    refusal = b.refused(b.car(), b.kit(terminals))
    assert refusal.reason == (
        "Nothing serves hood switch, without which no start may be: The wire signals with ground; "
        "the kit's hood switch input reads battery voltage."
    )
    assert refusal.would_fit_if == "the kit had a hood switch input that reads ground"


def test_a_data_wire_is_never_driven() -> None:
    data = {**b.data_wire("out", "body/6"), "function": "horn"}
    left = b.unserved(_with_output("horn", "negative output", data, rating_a=1), "horn")
    assert left.why == "The wire is a data wire, which no output may drive."
