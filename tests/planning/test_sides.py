"""What operates a wire, and on which side of a pin the factory's own signal comes from."""

from typing import Any, get_args

import pytest

from loomwright.documents.behaviour import Behaviour
from loomwright.documents.vehicle import Circuit, Vehicle
from loomwright.network.paths import pin_sides
from loomwright.planning.loads import load_a
from loomwright.planning.sides import _POLARITY, between, factory_side, polarity
from tests.demonstration import documents
from tests.planning import builders as b

_TEMPLATES = [get_args(part.model_fields["template"].annotation)[0] for part in get_args(get_args(Behaviour)[0])]


def test_every_template_of_a_behaviour_has_a_polarity() -> None:
    assert set(_POLARITY) == set(_TEMPLATES)
    assert len(_TEMPLATES) == 17


def test_an_unknown_template_is_never_joined_and_never_raises() -> None:
    circuit = Circuit.model_validate(b.CIRCUITS["hood"])
    strange = circuit.model_copy(
        update={"behaviour": circuit.behaviour.model_copy(update={"template": "something new"})}
    )
    assert polarity(strange) == "none"


_MINIMAL: dict[str, dict[str, Any]] = {
    "keyed feed": {"fed_by": "feed", "live": ["run"]},
    "module output": {"on_when": "lamps on"},
    "stepped input": {"steps": [{"function": "lock", "when": "lock pressed", "resistance_ohm": 500}]},
    "coded switch": {"resistances": {"run": 500}},
    "reversing leg": {"partner": "other", "live_when": "lock pressed"},
    "start request": {"fed_by": "feed"},
    "data wire": {"bus": "k-line"},
}


@pytest.mark.parametrize("template", _TEMPLATES)
def test_every_template_can_be_asked_what_it_takes_and_be_planned_around(template: str) -> None:
    for function in ("lock", "tach", "parking light"):
        circuit = b.circuit(
            "it", function, {"template": template, **_MINIMAL.get(template, {})}, {"from": "source", "to": "body/9"},
            b.wire("body/9", "load", "blue"),
        )  # fmt: skip
        car = b.car({**b.CIRCUITS, "it": circuit})
        assert load_a(car, car.circuits["it"]) >= 0.0
        terminals = {
            **b.TERMINALS,
            "lock": b.terminal("lock", "lock", "negative output", rating_a=0.5),
            "park": b.terminal("park", "parking light", "positive output", rating_a=5, fed_from="power"),
        }
        leads = {**b.LEADS, "lock": b.lead("lock"), "park": b.lead("park")}
        b.fitted(car, b.kit(terminals, leads, parts=[b.RELAY], wanted=["lock", "parking light"]))


def _demo_circuits() -> list[Circuit]:
    return [c for v in documents().values() if isinstance(v, Vehicle) for c in v.circuits]


def test_the_sides_of_every_pin_of_the_demonstration_are_those_of_the_network() -> None:
    told = 0
    for circuit in _demo_circuits():
        nodes = pin_sides(circuit)
        for pin in {end for s in circuit.path for end in (s.from_, s.to) if "/" in end}:
            side = factory_side(circuit, pin)
            if side is None:
                continue
            back = between(circuit, pin, "source")
            assert back
            step = next(n for n, s in enumerate(circuit.path) if s is back[0])
            assert side == {"h": "harness side", "m": "plug side"}[nodes[step, pin]], (circuit.id, pin)
            told += 1
    assert told > 500


@pytest.mark.parametrize(
    ("path", "side"),
    [
        (({"from": "source", "to": "body/9"}, b.wire("body/9", "load")), "plug side"),
        ((b.wire("source", "body/9"), {"from": "body/9", "to": "load"}), "harness side"),
        # Between two harnesses the wire nearer the source keeps the harness side.
        ((b.wire("source", "body/9"), b.wire("body/9", "load")), "harness side"),
        # Both ways leave on the same side: there is nothing to open.
        ((b.wire("source", "s:x"), b.wire("s:x", "body/9"), b.wire("s:x", "load")), None),
    ],
)
def test_the_factory_s_end_of_a_cut(path: tuple[b.Piece, ...], side: str | None) -> None:
    circuit = b.circuit("it", "horn", {"template": "switched feed"}, *path)
    assert factory_side(Circuit.model_validate(circuit), "body/9") == side
