"""What the installation page shows: place by place the plugs, the joints and what each wire does in one state."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from loomwright.documents.vehicle import Place
from loomwright.network.results import Finding, Readings
from loomwright.network.states import State, state_words
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.network.what_if import Blown, PointNow, Sense, WhatIf
from loomwright.papers.blocks import Face, Text
from loomwright.papers.job import Job, colour_words, plug_of
from loomwright.papers.pin_face import plug_face
from loomwright.papers.quantity import Quantity
from loomwright.papers.reading_fields import state_text
from loomwright.papers.saying import capital, lifted, listed, say
from loomwright.papers.wiring_plan import route_function
from loomwright.papers.words.en import bench as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Installation, Joint, Route
from loomwright.sentences import linked, told, unstopped

__all__ = [
    "BenchPage", "FindingView", "JointView", "PinView", "PlaceView", "PlugView", "RouteView", "Wire", "bench_page",
    "joint_name",
    "readings_none",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One wire and what it does now; `was` is what it does with everything sound, where that differs."""

    id: str  # point id
    colour: str
    stripe: str | None
    words: str
    condition: str
    says: str
    volts: Text
    was: str | None
    was_volts: Text
    openable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JointView:
    """One meeting of kit and car."""

    id: str
    label: str
    function: str
    how: str
    part: str
    lead: Wire
    wire: Wire | None  # of the car; None at a bolt or an added part
    where: str  # plug and pin, bolt, or added part
    name: str  # of the circuit
    standing: str
    unproven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PinView:
    """One pin of a plug that the kit meets."""

    pin: str
    name: str
    colour: str
    stripe: str | None
    wire: Wire | None  # None for what is never measured: airbag wires
    used_by: str  # label of the kit's lead, empty where the kit leaves the pin alone
    restraint: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugView:
    """One plug that the kit meets."""

    id: str
    name: str
    look: str
    face: Face
    pins: tuple[PinView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    """One finding in words."""

    severity: str
    message: Text
    when: str
    advice: Text
    source: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceView:
    """One place in the car where something is done; `number` is that of the map."""

    id: str
    number: int | None
    name: str
    words: str
    access: tuple[str, ...]
    x: float
    y: float
    joints: tuple[JointView, ...]
    plugs: tuple[PlugView, ...]
    findings: tuple[FindingView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteView:
    """How a function is served, why, and why not otherwise."""

    task: str
    how: str
    with_what: str
    why: Text
    pinned: str
    gated: str
    rejected: tuple[tuple[str, Text, Text], ...]  # (how, with what, deciding fact)


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchPage:
    """Everything the page says about one installation in one state."""

    state: str
    places: tuple[PlaceView, ...]
    elsewhere: tuple[FindingView, ...]  # findings that concern no place
    routes: tuple[RouteView, ...]
    unserved: tuple[tuple[str, bool, Text, Text], ...]  # (function, required, why, would be served if)
    unused: tuple[tuple[str, str, str | None, str, str], ...]  # (label, colour, stripe, where, clash)
    senses: tuple[tuple[Text, bool], ...]  # (sentence, as with everything sound)
    blown: tuple[Text, ...]
    brought: tuple[FindingView, ...]
    changed: tuple[Wire, ...]
    settles: bool
    meter: Wire | None


def readings_none(installation: Installation) -> Readings:
    """Return readings without any, for papers that need none."""
    return Readings(installation=installation.id, battery_v=BATTERY_V, readings=())


def bench_page(job: Job, now: WhatIf, meter: str | None = None) -> BenchPage:
    """Return what the page shows.

    Parameters
    ----------
    job
        The installation with its proof; no readings are needed.
    now
        What each wire does in the state that is looked at.
    meter
        Id of the point at which the meter is, if anywhere.
    """
    wires = {name: _wire(job, point) for name, point in now.points.items()}
    beside: dict[str | None, list[FindingView]] = {}
    for finding in job.proof.findings:
        beside.setdefault(_place_of(job, finding.subject), []).append(_finding(job, finding))
    places = tuple(_places(job, wires, beside))
    shown = {p.id for p in places}
    return BenchPage(
        state=_state(job, now.state), places=places,
        elsewhere=tuple(f for place, found in beside.items() if place not in shown for f in found),
        routes=tuple(_route(job, r) for r in job.installation.routes),
        unserved=tuple(
            (
                capital(u.function), u.required, job.lifted(u.why, f"route:{u.task}"),
                job.lifted(u.would_fit_if, f"route:{u.task}"),
            )
            for u in job.installation.unserved
        ),
        unused=tuple(
            (u.label, u.colour, u.stripe, u.where, u.clash or "") for u in job.installation.unused_leads
        ),
        senses=tuple((_sense(s), s.reads == s.sound_reads) for s in now.senses),
        blown=tuple(_blown(b) for b in now.blown), brought=tuple(_brought(job, f) for f in now.findings),
        changed=tuple(wires[name] for name, point in now.points.items() if point.changed), settles=now.settles,
        meter=wires.get(meter) if meter else None,
    )  # fmt: skip


def _state(job: Job, state: State) -> str:
    """Return the state as a person says it: the stage, what the key and people do, and what the kit has on."""
    kit = told(words.KIT_ON, outputs=listed(sorted(state.commands), naming.AND)) if state.commands else ""
    by_kit = bool(state.commands) and "engine running" in state.active
    # The key's own words would say that it was the key which started the engine.
    still = replace(state, active=state.active - {"engine running"}) if by_kit else state
    parts = (naming.STAGE[state.stage], state_text(job, still), words.KIT_RUNS if by_kit else "", kit)
    return linked(parts, "; ")


def _volts(value: float, trace: str) -> Text:
    digits = 2 if abs(value) < 1 else 1
    return say(words.VOLTS, volts=Quantity(value=value + 0.0, unit="V", trace=trace, digits=digits))


def _wire(job: Job, now: PointNow) -> Wire:
    point = now.point
    if point.joint is not None:
        joint = next(j for j in job.installation.joints if j.id == point.joint)
        colour, stripe, name = joint.colour, joint.stripe, joint.label
    else:
        occupant = job.car.pins[point.pin or ""]
        colour, stripe = occupant.colour or "", occupant.stripe
        plug, _, pin = (point.pin or "").partition("/")
        name = linked((told(naming.PIN_WIRE, pin=pin, colour=occupant.words), job.car.plugs[plug].name), ", ")
    trace = f"what-if:{point.id}"
    return Wire(
        id=point.id, colour=colour, stripe=stripe, words=name, condition=now.condition,
        says=words.CONDITION[now.condition], volts=_volts(now.volts, trace),
        was=words.CONDITION[now.sound_condition] if now.changed else None, was_volts=_volts(now.sound_volts, trace),
        openable=point.wire is not None,
    )  # fmt: skip


def _places(job: Job, wires: dict[str, Wire], beside: dict[str | None, list[FindingView]]) -> Iterator[PlaceView]:
    """Yield the places in the order of the work, then what is joined at no place of the footwell."""
    used = job.places
    numbers = {place: n for n, place in enumerate(used, 1)}
    plugs: dict[str, dict[str, None]] = {}
    for joint in job.installation.joints:
        if joint.pin is not None:
            plug = plug_of(joint.pin)
            plugs.setdefault(job.car.plugs[plug].place, {})[plug] = None
    for place in used:
        found: Place = job.car.places[place]
        yield PlaceView(
            id=place, number=numbers[place], name=found.name, words=found.words, access=found.access, x=found.x,
            y=found.y, joints=_joints(job, wires, [j for j in job.ordered_joints if j.place == place]),
            plugs=tuple(_plug(job, wires, plug) for plug in plugs.get(place, ())),
            findings=tuple(beside.get(place, ())),
        )  # fmt: skip
    nowhere = [j for j in job.ordered_joints if j.place is None]
    if nowhere:
        yield PlaceView(
            id="beside", number=None, name=words.BESIDE, words=words.BESIDE_WORDS, access=(), x=0.0, y=0.0,
            joints=_joints(job, wires, nowhere), plugs=(), findings=(),
        )  # fmt: skip


def _joints(job: Job, wires: dict[str, Wire], joints: Iterable[Joint]) -> tuple[JointView, ...]:
    return tuple(_joint(job, wires, j) for j in joints)


def _joint(job: Job, wires: dict[str, Wire], joint: Joint) -> JointView:
    plug = job.plug(joint)
    standing = None if joint.circuit is None else job.car.standing[joint.circuit]
    part = next((p.name for p in job.kit.parts if joint.part is not None and p.id == joint.part.part), "")
    if plug is not None and joint.pin is not None:
        where = linked((plug.name, told(naming.PIN, pin=joint.pin.partition("/")[2])), ", ")
    elif joint.kind == "ground point":
        where = unstopped(next(g.words for g in job.car.grounds if joint.id.endswith(f"/{g.id}")))
    else:
        added = next(p for p in job.kit.added_parts if p.terminal == joint.terminal)
        where = unstopped(linked((added.name, added.place), ": "))
    return JointView(
        id=joint.id, label=joint.label, function=capital(joint.function), how=naming.JOINT[joint.kind], part=part,
        lead=wires[f"lead:{joint.id}"], wire=wires.get(f"pin:{joint.pin}"), where=where,
        name="" if joint.circuit is None else job.circuit_name(joint.circuit),
        standing="" if standing is None else naming.STANDING[standing.status],
        unproven=standing is not None and standing.status != "proven",
    )  # fmt: skip


def _plug(job: Job, wires: dict[str, Wire], plug: str) -> PlugView:
    found = job.car.plugs[plug]
    labels: dict[str, str] = {}
    for joint in job.installation.joints:
        if joint.pin is not None and plug_of(joint.pin) == plug:
            labels[joint.pin] = joint.label
    restraint = job.restraint_pins(plug)
    pins = []
    for row in found.face.rows:
        for pin in row:
            name = f"{plug}/{pin}"
            if pin is None or name not in job.car.pins:
                continue
            occupant = job.car.pins[name]
            pins.append(
                PinView(
                    pin=pin, name=job.circuit_name(occupant.circuit), colour=occupant.colour or "",
                    stripe=occupant.stripe, wire=None if pin in restraint else wires.get(f"pin:{name}"),
                    used_by=labels.get(name, ""), restraint=pin in restraint,
                )
            )  # fmt: skip
    marked = tuple(p.partition("/")[2] for p in labels if p in job.car.pins)
    return PlugView(
        id=plug, name=capital(found.name), look=found.look, face=plug_face(job, plug, marked), pins=tuple(pins)
    )


def _route(job: Job, route: Route) -> RouteView:
    trace = f"route:{route.task}"
    if route.joints:
        what = linked(
            (told("{label} ({colour})", label=j.label, colour=colour_words(j.colour, j.stripe)) for j in route.joints),
            ", ",
        )
    elif route.setting is not None:
        setting = next(s for s in job.kit.settings if s.id == route.setting[0])
        what = linked((setting.name, route.setting[1]), ": ")
    else:
        what = job.kit.vehicle_module.name if route.how == "bus" and job.kit.vehicle_module is not None else ""
    return RouteView(
        task=capital(route_function(route)), how=naming.HOW[route.how], with_what=what,
        why=job.lifted(route.why, trace), pinned=route.pinned or "", gated=route.gated or "",
        rejected=tuple(
            (naming.HOW[r.how], job.lifted(r.what, trace), job.lifted(r.fact, trace)) for r in route.rejected
        ),
    )  # fmt: skip


def _finding(job: Job, finding: Finding) -> FindingView:
    trace = f"finding:{finding.code}"
    when = ""
    if finding.state is not None:
        when = linked((naming.STAGE[finding.state.stage], state_words(finding.state)), ": ")
    return FindingView(
        severity=finding.severity, message=job.lifted(finding.message, trace), when=when,
        advice=job.lifted(finding.advice, trace), source=lifted(finding.source, trace),
    )  # fmt: skip


def _brought(job: Job, finding: Finding) -> FindingView:
    """Return a finding of the state that the page shows anyway: without the words for it."""
    message = finding.message
    if finding.state is not None:
        message = message.replace(f" with {state_words(finding.state)}", "", 1)
    return _finding(job, replace(finding, message=capital(message), state=None))


def _sense(sense: Sense) -> Text:
    volts = Quantity(value=sense.volts + 0.0, unit="V", trace=f"what-if:{sense.joint}", digits=1)
    if sense.reads == sense.sound_reads:
        return say(words.SENSE, function=sense.function, reads=words.READS[sense.reads], volts=volts)
    return say(
        words.SENSE_WRONG, function=sense.function, reads=words.READS[sense.reads], volts=volts,
        sound=words.READS[sense.sound_reads],
    )  # fmt: skip


def _blown(blown: Blown) -> Text:
    trace = f"what-if:{blown.element.id}"
    return say(
        words.BLOWN, what=lifted(capital(blown.element.origin.words), trace),
        current=Quantity(value=blown.current_a, unit="A", trace=trace, digits=0),
        time=Quantity(value=blown.within_s, unit="s", trace=trace, digits=1 if blown.within_s >= 1 else 2),
    )  # fmt: skip


def _place_of(job: Job, subject: str) -> str | None:
    """Return the place that a finding's subject is at: a joint or its parts, a circuit, a pin, a route, a terminal."""
    for joint in job.installation.joints:
        if subject == joint.id or subject.startswith(f"{joint.id}/"):
            return joint.place
    for joint in job.installation.joints:
        if subject in (joint.circuit, joint.terminal, joint.function, joint.label):
            return joint.place
    pin = subject.partition(":")[2] if subject.startswith(("c:", "t:")) else ""
    plug = job.car.plugs.get(plug_of(pin))
    if plug is not None:
        return plug.place
    circuit = subject.partition(":")[2].partition("/")[0] if subject.startswith("v:") else subject
    if circuit in job.car.circuits:
        pins = job.car.pins_of(circuit)
        return job.car.plugs[plug_of(pins[0])].place if pins else None
    return None


def joint_name(joint: Joint) -> str:
    """Return a joint as a list calls it: 'IGN, ignition'."""
    return told(naming.LEAD, label=joint.label, colour=joint.function)
