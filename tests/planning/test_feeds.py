"""Battery feeds and their fuses: what they carry, what must stay apart, and where two feeds would meet."""

from loomwright.planning.installation import Installation
from tests.planning import builders as b

_TWO_POWERS = {
    **b.TERMINALS,
    "power-b": b.terminal("power-b", "battery feed", "power in", rating_a=30, fuse_a=30),
    "acc": b.terminal("acc", "accessory", "relay output", fed_from="power-b", rating_a=30),
}
_LEADS = {**b.LEADS, "power-b": b.lead("power-b"), "acc": b.lead("acc")}


def _accessory(fed_by: str = "feed-b", amps: float = 10) -> b.Piece:
    return b.keyed("acc", "accessory", "key/5", "grey", amps, ("acc", "run"), fed_by)


def _pins(plan: Installation) -> dict[str, str | None]:
    return {r.task: r.joints[0].pin for r in plan.routes if r.joints}


def test_two_power_inputs_take_two_fuses() -> None:
    circuits = {**b.CIRCUITS, "feed-b": b.feed("feed-b", "key/6", 30), "acc": _accessory()}
    pins = _pins(b.fitted(b.car(circuits), b.kit(_TWO_POWERS, _LEADS)))
    assert (pins["battery feed:power"], pins["battery feed:power-b"]) == ("key/1", "key/6")


def test_each_power_input_is_fed_from_where_the_key_takes_it() -> None:
    """The ignition is fed by the feed at key/6, so the input that switches the ignition goes there."""
    circuits = {
        **b.CIRCUITS, "feed-b": b.feed("feed-b", "key/6", 40), "acc": _accessory("feed"),
        "ign": b.keyed("ign", "ignition", "key/2", "pink", 8, ("run", "crank"), "feed-b"),
        "start": {**b.CIRCUITS["start"], "behaviour": {**b.CIRCUITS["start"]["behaviour"], "fed_by": "feed-b"}},
    }  # fmt: skip
    pins = _pins(b.fitted(b.car(circuits), b.kit(_TWO_POWERS, _LEADS)))
    assert (pins["battery feed:power"], pins["battery feed:power-b"]) == ("key/6", "key/1")


_THREE_FEEDS = {
    **b.CIRCUITS,
    "feed-b": b.feed("feed-b", "key/6", 30),
    "feed-c": b.feed("feed-c", "key/4", 30),
    "acc": _accessory(),
    "ign-2": b.keyed("ign-2", "second ignition", "body/5", "green", 9, ("run",), "feed-c"),
}


def test_of_three_feeds_each_input_gets_the_one_that_the_key_puts_on_its_outputs() -> None:
    """Ignition hangs on the first feed and the accessory on the second: the third has no input of the kit."""
    second = b.terminal("ign-2", "second ignition", "relay output", fed_from="power-b", rating_a=30)
    kit = b.kit({**_TWO_POWERS, "ign-2": second}, {**_LEADS, "ign-2": b.lead("ign-2")}, parts=[b.RELAY])
    plan = b.fitted(b.car(_THREE_FEEDS), kit)
    assert _pins(plan)["battery feed:power"] == "key/1"
    assert len(plan.unserved) == 1
    # The accessory on the second feed or the second ignition on the third: one of them has to go without.
    left = plan.unserved[0]
    assert left.function in ("accessory", "second ignition")
    assert left.why == "Two feeds of the car, each behind a fuse of its own, would be joined there."
    assert left.would_fit_if == "the kit had one more power input for that feed of the car"


def test_a_third_power_input_is_the_fact_that_would_change_it() -> None:
    terminals = {
        **_TWO_POWERS,
        "power-c": b.terminal("power-c", "battery feed", "power in", rating_a=30, fuse_a=30),
        "ign-2": b.terminal("ign-2", "second ignition", "relay output", fed_from="power-c", rating_a=30),
    }
    leads = {**_LEADS, "ign-2": b.lead("ign-2"), "power-c": b.lead("power-c")}
    plan = b.fitted(b.car(_THREE_FEEDS), b.kit(terminals, leads))
    assert plan.unserved == ()
    pins = _pins(plan)
    assert [pins[f"battery feed:power{x}"] for x in ("", "-b", "-c")] == ["key/1", "key/6", "key/4"]


def test_a_second_accessory_hangs_on_a_relay_of_its_own() -> None:
    second = b.keyed("acc-2", "accessory 2", "key/4", "tan", 5, ("acc", "run"), "feed-b")
    circuits = {**b.CIRCUITS, "feed-b": b.feed("feed-b", "key/6", 30), "acc": _accessory(), "acc-2": second}
    plan = b.fitted(b.car(circuits), b.kit(_TWO_POWERS, _LEADS, parts=[b.RELAY]))
    part = b.route(plan, "accessory 2").joints[0].part
    assert part is not None
    assert (part.pattern, part.fed_from) == ("relay boosts", "power-b")


def test_a_second_start_wire_hangs_on_a_relay_of_its_own() -> None:
    second = b.keyed("start-2", "second start", "key/4", "tan", 5, ("crank",))
    plan = b.fitted(b.car({**b.CIRCUITS, "start-2": second}), b.kit(parts=[b.RELAY]))
    part = b.route(plan, "second start").joints[0].part
    assert part is not None
    assert part.pattern == "relay boosts"


