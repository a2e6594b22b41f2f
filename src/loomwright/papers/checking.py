"""Part C of the guide: battery on, the leads measured at the kit's free plugs, and the controller plugged in."""

from collections.abc import Iterator

from loomwright.network.results import Reading
from loomwright.papers.battery_steps import battery_on
from loomwright.papers.blocks import Block, Heading, Paragraph, Step, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job, plug_of
from loomwright.papers.measuring import unproven_words
from loomwright.papers.quantity import Quantity
from loomwright.papers.reading_fields import reading_field
from loomwright.papers.saying import listed
from loomwright.papers.stepping import SEAT, at_controller, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import checking as words
from loomwright.planning.installation import Joint

__all__ = ["checking"]


def checking(job: Job) -> Iterator[Block]:
    """Yield part C."""
    yield Heading(text=words.HEAD, level=1, anchor="part-c")
    yield Paragraph(text=job.say(words.INTRO))
    yield battery_on(job)
    yield Step(
        id="key-after-joining", title=job.fill(words.KEY_TITLE), kind="test", needs=needs("on", "any"),
        place=SEAT.words, access=SEAT.access, do=job.lines(words.KEY_DO), see=job.say(words.KEY_SEE),
        if_not=job.say(words.KEY_IF_NOT), may_stop=job.sound_after(len(job.order) - 1),
        cautions=(caution(cautions.CRANKING), caution(cautions.PEDALS)),
    )  # fmt: skip
    if job.fused:
        yield _fuses_in(job)
    for joint in job.ordered_joints:
        found = job.readings.of(joint.id, "after joining")
        if found:
            yield _check(job, joint, found)
    yield _controller(job)
    yield Step(
        id="key-with-kit", title=job.fill(words.DEAD_TITLE), kind="test", needs=needs("on", "any"), place=SEAT.words,
        access=SEAT.access, do=job.lines(words.KEY_DO), see=job.say(words.KEY_SEE),
        if_not=job.say(words.DEAD_IF_NOT),
        cautions=(caution(cautions.CRANKING), caution(cautions.LEARNING)),
    )  # fmt: skip
    if not (job.sound_in("fitted") and job.sound_in("kit dead")):
        yield Paragraph(text=job.say(words.NO_STOP))
        return
    yield Step(
        id="stop-c", title=words.STOP_TITLE, kind="stop", needs=needs("on", "out"), place=SEAT.words,
        access=SEAT.access, do=(job.say(words.STOP_DO),), see=job.say(words.STOP_SEE),
        if_not=job.say(words.STOP_IF_NOT), may_stop=True,
        cautions=(caution(cautions.PEDALS),),
    )  # fmt: skip


def _fuses_in(job: Job) -> Step:
    spot = at_controller(job)
    rated = []
    for joint in job.installation.joints:
        fuse_a = job.terminal(joint).fuse_a
        if fuse_a is not None:
            trace = f"document:{job.kit.id}/controller/{joint.terminal}/fuse_a"
            rating = Quantity(value=fuse_a, unit="A", trace=trace, digits=0)
            rated.append(job.say(words.FUSES_RATING, label=joint.label, rating=rating))
    return Step(
        id="fuses-in", title=words.FUSES_TITLE, kind="prepare", needs=needs("on", "out"), place=spot.words,
        access=spot.access, do=(*job.lines(words.FUSES_DO, labels=listed(job.fused, naming.AND)), *rated),
        see=job.say(words.FUSES_SEE), if_not=job.say(words.FUSES_IF_NOT),
    )  # fmt: skip


def _check(job: Job, joint: Joint, found: tuple[Reading, ...]) -> Step:
    terminal = job.terminal(joint)
    kit_plug, place = terminal.plug.upper(), terminal.pin
    spot = at_controller(job)
    ground = joint.kind == "ground point"
    do: list[Text] = [job.say(words.FIND, plug=kit_plug, pin=place, label=joint.label, colour=job.lead_colour(joint))]
    do.append(job.say(words.GROUND_TOUCH if ground else words.TOUCH, pin=place))
    do.append(job.say(words.READ_EACH))
    count = words.COUNT_GROUND.format(plug=kit_plug, pin=place)
    if joint.pin is not None:
        plug = job.car.plugs[plug_of(joint.pin)]
        count = words.COUNT.format(
            plug=kit_plug, pin=place, plug_name=plug.name, car_pin=joint.pin.partition("/")[2]
        )
    states = [r.band.state for r in found]
    held = [caution(cautions.CRANKING)] if any("engine running" in s.active for s in states) else []
    if any("parking brake set" in s.active for s in states):
        held.append(caution(cautions.CHOCKS))
    return Step(
        id=f"check:{joint.id}", title=words.TITLE.format(label=joint.label), kind="measure",
        needs=needs("on", states[0].key if states[0].key != "off" else "out"), place=spot.words, access=spot.access,
        do=tuple(do), see=job.say(words.SEE), if_not=job.say(words.IF_NOT), label=joint.label,
        lead_colour=job.lead_colour(joint), wire_colour=job.wire(joint) or words.GROUND_WIRE, count=count,
        neighbours=words.NEIGHBOURS.format(label=joint.label),
        readings=tuple(reading_field(job, joint, r, found) for r in found),
        unproven=unproven_words(job, joint.circuit), cautions=tuple(held),
    )  # fmt: skip


def _controller(job: Job) -> Step:
    used = {j.terminal for j in job.installation.joints}
    plugs = dict.fromkeys(t.plug.upper() for t in job.kit.controller.terminals if t.id in used)
    fused = listed(job.fused, naming.AND)
    spot = at_controller(job)
    do = list(job.lines(words.PLUG_DO, labels=fused, plugs=listed(plugs, naming.AND)))
    if not fused:
        do = [job.say(words.PLUG_DO_NO_FUSE), *do[1:3]]
    module = job.kit.vehicle_module
    if module is not None and job.uses_module:
        do.append(job.say(words.PLUG_MODULE, name=module.name))
    return Step(
        id="join:controller", title=words.UNPLUG_TITLE, kind="plug", needs=needs("on", "out"), place=spot.words,
        access=spot.access, do=tuple(do), see=job.say(words.PLUG_SEE), if_not=job.say(words.PLUG_IF_NOT),
        label=listed(plugs, naming.AND), count=words.CONTROLLER_COUNT, neighbours=words.CONTROLLER_NEIGHBOURS,
        cautions=(caution(cautions.LEARNING), caution(cautions.HOOD)),
    )  # fmt: skip
