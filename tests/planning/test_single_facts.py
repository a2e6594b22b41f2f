"""For each refusal and exception the one fact that would change it: applied, it does change it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from loomwright.documents.car import Car
from loomwright.documents.kit import Kit
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from tests.planning import builders as b


@dataclass(frozen=True, kw_only=True)
class Case:
    """A pair that does not go together, the fact that is told, and the pair with that fact changed."""

    before: Callable[[], tuple[Car, Kit]]
    task: str | None  # None where the car is refused for what it is
    fact: str
    after: Callable[[], tuple[Car, Kit]]


def _without(name: str) -> dict[str, b.Piece]:
    return {k: v for k, v in b.CIRCUITS.items() if k != name}


def _trait(value: dict[str, str], fact: str) -> Case:
    return Case(
        before=lambda: (b.car(traits=value), b.kit()), task=None, fact=fact, after=lambda: (b.car(), b.kit())
    )  # fmt: skip


def _wanted(
    circuits: Mapping[str, b.Piece], terminals: Mapping[str, b.Piece], wanted: list[str], **changes: Any
) -> tuple[Car, Kit]:
    leads = {**b.LEADS, **{name: b.lead(name) for name in terminals}}
    return b.car({**b.CIRCUITS, **circuits}), b.kit({**b.TERMINALS, **terminals}, leads, wanted=wanted, **changes)


_LAMPS = {"lamps": b.lamps("lamps", "parking light", "body/5", "brown", 3)}
_PULLS = {"park": b.terminal("park", "parking light", "negative output", rating_a=0.5)}
_SIDES = {
    "left": b.lamps("left", "parking light left", "body/5", "brown", 1.5),
    "right": b.lamps("right", "parking light right", "body/6", "tan", 1.5),
}
_PUTS = {"park": b.terminal("park", "parking light", "positive output", rating_a=6, fed_from="power")}
_STEPPED = {
    "rocker": b.circuit(
        "rocker", "lock",
        {
            "template": "stepped input", "pull_up_ohm": 1000,
            "steps": [{"function": "lock", "when": "lock pressed", "resistance_ohm": 822}],
        },
        {"from": "source", "to": "body/7"}, b.wire("body/7", "load", "grey"),
    )
}  # fmt: skip
_LOCK = {"lock": b.terminal("lock", "lock", "negative output", rating_a=0.25)}
_R820 = {
    "id": "r", "kind": "resistor", "name": "resistor 820 ohm", "rating_a": 0.02, "resistance_ohm": 820, "stock": 1,
}  # fmt: skip
_DIODES = {"id": "d", "kind": "diode", "name": "diode 3 A", "rating_a": 3, "stock": 2, "price": 0.5}


def _bus(*functions: str, only: str = "automatic") -> tuple[Car, Kit]:
    """Return a car without wires for doors and locks and firmware for some functions of some variants."""
    module = {
        "name": "M", "hardware": "1", "firmware": "f", "version": "1",
        "services": [{"function": f, "vehicle": "test-car", "only": {"trim": only}} for f in functions],
    }  # fmt: skip
    axes = [{"id": "trim", "ask": "Which?", "values": [{"value": "automatic", "cue": "x"}]}]
    from loomwright.documents.car import resolve
    from loomwright.documents.vehicle import Vehicle

    plain = b.car({**b.CIRCUITS, "bus": b.data_wire("bus", "body/8")})
    vehicle = Vehicle.model_validate({
        "kind": "vehicle", "id": "test-car", "names": [{"maker": "Test", "model": "Car"}], "axes": axes,
        "traits": [plain.traits.model_dump(exclude_none=True)],
        "places": [p.model_dump() for p in plain.places.values()],
        "plugs": [p.model_dump(by_alias=True) for p in plain.plugs.values()],
        "grounds": [g.model_dump() for g in plain.grounds],
        "circuits": [c.model_dump(by_alias=True) for c in plain.circuits.values()],
    })  # fmt: skip
    terminals = {**b.TERMINALS, "data": b.terminal("data", "bus", "data port")}
    kit = b.kit(terminals, {**b.LEADS, "data": b.lead("data")}, wanted=list(functions), vehicle_module=module)
    return resolve(vehicle, {"trim": "automatic"}), kit


CASES: dict[str, Case] = {
    "a hybrid": _trait({"drive": "hybrid"}, "the car were driven by a combustion engine alone"),
    "an electric car": _trait({"drive": "electric"}, "the car had a combustion engine"),
    "a 48 V system": _trait({"drive": "mild hybrid 48 V"}, "the car were the variant with a plain 12 V starter"),
    "a manual gearbox": _trait({"gearbox": "manual"}, "the car had an automatic gearbox"),
    "only a shifter lock": _trait(
        {"park_interlock": "shifter lock only"}, "the park/neutral switch sat in the start circuit or in a computer"
    ),
    "no brake circuit": Case(
        before=lambda: (b.car(_without("brake")), b.kit()), task="brake",
        fact="a brake circuit of this car were recorded", after=lambda: (b.car(), b.kit()),
    ),
    "no hood input": Case(
        before=lambda: (b.car(), b.kit({k: v for k, v in b.TERMINALS.items() if k != "hood"},
                                       {k: v for k, v in b.LEADS.items() if k != "hood"})),
        task="hood switch", fact="the kit had a hood switch input", after=lambda: (b.car(), b.kit()),
    ),
    "no ground point": Case(
        before=lambda: (b.car(grounds=[]), b.kit()), task="ground", fact="a ground point of this car were recorded",
        after=lambda: (b.car(), b.kit()),
    ),
    "a feed without a fuse": Case(
        before=lambda: (
            b.car({**b.CIRCUITS, "feed": {**b.CIRCUITS["feed"], "path": [
                {"from": "source", "to": "s:feed"}, *b.CIRCUITS["feed"]["path"][1:]]}}), b.kit(),
        ),
        task="battery feed", fact="the fuse of feed were recorded", after=lambda: (b.car(), b.kit()),
    ),
    "no relay in stock": Case(
        before=lambda: _wanted(_LAMPS, _PULLS, ["parking light"], parts=[{**b.RELAY, "stock": 0}]),
        task="parking light", fact="the kit held one more relay 30 A",
        after=lambda: _wanted(_LAMPS, _PULLS, ["parking light"], parts=[{**b.RELAY, "stock": 1}]),
    ),
    "no relay at all": Case(
        before=lambda: _wanted(_LAMPS, _PULLS, ["parking light"]), task="parking light",
        fact="the kit held a relay for 4 A for parking light",
        after=lambda: _wanted(_LAMPS, _PULLS, ["parking light"], parts=[{**b.RELAY, "rating_a": 4}]),
    ),
    "no resistor": Case(
        before=lambda: _wanted(_STEPPED, _LOCK, ["lock"]), task="lock",
        fact="the kit held a resistor of 820 ohm for lock",
        after=lambda: _wanted(_STEPPED, _LOCK, ["lock"], parts=[_R820]),
    ),
    "no diode": Case(
        before=lambda: _wanted(_SIDES, _PUTS, ["parking light"]), task="parking light left",
        fact="the kit held a diode for 2 A for parking light left",
        after=lambda: _wanted(_SIDES, _PUTS, ["parking light"], parts=[{**_DIODES, "rating_a": 2}]),
    ),
    "one diode for two sides": Case(
        before=lambda: _wanted(_SIDES, _PUTS, ["parking light"], parts=[{**_DIODES, "stock": 1}]), task=None,
        fact="the kit held one more diode 3 A",
        after=lambda: _wanted(_SIDES, _PUTS, ["parking light"], parts=[_DIODES]),
    ),
    "firmware for another variant": Case(
        before=lambda: _bus("door switch", only="other"), task="door switch",
        fact="the vehicle module's firmware offered door switch for this variant", after=lambda: _bus("door switch"),
    ),
    "no power locks": Case(
        before=lambda: _bus("lock", only="other"), task="lock", fact="the car had a lock wire",
        after=lambda: _wanted(
            {"rocker": b.grounded("rocker", "lock", "body/7", "grey", "lock pressed")}, _LOCK, ["lock"]
        ),
    ),
    "an output too weak": Case(
        before=lambda: _wanted(_LAMPS, {"park": {**_PUTS["park"], "rating_a": 2}}, ["parking light"]),
        task="parking light", fact="the kit held a relay for 4 A for parking light",
        after=lambda: _wanted(_LAMPS, {"park": {**_PUTS["park"], "rating_a": 2}}, ["parking light"], parts=[b.RELAY]),
    ),
    "a kit for another car": Case(
        before=lambda: (b.car(), b.kit(leads={k: v for k, v in b.LEADS.items() if k != "power"},
                                       branches=[b.t_branch("key-t", "other-h", "power")])),
        task="battery feed", fact="KEY-T fitted a plug of this car",
        after=lambda: (b.car(), b.kit(leads={k: v for k, v in b.LEADS.items() if k != "power"},
                                      branches=[b.t_branch("key-t", "key-h", "power")])),
    ),
}  # fmt: skip


def _told(found: Installation | Refusal, task: str | None) -> tuple[str, str]:
    """Return (fact, why) that the result tells of a task, or of the whole."""
    if isinstance(found, Refusal):
        return found.would_fit_if, found.reason
    left = [u for u in found.unserved if task in (None, u.task)]
    assert left, f"everything is served: {[r.task for r in found.routes]}"
    return left[0].would_fit_if, left[0].why


@pytest.mark.parametrize("name", CASES)
def test_the_fact_is_told_and_changes_the_outcome(name: str) -> None:
    case = CASES[name]
    car, kit = case.before()
    fact, why = _told(match(car, kit, b.shop()), case.task)
    assert fact == case.fact
    assert why.endswith(".")
    car, kit = case.after()
    found = match(car, kit, b.shop())
    assert isinstance(found, Installation), found.reason
    assert not [u for u in found.unserved if case.task in (None, u.task)]


def test_a_key_with_a_resistor_in_it_is_served_by_no_message() -> None:
    bus = {**b.CIRCUITS, "bus": b.data_wire("bus", "body/8")}
    cure = "the kit held a relay and the key's own measured resistor"
    assert b.refused(b.car(bus, traits={"immobiliser": "resistor key"}), b.kit()).would_fit_if == cure
    _, kit = _bus("lock")  # a module that serves something, and no key
    assert b.refused(b.car(bus, traits={"immobiliser": "resistor key"}), kit).would_fit_if == cure
    told = b.refused(b.car(traits={"immobiliser": "cylinder sensor"}), kit).would_fit_if
    assert told == "the kit held a relay and a resistor of the value measured at the sensor's wire"
    told = b.refused(b.car(bus, traits={"immobiliser": "cylinder sensor"}), kit).would_fit_if
    assert told == "the vehicle module's firmware offered immobiliser for this variant"


def test_a_second_start_without_which_the_engine_does_not_catch_is_required() -> None:
    for needed in (False, True):
        second = {**b.keyed("second", "second start", "key/4", "tan", 2, ("crank",)), "needed_to_start": needed}
        cars = b.car({**b.CIRCUITS, "second": second})
        terminals = {**b.TERMINALS, "second": b.terminal("second", "second start", "relay output", fed_from="power",
                                                         rating_a=5)}  # fmt: skip
        assert (
            b.route(b.fitted(cars, b.kit(terminals, {**b.LEADS, "second": b.lead("second")})), "second start").required
            is needed
        )
        result = match(cars, b.kit(), b.shop())
        assert isinstance(result, Refusal if needed else Installation)
        if isinstance(result, Refusal):
            assert result.code == "no-second-start"
