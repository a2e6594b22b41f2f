"""Whether the spread that a circuit's values are allowed can already move a verdict, with every fact as written."""

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

from loomwright.network.elements import Element, Netlist, Shape
from loomwright.network.expectations import Expectations
from loomwright.network.joining import joined_netlist
from loomwright.network.proof import prove_solved
from loomwright.network.results import Finding
from loomwright.network.solving import solve_stories
from loomwright.network.stories import stories_of
from loomwright.planning.installation import Installation

__all__ = ["CORNERS", "Corner", "at_corner", "findings_at"]

_LOADS = frozenset({"lamp", "resistor", "motor", "coil", "pull", "input"})
_WAYS = frozenset({"wire", "link", "joint", "fuse", "switch", "contact", "diode"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A sound car whose values lie at the ends of their ranges: which end, of its loads and of its wires."""

    loads: Literal["least", "most"]
    wires: Literal["least", "most"]


CORNERS = MappingProxyType({
    "the greatest load over the poorest wires": Corner(loads="most", wires="least"),
    "the smallest load over the best wires": Corner(loads="least", wires="most"),
})
"""The two in which a circuit is loaded hardest and least; conductances at the ends of their ranges."""


def at_corner(netlist: Netlist, circuit: str, corner: Corner) -> Netlist:
    """Return a netlist in which every value of one circuit of the car lies at an end of its range."""

    def moved(element: Element) -> Element:
        if element.origin.side != "vehicle" or element.origin.of != circuit:
            return element
        end = corner.loads if element.kind in _LOADS else corner.wires if element.kind in _WAYS else None
        if end is None:
            return element
        factor = element.high if end == "most" else element.low
        return replace(element, shape=_scaled(element.shape, factor))

    return Netlist.of([moved(e) for e in netlist.elements], netlist.joints_made)


def _scaled(shape: Shape, factor: float) -> Shape:
    return replace(shape, g=tuple(factor * g for g in shape.g), i0=tuple(factor * i for i in shape.i0))


def findings_at(
    plan: Installation, circuit: str, corner: Corner, expectations: Expectations | None = None
) -> tuple[Finding, ...]:
    """Return what the proof finds where one circuit lies at a corner of its spread."""
    solved = solve_stories(at_corner(joined_netlist(plan), circuit, corner), stories_of(plan))
    return prove_solved(plan, solved, expectations).findings
