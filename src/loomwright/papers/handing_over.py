"""Part F of the guide: closing up, the sweep, the hand-over, operating, removal, and what was checked."""

from collections.abc import Iterator

from loomwright.papers.blocks import Block, Bullets, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.checked import checked
from loomwright.papers.job import Job
from loomwright.papers.page_one import caution_list
from loomwright.papers.safety_tests import run_time
from loomwright.papers.saying import capital, listed
from loomwright.papers.stepping import SEAT, Key, Place, at_controller, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import handover as words

__all__ = ["handing_over"]


def handing_over(job: Job) -> Iterator[Block]:
    """Yield part F and the pages behind it."""
    yield Heading(text=words.HEAD, level=1, anchor="part-f")
    yield _closing(job)
    yield _step(
        job, "sweep", words.SWEEP_TITLE, job.lines(words.SWEEP_DO), words.SWEEP_SEE, words.SWEEP_IF_NOT, SEAT, "any",
        may_stop=job.sound_in("fitted") and job.sound_in("kit dead"),
    )  # fmt: skip
    yield Heading(text=words.HEAD_HAND_OVER, level=1, anchor="hand-over")
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


def _closing(job: Job) -> Step:
    """Return the step that ties up the kit and closes every place, in the opposite order of opening."""
    places = [job.car.places[p] for p in reversed(job.places)]
    back = [job.say(words.CLOSE_PLACE, place=capital(p.name), access=" ".join(p.access)) for p in places if p.access]
    if back:
        back.insert(0, job.say(words.CLOSE_DO))
    spot = at_controller(job)
    if places:
        spot = Place(words=capital(listed((p.name for p in places), naming.AND)), access=(naming.OPEN_ALL,))
    return _step(
        job, "panels", words.CLOSE_TITLE, (*job.lines(words.TIE_DO), *back), words.CLOSE_SEE, words.CLOSE_IF_NOT, spot
    )


def _operating(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_OPERATE, level=1, anchor="operating")
    held = [
        caution(entry)
        for entry in (
            cautions.GARAGE, cautions.CHILDREN, cautions.LEAVING, cautions.TAILPIPE, cautions.TIMED, cautions.GRASS,
            cautions.HOOD, cautions.IDLING, cautions.HIDDEN_KEY, cautions.RADIO,
        )
    ]  # fmt: skip
    yield held[0]
    yield caution_list(held[1:])
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
        elif joint.kind == "cut in" and joint.part is not None:
            cut = next(p for p in job.kit.parts if joint.part is not None and p.id == joint.part.part)
            items.append(
                job.say(
                    words.REMOVE_CUT, name=cut.name, label=joint.label, plug=plug, pin=pin, colour=job.wire(joint)
                )
            )
        elif action.kind == "tap":
            items.append(job.say(words.REMOVE_TAP, label=joint.label, plug=plug, pin=pin, colour=job.wire(joint)))
        elif action.kind == "added part":
            added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
            items.append(job.say(words.REMOVE_ADDED, name=added.name, label=joint.label))
        else:
            items.append(job.say(words.REMOVE_GROUND, label=joint.label))
    items.append(job.say(words.REMOVE_ON))
    yield Bullets(items=tuple(items), numbered=True)


