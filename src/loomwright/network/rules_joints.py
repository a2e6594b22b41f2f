"""Rules of what was joined and set: each joint on the circuit it is meant for, each setting as its route needs it."""

from collections.abc import Iterator

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.kit import SettingChoice
from loomwright.network.elements import GROUND, Element, Netlist
from loomwright.network.joining import fuse_of
from loomwright.network.kit_side import lead_node
from loomwright.network.results import Finding
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Joint, Rejected
from loomwright.sentences import capital, listing, told

__all__ = ["check_carried", "check_joints", "check_pins", "check_settings"]

_FITTED = State(stage="fitted")
_CONDUCTORS = frozenset({"wire", "link", "joint"})


def check_joints(installation: Installation, netlist: Netlist) -> Iterator[Finding]:
    """Yield a finding for each joint that does not meet the circuit it is meant for, or is not made at all.

    Told from the netlist as built: from the kit's end of the joint over plug contacts, T wires and the circuit's own
    conductors, but over nothing of another circuit, some element of the circuit must be met. So a joint that works
    nothing in any state, such as a data wire's, is told as surely as one that starts the engine.
    """
    by_id = {e.id: e for e in netlist.elements}
    meets: dict[str, list[Element]] = {}
    for e in netlist.elements:
        meets.setdefault(e.a, []).append(e)
        meets.setdefault(e.b, []).append(e)
    count = netlist.joined(_FITTED)
    for joint in installation.joints:
        fuse, wanted = by_id.get(f"{joint.id}/fuse"), fuse_of(installation.kit, joint)
        if (None if fuse is None else fuse.fuse_a) != wanted:
            yield _wrong_fuse(joint, None if fuse is None else fuse.fuse_a, wanted)
        made = by_id.get(joint.id)
        if made is None or not made.conducts(_FITTED, count):
            yield _not_joined(joint)
        elif by_id[f"{joint.id}/lead"].a != lead_node(joint.terminal):
            yield _crossed(joint, by_id[f"{joint.id}/lead"])
        elif joint.circuit is not None and not _arrives(made.b, joint.circuit, meets, count):
            yield _missed(installation, joint, made.b)


def _arrives(start: str, circuit: str, meets: dict[str, list[Element]], joined: int) -> bool:
    seen, frontier = {start, GROUND}, [start]
    while frontier:
        for e in meets.get(frontier.pop(), ()):
            mine = e.origin.side == "vehicle" and e.origin.of == circuit
            if mine:
                return True
            # A plug's contact is nobody's wire, and a T carries on what it goes between.
            passes = e.id.startswith(("c:", "t:")) and e.kind in _CONDUCTORS and e.conducts(_FITTED, joined)
            for node in (e.a, e.b):
                if passes and node not in seen:
                    seen.add(node)
                    frontier.append(node)
    return False


def _not_joined(joint: Joint) -> Finding:
    return Finding(
        code="not-joined",
        severity="stop" if FUNCTIONS[joint.function].needed else "fix",
        subject=joint.id,
        message=told(
            "The kit's {function} conductor, {joint}, is joined to nothing.", function=joint.function, joint=joint.label
        ),
        state=None,
        path=(joint.id,),
        numbers=(),
        advice="Join it at the place that the guide names.",
        source="each conductor of the plan is joined",
    )


def _wrong_fuse(joint: Joint, fitted_a: float | None, wanted_a: float | None) -> Finding:
    found, wanted = ("no fuse" if a is None else told("a fuse of {a:.3g} A", a=a) for a in (fitted_a, wanted_a))
    return Finding(
        code="wrong-fuse",
        severity="fix",
        subject=f"{joint.id}/fuse",
        message=told(
            "{joint} has {found}; the kit document gives it {wanted}.", joint=joint.label, found=found, wanted=wanted
        ),
        state=None,
        path=(joint.id, f"{joint.id}/fuse"),
        numbers=(),
        advice="Fit what the kit document says: the wires behind it were sized for that.",
        source="fuses of the kit document",
    )


def _crossed(joint: Joint, lead: Element) -> Finding:
    return Finding(
        code="wrong-terminal",
        severity="stop" if FUNCTIONS[joint.function].needed else "fix",
        subject=joint.id,
        message=told(
            "{joint} sits in another place of the controller's plug than that of {function}.",
            joint=joint.label,
            function=joint.function,
        ),
        state=None,
        path=(joint.id, lead.id),
        numbers=(),
        advice=told("Move it to the place of the terminal {terminal}.", terminal=joint.terminal),
        source="each conductor of the plan begins at its terminal",
    )


