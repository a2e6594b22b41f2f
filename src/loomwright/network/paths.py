"""A circuit's path as elements: wires between pins and splices, fuses, switches and links inside parts."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from loomwright.documents.vehicle import Circuit, Segment
from loomwright.network.ampacity import ampacity_a
from loomwright.network.copper import resistance_ohm_per_m
from loomwright.network.elements import GROUND, Element, Origin, When, line
from loomwright.network.fuses import hot_resistance_ohm
from loomwright.network.shapes import CONTACT_OHM, LINK_OHM, SPREAD
from loomwright.sentences import told

__all__ = ["BATTERY", "end_node", "ends_of", "fuse_ohm", "path_elements", "pin_nodes", "pin_sides"]

BATTERY = "batt+"


def fuse_ohm(rating_a: float) -> float:
    """Return the resistance of a blade fuse at its rated current [ohm]."""
    return hot_resistance_ohm(rating_a)


def pin_nodes(pin: str) -> tuple[str, str]:
    """Return the harness-side and the module-side node of 'plug/pin'."""
    return f"c:{pin}:h", f"c:{pin}:m"


def end_node(circuit: Circuit, end: str) -> str:
    """Return the node of a path end that is not a pin."""
    if end == "ground":
        return GROUND
    if end.startswith("s:"):
        return f"s:{circuit.id}/{end[2:]}"
    return f"e:{circuit.id}/{end}"


def pin_sides(circuit: Circuit) -> Mapping[tuple[int, str], str]:
    """Return which side of a pin each step of the path meets: {(step, pin): 'h' or 'm'}.

    A wire ends at the harness side and everything inside a part at the module side. Between two harnesses both steps
    are wires: the one nearer the source keeps the harness side, the other gets the mate's side.
    """
    wires: dict[str, int] = {}
    inside: set[str] = set()
    for segment in circuit.path:
        for end in (segment.from_, segment.to):
            if "/" in end:
                if segment.colour is None:
                    inside.add(end)
                else:
                    wires[end] = wires.get(end, 0) + 1
    sides: dict[tuple[int, str], str] = {}
    met: set[str] = set()
    for step, segment in enumerate(circuit.path):
        for end in (segment.from_, segment.to):
            if "/" not in end:
                continue
            if segment.colour is None or (end in met and end not in inside):
                sides[step, end] = "m"
            else:
                sides[step, end] = "h"
                met.add(end)
    return MappingProxyType(sides)


def ends_of(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """Return the two nodes of each step of the path."""
    sides = pin_sides(circuit)

    def node(step: int, end: str) -> str:
        return f"c:{end}:{sides[step, end]}" if "/" in end else end_node(circuit, end)

    return tuple((node(i, s.from_), node(i, s.to)) for i, s in enumerate(circuit.path))


def _step_element(circuit: Circuit, step: int, segment: Segment, a: str, b: str) -> Element:
    name = f"v:{circuit.id}/{segment.from_}~{segment.to}"
    if segment.fuse_a is not None:
        low, high = SPREAD["fuse"]
        return Element(
            id=name, kind="fuse", a=a, b=b, shape=line(1.0 / fuse_ohm(segment.fuse_a)), fuse_a=segment.fuse_a,
            origin=Origin(side="vehicle", of=circuit.id, step=step, words=told(
                "{fuse_a:g} A fuse", fuse_a=segment.fuse_a,
            )),
            low=low, high=high,
        )  # fmt: skip
    if segment.closed_when is not None:
        low, high = SPREAD["switch"]
        return Element(
            id=name, kind="switch", a=a, b=b, shape=line(1.0 / CONTACT_OHM),
            origin=Origin(side="vehicle", of=circuit.id, step=step, words=segment.switch or segment.closed_when),
            when=(When.of_condition(segment.closed_when),), low=low, high=high,
        )  # fmt: skip
    if segment.colour is not None:
        low, high = SPREAD["wire"]
        colour = f"{segment.colour}/{segment.stripe}" if segment.stripe else segment.colour
        ohm = resistance_ohm_per_m(segment.area_mm2) * segment.length_m
        return Element(
            id=name, kind="wire", a=a, b=b, shape=line(1.0 / ohm), area_mm2=segment.area_mm2,
            rating_a=ampacity_a(segment.area_mm2),
            origin=Origin(side="vehicle", of=circuit.id, step=step, words=told(
                "{colour} wire", colour=colour,
            )), low=low, high=high,
        )  # fmt: skip
    low, high = SPREAD["link"]
    return Element(
        id=name, kind="link", a=a, b=b, shape=line(1.0 / LINK_OHM),
        origin=Origin(side="vehicle", of=circuit.id, step=step, words="inside the part"), low=low, high=high,
    )  # fmt: skip


def path_elements(circuit: Circuit) -> Iterator[Element]:
    """Yield one element for each step of a circuit's path, in path order."""
    for step, (segment, (a, b)) in enumerate(zip(circuit.path, ends_of(circuit), strict=True)):
        yield _step_element(circuit, step, segment, a, b)
