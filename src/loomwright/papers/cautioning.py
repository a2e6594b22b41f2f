"""Which cautions a step or a paper carries."""

from collections.abc import Iterator

from loomwright.documents.behaviour import DataWire
from loomwright.documents.colours import WireColour, clash_wires, parse_colour
from loomwright.papers.blocks import Caution
from loomwright.papers.job import Job, plug_of
from loomwright.papers.saying import Field, listed, say
from loomwright.papers.words.en import cautions as words
from loomwright.papers.words.en import joining as joining_words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.sentences import told

__all__ = [
    "caution", "clashes", "everywhere", "for_joining", "for_measuring", "for_place", "hazards",
    "waiting",
]  # fmt: skip

_HAZARDS = {
    "airbag": words.HAZARD_AIRBAG,
    "high voltage": words.HAZARD_HIGH_VOLTAGE,
    "moving part": words.HAZARD_MOVING,
    "hot part": words.HAZARD_HOT,
    "sharp edge": words.HAZARD_SHARP,
}


def caution(entry: words.Caution, **fields: Field) -> Caution:
    """Return a caution of the catalogue with its fields filled."""
    word, text = entry
    return Caution(word=word, text=say(text, **fields))


def everywhere() -> tuple[Caution, ...]:
    """Return the cautions that hold for all of the work, the gravest first.

    Those about measuring stand where measuring begins, those about using the kit where its use is told.
    """
    return (
        caution(words.GARAGE), caution(words.AIRBAG_WIRES), caution(words.HIGH_VOLTAGE), caution(words.MANUAL),
        caution(words.INTERLOCKS), caution(words.MISMATCH), caution(words.CUTS), caution(words.COLOUR),
    )  # fmt: skip


def waiting(job: Job) -> Caution:
    """Return the caution about airbags that outlive the battery, with this car's waiting time."""
    return caution(words.AIRBAG_WAIT_UNKNOWN if job.wait_minutes is None else words.AIRBAG_WAIT, wait=job.wait)


def hazards(job: Job) -> tuple[Caution, ...]:
    """Return every hazard the car's document names, as a caution."""
    return tuple(caution(_HAZARDS[h.kind], words=h.words) for h in job.car.hazards)


def for_place(job: Job, place: str | None) -> tuple[Caution, ...]:
    """Return the hazards of a place, and airbags just beside it on the map of the footwell."""
    if place is None:
        return ()
    here = job.car.places[place]
    near = [
        h
        for h in job.car.hazards
        if h.place == place
        or (
            h.kind in ("airbag", "high voltage")
            and abs(job.car.places[h.place].x - here.x) < _NEAR_X
            and abs(job.car.places[h.place].y - here.y) < _NEAR_Y
        )
    ]
    return tuple(caution(_HAZARDS[h.kind], words=h.words) for h in near)


# A hand's reach on the map of the footwell, in percent of its width and height.
_NEAR_X, _NEAR_Y = 12.0, 20.0


def _restraint_pins(job: Job, joint: Joint) -> Iterator[Caution]:
    if joint.pin is not None and (pins := job.restraint_pins(plug_of(joint.pin))):
        named = listed(
            (told(naming.PIN_WIRE, pin=p, colour=job.car.pins[f"{plug_of(joint.pin)}/{p}"].words) for p in pins),
            naming.AND,
        )
        yield caution(words.AIRBAG_PINS, pins=named)


def _parsed(colour: str | None, stripe: str | None) -> tuple[WireColour, WireColour | None] | None:
    try:
        return None if colour is None else (parse_colour(colour), parse_colour(stripe) if stripe else None)
    except ValueError:
        return None


def clashes(job: Job, joint: Joint) -> tuple[str, ...]:
    """Return the pins of the joint's plug, the right one left out, whose wire has the colours of the kit's lead."""
    lead = _parsed(joint.colour, joint.stripe)
    if joint.pin is None or lead is None:
        return ()
    found = []
    for pin, occupant in job.car.pins.items():
        wire = _parsed(occupant.colour, occupant.stripe)
        if pin == joint.pin or plug_of(pin) != plug_of(joint.pin) or wire is None:
            continue
        striped_alike = (lead[1] is None) == (wire[1] is None)
        if striped_alike and clash_wires(lead, wire) is not None:
            found.append((lead != wire, pin))
    return tuple(pin for _, pin in sorted(found))


def _clash(job: Job, joint: Joint) -> Iterator[Caution]:
    same = clashes(job, joint)
    if same and joint.pin is not None and joint.kind in ("tap", "cut in"):
        yield caution(
            words.CLASH,
            label=joint.label,
            colour=job.lead_colour(joint),
            other=listed((job.pin_words(p) for p in same[:2]), naming.AND),
            right=told(
                joining_words.CLASH_RIGHT,
                plug=job.car.plugs[plug_of(joint.pin)].name,
                pin=joint.pin.partition("/")[2],
                colour=job.wire(joint),
            ),
        )


def for_measuring(job: Job, joint: Joint, *, cranks: bool, parking_brake: bool) -> tuple[Caution, ...]:
    """Return the cautions before a wire is measured: airbag pins of its plug, cranking, rolling, data."""
    found = list(_restraint_pins(job, joint))
    if cranks:
        found.append(caution(words.CRANKING))
    if parking_brake:
        found.append(caution(words.CHOCKS))
    if joint.circuit is not None and isinstance(job.car.circuits[joint.circuit].behaviour, DataWire):
        found.append(caution(words.DATA))
    return tuple(found)


def for_joining(job: Job, joint: Joint) -> tuple[Caution, ...]:
    """Return the cautions before a lead is joined: airbag pins of the plug, the interlocks, a wire of like colour."""
    found = list(_restraint_pins(job, joint))
    if joint.function in ("start", "second start", "park/neutral", "hood switch", "brake"):
        found.append(caution(words.INTERLOCKS))
    return (*found, *_clash(job, joint))
