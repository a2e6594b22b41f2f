"""Part B of the guide: battery off once, and every joint made dead in fitting order."""

from collections.abc import Iterator, Mapping

from loomwright.documents.kit import Branch
from loomwright.documents.vehicle import Plug
from loomwright.network.fitting_order import FitAction
from loomwright.papers.battery_steps import battery_off
from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Paragraph, Picture, ReadingField, Step, Text
from loomwright.papers.cautioning import caution, clashes, for_joining, for_place
from loomwright.papers.cold import cold_again
from loomwright.papers.cut_ends import ends_lead_to
from loomwright.papers.job import Job, plug_of
from loomwright.papers.lead_ways import split_lead, way_out
from loomwright.papers.measures import ohms
from loomwright.papers.measuring import places_measured
from loomwright.papers.pin_face import dash_map, pin_view, plug_face
from loomwright.papers.resistance_checks import METER_OHM, conducts, opens, resistor_reads
from loomwright.papers.saying import capital, joined
from loomwright.papers.stepping import UNDER_HOOD, at_place, needs
from loomwright.papers.unproven import unproven_of, unproven_words
from loomwright.papers.wiring_rows import part_between
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import joining as words
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told

__all__ = ["joining", "titles"]


def titles(job: Job) -> tuple[str, ...]:
    """Return the title of the step of every action, in fitting order, the controller left out."""
    return tuple(_title(job, a) for a in job.order if a.kind != "controller")


def _title(job: Job, action: FitAction) -> str:
    if action.kind in ("plug", "T"):
        branch = _branch(job, action)
        plug = _plug_of_action(job, action)
        return (
            told(words.T_TITLE, label=branch.label, plug=plug.name)
            if action.kind == "T"
            else told(words.PLUG_TITLE, label=branch.label, plug=plug.name)
        )
    joint = action.joints[0]
    if action.kind == "ground":
        return told(words.GROUND_TITLE, label=joint.label)
    if action.kind == "added part":
        return told(words.ADDED_TITLE, name=_added_name(job, joint), label=joint.label)
    return told(words.TAP_TITLE, label=joint.label, colour=job.wire(joint))


def joining(job: Job) -> Iterator[Block]:
    """Yield part B: battery off, the wait, then each action of the fitting order but the controller."""
    yield Heading(text=words.HEAD, level=1, anchor="part-b")
    yield Paragraph(text=job.say(words.INTRO))
    yield from _breaking_off(job)
    if any(a.kind == "tap" and a.joints[0].kind == "tap" for a in job.order):
        yield Heading(text=words.HOW_HEAD, anchor="how-joined")
        own = ohms(METER_OHM, "practice:error of a hand meter")
        yield Bullets(items=job.lines(words.HOW, own=own), numbered=True)
    yield from battery_off(job)
    seen: set[str] = set()
    for action in job.order:
        if action.kind == "controller":
            continue
        extra = () if action.place is None or action.place in seen else for_place(job, action.place)
        seen.add(action.place or "")
        yield _action_step(job, action, extra)


def _breaking_off(job: Job) -> Iterator[Block]:
    yield from (Paragraph(text=t) for t in cold_again(job))
    every = titles(job)
    sound = [title for n, title in enumerate(every, 1) if job.sound_after(n)]
    if len(sound) == len(every):
        yield Paragraph(text=job.say(words.BREAK_OFF_ALWAYS, wait=job.wait))
        yield Paragraph(text=job.say(words.NEVER_DRIVE))
        return
    if not sound:
        yield Paragraph(text=job.say(words.BREAK_OFF_NEVER))
        return
    yield Paragraph(text=job.say(words.BREAK_OFF, wait=job.wait))
    yield Bullets(items=tuple(job.say(words.BREAK_OFF_ITEM, title=t) for t in sound))
    yield Paragraph(text=job.say(words.NEVER_DRIVE))


def _action_step(job: Job, action: FitAction, extra: tuple[Caution, ...]) -> Step:
    if action.kind == "ground":
        return _ground(job, action, extra)
    if action.kind == "added part":
        return _added(job, action, extra)
    return _plug_in(job, action, extra) if action.kind in ("plug", "T") else _tap(job, action, extra)


