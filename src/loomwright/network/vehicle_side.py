"""The car as elements: battery, starter and every circuit, by one function per behaviour template."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.behaviour import (
    AirbagWire,
    BatteryFeed,
    DataWire,
    GroundSwitch,
    GroundWire,
    InputWire,
    KeyedFeed,
    PulseWire,
    RelayTrigger,
    SensorWire,
    SwitchedFeed,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.elements import ALWAYS, GROUND, Element, Kind, Origin, When, line
from loomwright.network.paths import BATTERY, end_node, fuse_ohm, path_elements
from loomwright.network.shapes import (
    COIL_DROP_OUT,
    COIL_PULL_IN,
    CONTACT_OHM,
    LINK_OHM,
    LOAD_V,
    SPREAD,
    load_shape,
)

__all__ = ["BATTERY_V", "CHARGING_V", "vehicle_elements"]

BATTERY_V = 12.6
"""Rested, charged 12 V battery [V]: BCI open-circuit voltage 12.65 V, rounded."""

CHARGING_V = 14.2
"""Charging voltage where the vehicle states none [V]; common practice 13.5 to 14.7 V."""

_CCA_A = 550.0
_CCA_DROP_V = 12.6 - 7.2
"""From rest to the end voltage of the SAE J537 cold test (7.2 V at the rated current, -18 degC)."""

_WARM_SHARE = 0.5
"""A warm, charged battery has about half the cold bound's resistance; common practice."""

_CHARGE_A = 5.0
_REGULATOR_OHM = 0.001
_REGULATOR_SPREAD_V = 0.5
# Charging voltages of 13.5 to 14.7 V are common practice: about half a volt to either side of the stated one.

_BUS_MEAN: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        # mean voltage a meter shows, and its spread, awake [V]; data sheets and service manuals' figures, see the tests
        "pulse-width": (0.6, 0.6),
        "two-wire high": (2.65, 0.2),
        "two-wire low": (2.35, 0.2),
        "single-wire": (0.6, 0.5),
        "one-wire serial": (10.0, 2.0),
        "k-line": (12.0, 0.8),
    }
)
_ON = ("run", "crank")


def _element(
    circuit: Circuit, name: str, kind: Kind, a: str, b: str, ohm: float, when: tuple[When, ...] = ALWAYS
) -> Element:
    low, high = SPREAD[kind]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind=kind,
        a=a,
        b=b,
        shape=line(1.0 / ohm),
        origin=Origin(side="vehicle", of=circuit.id, words=name),
        when=when,
        low=low,
        high=high,
    )


def _load(circuit: Circuit, name: str, kind: str, current_a: float, a: str, b: str) -> Element:
    what: Kind = "lamp" if kind == "lamp" else "motor" if kind == "motor" else "resistor"
    low, high = SPREAD[what]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind=what,
        a=a,
        b=b,
        shape=load_shape(kind, current_a),
        origin=Origin(side="vehicle", of=circuit.id, words=name),
        low=low,
        high=high,
    )


def _loads(circuit: Circuit, behaviour: BatteryFeed | KeyedFeed | SwitchedFeed) -> Iterator[Element]:
    if behaviour.load_a > 0:
        yield _load(circuit, "load", behaviour.load, behaviour.load_a, end_node(circuit, "load"), GROUND)
    for name, extra in behaviour.loads.items():
        if extra.load_a > 0:
            yield _load(circuit, f"load-{name}", extra.load, extra.load_a, end_node(circuit, name), GROUND)


def _supply(car: Car, circuit: Circuit, fed_by: str | None) -> Element:
    upstream = BATTERY if fed_by is None else end_node(car.circuits[fed_by], "load")
    return _element(circuit, "supply", "link", upstream, end_node(circuit, "source"), LINK_OHM)


def _battery_feed(car: Car, circuit: Circuit, b: BatteryFeed) -> Iterator[Element]:
    yield _supply(car, circuit, None)
    yield from _loads(circuit, b)


