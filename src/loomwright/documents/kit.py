"""The kit document: controller, vehicle module, harness skeleton, parts and settings of one kit revision.

The harness skeleton (plugs, branches, lead labels and colours) is given; which conductor serves which circuit, with
which interface part, is planned from it.
"""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from loomwright.documents.basis import (
    Amps,
    AreaMm2,
    Condition,
    Document,
    LengthM,
    Minutes,
    Ohms,
    Part,
    Slug,
    Words,
    name_text,
)
from loomwright.documents.functions import FunctionName
from loomwright.documents.pictures import Photo, Video

__all__ = [
    "AddedPart", "Branch", "BusService", "Controller", "Dialogue", "DialogueStep", "InterfacePart", "Kit", "Lead",
    "Setting", "SettingChoice", "Terminal", "TerminalKind", "VehicleModule",
]  # fmt: skip

TerminalKind = Literal[
    "power in",  # takes the battery feed, through a fuse of its own
    "ground",
    "relay output",  # a dry contact of the controller that switches one of its power inputs
    "positive output",  # a current-limited output that puts out battery voltage
    "negative output",  # a current-limited output that pulls to ground
    "positive input",  # held down; reads true near battery voltage
    "negative input",  # held up; reads true near ground
    "pulse input",  # counts edges
    "data port",
]
PinName = Annotated[str, BeforeValidator(name_text)]


class Terminal(Part):
    """One terminal of the controller and the function it serves."""

    id: Slug
    function: FunctionName
    kind: TerminalKind
    plug: Slug = Field(description="Which plug of the controller.")
    pin: PinName
    fed_from: Slug | None = Field(None, description="For a relay output: the power input it switches.")
    rating_a: Amps = Field(0.0, description="What it carries continuously [A]; for a driver its current limit.")
    fuse_a: Amps | None = Field(None, description="The kit's own fuse in this line [A].")
    resistance_ohm: Ohms | None = Field(None, description="Input resistance, or the driver's own resistance [ohm].")
    standing_a: Amps = Field(0.0, description="Current drawn while the kit sleeps (power inputs) [A].")
    true_above: float = Field(0.55, gt=0, lt=1, description="An input reads high above this share of battery voltage.")
    true_below: float = Field(0.25, gt=0, lt=1, description="An input reads low below this share of battery voltage.")
    filters_polls: bool = Field(
        False, description="True where an input takes the mean of a wire that its module holds up in short pulses only."
    )
    on_while: tuple[Literal["ignition on", "cranking", "running", "while driving lamps"], ...] = Field(
        (), description="When the controller has the output on; left out, the function decides."
    )


class Controller(Part):
    """The start controller."""

    name: Words
    hardware: Words
    firmware: Words
    version: Words
    terminals: tuple[Terminal, ...] = Field(min_length=1)
    range_note: Words | None = None
    photo: Photo | None = Field(None, description="The box with its sockets and its serial number.")
    video: Video | None = Field(None, description="How its plugs go in.")


class BusService(Part):
    """One function the vehicle module serves over the bus, for which vehicles, with this firmware."""

    function: FunctionName
    vehicle: Slug
    only: Condition = Field(default_factory=dict)
    except_: Condition = Field(default_factory=dict, alias="except")
    note: Words | None = None


class VehicleModule(Part):
    """The box that talks on the vehicle's data bus."""

    name: Words
    hardware: Words
    firmware: Words
    version: Words
    locked: bool = Field(False, description="True where its options are locked once it has learned.")
    adjustable_when_locked: tuple[Slug, ...] = ()
    services: tuple[BusService, ...] = ()
    learning: Slug | None = Field(None, description="The dialogue by which it learns the car.")
    plug: Words | None = Field(None, description="The plug between it and the harness, as one sees it.")


class Conductor(Part):
    """A conductor the kit has in a branch: from a controller terminal up to that branch."""

    terminal: Slug
    label: Words
    colour: Words
    stripe: Words | None = None
    pin: PinName | None = Field(
        None, description="The pin of that housing to which the harness is built; left out, it is chosen for each car."
    )
    area_mm2: AreaMm2 = 0.5
    fuse_a: Amps | None = Field(None, description="A fuse of its own in this conductor, beside the terminal's [A].")


class Branch(Part):
    """A plug end of the harness: a T between a vehicle plug and its mate, or a plain plug into a free socket."""

    id: Slug
    label: Words
    kind: Literal["t", "plug"]
    housing: Slug = Field(description="The vehicle housing type it goes between or into.")
    rating_a: Amps = Field(20.0, description="What each through pin carries continuously [A].")
    through_mm2: AreaMm2 = Field(1.5, description="Size of the through wires [mm2].")
    length_m: LengthM = 0.9
    packed: Literal["always", "when it fits"] = Field(
        "always", description="Whether it is in every bag, or only in that of a car into which it is plugged."
    )
    conductors: tuple[Conductor, ...] = ()
    photo: Photo | None = Field(None, description="Its ends, labels in sight.")
    video: Video | None = Field(None, description="How it goes in.")


