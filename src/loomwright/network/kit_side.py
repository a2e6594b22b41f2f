"""The kit as elements: what stands behind each controller terminal, and the interface parts of a route."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.kit import Kit, Terminal
from loomwright.network.elements import ALWAYS, GROUND, Element, Kind, Origin, Shape, When, line
from loomwright.network.paths import fuse_ohm
from loomwright.network.shapes import (
    COIL_DROP_OUT,
    COIL_PULL_IN,
    CONTACT_OHM,
    LOAD_V,
    SPREAD,
    diode_shape,
    driver_shape,
)
from loomwright.planning.installation import Joint
from loomwright.sentences import told

__all__ = [
    "controller_elements", "cutting_elements", "kit_ground", "lead_node", "part_elements", "supply_node",
    "terminal_node",
]  # fmt: skip

_INPUT_OHM = 47_000.0
_PULL_UP_OHM = 10_000.0
_PULSE_OHM = 100_000.0
_HIGH_SIDE_OHM = 0.1
_LOW_SIDE_OHM = 2.0
# Input and driver resistances where the kit document states none: common practice for controller electronics.


def terminal_node(terminal: str) -> str:
    """Return the node inside the controller behind one of its pins."""
    return f"k:{terminal}"


def supply_node(terminal: str) -> str:
    """Return the node a power input feeds inside the controller; its fuse sits in the lead, at the joint."""
    return f"k:{terminal}"


def lead_node(terminal: str) -> str:
    """Return the node at the harness side of a controller pin."""
    return f"k:{terminal}:lead"


def kit_ground(kit: Kit) -> str:
    """Return the controller's ground node."""
    ground = next((t for t in kit.controller.terminals if t.kind == "ground"), None)
    return GROUND if ground is None else terminal_node(ground.id)


def _first_supply(kit: Kit) -> str:
    feed = next(t for t in kit.controller.terminals if t.kind == "power in")
    return supply_node(feed.id)


def _make(
    terminal: Terminal, name: str, kind: Kind, a: str, b: str, shape: Shape, when: tuple[When, ...] = ALWAYS,
    rating_a: float | None = None,
) -> Element:  # fmt: skip
    low, high = SPREAD[kind]
    return Element(
        id=f"k:{terminal.id}/{name}", kind=kind, a=a, b=b, shape=shape, when=when, low=low, high=high,
        rating_a=rating_a, origin=Origin(side="kit", of=terminal.id, words=f"{terminal.id} {name}"),
    )  # fmt: skip


def _commanded(terminal: Terminal) -> tuple[When, ...]:
    return (When(command=terminal.function, not_stage="kit dead"),)


def _power_in(kit: Kit, t: Terminal) -> Iterator[Element]:
    if t.standing_a > 0:
        yield _make(t, "sleeping", "resistor", terminal_node(t.id), kit_ground(kit), line(t.standing_a / LOAD_V))


def _relay_output(kit: Kit, t: Terminal) -> Iterator[Element]:
    feed = supply_node(t.fed_from) if t.fed_from else _first_supply(kit)
    yield _make(
        t, "contact", "contact", feed, terminal_node(t.id), line(1.0 / CONTACT_OHM), _commanded(t), rating_a=t.rating_a
    )


def _positive_output(kit: Kit, t: Terminal) -> Iterator[Element]:
    feed = supply_node(t.fed_from) if t.fed_from else _first_supply(kit)
    shape = driver_shape(t.rating_a, t.resistance_ohm or _HIGH_SIDE_OHM)
    yield _make(t, "driver", "driver", feed, terminal_node(t.id), shape, _commanded(t), rating_a=t.rating_a)


def _negative_output(kit: Kit, t: Terminal) -> Iterator[Element]:
    shape = driver_shape(t.rating_a, t.resistance_ohm or _LOW_SIDE_OHM)
    yield _make(t, "driver", "driver", terminal_node(t.id), kit_ground(kit), shape, _commanded(t), rating_a=t.rating_a)


def _positive_input(kit: Kit, t: Terminal) -> Iterator[Element]:
    ohm = t.resistance_ohm or _INPUT_OHM
    yield _make(t, "input", "input", terminal_node(t.id), kit_ground(kit), line(1.0 / ohm))


def _negative_input(kit: Kit, t: Terminal) -> Iterator[Element]:
    # A diode keeps the pull-up from feeding the car's wire when the kit is dead or the wire stands higher.
    middle = f"k:{t.id}:pull-up"
    yield _make(t, "pull-up", "pull", _first_supply(kit), middle, line(1.0 / (t.resistance_ohm or _PULL_UP_OHM)))
    yield _make(t, "diode", "diode", middle, terminal_node(t.id), diode_shape(1.0))


def _pulse_input(kit: Kit, t: Terminal) -> Iterator[Element]:
    ohm = t.resistance_ohm or _PULSE_OHM
    yield _make(t, "input", "input", terminal_node(t.id), kit_ground(kit), line(1.0 / ohm))


def _nothing(_kit: Kit, _t: Terminal) -> Iterator[Element]:
    yield from ()


_TERMINALS: Mapping[str, Callable[[Kit, Terminal], Iterator[Element]]] = MappingProxyType(
    {
        "power in": _power_in,
        "ground": _nothing,
        "relay output": _relay_output,
        "positive output": _positive_output,
        "negative output": _negative_output,
        "positive input": _positive_input,
        "negative input": _negative_input,
        "pulse input": _pulse_input,
        "data port": _pulse_input,
    }
)


def controller_elements(kit: Kit) -> Iterator[Element]:
    """Yield what stands behind every terminal of the controller."""
    for terminal in kit.controller.terminals:
        yield from _TERMINALS[terminal.kind](kit, terminal)