def _ground(job: Job, action: FitAction, extra: tuple[Caution, ...]) -> Step:
    joint = action.joints[0]
    point = next(g for g in job.car.grounds if joint.id.endswith(f"/{g.id}"))
    photos, films = job.in_car((joint.label, point))
    return Step(
        id=f"join:{action.id}", title=_title(job, action), kind="join",
        needs=needs("off", "out", panel=_panel(job, joint.place)), place=_where(job, joint.place),
        access=_access(job, joint.place),
        do=job.lines(words.GROUND_DO, point=point.words, label=joint.label, colour=job.lead_colour(joint)),
        see=job.say(words.GROUND_SEE), if_not=job.say(words.GROUND_IF_NOT), label=joint.label,
        lead_colour=job.lead_colour(joint), wire_colour=words.GROUND_WIRE,
        count=told(words.GROUND_COUNT, point=point.words), neighbours=words.GROUND_NEIGHBOURS,
        picture=_map(job, joint.place), photos=photos, films=films, readings=(conducts(job, joint),),
        cautions=(caution(cautions.GROUND), *extra),
    )  # fmt: skip


def _access(job: Job, place: str | None) -> tuple[str, ...]:
    """Return how to get at a place: in full only where part A did not open it."""
    if place is None or place not in places_measured(job) or not job.car.places[place].access:
        return at_place(job, place).access
    return (naming.OPEN_AGAIN,)


def _where(job: Job, place: str | None) -> str:
    """Return a place in words, in full only where part A was not there."""
    if place is None or place not in places_measured(job):
        return at_place(job, place).words
    return capital(job.car.places[place].name)


def _map(job: Job, place: str | None) -> Picture | None:
    """Return the map of the footwell where part A did not show it."""
    return None if place in places_measured(job) else dash_map(job, place)


def _panel(job: Job, place: str | None) -> str | None:
    return None if place is None else job.car.places[place].name


def _part_line(job: Job, joint: Joint) -> Iterator[Text]:
    if joint.part is not None:
        part = next(p for p in job.kit.parts if p.id == joint.part.part)
        yield job.say(words.TAP_PART, name=part.name, pattern=words.PART_WORDS[joint.part.pattern])
        drawn = part_between(job, joint)
        if drawn is not None and (drawn.feed or drawn.ground):
            yield job.say(words.TAP_PART_FED)


def _tap_lines(job: Job, joint: Joint, fields: Mapping[str, str]) -> tuple[Text, ...]:
    do = job.lines(words.TAP_DO, **fields)
    return (*do[:2], *_part_line(job, joint), *do[2:])


def _cut_lines(job: Job, joint: Joint, fields: Mapping[str, str]) -> tuple[Text, ...]:
    """Return what to do where the car's wire is opened and the part stands between its two ends."""
    use = joint.part
    if use is None:
        return _tap_lines(job, joint, fields)
    part = next(p for p in job.kit.parts if p.id == use.part)
    factory = words.CUT_FROM[joint.factory_side or "plug side"]
    ends = job.say(
        words.CUT_ENDS[use.pattern], name=part.name, label=joint.label, lead_colour=job.lead_colour(joint),
        factory=factory,
    )  # fmt: skip
    do = job.lines(words.CUT_DO, ends=ends, factory=factory, **fields)
    return (do[0], joined(do[1], *ends_lead_to(job, joint)), *do[2:])


def _tap_if_not(job: Job, joint: Joint) -> Text:
    if joint.kind == "cut in" and joint.part is not None:
        name = next(p.name for p in job.kit.parts if p.id == joint.part.part)
        return job.say(words.CUT_IF_NOT, name=name)
    return job.say(words.TAP_IF_NOT)


def _tap(job: Job, action: FitAction, extra: tuple[Caution, ...]) -> Step:
    joint = action.joints[0]
    pin = joint.pin or ""
    plug = job.car.plugs[plug_of(pin)]
    view = pin_view(job, pin, tuple(p.partition("/")[2] for p in clashes(job, joint)[:2]))
    fields = {
        "label": joint.label, "plug": plug.name, "pin": pin.partition("/")[2], "colour": job.wire(joint),
        "lead_colour": job.lead_colour(joint),
    }  # fmt: skip
    do = _cut_lines(job, joint, fields) if joint.kind == "cut in" else _tap_lines(job, joint, fields)
    do = (*do[:1], *split_lead(job, joint), *way_out(job, joint), *do[1:])
    readings = _joint_reads(job, joint)
    return Step(
        id=f"join:{action.id}", title=_title(job, action), kind="join",
        needs=needs("off", "out", panel=_panel(job, joint.place)), place=_where(job, joint.place),
        access=_access(job, joint.place), do=do,
        see=job.say(words.TAP_SEE if readings else words.TAP_SEE_PART),
        if_not=_tap_if_not(job, joint), label=joint.label, lead_colour=job.lead_colour(joint),
        wire_colour=job.wire(joint), count=view.count,
        neighbours=linked((told(words.TAP_NEIGHBOURS, label=joint.label), view.keep_off)), face=view.face,
        readings=readings,
        unproven=unproven_words(job, joint), cautions=(*extra, *for_joining(job, joint)),
    )  # fmt: skip


