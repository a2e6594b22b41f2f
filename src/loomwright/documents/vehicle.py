"""The vehicle family document: its axes, places, plugs and circuits, as a technician writes them down."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from loomwright.documents.basis import (
    Amps,
    AreaMm2,
    Condition,
    Document,
    LengthM,
    Minutes,
    Part,
    Slug,
    Words,
    name_text,
)
from loomwright.documents.behaviour import Behaviour, Condition1
from loomwright.documents.functions import FunctionName
from loomwright.documents.pictures import Photo, Video

__all__ = [
    "Axis",
    "AxisValue",
    "Circuit",
    "Face",
    "GroundPoint",
    "Hazard",
    "Name",
    "Place",
    "Plug",
    "Segment",
    "Traits",
    "Vehicle",
]

PinName = Annotated[
    str, BeforeValidator(lambda pin: str(pin) if isinstance(pin, int) else pin), Field(pattern="^[A-Za-z0-9]+$")
]


class Name(Part):
    """One badge under which the family is sold."""

    maker: Words
    model: Words


class AxisValue(Part):
    """One value of an axis and what the buyer can see that tells it from the others."""

    value: Annotated[str, BeforeValidator(name_text)]
    cue: Words = Field(description="What the buyer can see: key, shifter, plug picture, door label.")


class Axis(Part):
    """One way in which cars of the family differ."""

    id: Slug
    ask: Words = Field(description="The question to the buyer.")
    ordered: bool = Field(False, description="True for years: conditions may then say 'A to B'.")
    values: tuple[AxisValue, ...] = Field(min_length=1)


class Traits(Part):
    """Facts of the whole car that decide what may be fitted at all; each may be stated under a condition."""

    only: Condition = Field(default_factory=dict)
    fuel: Literal["petrol", "diesel"] | None = None
    drive: Literal["combustion", "hybrid", "electric", "mild hybrid 48 V"] | None = None
    gearbox: Literal["automatic", "manual"] | None = None
    key: Literal["keyed", "button"] | None = None
    start_style: Literal["heavy feed", "low-current request", "button", "bus message"] | None = None
    park_interlock: Literal["start circuit", "computer", "shifter lock only"] | None = None
    immobiliser: Literal[
        "none", "resistor key", "cylinder sensor", "transponder", "proximity", "bus code"
    ] | None = None  # fmt: skip
    keys_to_learn: int | None = Field(None, ge=0, le=4, description="Working keys needed while the module learns.")
    cylinders: int | None = Field(None, ge=2, le=12)
    idle_rpm: float | None = Field(None, ge=400, le=1500)
    starter_a: Amps | None = Field(None, description="Steady cranking current of a warm engine [A].")
    battery_cca_a: Amps | None = Field(None, description="Cold-cranking rating of the battery, SAE J537 [A].")
    battery_ah: float | None = Field(None, gt=10, le=300, description="Capacity at the 20 h rate [Ah].")
    batteries: int | None = Field(None, ge=1, le=2, description="Batteries in parallel; one where left out.")
    alternator: Literal["plain", "smart"] | None = Field(
        None, description="A smart one lets its voltage fall while the battery is full."
    )
    charging_v: float | None = Field(None, ge=12, le=16, description="Voltage while the alternator charges [V].")


class Place(Part):
    """Where in the car something is, as words and as a point of the under-dash map."""

    id: Slug
    name: Words
    words: Words = Field(description="How to find it, seen by somebody in the driver's footwell.")
    x: float = Field(ge=0, le=100, description="Under-dash map: 0 is the left edge seen from the driver's seat [%].")
    y: float = Field(ge=0, le=100, description="Under-dash map: 0 is the top of the dash, 100 the carpet [%].")
    access: tuple[Words, ...] = Field((), description="What to do to get at it, one action each.")
    tools: tuple[Words, ...] = ()
    through: Words | None = Field(
        None, description="Outside the cabin: how a lead gets in from there, such as through which grommet."
    )
    behind: Literal["driver door open", "hood open"] | None = Field(
        None, description="What must stand open to reach it; a wire there is also read with that shut."
    )
    minutes: Minutes = Field(5.0, description="Time to reach it and to close up again [min].")
    photo: Photo | None = Field(None, description="The place as one sees it.")
    video: Video | None = Field(None, description="How one gets at it.")


class Face(Part):
    """The face of a plug: rows of places as printed on it."""

    # Common practice: plugs of engine computers, the largest in a car, have some 100 places in up to six rows.
    rows: tuple[Annotated[tuple[PinName | None, ...], Field(max_length=60)], ...] = Field(
        min_length=1, max_length=12, description="Pins row by row; null is a gap."
    )
    drawn_from: Literal["wire", "mating"] = Field("mating", description="The side from which the rows were written.")
    latch: Literal["top", "bottom", "left", "right"] = "top"
    large: tuple[PinName, ...] = Field((), description="Pins with bigger terminals.")


class Plug(Part):
    """A connector housing of the vehicle's; what sits in its pins follows from the circuits."""

    id: Slug
    name: Words
    housing: Slug = Field(description="The housing type; a kit's T-harness names the same.")
    face: Face
    look: Words = Field(description="Colour, size and latch, as the eye finds it.")
    place: Slug
    seen_side: Literal["wire", "mating"] = Field("wire", description="The side the buyer sees with the plug in place.")
    seen_turn: Literal[0, 90, 180, 270] = Field(0, description="Turned clockwise as seen from where the person lies.")
    opening: Words = Field("Press the latch and pull the plug straight off.", description="How to open it.")
    brittle: bool = Field(False, description="True where the latch breaks easily.")
    photo: Photo | None = Field(None, description="The plug in its place, latch and first pin in sight.")
    video: Video | None = Field(None, description="How one finds and opens it.")
    only: Condition = Field(default_factory=dict)
    except_: Condition = Field(default_factory=dict, alias="except")


