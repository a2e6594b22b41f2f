"""Routes that the builder has pinned: kept, or given up with the reason."""

from tests.planning import builders as b


def _pin(function: str, how: str, **more: str) -> dict[str, str]:
    return {"function": function, "how": how, "reason": "It is easier to see there.", **more}


def test_a_pinned_pin_is_taken_although_it_is_dearer() -> None:
    plan = b.fitted(b.car(), b.kit(), b.shop(_pin("start", "tap", pin="engine/1")))
    route = b.route(plan, "start")
    assert route.joints[0].pin == "engine/1"
    assert route.pinned == "It is easier to see there"
    assert route.why == (
        "Lead START is tapped onto the yellow wire at pin 1 of engine plug; "
        "the builder fixed it: It is easier to see there."
    )
    assert [(r.what, r.fact) for r in route.rejected if r.minutes is not None] == [
        ("pin 3 of key plug", "It was not what the builder fixed.")
    ]


def test_no_pin_lifts_the_park_interlock() -> None:
    plan = b.fitted(b.car(), b.kit(), b.shop(_pin("start", "tap", pin="engine/2")))
    route = b.route(plan, "start")
    assert route.joints[0].pin == "key/3"
    assert route.pinned is None
    assert route.rejected[0].fact == (
        "The builder pinned it (It is easier to see there), but that way is ruled out: It lies past the park/neutral "
        "switch: the starter would turn in gear (49 CFR 571.102)."
    )


def test_a_pin_on_a_way_that_does_not_exist_is_given_up() -> None:
    plan = b.fitted(b.car(), b.kit(), b.shop(_pin("tach", "added part")))
    assert b.route(plan, "tach").rejected[0].fact == (
        "The builder pinned it (It is easier to see there), but this kit and this car offer no such way."
    )


def test_a_wanted_function_may_be_left_out_on_purpose() -> None:
    terminals = {**b.TERMINALS, "horn": b.terminal("horn", "horn", "negative output", rating_a=1)}
    kit = b.kit(terminals, {**b.LEADS, "horn": b.lead("horn")}, wanted=["horn"])
    circuits = {**b.CIRCUITS, "horn": b.grounded("horn", "horn", "body/3", "green", "horn pressed")}
    left = b.unserved(b.fitted(b.car(circuits), kit, b.shop(_pin("horn", "none"))), "horn")
    assert left.why == "The builder left it out: It is easier to see there."
    assert left.would_fit_if == "the builder lifted the pin"


def test_a_required_function_is_never_left_out() -> None:
    plan = b.fitted(b.car(), b.kit(), b.shop(_pin("hood switch", "none")))
    assert b.route(plan, "hood switch").rejected[0].fact == (
        "The builder pinned it (It is easier to see there), but hood switch is required and no start may be without it."
    )


def test_of_two_pins_on_one_place_the_first_is_kept() -> None:
    both = b.circuit(
        "tach", "tach", {"template": "pulse wire"}, b.wire("source", "body/2", "violet"),
        b.wire("body/2", "engine/6", "violet"),
    )  # fmt: skip
    first, second = _pin("tach", "tap", pin="body/2"), _pin("tach", "tap", pin="engine/6")
    route = b.route(b.fitted(b.car({**b.CIRCUITS, "tach": both}), b.kit(), b.shop(first, second)), "tach")
    assert route.joints[0].pin == "body/2"
    assert route.rejected[0].fact == (
        "The builder pinned it (It is easier to see there), but it does not go together with what else is fixed."
    )


def test_a_pin_that_takes_the_only_lead_of_a_required_function_is_given_up() -> None:
    """The tach would sit on the pin that the brake needs, through a lead of its own."""
    shared = b.circuit(
        "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
        {"from": "source", "to": "body/2", "closed_when": "brake pressed", "switch": "the pedal switch"},
        b.wire("body/2", "load", "white"),
    )  # fmt: skip
    circuits = {**b.CIRCUITS, "brake": shared}
    circuits["tach"] = b.circuit(
        "tach", "tach", {"template": "pulse wire"}, b.wire("source", "engine/5", "violet"),
        b.wire("engine/5", "body/2", "violet"),
    )  # fmt: skip
    plan = b.fitted(b.car(circuits), b.kit(), b.shop(_pin("tach", "tap", pin="body/2")))
    assert b.route(plan, "tach").joints[0].pin == "engine/5"
    assert b.route(plan, "tach").rejected[0].fact == (
        "The builder pinned it (It is easier to see there), but a required function would then have no way."
    )


def test_only_a_pin_cuts_a_wire_open() -> None:
    kit = b.kit(branches=[b.t_branch("key-t", "key-h", "ign")])
    assert b.route(b.fitted(b.car(), kit), "ignition").how == "T tapped"
    route = b.route(b.fitted(b.car(), kit, b.shop(_pin("ignition", "T interrupted"))), "ignition")
    assert (route.how, route.joints[0].kind) == ("T interrupted", "T interrupted")
    assert route.penalty == 4 + 30


def test_a_pin_for_another_vehicle_changes_nothing() -> None:
    pinned = b.shop({**_pin("start", "tap", pin="engine/1"), "vehicle": "other-car"})
    assert b.route(b.fitted(b.car(), b.kit(), pinned), "start").joints[0].pin == "key/3"


def test_several_pins_that_go_together_are_all_kept() -> None:
    pins = (_pin("start", "tap", pin="engine/1"), _pin("tach", "tap"), _pin("brake", "tap", pin="pedal/2"))
    plan = b.fitted(b.car(), b.kit(), b.shop(*pins))
    assert {r.task for r in plan.routes if r.pinned} == {"start", "tach", "brake"}
