"""Part E of the guide: each protection tested alone, with nothing else that could stop the engine."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Caution, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import say
from loomwright.papers.stepping import OUTSIDE, SEAT, Key, Place, lines, needs
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


def _start(job: Job) -> Text:
    return (job.kit.remotes[0].start,) if job.kit.remotes else say(words.START)


def _stop(job: Job) -> Text:
    return (job.kit.remotes[0].stop,) if job.kit.remotes else ()


def _test(
    name: str, title: str, do: tuple[Text, ...], see: str, *, place: Place = SEAT, key: Key = "out",
    if_not: str = words.IF_NOT, held: tuple[Caution, ...] = (), may_stop: bool = False,
) -> Step:  # fmt: skip
    return Step(
        id=f"test:{name}", title=title, kind="test", needs=needs("on", key), place=place.words, access=place.access,
        do=tuple(d for d in do if d), see=say(see), if_not=say(if_not), cautions=held,
        may_stop=may_stop,
    )  # fmt: skip


def safety_tests(job: Job) -> Iterator[Block]:
    """Yield part E: the sweep, the first start, then one protection after the other."""
    served = {r.function for r in job.installation.routes if r.how != "none"}
    yield Heading(text=words.HEAD, level=1, anchor="part-e")
    yield Paragraph(text=say(words.INTRO))
    yield caution(cautions.HAND_OVER)
    yield caution(cautions.EXHAUST_PLACE)
    yield _test(
        "sweep", words.SWEEP_TITLE, lines(words.SWEEP_DO), words.SWEEP_SEE, if_not=words.SWEEP_IF_NOT,
        held=(caution(cautions.PEDALS),),
    )  # fmt: skip
    yield _test(
        "first", words.FIRST_TITLE, lines(words.FIRST_DO, start=_start(job), stop=_stop(job)), words.FIRST_SEE,
        place=OUTSIDE, if_not=words.FIRST_IF_NOT, held=(caution(cautions.CRANKING), caution(cautions.LEAVING)),
    )  # fmt: skip
    yield _test("brake", words.BRAKE_TITLE, lines(words.BRAKE_DO, start=_start(job)), words.BRAKE_SEE)
    yield _test(
        "hood", words.HOOD_TITLE, lines(words.HOOD_DO), words.HOOD_SEE, place=OUTSIDE,
        held=(caution(cautions.HOOD_TEST),),
    )  # fmt: skip
    yield _test(
        "selector", words.GEAR_TITLE, lines(words.GEAR_DO), words.GEAR_SEE, key="run",
        if_not=words.GEAR_IF_NOT, held=(caution(cautions.GEAR_TEST),),
    )  # fmt: skip
    if "door switch" in served:
        yield _test(
            "door", words.DOOR_TITLE, lines(words.DOOR_DO, start=_start(job)), words.DOOR_SEE, place=OUTSIDE
        )
    if "parking brake" in served:
        yield _test(
            "parking-brake", words.PARKING_BRAKE_TITLE, lines(words.PARKING_BRAKE_DO), words.PARKING_BRAKE_SEE,
            key="run", held=(caution(cautions.CHOCKS),),
        )  # fmt: skip
    yield _time_out(job)
    yield _test(
        "takeover", words.TAKEOVER_TITLE, lines(words.TAKEOVER_DO, start=_start(job)), words.TAKEOVER_SEE
    )
    extra = tuple(say(t) for f, t in words.EXTRA.items() if f in served)
    if extra:
        yield _test("extra", words.EXTRA_TITLE, extra, words.EXTRA_SEE, place=OUTSIDE)


def _time_out(job: Job) -> Step:
    time = run_time(job)
    if time is None:
        do = (*lines(words.TIMEOUT_DO[:2], start=_start(job)), say(words.TIMEOUT_DO_UNKNOWN))
    else:
        do = lines(words.TIMEOUT_DO, start=_start(job), time=time)
    return _test(
        "time-out", words.TIMEOUT_TITLE, do, words.TIMEOUT_SEE, place=OUTSIDE,
        held=(caution(cautions.CHILDREN), caution(cautions.GRASS)),
    )  # fmt: skip
