"""Kit and car joined to one netlist, with every joint conducting from the fitting action that makes it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from loomwright.documents.car import Car
from loomwright.documents.kit import Branch, Kit
from loomwright.network.ampacity import ampacity_a
from loomwright.network.copper import resistance_ohm_per_m
from loomwright.network.elements import GROUND, Element, Kind, Netlist, Origin, Shape, When, line
from loomwright.network.fitting_order import FitAction, action_of, fitting_order
from loomwright.network.kit_side import controller_elements, cutting_elements, lead_node, part_elements, terminal_node
from loomwright.network.paths import fuse_ohm, pin_nodes
from loomwright.network.shapes import CONTACT_OHM, LINK_OHM, METER_S, SPREAD, TEST_LAMP_A, joint_ohm, lamp_shape
from loomwright.network.vehicle_side import vehicle_elements
from loomwright.planning.installation import CUTTING, Installation, Joint
from loomwright.sentences import told

__all__ = ["LAMP", "METER", "T_THROUGH_M", "bare_netlist", "fuse_of", "joined_netlist", "with_probes"]

T_THROUGH_M = 0.25
"""Length of each through wire of a T-harness [m]; common practice, a hand's breadth or two."""

METER = "meter:"
LAMP = "lamp:"


def _joint(
    name: str, of: str, a: str, b: str, area_mm2: float, when: tuple[When, ...], rating_a: float | None = None
) -> Element:
    low, high = SPREAD["joint"]
    return Element(
        id=name, kind="joint", a=a, b=b, shape=line(1.0 / joint_ohm(area_mm2)), when=when, low=low, high=high,
        rating_a=rating_a, origin=Origin(side="joint", of=of, words="joint"),
    )  # fmt: skip


def _wire(name: str, of: str, a: str, b: str, area_mm2: float, length_m: float, words: str) -> Element:
    low, high = SPREAD["wire"]
    return Element(
        id=name, kind="wire", a=a, b=b, shape=line(1.0 / (resistance_ohm_per_m(area_mm2) * length_m)),
        area_mm2=area_mm2, rating_a=ampacity_a(area_mm2), low=low, high=high,
        origin=Origin(side="kit", of=of, words=words),
    )  # fmt: skip


def _pins_between_two_nodes(car: Car, elements: Sequence[Element]) -> tuple[str, ...]:
    used = {n for e in elements for n in (e.a, e.b)}
    return tuple(pin for pin in car.pins if set(pin_nodes(pin)) <= used)


def _stub(pin: str) -> str:
    """Return the node of the short end that stays in the plug where the wire is cut beside it."""
    return f"c:{pin}:stub"


def _stock_joints(
    car: Car, pins: Sequence[str], opened: Mapping[str, int], cut: Mapping[str, int]
) -> Iterator[Element]:
    """Yield each mated pin of the car as built; one that a T goes between opens when the T is plugged in.

    A wire that is cut beside its plug conducts from wire to stub until then.
    """
    for pin in pins:
        h, m = pin_nodes(pin)
        if pin in cut:
            uncut = _joint(f"c:{pin}/uncut", pin, h, _stub(pin), car.pins[pin].area_mm2 or 0.5, ())
            yield replace(uncut, kind="link", shape=line(1.0 / LINK_OHM), when=(When(joined_below=cut[pin]),))
            h = _stub(pin)
        when = (When(joined_below=opened[pin]),) if pin in opened else (When(),)
        yield _joint(f"c:{pin}", pin, h, m, car.pins[pin].area_mm2 or 0.5, when)


def _t_elements(branch: Branch, pin: str, number: int, joints: Sequence[Joint], *, cut: bool) -> Iterator[Element]:
    h, m = pin_nodes(pin)
    h = _stub(pin) if cut else h
    a, b = f"t:{pin}:a", f"t:{pin}:b"
    made = (When(joined_from=number),)
    yield _joint(f"t:{pin}/harness", pin, h, a, branch.through_mm2, made, branch.rating_a)
    yield _joint(f"t:{pin}/part", pin, b, m, branch.through_mm2, made, branch.rating_a)
    if not any(j.kind == "T interrupted" for j in joints):
        yield _wire(
            f"t:{pin}/through",
            branch.id,
            a,
            b,
            branch.through_mm2,
            T_THROUGH_M,
            told("{branch} through", branch=branch.label),
        )


