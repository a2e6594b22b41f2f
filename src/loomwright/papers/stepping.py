"""What all steps share: place and how to get at it, tick lists of the catalogue, where to call."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from loomwright.papers.blocks import StepNeeds, Text
from loomwright.papers.job import Job
from loomwright.papers.saying import Field, say
from loomwright.papers.words.en import naming
from loomwright.sentences import told

__all__ = [
    "ASIDE", "BATTERY", "OUTSIDE", "SEAT", "UNDER_HOOD", "Battery", "Key", "Place", "at_controller", "at_place",
    "lines", "needs",
]  # fmt: skip

Battery = Literal["on", "off"]
Key = Literal["out", "off", "acc", "run", "crank", "any"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a step is done and how to get there, in words."""

    words: str
    access: tuple[str, ...]


BATTERY = Place(
    words=told("{place}. {words}", place=naming.HOOD_PLACE, words=naming.HOOD_WORDS), access=(naming.OPEN_HOOD,)
)
UNDER_HOOD = Place(words=naming.UNDER_HOOD, access=(naming.OPEN_HOOD,))
SEAT = Place(words=naming.CABIN_PLACE, access=(naming.SIT_IN,))
ASIDE = Place(words=naming.BESIDE_CAR, access=(naming.NO_ACCESS,))
OUTSIDE = Place(words=naming.OUTSIDE_PLACE, access=(naming.STAND_OUTSIDE,))


def at_place(job: Job, place: str | None) -> Place:
    """Return the words of a place of the car."""
    if place is None:
        return OUTSIDE
    here = job.car.places[place]
    return Place(words=told(naming.PLACE, name=here.name, words=here.words), access=here.access or (naming.NO_ACCESS,))


def at_controller(job: Job) -> Place:
    """Return where the controller and the free plugs of the kit lie."""
    words = told(naming.CONTROLLER_WORDS, name=job.kit.controller.name)
    return Place(words=told("{place}. {words}", place=naming.CONTROLLER_PLACE, words=words), access=(naming.NO_ACCESS,))


def lines(templates: Iterable[str], **fields: Field) -> tuple[Text, ...]:
    """Fill each template of a list."""
    return tuple(say(t, **fields) for t in templates)


def needs(battery: Battery, key: Key, panel: str | None = None, tool: str | None = None) -> StepNeeds:
    """Return what must hold while a step is done."""
    return StepNeeds(battery=battery, key=key, panel=panel, tool=tool)
