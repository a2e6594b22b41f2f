"""The rows of the drawn circuit: from the kit's pin by lead, fuse and part to the car's wire, by plug and place."""

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.kit import InterfacePart, Terminal
from loomwright.network.joining import fuse_of
from loomwright.papers.drawings import JointKind, WiringPart, WiringPlan, WiringRow
from loomwright.papers.job import Job, plug_of
from loomwright.papers.saying import capital
from loomwright.papers.words.en import naming
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Joint, Route
from loomwright.sentences import listing, told

__all__ = [
    "branch_label", "by_place", "fuse_words", "kit_pin", "part_between", "part_of", "wiring_drawing",
]  # fmt: skip

_GROUNDING = frozenset({"relay boosts", "relay grounds", "relay changes over"})
_FED_CONTACT = frozenset({"relay inverts", "relay boosts", "relay changes over"})


def wiring_drawing(job: Job) -> WiringPlan:
    """Return every route of the installation as rows of the drawing, those of one plug or place together."""
    rows = [_row(job, route, joint, where) for where, held in by_place(job) for route, joint in held]
    rows += [_wireless(job, route) for route in job.installation.routes if not route.joints]
    return WiringPlan(rows=tuple(rows))


def by_place(job: Job) -> tuple[tuple[str, tuple[tuple[Route, Joint], ...]], ...]:
    """Return every joint with its route, by the plug or place where it is made, in the order of the fitting."""
    routes = {joint.id: route for route in job.installation.routes for joint in route.joints}
    groups: dict[str, list[tuple[Route, Joint]]] = {}
    for joint in job.ordered_joints:
        groups.setdefault(_where(job, joint), []).append((routes[joint.id], joint))
    return tuple((where, tuple(held)) for where, held in groups.items())


def _where(job: Job, joint: Joint) -> str:
    place = "" if joint.place is None else job.car.places[joint.place].name
    if joint.kind == "added part":
        return capital(_added_name(job, joint))
    if joint.pin is None:
        return told(words.WHERE_GROUND, place=place)
    plug = capital(job.car.plugs[plug_of(joint.pin)].name)
    return told(words.WHERE_PLUG, plug=plug, place=place) if place and place.lower() not in plug.lower() else plug


def kit_pin(terminal: Terminal) -> str:
    """Return a pin of the controller by its plug and number, as it is printed: 'H1/3'."""
    return f"{terminal.plug.upper()}/{terminal.pin}"


def part_of(job: Job, joint: Joint) -> InterfacePart | None:
    """Return the kit's part that a joint uses."""
    use = joint.part
    return None if use is None else next(p for p in job.kit.parts if p.id == use.part)


def _added_name(job: Job, joint: Joint) -> str:
    return next(p.name for p in job.kit.added_parts if p.terminal == joint.terminal)


def fuse_words(rating_a: float) -> str:
    """Return a fuse by its rating [A]."""
    return told(words.FUSE_NAME, rating=told("{rating_a:g}", rating_a=rating_a))


def _terminal(job: Job, terminal: str) -> Terminal:
    return next(t for t in job.kit.controller.terminals if t.id == terminal)


def part_between(job: Job, joint: Joint) -> WiringPart | None:
    """Return the part between lead and car wire, with the pins of the kit at which its feed and ground are taken."""
    part, use = part_of(job, joint), joint.part
    if part is None or use is None:
        return None
    feed = None if use.fed_from is None else _terminal(job, use.fed_from)
    fed = next((j.label for j in job.installation.joints if feed is not None and j.terminal == feed.id), "")
    positive = job.terminal(joint).kind != "negative output"
    # The coil of a positive output ends at the kit's ground, and so does the contact of a relay that grounds.
    grounds = use.pattern == "relay grounds" or (use.pattern in _GROUNDING and positive)
    ground = next((t for t in job.kit.controller.terminals if t.kind == "ground"), None)
    fused = part.fuse_a is not None and feed is not None and use.pattern in _FED_CONTACT
    return WiringPart(
        pattern=use.pattern, name=part.name, positive=positive,
        feed="" if feed is None else kit_pin(feed), feed_label=fed,
        feed_fuse=fuse_words(part.fuse_a) if fused and part.fuse_a is not None else "",
        ground=kit_pin(ground) if grounds and ground is not None else "",
    )  # fmt: skip


def branch_label(job: Job, joint: Joint) -> str:
    """Return what is printed on the T-harness or plug that a lead ends in; empty for a loose lead."""
    return next((b.label for b in job.kit.branches if b.id == joint.branch), "")


def _note(job: Job, joint: Joint) -> str:
    """Return what a drawing cannot show: where a part goes, and that a lead serves several wires."""
    if joint.kind == "ground point":
        return next(g.words for g in job.car.grounds if joint.id.endswith(f"/{g.id}"))
    if joint.kind == "added part":
        return next(p.place for p in job.kit.added_parts if p.terminal == joint.terminal)
    others = [j for j in job.installation.joints if j.terminal == joint.terminal and j.id != joint.id]
    if not others:
        return ""
    named = listing(
        (told(words.SPLICED_TO, label=j.label, pin=(j.pin or "").partition("/")[2]) for j in others), naming.AND
    )
    return told(words.SPLICED, pin=kit_pin(job.terminal(joint)), others=named)


def _row(job: Job, route: Route, joint: Joint, where: str) -> WiringRow:
    terminal = job.terminal(joint)
    occupant = None if joint.pin is None else job.car.pins[joint.pin]
    fuse_a = fuse_of(job.kit, joint)
    trace = f"joint:{joint.id}"
    name = _added_name(job, joint) if joint.kind == "added part" else ""
    return WiringRow(
        task=_task(route), din=_din(route), joint=joint.kind, where=where,
        kit_pin=kit_pin(terminal), terminal=terminal.function,
        label=joint.label, lead_colour=joint.colour, lead_stripe=joint.stripe,
        size=job.measures.size(joint.area_mm2, f"{trace}/area_mm2"),
        length=job.measures.length(joint.length_m, f"{trace}/length_m"),
        fuse="" if fuse_a is None else fuse_words(fuse_a), part=part_between(job, joint),
        branch=branch_label(job, joint),
        wire_colour=(occupant.colour or "") if occupant else "", wire_stripe=occupant.stripe if occupant else None,
        plug="" if joint.pin is None else job.car.plugs[plug_of(joint.pin)].name,
        pin="" if joint.pin is None else joint.pin.partition("/")[2],
        function=name if joint.circuit is None else job.circuit_name(joint.circuit),
        factory_side=joint.factory_side or "",
        unproven=joint.circuit is not None and job.car.standing[joint.circuit].status != "proven",
        note=_note(job, joint),
    )  # fmt: skip


def _task(route: Route) -> str:
    return capital(route.function)


def _din(route: Route) -> str:
    facts = FUNCTIONS.get(route.function)
    return facts.din if facts else ""


def _wireless(job: Job, route: Route) -> WiringRow:
    module = job.kit.vehicle_module
    joint: JointKind = "none"
    note, terminal = route.why, ""
    if route.setting is not None:
        names = {s.id: s.name for s in job.kit.settings}
        joint, note = "setting", told(words.SETTING_END, name=names.get(route.setting[0], ""), value=route.setting[1])
    elif route.how == "bus" and module is not None:
        joint, terminal = "bus", module.name
        note = told(words.BUS_END, name=module.name, firmware=module.firmware, version=module.version)
    return WiringRow(
        task=_task(route), din=_din(route), where=words.WHERE_NONE, joint=joint, terminal=terminal, note=note
    )
