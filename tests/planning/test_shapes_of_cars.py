"""Cars that start in other ways than by a heavy ignition switch: low-current requests, buttons, diesels, bus starts."""

from typing import Any

from loomwright.documents.car import Car
from loomwright.documents.kit import Kit
from tests.planning import builders as b

_BUTTON = {"key": "button", "start_style": "button", "park_interlock": "computer"}


def _brake_line(*more: b.Piece) -> b.Piece:
    return b.circuit(
        "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
        {"from": "source", "to": "pedal/2", "closed_when": "brake pressed", "switch": "the pedal switch"}, *more,
    )  # fmt: skip


_DIODE = {"id": "diode", "kind": "diode", "name": "diode 1 A", "rating_a": 1, "stock": 3, "minutes": 4, "price": 0.5}
_PRESS = b.grounded("press", "start button", "key/6", "green", "start pressed", pull_up_ohm=1000)
_LINE = b.circuit(
    "line", "brake line", {"template": "switched feed", "fed_by": "brake", "load_a": 0.02, "load": "electronic"},
    b.wire("source", "pedal/5", "white"), b.wire("pedal/5", "body/4", "white"), {"from": "body/4", "to": "load"},
)  # fmt: skip
_OWN_CONTACT = b.circuit(
    "line", "brake line", {"template": "switched feed", "load_a": 0.02, "load": "electronic"},
    {"from": "source", "to": "pedal/5", "closed_when": "brake pressed", "switch": "its own contact"},
    b.wire("pedal/5", "body/4", "white"), {"from": "body/4", "to": "load"},
)  # fmt: skip


def _button_kit(**changes: Any) -> Kit:
    terminals = {
        **b.TERMINALS,
        "button": b.terminal("button", "start button", "negative output", rating_a=0.5),
        "line": b.terminal("line", "brake line", "positive output", rating_a=0.5, fed_from="power"),
    }
    leads = {**b.LEADS, "button": b.lead("button"), "line": b.lead("line")}
    return b.kit(terminals, leads, **{"parts": [b.RELAY, _DIODE], **changes})


def _button_car(*circuits: b.Piece) -> Car:
    return b.car({**b.CIRCUITS, "press": _PRESS, **{c["id"]: c for c in circuits}}, traits=_BUTTON)


def test_a_button_car_is_started_by_its_button_and_switches_its_own_feeds() -> None:
    plan = b.fitted(_button_car(_LINE), _button_kit())
    assert plan.unserved == ()
    assert {r.task for r in plan.routes}.isdisjoint({"ignition", "start", "accessory"})
    assert b.route(plan, "start button").joints[0].part is None


def test_a_brake_line_that_branches_off_the_stop_lamps_is_opened() -> None:
    route = b.route(b.fitted(_button_car(_LINE), _button_kit()), "brake line")
    # The wire from the stop lamps comes along the harness; the module sits behind the plug.
    joint = route.joints[0]
    assert joint.part is not None
    assert (route.how, joint.kind, joint.factory_side) == ("cut in", "cut in", "harness side")
    assert joint.part.pattern == "diode cuts in"
    assert joint.part.why == (
        "The kit's voltage must not run back along the wire, so a diode (diode 1 A) lets the factory's signal through "
        "and nothing back."
    )


def test_without_a_diode_a_relay_parts_the_brake_line() -> None:
    plan = b.fitted(_button_car(_LINE), _button_kit(parts=[b.RELAY]))
    part = b.route(plan, "brake line").joints[0].part
    assert part is not None
    assert (part.pattern, part.fed_from) == ("relay changes over", "power")


def test_with_neither_the_brake_line_is_the_fact_that_refuses_the_kit() -> None:
    refusal = b.refused(_button_car(_LINE), _button_kit(parts=[]))
    assert refusal.code == "no-brake-line"
    assert refusal.would_fit_if == "the kit held a diode for 0.0267 A for brake line"


