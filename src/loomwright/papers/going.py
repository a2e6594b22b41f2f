"""The way through the places of the car: what was opened and found, and what a step says on arriving."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from loomwright.documents.vehicle import Plug
from loomwright.papers.blocks import Caution, Picture, Text
from loomwright.papers.cautioning import for_place
from loomwright.papers.job import Job
from loomwright.papers.pin_face import dash_map
from loomwright.papers.saying import capital
from loomwright.papers.showing import Shown
from loomwright.papers.slips import Slips
from loomwright.papers.stepping import at_place
from loomwright.papers.words.en import measuring as words
from loomwright.papers.words.en import naming
from loomwright.sentences import linked

__all__ = ["Going", "arrive", "find_plug", "first_seen"]


@dataclass(slots=True)
class Going:
    """What has been opened and found so far on the way through the places."""

    slips: Slips
    asked: frozenset[str]  # ids of readings that are taken whatever they tell
    opened: set[str] = field(default_factory=set)
    plugs: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """What a step says about its place: everything on arriving, next to nothing while one is still there."""

    place: str
    access: tuple[str, ...]
    tool: str | None
    picture: Picture | None
    cautions: tuple[Caution, ...]


def arrive(job: Job, place: str | None, going: Going) -> Arrival:
    """Return what a step says about its place, and note that it is open from now on."""
    spot = at_place(job, place)
    if place is None:
        return Arrival(place=spot.words, access=spot.access, tool=None, picture=None, cautions=())
    here = job.car.places[place]
    if place in going.opened:
        still = (naming.STILL_OPEN,) if here.access else spot.access
        return Arrival(place=capital(here.name), access=still, tool=None, picture=None, cautions=())
    going.opened.add(place)
    return Arrival(
        place=spot.words, access=spot.access, tool=linked(here.tools, ", ") or None, picture=dash_map(job, place),
        cautions=for_place(job, place),
    )  # fmt: skip


def find_plug(job: Job, plug_id: str, going: Going) -> Text:
    """Return how to find a plug, with its look only the first time."""
    plug = job.car.plugs[plug_id]
    if plug_id in going.plugs:
        return job.say(words.SAME_PLUG, plug=plug.name)
    going.plugs.add(plug_id)
    template = words.FIND_SOCKET if plug.seen_side == "mating" else words.FIND_PLUG
    return job.say(template, plug=plug.name, look=plug.look)


def first_seen(job: Job, plug: Plug, going: Going) -> Iterator[tuple[str, Shown]]:
    """Yield the place of a plug and the plug with their names, each where the way comes by for the first time."""
    place = job.car.places[plug.place]
    if plug.place not in going.opened:
        yield place.name, place
    if plug.id not in going.plugs:
        yield plug.name, plug