def _opened_ends(joint: Joint) -> tuple[str, str]:
    """Return the two ends of an opened vehicle wire: the one of the factory's own signal, and the one to drive."""
    if joint.pin is None:
        raise ValueError(f"{joint.id} names no pin")
    harness, plug = pin_nodes(joint.pin)[0], _stub(joint.pin)
    if joint.kind == "T interrupted":
        harness, plug = f"t:{joint.pin}:a", f"t:{joint.pin}:b"
    return (plug, harness) if joint.factory_side == "plug side" else (harness, plug)


def _car_end(joint: Joint) -> str:
    if joint.factory_side is not None:
        return _opened_ends(joint)[1]
    if joint.kind == "ground point":
        return GROUND
    if joint.kind == "added part":
        return f"added:{joint.id}"
    if joint.pin is None:
        raise ValueError(f"{joint.id} names no pin")
    return f"t:{joint.pin}:a" if joint.kind.startswith("T ") else pin_nodes(joint.pin)[0]


def fuse_of(kit: Kit, joint: Joint) -> float | None:
    """Return the fuse in a lead: the one its conductor has for itself, else that of its terminal; None without one."""
    conductors = [c for b in kit.branches if b.id == joint.branch for c in b.conductors]
    own = next((c.fuse_a for c in conductors if c.terminal == joint.terminal), None)
    return own or next(t.fuse_a for t in kit.controller.terminals if t.id == joint.terminal)


def _joint_elements(kit: Kit, joint: Joint, number: int) -> Iterator[Element]:
    """Yield lead, in-line fuse, interface part and joint of one meeting of kit and car."""
    terminal = next(t for t in kit.controller.terminals if t.id == joint.terminal)
    colour = f"{joint.colour}/{joint.stripe}" if joint.stripe else joint.colour
    far = f"{joint.id}:far"
    near = lead_node(terminal.id)
    yield _wire(f"{joint.id}/lead", joint.id, near, far, joint.area_mm2, joint.length_m, f"{joint.label} {colour}")
    at = far
    fuse_a = fuse_of(kit, joint)
    if fuse_a is not None:
        at = f"{joint.id}:fused"
        low, high = SPREAD["fuse"]
        yield Element(
            id=f"{joint.id}/fuse", kind="fuse", a=at, b=far, shape=line(1.0 / fuse_ohm(fuse_a)), low=low, high=high,
            fuse_a=fuse_a, origin=Origin(side="kit", of=joint.id, words=told("kit fuse {fuse_a:g} A", fuse_a=fuse_a)),
        )  # fmt: skip
    if joint.part is not None and joint.part.pattern in CUTTING:
        # A diode's band end is where the kit's conductor is joined; a relay has an end of its own there.
        driven = at if joint.part.pattern == "diode cuts in" else f"{joint.id}:driven"
        yield from cutting_elements(kit, joint, at, f"{joint.id}:factory", driven)
        made = (When(joined_from=number),)
        factory = _opened_ends(joint)[0]
        yield _joint(f"{joint.id}/factory", joint.id, f"{joint.id}:factory", factory, joint.area_mm2, made)
        at = driven
    elif joint.part is not None:
        yield from part_elements(kit, joint, at, f"{joint.id}:part")
        at = f"{joint.id}:part"
    car_end = _car_end(joint)
    rating = branch.rating_a if (branch := next((b for b in kit.branches if b.id == joint.branch), None)) else None
    yield _joint(joint.id, joint.id, at, car_end, joint.area_mm2, (When(joined_from=number),), rating)
    if joint.kind == "added part":
        low, high = SPREAD["switch"]
        added = next(p for p in kit.added_parts if p.terminal == terminal.id)
        yield Element(
            id=f"added:{added.id}", kind="switch", a=car_end, b=GROUND, shape=line(1.0 / CONTACT_OHM),
            when=(When.of_condition(added.closed_when),), low=low, high=high,
            origin=Origin(side="kit", of=joint.id, words=added.name),
        )  # fmt: skip