def _keyed_feed(car: Car, circuit: Circuit, b: KeyedFeed) -> Iterator[Element]:
    upstream = end_node(car.circuits[b.fed_by], "load")
    closed = (When(keys=frozenset(b.live)),)
    yield _element(circuit, "key-contact", "switch", upstream, end_node(circuit, "source"), CONTACT_OHM, closed)
    if not b.starter:
        yield from _loads(circuit, b)
        return
    coil_ohm = LOAD_V / max(b.load_a, 0.05)
    low, high = SPREAD["coil"]
    yield Element(
        id=f"v:{circuit.id}/solenoid",
        kind="coil",
        a=end_node(circuit, "load"),
        b=GROUND,
        shape=line(1.0 / coil_ohm),
        origin=Origin(side="vehicle", of=circuit.id, words="starter solenoid"),
        pull_in_a=COIL_PULL_IN * LOAD_V / coil_ohm,
        drop_out_a=COIL_DROP_OUT * LOAD_V / coil_ohm,
        low=low,
        high=high,
    )
    starter_a = car.traits.starter_a or 130.0
    motor_low, motor_high = SPREAD["motor"]
    yield Element(
        id=f"v:{circuit.id}/starter-motor",
        kind="motor",
        a=BATTERY,
        b=GROUND,
        # Steady cranking drops the battery to about 10 V; the motor is the resistance that draws its current there.
        shape=line(starter_a / 10.0),
        origin=Origin(side="vehicle", of=circuit.id, words="starter motor"),
        coil=f"v:{circuit.id}/solenoid",
        low=motor_low,
        high=motor_high,
    )


def _switched_feed(car: Car, circuit: Circuit, b: SwitchedFeed) -> Iterator[Element]:
    yield _supply(car, circuit, b.fed_by)
    yield from _loads(circuit, b)


def _ground_wire(_car: Car, circuit: Circuit, b: GroundWire) -> Iterator[Element]:
    yield _load(circuit, "load", b.load, max(b.load_a, 0.001), BATTERY, end_node(circuit, "source"))


def _ground_switch(_car: Car, circuit: Circuit, b: GroundSwitch) -> Iterator[Element]:
    when = (When(keys=frozenset(b.works_in), stimuli=(("awake", True),)),)
    node = end_node(circuit, "source")
    if b.pull_up_v is None:
        yield _element(circuit, "pull-up", "pull", BATTERY, node, b.pull_up_ohm, when)
    else:
        low, high = SPREAD["pull"]
        yield Element(
            id=f"v:{circuit.id}/pull-up", kind="pull", a=node, b=GROUND, shape=line(1.0 / b.pull_up_ohm),
            origin=Origin(side="vehicle", of=circuit.id, words="pull-up"), emf_v=b.pull_up_v,
            emf_spread_v=0.05 * b.pull_up_v, when=when, low=low, high=high,
        )  # fmt: skip


def _relay_trigger(_car: Car, circuit: Circuit, b: RelayTrigger) -> Iterator[Element]:
    fused = f"e:{circuit.id}/relay-feed"
    fuse_low, fuse_high = SPREAD["fuse"]
    yield Element(
        id=f"v:{circuit.id}/relay-fuse", kind="fuse", a=BATTERY, b=fused, shape=line(1.0 / fuse_ohm(b.fuse_a)),
        origin=Origin(side="vehicle", of=circuit.id, words=f"{b.fuse_a:g} A fuse"), fuse_a=b.fuse_a,
        low=fuse_low, high=fuse_high,
    )  # fmt: skip
    low, high = SPREAD["coil"]
    yield Element(
        id=f"v:{circuit.id}/coil", kind="coil", a=fused, b=end_node(circuit, "source"), shape=line(1.0 / b.coil_ohm),
        origin=Origin(side="vehicle", of=circuit.id, words="relay coil"), low=low, high=high,
        pull_in_a=COIL_PULL_IN * LOAD_V / b.coil_ohm, drop_out_a=COIL_DROP_OUT * LOAD_V / b.coil_ohm,
    )  # fmt: skip
    out = f"e:{circuit.id}/relay-out"
    contact_low, contact_high = SPREAD["contact"]
    yield Element(
        id=f"v:{circuit.id}/contact", kind="contact", a=fused, b=out, shape=line(1.0 / CONTACT_OHM),
        origin=Origin(side="vehicle", of=circuit.id, words="relay contact"), coil=f"v:{circuit.id}/coil",
        low=contact_low, high=contact_high,
    )  # fmt: skip
    yield _load(circuit, "load", b.load, b.load_a, out, GROUND)


