"""Cars that start in other ways than by a heavy ignition switch: low-current requests, buttons, diesels, bus starts."""

from typing import Any

from tests.planning import builders as b

_BUTTON = {"key": "button", "start_style": "button", "park_interlock": "computer"}


def _brake_line(*more: b.Piece) -> b.Piece:
    return b.circuit(
        "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
        {"from": "source", "to": "pedal/2", "closed_when": "brake pressed", "switch": "the pedal switch"}, *more,
    )  # fmt: skip


def _button_kit(**changes: Any) -> Any:
    terminals = {
        **b.TERMINALS,
        "start": b.terminal("start", "start", "negative output", rating_a=0.5),
        "pedal-out": b.terminal("pedal-out", "brake", "positive output", rating_a=0.5),
    }
    return b.kit(terminals, {**b.LEADS, "pedal-out": b.lead("pedal-out")}, parts=[b.RELAY], **changes)


_REQUEST = b.circuit(
    "start", "start", {"template": "ground switch", "pull_up_ohm": 1000},
    {"from": "source", "to": "key/3"}, b.wire("key/3", "s:button", "yellow"), {"from": "s:button", "to": "ground"},
)  # fmt: skip


def test_on_a_button_car_the_kit_reads_the_pedal_and_drives_its_line() -> None:
    brake = _brake_line(b.wire("pedal/2", "body/4", "white"), b.wire("body/4", "load", "white"))
    plan = b.fitted(b.car({**b.CIRCUITS, "start": _REQUEST, "brake": brake}, traits=_BUTTON), _button_kit())
    sense, drive = b.route(plan, "brake"), b.route(plan, "brake:drive")
    assert {sense.joints[0].terminal, drive.joints[0].terminal} == {"brake", "pedal-out"}
    assert {sense.joints[0].pin, drive.joints[0].pin} == {"pedal/2", "body/4"}
    # The lamps take 4 A and the output carries half an ampere.
    assert drive.joints[0].part is not None
    assert drive.joints[0].part.pattern == "relay boosts"
    assert b.route(plan, "start").joints[0].part is None


def test_one_pin_is_not_enough_for_reading_and_driving() -> None:
    brake = _brake_line(b.wire("pedal/2", "load", "white"))
    plan = b.fitted(b.car({**b.CIRCUITS, "start": _REQUEST, "brake": brake}, traits=_BUTTON), _button_kit())
    left = [u for u in plan.unserved if u.function == "brake"]
    assert [(u.required, u.why) for u in left] == [
        (True, "Another kit wire is joined at pin 2 of pedal plug already.")
    ]


def test_on_a_keyed_car_nobody_drives_the_brake_line() -> None:
    terminals = {**b.TERMINALS, "pedal-out": b.terminal("pedal-out", "brake", "positive output", rating_a=0.5)}
    plan = b.fitted(b.car(), b.kit(terminals, {**b.LEADS, "pedal-out": b.lead("pedal-out")}))
    assert [r.task for r in plan.routes if r.function == "brake"] == ["brake"]
    assert [u.label for u in plan.unused_leads] == ["PEDAL-OUT"]


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
    behind = {**onward, "path": [{**onward["path"][0], "closed_when": "blower on"}, onward["path"][1]]}
    del behind["path"][0]["colour"]
    assert b.fitted(b.car({**b.CIRCUITS, "coils": behind}), b.kit()).unserved == ()
