"""Part E of the guide: each protection tested alone, with nothing else that could stop the engine."""

from collections.abc import Collection, Iterator

from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job
from loomwright.papers.programming import dialogues_needed, setting_rows
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import listed
from loomwright.papers.stepping import OUTSIDE, SEAT, Key, Place, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import tests as words
from loomwright.starting.modes import REST, Mode, ModeName, changed
from loomwright.starting.settings import start_settings
from loomwright.starting.step import step
from loomwright.units import parse_quantity

__all__ = ["door_stops", "how_to_try", "run_time", "safety_tests", "sees_key"]

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


def door_stops(job: Job) -> bool:
    """Tell whether a door that opens stops the running engine, as the controller of this installation is set."""
    settings = start_settings(job.installation)
    running: ModeName = "running"
    after = step(
        Mode(name=running, attempts=1), changed(REST, {"engine": "running", "door_open": True}), frozenset(), settings
    )
    return after.mode.name != running


def sees_key(job: Job) -> bool:
    """Tell whether the kit sees a key in the lock, by which it would refuse a start."""
    return "key_in" in start_settings(job.installation).senses


def how_to_try(job: Job, function: str) -> str | None:
    """Return what a chosen setting says the kit does with a function; None where no setting speaks of it."""
    return next((c.means for _, c, _ in setting_rows(job) if c.needs == function), None)


def _look(job: Job, function: str) -> Text:
    """Return where to look when an input fails its test: the way by which it reaches the kit in this car."""
    route = next((r for r in job.installation.routes if r.function == function), None)
    if route is not None and route.how == "bus":
        data = next((j for j in job.installation.joints if job.terminal(j).kind == "data port"), None)
        plug = None if data is None else job.plug(data)
        if data is not None and plug is not None:
            return job.say(words.LOOK_BUS, label=data.label, plug=plug.name)
    for joint in () if route is None else route.joints:
        plug = job.plug(joint)
        if plug is not None:
            pin = (joint.pin or "").partition("/")[2]
            return job.say(words.LOOK_JOINT, label=joint.label, plug=plug.name, pin=pin)
        added = next((p for p in job.kit.added_parts if p.terminal == joint.terminal), None)
        if added is not None:
            return job.say(words.LOOK_ADDED, name=added.name, label=joint.label)
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


def safety_tests(job: Job) -> Iterator[Block]:
    """Yield part E: the sweep, the first start, then one protection after the other."""
    served = {r.function for r in job.installation.routes if r.how != "none"}
    start = job.say(words.START)
    yield Heading(text=words.HEAD, level=1, anchor="part-e")
    yield Paragraph(text=job.say(words.INTRO))
    yield caution(cautions.HAND_OVER)
    yield caution(cautions.EXHAUST_PLACE)
    yield _test(
        job, "sweep", words.SWEEP_TITLE, job.lines(words.SWEEP_DO), words.SWEEP_SEE, if_not=words.SWEEP_IF_NOT,
        held=(caution(cautions.PEDALS),),
    )  # fmt: skip
    yield from _ready(job)
    yield _test(
        job, "first", words.FIRST_TITLE, job.lines(words.FIRST_DO, start=_how_to_start(job), stop=_stop(job)),
        words.FIRST_SEE, place=OUTSIDE, if_not=words.FIRST_IF_NOT,
        held=(caution(cautions.CRANKING), caution(cautions.LEAVING)),
    )  # fmt: skip
    yield _test(
        job, "brake", words.BRAKE_TITLE, job.lines(words.BRAKE_DO, start=start), words.BRAKE_SEE,
        look=_look(job, "brake"),
    )  # fmt: skip
    yield _test(
        job, "hood", words.HOOD_TITLE, job.lines(words.HOOD_DO, start=start), words.HOOD_SEE, place=OUTSIDE,
        look=_look(job, "hood switch"), held=(caution(cautions.HOOD_TEST),),
    )  # fmt: skip
    yield _test(
        job, "selector", words.GEAR_TITLE, _gear_lines(job), words.GEAR_SEE, key="run",
        if_not=words.GEAR_IF_NOT, held=(caution(cautions.GEAR_TEST),),
    )  # fmt: skip
    if "door switch" in served:
        yield _test(
            job, "door", words.DOOR_TITLE, job.lines(words.DOOR_DO, start=start),
            words.DOOR_SEE if door_stops(job) else words.DOOR_SEE_RUNS, place=OUTSIDE, look=_look(job, "door switch"),
        )  # fmt: skip
    yield _time_out(job)
    yield _test(
        job, "takeover", job.fill(words.TAKEOVER_TITLE),
        (
            *((job.say(words.TAKEOVER_SEATED),) if door_stops(job) and not sees_key(job) else ()),
            *job.lines(words.TAKEOVER_DO, start=start),
        ),
        words.TAKEOVER_SEE, if_not=words.IF_NOT_PLAIN,
    )  # fmt: skip
    extra = tuple(_extra(job, served))
    if extra:
        yield _test(
            job, "extra", words.EXTRA_TITLE, extra, words.EXTRA_SEE, key="any", if_not=words.IF_NOT_PLAIN,
            held=(caution(cautions.CHOCKS),) if "parking brake" in served else (),
            may_stop=job.sound_in("fitted") and job.sound_in("kit dead"),
        )  # fmt: skip


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


def _gear_lines(job: Job) -> tuple[Text, ...]:
    remote = words.GEAR_NO_REMOTE if sees_key(job) else words.GEAR_REMOTE
    return job.lines((*words.GEAR_DO, remote, words.GEAR_AGAIN, words.GEAR_END))


def _extra(job: Job, served: Collection[str]) -> Iterator[Text]:
    """Yield what else is tried; what the kit does only on a setting is told in that setting's words."""
    for function, template in words.EXTRA.items():
        if function not in served:
            continue
        if "{means}" not in template:
            yield job.say(template)
        elif (means := how_to_try(job, function)) is not None:
            yield job.say(template, means=means)


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
