"""Part E of the guide: each protection tested alone, with nothing else that could stop the engine."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Caution, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job
from loomwright.papers.quantity import Quantity
from loomwright.papers.stepping import OUTSIDE, SEAT, Key, Place, needs
from loomwright.papers.words.en import cautions
from loomwright.papers.words.en import tests as words
from loomwright.units import parse_quantity

__all__ = ["run_time", "safety_tests"]

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


def _how_to_start(job: Job) -> Text:
    return (job.kit.remotes[0].start,) if job.kit.remotes else job.say(words.START)


def _stop(job: Job) -> Text:
    return (job.kit.remotes[0].stop,) if job.kit.remotes else ()


def _test(
    job: Job, name: str, title: str, do: tuple[Text, ...], see: str, *, place: Place = SEAT, key: Key = "out",
    if_not: str = words.IF_NOT, held: tuple[Caution, ...] = (), may_stop: bool = False,
) -> Step:  # fmt: skip
    return Step(
        id=f"test:{name}", title=title, kind="test", needs=needs("on", key), place=place.words, access=place.access,
        do=tuple(d for d in do if d), see=job.say(see), if_not=job.say(if_not), cautions=held,
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
    yield _test(
        job, "first", words.FIRST_TITLE, job.lines(words.FIRST_DO, start=_how_to_start(job), stop=_stop(job)),
        words.FIRST_SEE, place=OUTSIDE, if_not=words.FIRST_IF_NOT,
        held=(caution(cautions.CRANKING), caution(cautions.LEAVING)),
    )  # fmt: skip
    yield _test(job, "brake", words.BRAKE_TITLE, job.lines(words.BRAKE_DO, start=start), words.BRAKE_SEE)
    yield _test(
        job, "hood", words.HOOD_TITLE, job.lines(words.HOOD_DO, start=start), words.HOOD_SEE, place=OUTSIDE,
        held=(caution(cautions.HOOD_TEST),),
    )  # fmt: skip
    yield _test(
        job, "selector", words.GEAR_TITLE, job.lines(words.GEAR_DO), words.GEAR_SEE, key="run",
        if_not=words.GEAR_IF_NOT, held=(caution(cautions.GEAR_TEST),),
    )  # fmt: skip
    if "door switch" in served:
        yield _test(
            job, "door", words.DOOR_TITLE, job.lines(words.DOOR_DO, start=start), words.DOOR_SEE, place=OUTSIDE
        )
    yield _time_out(job)
    yield _test(
        job, "takeover", job.fill(words.TAKEOVER_TITLE), job.lines(words.TAKEOVER_DO, start=start),
        words.TAKEOVER_SEE, if_not=words.IF_NOT_PLAIN,
    )  # fmt: skip
    extra = tuple(job.say(t) for f, t in words.EXTRA.items() if f in served)
    if extra:
        yield _test(
            job, "extra", words.EXTRA_TITLE, extra, words.EXTRA_SEE, key="any", if_not=words.IF_NOT_PLAIN,
            held=(caution(cautions.CHOCKS),) if "parking brake" in served else (),
        )  # fmt: skip


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
