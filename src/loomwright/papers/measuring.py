"""Part A of the guide: every wire the kit uses is measured with everything plugged in."""

from collections.abc import Iterator

from loomwright.documents.vehicle import Plug
from loomwright.network.results import Reading
from loomwright.papers.battery_steps import battery_off, battery_on
from loomwright.papers.blocks import Block, Caution, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution, for_measuring, for_place
from loomwright.papers.job import Job, function_words
from loomwright.papers.measures import METER_V
from loomwright.papers.pin_face import dash_map, pin_view
from loomwright.papers.reading_fields import limits_of, reading_field
from loomwright.papers.saying import capital, listed
from loomwright.papers.slips import Slips, slips_of
from loomwright.papers.stepping import SEAT, Battery, at_place, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import measuring as words
from loomwright.planning.installation import Joint

__all__ = ["measuring", "unproven_words"]


def unproven_words(job: Job, circuit: str | None) -> str | None:
    """Return the warning beside a wire nobody has proven on this car, or None."""
    if circuit is None:
        return None
    standing = job.car.standing[circuit]
    template = {"unproven": words.UNPROVEN, "contradicted": words.CONTRADICTED}.get(standing.status)
    return None if template is None else template.format(why=standing.why)


def measuring(job: Job) -> Iterator[Block]:
    """Yield part A: place by place, open up and measure each wire there."""
    yield Heading(text=words.HEAD, level=1, anchor="part-a")
    yield Paragraph(text=job.say(words.INTRO))
    yield Paragraph(text=job.say(words.PROBING))
    yield Paragraph(text=job.say(words.CLIPPING))
    yield caution(cautions.METER)
    slips = slips_of(job)
    cold = [p for p in job.places if any(h.kind == "airbag" and h.place == p for h in job.car.hazards)]
    if cold:
        yield Paragraph(text=job.say(words.COLD))
        yield from battery_off(job, "-first")
        for place in cold:
            yield _opening(job, place, "off")
        yield battery_on(job, "-first")
    for place in job.places:
        if place not in cold:
            yield _opening(job, place, "on")
        for joint in job.ordered_joints:
            found = job.readings.of(joint.id, "identify")
            if joint.place == place and joint.pin is not None and found:
                yield _measure(job, joint, found, slips)
    if job.sound_in("bare"):
        yield _break(job)


def _plugs_at(job: Job, place: str) -> tuple[Plug, ...]:
    found = (job.plug(j) for j in job.ordered_joints if j.place == place)
    return tuple({p.id: p for p in found if p is not None}.values())


def _opening(job: Job, place: str, battery: Battery) -> Step:
    here = job.car.places[place]
    plugs = _plugs_at(job, place)
    look = listed((words.PLUG_LOOK.format(name=p.name, look=p.look.rstrip(".")) for p in plugs), naming.AND)
    spot = at_place(job, place)
    see = job.say(words.OPEN_SEE, plugs=look) if plugs else job.say(words.OPEN_SEE_NOTHING)
    return Step(
        id=f"open:{place}", title=capital(words.OPEN_TITLE.format(place=here.name)), kind="prepare",
        needs=needs(battery, "out", tool=", ".join(here.tools) or None),
        place=spot.words, access=(naming.OPENS_HERE,),
        do=tuple((a,) for a in spot.access), see=see, if_not=job.say(words.OPEN_IF_NOT), picture=dash_map(job, place),
        cautions=for_place(job, place),
    )  # fmt: skip


def _touching(job: Job, joint: Joint, plug: Plug, pin: str) -> Iterator[Text]:
    free_socket = plug.seen_side == "mating"
    yield job.say(words.FIND_SOCKET if free_socket else words.FIND_PLUG, plug=plug.name, look=plug.look)
    yield job.say(words.FIND_PIN, pin=pin)
    if free_socket:
        yield job.say(words.TOUCH_CONTACT, pin=pin)
    else:
        yield job.say(words.TOUCH, colour=job.wire(joint), pin=pin)
    yield job.say(words.READ_EACH)
    if joint.kind == "tap":
        yield job.say(words.MARK, label=joint.label)


def _alike(job: Job, joint: Joint, found: tuple[Reading, ...], slips: Slips) -> Text:
    # A number that does not stand still is told from every steady one by looking at it.
    if any(r.flicker for r in found):
        return job.say(words.SEE, function=joint.function)
    limits = [(r.band.state, limits_of(r.band)) for r in found if r.band.driven]
    pins = slips.alike(joint.pin or "", [(s, m.low - METER_V, m.high + METER_V) for s, m in limits])
    if not pins:
        return job.say(words.SEE, function=joint.function)
    others = listed((job.pin_words(p) for p in pins[:3]), naming.AND)
    return (*job.say(words.SEE_ALIKE), " ", *job.say(words.ALIKE, others=others))


def _measure(job: Job, joint: Joint, found: tuple[Reading, ...], slips: Slips) -> Step:
    pin = joint.pin or ""
    plug = job.car.plugs[pin.partition("/")[0]]
    view = pin_view(job, pin)
    spot = at_place(job, joint.place)
    states = [r.band.state for r in found]
    circuit = None if joint.circuit is None else job.car.circuits[joint.circuit]
    note = "" if circuit is None or circuit.note is None else " " + words.NOTE.format(note=circuit.note)
    held: tuple[Caution, ...] = for_measuring(
        job, joint, cranks=any(s.key == "crank" or "engine running" in s.active for s in states),
        parking_brake=any("parking brake set" in s.active for s in states),
    )  # fmt: skip
    return Step(
        id=f"measure:{joint.id}",
        title=words.TITLE.format(label=joint.label, function=function_words(joint.function)),
        kind="measure",
        needs=needs("on", states[0].key if states[0].key != "off" else "out", panel=job.car.places[plug.place].name),
        place=spot.words, access=spot.access, do=tuple(_touching(job, joint, plug, pin.partition("/")[2])),
        see=_alike(job, joint, found, slips),
        if_not=job.say(words.IF_NOT),
        label=joint.label, lead_colour=job.lead_colour(joint), wire_colour=job.wire(joint), count=view.count,
        neighbours=view.neighbours + note, face=view.face,
        readings=tuple(reading_field(job, joint, r, found, slips) for r in found),
        unproven=unproven_words(job, joint.circuit), cautions=held,
    )  # fmt: skip


def _break(job: Job) -> Step:
    return Step(
        id="stop-a", title=words.STOP_TITLE, kind="stop", needs=needs("on", "out"), place=SEAT.words,
        access=SEAT.access, do=job.lines(words.STOP_DO), see=job.say(words.STOP_SEE), if_not=job.say(words.STOP_IF_NOT),
        may_stop=True,
    )  # fmt: skip
