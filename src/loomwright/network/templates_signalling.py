"""Templates of circuits that tell something: switches to ground, inputs, data, pulses and sensors."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.behaviour import (
    AirbagWire,
    CodedSwitch,
    DataWire,
    GroundSwitch,
    InputWire,
    PulseWire,
    SensorWire,
    SteppedInput,
)
from loomwright.documents.car import Car
from loomwright.documents.vehicle import Circuit
from loomwright.network.elements import GROUND, Element, Origin, When, line
from loomwright.network.paths import BATTERY, end_node
from loomwright.network.shapes import BATTERY_V, SPREAD
from loomwright.network.template_parts import source_element, supply_element, vehicle_element

__all__ = [
    "airbag_wire",
    "coded_switch",
    "data_wire",
    "ground_switch",
    "input_wire",
    "pulse_wire",
    "sensor_wire",
    "stepped_input",
]

_AWAKE = When(stimuli=(("awake", True),))
_RUNNING = When(stimuli=(("engine running", True),))

_BUS_MEAN: Mapping[str, tuple[float, float]] = MappingProxyType({
    # Mean voltage a meter shows with the bus awake, and its spread [V]. Two-wire: 2.3 and 2.8 V of a published service
    # manual; pulse-width: 0 V at rest with 7 V pulses; single wire below 1 V; serial one-wire bus 8 to 12 V; K-line at
    # battery. Ranges are common practice.
    "pulse-width": (0.6, 0.6),
    "two-wire high": (2.65, 0.2),
    "two-wire low": (2.35, 0.2),
    "single-wire": (0.6, 0.5),
    "one-wire serial": (10.0, 2.0),
    "k-line": (12.0, 0.8),
})  # fmt: skip


def _pull_up(circuit: Circuit, node: str, ohm: float, volts: float | None, when: When, duty: float = 1.0) -> Element:
    """Return the resistor that holds a wire up: to the battery, or to the module's own supply."""
    if volts is not None:
        return source_element(circuit, "pull-up", "pull", node, ohm, (volts * duty, 0.05 * volts), (when,))
    low, high = SPREAD["pull"]
    return Element(
        id=f"v:{circuit.id}/pull-up",
        kind="pull",
        a=BATTERY,
        b=node,
        shape=line(1.0 / ohm),
        origin=Origin(side="vehicle", of=circuit.id, words="pull up"),
        emf_v=(1.0 - duty) * BATTERY_V,  # a polled input shows a meter the mean of its pulses
        emf_spread_v=0.15 * duty * BATTERY_V if duty < 1.0 else 0.0,  # the share differs from module to module
        when=(when,),
        low=low,
        high=high,
    )


def ground_switch(_car: Car, circuit: Circuit, b: GroundSwitch) -> Iterator[Element]:
    """Yield the pull-up of a negative trigger."""
    when = When(keys=frozenset(b.works_in), stimuli=_AWAKE.stimuli)
    yield _pull_up(circuit, end_node(circuit, "source"), b.pull_up_ohm, b.pull_up_v, when, b.polled)


def stepped_input(_car: Car, circuit: Circuit, b: SteppedInput) -> Iterator[Element]:
    """Yield the pull-up and, at the switches' end, one resistance to ground per switch."""
    yield _pull_up(circuit, end_node(circuit, "source"), b.pull_up_ohm, b.pull_up_v, _AWAKE)
    for step in b.steps:
        name = f"step-{step.function.replace(' ', '-')}"
        when = (When.of_condition(step.when),)
        yield vehicle_element(circuit, name, "input", end_node(circuit, "load"), GROUND, step.resistance_ohm, when)


def coded_switch(_car: Car, circuit: Circuit, b: CodedSwitch) -> Iterator[Element]:
    """Yield the pull-up and the resistance of each key position."""
    yield _pull_up(circuit, end_node(circuit, "source"), b.pull_up_ohm, b.pull_up_v, _AWAKE)
    for key, ohm in b.resistances.items():
        when = (When(keys=frozenset({key})),)
        yield vehicle_element(circuit, f"key-{key}", "input", end_node(circuit, "load"), GROUND, ohm, when)


def input_wire(car: Car, circuit: Circuit, b: InputWire) -> Iterator[Element]:
    """Yield the feed of an input and the resistor that holds it down."""
    yield supply_element(car, circuit, b.fed_by)
    yield vehicle_element(circuit, "pull-down", "pull", end_node(circuit, "load"), GROUND, b.pull_down_ohm)


def data_wire(_car: Car, circuit: Circuit, b: DataWire) -> Iterator[Element]:
    """Yield a bus as the mean voltage a meter shows."""
    node = end_node(circuit, "source")
    yield source_element(circuit, "bus", "signal", node, b.source_ohm, _BUS_MEAN[b.bus], (_AWAKE,))


def pulse_wire(_car: Car, circuit: Circuit, b: PulseWire) -> Iterator[Element]:
    """Yield a wire that rests at battery with the key on and shows its duty's mean while the engine turns."""
    node = end_node(circuit, "source")
    keyed = (When(keys=frozenset({"run", "crank"})), _RUNNING)
    yield vehicle_element(circuit, "pull-up", "pull", BATTERY, node, b.source_ohm, keyed)
    # The driver's share of low time as a steady conductance: the divider it makes with the pull-up has the mean.
    pulled = b.source_ohm * b.duty / (1.0 - b.duty)
    yield vehicle_element(circuit, "pulses", "signal", node, GROUND, pulled, (_RUNNING,))


def sensor_wire(_car: Car, circuit: Circuit, b: SensorWire) -> Iterator[Element]:
    """Yield a steady voltage behind a resistance."""
    node, emf = end_node(circuit, "source"), (b.rest_v, 0.3 * b.rest_v)
    yield source_element(circuit, "signal", "signal", node, b.source_ohm, emf, (When(keys=frozenset(b.live)),))


def airbag_wire(_car: Car, _circuit: Circuit, _b: AirbagWire) -> Iterator[Element]:
    """Yield nothing: a restraint wire is no part of any solved state."""
    yield from ()
