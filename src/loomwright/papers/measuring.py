"""Part A of the guide: every wire the kit uses is measured with everything plugged in."""

from collections.abc import Iterator
from dataclasses import replace

from loomwright.network.fitting_order import FitAction
from loomwright.network.results import Reading
from loomwright.papers.battery_steps import battery_off, battery_on
from loomwright.papers.blocks import Block, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution, for_place
from loomwright.papers.cold import cold_again
from loomwright.papers.going import Going, arrive, find_plug, first_seen
from loomwright.papers.job import Job, plug_of
from loomwright.papers.lead_ends import asked_of_wires
from loomwright.papers.measures import METER_V, volts
from loomwright.papers.measuring_plug import measure_plug
from loomwright.papers.pin_face import dash_map, pin_view
from loomwright.papers.probing import over_probe, reading_cautions, turning
from loomwright.papers.reading_fields import limits_of, must_move, reading_field
from loomwright.papers.saying import capital, joined, listed
from loomwright.papers.slips import Slips
from loomwright.papers.stepping import at_place, needs
from loomwright.papers.telling import of_wire
from loomwright.papers.unproven import pin_words
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import measuring as words
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told, unstopped

__all__ = ["measuring", "places_measured"]


def _measured(job: Job, action: FitAction) -> tuple[Joint, ...]:
    """Return the joints of an action whose wire is measured before anything is joined."""
    return tuple(j for j in action.joints if j.pin is not None and job.readings.of(j.id, "identify"))


def places_measured(job: Job) -> frozenset[str]:
    """Return the places that are opened in part A."""
    return frozenset(j.place for a in job.order for j in _measured(job, a) if j.place is not None)


def measuring(job: Job, slips: Slips) -> Iterator[Block]:
    """Yield part A: place by place, open up and measure each wire there."""
    yield Heading(text=words.HEAD, level=1, anchor="part-a")
    yield Paragraph(text=job.say(words.INTRO))
    yield Paragraph(text=job.say(words.PROBING))
    yield Paragraph(text=job.say(words.CLIPPING))
    yield from _below(job)
    yield Paragraph(text=job.say(words.OPENING))
    if job.sound_in("bare"):
        yield Paragraph(text=job.say(words.BREAK_ANY))
    yield caution(cautions.METER)
    going = Going(slips=slips, asked=asked_of_wires(job, slips))
    cold = job.cold_places
    if cold:
        named = listed((job.car.places[p].name for p in cold), naming.AND)
        yield Paragraph(text=job.say(words.COLD, places=named, wait=job.wait))
        yield from battery_off(job, "-first", measured=False)
        for place in cold:
            going.opened.add(place)
            yield _opening(job, place)
        yield battery_on(job, "-first")
    steps = [
        _measure(job, measured[0], going) if len(measured) == 1 else measure_plug(job, action, measured, going)
        for place in job.places
        for action in job.order
        if action.place == place and (measured := _measured(job, action))
    ]
    if steps and job.sound_in("bare"):
        last = steps[-1]
        steps[-1] = replace(last, do=(*last.do, job.say(words.BREAK), *cold_again(job)), may_stop=True)
    yield from steps


def _below(job: Job) -> Iterator[Paragraph]:
    """Yield what 'below the battery' means, with the first reading of the way that is judged so as the example."""
    for joint in job.ordered_joints:
        for reading in job.readings.of(joint.id, "identify"):
            limits = limits_of(reading.band)
            if reading.band.driven and limits.relative and not reading.flicker and limits.least_drop == 0:
                trace = f"reading:{reading.id}"
                yield Paragraph(
                    text=job.say(
                        words.BELOW, label=joint.label, battery=volts(limits.battery_v, trace),
                        shown=volts(limits.low, trace), drop=volts(limits.most_drop, trace),
                    )
                )  # fmt: skip
                return