def _joint_reads(job: Job, joint: Joint) -> tuple[ReadingField, ...]:
    """Return what an ohmmeter shows of a joint; nothing where a relay or a diode stands in the way."""
    if joint.part is None:
        return (conducts(job, joint),)
    return (resistor_reads(job, joint),) if joint.part.pattern == "resistor" else ()


def _added_name(job: Job, joint: Joint) -> str:
    return next(p.name for p in job.kit.added_parts if p.terminal == joint.terminal)


def _added(job: Job, action: FitAction, extra: tuple[Caution, ...]) -> Step:
    joint = action.joints[0]
    part = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
    spot = at_place(job, joint.place) if joint.place is not None else UNDER_HOOD
    photos, films = job.in_kit((part.name, part))
    lead = job.lead_colour(joint)
    do = job.lines(words.ADDED_DO, place=part.place, name=part.name, label=joint.label, lead_colour=lead)
    return Step(
        id=f"join:{action.id}", title=_title(job, action), kind="join", needs=needs("off", "out"), place=spot.words,
        access=spot.access,
        do=(*do[:-1], *way_out(job, joint), do[-1]),
        see=job.say(words.ADDED_SEE), if_not=job.say(words.ADDED_IF_NOT), label=joint.label,
        lead_colour=lead, wire_colour=words.ADDED_WIRE,
        count=told(words.ADDED_COUNT, name=part.name), neighbours=words.ADDED_NEIGHBOURS,
        picture=dash_map(job, joint.place), photos=photos, films=films,
        readings=(
            conducts(job, joint, state=words.OHM_HOOD_OPEN, contact=True), opens(job, joint, words.OHM_HOOD_SHUT)
        ),
        cautions=(*extra, caution(cautions.INTERLOCKS), caution(cautions.CUTS)),
    )  # fmt: skip


def _branch(job: Job, action: FitAction) -> Branch:
    return next(b for b in job.kit.branches if b.id == action.branch)


def _plug_of_action(job: Job, action: FitAction) -> Plug:
    return job.car.plugs[plug_of(next(j.pin for j in action.joints if j.pin is not None))]


def _plug_in(job: Job, action: FitAction, extra: tuple[Caution, ...]) -> Step:
    branch, plug = _branch(job, action), _plug_of_action(job, action)
    carried = linked(
        (
            told(
                words.T_CARRIED, label=j.label, lead=job.lead_colour(j), pin=(j.pin or "").partition("/")[2],
                colour=job.wire(j),
            )
            for j in action.joints
        ),
        "; ",
    )  # fmt: skip
    is_t = action.kind == "T"
    do = list(job.lines(words.T_DO if is_t else words.PLUG_DO, plug=plug.name, look=plug.look, opening=plug.opening,
                    label=branch.label))  # fmt: skip
    if is_t:
        do.append(job.say(words.T_DO_LATCH))
    # Part A has shown the face of a plug it measured, and nobody joins anything to a pin of it here.
    shown = any(job.readings.of(j.id, "identify") for j in action.joints)
    carriers = [j for j in action.joints if j.part is None and not job.is_fused(j)]
    held = [*extra, *(for_joining(job, action.joints[0]) if plug.seen_side == "wire" else ())]
    if plug.brittle:
        held.append(caution(cautions.BRITTLE))
    photos, films = job.in_kit((branch.label, branch))
    more, watched = ((), ()) if shown else job.in_car((plug.name, plug))
    module = job.kit.vehicle_module
    told_by_meter = words.T_SEE if carriers else words.T_SEE_PLAIN
    see = told_by_meter if is_t else words.PLUG_SEE if module is not None else words.PLUG_SEE_PLAIN
    return Step(
        id=f"join:{action.id}", title=_title(job, action), kind="plug",
        needs=needs("off", "out", panel=_panel(job, plug.place)), place=_where(job, plug.place),
        access=_access(job, plug.place), do=tuple(do),
        see=job.say(see), if_not=job.say(words.T_IF_NOT if is_t else words.PLUG_IF_NOT), label=branch.label,
        lead_colour=job.lead_colour(action.joints[0]) if len(action.joints) == 1 else None,
        wire_colour=job.wire(action.joints[0]) if len(action.joints) == 1 else None,
        count=told(words.T_COUNT if is_t else words.PLUG_COUNT, carried=carried),
        neighbours=told(words.T_NEIGHBOURS, look=plug.look),
        face=None if shown else plug_face(job, plug.id, tuple((j.pin or "").partition("/")[2] for j in action.joints)),
        photos=(*more, *photos), films=(*watched, *films),
        readings=(conducts(job, carriers[0]),) if is_t and carriers else (),
        unproven=unproven_of(job, action.joints), cautions=tuple(held),
    )  # fmt: skip
