"""What a wire carries: its own loads, what always hangs on it, and the heaviest thing that somebody switches on."""

import pytest

from loomwright.planning.loads import demand_a, load_a, most_a, peak_a, through_a
from tests.planning import builders as b


def _onward(name: str, amps: float, when: str | None = None, fed_by: str = "ign") -> b.Piece:
    switch = {"closed_when": when} if when else {}
    return b.circuit(
        name, "other", {"template": "switched feed", "fed_by": fed_by, "load_a": amps},
        {"from": "source", "to": f"s:{name}", **switch}, b.wire(f"s:{name}", "load", "pink"),
    )  # fmt: skip


def _of(name: str, *circuits: b.Piece) -> tuple[float, float, float]:
    car = b.car({**b.CIRCUITS, **{c["id"]: c for c in circuits}})
    circuit = car.circuits[name]
    return load_a(car, circuit), peak_a(car, circuit), demand_a(car, circuit)


def test_what_hangs_on_a_wire_without_a_switch_always_counts() -> None:
    assert _of("ign", _onward("coils", 3), _onward("fan", 2, fed_by="coils"))[0] == 8 + 3 + 2


def test_of_what_is_switched_on_the_heaviest_counts_and_no_sum() -> None:
    wipers = (_onward("wipers", 5, "wipers on"), _onward("washer", 1, "wipers on"))
    circuits = (_onward("blower", 12, "blower on"), *wipers)
    always, most, demand = _of("ign", *circuits)
    assert (always, most) == (8, 8 + 12)
    assert demand == 0.75 * 20


def test_a_switch_that_is_closed_at_rest_is_no_switch() -> None:
    assert _of("ign", _onward("cruise", 2, "not brake pressed"))[0] == 8 + 2
    assert _of("ign", _onward("reverse", 2, "not in park")) == (8, 10, 8)


def test_what_two_hands_must_switch_on_is_left_out() -> None:
    two = b.circuit(
        "two", "other", {"template": "switched feed", "fed_by": "ign", "load_a": 9},
        {"from": "source", "to": "s:a", "closed_when": "lamps on"},
        {"from": "s:a", "to": "load", "closed_when": "horn pressed"},
    )  # fmt: skip
    assert _of("ign", two) == (8, 8, 8)


def test_a_load_of_a_keyed_feed_behind_its_own_switch_counts_as_switched() -> None:
    blower = b.circuit(
        "ign", "ignition", {"template": "keyed feed", "fed_by": "feed", "live": ["run", "crank"], "load_a": 14},
        {"from": "source", "to": "key/2"}, b.wire("key/2", "s:b", "pink"),
        {"from": "s:b", "to": "load", "closed_when": "blower on"},
    )  # fmt: skip
    assert _of("ign", blower) == (0, 14, 0.75 * 14)


def test_a_module_s_output_counts_as_its_module_has_it() -> None:
    output = b.circuit(
        "out", "other", {"template": "module output", "on_when": "engine running", "fed_by": "ign", "load_a": 4},
        {"from": "source", "to": "body/9"}, b.wire("body/9", "load", "pink"),
    )  # fmt: skip
    assert _of("ign", output)[0] == 12


@pytest.mark.parametrize(
    ("behaviour", "amps"),
    [
        # Ohm's law at 12 V, or at the module's own voltage.
        ({"template": "ground switch", "pull_up_ohm": 1000}, 0.012),
        ({"template": "ground switch", "pull_up_ohm": 1000, "pull_up_v": 5}, 0.005),
        ({"template": "relay trigger", "coil_ohm": 80}, 0.15),
        ({"template": "input wire", "pull_down_ohm": 6000}, 0.002),
        ({"template": "start request", "fed_by": "feed", "pull_down_ohm": 6000}, 0.002),
        (
            {
                "template": "stepped input", "pull_up_ohm": 900,
                "steps": [{"function": "lock", "when": "lock pressed", "resistance_ohm": 300}],
            },
            0.01,
        ),
        ({"template": "reversing leg", "partner": "x", "live_when": "lock pressed", "load_a": 6}, 6),
        ({"template": "switched ground", "load_a": 0.3}, 0.3),
        ({"template": "coded switch", "resistances": {"run": 300}}, 0),
        ({"template": "data wire", "bus": "k-line"}, 0),
    ],
)  # fmt: skip
def test_what_each_kind_of_wire_takes(behaviour: b.Piece, amps: float) -> None:
    it = b.circuit("it", "other", behaviour, {"from": "source", "to": "body/9"}, b.wire("body/9", "load"))
    assert _of("it", it)[0] == pytest.approx(amps)


def test_a_feed_carries_what_the_key_takes_from_it_in_its_heaviest_position() -> None:
    car = b.car({**b.CIRCUITS, "blower": _onward("blower", 12, "blower on")})
    # Run: ignition 8 A and the blower 12 A. Crank: ignition 8 A, starter 10 A and the blower as well.
    assert through_a(car, car.circuits["feed"]) == 8 + 10 + 12
    assert through_a(car, car.circuits["start"]) == 10


def test_one_switch_in_two_circuits_adds_up() -> None:
    assert most_a([{None: 1.0, "lamps on": 2.0}, {None: 3.0, "lamps on": 4.0, "wipers on": 5.0}]) == 1 + 3 + 6
    assert most_a([]) == 0
