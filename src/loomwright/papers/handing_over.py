"""Part F of the guide: closing up, the sweep, the hand-over, operating, removal, and what was checked."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Bullets, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.checked import checked
from loomwright.papers.job import Job
from loomwright.papers.safety_tests import run_time
from loomwright.papers.saying import capital, listed
from loomwright.papers.stepping import SEAT, Key, Place, at_controller, at_place, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import handover as words

__all__ = ["handing_over"]


def handing_over(job: Job) -> Iterator[Block]:
    """Yield part F and the pages behind it."""
    yield Heading(text=words.HEAD, level=1, anchor="part-f")
    yield caution(cautions.PEDALS)
    spot = at_controller(job)
    yield _step(job, "tie", words.TIE_TITLE, job.lines(words.TIE_DO), words.TIE_SEE, words.TIE_IF_NOT, spot)
    for place in reversed(job.places):
        yield _closing(job, place)
    yield _step(job, "move", words.MOVE_TITLE, job.lines(words.MOVE_DO), words.MOVE_SEE, words.MOVE_IF_NOT, SEAT, "run")
    yield _step(
        job, "lamp", words.LAMP_TITLE, job.lines(words.LAMP_DO), words.LAMP_SEE, words.LAMP_IF_NOT, SEAT, "run",
        may_stop=job.sound_in("fitted") and job.sound_in("kit dead"),
    )  # fmt: skip
    yield Heading(text=words.HEAD_HAND_OVER, level=1, anchor="hand-over")
    yield caution(cautions.HAND_OVER)
    yield Bullets(items=job.lines(words.HAND_OVER), ticked=True)
    yield from _operating(job)
    yield from _removing(job)
    yield from checked(job)


def _step(
    job: Job, name: str, title: str, do: tuple[Text, ...], see: str, if_not: str, place: Place, key: Key = "out",
    *, may_stop: bool = False,
) -> Step:  # fmt: skip
    return Step(
        id=f"close:{name}", title=title, kind="close", needs=needs("on", key), place=place.words, access=place.access,
        do=do, see=job.say(see), if_not=job.say(if_not), may_stop=may_stop,
    )  # fmt: skip


def _closing(job: Job, place: str) -> Step:
    here = job.car.places[place]
    back = [job.say(words.CLOSE_BACK, access=a) for a in reversed(here.access)]
    do = [job.say(words.CLOSE_DO), *back] if back else [job.say(words.CLOSE_DO_NOTHING)]
    return _step(
        job, place, capital(words.CLOSE_TITLE.format(place=here.name)), tuple(do), words.CLOSE_SEE, words.CLOSE_IF_NOT,
        at_place(job, place),
    )  # fmt: skip


def _operating(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_OPERATE, level=1, anchor="operating")
    for entry in (
        cautions.GARAGE, cautions.CHILDREN, cautions.LEAVING, cautions.TAILPIPE, cautions.TIMED, cautions.GRASS,
        cautions.HOOD, cautions.IDLING, cautions.HIDDEN_KEY, cautions.RADIO,
    ):  # fmt: skip
        yield caution(entry)
    items = [job.say(words.REMOTE, name=r.name, start=r.start, stop=r.stop) for r in job.kit.remotes]
    if job.kit.controller.range_note is not None:
        items.append(job.say(words.RANGE, range=job.kit.controller.range_note))
    time = run_time(job)
    if time is not None:
        items.append(job.say(words.RUN_TIME, time=time))
    items.append(job.say(words.TAKEOVER))
    if job.fused:
        items.append(job.say(words.SERVICE, labels=listed(job.fused, naming.AND)))
    else:
        items.append(job.say(words.SERVICE_NO_FUSE))
    yield Bullets(items=tuple(items))


def _removing(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_REMOVE, level=1, anchor="removal")
    yield Paragraph(text=job.say(words.REMOVE_INTRO))
    items: list[Text] = [job.say(words.REMOVE_OFF), job.say(words.REMOVE_CONTROLLER)]
    branches = {b.id: b for b in job.kit.branches}
    for action in reversed(job.order):
        if action.kind == "controller":
            continue
        joint = action.joints[0]
        name, _, pin = (joint.pin or "").partition("/")
        plug = job.car.plugs[name].name if name else ""
        if action.kind in ("T", "plug"):
            template = words.REMOVE_T if action.kind == "T" else words.REMOVE_PLUG
            items.append(job.say(template, label=branches[action.branch or ""].label, plug=plug))
        elif action.kind == "tap":
            items.append(job.say(words.REMOVE_TAP, label=joint.label, plug=plug, pin=pin, colour=job.wire(joint)))
        elif action.kind == "added part":
            added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
            items.append(job.say(words.REMOVE_ADDED, name=added.name, label=joint.label))
        else:
            items.append(job.say(words.REMOVE_GROUND, label=joint.label))
    items.append(job.say(words.REMOVE_ON))
    yield Bullets(items=tuple(items), numbered=True)


