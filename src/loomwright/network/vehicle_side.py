"""The car as elements: battery, alternator and every circuit, by one function per behaviour template."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.behaviour import (
    AirbagWire,
    BatteryFeed,
    CodedSwitch,
    DataWire,
    GroundSwitch,
    GroundWire,
    InputWire,
    KeyedFeed,
    ModuleOutput,
    PulseWire,
    RelayTrigger,
    ReversingLeg,
    SensorWire,
    StartRequest,
    SteppedInput,
    SwitchedFeed,
    SwitchedGround,
)
from loomwright.documents.car import Car
from loomwright.network.elements import GROUND, Element, Kind, Origin, When, line
from loomwright.network.paths import BATTERY, path_elements
from loomwright.network.shapes import BATTERY_V, SPREAD
from loomwright.network.templates_feeding import (
    battery_feed,
    ground_wire,
    keyed_feed,
    module_output,
    relay_trigger,
    reversing_leg,
    start_request,
    switched_feed,
    switched_ground,
)
from loomwright.network.templates_signalling import (
    airbag_wire,
    coded_switch,
    data_wire,
    ground_switch,
    input_wire,
    pulse_wire,
    sensor_wire,
    stepped_input,
)
from loomwright.network.vehicle_defaults import DEFAULT_CCA_A

__all__ = ["BATTERY_V", "CHARGING_V", "vehicle_elements"]

CHARGING_V = 14.2
"""Charging voltage where the vehicle states none [V]; common practice 13.5 to 14.7 V."""

_CCA_DROP_V = 12.6 - 7.2
"""From rest to the end voltage of the SAE J537 cold test (7.2 V at the rated current, -18 degC)."""

_WARM_SHARE = 0.5
"""A warm, charged battery has about half the cold bound's resistance; common practice."""

_CHARGE_A = 5.0
_REGULATOR_OHM = 0.001
_REGULATOR_SPREAD_V = 0.5
_SMART_V = 13.6
_SMART_SPREAD_V = 1.4
# Charging voltages of 13.5 to 14.7 V are common practice: about half a volt to either side of the stated one. A smart
# alternator moves between about 12.2 V with a full battery and 15.0 V while it takes back the car's motion (common
# practice), wherever its regulator stands just now.

_TEMPLATES: Mapping[type, Callable[..., Iterator[Element]]] = MappingProxyType({
    BatteryFeed: battery_feed,
    KeyedFeed: keyed_feed,
    SwitchedFeed: switched_feed,
    SwitchedGround: switched_ground,
    GroundWire: ground_wire,
    GroundSwitch: ground_switch,
    RelayTrigger: relay_trigger,
    InputWire: input_wire,
    ModuleOutput: module_output,
    SteppedInput: stepped_input,
    CodedSwitch: coded_switch,
    ReversingLeg: reversing_leg,
    StartRequest: start_request,
    DataWire: data_wire,
    PulseWire: pulse_wire,
    SensorWire: sensor_wire,
    AirbagWire: airbag_wire,
})  # fmt: skip


def _power(car: Car) -> Iterator[Element]:
    """Yield the battery at rest, and battery and alternator while the engine turns the latter."""
    cca = (car.traits.battery_cca_a or DEFAULT_CCA_A) * (car.traits.batteries or 1)
    running = When(stimuli=(("engine running", True),))
    still = When(stimuli=(("engine running", False),))
    charging_v = car.traits.charging_v or CHARGING_V
    spread_v = _REGULATOR_SPREAD_V
    if car.traits.alternator == "smart":
        charging_v, spread_v = _SMART_V, _SMART_SPREAD_V
    low, high = SPREAD["battery"]
    # The regulator holds the terminal at its voltage; a charged battery takes a few amperes of it. 5 A is common
    # practice for a battery that started the car a while ago.
    sources: tuple[tuple[str, Kind, float, float, When], ...] = (
        ("v:battery", "battery", _WARM_SHARE * _CCA_DROP_V / cca, BATTERY_V, still),
        ("v:battery-charging", "battery", (charging_v - BATTERY_V) / _CHARGE_A, BATTERY_V, running),
        ("v:alternator", "alternator", _REGULATOR_OHM, charging_v, running),
    )
    for name, kind, ohm, emf_v, when in sources:
        words = name.removeprefix("v:").replace("-", " ")
        yield Element(
            id=name,
            kind=kind,
            a=BATTERY,
            b=GROUND,
            shape=line(1.0 / ohm),
            origin=Origin(side="vehicle", of=name.removeprefix("v:"), words=words),
            emf_v=emf_v,
            emf_spread_v=spread_v if kind == "alternator" else 0.0,
            when=(when,),
            low=low,
            high=high,
        )


def vehicle_elements(car: Car) -> Iterator[Element]:
    """Yield the elements of the untouched car, except the joints of its plug pins (see `joining`)."""
    yield from _power(car)
    for circuit in car.circuits.values():
        if isinstance(circuit.behaviour, AirbagWire):
            continue
        yield from path_elements(circuit)
        yield from _TEMPLATES[type(circuit.behaviour)](car, circuit, circuit.behaviour)
