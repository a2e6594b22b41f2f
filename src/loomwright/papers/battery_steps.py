"""Battery off and on, and the wait for the airbags: the transitions between live and dead work."""

from collections.abc import Iterator

from loomwright.papers.blocks import Step
from loomwright.papers.cautioning import caution, waiting
from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.stepping import ASIDE, BATTERY, needs
from loomwright.papers.words.en import battery as words
from loomwright.papers.words.en import cautions, naming

__all__ = ["battery_off", "battery_on"]


def battery_on(job: Job, name: str = "") -> Step:
    """Return the step that connects the battery again."""
    two = job.two_batteries
    cold = (job.say(words.ON_COLD),) if job.cold_places else ()
    return Step(
        id=f"battery-on{name}", title=words.ON_TITLE, kind="prepare", needs=needs("on", "out"), place=BATTERY.words,
        access=BATTERY.access,
        do=(*job.lines(words.ON_DO_TWO if two else words.ON_DO), *cold),
        see=job.say(words.ON_SEE),
        if_not=job.say(words.ON_IF_NOT_TWO if two else words.ON_IF_NOT),
        cautions=(caution(cautions.BATTERY), caution(cautions.RINGS)),
    )  # fmt: skip


def battery_off(job: Job, name: str = "", *, measured: bool = True) -> Iterator[Step]:
    """Yield the steps that disconnect the battery and wait for the airbags; `name` tells two such stretches apart.

    After measuring, the long lead still hangs on the battery, and its free end could connect it again.
    """
    two = job.two_batteries
    yield Step(
        id=f"battery-off{name}", title=words.OFF_TITLE, kind="prepare", needs=needs("off", "out"), place=BATTERY.words,
        access=BATTERY.access,
        do=(*((job.say(words.OFF_LEAD),) if measured else ()), *job.lines(words.OFF_DO_TWO if two else words.OFF_DO),
            job.say(words.OFF_PROVED)),
        see=job.say(words.OFF_SEE_TWO if two else words.OFF_SEE),
        if_not=job.say(words.OFF_IF_NOT_TWO if two else words.OFF_IF_NOT),
        cautions=(caution(cautions.BATTERY), caution(cautions.RINGS), caution(cautions.MEMORY)),
    )  # fmt: skip
    fused = listed(job.fused, naming.AND)
    spot = ASIDE
    yield Step(
        id=f"wait{name}", title=words.WAIT_TITLE, kind="prepare", needs=needs("off", "out"), place=spot.words,
        access=spot.access,
        do=(
            job.say(words.WAIT_DO_UNKNOWN if job.wait_minutes is None else words.WAIT_DO, wait=job.wait),
            job.say(words.WAIT_WORKS, labels=fused) if fused else job.say(words.WAIT_WORKS_NO_FUSE),
            *((job.say(words.WAIT_LAY),) if measured else ()),
        ),
        see=job.say(words.WAIT_SEE), if_not=job.say(words.WAIT_IF_NOT),
        cautions=(waiting(job), *((caution(cautions.FUSES_OUT, labels=fused),) if fused else ())),
    )  # fmt: skip
