"""T-harnesses whose conductors are built to fixed pins of their housing."""

from collections.abc import Mapping

from loomwright.planning.installation import Installation
from tests.planning import builders as b

_TWO_FEEDS = {**b.CIRCUITS, "feed": b.feed("feed", "key/1", 40), "feed-2": b.feed("feed-2", "key/4", 40)}
_TERMINALS = {**b.TERMINALS, "power-2": b.terminal("power-2", "battery feed", "power in", rating_a=30, fuse_a=30)}
_LEADS = {k: v for k, v in b.LEADS.items() if k not in ("power", "ign", "start")}


def _t(name: str, pins: Mapping[str, int]) -> b.Piece:
    plain = b.t_branch(name, "key-h", *pins)
    conductors = [{**c, "pin": pin} for c, pin in zip(plain["conductors"], pins.values(), strict=True)]
    return {**plain, "conductors": conductors}


def _plan(*branches: b.Piece) -> Installation:
    return b.fitted(b.car(_TWO_FEEDS), b.kit(_TERMINALS, _LEADS, branches=list(branches)))


def test_a_conductor_is_joined_only_at_the_pin_it_is_built_to() -> None:
    for first, second in ((1, 4), (4, 1)):
        plan = _plan(_t("t", {"power": first, "power-2": second, "ign": 2, "start": 3}))
        joined = {route.task: route.joints[0].pin for route in plan.routes if route.how == "T tapped"}
        # Where the feeds are crossed, the ignition would join the two; nothing else is at those pins.
        expected = {"battery feed:power": f"key/{first}", "battery feed:power-2": f"key/{second}", "start": "key/3"}
        assert joined == {**expected, **({"ignition": "key/2"} if first == 1 else {})}
        facts = {r.fact for r in b.route(plan, "battery feed:power").rejected}
        assert f"T POWER is built to pin {first} of this plug." in facts


def test_of_two_harnesses_of_one_housing_only_the_one_of_this_car_is_plugged_in() -> None:
    own = _t("own", {"power": 1, "power-2": 4, "ign": 2, "start": 3})
    other = _t("other", {"power": 3, "power-2": 4, "ign": 2, "start": 1})
    for branches in ((own, other), (other, own)):
        plan = _plan(*branches)
        assert {j.branch for j in plan.joints if j.branch is not None} == {"own"}
        assert {r.fact for r in b.route(plan, "ignition").rejected if r.what == "OTHER at key plug"} == {
            "OTHER is made for another car: its OTHER POWER would meet start at pin 3."
        }


def test_a_harness_of_another_car_alone_is_refused_with_its_strange_wire() -> None:
    other = _t("other", {"power": 3, "power-2": 4, "ign": 2, "start": 1})
    refusal = b.refused(b.car(_TWO_FEEDS), b.kit(_TERMINALS, _LEADS, branches=[other]))
    assert refusal.code == "no-battery-feed"
    assert "OTHER POWER would meet start at pin 3" in refusal.reason
    assert refusal.would_fit_if == "the wires of OTHER sat where this car has them"


def test_an_empty_place_is_no_strange_wire() -> None:
    plan = _plan(_t("t", {"power": 1, "power-2": 4, "ign": 2, "start": 3, "tach": 6}))
    assert b.route(plan, "ignition").how == "T tapped"
