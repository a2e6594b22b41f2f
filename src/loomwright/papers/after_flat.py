"""What to do after a flat or a changed battery, from what the kit learned and how this car is switched on."""

from collections.abc import Iterator

from loomwright.papers.blocks import Text
from loomwright.papers.job import Job
from loomwright.papers.programming import changed_settings, dialogues_needed
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import listed
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import naming

__all__ = ["after_flat", "keys_needed", "learned"]


def learned(job: Job) -> tuple[str, ...]:
    """Return the names of what the kit learned in this car."""
    return tuple(d.name for d in dialogues_needed(job) if d.kind == "learning")


def keys_needed(job: Job) -> Quantity | None:
    """Return how many keys of the car the vehicle module needs to learn it; None where it learns nothing of keys."""
    keys = job.car.traits.keys_to_learn
    if not keys or not job.uses_module or not learned(job):
        return None
    return Quantity(value=keys, unit="", trace=f"document:{job.car.vehicle}/traits/keys_to_learn", digits=0)


def after_flat(job: Job) -> Iterator[Text]:
    """Yield what to do, in order: the cables, the car's own start, then the kit."""
    if job.fused:
        yield job.say(words.FLAT_FUSES_OUT, labels=listed(job.fused, naming.AND))
    yield job.say(words.FLAT_CABLES)
    yield job.say(words.FLAT_OWN_START)
    yield job.say(words.FLAT_CAR)
    if job.fused:
        yield job.say(words.FLAT_FUSES_IN)
    names = learned(job)
    if names:
        yield job.say(words.FLAT_LEARN, names=listed(names, naming.AND))
    else:
        yield job.say(words.FLAT_TRY)
    keys = keys_needed(job)
    if keys is not None:
        yield job.say(words.FLAT_KEYS, count=keys)
    if changed_settings(job):
        yield job.say(words.FLAT_SETTINGS)
