"""Part E of the guide: each protection tested alone, with nothing else that could stop the engine.

Which tests there are, and what must be at rest for each so that it proves anything, is computed from the wiring and
the settings of this installation.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.cold import cold_again
from loomwright.papers.gear_test import resting_words, sees_key, selector_test
from loomwright.papers.job import Job
from loomwright.papers.programming import dialogues_needed, setting_rows
from loomwright.papers.quantity import Quantity
from loomwright.papers.refusal import refusal_answer
from loomwright.papers.saying import Field, joined, listed
from loomwright.papers.stepping import OUTSIDE, SEAT, Key, Place, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import tests as words
from loomwright.papers.words.en.programming import BREAK_DO
from loomwright.planning.groups import HALVES
from loomwright.sentences import linked
from loomwright.starting.modes import REST, Mode, ModeName, changed
from loomwright.starting.settings import start_settings
from loomwright.starting.step import step
from loomwright.starting.trying import NeededTest, needed_tests
from loomwright.starting.wiring import wiring_of
from loomwright.units import parse_quantity

__all__ = [
    "door_stops", "driver_only", "hands_over", "how_to_try", "needed_for", "proving_words", "run_time", "safety_tests",
    "stopping_titles", "stops_by", "title_of_test",
]  # fmt: skip

_RUN_TIME = "run-time"


def run_time(job: Job) -> Quantity | None:
    """Return how long the kit lets the engine run, from its setting; None where it has no such setting."""
    value = dict(job.installation.settings).get(_RUN_TIME)
    if value is None:
        return None
    try:
        found = parse_quantity(value, "s") / 60
    except ValueError:
        return None
    return Quantity(value=found, unit="min", trace=f"document:{job.kit.id}/settings/{_RUN_TIME}", digits=0)


def stops_by(job: Job, field: str, value: object) -> bool:
    """Tell whether an input of the kit stops the running engine, as the controller of this installation is set."""
    settings = start_settings(job.installation)
    running: ModeName = "running"
    after = step(
        Mode(name=running, attempts=1), changed(REST, {"engine": "running", field: value}), frozenset(), settings
    )
    return after.mode.name != running


def door_stops(job: Job) -> bool:
    """Tell whether a door that opens stops the running engine."""
    return stops_by(job, "door_open", True)


def driver_only(job: Job) -> bool:
    """Tell whether the kit reads the driver's door and no other."""
    joints = [j for j in job.installation.joints if j.function == "door switch" and j.circuit is not None]
    doors = {step.closed_when for j in joints for step in job.car.circuits[j.circuit or ""].path if step.closed_when}
    return bool(doors) and all("driver door" in door for door in doors)


def hands_over(job: Job) -> bool:
    """Tell whether a driver who presses the brake keeps the engine that the kit has started.

    A key holds the ignition of its car by itself. The engine of a button car is the kit's to stop, unless the kit sees
    the driver's key.
    """
    settings = start_settings(job.installation)
    here = changed(REST, {"engine": "running", "brake_pressed": True, "key_in": True})
    after = step(Mode(name="running", attempts=1), here, frozenset(), settings)
    return not after.commands


def how_to_try(job: Job, function: str) -> str | None:
    """Return how the remote asks for a function, and what a chosen setting says of it; None where neither does."""
    button = "unlock" if function == "driver unlock" else function  # one button, and the setting says what it does
    asked = next((how for r in job.kit.remotes if (how := getattr(r, button, None)) is not None), "")
    means = next((c.means for _, c, _ in setting_rows(job) if c.needs == function), "")
    return linked((asked, means)) or None


def _look(job: Job, function: str) -> Text:
    """Return where to look when an input fails its test: the way by which it reaches the kit in this car."""
    route = next((r for r in job.installation.routes if r.function == function), None)
    if route is not None and route.how == "bus":
        data = next((j for j in job.installation.joints if job.terminal(j).kind == "data port"), None)
        plug = None if data is None else job.plug(data)
        if data is not None and plug is not None:
            label = next((b.label for b in job.kit.branches if b.id == data.branch), data.label)
            return job.say(words.LOOK_BUS, label=label, plug=plug.name)
    for joint in () if route is None else route.joints:
        plug = job.plug(joint)
        if plug is not None:
            pin = (joint.pin or "").partition("/")[2]
            branch = next((b.label for b in job.kit.branches if b.id == joint.branch and b.kind == "t"), None)
            read = bool(job.readings.of(joint.id, "after joining"))  # a lead with a part in it is not
            measure = job.say(words.LOOK_MEASURE if read else words.LOOK_NO_MEASURE, label=joint.label)
            fields: dict[str, Field] = {"label": joint.label, "plug": plug.name, "pin": pin, "wait": job.wait}
            if branch is not None:
                return job.say(words.LOOK_T, branch=branch, measure=measure, **fields)
            return job.say(words.LOOK_JOINT, measure=measure, **fields)
        added = next((p for p in job.kit.added_parts if p.terminal == joint.terminal), None)
        if added is not None:
            return job.say(words.LOOK_ADDED, name=added.name, label=joint.label, wait=job.wait)
    return job.say(words.LOOK_NOTHING)


