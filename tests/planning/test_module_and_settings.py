"""Ways without a wire of their own: the vehicle module on the bus, a setting, an added part."""

from typing import Any

import pytest

from loomwright.planning.installation import Installation
from tests.planning import builders as b


def _module(*services: b.Piece) -> dict[str, Any]:
    return {"name": "M", "hardware": "1", "firmware": "fw", "version": "3", "services": list(services)}


def _service(function: str, **conditions: Any) -> dict[str, Any]:
    return {"function": function, "vehicle": "test-car", **conditions}


_DATA = {**b.TERMINALS, "data": b.terminal("data", "bus", "data port")}
_DATA_LEAD = {**b.LEADS, "data": b.lead("data")}
_BUS = {**b.CIRCUITS, "bus": b.data_wire("bus", "body/8")}


def test_the_module_serves_what_would_be_a_tap_and_is_then_joined_to_the_bus() -> None:
    kit = b.kit(_DATA, _DATA_LEAD, vehicle_module=_module(_service("tach"), _service("hood switch")))
    plan = b.fitted(b.car(_BUS), kit)
    assert b.route(plan, "tach").how == "bus"
    assert b.route(plan, "bus").joints[0].pin == "body/8"
    assert b.route(plan, "tach").why == (
        "The vehicle module serves tach over the bus; the next way, a tap at pin 2 of body plug, takes 8 minutes more."
    )


def test_one_function_alone_does_not_pay_for_a_joint_in_the_bus() -> None:
    # A tap of a data wire takes as long as a tap of the tach wire and weighs more.
    kit = b.kit(_DATA, _DATA_LEAD, vehicle_module=_module(_service("tach")))
    plan = b.fitted(b.car(_BUS), kit)
    assert b.route(plan, "tach").how == "tap"
    assert not [r for r in plan.routes if r.task == "bus"]
    assert [u.label for u in plan.unused_leads] == ["DATA"]


def test_without_a_bus_wire_the_module_serves_nothing() -> None:
    kit = b.kit(_DATA, _DATA_LEAD, vehicle_module=_module(_service("tach")))
    refusal = b.refused(b.car({k: v for k, v in b.CIRCUITS.items() if k != "hood"}), kit)
    assert refusal.code == "no-hood-switch"
    plan = b.fitted(b.car(), kit)
    facts = {r.how: r.fact for r in b.route(plan, "tach").rejected}
    assert facts["bus"] == "The vehicle module cannot be joined to the data bus."


def _years(*services: b.Piece) -> tuple[Installation, ...]:
    """Return the installations of two model years of one family."""
    from loomwright.documents.car import resolve
    from loomwright.documents.vehicle import Vehicle

    plain = b.car(_BUS)
    kit = b.kit(_DATA, _DATA_LEAD, vehicle_module=_module(_service("hood switch"), *services))
    document = {
        "kind": "vehicle", "id": "test-car", "names": [{"maker": "Test", "model": "Car"}],
        "axes": [
            {"id": "year", "ask": "?", "ordered": True, "values": [{"value": y, "cue": "x"} for y in (2012, 2013)]}
        ],
        "traits": [plain.traits.model_dump(exclude_none=True)],
        "places": [p.model_dump() for p in plain.places.values()],
        "plugs": [p.model_dump(by_alias=True) for p in plain.plugs.values()],
        "grounds": [g.model_dump() for g in plain.grounds], "circuits": list(_BUS.values()),
    }  # fmt: skip
    vehicle = Vehicle.model_validate(document)
    return tuple(b.fitted(resolve(vehicle, {"year": y}), kit) for y in ("2012", "2013"))


@pytest.mark.parametrize(
    "condition", [{"only": {"year": "2012"}}, {"only": {"year": "2009 to 2012"}}, {"except": {"year": [2013, 2014]}}]
)
def test_the_firmware_offers_a_function_only_for_its_variants(condition: dict[str, Any]) -> None:
    early, late = _years(_service("tach", **condition))
    assert b.route(early, "tach").how == "bus"
    route = b.route(late, "tach")
    assert route.how == "tap"
    assert [(r.what, r.fact) for r in route.rejected] == [
        ("the vehicle module (fw 3)", "Its firmware offers tach for this model, but not for year 2013.")
    ]


