"""Each way to put a part between kit and car is sound, and the way without it is found out."""

from dataclasses import replace

import pytest

from loomwright.planning.installation import Installation, Joint
from tests.network.sound import DIODE, codes, rejoined, sound_car, sound_kit
from tests.planning import builders as b


def _straight(joint: Joint) -> Joint:
    """Join the lead to the closed wire, with nothing between."""
    return replace(joint, kind="tap", part=None, factory_side=None)


def _part(plan: Installation, task: str) -> tuple[str, str | None]:
    part = b.route(plan, task).joints[0].part
    return ("", None) if part is None else (part.pattern, part.fed_from)


def test_the_small_pair_itself_is_sound() -> None:
    assert codes(b.fitted(sound_car(), sound_kit())) == set()




def _lamps(name: str, function: str, pin: str, when: str = "lamps on") -> b.Piece:
    """Return fused lamps of 2 A behind a switch."""
    return b.circuit(
        name, function, {"template": "switched feed", "load_a": 2, "load": "lamp"},
        {"from": "source", "to": "s:fuse", "fuse_a": 10},
        {"from": "s:fuse", "to": pin, "closed_when": when, "switch": "the lamp switch"}, b.wire(pin, "load", "brown"),
    )  # fmt: skip


_LAMPS = _lamps("lamps", "parking light", "body/5")
_HORN = b.circuit(
    "horn", "horn", {"template": "relay trigger", "coil_ohm": 90}, {"from": "source", "to": "body/6"},
    b.wire("body/6", "s:pad", "green"), {"from": "s:pad", "to": "ground", "closed_when": "horn pressed"},
)  # fmt: skip


_UNLOCK = b.circuit(
    "unlock", "unlock", {"template": "input wire", "pull_down_ohm": 470},
    {"from": "source", "to": "s:fuse", "fuse_a": 10},
    {"from": "s:fuse", "to": "body/7", "closed_when": "unlock pressed", "switch": "the button"},
    b.wire("body/7", "load", "grey"),
)  # fmt: skip


def _driven(circuit: b.Piece, kind: str, rating_a: float) -> Installation:
    function = str(circuit["function"])
    fed = {} if kind == "negative output" else {"fed_from": "power"}
    kit = sound_kit(b.terminal("out", function, kind, rating_a=rating_a, **fed), wanted=[function])
    return b.fitted(sound_car(circuit), kit)


@pytest.mark.parametrize(
    ("circuit", "kind", "rating_a", "pattern"),
    [
        (_LAMPS, "negative output", 0.3, "relay changes over"),
        (_LAMPS, "positive output", 0.3, "relay changes over"),
        (_LAMPS, "relay output", 6, "diode cuts in"),
        (_UNLOCK, "negative output", 0.3, "relay inverts"),
        (_UNLOCK, "positive output", 0.3, ""),
        (_HORN, "positive output", 0.3, "relay grounds"),
        (_HORN, "negative output", 0.3, ""),
    ],
)
def test_an_output_of_another_sign_or_too_weak_works_through_its_relay(
    circuit: b.Piece, kind: str, rating_a: float, pattern: str
) -> None:
    plan = _driven(circuit, kind, rating_a)
    task = str(circuit["function"])
    assert _part(plan, task)[0] == pattern
    assert codes(plan) == set()
    if pattern:
        assert codes(rejoined(plan, task, _straight)) != set()


def test_a_horn_relay_too_big_for_the_output_is_worked_by_a_smaller_one() -> None:
    small = {**b.RELAY, "coil_ohm": 300}
    kit = sound_kit(b.terminal("out", "horn", "negative output", rating_a=0.12), wanted=["horn"], parts=[small])
    plan = b.fitted(sound_car(_HORN), kit)
    assert _part(plan, "horn") == ("relay grounds", "power")
    assert codes(plan) == set()


@pytest.mark.parametrize(("part", "pattern"), [(DIODE, "diode"), (b.RELAY, "relay changes over")])
def test_a_part_for_each_side_keeps_the_lamp_of_one_side_alone(part: b.Piece, pattern: str) -> None:
    """With one side on by itself the other must stay dark."""
    sides = [
        _lamps(side, f"parking light {side}", pin, f"turn {side} on")
        for side, pin in (("left", "body/5"), ("right", "body/6"))
    ]
    park = b.terminal("park", "parking light", "positive output", rating_a=6, fed_from="power")
    plan = b.fitted(sound_car(*sides), sound_kit(park, wanted=["parking light"], parts=[part]))
    assert {_part(plan, f"parking light {s}")[0] for s in ("left", "right")} == {pattern}
    assert codes(plan) == set()
    wrong = rejoined(plan, "parking light left", _straight)
    wrong = rejoined(wrong, "parking light right", _straight)
    assert ("live-when-it-should-be-dead", "right") in codes(wrong)


_SECOND = b.keyed("ign-2", "second ignition", "key/4", "green", 6, ("run", "crank"))