class Segment(Part):
    """One step of a path: a wire (has a colour), a fuse (fuse_a), a switch (closed_when), or a link inside a part.

    Ends are 'source', 'load' or another load's name, 'plug/pin', or 's:name' for a splice.
    """

    from_: Words = Field(alias="from")
    to: Words
    colour: Words | None = Field(None, description="Wire colour as written on the diagram or seen.")
    stripe: Words | None = None
    area_mm2: AreaMm2 = Field(0.5, description="Conductor size [mm2]; 0.5 where nobody measured it.")
    length_m: LengthM = Field(1.5, description="Length [m]; 1.5 where nobody measured it.")
    fuse_a: Amps | None = Field(None, description="Makes the step a fuse of this rating [A].")
    closed_when: Condition1 | None = Field(None, description="Makes the step a switch that conducts then.")
    switch: Words | None = Field(None, description="What the switch is called.")


class Circuit(Part):
    """One conductor's job in the vehicle, from its source to its loads."""

    id: Slug
    function: FunctionName
    name: Words | None = Field(None, description="What it is called where the function's word is not enough.")
    behaviour: Behaviour
    path: tuple[Segment, ...] = Field(min_length=1)
    only: Condition = Field(default_factory=dict)
    except_: Condition = Field(default_factory=dict, alias="except")
    needed_to_start: bool = Field(
        False, description="True where the engine does not catch without it, so that a kit has to serve it."
    )
    note: Words | None = Field(None, description="What somebody working on it should know.")
    photo: Photo | None = Field(None, description="The wire at the place where it is measured.")
    video: Video | None = Field(None, description="How one finds its wire.")


class Hazard(Part):
    """Something that can hurt, where it is, and what tells it."""

    id: Slug
    kind: Literal["airbag", "high voltage", "sharp edge", "moving part", "hot part"]
    place: Slug
    words: Words
    wait_minutes: Minutes | None = Field(None, description="Waiting time with the battery off, from the maker [min].")
    only: Condition = Field(default_factory=dict)


class GroundPoint(Part):
    """A bolt into bare metal that this vehicle offers for the kit's ground."""

    id: Slug
    place: Slug
    words: Words
    only: Condition = Field(default_factory=dict)
    photo: Photo | None = Field(None, description="The bolt and what sits on it.")
    video: Video | None = Field(None, description="How one finds it.")


class Vehicle(Document):
    """One family of vehicles: badge siblings and years in one document."""

    kind: Literal["vehicle"]
    id: Slug
    names: tuple[Name, ...] = Field(min_length=1)
    axes: tuple[Axis, ...] = ()
    not_built: tuple[Condition, ...] = Field((), description="Combinations that were never made.")
    traits: tuple[Traits, ...] = Field(min_length=1)
    places: tuple[Place, ...] = Field(min_length=1)
    plugs: tuple[Plug, ...] = Field(min_length=1)
    grounds: tuple[GroundPoint, ...] = ()
    circuits: tuple[Circuit, ...] = Field(min_length=1)
    hazards: tuple[Hazard, ...] = ()
    photo: Photo | None = Field(None, description="The car as the buyer sees it.")
