"""How a circuit behaves: one template per way a vehicle wires something, each with a few numbers.

A template says what feeds the path (its `source`) and what hangs on its ends (its loads); the path itself carries
wires, fuses and switches. `network.vehicle_side` turns each template into elements, so this file holds data only.
Numbers are typical values of the trade unless a document gives the measured one; their stated spread is that of the
templates' table in `network.spreads`.
"""

from typing import Annotated, Literal, get_args

from pydantic import Field

from loomwright.documents.basis import Amps, Ohms, Part, Slug, Volts
from loomwright.documents.functions import FunctionName

__all__ = [
    "FED",
    "STIMULI",
    "AirbagWire",
    "BatteryFeed",
    "Behaviour",
    "CodedSwitch",
    "Condition1",
    "DataWire",
    "FeedLoad",
    "GroundSwitch",
    "GroundWire",
    "InputWire",
    "KeyPosition",
    "KeyedFeed",
    "ModuleOutput",
    "PulseWire",
    "RelayTrigger",
    "ReversingLeg",
    "SensorWire",
    "StartRequest",
    "Step",
    "SteppedInput",
    "Stimulus",
    "SwitchedFeed",
    "SwitchedGround",
]

KeyPosition = Literal["off", "acc", "run", "crank"]
Stimulus = Literal[
    "brake pressed", "hood open", "driver door open", "passenger door open", "hatch open", "lamps on", "hazards on",
    "horn pressed", "lock pressed", "unlock pressed", "in park", "parking brake set", "key in lock", "engine running",
    "blower on", "wipers on", "awake", "wait lamp lit", "window pressed", "retained accessory", "turn left on",
    "turn right on", "start pressed", "hatch pressed", "key turned to lock", "key turned to unlock",
]  # fmt: skip
# What holds when nobody touches anything: the selector stands in park and the modules are awake.
STIMULI: dict[str, bool] = {
    **dict.fromkeys(get_args(Stimulus), False),
    "in park": True,
    "awake": True,
}
Condition1 = Annotated[
    str,
    Field(
        pattern="^(not )?(" + "|".join(STIMULI) + ")$",
        description="One of the stimuli, with 'not' before it where the switch opens: " + ", ".join(STIMULI) + ".",
    ),
]
LoadKind = Literal["resistive", "lamp", "motor", "coil", "electronic"]


class FeedLoad(Part):
    """What hangs on one more end of a circuit."""

    load_a: Amps = Field(description="Current the load takes at 12 V [A].")
    load: LoadKind = "resistive"


class _Fed(Part):
    load_a: Amps = Field(0.5, description="Current the load takes at 12 V [A].")
    load: LoadKind = Field("resistive", description="What kind of load it is; a lamp draws far more while cold.")
    loads: dict[Slug, FeedLoad] = Field(default_factory=dict, description="Further ends of the path and their loads.")


class BatteryFeed(_Fed):
    """Live at all times; the path should show the fuse."""

    template: Literal["battery feed"]


class KeyedFeed(_Fed):
    """Switched by the ignition switch, which takes its current from another circuit."""

    template: Literal["keyed feed"]
    fed_by: Slug = Field(description="The circuit whose load end feeds this contact of the ignition switch.")
    live: tuple[KeyPosition, ...] = Field(description="Key positions in which it is live.")
    retained: bool = Field(False, description="True where it stays live after the key is off until a door opens.")
    starter: bool = Field(False, description="True where the load is the starter solenoid or relay.")


class SwitchedFeed(_Fed):
    """A fused feed whose switch stands in the path (lamps, pedal, heaters)."""

    template: Literal["switched feed"]
    fed_by: Slug | None = Field(None, description="The circuit that feeds it; the battery where it is left out.")


class GroundWire(_Fed):
    """The negative side of some load; rests near battery negative."""

    template: Literal["ground wire"]


class GroundSwitch(Part):
    """A wire that a module holds up and a switch pulls to ground: a negative trigger."""

    template: Literal["ground switch"]
    pull_up_ohm: Ohms = Field(2200.0, description="Resistor in the module that holds the wire up [ohm].")
    pull_up_v: Volts | None = Field(None, description="What it is held up to [V]; battery voltage where left out.")
    works_in: tuple[KeyPosition, ...] = Field(("off", "acc", "run", "crank"), description="Key positions with pull-up.")
    polled: float = Field(1.0, gt=0, le=1, description="Share of the time the module holds it up; below 1 it polls.")


class RelayTrigger(Part):
    """The coil end of a factory relay: grounding the wire operates it (horn, wipers)."""

    template: Literal["relay trigger"]
    coil_ohm: Ohms = Field(90.0, description="Coil resistance at 20 degC [ohm].")
    fuse_a: Amps = Field(15.0, description="Fuse that feeds coil and contact [A].")
    load_a: Amps = Field(6.0, description="Current the relay's load takes at 12 V [A].")
    load: LoadKind = "resistive"


class SwitchedGround(Part):
    """A load that is fed on one side and switched to ground on this wire: a wait lamp, a heater relay."""

    template: Literal["switched ground"]
    fed_by: Slug | None = Field(None, description="The circuit that feeds the load; the battery where it is left out.")
    load_a: Amps = Field(0.1, description="Current the load takes at 12 V [A].")
    load: LoadKind = "lamp"


