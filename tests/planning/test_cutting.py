"""Wires that are opened, wires that only ask for something, and wires that nobody may drive."""

from typing import Any

import pytest

from loomwright.documents.kit import Kit
from tests.planning import builders as b

_LOCKS = {
    "lock": b.terminal("lock", "lock", "negative output", rating_a=0.25),
    "unlock": b.terminal("unlock", "unlock", "negative output", rating_a=0.25),
}


def _kit(terminals: dict[str, b.Piece], leads: bool = True, **changes: Any) -> Kit:
    named = {name: b.lead(name) for name in terminals} if leads else {}
    return b.kit({**b.TERMINALS, **terminals}, {**b.LEADS, **named}, **{"parts": [b.RELAY], **changes})


def _leg(name: str, partner: str, pin: str, when: str, function: str = "lock motor") -> b.Piece:
    return b.circuit(
        name, function,
        {"template": "reversing leg", "partner": partner, "live_when": when, "fuse_a": 20, "load_a": 6},
        {"from": "source", "to": pin}, b.wire(pin, "load", "blue"),
    )  # fmt: skip


_LEGS = {
    "leg-a": _leg("leg-a", "leg-b", "body/8", "lock pressed"),
    "leg-b": _leg("leg-b", "leg-a", "body/9", "unlock pressed"),
}


def test_reversing_locks_get_a_relay_in_each_opened_leg() -> None:
    plan = b.fitted(b.car({**b.CIRCUITS, **_LEGS}), _kit(_LOCKS, wanted=["lock", "unlock"]))
    for task, pin in (("lock", "body/8"), ("unlock", "body/9")):
        route = b.route(plan, task)
        joint = route.joints[0]
        assert joint.part is not None
        assert (route.how, joint.kind, joint.pin, joint.factory_side) == ("cut in", "cut in", pin, "plug side")
        assert joint.part.pattern == "relay changes over"
    assert b.route(plan, "lock").why == (
        "Lead LOCK is cut into the blue wire at pin 8 of body plug, through relay 30 A; no other way fits."
    )
    assert b.route(plan, "lock").joints[0].part.why == (  # type: ignore[union-attr]
        "The wire rests at ground through the factory's own contact, and battery voltage beside it is a short, so a "
        "relay (relay 30 A) parts the wire from the factory's end while it puts battery voltage on it."
    )
    # The cut takes 12 minutes and its relay 6; nobody measured the wire (4), and it is cut (8).
    assert (b.route(plan, "lock").minutes, b.route(plan, "lock").penalty) == (18, 12)


def test_a_t_opens_the_legs_without_a_cut() -> None:
    kit = _kit(_LOCKS, leads=False, wanted=["lock"], branches=[b.t_branch("body-t", "body-h", "lock")])
    route = b.route(b.fitted(b.car({**b.CIRCUITS, **_LEGS}), kit), "lock")
    assert (route.how, route.joints[0].kind) == ("T interrupted", "T interrupted")
    assert route.why == (
        "BODY-T opens the wire for BODY-T LOCK at pin 8 of body plug, through relay 30 A; no other way fits."
    )


def test_one_relay_serves_one_leg_and_the_other_leg_names_the_missing_one() -> None:
    kit = _kit(_LOCKS, wanted=["lock", "unlock"], parts=[{**b.RELAY, "stock": 1}])
    plan = b.fitted(b.car({**b.CIRCUITS, **_LEGS}), kit)
    assert len(plan.unserved) == 1
    assert plan.unserved[0].would_fit_if == "the kit held one more relay 30 A"


def test_a_wire_that_asks_for_the_lock_is_taken_before_the_motor_s_own() -> None:
    button = b.grounded("button", "lock", "body/10", "green", "lock pressed")
    plan = b.fitted(b.car({**b.CIRCUITS, **_LEGS, "button": button}), _kit(_LOCKS, wanted=["lock", "unlock"]))
    assert (b.route(plan, "lock").how, b.route(plan, "lock").joints[0].pin) == ("tap", "body/10")
    # Only the button's own job is done by it; the other leg is opened.
    assert b.route(plan, "unlock").how == "cut in"


def _output(**behaviour: Any) -> b.Piece:
    return b.circuit(
        "lamps", "parking light",
        {"template": "module output", "on_when": "lamps on", "load_a": 3, "load": "lamp", **behaviour},
        {"from": "source", "to": "body/5"}, b.wire("body/5", "load", "brown"),
    )  # fmt: skip


_PARK = {"park": b.terminal("park", "parking light", "positive output", rating_a=5, fed_from="power")}