def _how_to_start(job: Job) -> Text:
    return (job.kit.remotes[0].start,) if job.kit.remotes else job.say(words.START)


def _stop(job: Job) -> Text:
    return (job.kit.remotes[0].stop,) if job.kit.remotes else ()


def _test(
    job: Job, name: str, title: str, do: tuple[Text, ...], see: str, *, place: Place = SEAT, key: Key = "out",
    if_not: str = words.IF_NOT, look: Text = (), held: tuple[Caution, ...] = (), may_stop: bool = False,
) -> Step:  # fmt: skip
    return Step(
        id=f"test:{name}", title=title, kind="test", needs=needs("on", key), place=place.words, access=place.access,
        do=tuple(d for d in do if d), see=job.say(see), if_not=job.say(if_not, look=look), cautions=held,
        may_stop=may_stop,
    )  # fmt: skip


def needed_for(job: Job) -> tuple[NeededTest, ...]:
    """Return the tests that this installation needs: together they show every fault that nobody would notice."""
    settings = start_settings(job.installation)
    return needed_tests(settings, wiring_of(job.installation, settings))


def title_of_test(job: Job, name: str) -> str:
    """Return the title of a needed test, as it stands in the guide."""
    if name != "first":
        return job.fill(words.TITLES[name])
    return job.fill(words.FIRST_TITLE_AFTER_LAMP if _lamp_first(job) else words.FIRST_TITLE)


def _lamp_first(job: Job) -> bool:
    """Tell whether the test of the wait lamp is the first start of all: the lamp burns in a cold engine only."""
    return any(n.test.id == "lamp" for n in needed_for(job))


def stopping_titles(job: Job) -> tuple[str, ...]:
    """Return the titles of the tests of what stops the engine or keeps it from starting, the wait lamp left out."""
    return tuple(title_of_test(job, n.test.id) for n in needed_for(job) if n.test.id in _ALONE and n.test.id != "lamp")


def proving_words(job: Job) -> Iterator[Text]:
    """Yield, for each wire that nobody would miss, what is lost without it and which test of part E shows that."""
    for needed in needed_for(job):
        fault = next((f for f in needed.shows if f.kind == "lead off"), needed.shows[0])
        yield job.say(
            words.PROVED, fault=fault.words, lost=words.LOST[fault.input], title=title_of_test(job, needed.test.id),
        )  # fmt: skip


def safety_tests(job: Job) -> Iterator[Block]:
    """Yield part E: the sweep, the first start, then one protection after the other."""
    needed = {n.test.id: n for n in needed_for(job)}
    yield Heading(text=words.HEAD, level=1, anchor="part-e")
    yield Paragraph(text=job.say(words.INTRO))
    yield caution(cautions.HAND_OVER)
    yield caution(cautions.EXHAUST_PLACE)
    yield _test(
        job, "sweep", words.SWEEP_TITLE, job.lines(words.SWEEP_DO), words.SWEEP_SEE, if_not=words.SWEEP_IF_NOT,
        held=(caution(cautions.PEDALS),),
    )  # fmt: skip
    # Where it asks for no remote start, what the start relies on is shown before the first one.
    if sees_key(job):
        yield selector_test(job)
    yield from _ready(job)
    if _lamp_first(job):
        yield _protection(job, needed["lamp"])
    yield _test(
        job, "first", title_of_test(job, "first"),
        (
            *((job.say(words.FIRST_KEYS),) if job.has_button else ()),
            *job.lines(words.FIRST_DO, start=_how_to_start(job), stop=_stop(job)),
        ),
        words.FIRST_SEE, place=OUTSIDE, if_not=words.FIRST_IF_NOT_BUTTON if job.has_button else words.FIRST_IF_NOT,
        held=(caution(cautions.CRANKING), caution(cautions.LEAVING)),
    )  # fmt: skip
    for name in ("brake", "hood"):
        if name in needed:
            yield _protection(job, needed[name])
    if not sees_key(job):
        yield selector_test(job)
    for name, one in needed.items():
        if name in _ALONE and name not in ("brake", "hood", "lamp"):
            yield _protection(job, one)
    yield _time_out(job)
    yield _takeover(job)
    extra = tuple(_extra(job))
    sound = job.sound_in("fitted") and job.sound_in("kit dead")
    if extra:
        extra = (*extra, job.say(BREAK_DO), *cold_again(job)) if sound else extra
        yield _test(
            job, "extra", words.EXTRA_TITLE, extra, words.EXTRA_SEE, key="any", if_not=words.IF_NOT_PLAIN,
            held=(caution(cautions.CHOCKS),) if "parking brake" in job.served else (),
            may_stop=sound,
        )  # fmt: skip


