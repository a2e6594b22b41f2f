"""What a drawing shows, without its form: a plug face, the map of the footwell, the wiring plan.

Papers say what is to be drawn; `loomwright.sheets` draws it at the size the page has room for.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from loomwright.documents.faces import FaceShape, Side, Turn
from loomwright.papers.quantity import Quantity

__all__ = ["DashMap", "DashSpot", "Drawing", "FaceDrawing", "WiringPart", "WiringPlan", "WiringRow"]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringPart:
    """An interface part between a kit lead and a vehicle wire; the patterns are those of planning's PartUse."""

    pattern: Literal["relay inverts", "relay boosts", "relay grounds", "diode", "resistor", "fuse"]
    name: str  # as in the bag: 'Relay K1', 'Resistor 680 Ω'
    fed_from: str | None = None  # what feeds a relay, as in PartUse: 'battery feed 1 (red)'
    band: Literal["vehicle", "kit"] = "vehicle"  # where a diode's band points: to the kit for a negative output


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringRow:
    """One way from a kit terminal through its parts and the joint to a vehicle wire.

    `joint` is how they meet; for 'bus', 'setting' and 'none' there is no wire and `note` says what serves instead.
    `end` tells the two rows of an interrupted wire apart.
    """

    task: str  # what the row is for: 'Ignition'
    joint: Literal[
        "tap", "T tapped", "T interrupted", "plug", "ground point", "added part", "bus", "setting", "none"
    ]  # fmt: skip
    terminal: str  # of the controller or vehicle module: 'H1/3 ignition output'
    label: str  # printed on the lead
    lead_colour: str = ""
    lead_stripe: str | None = None
    size: Quantity | None = None  # conductor size of the lead
    parts: tuple[WiringPart, ...] = ()
    wire_colour: str = ""
    wire_stripe: str | None = None
    plug: str = ""  # name of the vehicle plug
    pin: str = ""
    function: str = ""  # the vehicle wire's job: 'ignition, feeds the engine computer'
    place: str = ""
    end: Literal["", "switch side", "load side"] = ""
    unproven: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringPlan:
    """Every route of a kit in a car, one row each, in the order of the paper."""

    rows: tuple[WiringRow, ...]


Drawing = DashMap | WiringPlan | FaceDrawing
