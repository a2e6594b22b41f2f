"""The untouched car: what works before the first screw is turned."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Heading, Paragraph, ReadingField, Step, Verdict
from loomwright.papers.cautioning import caution
from loomwright.papers.gear_test import gear_first
from loomwright.papers.job import Job
from loomwright.papers.measures import volts
from loomwright.papers.stepping import BATTERY, SEAT, needs
from loomwright.papers.words.en import cautions
from loomwright.papers.words.en import page_one as words

__all__ = ["GOOD_BATTERY_V", "baseline", "battery_field"]

GOOD_BATTERY_V = (12.3, 12.9)
"""At rest a sound lead-acid battery shows 12.6 V full and about 12.2 V half empty at 25 degC; common practice [V]."""


def battery_field(job: Job, name: str) -> ReadingField:
    """Return the field for the battery at rest, against which the other readings are judged."""
    low, high = (volts(v, "practice:lead-acid battery at rest") for v in GOOD_BATTERY_V)
    return ReadingField(
        id=name, clip=words.BATTERY_CLIP, probe=words.BATTERY_PROBE, state=job.fill(words.BATTERY_STATE),
        expect=job.say(words.BATTERY_EXPECT, low=low, high=high), relative=False,
        verdicts=(
            Verdict(low=low, high=high, words=words.BATTERY_GOOD, good=True),
            Verdict(low=None, high=low, words=words.BATTERY_LOW, good=False),
            Verdict(low=high, high=None, words=words.BATTERY_HIGH, good=False),
        ),
        lamp=words.LAMP_BATTERY, lamp_allowed=False,
    )  # fmt: skip


def baseline(job: Job) -> Iterator[Block]:
    """Yield the checks of the untouched car."""
    yield Heading(text=words.HEAD_BASELINE, level=1, anchor="baseline")
    yield Paragraph(text=job.say(words.BASELINE_INTRO))
    two = (job.say(words.BASELINE_BATTERY_TWO),) if job.two_batteries else ()
    yield Step(
        id="baseline-battery", title=words.BASELINE_BATTERY_TITLE, kind="measure", needs=needs("on", "out"),
        place=BATTERY.words, access=BATTERY.access, do=(*two, *job.lines(words.BASELINE_BATTERY_DO)),
        see=job.say(words.BASELINE_BATTERY_SEE), if_not=job.say(words.BASELINE_BATTERY_IF_NOT),
        readings=(battery_field(job, "check:battery@start"),),
        cautions=(caution(cautions.BATTERY), caution(cautions.RINGS)),
    )  # fmt: skip
    yield Step(
        id="baseline-key", title=job.fill(words.BASELINE_KEY_TITLE), kind="test", needs=needs("on", "any"),
        place=SEAT.words, access=SEAT.access, do=job.lines(words.BASELINE_KEY_DO), see=job.say(words.BASELINE_KEY_SEE),
        if_not=job.say(words.BASELINE_KEY_IF_NOT), cautions=(caution(cautions.GARAGE),),
    )  # fmt: skip
    yield gear_first(job)
    tried = tuple(job.say(t) for f, t in words.BASELINE_WORKS.items() if f in job.served)
    yield Step(
        id="baseline-works", title=words.BASELINE_WORKS_TITLE, kind="test", needs=needs("on", "any"),
        place=SEAT.words, access=SEAT.access, do=tried, see=job.say(words.BASELINE_WORKS_SEE),
        if_not=job.say(words.BASELINE_WORKS_IF_NOT), may_stop=True,
    )  # fmt: skip