def _input_wire(car: Car, circuit: Circuit, b: InputWire) -> Iterator[Element]:
    yield _supply(car, circuit, b.fed_by)
    yield _element(circuit, "pull-down", "pull", end_node(circuit, "load"), GROUND, b.pull_down_ohm)


def _data_wire(_car: Car, circuit: Circuit, b: DataWire) -> Iterator[Element]:
    mean, spread = _BUS_MEAN[b.bus]
    low, high = SPREAD["signal"]
    yield Element(
        id=f"v:{circuit.id}/bus", kind="signal", a=end_node(circuit, "source"), b=GROUND,
        shape=line(1.0 / b.source_ohm), origin=Origin(side="vehicle", of=circuit.id, words=f"{b.bus} bus"),
        emf_v=mean, emf_spread_v=spread, when=(When(stimuli=(("awake", True),)),), low=low, high=high,
    )  # fmt: skip


def _pulse_wire(_car: Car, circuit: Circuit, b: PulseWire) -> Iterator[Element]:
    node = end_node(circuit, "source")
    keyed = (When(keys=frozenset(_ON)), When(stimuli=(("engine running", True),)))
    yield _element(circuit, "pull-up", "pull", BATTERY, node, b.source_ohm, keyed)
    # A meter shows the mean of the train: the driver's share of low time as a steady conductance.
    pulled = b.source_ohm * b.duty / (1.0 - b.duty)
    turning = (When(stimuli=(("engine running", True),)),)
    yield _element(circuit, "pulses", "signal", node, GROUND, pulled, turning)


def _sensor_wire(_car: Car, circuit: Circuit, b: SensorWire) -> Iterator[Element]:
    low, high = SPREAD["signal"]
    yield Element(
        id=f"v:{circuit.id}/signal", kind="signal", a=end_node(circuit, "source"), b=GROUND,
        shape=line(1.0 / b.source_ohm), origin=Origin(side="vehicle", of=circuit.id, words="signal"),
        emf_v=b.rest_v, emf_spread_v=0.3 * b.rest_v, when=(When(keys=frozenset(b.live)),), low=low, high=high,
    )  # fmt: skip


def _airbag_wire(_car: Car, _circuit: Circuit, _b: AirbagWire) -> Iterator[Element]:
    yield from ()


_TEMPLATES: Mapping[type, Callable[..., Iterator[Element]]] = MappingProxyType(
    {
        BatteryFeed: _battery_feed,
        KeyedFeed: _keyed_feed,
        SwitchedFeed: _switched_feed,
        GroundWire: _ground_wire,
        GroundSwitch: _ground_switch,
        RelayTrigger: _relay_trigger,
        InputWire: _input_wire,
        DataWire: _data_wire,
        PulseWire: _pulse_wire,
        SensorWire: _sensor_wire,
        AirbagWire: _airbag_wire,
    }
)


def _power(car: Car) -> Iterator[Element]:
    """Yield the battery at rest, and battery and alternator while the engine turns the latter."""
    cca = car.traits.battery_cca_a or _CCA_A
    running = When(stimuli=(("engine running", True),))
    still = When(stimuli=(("engine running", False),))
    charging_v = car.traits.charging_v or CHARGING_V
    low, high = SPREAD["battery"]
    # The regulator holds the terminal at its voltage; a charged battery takes a few amperes of it. 5 A is common
    # practice for a battery that started the car a while ago.
    sources: tuple[tuple[str, Kind, float, float, When], ...] = (
        ("v:battery", "battery", _WARM_SHARE * _CCA_DROP_V / cca, BATTERY_V, still),
        ("v:battery-charging", "battery", (charging_v - BATTERY_V) / _CHARGE_A, BATTERY_V, running),
        ("v:alternator", "alternator", _REGULATOR_OHM, charging_v, running),
    )
    for name, kind, ohm, emf_v, when in sources:
        yield Element(
            id=name,
            kind=kind,
            a=BATTERY,
            b=GROUND,
            shape=line(1.0 / ohm),
            origin=Origin(side="vehicle", of=name.removeprefix("v:"), words=name.removeprefix("v:").replace("-", " ")),
            emf_v=emf_v,
            emf_spread_v=_REGULATOR_SPREAD_V if kind == "alternator" else 0.0,
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
