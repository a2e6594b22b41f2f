"""Part C of the guide: battery on, the leads measured at the kit's free plugs, and the controller plugged in."""

from collections.abc import Iterator, Sequence

from loomwright.network.results import Reading
from loomwright.papers.battery_steps import battery_on
from loomwright.papers.blocks import Block, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.cold import cold_again
from loomwright.papers.fuse_places import fuses_found
from loomwright.papers.job import Job
from loomwright.papers.lead_ends import ends_of_leads, read_at_ends
from loomwright.papers.measures import amperes
from loomwright.papers.reading_fields import reading_field, state_text
from loomwright.papers.saying import joined, listed
from loomwright.papers.slips import Slips
from loomwright.papers.stepping import SEAT, at_controller, needs
from loomwright.papers.unproven import unproven_of
from loomwright.papers.words.en import cautions, measuring, naming
from loomwright.papers.words.en import checking as words
from loomwright.papers.words.en.page_one import BASELINE_WORKS
from loomwright.planning.groups import HALVES
from loomwright.sentences import linked

__all__ = ["checking"]

_BRAKE = "parking brake set"


def checking(job: Job, slips: Slips) -> Iterator[Block]:
    """Yield part C."""
    yield Heading(text=words.HEAD, level=1, anchor="part-c")
    yield Paragraph(text=job.say(words.INTRO))
    yield battery_on(job)
    tried = _cut_into(job)
    sound = job.sound_after(len(job.order) - 1)
    pause = (job.say(words.KEY_BREAK if job.fused else words.KEY_BREAK_PLAIN), *cold_again(job)) if sound else ()
    yield Step(
        id="key-after-joining", title=job.fill(words.KEY_TITLE), kind="test", needs=needs("on", "any"),
        place=SEAT.words, access=SEAT.access, do=(*job.lines(words.KEY_DO), *tried, *pause),
        see=joined(job.say(words.KEY_SEE), job.say(words.TRIED_SEE) if tried else ()),
        if_not=job.say(
            words.KEY_IF_NOT if any(a.kind == "T" for a in job.order) else words.KEY_IF_NOT_PLAIN, wait=job.wait
        ),
        may_stop=sound, cautions=(caution(cautions.CRANKING), caution(cautions.PEDALS)),
    )  # fmt: skip
    if job.fused:
        yield _fuses_in(job)
    yield from _ends(job, slips)
    yield _controller(job)
    stop = job.sound_in("fitted") and job.sound_in("kit dead")
    pause = (job.say(words.STOP_DO), *cold_again(job)) if stop else ()
    yield Step(
        id="key-with-kit", title=job.fill(words.DEAD_TITLE), kind="test", needs=needs("on", "any"), place=SEAT.words,
        access=SEAT.access, do=(*job.lines(words.KEY_DO), *pause),
        see=job.say(words.KEY_SEE), if_not=job.say(words.DEAD_IF_NOT), may_stop=stop,
        cautions=(caution(cautions.CRANKING),),
    )  # fmt: skip
    if not stop:
        yield Paragraph(text=job.say(words.NO_STOP))


def _cut_into(job: Job) -> tuple[Text, ...]:
    """Return what to try where the car's own signal now runs through a part of the kit's, or nothing."""
    interrupted = [j.function for j in job.ordered_joints if j.kind in ("cut in", "T interrupted")]
    cut = dict.fromkeys(HALVES.get(function, function) for function in interrupted)
    found = [job.say(BASELINE_WORKS[f]) for f in cut if f in BASELINE_WORKS]
    return (job.say(words.OWN_SWITCH, wait=job.wait), *found) if found else ()


def _fuses_in(job: Job) -> Step:
    ratings: dict[str, Text] = {}
    for joint in job.installation.joints:
        if job.is_fused(joint):
            ratings[joint.label] = job.say(words.FUSES_RATING, label=joint.label, rating=job.fuse(joint))
    rated = joined(*ratings.values(), between="; ")
    place = job.fill(words.FUSES_AT, fuses=fuses_found(job))
    do = (*job.lines(words.FUSES_DO, fuses=rated), *_fuses_of_parts(job), *cold_again(job))
    return Step(
        id="fuses-in", title=words.FUSES_TITLE, kind="prepare", needs=needs("on", "out"), place=place,
        access=(naming.OPEN_AGAIN,), do=do,
        see=job.say(words.FUSES_SEE), if_not=job.say(words.FUSES_IF_NOT),
    )  # fmt: skip


def _fuses_of_parts(job: Job) -> Iterator[Text]:
    """Yield which fuses are in all along: those of relays, fed from a lead whose own fuse is out."""
    parts = {p.id: p for p in job.kit.parts}
    ratings: dict[str, Text] = {}
    for joint in job.ordered_joints:
        part = None if joint.part is None else parts[joint.part.part]
        if part is not None and part.fuse_a is not None:
            trace = f"document:{job.kit.id}/parts/{part.id}/fuse_a"
            rating = amperes(part.fuse_a, trace)
            ratings[joint.label] = job.say(words.FUSES_RATING, label=joint.label, rating=rating)
    if ratings:
        yield job.say(words.FUSES_OF_PARTS, fuses=joined(*ratings.values(), between="; "))