def test_the_two_wires_of_a_bus_are_joined_in_one_plug() -> None:
    high, low = b.data_wire("bus-h", "body/8", "two-wire high"), b.data_wire("bus-l", "body/9", "two-wire low")
    high["path"].append({**b.wire("s:h", "engine/5", "tan"), "from": "body/8"})
    terminals = {
        **b.TERMINALS,
        "can-high": b.terminal("can-high", "bus", "data port"),
        "can-low": b.terminal("can-low", "bus", "data port"),
    }
    leads = {**b.LEADS, "can-high": b.lead("can-high"), "can-low": b.lead("can-low")}
    kit = b.kit(terminals, leads, vehicle_module=_module(_service("tach")), wanted=["bus"])
    plan = b.fitted(b.car({**b.CIRCUITS, "bus-h": high, "bus-l": low}), kit)
    assert [(j.lead, j.pin) for j in b.route(plan, "bus").joints] == [("can-high", "body/8"), ("can-low", "body/9")]


def test_half_a_bus_is_no_bus() -> None:
    circuits = {**b.CIRCUITS, "bus-h": b.data_wire("bus-h", "body/8", "two-wire high")}
    kit = b.kit({**b.TERMINALS, "can-high": b.terminal("can-high", "bus", "data port")}, wanted=["bus"])
    left = b.unserved(b.fitted(b.car(circuits), kit), "bus")
    assert left.why == "The kit's data ports do not make up a whole bus with the data wires that are recorded."


def test_a_pair_in_two_plugs_is_not_joined() -> None:
    circuits = {
        **b.CIRCUITS,
        "bus-h": b.data_wire("bus-h", "body/8", "two-wire high"),
        "bus-l": b.data_wire("bus-l", "engine/5", "two-wire low"),
    }
    terminals = {
        **b.TERMINALS,
        "can-h": b.terminal("can-h", "bus", "data port"),
        "can-l": b.terminal("can-l", "bus", "data port"),
    }
    kit = b.kit(terminals, {**b.LEADS, "can-h": b.lead("can-h"), "can-l": b.lead("can-l")}, wanted=["bus"])
    left = b.unserved(b.fitted(b.car(circuits), kit), "bus")
    assert (left.why, left.would_fit_if) == (
        "No plug holds both wires of the bus.",
        "a plug that holds both wires of the bus were recorded",
    )


def test_a_plug_branch_goes_into_the_free_socket() -> None:
    branch = {**b.t_branch("obd", "body-h", "data"), "kind": "plug"}
    kit = b.kit(_DATA, branches=[branch], vehicle_module=_module(_service("tach")))
    plan = b.fitted(b.car(_BUS), kit)
    assert (b.route(plan, "bus").how, b.route(plan, "bus").joints[0].kind) == ("plug", "plug")


def test_an_immobiliser_is_satisfied_over_the_bus_or_the_car_is_refused() -> None:
    locked = b.car(_BUS, traits={"immobiliser": "transponder"})
    kit = b.kit(_DATA, _DATA_LEAD, vehicle_module=_module(_service("immobiliser")))
    assert b.route(b.fitted(locked, kit), "immobiliser").how == "bus"
    refusal = b.refused(locked, b.kit())
    assert refusal.code == "no-immobiliser"
    assert refusal.reason == (
        "Nothing serves immobiliser, without which no start may be: The kit has no vehicle module."
    )
    assert refusal.would_fit_if == "the kit had a vehicle module that serves immobiliser"


_VOLTAGE = {
    "id": "engine", "name": "Engine speed from", "default": "wire",
    "choices": [
        {"value": "wire", "means": "counted", "needs": "tach"},
        {"value": "bus", "means": "told", "needs": "tach"},
        {"value": "voltage", "means": "guessed", "serves": "tach", "penalty": 25},
    ],
}  # fmt: skip


def test_a_setting_stands_in_where_there_is_no_wire() -> None:
    plan = b.fitted(b.car({k: v for k, v in b.CIRCUITS.items() if k != "tach"}), b.kit(settings=[_VOLTAGE]))
    route = b.route(plan, "tach")
    assert (route.how, route.setting, route.penalty) == ("setting", ("engine", "voltage"), 25)
    assert route.why == "The setting Engine speed from: voltage serves tach without a wire; no other way fits."
    assert dict(plan.settings) == {"engine": "voltage"}