def test_a_relay_for_the_second_ignition_is_sound() -> None:
    plan = b.fitted(sound_car(_SECOND), sound_kit())
    assert _part(plan, "second ignition") == ("relay boosts", "power")
    assert codes(plan) == set()


def test_an_accessory_on_the_ignition_output_is_found_out() -> None:
    drops = b.keyed("ign-2", "second ignition", "key/4", "green", 6, ("run",))
    plan = b.fitted(sound_car(_SECOND), sound_kit())
    wrong = replace(plan, car=sound_car(drops))
    assert ("live-when-it-should-be-dead", "ign-2") in codes(wrong)


_STEPPED = b.circuit(
    "locks", "lock",
    {
        "template": "stepped input", "pull_up_ohm": 1000, "pull_up_v": 5,
        "steps": [
            {"function": "unlock", "when": "unlock pressed", "resistance_ohm": 330},
            {"function": "lock", "when": "lock pressed", "resistance_ohm": 1000},
        ],
    },
    {"from": "source", "to": "body/7"}, b.wire("body/7", "load", "grey"),
)  # fmt: skip


def _resistor(ohm: float, **extra: object) -> b.Piece:
    return {
        "id": f"r-{ohm:g}", "kind": "resistor", "name": f"resistor {ohm:g} ohm", "rating_a": 0.02, "stock": 2,
        "resistance_ohm": ohm, **extra,
    }  # fmt: skip


_LOCKS = (
    b.terminal("lock", "lock", "negative output", rating_a=0.25),
    b.terminal("unlock", "unlock", "negative output", rating_a=0.25),
)


def _stepped_plan() -> Installation:
    kit = sound_kit(*_LOCKS, wanted=["lock", "unlock"], parts=[_resistor(330), _resistor(1000)])
    return b.fitted(sound_car(_STEPPED), kit)


def test_two_resistors_on_one_stepped_wire_are_read_as_their_steps() -> None:
    plan = _stepped_plan()
    assert {_part(plan, t)[0] for t in ("lock", "unlock")} == {"resistor"}
    assert codes(plan) == set()


def test_a_stepped_wire_pulled_to_ground_is_found_out() -> None:
    assert codes(rejoined(_stepped_plan(), "lock", _straight)) == {("fed-in-part", "locks")}


def test_the_wrong_resistor_is_found_out() -> None:
    plan = _stepped_plan()

    def other(joint: Joint) -> Joint:
        assert joint.part is not None
        return replace(joint, part=replace(joint.part, part="r-330"))

    assert codes(rejoined(plan, "lock", other)) == {("fed-in-part", "locks")}


def _leg(name: str, partner: str, pin: str, when: str) -> b.Piece:
    return b.circuit(
        name, "lock motor",
        {"template": "reversing leg", "partner": partner, "live_when": when, "fuse_a": 20, "load_a": 6},
        {"from": "source", "to": pin}, b.wire(pin, "load", "blue"),
    )  # fmt: skip


_LEGS = (_leg("leg-a", "leg-b", "body/8", "lock pressed"), _leg("leg-b", "leg-a", "body/9", "unlock pressed"))


def _reversing_plan() -> Installation:
    return b.fitted(sound_car(*_LEGS), sound_kit(*_LOCKS, wanted=["lock", "unlock"]))


def test_two_relays_that_change_over_work_reversing_locks() -> None:
    plan = _reversing_plan()
    assert {_part(plan, t) for t in ("lock", "unlock")} == {("relay changes over", "power")}
    # The lock module sits behind the plug, so the factory's end is the one that stays in it.
    assert {b.route(plan, t).joints[0].factory_side for t in ("lock", "unlock")} == {"plug side"}
    assert codes(plan) == set()


def test_a_leg_driven_without_being_opened_is_a_short() -> None:
    def boosts(joint: Joint) -> Joint:
        assert joint.part is not None
        part = replace(joint.part, pattern="relay inverts")
        return replace(joint, kind="tap", part=part, factory_side=None)

    found = codes(rejoined(_reversing_plan(), "lock", boosts))
    assert "over-rating" in {code for code, _ in found}


def test_a_relay_wired_the_wrong_way_round_is_found_out() -> None:
    wrong = rejoined(_reversing_plan(), "lock", lambda j: replace(j, factory_side="harness side"))
    assert ("dead-when-it-should-live", "leg-a") in codes(wrong)


_MODULE_LAMPS = b.circuit(
    "lamps", "parking light",
    {"template": "module output", "on_when": "lamps on", "load_a": 3, "load": "lamp", "shuts_off_when_back_fed": True},
    {"from": "source", "to": "body/5"}, b.wire("body/5", "load", "brown"),
)  # fmt: skip
_PARK = b.terminal("park", "parking light", "positive output", rating_a=5, fed_from="power")


@pytest.mark.parametrize("more", [{}, {"duty": 0.6, "shuts_off_when_back_fed": False}])
def test_a_relay_parts_a_module_from_the_lamps_it_guards_or_dims(more: dict[str, object]) -> None:
    lamps = {**_MODULE_LAMPS, "behaviour": {**_MODULE_LAMPS["behaviour"], **more}}
    plan = b.fitted(sound_car(lamps), sound_kit(_PARK, wanted=["parking light"]))
    assert _part(plan, "parking light") == ("relay changes over", "power")
    assert codes(plan) == set()


