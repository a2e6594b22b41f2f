"""Part A of the guide: every wire the kit uses is measured with everything plugged in."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from loomwright.documents.vehicle import Plug
from loomwright.network.fitting_order import FitAction
from loomwright.network.results import Reading
from loomwright.papers.battery_steps import battery_off, battery_on
from loomwright.papers.blocks import Block, Caution, Heading, Paragraph, Picture, Step, Text
from loomwright.papers.cautioning import caution, for_measuring, for_place
from loomwright.papers.count_words import LATCH, look_words, place_words
from loomwright.papers.job import Job, plug_of
from loomwright.papers.lead_ends import asked_of_wires
from loomwright.papers.measures import METER_V, volts
from loomwright.papers.pin_face import dash_map, mark_of, never_words, pin_count, pin_view, plug_face
from loomwright.papers.reading_fields import limits_of, reading_field
from loomwright.papers.saying import capital, joined, listed
from loomwright.papers.showing import Shown
from loomwright.papers.slips import Slips
from loomwright.papers.stepping import at_place, needs
from loomwright.papers.telling import of_plug, of_wire, rules_out
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import measuring as words
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told, unstopped

__all__ = ["measuring", "places_measured", "unproven_of", "unproven_words"]


def unproven_words(job: Job, circuit: str | None) -> str | None:
    """Return the warning beside a wire nobody has proven on this car, or None."""
    if circuit is None:
        return None
    standing = job.car.standing[circuit]
    template = {"unproven": words.UNPROVEN, "contradicted": words.CONTRADICTED}.get(standing.status)
    return None if template is None else told(template, why=job.why_words(circuit))


def unproven_of(job: Job, joints: tuple[Joint, ...]) -> str | None:
    """Return one warning for several wires, those with the same standing named together; None where all are proven."""
    labels: dict[str, list[str]] = {}
    for joint in joints:
        warning = unproven_words(job, joint.circuit)
        if warning is not None:
            labels.setdefault(warning, []).append(joint.label)
    found = [told(words.UNPROVEN_OF, labels=listed(of, naming.AND), why=why) for why, of in labels.items()]
    return linked(found) or None


@dataclass(slots=True)
class _Going:
    """What has been opened and found so far on the way through the places."""

    slips: Slips
    asked: frozenset[str]  # ids of readings that are taken whatever they tell
    opened: set[str] = field(default_factory=set)
    plugs: set[str] = field(default_factory=set)


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
    going = _Going(slips=slips, asked=asked_of_wires(job, slips))
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
        _measure(job, measured[0], going) if len(measured) == 1 else _measure_plug(job, action, measured, going)
        for place in job.places
        for action in job.order
        if action.place == place and (measured := _measured(job, action))
    ]
    if steps and job.sound_in("bare"):
        last = steps[-1]
        steps[-1] = replace(last, do=(*last.do, job.say(words.BREAK)), may_stop=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Arrival:
    """What a step says about its place: everything on arriving, next to nothing while one is still there."""

    place: str
    access: tuple[str, ...]
    tool: str | None
    picture: Picture | None
    cautions: tuple[Caution, ...]


def _arrive(job: Job, place: str | None, going: _Going) -> _Arrival:
    spot = at_place(job, place)
    if place is None:
        return _Arrival(place=spot.words, access=spot.access, tool=None, picture=None, cautions=())
    here = job.car.places[place]
    if place in going.opened:
        still = (naming.STILL_OPEN,) if here.access else spot.access
        return _Arrival(place=capital(here.name), access=still, tool=None, picture=None, cautions=())
    going.opened.add(place)
    return _Arrival(
        place=spot.words, access=spot.access, tool=linked(here.tools, ", ") or None, picture=dash_map(job, place),
        cautions=for_place(job, place),
    )  # fmt: skip


def _find(job: Job, plug_id: str, going: _Going) -> Text:
    """Return how to find a plug, with its look only the first time."""
    plug = job.car.plugs[plug_id]
    if plug_id in going.plugs:
        return job.say(words.SAME_PLUG, plug=plug.name)
    going.plugs.add(plug_id)
    template = words.FIND_SOCKET if plug.seen_side == "mating" else words.FIND_PLUG
    return job.say(template, plug=plug.name, look=plug.look)


def _first_seen(job: Job, plug: Plug, going: _Going) -> Iterator[tuple[str, Shown]]:
    """Yield the place of a plug and the plug with their names, each where the way comes by for the first time."""
    place = job.car.places[plug.place]
    if plug.place not in going.opened:
        yield place.name, place
    if plug.id not in going.plugs:
        yield plug.name, plug


def _over_probe(job: Job, joint: Joint, found: tuple[Reading, ...], slips: Slips) -> Iterator[Text]:
    """Yield how a wire is read with that shut which must stand open to reach it."""
    behind = None if joint.place is None else job.car.places[joint.place].behind
    told_of = {s for r in found for s in (*r.band.state.active, *slips.rest(joint.pin or "", r.band.state))}
    if behind in told_of:
        yield job.say(words.OVER_PROBE[behind])


def _cranking(job: Job, found: tuple[Reading, ...]) -> Iterator[Text]:
    if any(r.band.state.key == "crank" for r in found):
        yield job.say(words.CRANK)
    if any(r.band.state.holds("engine running") for r in found):
        yield job.say(words.RUNNING)


def _touching(job: Job, joint: Joint, found: tuple[Reading, ...], going: _Going) -> Iterator[Text]:
    plug_id, _, pin = (joint.pin or "").partition("/")
    yield _find(job, plug_id, going)
    if job.car.plugs[plug_id].seen_side == "mating":
        yield job.say(words.TOUCH_CONTACT, pin=pin)
    else:
        yield job.say(words.TOUCH, colour=job.wire(joint), pin=pin)
    yield job.say(words.READ_EACH)
    yield from _cranking(job, found)
    yield from _over_probe(job, joint, found, going.slips)
    if joint.kind in ("tap", "cut in"):
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
    return joined(job.say(words.SEE_ALIKE), job.say(words.ALIKE, others=others))


def _cautions(job: Job, joint: Joint, found: tuple[Reading, ...]) -> tuple[Caution, ...]:
    states = [r.band.state for r in found]
    return for_measuring(
        job, joint, cranks=any(s.key == "crank" or "engine running" in s.active for s in states),
        parking_brake=any("parking brake set" in s.active for s in states),
    )  # fmt: skip


def _others(joint: Joint, job: Job, slips: Slips) -> tuple[str, ...]:
    """Return the pins a wire must be told from: those one may land on, and the kit's other ones in the same plug."""
    pin = joint.pin or ""
    same = (j.pin for j in job.ordered_joints if j.pin is not None and plug_of(j.pin) == plug_of(pin))
    return tuple(dict.fromkeys(p for p in (*slips.pins.get(pin, ()), *same) if p != pin))


