"""What the behaviour templates are built from: the elements of a circuit, its loads and its supply."""

from collections.abc import Iterator

from loomwright.documents.behaviour import BatteryFeed, KeyedFeed, ModuleOutput, SwitchedFeed
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.elements import ALWAYS, GROUND, Element, Kind, Origin, Shape, When, line
from loomwright.network.paths import BATTERY, end_node, fuse_ohm
from loomwright.network.shapes import COIL_DROP_OUT, COIL_PULL_IN, CONTACT_OHM, LINK_OHM, LOAD_V, SPREAD, load_shape
from loomwright.network.vehicle_defaults import DEFAULT_STARTER_A
from loomwright.sentences import told

__all__ = [
    "coil_element",
    "contact_element",
    "fuse_element",
    "load_element",
    "load_elements",
    "shaped_element",
    "source_element",
    "starter_element",
    "supply_element",
    "supply_node",
    "vehicle_element",
]


def shaped_element(
    circuit: Circuit, name: str, kind: Kind, a: str, b: str, shape: Shape, when: tuple[When, ...] = ALWAYS
) -> Element:
    """Return an element of a circuit with the spread of its kind."""
    low, high = SPREAD[kind]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind=kind,
        a=a,
        b=b,
        shape=shape,
        origin=Origin(side="vehicle", of=circuit.id, words=name.replace("-", " ")),
        when=when,
        low=low,
        high=high,
    )


def vehicle_element(
    circuit: Circuit, name: str, kind: Kind, a: str, b: str, ohm: float, when: tuple[When, ...] = ALWAYS
) -> Element:
    """Return a plain resistance of a circuit [ohm]."""
    return shaped_element(circuit, name, kind, a, b, line(1.0 / ohm), when)


def contact_element(circuit: Circuit, name: str, a: str, b: str, coil: str) -> Element:
    """Return a relay contact that closes when its coil pulls in."""
    low, high = SPREAD["contact"]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind="contact",
        a=a,
        b=b,
        shape=line(1.0 / CONTACT_OHM),
        origin=Origin(side="vehicle", of=circuit.id, words="relay contact"),
        coil=coil,
        low=low,
        high=high,
    )


def coil_element(circuit: Circuit, name: str, ohm: float, a: str, b: str) -> Element:
    """Return a relay coil or solenoid that pulls in and drops out at the published shares of 12 V."""
    low, high = SPREAD["coil"]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind="coil",
        a=a,
        b=b,
        shape=line(1.0 / ohm),
        origin=Origin(side="vehicle", of=circuit.id, words=name.replace("-", " ")),
        pull_in_a=COIL_PULL_IN * LOAD_V / ohm,
        drop_out_a=COIL_DROP_OUT * LOAD_V / ohm,
        low=low,
        high=high,
    )


def starter_element(car: Car, circuit: Circuit, coil: str, when: tuple[When, ...] = ALWAYS) -> Element:
    """Return the starter motor as it cranks steadily: the resistance that draws its current at about 10 V."""
    low, high = SPREAD["motor"]
    return Element(
        id=f"v:{circuit.id}/starter-motor",
        kind="motor",
        a=BATTERY,
        b=GROUND,
        shape=line((car.traits.starter_a or DEFAULT_STARTER_A) / 10.0),
        origin=Origin(side="vehicle", of=circuit.id, words="starter motor"),
        coil=coil,
        when=when,
        low=low,
        high=high,
    )


def fuse_element(circuit: Circuit, name: str, rating_a: float, a: str, b: str) -> Element:
    """Return a fuse that belongs to a template and not to the path."""
    low, high = SPREAD["fuse"]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind="fuse",
        a=a,
        b=b,
        shape=line(1.0 / fuse_ohm(rating_a)),
        origin=Origin(side="vehicle", of=circuit.id, words=told("{rating_a:g} A fuse", rating_a=rating_a)),
        fuse_a=rating_a,
        low=low,
        high=high,
    )


def source_element(
    circuit: Circuit,
    name: str,
    kind: Kind,
    node: str,
    ohm: float,
    emf: tuple[float, float],
    when: tuple[When, ...] = ALWAYS,
) -> Element:
    """Return a steady voltage behind a resistance against battery negative; `emf` is (voltage, spread) [V]."""
    low, high = SPREAD[kind]
    return Element(
        id=f"v:{circuit.id}/{name}",
        kind=kind,
        a=node,
        b=GROUND,
        shape=line(1.0 / ohm),
        origin=Origin(side="vehicle", of=circuit.id, words=name.replace("-", " ")),
        emf_v=emf[0],
        emf_spread_v=emf[1],
        when=when,
        low=low,
        high=high,
    )


def load_element(circuit: Circuit, name: str, kind: str, current_a: float, a: str, b: str) -> Element:
    """Return a load that draws `current_a` at 12 V [A]."""
    what: Kind = "lamp" if kind == "lamp" else "motor" if kind == "motor" else "resistor"
    return shaped_element(circuit, name, what, a, b, load_shape(kind, current_a))


def load_elements(
    circuit: Circuit, behaviour: BatteryFeed | KeyedFeed | SwitchedFeed | ModuleOutput
) -> Iterator[Element]:
    """Yield the loads on the ends of a feeding circuit."""
    if behaviour.load_a > 0:
        yield load_element(circuit, "load", behaviour.load, behaviour.load_a, end_node(circuit, "load"), GROUND)
    for name, extra in behaviour.loads.items():
        if extra.load_a > 0:
            yield load_element(circuit, f"load-{name}", extra.load, extra.load_a, end_node(circuit, name), GROUND)


def supply_node(car: Car, fed_by: str | None) -> str:
    """Return the node that feeds a circuit: another circuit's load end, or the battery."""
    return BATTERY if fed_by is None else end_node(car.circuits[fed_by], "load")


def supply_element(car: Car, circuit: Circuit, fed_by: str | None) -> Element:
    """Return the link from its feed to the source end of a circuit."""
    return vehicle_element(circuit, "supply", "link", supply_node(car, fed_by), end_node(circuit, "source"), LINK_OHM)
