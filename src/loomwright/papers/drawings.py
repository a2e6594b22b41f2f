"""What a drawing shows, without its form: a plug face, the map of the footwell, the wiring plan.

Papers say what is to be drawn; `loomwright.sheets` draws it at the size the page has room for.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from loomwright.documents.faces import FaceShape, Side, Turn
from loomwright.papers.quantity import Quantity

__all__ = [
    "DashMap", "DashSpot", "Drawing", "FaceDrawing", "JointKind", "PartKind", "Photograph", "WiringPart", "WiringPlan",
    "WiringRow",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceDrawing:
    """A plug face as seen from one side, with the wires in it, the pin meant and the pins to keep off."""

    shape: FaceShape
    occupants: Mapping[str, tuple[str, str | None] | None]  # pin -> (colour, stripe), None where no wire sits
    side: Side
    turn: Turn
    target: str | None = None
    avoid: tuple[str, ...] = ()
    labels: Mapping[str, str] = field(default_factory=dict)  # pin -> name of its circuit, written at marked pins
    mark: str = "latch"  # what tells which way up it is; a free socket has a wide side instead
    language: str = "en"  # of what is written beside it; wires keep the words that their colours are drawn by

    @property
    def turned(self) -> "FaceDrawing":
        """The same plug after the person has turned it around its upright middle: the other side, left for right."""
        mirrored: dict[Turn, Turn] = {0: 0, 90: 270, 180: 180, 270: 90}
        return FaceDrawing(
            shape=self.shape,
            occupants=self.occupants,
            side="mating" if self.side == "wire" else "wire",
            turn=mirrored[self.turn],
            target=self.target,
            avoid=self.avoid,
            labels=self.labels,
            mark=self.mark,
            language=self.language,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DashSpot:
    """One place on the map of the footwell; x and y in percent, from the left edge and the top of the dash."""

    id: str
    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DashMap:
    """The dash seen from the driver's footwell with its numbered places; `highlight` names those meant now."""

    spots: tuple[DashSpot, ...]
    highlight: tuple[str, ...] = ()  # ids of spots


PartKind = Literal[
    "relay inverts", "relay boosts", "relay grounds", "relay changes over", "diode", "diode cuts in", "resistor"
]
"""How an interface part is wired; the patterns are those of planning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringPart:
    """An interface part between a kit lead and a vehicle wire.

    Its feed and its ground are taken at pins of the kit, so they are named as those are.
    """

    pattern: PartKind
    name: str  # as in the bag: 'relay 30 A with socket'
    positive: bool  # the kit's lead puts out battery voltage; else it pulls to ground
    feed: str = ""  # the kit's pin at whose lead coil or contact are fed: 'H1/2'
    feed_label: str = ""  # printed on that lead
    feed_fuse: str = ""  # in the feed of the contact: 'Fuse 15 A'
    ground: str = ""  # the kit's pin at which coil or contact are grounded


JointKind = Literal[
    "tap", "T tapped", "T interrupted", "cut in", "plug", "ground point", "added part", "bus", "setting", "none"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringRow:
    """One way from a pin of the kit through lead, fuse and part to the vehicle wire.

    `joint` is how they meet; for 'bus', 'setting' and 'none' there is no wire and `note` says what serves instead.
    """

    task: str  # what the row is for: 'Ignition'
    din: str = ""  # its terminal number of DIN 72552
    joint: JointKind
    where: str = ""  # the plug or place that a run of rows has in common
    kit_pin: str = ""  # plug and pin of the controller: 'H1/3'
    terminal: str = ""  # what that pin is for, or what serves without a wire
    label: str = ""  # printed on the lead
    lead_colour: str = ""
    lead_stripe: str | None = None
    size: Quantity | None = None  # conductor size of the lead
    length: Quantity | None = None  # of the lead
    fuse: str = ""  # in the lead: 'Fuse 30 A'
    part: WiringPart | None = None
    branch: str = ""  # printed on the T-harness or plug that the lead ends in
    wire_colour: str = ""
    wire_stripe: str | None = None
    plug: str = ""  # name of the vehicle plug
    pin: str = ""
    function: str = ""  # the vehicle wire's job: 'ignition, feeds the engine computer'
    factory_side: Literal["", "harness side", "plug side"] = ""  # of an opened wire: where the car's signal comes from
    unproven: bool = False
    note: str = ""

    @property
    def opened(self) -> bool:
        """Whether the vehicle wire is open between its two ends."""
        return self.factory_side != ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringPlan:
    """Every route of a kit in a car, one row each, in the order of the paper."""

    rows: tuple[WiringRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A photograph as it goes into a paper: a JPEG picture, small enough to be sent, and its size [px]."""

    jpeg: bytes
    width_px: int
    height_px: int


Drawing = DashMap | WiringPlan | FaceDrawing | Photograph