def _measure(job: Job, joint: Joint, going: _Going) -> Step:
    pin = joint.pin or ""
    plug = job.car.plugs[plug_of(pin)]
    view = pin_view(job, pin)
    circuit = None if joint.circuit is None else job.car.circuits[joint.circuit]
    photos, films = job.in_car(
        *_first_seen(job, plug, going), None if circuit is None else (circuit.name or joint.function, circuit)
    )
    here = _arrive(job, joint.place, going)
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
        unproven=unproven_words(job, joint.circuit), cautions=(*here.cautions, *_cautions(job, joint, found)),
    )  # fmt: skip


def _same_for_the_meter(job: Job, found: Mapping[str, tuple[Reading, ...]], slips: Slips) -> Text:
    """Return the sentence about measured pins that no reading tells from each other, or nothing."""

    def same(p: str, q: str) -> bool:
        return not any(rules_out(slips, r, q) for r in found[p]) and not any(rules_out(slips, r, p) for r in found[q])

    groups = dict.fromkeys(tuple(q for q in found if q == p or same(p, q)) for p in found)
    alike = [
        told(words.PLUG_SAME, pins=listed((p.partition("/")[2] for p in group), naming.AND))
        for group in groups
        if len(group) > 1
    ]
    return job.say(words.PLUG_ALIKE, pins=linked(alike, "; ")) if alike else ()


def _pin_lines(job: Job, joints: tuple[Joint, ...]) -> Iterator[Text]:
    for joint in joints:
        plug = job.plug(joint)
        counted = place_words(pin_count(job, joint.pin or ""), LATCH if plug is None else mark_of(plug))
        pin = (joint.pin or "").partition("/")[2]
        yield job.say(words.PLUG_PIN, label=joint.label, colour=job.wire(joint), pin=pin, count=counted)


def _measure_plug(job: Job, action: FitAction, joints: tuple[Joint, ...], going: _Going) -> Step:
    """Return the one step that checks a plug into which nothing is joined by hand."""
    branch = next(b for b in job.kit.branches if b.id == action.branch)
    by_pin = {j.pin: j for j in joints if j.pin is not None}
    plug_id = plug_of(next(iter(by_pin)))
    plug = job.car.plugs[plug_id]
    photos, films = job.in_car(*_first_seen(job, plug, going))
    here = _arrive(job, joints[0].place, going)
    every = {pin: job.readings.of(j.id, "identify") for pin, j in by_pin.items()}
    taken = of_plug(going.slips, every, going.asked)
    found = tuple(r for _, r in taken)
    chosen = {pin: tuple(r for p, r in taken if p == pin) for pin in by_pin}
    count = pin_count(job, next(iter(by_pin)))
    shutting = dict.fromkeys(t for p, j in by_pin.items() for t in _over_probe(job, j, chosen[p], going.slips))
    held = dict.fromkeys(c for j in joints for c in _cautions(job, j, found))
    key = found[0].band.state.key
    free_socket = plug.seen_side == "mating"
    return Step(
        id=f"measure:{action.id}", title=told(words.PLUG_TITLE, plug=plug.name, label=branch.label), kind="measure",
        needs=needs("on", key if key != "off" else "out", panel=job.car.places[plug.place].name, tool=here.tool),
        place=here.place, access=here.access,
        do=(
            _find(job, plug_id, going), job.say(words.PLUG_WHY, label=branch.label), *_pin_lines(job, joints),
            job.say(words.PLUG_READ_CONTACT if free_socket else words.PLUG_READ), *_cranking(job, found), *shutting,
        ),
        see=joined(job.say(words.PLUG_SEE), _same_for_the_meter(job, every, going.slips)), if_not=job.say(words.IF_NOT),
        label=branch.label, count=told(words.PLUG_COUNT, look=look_words(count.side, count.latch, mark_of(plug))),
        neighbours=linked((words.PLUG_NEIGHBOURS, never_words(job, plug_id))),
        face=plug_face(job, plug_id, tuple(p.partition("/")[2] for p in by_pin), only_marked=True),
        picture=here.picture, photos=photos, films=films,
        readings=tuple(
            reading_field(job, by_pin[p], r, chosen[p], rest=going.slips.rest(p, r.band.state)) for p, r in taken
        ),
        unproven=unproven_of(job, joints), cautions=(*here.cautions, *held),
    )  # fmt: skip