def test_a_brake_line_with_a_contact_of_its_own_is_driven_straight() -> None:
    route = b.route(b.fitted(_button_car(_OWN_CONTACT), _button_kit()), "brake line")
    assert (route.how, route.joints[0].part) == ("tap", None)


def test_one_wire_for_lamps_and_computer_is_read_on_the_pedal_s_side_and_driven_on_the_other() -> None:
    brake = _brake_line(b.wire("pedal/2", "body/4", "white"), b.wire("body/4", "load", "white"))
    plan = b.fitted(_button_car(brake), _button_kit())
    sense, drive = b.route(plan, "brake"), b.route(plan, "brake line")
    assert (sense.joints[0].terminal, drive.joints[0].terminal) == ("brake", "line")
    assert (sense.joints[0].pin, drive.joints[0].pin) == ("pedal/2", "body/4")
    # The lamps take 4 A and the output carries half an ampere, so it is the relay that parts the wire.
    assert drive.joints[0].part is not None
    assert drive.joints[0].part.pattern == "relay changes over"


def test_one_pin_is_not_enough_for_reading_and_driving() -> None:
    brake = _brake_line(b.wire("pedal/2", "load", "white"))
    plan = b.fitted(_button_car(brake), _button_kit())
    left = [u for u in plan.unserved if u.function in ("brake", "brake line")]
    assert [(u.required, u.why) for u in left] == [
        (True, "Another kit wire is joined at pin 2 of pedal plug already.")
    ]


def test_two_contacts_of_one_button_get_a_diode_each() -> None:
    second = b.grounded("press-2", "start button", "key/4", "green", "start pressed", pull_up_ohm=1000)
    plan = b.fitted(_button_car(second, _OWN_CONTACT), _button_kit())
    parts = [b.route(plan, f"start button:{c}").joints[0].part for c in ("press", "press-2")]
    assert [p and p.pattern for p in parts] == ["diode", "diode"]


def test_a_diode_is_no_way_to_wires_that_their_module_holds_up_at_three_volts() -> None:
    low = {"pull_up_ohm": 1000, "pull_up_v": 3.2}
    buttons = (b.grounded(i, "start button", p, "green", "start pressed", **low) for i, p in _TWO)
    plan = b.fitted(_button_car(*buttons, _OWN_CONTACT), _button_kit())
    parts = [b.route(plan, f"start button:{c}").joints[0].part for c in ("press", "press-2")]
    # A fifth of 3.2 V is less than the 0.65 V at which silicon begins to conduct.
    assert [p and p.pattern for p in parts] == ["relay grounds", "relay grounds"]


_TWO = (("press", "key/6"), ("press-2", "key/4"))


def test_a_module_that_starts_over_the_bus_needs_neither_button_nor_brake_line() -> None:
    terminals = {**b.TERMINALS, "data": b.terminal("data", "bus", "data port")}
    module = {
        "name": "M", "hardware": "1", "firmware": "f", "version": "1",
        "services": [{"function": "start", "vehicle": "test-car"}],
    }  # fmt: skip
    kit = b.kit(terminals, {**b.LEADS, "data": b.lead("data")}, vehicle_module=module)
    plan = b.fitted(_button_car(_LINE, b.data_wire("bus", "body/8")), kit)
    assert plan.unserved == ()
    assert {b.route(plan, t).how for t in ("start button", "brake line")} == {"bus"}


def test_on_a_keyed_car_nobody_drives_the_brake_line() -> None:
    plan = b.fitted(b.car(), _button_kit())
    assert "brake line" not in {r.task for r in plan.routes}
    assert {u.label for u in plan.unused_leads} == {"BUTTON", "LINE"}