@pytest.mark.parametrize(
    ("behaviour", "fact"),
    [
        (
            {"shuts_off_when_back_fed": True},
            "The module takes a voltage from outside for a fault and shuts this output off.",
        ),
        (
            {"duty": 0.7},
            "The module dims this output by switching it fast, and a steady voltage beside it would run back.",
        ),
    ],
)
def test_a_module_that_guards_or_dims_its_lamps_is_parted_from_them(behaviour: dict[str, Any], fact: str) -> None:
    car = b.car({**b.CIRCUITS, "lamps": _output(**behaviour)})
    route = b.route(b.fitted(car, _kit(_PARK, wanted=["parking light"])), "parking light")
    assert route.how == "cut in"
    assert fact in {r.fact for r in route.rejected}
    left = b.unserved(b.fitted(car, _kit(_PARK, wanted=["parking light"], parts=[])), "parking light")
    assert left.would_fit_if == "the kit held a relay for 4 A for parking light"


def test_an_output_that_neither_guards_nor_dims_is_driven_beside_it() -> None:
    plan = b.fitted(b.car({**b.CIRCUITS, "lamps": _output()}), _kit(_PARK, wanted=["parking light"]))
    assert (b.route(plan, "parking light").how, b.route(plan, "parking light").joints[0].part) == ("tap", None)


def test_the_wire_of_the_lamp_switch_asks_the_module_instead() -> None:
    asks = b.grounded("asks", "parking light", "body/10", "green", "lamps on")
    car = b.car({**b.CIRCUITS, "lamps": _output(shuts_off_when_back_fed=True), "asks": asks})
    route = b.route(b.fitted(car, _kit(_PARK, wanted=["parking light"])), "parking light")
    # The output puts out battery voltage and the wire wants ground: a relay, but nothing is cut.
    assert (route.how, route.joints[0].pin) == ("tap", "body/10")
    assert route.joints[0].part is not None
    assert route.joints[0].part.pattern == "relay grounds"


def test_the_lamps_of_both_sides_are_asked_for_through_one_wire() -> None:
    sides = {
        side: {**_output(shuts_off_when_back_fed=True), "id": side, "function": f"parking light {side}"}
        for side in ("left", "right")
    }
    sides["right"]["path"] = [{"from": "source", "to": "body/6"}, b.wire("body/6", "load", "tan")]
    asks = b.grounded("asks", "parking light", "body/10", "green", "lamps on")
    plan = b.fitted(b.car({**b.CIRCUITS, **sides, "asks": asks}), _kit(_PARK, wanted=["parking light"]))
    assert [r.task for r in plan.routes if "parking" in r.task] == ["parking light"]
    assert plan.unserved == ()
    # Without that wire each side is opened.
    plan = b.fitted(b.car({**b.CIRCUITS, **sides}), _kit(_PARK, wanted=["parking light"]))
    assert {b.route(plan, f"parking light {side}").how for side in sides} == {"cut in"}


_CODED = b.circuit(
    "coded", "start", {"template": "coded switch", "resistances": {"off": 100, "run": 500, "crank": 1500}},
    {"from": "source", "to": "key/3"}, b.wire("key/3", "load", "yellow"),
)  # fmt: skip


def test_a_coded_switch_is_driven_by_nobody_and_the_bus_serves_instead() -> None:
    computer = {"park_interlock": "computer"}
    circuits = {**b.CIRCUITS, "start": _CODED, "bus": b.data_wire("bus", "body/8")}
    refusal = b.refused(b.car(circuits, traits=computer), b.kit())
    assert refusal.code == "no-start"
    assert refusal.reason.endswith(
        "The ignition switch tells its position by resistance on one wire, which no output may drive."
    )
    module = {
        "name": "M", "hardware": "1", "firmware": "f", "version": "1",
        "services": [{"function": "start", "vehicle": "test-car"}],
    }  # fmt: skip
    kit = _kit({"data": b.terminal("data", "bus", "data port")}, vehicle_module=module)
    assert b.route(b.fitted(b.car(circuits, traits=computer), kit), "start").how == "bus"


def test_where_the_feeds_can_be_driven_the_coded_wire_beside_them_is_left_alone() -> None:
    coded = {**_CODED, "id": "coded", "function": "ignition"}
    coded["path"] = [{"from": "source", "to": "key/6"}, b.wire("key/6", "load", "yellow")]
    plan = b.fitted(b.car({**b.CIRCUITS, "coded": coded}), b.kit())
    assert b.route(plan, "ignition").joints[0].circuit == "ign"