class Lead(Part):
    """A loose lead with a printed label, for a tap or a ground point."""

    id: Slug
    terminal: Slug
    label: Words
    colour: Words
    stripe: Words | None = None
    area_mm2: AreaMm2 = 0.5
    length_m: LengthM = 1.5
    end: Literal["bare", "ring"] = "bare"


class InterfacePart(Part):
    """A part the kit may use between a lead and a vehicle wire."""

    id: Slug
    kind: Literal["relay", "diode", "resistor"]
    name: Words
    rating_a: Amps
    coil_ohm: Ohms | None = None
    fuse_a: Amps | None = Field(None, description="For a relay: the fuse in the feed of its contact [A].")
    resistance_ohm: Ohms | None = None
    stock: int = Field(0, ge=0)
    minutes: Minutes = 6.0
    price: float = Field(0.0, ge=0)


class AddedPart(Part):
    """A part added to the car that serves a function by itself, such as a hood pin."""

    id: Slug
    function: FunctionName
    name: Words
    terminal: Slug
    lead: Slug
    minutes: Minutes = 20.0
    price: float = Field(0.0, ge=0)
    place: Words = Field(description="Where on a vehicle it goes, in words.")
    closed_when: Words = "hood open"
    photo: Photo | None = Field(None, description="The part in its place.")
    video: Video | None = Field(None, description="How it is fitted.")


class SettingChoice(Part):
    """One value of a setting."""

    value: Words
    means: Words
    serves: FunctionName | None = Field(None, description="The function this choice serves instead of a wire.")
    needs: FunctionName | None = Field(None, description="The function that must be wired or on the bus for it.")
    penalty: float = Field(0.0, ge=0, le=100, description="How much less reliable than a wire it is, in minutes.")
    pulse_s: float | None = Field(
        None, gt=0, le=30, description="For a choice that gives the start output as one pulse: how long it lasts [s]."
    )


class Setting(Part):
    """One option of the controller or the vehicle module."""

    id: Slug
    name: Words
    of: Literal["controller", "vehicle module"] = "controller"
    choices: tuple[SettingChoice, ...] = Field(min_length=1)
    default: Words
    how: Words | None = Field(None, description="The menu item or jumper that sets it.")
    for_driver: bool = Field(False, description="True where whoever drives should know what is set.")


class DialogueStep(Part):
    """One exchange: what to press, what the kit answers, how long one has, and the way out."""

    press: Words
    reply: Words
    within_s: float | None = Field(None, gt=0, le=600)
    way_out: Words | None = None


class Dialogue(Part):
    """Programming or learning, as press and reply."""

    id: Slug
    name: Words
    kind: Literal["programming", "learning"]
    key: Literal["off", "acc", "run", "crank"] = "off"
    keys: int | None = Field(
        None, ge=0, le=4, description="For a vehicle module that learns a car: how many of its keys this way needs."
    )
    steps: tuple[DialogueStep, ...] = Field(min_length=1)


class Remote(Part):
    """A remote control in the bag and what it does when pressed."""

    id: Slug
    name: Words
    start: Words = Field(description="How a start is asked for.")
    stop: Words
    lock: Words | None = Field(None, description="How the doors are locked with it, where the kit does that.")
    unlock: Words | None = Field(None, description="How they are unlocked.")
    hatch: Words | None = Field(None, description="How the hatch or boot lid is opened.")
    horn: Words | None = Field(None, description="How the horn is sounded.")


class Kit(Document):
    """One kit revision."""

    kind: Literal["kit"]
    id: Slug
    name: Words
    revision: Words
    serial_at: Words = Field(description="Where the buyer finds the kit's serial number.")
    bag: tuple[Words, ...] = Field((), description="What is in the bag besides what the harness lists.")
    controller: Controller
    vehicle_module: VehicleModule | None = None
    branches: tuple[Branch, ...] = ()
    leads: tuple[Lead, ...] = ()
    parts: tuple[InterfacePart, ...] = ()
    added_parts: tuple[AddedPart, ...] = ()
    settings: tuple[Setting, ...] = ()
    dialogues: tuple[Dialogue, ...] = ()
    remotes: tuple[Remote, ...] = ()
    service: Words | None = Field(
        None, description="How the buyer switches the service mode on and off, in which the kit starts nothing."
    )
    wanted: tuple[FunctionName, ...] = Field((), description="What this kit should serve where the car allows it.")
