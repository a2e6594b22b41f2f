"""The test that the starter stays still in gear: of the untouched car, and once more with the kit in it."""

from collections.abc import Iterable

from loomwright.papers.blocks import Step
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.stepping import SEAT, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import tests as words
from loomwright.starting.settings import start_settings
from loomwright.starting.trying import CARELESS

__all__ = ["gear_first", "resting_words", "sees_key", "selector_test"]


def sees_key(job: Job) -> bool:
    """Tell whether the kit sees a key in the lock, by which it would refuse a start."""
    return "key_in" in start_settings(job.installation).senses


def resting_words(job: Job, inputs: Iterable[str]) -> str:
    """Return in words that some inputs must be at rest."""
    names = tuple(inputs)
    return listed((job.fill(words.AT_REST[name]) for name in words.AT_REST if name in names), naming.AND)


def gear_first(job: Job) -> Step:
    """Return the test of the untouched car: what the kit relies on is shown before anything is joined."""
    at_rest = resting_words(job, ("hood_open", "door_open"))
    do = job.lines((*words.GEAR_DO, words.GEAR_AGAIN, words.GEAR_END), at_rest=at_rest)
    return Step(
        id="baseline-gear", title=words.GEAR_FIRST_TITLE, kind="test", needs=needs("on", "run"), place=SEAT.words,
        access=SEAT.access, do=do, see=job.say(words.GEAR_SEE), if_not=job.say(words.GEAR_FIRST_IF_NOT),
        cautions=(caution(cautions.GEAR_FIRST),),
    )  # fmt: skip


def selector_test(job: Job) -> Step:
    """Return the test of the selector: the car's own park switch, and the kit's input where it has one."""
    # A kit that sees the key refuses while it is in the lock, and without it the selector does not leave park.
    remote = words.GEAR_NO_REMOTE if sees_key(job) else words.GEAR_REMOTE
    # Pedal and key are part of the test itself, and each of its lines tells what they do.
    senses = start_settings(job.installation).senses & CARELESS.keys()
    at_rest = resting_words(job, senses - {"brake_pressed", "in_park", "key_in"})
    do = job.lines((*words.GEAR_DO, remote, words.GEAR_AGAIN, words.GEAR_END), at_rest=at_rest)
    return Step(
        id="test:selector", title=job.fill(words.TITLES["selector"]), kind="test", needs=needs("on", "run"),
        place=SEAT.words, access=SEAT.access, do=do, see=job.say(words.GEAR_SEE), if_not=job.say(words.GEAR_IF_NOT),
        cautions=(caution(cautions.GEAR_FIRST if sees_key(job) else cautions.GEAR_TEST),),
    )  # fmt: skip