def _relay(
    kit: Kit, joint: Joint, coil: tuple[str, str], contact: tuple[str, str], resting: tuple[str, str] | None = None
) -> Iterator[Element]:
    """Yield coil, its diode and the contact; `resting` are the ends of the contact that is closed at rest."""
    use = joint.part
    if use is None:
        raise ValueError(f"{joint.id} uses no part")
    part = next(p for p in kit.parts if p.id == use.part)
    ohm = part.coil_ohm or 85.0
    origin = Origin(side="joint", of=joint.id, words=part.name)
    low, high = SPREAD["coil"]
    yield Element(
        id=f"{use.id}/coil", kind="coil", a=coil[0], b=coil[1], shape=line(1.0 / ohm), origin=origin,
        pull_in_a=COIL_PULL_IN * LOAD_V / ohm, drop_out_a=COIL_DROP_OUT * LOAD_V / ohm, low=low, high=high,
    )  # fmt: skip
    # The diode across the coil lets its current die away; it faces backwards in every steady state.
    diode_low, diode_high = SPREAD["diode"]
    yield Element(
        id=f"{use.id}/coil-diode", kind="diode", a=coil[1], b=coil[0], shape=diode_shape(1.0), origin=origin,
        low=diode_low, high=diode_high,
    )  # fmt: skip
    if part.fuse_a is not None and use.fed_from and contact[0] == lead_node(use.fed_from):
        fused = f"{use.id}:fused"
        low, high = SPREAD["fuse"]
        yield Element(
            id=f"{use.id}/fuse", kind="fuse", a=contact[0], b=fused, shape=line(1.0 / fuse_ohm(part.fuse_a)),
            origin=Origin(side="joint", of=joint.id, words=told(
                "fuse {fuse_a:g} A of the relay", fuse_a=part.fuse_a,
            )), low=low, high=high,
            fuse_a=part.fuse_a,
        )  # fmt: skip
        contact = (fused, contact[1])
    low, high = SPREAD["contact"]
    yield Element(
        id=f"{use.id}/contact", kind="contact", a=contact[0], b=contact[1], shape=line(1.0 / CONTACT_OHM),
        origin=origin, coil=f"{use.id}/coil", low=low, high=high, rating_a=part.rating_a,
    )  # fmt: skip
    if resting is not None:
        yield Element(
            id=f"{use.id}/resting-contact", kind="contact", a=resting[0], b=resting[1], shape=line(1.0 / CONTACT_OHM),
            origin=origin, coil=f"{use.id}/coil", closed_when_pulled_in=False, low=low, high=high,
            rating_a=part.rating_a,
        )  # fmt: skip


def _terminal(kit: Kit, joint: Joint) -> Terminal:
    return next(t for t in kit.controller.terminals if t.id == joint.terminal)


def cutting_elements(kit: Kit, joint: Joint, kit_end: str, factory: str, driven: str) -> Iterator[Element]:
    """Yield the interface part that stands in an opened vehicle wire, between its factory end and its driven end.

    A diode's driven end is `kit_end` itself: the kit's conductor is joined there.
    """
    use = joint.part
    if use is None:
        raise ValueError(f"{joint.id} uses no part")
    if use.pattern == "diode cuts in":
        yield from _series(kit, joint, factory, driven)
        return
    feed = lead_node(use.fed_from or "")
    coil = (feed, kit_end) if _terminal(kit, joint).kind == "negative output" else (kit_end, kit_ground(kit))
    yield from _relay(kit, joint, coil, (feed, driven), resting=(factory, driven))


def _series(kit: Kit, joint: Joint, a: str, b: str) -> Iterator[Element]:
    """Yield a diode from a to b or a resistor between them."""
    use = joint.part
    if use is None:
        raise ValueError(f"{joint.id} uses no part")
    part = next(p for p in kit.parts if p.id == use.part)
    kind: Kind = "resistor" if use.pattern == "resistor" else "diode"
    # A resistor of the E24 series keeps to 5 % (IEC 60063); what loads are allowed is for loads.
    low, high = (1.0 / 1.05, 1.0 / 0.95) if kind == "resistor" else SPREAD[kind]
    shape = diode_shape(part.rating_a) if kind == "diode" else line(1.0 / (part.resistance_ohm or 1.0))
    yield Element(
        id=use.id, kind=kind, a=a, b=b, shape=shape, rating_a=part.rating_a,
        origin=Origin(side="joint", of=joint.id, words=part.name), low=low, high=high,
    )  # fmt: skip


def part_elements(kit: Kit, joint: Joint, kit_end: str, car_end: str) -> Iterator[Element]:
    """Yield the interface part of a joint between the kit's conductor and the joint on the vehicle wire."""
    use = joint.part
    if use is None:
        return
    feed = lead_node(use.fed_from) if use.fed_from else ""
    ground = kit_ground(kit)
    if use.pattern == "relay inverts":
        yield from _relay(kit, joint, (feed, kit_end), (feed, car_end))
    elif use.pattern == "relay boosts":
        yield from _relay(kit, joint, (kit_end, ground), (feed, car_end))
    elif use.pattern == "relay grounds":
        # A negative output pulls the coil down from a feed; a positive one lifts it from ground.
        coil = (feed, kit_end) if use.fed_from else (kit_end, ground)
        yield from _relay(kit, joint, coil, (car_end, ground))
    else:
        if use.pattern == "diode" and _terminal(kit, joint).kind == "negative output":
            kit_end, car_end = car_end, kit_end  # the band points to what pulls down
        yield from _series(kit, joint, kit_end, car_end)