def test_a_wire_is_better_than_a_guess_although_it_takes_longer() -> None:
    route = b.route(b.fitted(b.car(), b.kit(settings=[_VOLTAGE])), "tach")
    assert route.how == "tap"
    assert route.why == (
        "Lead TACH is tapped onto the violet wire at pin 2 of body plug; the next way, the setting Engine speed from: "
        "voltage, takes 7 minutes less, but it is less reliable than a wire, which is weighed as 25 minutes."
    )


def test_a_setting_that_reads_the_bus_stands_where_the_bus_serves() -> None:
    kit = b.kit(
        _DATA, _DATA_LEAD, settings=[_VOLTAGE], vehicle_module=_module(_service("tach"), _service("hood switch"))
    )
    plan = b.fitted(b.car(_BUS), kit)
    assert b.route(plan, "tach").how == "bus"
    assert dict(plan.settings) == {"engine": "bus"}
    assert dict(b.fitted(b.car(), b.kit(settings=[_VOLTAGE])).settings) == {"engine": "wire"}


def test_a_default_that_reads_the_guess_gives_way_to_the_wire() -> None:
    plan = b.fitted(b.car(), b.kit(settings=[{**_VOLTAGE, "default": "voltage"}]))
    assert dict(plan.settings) == {"engine": "wire"}


def test_a_choice_that_needs_another_function_waits_for_it() -> None:
    by_brake = {
        "id": "hood-by", "name": "Hood by", "default": "x",
        "choices": [
            {"value": "x", "means": "x"},
            {"value": "door", "means": "y", "serves": "hood switch", "needs": "door switch"},
        ],
    }  # fmt: skip
    no_hood = {k: v for k, v in b.CIRCUITS.items() if k != "hood"}
    terminals = {**b.TERMINALS, "door": b.terminal("door", "door switch", "negative input")}
    kit = b.kit(terminals, {**b.LEADS, "door": b.lead("door")}, settings=[by_brake])
    refusal_or_plan = b.fitted(b.car(no_hood), kit)
    left = b.unserved(refusal_or_plan, "hood switch")
    assert left.why == "It needs door switch, which is not joined."
    door = b.grounded("door", "door switch", "body/12", "green", "driver door open")
    plan = b.fitted(b.car({**no_hood, "door": door}), kit)
    assert b.route(plan, "hood switch").setting == ("hood-by", "door")
    # The door switch is wired for that alone: the kit does not list it as wanted.
    assert b.route(plan, "door switch").joints[0].pin == "body/12"


def test_two_functions_cannot_have_the_same_setting_at_two_choices() -> None:
    both = {
        "id": "s", "name": "S", "default": "a",
        "choices": [
            {"value": "a", "means": "a", "serves": "tach"},
            {"value": "c", "means": "c", "serves": "hood switch"},
        ],
    }  # fmt: skip
    neither = {k: v for k, v in b.CIRCUITS.items() if k not in ("tach", "hood")}
    plan = b.fitted(b.car(neither), b.kit(settings=[both]))
    assert len([u for u in plan.unserved if u.required]) == 1
    assert plan.unserved[0].why == "The setting stands at another choice already."


_PIN = {
    "id": "pin", "function": "hood switch", "name": "hood pin", "terminal": "hood", "lead": "hood", "minutes": 20,
    "price": 3, "place": "On the wing.",
}  # fmt: skip


def test_a_hood_pin_serves_where_the_car_has_no_switch_and_waits_for_its_test() -> None:
    plan = b.fitted(b.car({k: v for k, v in b.CIRCUITS.items() if k != "hood"}), b.kit(added_parts=[_PIN]))
    route = b.route(plan, "hood switch")
    assert (route.how, route.gated) == ("added part", "hood pin fitted and tested")
    assert route.joints[0].kind == "added part"
    assert route.joints[0].id == "j:hood-switch/pin"
    assert route.why == "hood pin is added to the car; no other way fits."


def test_the_factory_switch_is_taken_before_the_pin() -> None:
    route = b.route(b.fitted(b.car(), b.kit(added_parts=[_PIN])), "hood switch")
    assert route.how == "tap"
    assert [(r.how, r.fact) for r in route.rejected] == [("added part", "It takes 12 minutes more.")]