_BUTTON = {"key": "button", "start_style": "button", "park_interlock": "computer"}
_PRESS = b.grounded("press", "start button", "key/6", "green", "start pressed", pull_up_ohm=1000)
_LINE = b.circuit(
    "line", "brake line", {"template": "switched feed", "fed_by": "brake", "load_a": 0.02, "load": "electronic"},
    b.wire("source", "pedal/5", "white"), b.wire("pedal/5", "body/4", "white"), {"from": "body/4", "to": "load"},
)  # fmt: skip


def _button_plan(*parts: b.Piece, rating_a: float = 0.5) -> Installation:
    kit = sound_kit(
        b.terminal("press", "start button", "negative output", rating_a=0.25),
        b.terminal("line", "brake line", "positive output", rating_a=rating_a, fed_from="power"),
        parts=list(parts),
    )
    return b.fitted(sound_car(_PRESS, _LINE, **_BUTTON), kit)


@pytest.mark.parametrize(("part", "pattern"), [(DIODE, "diode cuts in"), (b.RELAY, "relay changes over")])
def test_a_brake_line_cut_in_lights_no_stop_lamp(part: b.Piece, pattern: str) -> None:
    plan = _button_plan(part)
    assert _part(plan, "brake line")[0] == pattern
    assert codes(plan) == set()


def test_a_brake_line_driven_without_being_opened_lights_the_stop_lamps_and_the_kit_sees_a_pedal() -> None:
    found = codes(rejoined(_button_plan(DIODE, rating_a=8), "brake line", _straight))
    assert ("live-when-it-should-be-dead", "brake") in found
    assert ("input-wrong", "j:brake/pedal/2") in found


def test_a_diode_the_wrong_way_round_keeps_the_pedal_from_its_computer() -> None:
    wrong = rejoined(_button_plan(DIODE), "brake line", lambda j: replace(j, factory_side="plug side"))
    assert ("dead-when-it-should-live", "line") in codes(wrong)


_REQUEST = b.circuit(
    "start", "start", {"template": "start request", "fed_by": "feed", "hold_s": 1.5}, {"from": "source", "to": "key/3"},
    b.wire("key/3", "load", "yellow"),
)  # fmt: skip
_PULSE = {
    "id": "start-as", "name": "Start signal", "default": "held",
    "choices": [
        {"value": "held", "means": "Until the engine runs."},
        {"value": "long", "means": "Two seconds.", "pulse_s": 2},
        {"value": "short", "means": "One second.", "pulse_s": 1},
    ],
}  # fmt: skip


def test_a_start_request_gets_a_pulse_and_a_held_signal_is_found_out() -> None:
    plan = b.fitted(sound_car(_REQUEST, park_interlock="computer"), sound_kit(settings=[_PULSE]))
    assert dict(plan.settings) == {"start-as": "short"}
    assert codes(plan) == set()
    for value in ("held", "long"):
        found = codes(replace(plan, settings=(("start-as", value),)))
        assert found == {("start-held", "j:start/key/3"), ("setting-misfits", "start-as")}


def test_a_wait_lamp_is_read_only_while_it_has_its_feed() -> None:
    wait = b.circuit(
        "wait", "wait-to-start", {"template": "switched ground", "fed_by": "ign", "load_a": 0.1},
        {"from": "source", "to": "body/12"}, b.wire("body/12", "s:w", "grey"),
        {"from": "s:w", "to": "ground", "closed_when": "wait lamp lit"},
    )  # fmt: skip
    kit = sound_kit(b.terminal("wait", "wait-to-start", "negative input"))
    plan = b.fitted(sound_car(wait, fuel="diesel"), kit)
    assert b.route(plan, "wait-to-start").joints[0].pin == "body/12"
    assert codes(plan) == set()
    # On the lamp's fed side nothing changes, and the proof says so.
    wrong = rejoined(plan, "wait-to-start", lambda j: replace(j, pin="key/2", circuit="ign"))
    assert ("input-wrong", "j:wait-to-start/body/12") in codes(wrong)


def test_two_contacts_of_one_button_stay_apart_behind_their_diodes() -> None:
    second = b.grounded("press-2", "start button", "key/4", "green", "horn pressed", pull_up_ohm=1000)
    kit = sound_kit(
        b.terminal("press", "start button", "negative output", rating_a=0.25),
        b.terminal("line", "brake line", "positive output", rating_a=0.5, fed_from="power"),
    )
    plan = b.fitted(sound_car(_PRESS, second, _LINE, **_BUTTON), kit)
    assert {_part(plan, f"start button:{c}")[0] for c in ("press", "press-2")} == {"diode"}
    assert codes(plan) == set()
    wrong = rejoined(rejoined(plan, "start button:press", _straight), "start button:press-2", _straight)
    assert ("trigger-not-pulled", "press") in codes(wrong) or ("pulled-by-itself", "press") in codes(wrong)
