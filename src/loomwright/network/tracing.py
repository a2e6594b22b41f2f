"""Where a reading comes from: the elements between its point and the battery, with what each takes of the voltage."""

import heapq
from dataclasses import dataclass
from itertools import count
from typing import Literal

import numpy as np

from loomwright.documents.reading import Loaded, Origin
from loomwright.documents.vehicle import Vehicle
from loomwright.network.branches import OPEN_RATIO
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Element
from loomwright.network.joining import METER, joined_netlist, with_probes
from loomwright.network.results import Reading
from loomwright.network.solver import solve
from loomwright.network.solving import Solved, current_path
from loomwright.planning.installation import Installation

__all__ = ["Hop", "Trace", "origin_of", "trace_reading"]

_ARRIVES_A = 1e-7
"""Less than what a meter takes at one volt brings no voltage to a point [A]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hop:
    """One element of the way: its ends in the direction of the way, the voltage of each [V] and its current [A]."""

    element: Element
    start: str
    end: str
    start_v: float
    end_v: float
    current_a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """A reading with its way: 'fed' from a source to the point, or 'held' from the point to battery negative."""

    reading: Reading
    kind: Literal["fed", "held"]
    hops: tuple[Hop, ...]


def trace_reading(installation: Installation, reading: Reading, battery_v: float) -> Trace:
    """Return the way along which a reading comes about, with every value at its middle and the meter on the point.

    Where current arrives it is the way of most current from a source; where none does, the way of least resistance
    that holds the point to battery negative, empty where nothing holds it.
    """
    probed = [reading.node] if reading.node != GROUND else []
    netlist = with_probes(joined_netlist(installation), probed)
    compiled = compile_netlist(netlist)
    state = reading.band.state
    scale = scale_of(netlist, [state])
    if probed and reading.clip == "battery negative":
        scale[compiled.element[METER + reading.node]] = 1.0
    found = solve(compiled.branches, scale, emf_of(compiled, battery_v))
    solved = Solved(
        compiled=compiled, states=(state,), story_of=(reading.id,), voltage=found.voltage, current=found.current,
        latched=found.latched, outcome=(int(found.outcome[0]),), residual=0.0, points=1,
    )  # fmt: skip
    way = [compiled.element[name] for name in current_path(solved, reading.node, 0)]
    if way and float(np.abs(found.current[way[-1], 0])) > _ARRIVES_A and solved.volts(reading.node, 0) > 0.05:
        return Trace(reading=reading, kind="fed", hops=_hops(solved, way, reading.node, from_point=False))
    return Trace(
        reading=reading, kind="held", hops=_hops(solved, _to_ground(solved, scale[:, 0], reading.node), reading.node)
    )


def _hops(solved: Solved, way: list[int], point: str, *, from_point: bool = True) -> tuple[Hop, ...]:
    """Return the elements of a way that begins, or ends, at a point."""
    hops: list[Hop] = []
    at = point
    for i in way if from_point else reversed(way):
        e = solved.compiled.netlist.elements[i]
        other = e.b if e.a == at else e.a
        start, end = (at, other) if from_point else (other, at)
        hops.append(
            Hop(
                element=e, start=start, end=end, start_v=solved.volts(start, 0), end_v=solved.volts(end, 0),
                current_a=float(solved.current[i, 0]) * (1.0 if start == e.a else -1.0),
            )
        )  # fmt: skip
        at = other
    return tuple(hops if from_point else reversed(hops))


def _to_ground(solved: Solved, scale: np.ndarray[tuple[int], np.dtype[np.float64]], point: str) -> list[int]:
    """Return the way of least resistance from a point to battery negative, by Dijkstra's rule; sources do not count."""
    meets: dict[str, list[tuple[int, str, float]]] = {}
    for i, e in enumerate(solved.compiled.netlist.elements):
        conductance = float(scale[i]) * max(e.shape.g)
        if scale[i] > OPEN_RATIO and e.kind not in ("battery", "alternator", "meter") and e.coil is None:
            meets.setdefault(e.a, []).append((i, e.b, 1.0 / conductance))
            meets.setdefault(e.b, []).append((i, e.a, 1.0 / conductance))
    best: dict[str, float] = {point: 0.0}
    came: dict[str, tuple[str, int]] = {}
    order = count()
    queue = [(0.0, next(order), point)]
    while queue:
        ohm, _, node = heapq.heappop(queue)
        if node == GROUND:
            break
        for i, other, more in meets.get(node, ()):
            if ohm + more < best.get(other, float("inf")):
                best[other] = ohm + more
                came[other] = (node, i)
                heapq.heappush(queue, (ohm + more, next(order), other))
    way: list[int] = []
    at = GROUND
    while at in came and at != point:
        at, i = came[at]
        way.append(i)
    return list(reversed(way))


def origin_of(element: Element, installation: Installation, vehicle: Loaded, kit: Loaded) -> Origin | None:
    """Return where in the documents an element stands; None where it comes from no document.

    A wire, fuse or switch stands at its step of the path; what a template adds, at the circuit; the kit's things at
    their terminal, lead or branch; a plug's contact at the plug; the battery at the traits.
    """
    of, car = element.origin.of, installation.car
    if element.origin.side == "vehicle":
        if of not in car.circuits or not isinstance(vehicle.document, Vehicle):
            return vehicle.origin("traits")
        # The same id may stand twice under different conditions: it is the one that the car took.
        number = next(n for n, c in enumerate(vehicle.document.circuits) if c == car.circuits[of])
        step = element.origin.step
        return vehicle.origin("circuits", number) if step is None else vehicle.origin("circuits", number, "path", step)
    for n, plug in enumerate(() if not isinstance(vehicle.document, Vehicle) else vehicle.document.plugs):
        if of.partition("/")[0] == plug.id:
            return vehicle.origin("plugs", n)
    for n, branch in enumerate(installation.kit.branches):
        if of == branch.id or any(j.id == of and j.branch == branch.id for j in installation.joints):
            return kit.origin("branches", n)
    for n, lead in enumerate(installation.kit.leads):
        if any(j.id == of and j.lead == lead.id for j in installation.joints):
            return kit.origin("leads", n)
    for n, terminal in enumerate(installation.kit.controller.terminals):
        if of == terminal.id:
            return kit.origin("controller", "terminals", n)
    return None
