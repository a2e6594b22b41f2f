"""Part F of the guide: closing up, the sweep, the hand-over, operating, removal, and what was checked."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Bullets, Heading, Step, Text
from loomwright.papers.checked import checked
from loomwright.papers.cold import cold_again
from loomwright.papers.fuse_places import fused_places
from loomwright.papers.job import Job
from loomwright.papers.operating_card import operating
from loomwright.papers.removal_page import removal
from loomwright.papers.safety_tests import stopping_titles
from loomwright.papers.saying import capital, listed
from loomwright.papers.stepping import SEAT, Key, Place, at_controller, needs
from loomwright.papers.words.en import handover as words
from loomwright.papers.words.en import naming
from loomwright.sentences import linked

__all__ = ["handing_over"]


def handing_over(job: Job) -> Iterator[Block]:
    """Yield part F and the pages behind it."""
    yield Heading(text=words.HEAD, level=1, anchor="part-f")
    yield _closing(job)
    yield _step(
        job, "sweep", words.SWEEP_TITLE, job.lines(words.SWEEP_DO), words.SWEEP_SEE, words.SWEEP_IF_NOT, SEAT, "any",
    )  # fmt: skip
    yield _again(job)
    yield Heading(text=words.HEAD_HAND_OVER, level=1, anchor="hand-over")
    yield Bullets(items=job.lines(words.HAND_OVER), ticked=True)
    yield from operating(job)
    yield from removal(job)
    yield from checked(job)


def _step(
    job: Job, name: str, title: str, do: tuple[Text, ...], see: str, if_not: str, place: Place, key: Key = "out",
    *, may_stop: bool = False,
) -> Step:  # fmt: skip
    return Step(
        id=f"close:{name}", title=title, kind="close", needs=needs("on", key), place=place.words, access=place.access,
        do=do, see=job.say(see), if_not=job.say(if_not), may_stop=may_stop,
    )  # fmt: skip


def _again(job: Job) -> Step:
    """Return the step that tries once more what must stop the engine: closing up is what pulls a joint apart."""
    titles = listed(stopping_titles(job), naming.AND)
    service = (job.say(words.SERVICE_TRY),) if job.kit.service is not None else ()
    do = (*service, *job.lines(words.AGAIN_DO, titles=titles), *cold_again(job))
    return _step(
        job, "again", words.AGAIN_TITLE, do, words.AGAIN_SEE, words.AGAIN_IF_NOT, SEAT,
        may_stop=job.sound_in("fitted") and job.sound_in("kit dead"),
    )  # fmt: skip


def _closing(job: Job) -> Step:
    """Return the step that ties up the kit and closes every place, in the opposite order of opening.

    The kit's fuses are out all the while: those places are closed last in which they sit.
    """
    places = [p for p in reversed(job.places) if job.car.places[p].access]
    with_fuses = [p for p in places if p in fused_places(job)]
    last = (_close(job, p) for p in with_fuses)
    before = (_close(job, p) for p in places if p not in with_fuses)
    cold = listed((job.car.places[p].name for p in job.cold_places), naming.AND)
    service = job.kit.service
    do: list[Text] = [job.say(words.TIE_FUSES_OUT, labels=listed(job.fused, naming.AND))] if job.fused else []
    do += job.lines(words.TIE_DO)
    do += [job.say(words.TIE_SERVICE)] if service is not None else []
    do += [job.say(words.LABEL_DO)]
    do += [job.say(words.CLOSE_DO)] if places else []
    do += [job.say(words.CLOSE_COLD, places=cold, wait=job.wait)] if cold else []
    do += before
    do += [job.say(words.TIE_FUSES_IN)] if job.fused else []
    do += [job.say(words.TIE_SERVICE_ON, service=service)] if service is not None else []
    do += last
    spot = at_controller(job)
    if job.places:
        named = (job.car.places[p].name for p in reversed(job.places))
        spot = Place(words=capital(listed(named, naming.AND)), access=(naming.OPEN_ALL,))
    return _step(job, "panels", words.CLOSE_TITLE, tuple(do), words.CLOSE_SEE, words.CLOSE_IF_NOT, spot)


def _close(job: Job, place: str) -> Text:
    here = job.car.places[place]
    return job.say(words.CLOSE_PLACE, place=capital(here.name), access=linked(here.access))
