"""The face of a plug as the person sees it, with the pin meant, the pins to keep off, and how to count."""

from dataclasses import dataclass, replace

from loomwright.documents.colours import WireColour, parse_colour
from loomwright.documents.faces import Count, FaceShape, Side, Turn, count_to, latch_edge, shape_of, touching
from loomwright.documents.landmarks import Landmark, direction, in_line_across, landmark
from loomwright.documents.vehicle import Plug
from loomwright.papers.blocks import Face, Picture
from loomwright.papers.count_words import (
    LATCH,
    WIDE_SIDE,
    caption_words,
    count_words,
    keep_off_words,
    landmark_words,
    open_end_words,
    where_words,
)
from loomwright.papers.drawings import DashMap, DashSpot, FaceDrawing
from loomwright.papers.job import Job
from loomwright.papers.saying import capital, listed
from loomwright.papers.words.en import faces as words
from loomwright.papers.words.en import naming
from loomwright.sentences import linked, told

__all__ = ["PinView", "dash_map", "mark_of", "never_words", "pin_count", "pin_view", "plug_face"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PinView:
    """One pin as the person finds it."""

    face: Face
    count: str
    neighbours: str
    keep_off: str  # of `neighbours` only what is not to be touched; empty where nothing is
    landmark: Landmark


def mark_of(plug: Plug) -> str:
    """Return what tells which way up a plug is: its latch, or of a socket that stands free its wide side."""
    return WIDE_SIDE if plug.seen_side == "mating" else LATCH


_Wire = tuple[str, str | None]


def _parts(wire: _Wire) -> tuple[WireColour | str, WireColour | str | None]:
    def known(word: str) -> WireColour | str:
        try:
            return parse_colour(word)
        except ValueError:
            return word

    return known(wire[0]), None if wire[1] is None else known(wire[1])


def _credible(wire: _Wire, other: _Wire) -> bool:
    """Tell whether two wires are taken for each other by one slip of the eye, not by two at once.

    Wires of one plain colour each have only that slip; of striped ones either the base or the stripe must agree.
    """
    one, two = _parts(wire), _parts(other)
    if one[1] is None and two[1] is None:
        return True
    return one[0] == two[0] or (one[1] is not None and one[1] == two[1])


def _starts(job: Job, plug: str, near: Landmark) -> tuple[str, ...]:
    """Return the pins right beside one in its line whose wire turns the starter."""
    found = []
    for sight in (near.before, near.after):
        occupant = None if sight is None else job.car.pins.get(f"{plug}/{sight.pin}")
        if sight is not None and occupant is not None:
            function = job.car.circuits[occupant.circuit].function
            found += [sight.pin] if function in ("start", "second start") else []
    return tuple(found)


def _occupants(job: Job, plug: str, shape: FaceShape) -> dict[str, tuple[str, str | None] | None]:
    found: dict[str, tuple[str, str | None] | None] = {}
    for pin in shape.pins:
        occupant = job.car.pins.get(f"{plug}/{pin}")
        found[pin] = None if occupant is None or occupant.colour is None else (occupant.colour, occupant.stripe)
    return found


def _turned(turn: Turn) -> Turn:
    mirrored: dict[Turn, Turn] = {0: 0, 90: 270, 180: 180, 270: 90}
    return mirrored[turn]


def pin_view(job: Job, pin: str, keep_off: tuple[str, ...] = ()) -> PinView:
    """Return how to find a pin of the car in the view the person has, and what not to touch."""
    plug_id, _, name = pin.partition("/")
    plug = job.car.plugs[plug_id]
    shape = shape_of(plug)
    occupants = _occupants(job, plug_id, shape)
    side, turn = plug.seen_side, plug.seen_turn
    near = landmark(shape, name, side, turn, occupants)
    mine = occupants.get(name)
    if mine is not None:
        alike = ((p, occupants.get(p)) for p in near.look_alikes)
        near = replace(near, look_alikes=tuple(p for p, o in alike if o is not None and _credible(mine, o)))
    starts = _starts(job, plug_id, near)
    mark = mark_of(plug)
    restraint, never = job.restraint_pins(plug_id), never_words(job, plug_id, name)
    avoid = tuple(
        dict.fromkeys(
            p for p in (*restraint, *starts, *((near.avoid.pin,) if near.avoid else ()), *keep_off) if p != name
        )
    )
    labels = {
        p: job.circuit_name(job.car.pins[f"{plug_id}/{p}"].circuit)
        for p in (name, *avoid)
        if f"{plug_id}/{p}" in job.car.pins
    }
    drawing = FaceDrawing(
        shape=shape, occupants=occupants, side=side, turn=turn, target=name, avoid=avoid, labels=labels,
        mark=mark,
    )  # fmt: skip
    started = linked(told(words.START_BESIDE, pin=p, colour=job.car.pins[f"{plug_id}/{p}"].words) for p in starts)
    around = open_end_words(near) if side == "mating" else landmark_words(near)
    near_by = "" if side == "mating" else keep_off_words(near)
    neighbours = linked((around, started, never))
    other: Side = "mating" if side == "wire" else "wire"
    counted = count_words(count_to(shape, name, side, turn), mark)
    return PinView(
        face=Face(
            plug=plug_id, title=capital(plug.name), drawing=drawing, words=counted,
            words_turned=count_words(count_to(shape, name, other, _turned(turn)), mark),
        ),
        count=counted,
        neighbours=neighbours,
        keep_off=linked((near_by, started, never)),
        landmark=near,
    )  # fmt: skip


def never_words(job: Job, plug_id: str, near: str | None = None) -> str:
    """Return which pins of a plug nobody touches because airbag wires sit in them; empty where none do.

    Of those that border the pin `near`, or stand straight above or below it in another row, it is told where they are.
    """
    restraint = job.restraint_pins(plug_id)
    if not restraint:
        return ""
    plug = job.car.plugs[plug_id]
    shape = shape_of(plug)
    border = () if near is None else touching(shape, near)

    def named(pin: str) -> str:
        if near is None or not (pin in border or in_line_across(shape, near, pin, plug.seen_side, plug.seen_turn)):
            return told(naming.PIN, pin=pin)
        where = where_words(direction(shape, near, pin, plug.seen_side, plug.seen_turn))
        return told(words.NEVER_BESIDE, pin=told(naming.PIN, pin=pin), where=where)

    return told(words.NEVER_PINS, pins=listed(map(named, restraint), naming.AND))


def pin_count(job: Job, pin: str) -> Count:
    """Return how to count to a pin of the car in the view the person has."""
    plug_id, _, name = pin.partition("/")
    plug = job.car.plugs[plug_id]
    return count_to(shape_of(plug), name, plug.seen_side, plug.seen_turn)


def plug_face(job: Job, plug_id: str, marked: tuple[str, ...] = (), *, only_marked: bool = False) -> Face:
    """Return the face of a whole plug, no single pin meant; airbag pins are marked to keep off.

    With `only_marked` every other wire of the plug is marked so as well: nobody has business at it.
    """
    plug = job.car.plugs[plug_id]
    shape = shape_of(plug)
    occupants = _occupants(job, plug_id, shape)
    others = tuple(p for p, wire in occupants.items() if wire is not None and p not in marked) if only_marked else ()
    restraint = job.restraint_pins(plug_id)
    avoid = tuple(dict.fromkeys((*restraint, *others)))
    labels = {p: job.circuit_name(job.car.pins[f"{plug_id}/{p}"].circuit) for p in (*marked, *restraint)}
    drawing = FaceDrawing(
        shape=shape, occupants=occupants, side=plug.seen_side, turn=plug.seen_turn, avoid=avoid,
        labels=labels, mark=mark_of(plug),
    )  # fmt: skip
    turned = drawing.turned
    return Face(
        plug=plug_id, title=capital(plug.name), drawing=drawing,
        words=caption_words(drawing.side, latch_edge(drawing.turn), drawing.mark),
        words_turned=caption_words(turned.side, latch_edge(turned.turn), turned.mark),
    )  # fmt: skip


def dash_map(job: Job, place: str | None) -> Picture | None:
    """Return the map of the footwell with the places of the work and the one meant now."""
    if place is None:
        return None
    spots = tuple(
        DashSpot(id=p, name=job.car.places[p].name, x=job.car.places[p].x, y=job.car.places[p].y) for p in job.places
    )
    here = job.car.places[place]
    if all(s.id != place for s in spots):
        spots = (*spots, DashSpot(id=place, name=here.name, x=here.x, y=here.y))
    return Picture(
        drawing=DashMap(spots=spots, highlight=(place,)),
        caption=told(words.MAP_CAPTION, place=here.name),
        words=told(words.MAP_WORDS, place=here.name, words=here.words),
    )