def test_a_low_current_request_is_driven_straight_by_a_relay_output() -> None:
    request = b.circuit(
        "start", "start", {"template": "input wire", "pull_down_ohm": 10_000},
        {"from": "source", "to": "key/3"}, b.wire("key/3", "engine/1", "yellow"),
        {"from": "engine/1", "to": "engine/2", "closed_when": "in park", "switch": "the selector switch"},
        b.wire("engine/2", "load", "yellow"),
    )  # fmt: skip
    traits = {"start_style": "low-current request"}
    plan = b.fitted(b.car({**b.CIRCUITS, "start": request}, traits=traits), b.kit())
    route = b.route(plan, "start")
    assert (route.joints[0].pin, route.joints[0].part) == ("key/3", None)


def test_a_car_that_starts_by_message_is_served_by_the_module() -> None:
    circuits = {k: v for k, v in b.CIRCUITS.items() if k != "start"} | {"bus": b.data_wire("bus", "body/8")}
    kit = b.kit(
        {**b.TERMINALS, "data": b.terminal("data", "bus", "data port")}, {**b.LEADS, "data": b.lead("data")},
        vehicle_module={
            "name": "M", "hardware": "1", "firmware": "f", "version": "1",
            "services": [{"function": "start", "vehicle": "test-car"}],
        },
    )  # fmt: skip
    traits = {"start_style": "bus message", "park_interlock": "computer"}
    assert b.route(b.fitted(b.car(circuits, traits=traits), kit), "start").how == "bus"


def test_a_diesel_waits_for_its_lamp_and_a_petrol_car_does_not() -> None:
    wait = b.grounded("wait", "wait-to-start", "body/12", "grey", "wait lamp lit")
    terminals = {**b.TERMINALS, "wait": b.terminal("wait", "wait-to-start", "negative input")}
    kit = b.kit(terminals, {**b.LEADS, "wait": b.lead("wait")}, wanted=["wait-to-start"])
    diesel = b.fitted(b.car({**b.CIRCUITS, "wait": wait}, traits={"fuel": "diesel"}), kit)
    assert b.route(diesel, "wait-to-start").joints[0].pin == "body/12"
    petrol = b.fitted(b.car(), kit)
    assert petrol.unserved == ()
    without = b.fitted(b.car(traits={"fuel": "diesel"}), kit)
    assert b.unserved(without, "wait-to-start").would_fit_if == "a wait-to-start circuit of this car were recorded"


def test_what_the_car_always_feeds_onward_counts_as_load() -> None:
    onward = b.circuit(
        "coils", "other", {"template": "switched feed", "fed_by": "ign", "load_a": 15},
        b.wire("source", "body/15", "pink"), {"from": "body/15", "to": "load"},
    )  # fmt: skip
    # 8 A and 15 A: three quarters of 30 A are 22.5 A.
    refusal = b.refused(b.car({**b.CIRCUITS, "coils": onward}), b.kit())
    assert refusal.unserved[0].rejected[0].fact == (
        "The wire takes 23 A; the output carries 30 A, of which 22.5 A may be used."
    )


def test_what_somebody_switches_on_may_use_the_whole_contact_but_not_the_whole_fuse() -> None:
    def behind(when: str) -> b.Piece:
        return b.circuit(
            "onward", "other", {"template": "switched feed", "fed_by": "ign", "load_a": 15},
            {"from": "source", "to": "s:switch", "closed_when": when}, b.wire("s:switch", "load", "pink"),
        )  # fmt: skip

    # 8 A and 15 A are within the 30 A of the contact. A blower runs for long: with the alternator charging the 23 A
    # stated at 12 V are more than three quarters of the 30 A fuse. A window is up in seconds.
    plan = b.fitted(b.car({**b.CIRCUITS, "onward": behind("blower on")}), b.kit())
    assert b.unserved(plan, "ignition").why == (
        "The fuse of the feed for power would not carry all that runs from it with blower on."
    )
    assert b.fitted(b.car({**b.CIRCUITS, "onward": behind("window pressed")}), b.kit()).unserved == ()