def _state(job: Job, reading: Reading, every: tuple[Reading, ...], circuit: str | None) -> str:
    """Return a state in a few words.

    What is at rest is told once for all lines; but a parking brake at rest is a released one, which only the lines of
    its own lead ask for.
    """
    told = state_text(job, reading.band.state, circuit)
    own = any(_BRAKE in r.band.state.active for r in every)
    return linked((told, naming.RESTING[_BRAKE]), ", ") if own and _BRAKE not in reading.band.state.active else told


def _ends(job: Job, slips: Slips) -> Iterator[Step]:
    """Yield the one step that measures every lead at its free end."""
    by_id = ends_of_leads(job)
    if not by_id:
        return
    every = {i: job.readings.of(i, "after joining") for i in by_id}
    taken = read_at_ends(job, slips)
    states = [r.band.state for _, r in taken]
    spot = at_controller(job)
    changed = {s for state in states for s in state.active} - {"key in lock"}
    changed |= {s for i, r in taken for s in slips.rest(by_id[i].pin or "", r.band.state)}
    rest = listed(dict.fromkeys(naming.RESTING[s] for s in naming.RESTING if s in changed and s != _BRAKE), naming.AND)
    plugs = listed(dict.fromkeys(job.socket(j)[0].upper() for j in by_id.values()), naming.AND)
    do = [job.say(words.FIND, plugs=plugs), *((job.say(words.REST, rest=rest),) if rest else ())]
    do += [job.say(words.GROUND_FIRST, label=by_id[i].label) for i, r in taken[:1] if r.clip == "battery positive"]
    do += _how_read(job, [r for _, r in taken])
    turns = any(s.key == "crank" or "engine running" in s.active for s in states)
    held = [caution(cautions.CRANKING)] if turns else []
    if any(_BRAKE in r.band.state.active for i, _ in taken for r in every[i]):
        held.append(caution(cautions.CHOCKS))
        do.append(job.say(words.BRAKE_LAST))
    yield Step(
        id="check:leads", title=words.TITLE, kind="measure", needs=needs("on", "out"), place=spot.words,
        access=spot.access, do=tuple(do), see=job.say(words.SEE), if_not=job.say(words.IF_NOT, wait=job.wait),
        count=words.COUNT, neighbours=words.NEIGHBOURS,
        readings=tuple(
            reading_field(job, by_id[i], r, state=_state(job, r, every[i], by_id[i].circuit)) for i, r in taken
        ),
        unproven=unproven_of(job, tuple(by_id.values())), cautions=tuple(held),
    )  # fmt: skip


def _how_read(job: Job, taken: Sequence[Reading]) -> Iterator[Text]:
    """Yield what to know before the leads are read: which have no line, and how to read while something turns."""
    read = {r.joint for r in taken}
    unread = dict.fromkeys(j.label for j in job.ordered_joints if j.part is not None and j.id not in read)
    if unread:
        yield job.say(words.UNREAD, labels=listed(unread, naming.AND))
    if any(r.band.state.key == "crank" for r in taken):
        yield job.say(measuring.CRANK)
    if job.car.traits.fuel == "diesel" and any(r.band.state.key == "run" for r in taken):
        yield job.say(measuring.GLOW)
    if any(r.lamp.lit for r in taken):
        yield job.say(words.LOADED)


def _controller(job: Job) -> Step:
    used = {j.terminal for j in job.installation.joints}
    plugs = dict.fromkeys(t.plug.upper() for t in job.kit.controller.terminals if t.id in used)
    fused = listed(job.fused, naming.AND)
    spot = at_controller(job)
    photos, films = job.in_kit((job.kit.controller.name, job.kit.controller))
    do = list(job.lines(words.PLUG_DO, labels=fused, plugs=listed(plugs, naming.AND)))
    if not fused:
        do = [job.say(words.PLUG_DO_NO_FUSE), *do[1:3]]
    idle = [p for p in dict.fromkeys(t.plug.upper() for t in job.kit.controller.terminals) if p not in plugs]
    if idle:
        do.append(job.say(words.PLUG_UNUSED, plugs=listed(idle, naming.AND)))
    module = job.kit.vehicle_module
    if module is not None and job.uses_module:
        do.append(job.say(words.PLUG_MODULE, name=module.name))
    return Step(
        id="join:controller", title=words.UNPLUG_TITLE, kind="plug", needs=needs("on", "out"), place=spot.words,
        access=spot.access, do=tuple(do), see=job.say(words.PLUG_SEE), if_not=job.say(words.PLUG_IF_NOT),
        label=listed(plugs, naming.AND), count=words.CONTROLLER_COUNT, neighbours=words.CONTROLLER_NEIGHBOURS,
        photos=photos, films=films,
        cautions=(caution(cautions.KIT_LIVE),),
    )  # fmt: skip
