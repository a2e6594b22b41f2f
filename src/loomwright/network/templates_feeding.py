"""Templates of circuits that feed something: from the battery, the key, a switch or a module."""

from collections.abc import Iterator

from loomwright.documents.behaviour import (
    BatteryFeed,
    GroundWire,
    KeyedFeed,
    ModuleOutput,
    RelayTrigger,
    ReversingLeg,
    StartRequest,
    SwitchedFeed,
    SwitchedGround,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.elements import GROUND, Element, Origin, When
from loomwright.network.paths import BATTERY, end_node
from loomwright.network.shapes import BATTERY_V, CONTACT_OHM, LOAD_V, SPREAD, driver_shape
from loomwright.network.template_parts import (
    coil_element,
    contact_element,
    fuse_element,
    load_element,
    load_elements,
    starter_element,
    supply_element,
    supply_node,
    vehicle_element,
)

__all__ = [
    "battery_feed",
    "ground_wire",
    "keyed_feed",
    "module_output",
    "relay_trigger",
    "reversing_leg",
    "start_request",
    "switched_feed",
    "switched_ground",
]

_OUTPUT_OHM = 0.1
_REQUEST_PULL_IN = 0.5
"""A computer takes its start request for true above about half of battery voltage; common practice."""


def battery_feed(car: Car, circuit: Circuit, b: BatteryFeed) -> Iterator[Element]:
    """Yield a feed that is live at all times."""
    yield supply_element(car, circuit, None)
    yield from load_elements(circuit, b)


def _closed(b: KeyedFeed | StartRequest) -> tuple[When, ...]:
    keyed = When(keys=frozenset(b.live))
    if isinstance(b, KeyedFeed) and b.retained:
        return (keyed, When(keys=frozenset({"off"}), stimuli=(("retained accessory", True),)))
    return (keyed,)


def keyed_feed(car: Car, circuit: Circuit, b: KeyedFeed) -> Iterator[Element]:
    """Yield a contact of the ignition switch and what it feeds; the starter with its solenoid where it is that."""
    upstream, source = supply_node(car, b.fed_by), end_node(circuit, "source")
    yield vehicle_element(circuit, "key-contact", "switch", upstream, source, CONTACT_OHM, _closed(b))
    if not b.starter:
        yield from load_elements(circuit, b)
        return
    solenoid = coil_element(circuit, "solenoid", LOAD_V / max(b.load_a, 0.05), end_node(circuit, "load"), GROUND)
    yield solenoid
    yield starter_element(car, circuit, solenoid.id)


def start_request(car: Car, circuit: Circuit, b: StartRequest) -> Iterator[Element]:
    """Yield a light contact of the ignition switch and the computer that cranks on it."""
    upstream, source = supply_node(car, b.fed_by), end_node(circuit, "source")
    yield vehicle_element(circuit, "key-contact", "switch", upstream, source, CONTACT_OHM, _closed(b))
    low, high = SPREAD["input"]
    request = Element(
        id=f"v:{circuit.id}/request",
        kind="coil",
        a=end_node(circuit, "load"),
        b=GROUND,
        shape=coil_element(circuit, "request", b.pull_down_ohm, source, GROUND).shape,
        origin=Origin(side="vehicle", of=circuit.id, words="start request of the computer"),
        pull_in_a=_REQUEST_PULL_IN * LOAD_V / b.pull_down_ohm,
        drop_out_a=0.3 * LOAD_V / b.pull_down_ohm,
        low=low,
        high=high,
    )
    yield request
    yield starter_element(car, circuit, request.id, (When.of_condition(b.needs),))


def switched_feed(car: Car, circuit: Circuit, b: SwitchedFeed) -> Iterator[Element]:
    """Yield a feed whose switch stands in the path."""
    yield supply_element(car, circuit, b.fed_by)
    yield from load_elements(circuit, b)


def switched_ground(car: Car, circuit: Circuit, b: SwitchedGround) -> Iterator[Element]:
    """Yield a load that is switched to ground at its lower end."""
    yield load_element(circuit, "load", b.load, b.load_a, supply_node(car, b.fed_by), end_node(circuit, "source"))


def ground_wire(_car: Car, circuit: Circuit, b: GroundWire) -> Iterator[Element]:
    """Yield a load whose negative side the path carries."""
    yield load_element(circuit, "load", b.load, max(b.load_a, 0.001), BATTERY, end_node(circuit, "source"))


def module_output(car: Car, circuit: Circuit, b: ModuleOutput) -> Iterator[Element]:
    """Yield an electronic output; pulse-width modulated it is the mean that a meter shows."""
    low, high = SPREAD["driver"]
    yield Element(
        id=f"v:{circuit.id}/output",
        kind="driver",
        a=supply_node(car, b.fed_by),
        b=end_node(circuit, "source"),
        shape=driver_shape(b.limit_a, _OUTPUT_OHM),
        origin=Origin(side="vehicle", of=circuit.id, words="module output"),
        emf_v=(1.0 - b.duty) * BATTERY_V,
        emf_spread_v=0.5 if b.duty < 1.0 else 0.0,
        when=(When.of_condition(b.on_when),),
        low=low,
        high=high,
        rating_a=b.limit_a,
    )
    yield from load_elements(circuit, b)


def relay_trigger(_car: Car, circuit: Circuit, b: RelayTrigger) -> Iterator[Element]:
    """Yield a factory relay whose coil the path grounds."""
    fused, out = f"e:{circuit.id}/relay-feed", f"e:{circuit.id}/relay-out"
    yield fuse_element(circuit, "relay-fuse", b.fuse_a, BATTERY, fused)
    coil = coil_element(circuit, "coil", b.coil_ohm, fused, end_node(circuit, "source"))
    yield coil
    yield contact_element(circuit, "contact", fused, out, coil.id)
    yield load_element(circuit, "load", b.load, b.load_a, out, GROUND)


def reversing_leg(car: Car, circuit: Circuit, b: ReversingLeg) -> Iterator[Element]:
    """Yield one leg of a reversing motor: at ground while it rests, live while it is asked for.

    The motor itself is yielded once, by the leg whose id comes first.
    """
    fused, source = f"e:{circuit.id}/leg-feed", end_node(circuit, "source")
    live = When.of_condition(b.live_when)
    ((name, wanted),) = live.stimuli
    yield fuse_element(circuit, "leg-fuse", b.fuse_a, BATTERY, fused)
    yield vehicle_element(circuit, "make-contact", "switch", fused, source, CONTACT_OHM, (live,))
    resting = (When(stimuli=((name, not wanted),)),)
    yield vehicle_element(circuit, "rest-contact", "switch", source, GROUND, CONTACT_OHM, resting)
    if circuit.id < b.partner:
        other = end_node(car.circuits[b.partner], "load")
        yield load_element(circuit, "lock-motor", "motor", b.load_a, end_node(circuit, "load"), other)