def _kit_elements(installation: Installation, order: tuple[FitAction, ...]) -> Iterator[Element]:
    car, kit = installation.car, installation.kit
    last = len(order)
    yield from controller_elements(kit)
    used = {j.terminal: j for j in installation.joints}
    plugged = (When(joined_from=last, not_stage="kit dead"),)
    for terminal in kit.controller.terminals:
        if terminal.id in used:
            name = f"k:{terminal.plug}/{terminal.pin}"
            area = used[terminal.id].area_mm2
            yield _joint(name, terminal.id, terminal_node(terminal.id), lead_node(terminal.id), area, plugged)
    branches = {b.id: b for b in kit.branches}
    for joint in installation.joints:
        yield from _joint_elements(kit, joint, action_of(order, joint.id))
    for number, action in enumerate(order, 1):
        if action.kind != "T" or action.branch is None:
            continue
        branch = branches[action.branch]
        cut = _cut_pins(installation, order)
        for pin in _t_pins(car, action):
            here = [j for j in action.joints if j.pin == pin]
            yield from _t_elements(branch, pin, number, here, cut=pin in cut)


def _cut_pins(installation: Installation, order: tuple[FitAction, ...]) -> Mapping[str, int]:
    """Return the pins beside which a vehicle wire is cut, with the number of the action that does it."""
    return {j.pin: action_of(order, j.id) for j in installation.joints if j.kind == "cut in" and j.pin is not None}


def _t_pins(car: Car, action: FitAction) -> tuple[str, ...]:
    """Return every occupied pin of the plug a T goes between: a T carries them all."""
    plugs = {j.pin.partition("/")[0] for j in action.joints if j.pin is not None}
    return tuple(pin for pin in car.pins if pin.partition("/")[0] in plugs)


def bare_netlist(car: Car) -> Netlist:
    """Return the untouched car."""
    elements = list(vehicle_elements(car))
    elements += _stock_joints(car, _pins_between_two_nodes(car, elements), {}, {})
    return Netlist.of(elements, 0)


def joined_netlist(installation: Installation) -> Netlist:
    """Return car and kit as one netlist; which joints conduct follows from the state's stage."""
    order = fitting_order(installation)
    opened = {
        pin: number
        for number, action in enumerate(order, 1)
        if action.kind == "T"
        for pin in _t_pins(installation.car, action)
    }
    car, cut = installation.car, _cut_pins(installation, order)
    elements = list(vehicle_elements(car))
    elements += _stock_joints(car, _pins_between_two_nodes(car, elements), opened, cut)
    elements += _kit_elements(installation, order)
    return Netlist.of(elements, len(order))


def with_probes(netlist: Netlist, points: Sequence[str]) -> Netlist:
    """Return the netlist with a meter and a test lamp from each point to battery negative, all lifted off.

    A lane that uses one sets its scale; lifted off it conducts next to nothing. Both end at the reference, so they add
    no fill to the elimination.
    """
    extra: list[Element] = []
    tools: tuple[tuple[str, Kind, Shape], ...] = (
        (METER, "meter", line(METER_S)),
        (LAMP, "test lamp", lamp_shape(TEST_LAMP_A)),
    )
    for point in points:
        for prefix, kind, shape in tools:
            low, high = SPREAD[kind]
            extra.append(
                Element(
                    id=prefix + point,
                    kind=kind,
                    a=point,
                    b=GROUND,
                    shape=shape,
                    when=(),
                    low=low,
                    high=high,
                    origin=Origin(side="tool", of=point, words=kind),
                )
            )
    return Netlist.of([*netlist.elements, *extra], netlist.joints_made)
