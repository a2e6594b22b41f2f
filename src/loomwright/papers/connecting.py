"""The wiring plan in words: for each plug or place a table of what is joined there, end by end."""

from collections.abc import Iterator

from loomwright.network.joining import fuse_of
from loomwright.papers.blocks import Block, Table, Text
from loomwright.papers.cut_ends import ends_lead_to
from loomwright.papers.job import Job, function_words, plug_of
from loomwright.papers.saying import joined, lifted, say
from loomwright.papers.wiring_rows import branch_label, by_place, fuse_words, kit_pin, part_between, part_of
from loomwright.papers.words.en import joining, naming
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Joint, Route
from loomwright.sentences import told

__all__ = ["car_end", "connections", "route_function"]

_WIDTHS = (1.2, 2.0, 1.6, 2.0, 0.8, 2.7, 0.9)


def connections(job: Job) -> Iterator[Block]:
    """Yield a table for each plug or place in the order of the fitting, and one of what needs no wire."""
    for where, held in by_place(job):
        rows = tuple(_row(job, route, joint) for route, joint in held)
        yield Table(head=words.ROUTES_TABLE, rows=rows, caption=where, widths=_WIDTHS)
    wireless = [route for route in job.installation.routes if not route.joints]
    if wireless:
        rows = tuple(((route_function(route),), (naming.HOW[route.how],), _wireless(job, route)) for route in wireless)
        yield Table(head=words.WIRELESS_TABLE, rows=rows, caption=words.WHERE_NONE, widths=(1.3, 1.5, 3.4))


def route_function(route: Route) -> str:
    """Return what a route is for: the function with its DIN 72552 number, and which of several circuits."""
    name = function_words(route.function)
    _, _, which = route.task.partition(":")
    return told(words.FUNCTION_OF, function=name, which=which) if which else name


def _row(job: Job, route: Route, joint: Joint) -> tuple[Text, ...]:
    terminal = job.terminal(joint)
    return (
        (route_function(route),), _wire_end(job, joint), _joint(job, joint), _lead(job, joint), (kit_pin(terminal),),
        _between(job, joint), _standing(job, joint),
    )  # fmt: skip


def _wire_end(job: Job, joint: Joint) -> Text:
    """Return what the lead meets; the plug or place is the caption of the table."""
    if joint.pin is None or joint.circuit is None:
        return car_end(job, joint)
    return say(
        words.WIRE_END, pin=joint.pin.partition("/")[2], colour=job.wire(joint), name=job.circuit_name(joint.circuit)
    )


def car_end(job: Job, joint: Joint) -> Text:
    """Return where a lead ends: the car's wire with its plug, the ground point, or the part that is added."""
    if joint.pin is not None and joint.circuit is not None:
        return say(
            words.CAR_WIRE, colour=job.wire(joint), plug=job.car.plugs[plug_of(joint.pin)].name,
            pin=joint.pin.partition("/")[2], name=job.circuit_name(joint.circuit),
        )  # fmt: skip
    if joint.kind == "ground point":
        point = next(g for g in job.car.grounds if joint.id.endswith(f"/{g.id}"))
        return say(words.GROUND_END, words=point.words)
    added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
    return say(words.ADDED_END, name=added.name, place=added.place)


def _joint(job: Job, joint: Joint) -> Text:
    branch = branch_label(job, joint)
    kind = say(words.JOINT_IN, joint=naming.JOINT[joint.kind], branch=branch) if branch else (naming.JOINT[joint.kind],)
    if joint.factory_side is None:
        return kind
    factory = say(words.FACTORY_FROM, side=joining.FACTORY[joint.factory_side])
    return joined(kind, joined(factory, *ends_lead_to(job, joint), between=". "), between="; ")


def _lead(job: Job, joint: Joint) -> Text:
    trace = f"joint:{joint.id}"
    return say(
        words.KIT_LEAD, label=joint.label, colour=job.lead_colour(joint),
        size=job.measures.size(joint.area_mm2, f"{trace}/area_mm2"),
        length=job.measures.length(joint.length_m, f"{trace}/length_m"),
    )  # fmt: skip


def _between(job: Job, joint: Joint) -> Text:
    """Return the fuse in the lead and the part, with what each end of it is joined to."""
    fuse_a, part = fuse_of(job.kit, joint), part_of(job, joint)
    fuse = () if fuse_a is None else lifted(fuse_words(fuse_a), f"joint:{joint.id}/fuse_a")
    return joined(fuse, () if part is None else _part(job, joint), between="; ") if fuse or part else say(words.NO_PART)


def _part(job: Job, joint: Joint) -> Text:
    drawn = part_between(job, joint)
    if drawn is None:
        return ()
    trace = f"document:{job.kit.id}/parts/{joint.part.part if joint.part else ''}"
    side = joining.FACTORY[joint.factory_side] if joint.factory_side else ""
    through = say(words.THROUGH, fuse=lifted(drawn.feed_fuse, trace)) if drawn.feed_fuse else ()
    template = words.PART_ENDS["positive" if drawn.positive else "negative"][drawn.pattern]
    ends = say(template, feed=drawn.feed, through=through, ground=drawn.ground, side=side)
    return say(words.PART, name=lifted(drawn.name, trace), ends=ends)


def _standing(job: Job, joint: Joint) -> Text:
    if joint.circuit is None:
        return ()
    # Why a wire is not proven stands in a part of its own.
    return (naming.STANDING[job.car.standing[joint.circuit].status],)


def _wireless(job: Job, route: Route) -> Text:
    if route.setting is not None:
        names = {s.id: s.name for s in job.kit.settings}
        return say(words.SETTING_END, name=names.get(route.setting[0], route.setting[0]), value=route.setting[1])
    module = job.kit.vehicle_module
    if route.how == "bus" and module is not None:
        return say(words.BUS_END, name=module.name, firmware=module.firmware, version=module.version)
    return ()