def check_carried(installation: Installation, netlist: Netlist) -> Iterator[Finding]:
    """Yield a finding for each place of a plug that a T goes between and does not carry on as it should.

    A T carries every wire of its plug, also those that the kit has nothing to do with, except where the plan opens one.
    """
    opened = {j.pin for j in installation.joints if j.kind in ("T interrupted", "cut in")}
    by_id = {e.id: e for e in netlist.elements}
    for pin, occupant in installation.car.pins.items():
        if f"t:{pin}/harness" not in by_id or pin in opened:
            continue
        through = by_id.get(f"t:{pin}/through")
        if through is None or {through.a, through.b} != {f"t:{pin}:a", f"t:{pin}:b"}:
            yield Finding(
                code="not-carried",
                severity="stop",
                subject=occupant.circuit,
                message=told(
                    "The T does not carry {pin} on, where {name} sits.",
                    pin=pin,
                    name=_name(installation, occupant.circuit),
                ),
                state=None,
                path=(f"t:{pin}/harness", f"t:{pin}/part"),
                numbers=(),
                advice="Fit the through wire between the two places of that number, and ring out the whole T.",
                source="a T carries every wire of the plug it goes between",
            )


def _missed(installation: Installation, joint: Joint, node: str) -> Finding:
    car = installation.car
    circuit = car.circuits[joint.circuit or ""]
    landed = node.removeprefix("c:").removeprefix("t:").rpartition(":")[0]
    other = car.pins.get(landed)
    there = "" if other is None else told(", where {name} sits", name=_name(installation, other.circuit))
    right = listing(car.pins_of(circuit.id), "or") or "the circuit"
    return Finding(
        code="misses-circuit",
        severity="stop" if FUNCTIONS[joint.function].needed else "fix",
        subject=joint.id,
        message=told(
            "{joint} is meant for {name}, but is joined at {landed}{there}.",
            joint=joint.label,
            name=_name(installation, circuit.id),
            landed=landed,
            there=there,
        ),
        state=None,
        path=(joint.id,) if other is None else (joint.id, *(f"c:{p}" for p in car.pins_of(other.circuit)[:1])),
        numbers=(),
        advice=told("Join it at {right}.", right=right),
        source="each conductor of the plan is joined to its circuit",
    )


def _name(installation: Installation, circuit: str) -> str:
    c = installation.car.circuits[circuit]
    return c.name or c.function


def check_settings(installation: Installation) -> Iterator[Finding]:
    """Yield a finding for each setting that stands otherwise than a route of the plan needs it.

    A route may be served by a setting's value; and a value may need a function that is joined, or that is joined by
    wire or over the bus, as the value says.
    """
    chosen = dict(installation.settings)
    wanted = {r.setting[0]: r for r in installation.routes if r.setting is not None}
    joined = {str(r.function): "bus" if r.how == "bus" else "wire" for r in installation.routes if r.how != "setting"}
    for setting in installation.kit.settings:
        value = chosen.get(setting.id, setting.default)
        choice = next((c for c in setting.choices if c.value == value), None)
        route = wanted.get(setting.id)
        if route is not None and route.setting is not None and route.setting[1] != value:
            function, right = str(route.function), route.setting[1]
        elif route is None and choice is not None and not _goes(choice, joined):
            function = str(choice.needs or choice.serves)
            right = " or ".join(repr(c.value) for c in setting.choices if _goes(c, joined))
        else:
            continue
        yield Finding(
            code="setting-misfits",
            severity="stop" if FUNCTIONS[function].needed else "fix",
            subject=setting.id,
            message=told(
                "{setting} stands at {value!r}, which does not go with how {function} is served here.",
                setting=setting.name,
                value=value,
                function=function,
            ),
            state=None,
            path=(setting.id,),
            numbers=(),
            advice=told("Set it to {right}.", right=right) if right else "Serve the function that this value needs.",
            source=told("{controller}: settings of the kit document", controller=installation.kit.controller.name),
        )


def _goes(choice: SettingChoice, joined: dict[str, str]) -> bool:
    if choice.serves is not None and choice.serves in joined:
        return False
    if choice.needs is None:
        return True
    way = joined.get(choice.needs)
    return way is not None and (choice.value not in ("bus", "wire") or choice.value == way)


def check_pins(installation: Installation) -> Iterator[Finding]:
    """Yield a finding for each route that the builder pinned and the planner could not take."""
    told: set[tuple[str, str]] = set()
    served = [(r.task, r.rejected, True) for r in installation.routes]
    missing = [(u.task, u.rejected, False) for u in installation.unserved]
    for task, rejected, is_served in (*served, *missing):
        for one in rejected:
            if one.pinned and (task, one.fact) not in told:
                told.add((task, one.fact))
                yield _overruled(task, one, is_served=is_served)


def _overruled(task: str, rejected: Rejected, *, is_served: bool) -> Finding:
    return Finding(
        code="pin-overruled",
        severity="note" if is_served else "fix",
        subject=task,
        message=told("{what} is not taken. {fact}", what=capital(rejected.what), fact=rejected.fact),
        state=None,
        path=(),
        numbers=(),
        advice="Take the pin out of the shop document, or change what stands against it.",
        source="routes pinned in the shop document",
    )
