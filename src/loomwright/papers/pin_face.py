"""The face of a plug as the person sees it, with the pin meant, the pins to keep off, and how to count."""

from dataclasses import dataclass

from loomwright.documents.faces import Count, FaceShape, Side, Turn, count_to
from loomwright.documents.landmarks import Landmark, landmark
from loomwright.documents.miscounts import Miscount, miscounts
from loomwright.documents.vehicle import Plug
from loomwright.papers.blocks import Face, Picture
from loomwright.papers.count_words import caption_words, count_words, keep_off_words, landmark_words
from loomwright.papers.drawings import DashMap, DashSpot, FaceDrawing
from loomwright.papers.job import Job
from loomwright.papers.saying import capital, listed
from loomwright.papers.words.en import faces as words
from loomwright.papers.words.en import naming

__all__ = ["PinView", "dash_map", "face_shape", "never_words", "pin_count", "pin_view", "plug_face"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PinView:
    """One pin as the person finds it."""

    face: Face
    count: str
    neighbours: str
    keep_off: str  # of `neighbours` only what is not to be touched; empty where nothing is
    landmark: Landmark
    slips: tuple[Miscount, ...]


def face_shape(plug: Plug) -> FaceShape:
    """Return the geometry of a plug's face."""
    face = plug.face
    return FaceShape(
        id=plug.id, rows=face.rows, large=frozenset(face.large), latch=face.latch, drawn_from=face.drawn_from
    )


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
    shape = face_shape(plug)
    occupants = _occupants(job, plug_id, shape)
    side, turn = plug.seen_side, plug.seen_turn
    near = landmark(shape, name, side, turn, occupants)
    restraint, never = job.restraint_pins(plug_id), never_words(job, plug_id)
    avoid = tuple(
        dict.fromkeys(p for p in (*restraint, *((near.avoid.pin,) if near.avoid else ()), *keep_off) if p != name)
    )
    labels = {
        p: job.circuit_name(job.car.pins[f"{plug_id}/{p}"].circuit)
        for p in (name, *avoid)
        if f"{plug_id}/{p}" in job.car.pins
    }
    drawing = FaceDrawing(
        shape=shape, occupants=occupants, side=side, turn=turn, target=name, avoid=avoid, labels=labels
    )
    neighbours = " ".join(w for w in (landmark_words(near), never) if w)
    other: Side = "mating" if side == "wire" else "wire"
    counted = count_words(count_to(shape, name, side, turn))
    return PinView(
        face=Face(
            plug=plug_id, title=capital(plug.name), drawing=drawing, words=counted,
            words_turned=count_words(count_to(shape, name, other, _turned(turn))),
        ),
        count=counted,
        neighbours=neighbours,
        keep_off=" ".join(w for w in (keep_off_words(near), never) if w),
        landmark=near,
        slips=miscounts(shape, name, frozenset(p for p, o in occupants.items() if o is not None)),
    )  # fmt: skip


def never_words(job: Job, plug_id: str) -> str:
    """Return which pins of a plug nobody touches because airbag wires sit in them; empty where none do."""
    restraint = job.restraint_pins(plug_id)
    if not restraint:
        return ""
    return words.NEVER_PINS.format(pins=listed((naming.PIN.format(pin=p) for p in restraint), naming.AND))


def pin_count(job: Job, pin: str) -> Count:
    """Return how to count to a pin of the car in the view the person has."""
    plug_id, _, name = pin.partition("/")
    plug = job.car.plugs[plug_id]
    return count_to(face_shape(plug), name, plug.seen_side, plug.seen_turn)


def plug_face(job: Job, plug_id: str, marked: tuple[str, ...] = ()) -> Face:
    """Return the face of a whole plug, no single pin meant; airbag pins are marked to keep off."""
    plug = job.car.plugs[plug_id]
    shape = face_shape(plug)
    avoid = job.restraint_pins(plug_id)
    labels = {p: job.circuit_name(job.car.pins[f"{plug_id}/{p}"].circuit) for p in (*marked, *avoid)}
    drawing = FaceDrawing(
        shape=shape, occupants=_occupants(job, plug_id, shape), side=plug.seen_side, turn=plug.seen_turn, avoid=avoid,
        labels=labels,
    )  # fmt: skip
    turned = drawing.turned
    return Face(
        plug=plug_id, title=capital(plug.name), drawing=drawing,
        words=caption_words(drawing.side, count_to(shape, shape.pins[0], drawing.side, drawing.turn).latch),
        words_turned=caption_words(turned.side, count_to(shape, shape.pins[0], turned.side, turned.turn).latch),
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
        caption=words.MAP_CAPTION.format(place=here.name),
        words=words.MAP_WORDS.format(place=here.name, words=here.words),
    )