def test_one_fuse_never_feeds_two_power_inputs() -> None:
    circuits = {**b.CIRCUITS, "acc": _accessory("feed")}
    plan = b.fitted(b.car(circuits), b.kit(_TWO_POWERS, _LEADS))
    # The starter and ignition hang on the first input, so it is the second that goes without, and the accessory too.
    left = b.unserved(plan, "battery feed:power-b")
    assert left.required
    assert left.would_fit_if == "the car had one more battery feed with a fuse of its own"
    assert b.unserved(plan, "accessory").why == (
        "The kit's power input power-b, which it takes its current from, has no feed."
    )


def test_two_pins_behind_one_fuse_are_one_feed() -> None:
    twin = b.circuit(
        "feed", "battery feed", {"template": "battery feed", "load_a": 0},
        {"from": "source", "to": "s:f", "fuse_a": 40}, b.wire("s:f", "key/1", "red"), b.wire("key/1", "body/7", "red"),
        {"from": "body/7", "to": "load"},
    )  # fmt: skip
    plan = b.fitted(b.car({**b.CIRCUITS, "feed": twin, "acc": _accessory("feed")}), b.kit(_TWO_POWERS, _LEADS))
    left = b.unserved(plan, "battery feed:power-b")
    assert left.why == "Another power input of the kit hangs on its fuse already."
    assert left.would_fit_if == "the car had one more battery feed with a fuse of its own"


def test_a_fuse_too_small_for_what_runs_from_it_is_passed_over() -> None:
    # Ignition takes 8 A with the engine running; three quarters of 10 A are less, three quarters of 15 A are more.
    branched = b.circuit(
        "feed", "battery feed", {"template": "battery feed", "load_a": 0},
        {"from": "source", "to": "s:big", "fuse_a": 25}, b.wire("s:big", "engine/6", "red"),
        {"from": "s:big", "to": "s:small", "fuse_a": 10}, b.wire("s:small", "key/4", "red"),
        {"from": "key/4", "to": "load"},
    )  # fmt: skip
    plan = b.fitted(b.car({**b.CIRCUITS, "feed": branched}), b.kit())
    route = b.route(plan, "battery feed")
    assert route.joints[0].pin == "engine/6"
    assert {r.what: r.fact for r in route.rejected}["pin 4 of key plug"] == (
        "The fuse of the feed for power would not carry all that runs from it with the engine running."
    )


def test_while_cranking_the_whole_fuse_counts() -> None:
    # 8 A ignition and 10 A starter: 18 A pass a 20 A fuse for seconds, 8 A pass three quarters of it for good.
    enough = {**b.CIRCUITS, "feed": b.feed("feed", "key/1", 20)}
    assert b.fitted(b.car(enough), b.kit()).unserved == ()
    short = {**b.CIRCUITS, "feed": b.feed("feed", "key/1", 15)}
    plan = b.fitted(b.car(short), b.kit())
    assert [u.task for u in plan.unserved if u.required]
    assert "a battery feed with a bigger fuse could be reached for power" in {u.would_fit_if for u in plan.unserved}


def test_what_the_circuit_itself_takes_is_left_to_it() -> None:
    loaded = {**b.feed("feed", "key/1", 20), "behaviour": {"template": "battery feed", "load_a": 8}}
    plan = b.fitted(b.car({**b.CIRCUITS, "feed": loaded}), b.kit())
    assert any(u.required for u in plan.unserved)


def test_a_feed_without_a_recorded_fuse_is_no_feed() -> None:
    bare = b.circuit(
        "feed", "battery feed", {"template": "battery feed"}, b.wire("source", "key/1", "red"),
        {"from": "key/1", "to": "load"},
    )  # fmt: skip
    refusal = b.refused(b.car({**b.CIRCUITS, "feed": bare}), b.kit())
    assert refusal.code == "no-battery-feed"
    assert refusal.would_fit_if == "the fuse of feed were recorded"
    assert refusal.caution == "A feed without a fuse that carries it can start a fire. Do not fit this kit."


def test_a_feed_behind_a_switch_is_no_feed() -> None:
    switched = b.circuit(
        "feed", "battery feed", {"template": "battery feed"},
        {"from": "source", "to": "s:f", "fuse_a": 40}, b.wire("s:f", "body/9", "red"),
        {"from": "body/9", "to": "key/1", "closed_when": "key in lock"}, b.wire("key/1", "load", "red"),
    )  # fmt: skip
    plan = b.fitted(b.car({**b.CIRCUITS, "feed": switched}), b.kit())
    route = b.route(plan, "battery feed")
    assert route.joints[0].pin == "body/9"
    assert [r.fact for r in route.rejected] == ["A switch stands between it and the battery."]


def test_the_ground_point_named_first_is_taken() -> None:
    grounds = [
        {"id": "z-first", "place": "panel", "words": "M6 bolt behind the panel."},
        {"id": "a-second", "place": "panel", "words": "M8 bolt of the brace."},
    ]
    route = b.route(b.fitted(b.car(grounds=grounds), b.kit()), "ground")
    assert route.joints[0].id == "j:ground/z-first"
    assert route.why == (
        "Lead EARTH goes to this bolt: M6 bolt behind the panel; the next way, M8 bolt of the brace, counts for less: "
        "the vehicle document names another point first, which is weighed as 0.5 minutes."
    )


def test_a_car_without_a_ground_point_is_refused() -> None:
    refusal = b.refused(b.car(grounds=[]), b.kit())
    assert refusal.code == "no-ground"
    assert refusal.would_fit_if == "a ground point of this car were recorded"