class ModuleOutput(_Fed):
    """An electronic output of a body module: limited in current, perhaps pulse-width modulated."""

    template: Literal["module output"]
    on_when: Condition1 = Field(description="When the module has it on.")
    fed_by: Slug | None = Field(None, description="The circuit that feeds it; the battery where it is left out.")
    limit_a: Amps = Field(8.0, description="Current at which it limits [A].")
    duty: float = Field(1.0, gt=0, le=1, description="Share of the time it is on; a meter shows that share of battery.")
    shuts_off_when_back_fed: bool = Field(False, description="True where it takes a voltage from outside as a fault.")


class Step(Part):
    """One switch of a stepped input: what it asks for and the resistance it puts on the wire."""

    function: FunctionName
    when: Condition1
    resistance_ohm: Ohms


class SteppedInput(Part):
    """One wire for several switches, told apart by resistance; 'load' is the end where the switches sit."""

    template: Literal["stepped input"]
    pull_up_ohm: Ohms = Field(1000.0, description="Resistor in the module that holds the wire up [ohm].")
    pull_up_v: Volts | None = Field(None, description="What it is held up to [V]; battery voltage where left out.")
    steps: tuple[Step, ...] = Field(min_length=1)


class CodedSwitch(Part):
    """An ignition switch that tells its position by resistance; it carries no current for the car."""

    template: Literal["coded switch"]
    pull_up_ohm: Ohms = Field(1000.0, description="Resistor in the module that holds the wire up [ohm].")
    pull_up_v: Volts = Field(5.0, description="What it is held up to [V].")
    resistances: dict[KeyPosition, Ohms] = Field(description="Key position to resistance to ground [ohm].")


class ReversingLeg(Part):
    """One leg of a motor that rests at ground on both sides; the leg goes live to turn it one way."""

    template: Literal["reversing leg"]
    partner: Slug = Field(description="The circuit of the other leg.")
    live_when: Condition1
    fuse_a: Amps = Field(20.0, description="Fuse that feeds the leg [A].")
    load_a: Amps = Field(6.0, description="Current of the motor at 12 V [A].")


class StartRequest(Part):
    """A light signal by which the engine computer cranks; held on it is a fault, so a pulse is given."""

    template: Literal["start request"]
    fed_by: Slug = Field(description="The circuit whose load end feeds this contact of the ignition switch.")
    live: tuple[KeyPosition, ...] = ("crank",)
    pull_down_ohm: Ohms = Field(2200.0, description="Resistor in the computer that holds the wire down [ohm].")
    hold_s: float = Field(2.0, gt=0, le=30, description="Longest time the signal may stay on [s].")
    needs: Condition1 = Field("in park", description="What the computer wants before it cranks.")


class InputWire(Part):
    """An input of a module that is held down and raised to battery by a switch in the path."""

    template: Literal["input wire"]
    fed_by: Slug | None = Field(None, description="The circuit that feeds it; the battery where it is left out.")
    pull_down_ohm: Ohms = Field(10_000.0, description="Resistor in the module that holds the wire down [ohm].")


class DataWire(Part):
    """A wire on which modules talk; it is never tapped with a lamp."""

    template: Literal["data wire"]
    bus: Literal["pulse-width", "two-wire high", "two-wire low", "single-wire", "one-wire serial", "k-line"]
    source_ohm: Ohms = Field(1000.0, description="Resistance behind which a meter sees the bus [ohm].")


class PulseWire(Part):
    """A train of pulses while something turns: engine speed, road speed, injectors."""

    template: Literal["pulse wire"]
    pulses_per_rev: float = Field(2.0, gt=0, le=60, description="Pulses per turn of the engine.")
    duty: float = Field(0.5, gt=0, lt=1, description="Share of the time the wire is high.")
    source_ohm: Ohms = Field(4700.0, description="Pull-up in the engine computer [ohm].")


class SensorWire(Part):
    """A signal of the factory's own: a steady voltage behind a resistance."""

    template: Literal["sensor wire"]
    rest_v: Volts = Field(2.5, description="Voltage a meter shows with the ignition on [V].")
    source_ohm: Ohms = Field(3000.0, description="Resistance behind it [ohm].")
    live: tuple[KeyPosition, ...] = Field(("run", "crank"), description="Key positions in which it shows its voltage.")


class AirbagWire(Part):
    """A restraint wire: never measured, never touched, never part of a solved state."""

    template: Literal["airbag wire"]


FED = (KeyedFeed, SwitchedFeed, SwitchedGround, InputWire, ModuleOutput, StartRequest)
"""The templates that name the circuit which feeds them."""

Behaviour = Annotated[
    BatteryFeed | KeyedFeed | SwitchedFeed | SwitchedGround | GroundWire | GroundSwitch | RelayTrigger | InputWire
    | ModuleOutput | SteppedInput | CodedSwitch | ReversingLeg | StartRequest | DataWire | PulseWire | SensorWire
    | AirbagWire,
    Field(discriminator="template"),
]  # fmt: skip