def _takeover(job: Job) -> Step:
    """Return the step in which a driver gets in: the engine runs on with the key, or stops where the kit sees none."""
    keeps = hands_over(job)
    seated = (job.say(words.TAKEOVER_SEATED),) if door_stops(job) else ()
    do = job.lines(words.TAKEOVER_DO if keeps else words.TAKEOVER_STOPS_DO, start=job.say(words.START))
    title = job.fill(words.TAKEOVER_TITLE if keeps else words.TAKEOVER_STOPS_TITLE)
    see = words.TAKEOVER_SEE if keeps else words.TAKEOVER_STOPS_SEE
    return _test(job, "takeover", title, (*seated, *do), see, if_not=words.IF_NOT_PLAIN)


_ALONE: Mapping[str, tuple[str, Place, tuple[cautions.Caution, ...]]] = MappingProxyType({
    "brake": ("brake", SEAT, ()),
    "hood": ("hood switch", OUTSIDE, (cautions.HOOD_TEST,)),
    "door": ("door switch", OUTSIDE, ()),
    "key": ("key sense", SEAT, (cautions.CRANKING,)),
    "parking-brake": ("parking brake", SEAT, (cautions.GEAR_TEST, cautions.CHOCKS)),
    "lamp": ("wait-to-start", SEAT, (cautions.CRANKING, cautions.LEAVING)),
})  # fmt: skip
"""Test -> the function it is about, where one sits or stands, and its cautions."""


def _protection(job: Job, needed: NeededTest) -> Step:
    """Return the step of one protection, tested with all else at rest that would hide what it shows."""
    name = needed.test.id
    function, place, held = _ALONE[name]
    see = words.SEE[name]
    if name == "door" and not door_stops(job):
        see = words.DOOR_SEE_RUNS
    # A key in the lock would hold the engine by itself, whether the kit sees it or not.
    at_rest = resting_words(job, (*needed.clear, *(() if "key_in" in needed.test.sets else ("key_in",))))
    do = job.lines(
        words.DO[name], start=job.say(words.START), how=_how_to_start(job), stop=_stop(job), at_rest=at_rest
    )
    if name in ("door", "hood") and "factory alarm arm" in _set_to_use(job) & job.served:
        do = (*do[:1], job.say(words.ALARM_NOTE), *do[1:])
    return replace(
        _test(
            job, name, title_of_test(job, name), do, see, place=place, look=_look(job, function),
            held=tuple(caution(c) for c in held),
        ),
        see=joined(job.say(see), _answered(job, needed)),
    )  # fmt: skip


def _answered(job: Job, needed: NeededTest) -> Text:
    """Return how the kit answers a start that it refuses: without it one that was not heard would pass as well."""
    if "parking light" not in job.served or needed.test.id == "lamp":  # there it waits, and refuses nothing
        return ()
    reply = refusal_answer(start_settings(job.installation), needed.test.sets)
    return () if reply is None else job.say(words.ANSWERED, reply=reply)


def _ready(job: Job) -> Iterator[Block]:
    """Yield the list to tick before the engine is started by remote for the first time."""
    yield Heading(text=words.HEAD_READY, anchor="ready")
    yield Paragraph(text=job.say(words.READY_INTRO))
    stop = _stop(job)
    items = [job.say(w, stop=stop) for w in words.READY if stop or "{stop}" not in w]
    items[1:1] = [job.say(words.READY_LEARNED, name=d.name) for d in dialogues_needed(job)]
    if job.fused:
        items.insert(-1, job.say(words.READY_FUSES, labels=listed(job.fused, naming.AND)))
    yield Bullets(items=tuple(items), ticked=True)


_FEEDS = ("accessory", "accessory 2", "second ignition")


def _set_to_use(job: Job) -> frozenset[str]:
    """Return the functions that a chosen setting puts to use."""
    return frozenset(str(c.needs) for _, c, _ in setting_rows(job) if c.needs is not None)


def _extra(job: Job) -> Iterator[Text]:
    """Yield what else is tried; what the kit does only on a setting is told in that setting's words."""
    for function, template in words.EXTRA.items():
        if function not in job.served or (function == "unlock" and "driver unlock" in _set_to_use(job)):
            continue
        if "{means}" not in template:
            yield job.say(template)
        elif (means := how_to_try(job, function)) is not None:
            yield job.say(template, means=means)
    feeds = [
        job.circuit_name(j.circuit)
        for j in job.ordered_joints
        if HALVES.get(j.function, j.function) in _FEEDS and j.circuit is not None
    ]
    yield job.say(words.EXTRA_LOCKED)
    if feeds:
        yield job.say(words.EXTRA_FEEDS, feeds=listed(dict.fromkeys(feeds), naming.AND))


def _time_out(job: Job) -> Step:
    time, start = run_time(job), job.say(words.START)
    if time is None:
        do = (*job.lines(words.TIMEOUT_DO[:2], start=start), job.say(words.TIMEOUT_DO_UNKNOWN))
    else:
        do = job.lines(words.TIMEOUT_DO, start=start, time=time)
    return _test(
        job, "time-out", words.TIMEOUT_TITLE, do, words.TIMEOUT_SEE, place=OUTSIDE, if_not=words.IF_NOT_PLAIN,
        held=(caution(cautions.CHILDREN), caution(cautions.GRASS)),
    )  # fmt: skip
