"""Cars that are refused, whatever else fits: the code, the reason, the caution, and what would change it."""

from typing import Any

import pytest

from tests.planning import builders as b

# Source: 49 CFR 571.102 S3.1.3 (starter interlock of automatic gearboxes); NHTSA interpretation 24473.drn (no clutch
# or neutral switch is asked of manual gearboxes); 49 CFR 571.305 (high voltage, orange cable). The rest is common
# practice.
_CASES: list[tuple[dict[str, Any], str, str]] = [
    ({"drive": "hybrid"}, "hybrid", "the car were driven by a combustion engine alone"),
    ({"drive": "electric"}, "electric", "the car had a combustion engine"),
    ({"drive": "mild hybrid 48 V"}, "mild-hybrid-48-v", "the car were the variant with a plain 12 V starter"),
    ({"gearbox": "manual"}, "manual-gearbox", "the car had an automatic gearbox"),
    (
        {"park_interlock": "shifter lock only"},
        "shifter-lock-only",
        "the park/neutral switch sat in the start circuit or in a computer",
    ),
    ({"drive": None}, "drive-unknown", "the vehicle document stated the drive"),
    ({"gearbox": None}, "gearbox-unknown", "the vehicle document stated the gearbox"),
    ({"park_interlock": None}, "no-park", "the vehicle document stated where the park/neutral switch sits"),
]


@pytest.mark.parametrize(("traits", "code", "cure"), _CASES, ids=[c[1] for c in _CASES])
def test_a_car_is_refused_for_what_it_is(traits: dict[str, Any], code: str, cure: str) -> None:
    refusal = b.refused(b.car(traits=traits), b.kit())
    assert (refusal.code, refusal.would_fit_if) == (code, cure)
    assert refusal.reason.endswith(".")
    assert refusal.caution.endswith(".")


def test_a_hybrid_is_refused_with_the_words_about_orange_cable() -> None:
    refusal = b.refused(b.car(traits={"drive": "hybrid"}), b.kit())
    assert refusal.reason == (
        "This car is a hybrid: its engine is started by its own drive system, not by a starter."
    )
    assert refusal.caution == (
        "Orange cable carries a voltage that can kill even with the 12 V battery disconnected. Do not open or touch it."
    )


def _start_without_switch() -> dict[str, Any]:
    return {**b.CIRCUITS, "start": b.keyed("start", "start", "key/3", "yellow", 10, ("crank",))}


def test_a_start_circuit_that_shows_no_park_switch_is_refused() -> None:
    refusal = b.refused(b.car(_start_without_switch()), b.kit())
    assert refusal.code == "no-park"
    assert refusal.reason == (
        "Nothing proves that the starter stays off in gear: no park/neutral switch is recorded."
    )


def test_a_computer_that_watches_the_selector_needs_no_switch_in_the_wire() -> None:
    plan = b.fitted(b.car(_start_without_switch(), traits={"park_interlock": "computer"}), b.kit())
    assert plan.unserved == ()


def test_a_switch_in_the_ground_of_the_starter_relay_counts() -> None:
    relay = b.circuit(
        "relay-ground", "other", {"template": "relay trigger"}, {"from": "source", "to": "engine/3"},
        b.wire("engine/3", "s:sel", "black"), {"from": "s:sel", "to": "ground", "closed_when": "in park"},
    )  # fmt: skip
    assert b.fitted(b.car({**_start_without_switch(), "relay-ground": relay}), b.kit()).unserved == ()


def test_grounding_a_start_request_past_its_park_switch_is_refused() -> None:
    """The wire is pulled to ground through the selector: ground on its near side would bridge the switch."""
    request = b.circuit(
        "start", "start", {"template": "relay trigger", "coil_ohm": 90},
        {"from": "source", "to": "key/3"}, b.wire("key/3", "s:sel", "yellow"),
        {"from": "s:sel", "to": "s:out", "closed_when": "in park"}, b.wire("s:out", "ground", "yellow"),
    )  # fmt: skip
    terminals = {**b.TERMINALS, "start": b.terminal("start", "start", "negative output", rating_a=1)}
    refusal = b.refused(b.car({**b.CIRCUITS, "start": request}), b.kit(terminals))
    assert refusal.code == "no-start"
    assert "the starter would turn in gear" in refusal.reason


def test_no_setting_and_no_pin_lifts_a_refusal() -> None:
    from loomwright.planning.installation import Refusal
    from loomwright.planning.plan import match

    pinned = b.shop({"function": "start", "how": "tap", "pin": "key/3", "reason": "The buyer insists."})
    assert isinstance(match(b.car(traits={"gearbox": "manual"}), b.kit(), pinned), Refusal)
