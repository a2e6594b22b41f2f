"""The rows of the wiring drawing: from the kit's terminal through its parts to the car's wire."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from loomwright.papers.drawings import WiringPart, WiringPlan, WiringRow
from loomwright.papers.job import Job, function_words, plug_of
from loomwright.papers.saying import capital
from loomwright.papers.words.en import joining, naming
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Joint, Route

__all__ = ["wiring_drawing"]

_Symbol = Literal["relay inverts", "relay boosts", "relay grounds", "diode", "resistor"]
# Parts with a symbol. One that stands between the two ends of a cut wire has none: the row's note tells how it goes.
_DRAWN: Mapping[str, _Symbol] = MappingProxyType({
    "relay inverts": "relay inverts",
    "relay boosts": "relay boosts",
    "relay grounds": "relay grounds",
    "diode": "diode",
    "resistor": "resistor",
})


def wiring_drawing(job: Job) -> WiringPlan:
    """Return every route of the installation as rows of the drawing."""
    rows: list[WiringRow] = []
    for route in job.installation.routes:
        rows += [_row(job, route, joint) for joint in route.joints] or [_wireless(job, route)]
    return WiringPlan(rows=tuple(rows))


def _task(route: Route) -> str:
    return capital(function_words(route.function))


def _parts(job: Job, joint: Joint) -> tuple[WiringPart, ...]:
    terminal = job.terminal(joint)
    found: list[WiringPart] = []
    if terminal.fuse_a is not None:
        found.append(WiringPart(pattern="fuse", name=words.FUSE_NAME.format(rating=f"{terminal.fuse_a:g}")))
    drawn = None if joint.part is None else _DRAWN.get(joint.part.pattern)
    if joint.part is not None and drawn is not None:
        part = next(p for p in job.kit.parts if p.id == joint.part.part)
        feed = joint.part.fed_from
        found.append(
            WiringPart(
                pattern=drawn, name=part.name,
                fed_from=None if feed is None else feed,
                band="kit" if terminal.kind == "negative output" else "vehicle",
            )
        )  # fmt: skip
    return tuple(found)


def _cut_note(job: Job, joint: Joint) -> str:
    if joint.part is None:
        return ""
    part = next(p for p in job.kit.parts if p.id == joint.part.part)
    side = joining.FACTORY[joint.factory_side or "plug side"]
    return words.CUT_NOTE[joint.part.pattern].format(name=part.name, side=side)


def _row(job: Job, route: Route, joint: Joint) -> WiringRow:
    terminal = job.terminal(joint)
    occupant = None if joint.pin is None else job.car.pins[joint.pin]
    place = "" if joint.place is None else job.car.places[joint.place].name
    note = "" if joint.part is None or joint.part.pattern not in words.CUT_NOTE else _cut_note(job, joint)
    if joint.kind == "ground point":
        note = next(g.words for g in job.car.grounds if joint.id.endswith(f"/{g.id}"))
    elif joint.kind == "added part":
        added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
        note = words.ADDED_END.format(name=added.name, place=added.place)
    return WiringRow(
        task=_task(route), joint="tap" if joint.kind == "cut in" else joint.kind,
        terminal=naming.TERMINAL_SHORT.format(
            plug=terminal.plug.upper(), pin=terminal.pin, function=terminal.function
        ),
        label=joint.label, lead_colour=joint.colour, lead_stripe=joint.stripe,
        size=job.measures.size(joint.area_mm2, f"joint:{joint.id}/area_mm2"), parts=_parts(job, joint),
        wire_colour=(occupant.colour or "") if occupant else "", wire_stripe=occupant.stripe if occupant else None,
        plug="" if joint.pin is None else job.car.plugs[plug_of(joint.pin)].name,
        pin="" if joint.pin is None else joint.pin.partition("/")[2],
        function="" if joint.circuit is None else job.circuit_name(joint.circuit), place=place,
        unproven=joint.circuit is not None and job.car.standing[joint.circuit].status != "proven", note=note,
    )  # fmt: skip


def _wireless(job: Job, route: Route) -> WiringRow:
    module = job.kit.vehicle_module
    if route.setting is not None:
        names = {s.id: s.name for s in job.kit.settings}
        note = words.SETTING_END.format(name=names.get(route.setting[0], ""), value=route.setting[1])
        return WiringRow(task=_task(route), joint="setting", terminal="", label="", note=note)
    if route.how == "bus" and module is not None:
        note = words.BUS_END.format(name=module.name, firmware=module.firmware, version=module.version)
        return WiringRow(task=_task(route), joint="bus", terminal=module.name, label="", note=note)
    return WiringRow(task=_task(route), joint="none", terminal="", label="", note=route.why)