def test_a_held_signal_is_a_fault_and_a_pulse_serves() -> None:
    request = b.circuit(
        "start", "start", {"template": "start request", "fed_by": "feed", "hold_s": 1.5},
        {"from": "source", "to": "key/3"}, b.wire("key/3", "load", "yellow"),
    )  # fmt: skip
    car = b.car({**b.CIRCUITS, "start": request}, traits={"park_interlock": "computer"})

    def settings(*seconds: float, default: str = "held") -> list[dict[str, Any]]:
        pulses = [{"value": f"{s:g} s", "means": "x", "pulse_s": s} for s in seconds]
        choices = [{"value": "held", "means": "x"}, *pulses]
        return [{"id": "as", "name": "Start signal", "default": default, "choices": choices}]

    refusal = b.refused(car, b.kit())
    assert (refusal.code, refusal.would_fit_if) == (
        "no-start", "the kit had a setting for a start pulse of at most 1.5 s",
    )  # fmt: skip
    assert "A held signal is a fault for this computer" in refusal.reason
    assert "the kit has none shorter than 2 s" in b.refused(car, b.kit(settings=settings(2, 3))).reason
    # The longest pulse that the computer takes, unless the default is one.
    for seconds, default, chosen in (((0.5, 1.2, 2), "held", "1.2 s"), ((0.5, 1.2), "0.5 s", "0.5 s")):
        plan = b.fitted(car, b.kit(settings=settings(*seconds, default=default)))
        assert b.route(plan, "start").setting == ("as", chosen)
        assert dict(plan.settings) == {"as": chosen}


def test_the_builder_may_pin_the_place_of_a_cut() -> None:
    two = {**_LEGS["leg-a"], "path": [*_LEGS["leg-a"]["path"][:1], b.wire("body/8", "engine/4", "blue"),
           b.wire("engine/4", "load", "blue")]}  # fmt: skip
    pin = {"function": "lock", "how": "cut in", "pin": "engine/4", "reason": "There is room for the relay."}
    plan = b.fitted(b.car({**b.CIRCUITS, **_LEGS, "leg-a": two}), _kit(_LOCKS, wanted=["lock"]), b.shop(pin))
    assert b.route(plan, "lock").joints[0].pin == "engine/4"
    assert b.route(plan, "lock").joints[0].factory_side == "harness side"


@pytest.mark.parametrize(("keys", "gated"), [(1, None), (2, "2 working keys at hand while the vehicle module learns")])
def test_the_keys_that_the_module_wants_to_see_are_told(keys: int, gated: str | None) -> None:
    module = {
        "name": "M", "hardware": "1", "firmware": "f", "version": "1",
        "services": [{"function": "immobiliser", "vehicle": "test-car"}],
    }  # fmt: skip
    kit = _kit({"data": b.terminal("data", "bus", "data port")}, vehicle_module=module)
    traits = {"immobiliser": "transponder", "keys_to_learn": keys}
    car = b.car({**b.CIRCUITS, "bus": b.data_wire("bus", "body/8")}, traits=traits)
    assert b.route(b.fitted(car, kit), "immobiliser").gated == gated


def test_a_feed_too_weak_for_the_lamps_as_well_is_spared_by_a_relay_on_the_own_output() -> None:
    lamps = {
        side: b.lamps(side, f"parking light {side}", pin, "brown", 7)
        for side, pin in (("left", "body/5"), ("right", "body/6"))
    }
    terminals = {
        **b.TERMINALS,
        "power-2": b.terminal("power-2", "battery feed", "power in", rating_a=30, fuse_a=30),
        "left": b.terminal("left", "parking light left", "positive output", rating_a=10, fed_from="power"),
        "right": b.terminal("right", "parking light right", "positive output", rating_a=10, fed_from="power"),
        "both": b.terminal("both", "parking light", "positive output", rating_a=10, fed_from="power"),
    }
    leads = {**b.LEADS, **{name: b.lead(name) for name in ("power-2", "left", "right", "both")}}
    kit = b.kit(terminals, leads, wanted=["parking light"], parts=[b.RELAY])
    circuits = {**b.CIRCUITS, **lamps, "feed": b.feed("feed", "key/1", 30), "feed-2": b.feed("feed-2", "key/4", 20)}
    plan = b.fitted(b.car(circuits), kit)
    ways = {side: b.route(plan, f"parking light {side}") for side in lamps}
    assert {route.joints[0].terminal for route in ways.values()} == {"left", "right"}  # each side by its own output
    cut = [route for route in ways.values() if route.how == "cut in"]
    assert len(cut) == 1  # the feed carries one side besides the ignition
    part = cut[0].joints[0].part
    assert part is not None
    assert part.why.startswith("The fuse of the feed for power")
    assert part.why.endswith("so a relay (relay 30 A) parts the wire from the factory's end while it puts battery "
                             "voltage on it.")  # fmt: skip
