"""The blocks papers are made of: content without form.

A block says what is to be read, shown or filled in; `sheets` gives it a form. Text is a run of strings and quantities,
and a number that was computed or measured appears only as a Quantity, so that every one of them carries its trace.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from loomwright.papers.drawings import Drawing, FaceDrawing
from loomwright.papers.quantity import Quantity
from loomwright.starting.timeline import Timeline, WaitChart

__all__ = [
    "Block", "Bullets", "Caution", "Chart", "Face", "Film", "Heading", "Paper", "Paragraph", "Picture", "Quantity",
    "ReadingField", "Run", "Step", "StepNeeds", "Table", "Text", "Verdict",
]  # fmt: skip


Run = str | Quantity
Text = tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading; level 1 opens a part of the paper."""

    text: str
    level: Literal[1, 2, 3] = 2
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Running text."""

    text: Text
    small: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bullets:
    """A short list; `ticked` gives each entry a box to tick."""

    items: tuple[Text, ...]
    ticked: bool = False
    numbered: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution before the step it belongs to: hazard, consequence and how to avoid it in one text.

    The word follows ANSI Z535.6 / ISO 3864-2: danger, warning and caution speak of injury, notice of property.
    """

    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    text: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A plug face as the person sees it, and the same turned to the other side."""

    plug: str  # plug id of the car
    title: str
    drawing: FaceDrawing  # as the person sees it; `drawing.turned` is the other side, for the turn button
    words: str  # what the picture shows, for the ear
    words_turned: str = ""  # the same for the other side


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing with its caption; `words` says the same to somebody who cannot see it."""

    drawing: Drawing
    caption: str
    words: str
    wide: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A picture of what a start comes to: outputs and numbers in time, a story in steps, or a wait by temperature.

    `words` says the same to somebody who cannot see it.
    """

    drawing: Timeline | WaitChart
    caption: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Film:
    """A place in a film on the network: the paper tells where it is, and is complete without it."""

    link: str  # with the time in it
    at: str  # the time as one reads it, 'minutes:seconds'
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """One row of 'what you read means what', in order; the first that fits counts."""

    low: Quantity | None
    high: Quantity | None
    words: str
    good: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingField:
    """A place to note a reading, what it should be, and what other readings mean.

    The limits of the verdicts are in the tool's unit; where `relative` is true they are volts below the battery as the
    buyer just measured it.
    """

    id: str
    clip: str  # where the other lead of the tool goes
    probe: str  # the point to touch
    state: str  # key position and what to press, in words
    expect: Text
    relative: bool
    verdicts: tuple[Verdict, ...]
    lamp: str  # what the test lamp does, or why no lamp here; empty where nobody would think of one
    lamp_allowed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StepNeeds:
    """What must hold while a step is done; transitions between steps are inserted from it."""

    battery: Literal["on", "off"]
    key: Literal["out", "off", "acc", "run", "crank", "any"]
    panel: str | None = None  # place that must be open
    tool: str | None = None
    button: bool = False  # the car is switched with a button, and has no lock for a key

    @property
    def switched(self) -> str:
        """The key of the words for how the car is switched, of a key or of a button."""
        return f"{'button' if self.button else 'key'} {self.key}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One action: do, see, if not."""

    id: str
    title: str
    kind: Literal["prepare", "measure", "join", "plug", "program", "test", "close", "stop"]
    needs: StepNeeds
    place: str
    access: tuple[str, ...]
    do: tuple[Text, ...]
    see: Text
    if_not: Text
    label: str | None = None  # printed on the kit lead
    lead_colour: str | None = None
    wire_colour: str | None = None
    count: str | None = None
    neighbours: str | None = None
    face: Face | None = None
    picture: Picture | None = None  # where it is in the car
    photos: tuple[Picture, ...] = ()
    films: tuple[Film, ...] = ()
    readings: tuple[ReadingField, ...] = ()
    unproven: str | None = None
    may_stop: bool = False
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table with a header row; cells are text runs."""

    head: tuple[str, ...]
    rows: tuple[tuple[Text, ...], ...]
    caption: str = ""
    widths: tuple[float, ...] = ()  # relative


Block = Heading | Paragraph | Bullets | Caution | Chart | Face | Picture | ReadingField | Step | Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A whole paper: its name, what it is for, and its blocks in reading order."""

    id: str  # 'guide', 'wiring-plan' ...
    title: str
    subtitle: str
    language: str
    marks: Mapping[str, str] = field(default_factory=dict)  # kit revision, installation id, formats, tool version
    blocks: tuple[Block, ...] = ()
    footer: Text = ()  # at the foot of every page: whom to call, and what to have ready