def _opening(job: Job, place: str) -> Step:
    """Return the step that opens a place with the battery off: an airbag sits there."""
    here = job.car.places[place]
    found = (job.plug(j) for j in job.ordered_joints if j.place == place)
    plugs = {p.id: p for p in found if p is not None}.values()
    look = listed((told(words.PLUG_LOOK, name=p.name, look=unstopped(p.look)) for p in plugs), naming.AND)
    spot = at_place(job, place)
    photos, films = job.in_car((here.name, here))
    return Step(
        id=f"open:{place}", title=capital(told(words.OPEN_TITLE, place=here.name)), kind="prepare",
        needs=needs("off", "out", tool=linked(here.tools, ", ") or None), place=spot.words, access=(naming.OPENS_HERE,),
        do=tuple((a,) for a in spot.access),
        see=job.say(words.OPEN_SEE, plugs=look) if plugs else job.say(words.OPEN_SEE_NOTHING),
        if_not=job.say(words.OPEN_IF_NOT), picture=dash_map(job, place), photos=photos, films=films,
        cautions=for_place(job, place),
    )  # fmt: skip


def _touching(job: Job, joint: Joint, found: tuple[Reading, ...], going: Going) -> Iterator[Text]:
    plug_id, _, pin = (joint.pin or "").partition("/")
    yield find_plug(job, plug_id, going)
    if job.car.plugs[plug_id].seen_side == "mating":
        yield job.say(words.TOUCH_CONTACT, pin=pin)
    else:
        yield job.say(words.TOUCH, colour=job.wire(joint), pin=pin)
    yield job.say(words.READ_EACH)
    yield from turning(job, found)
    yield from over_probe(job, joint, found, going.slips)
    if joint.kind in ("tap", "cut in"):
        yield job.say(words.MARK, label=joint.label)


def _alike(job: Job, joint: Joint, found: tuple[Reading, ...], slips: Slips) -> Text:
    # A number that does not stand still is told from every steady one by looking at it.
    if any(must_move(r) for r in found):
        return job.say(words.SEE, function=joint.function)
    limits = [(r.band.state, limits_of(r.band)) for r in found if r.band.driven]
    pins = slips.alike(joint.pin or "", [(s, m.low - METER_V, m.high + METER_V) for s, m in limits])
    if not pins:
        return job.say(words.SEE, function=joint.function)
    others = listed((job.pin_words(p) for p in pins[:3]), naming.AND)
    return joined(job.say(words.SEE_ALIKE), job.say(words.ALIKE, others=others))


def _others(joint: Joint, job: Job, slips: Slips) -> tuple[str, ...]:
    """Return the pins a wire must be told from: those one may land on, and the kit's other ones in the same plug."""
    pin = joint.pin or ""
    same = (j.pin for j in job.ordered_joints if j.pin is not None and plug_of(j.pin) == plug_of(pin))
    return tuple(dict.fromkeys(p for p in (*slips.pins.get(pin, ()), *same) if p != pin))


def _measure(job: Job, joint: Joint, going: Going) -> Step:
    pin = joint.pin or ""
    plug = job.car.plugs[plug_of(pin)]
    view = pin_view(job, pin)
    circuit = None if joint.circuit is None else job.car.circuits[joint.circuit]
    photos, films = job.in_car(
        *first_seen(job, plug, going), None if circuit is None else (circuit.name or joint.function, circuit)
    )
    here = arrive(job, joint.place, going)
    every = job.readings.of(joint.id, "identify")
    found = of_wire(going.slips, every, _others(joint, job, going.slips), pair_only=False, asked=going.asked)
    note = "" if circuit is None or circuit.note is None else told(words.NOTE, note=circuit.note)
    key = found[0].band.state.key
    return Step(
        id=f"measure:{joint.id}",
        title=told(words.TITLE, label=joint.label, function=joint.function),
        kind="measure",
        needs=needs("on", key if key != "off" else "out", panel=job.car.places[plug.place].name, tool=here.tool),
        place=here.place, access=here.access, do=tuple(_touching(job, joint, found, going)),
        see=_alike(job, joint, found, going.slips),
        if_not=job.say(words.IF_NOT),
        label=joint.label, lead_colour=job.lead_colour(joint), wire_colour=job.wire(joint), count=view.count,
        neighbours=linked((view.neighbours, note)), face=view.face, picture=here.picture, photos=photos,
        films=films,
        readings=tuple(
            reading_field(job, joint, r, found, going.slips, rest=going.slips.rest(pin, r.band.state)) for r in found
        ),
        unproven=pin_words(job, joint), cautions=(*here.cautions, *reading_cautions(job, joint, found)),
    )  # fmt: skip
