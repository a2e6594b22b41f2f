"""Rules of current: ratings, fuses and the wires behind them, feeds kept apart, ground and standing draw."""

from collections.abc import Iterable, Iterator

import numpy as np
import numpy.typing as npt

from loomwright.documents.car import Car
from loomwright.network.branches import OPEN_RATIO, BoolArray
from loomwright.network.compiling import scale_of
from loomwright.network.elements import GROUND, Element
from loomwright.network.kit_side import kit_ground
from loomwright.network.latches import Outcome
from loomwright.network.paths import BATTERY
from loomwright.network.results import Finding, Number
from loomwright.network.shapes import LOAD_V
from loomwright.network.solving import Solved, current_path
from loomwright.network.states import state_words
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = [
    "FUSE_SHARE", "GROUND_LIMIT_V", "STANDING_LIMIT_A", "WIRE_SHARE", "check_car_wires", "check_feeds_apart",
    "check_fuse_and_wire", "check_ground", "check_outcomes", "check_ratings", "check_standing",
]  # fmt: skip

FUSE_SHARE = 0.75
"""Continuous load at most this share of a blade fuse's rating at 25 degC: common practice, makers' guides."""

WIRE_SHARE = 1.5
"""A fuse of at most this multiple of the wire's table ampacity: 33 CFR 183.455(c)(1), a rule for boats."""

GROUND_LIMIT_V = 0.1
"""Drop allowed on the kit's ground under load [V]; common practice."""

STANDING_LIMIT_A = 0.05
"""Standing draw that a parked car should not exceed [A]; common practice, 50 mA."""


def _amps(name: str, value: float, where: str) -> Number:
    return Number(name=name, value=value, unit="A", where=where)


_BRIEF = frozenset({
    "window pressed", "horn pressed", "lock pressed", "unlock pressed", "start pressed", "hatch pressed",
    "key turned to lock", "key turned to unlock",
})  # fmt: skip


_PULSED = frozenset({
    "start", "second start", "start button", "brake line", "lock", "unlock", "driver unlock", "horn", "hatch",
    "factory alarm arm", "factory alarm disarm",
})  # fmt: skip
"""Outputs that the kit has on for seconds."""


def check_ratings(solved: Solved) -> Iterator[Finding]:
    """Yield a finding for each kit part, T pin and fuse that carries more than it may, in its worst state."""
    # Cranking or holding a button lasts seconds: a fuse may then carry all that it is rated for.
    brief = np.array([s.key == "crank" or bool(s.commands & _PULSED) or bool(s.active & _BRIEF) for s in solved.states])
    for i, element in enumerate(solved.compiled.netlist.elements):
        limit, share, what = _limit(element)
        if limit is None:
            continue
        row = np.abs(solved.current[i])
        lane = int((row / np.where(brief, 1.0, share)).argmax())
        amps = float(row[lane])
        if amps <= limit * (1.0 if brief[lane] else share):
            continue
        state = solved.states[lane]
        over = amps > limit
        yield Finding(
            code="over-rating" if over else "fuse-too-close",
            severity="stop" if over else "fix",
            subject=element.id,
            message=(
                told(
                    "{origin} carries {amps:.1f} A with {state_words}; its {what} is {limit:.3g} A.",
                    origin=element.origin.words or element.id,
                    amps=amps,
                    state_words=state_words(state),
                    what=what,
                    limit=limit,
                )
            ),
            state=state,
            path=current_path(solved, element.a if solved.current[i, lane] > 0 else element.b, lane),
            numbers=(_amps("current", amps, element.id), _amps("rating", limit, element.id)),
            advice="Choose a part rated higher, or spread the load.",
            source="ratings; fuses at most 75 % loaded continuously (common practice)",
        )


def _limit(element: Element) -> tuple[float | None, float, str]:
    """Return (limit, share of it allowed, its name) of an element the kit answers for."""
    if element.origin.side == "vehicle":
        return None, 1.0, ""
    if element.fuse_a is not None:
        return element.fuse_a, FUSE_SHARE, "fuse rating"
    if element.kind in ("wire", "joint", "contact", "driver", "diode") and element.rating_a:
        # A driver limits its current by itself and may stand at its limit; the rule is for what cannot.
        return element.rating_a, 1.02 if element.kind == "driver" else 1.0, "rating"
    return None, 1.0, ""


def _capacity(element: Element) -> float:
    """Return the current an element can let through for long: its fuse, its limit, or what its resistance allows."""
    if element.id.endswith("/coil-diode"):
        return 0.0  # it stands across a relay's coil, facing backwards
    if element.fuse_a is not None:
        return element.fuse_a
    if element.kind == "driver" and element.rating_a:
        return element.rating_a
    if element.kind in ("wire", "link", "joint", "contact", "switch", "battery", "alternator"):
        return float("inf")
    return LOAD_V * max(element.shape.g)


def _bottlenecks(elements: tuple[Element, ...]) -> dict[str, float]:
    """Return, per node, the largest current that can reach it from the battery through some way: the widest path.

    Each way is worth its smallest fuse or limiter; Kruskal's order on a maximum spanning tree gives the widest one.
    """
    order = sorted((e for e in elements if e.origin.side != "tool"), key=_capacity, reverse=True)
    group: dict[str, set[str]] = {}
    reach: dict[str, float] = {BATTERY: float("inf")}
    for e in order:
        if GROUND in (e.a, e.b):
            continue
        one, two = group.setdefault(e.a, {e.a}), group.setdefault(e.b, {e.b})
        if one is two:
            continue
        capacity = _capacity(e)
        for mine, other in ((one, two), (two, one)):
            if BATTERY in mine:
                for node in other:
                    reach.setdefault(node, capacity)
        one |= two
        for node in two:
            group[node] = one
    return reach


def check_fuse_and_wire(solved: Solved) -> Iterator[Finding]:
    """Yield a finding for each kit wire that no fuse or limiter protects.

    The protection of a wire is the widest way from the battery to it over all switches closed at once, so it holds in
    every state. It may be at most 1.5 times the wire's ampacity.
    """
    elements = solved.compiled.netlist.elements
    reach = _bottlenecks(elements)
    for e in elements:
        if e.kind != "wire" or e.origin.side == "vehicle" or e.rating_a is None or e.id.startswith("t:"):
            continue
        protection = min(reach.get(e.a, 0.0), reach.get(e.b, 0.0))
        if protection > WIRE_SHARE * e.rating_a:
            words = (
                "no fuse at all"
                if protection == float("inf")
                else told("a fuse of {protection:.3g} A", protection=protection)
            )
            yield Finding(
                code="wire-unprotected",
                severity="stop" if protection == float("inf") else "fix",
                subject=e.id,
                message=told(
                    "{origin} ({area_mm2:g} mm2, {rating_a:.3g} A) stands behind {words}.",
                    origin=e.origin.words,
                    area_mm2=e.area_mm2,
                    rating_a=e.rating_a,
                    words=words,
                ),
                state=None,
                path=(e.id,),
                numbers=(_amps("ampacity", e.rating_a, e.id),),
                advice="Fit a fuse near the point where the feed is taken, or use a larger wire.",
                source="33 CFR 183.455(c)(1): at most 150 % of the ampacity (boats; a strict guide for cars)",
            )


def check_car_wires(solved: Solved) -> Iterator[Finding]:
    """Yield a finding for each car wire that the kit puts behind a larger fuse than the wire stands.

    Compared is the widest way from the battery with the kit against that of the car alone: what the maker fused for
    himself is his own affair, what the kit feeds past his fuse is the kit's.
    """
    elements = solved.compiled.netlist.elements
    with_kit = _bottlenecks(elements)
    alone = _bottlenecks(tuple(e for e in elements if e.origin.side == "vehicle" or e.id.startswith("c:")))
    for e in elements:
        if e.kind != "wire" or e.origin.side != "vehicle" or e.rating_a is None:
            continue
        now = min(with_kit.get(e.a, 0.0), with_kit.get(e.b, 0.0))
        before = min(alone.get(e.a, 0.0), alone.get(e.b, 0.0))
        if now > before and now > WIRE_SHARE * e.rating_a:
            yield Finding(
                code="car-wire-unprotected",
                severity="fix",
                subject=e.origin.of,
                message=(
                    told(
                        "The kit feeds the {origin} of {of} ({area_mm2:g} mm2, {rating_a:.3g} A) behind "
                        "{now:.3g} A; the car itself has it behind {before:.3g} A.",
                        origin=e.origin.words,
                        of=e.origin.of,
                        area_mm2=e.area_mm2,
                        rating_a=e.rating_a,
                        now=now,
                        before=before,
                    )
                ),
                state=None,
                path=(e.id,),
                numbers=(_amps("ampacity", e.rating_a, e.id), _amps("the car's own fuse", before, e.id)),
                advice="Put a fuse of the car's own rating into this conductor of the kit.",
                source="33 CFR 183.455(c)(1): at most 150 % of the ampacity (boats; a strict guide for cars)",
            )


def check_feeds_apart(car: Car, solved: Solved) -> Iterator[Finding]:
    """Yield a finding where two fused feeds are joined behind their fuses in some state.

    Told from the netlist: over closed contacts, wires and joints but not over fuses or loads, no two fuses may meet.
    States in which the same elements conduct are looked at once.
    """
    elements = solved.compiled.netlist.elements
    # The kit's own fuses do not keep two of the car's feeds apart: only the car's fuses do.
    joining = [
        i
        for i, e in enumerate(elements)
        if (e.kind in _JOINING or (e.kind == "fuse" and e.origin.side != "vehicle"))
        and GROUND not in (e.a, e.b)
        and BATTERY not in (e.a, e.b)
    ]
    fuses = [e for e in elements if e.fuse_a is not None and e.origin.side == "vehicle"]
    at = solved.compiled.at
    ends = np.array([[at(elements[i].a), at(elements[i].b)] for i in joining], dtype=np.intp).reshape(-1, 2).T
    conducting = _conducting(solved)[joining]
    joined: set[tuple[str, ...]] = set()
    seen: set[bytes] = set()
    for lane, state in enumerate(solved.states):
        column = conducting[:, lane]
        if state.stage in ("bare", "removed") or column.tobytes() in seen:
            continue
        seen.add(column.tobytes())
        group = _groups(ends[:, column], len(solved.compiled.node)).tolist()
        behind: dict[int, list[Element]] = {}
        for fuse in fuses:
            behind.setdefault(group[at(fuse.b)], []).append(fuse)
        for here, together in behind.items():
            # Of two fuses in a row of one feed only the first is a feed of its own.
            separate = sorted((f for f in together if group[at(f.a)] != here), key=lambda f: f.id)[:2]
            pair = tuple(f.id for f in separate)
            if len(pair) == 2 and pair not in joined:
                joined.add(pair)
                one, two = (_fuse_words(car, f) for f in separate)
                edges = [elements[joining[n]] for n in np.flatnonzero(column)]
                yield Finding(
                    code="feeds-joined",
                    severity="stop",
                    subject=pair[0],
                    message=told(
                        "The feeds behind the {one} and behind the {two} are joined with {state_words}.",
                        one=one,
                        two=two,
                        state_words=state_words(state),
                    ),
                    state=state,
                    path=(pair[0], *_way(edges, separate[0].b, separate[1].b), pair[1]),
                    numbers=(),
                    advice="Give each kit feed its own vehicle feed, or use one feed only.",
                    source="feeds on separate fuses are never joined (common practice)",
                )


def _fuse_words(car: Car, fuse: Element) -> str:
    circuit = car.circuits.get(fuse.origin.of)
    return told(
        "{fuse} of {circuit}",
        fuse=fuse.origin.words,
        circuit=fuse.origin.of if circuit is None else circuit.name or circuit.function,
    )


_JOINING = frozenset({"wire", "link", "joint", "switch", "contact"})


def _way(edges: Iterable[Element], start: str, goal: str) -> tuple[str, ...]:
    """Return the elements of a shortest way between two nodes, empty where there is none."""
    meets: dict[str, list[Element]] = {}
    for e in edges:
        meets.setdefault(e.a, []).append(e)
        meets.setdefault(e.b, []).append(e)
    came: dict[str, tuple[str, str]] = {start: ("", "")}
    frontier = [start]
    while frontier and goal not in came:
        following = []
        for node in frontier:
            for e in meets.get(node, ()):
                other = e.b if e.a == node else e.a
                if other not in came:
                    came[other] = (node, e.id)
                    following.append(other)
        frontier = following
    way: list[str] = []
    at = goal if goal in came else start
    while at != start:
        at, element = came[at]
        way.append(element)
    return tuple(reversed(way))


def _groups(ends: npt.NDArray[np.intp], nodes: int) -> npt.NDArray[np.intp]:
    """Return for each node the least of all that edges join it to, itself included; `ends` has one column an edge."""
    group = np.arange(nodes + 1)  # battery negative is the last one
    while True:
        least = np.minimum(group[ends[0]], group[ends[1]])
        before = group.copy()
        for end in ends:
            np.minimum.at(group, end, least)
        group = group[group]
        if (group == before).all():
            return group


def _conducting(solved: Solved) -> BoolArray:
    """Tell of each element and lane whether it conducts, as its condition and its relay leave it, shape (B, L)."""
    netlist, compiled = solved.compiled.netlist, solved.compiled
    on: BoolArray = scale_of(netlist, solved.states) > OPEN_RATIO
    pulled = {compiled.branches.latches[r].coil: solved.latched[r] for r in range(len(solved.latched))}
    for i, e in enumerate(netlist.elements):
        on[i] &= max(e.shape.g) > _CONDUCTS_S
        if e.coil is not None:
            on[i] &= pulled[compiled.element[e.coil]] == e.closed_when_pulled_in
    return on


_CONDUCTS_S = 1e-3
"""Less than this joins nothing [S]."""


def check_ground(installation: Installation, solved: Solved) -> Iterator[Finding]:
    """Yield a finding where the kit's ground rises too far above battery negative."""
    node = kit_ground(installation.kit)
    if node not in solved.compiled.node:
        return
    row = np.abs(solved.voltage[solved.compiled.node[node]])
    fitted = [lane for lane, s in enumerate(solved.states) if s.stage == "fitted"]
    lane = max(fitted, key=lambda n: row[n])
    if row[lane] > GROUND_LIMIT_V:
        state = solved.states[lane]
        yield Finding(
            code="ground-rises",
            severity="fix",
            subject=node,
            message=told(
                "The kit's ground stands {volts:.2f} V above battery negative with {state_words}.",
                volts=row[lane],
                state_words=state_words(state),
            ),
            state=state,
            path=current_path(solved, node, lane),
            numbers=(Number(name="rise", value=float(row[lane]), unit="V", where=node),),
            advice="Use a larger or shorter ground lead and clean bare metal.",
            source="about 0.1 V at most under load (common practice)",
        )


def check_standing(solved: Solved) -> Iterator[Finding]:
    """Yield a note with the kit's share of the parked car's standing draw where it is high."""

    def draw(stage: str) -> float | None:
        for lane, s in enumerate(solved.states):
            if s.stage == stage and s.key == "off" and not s.commands and s.active <= {"awake"} and "awake" in s.active:
                return -solved.amps("v:battery", lane)
        return None

    fitted = draw("fitted")
    if fitted is None:
        return
    kit = sum(
        abs(solved.amps(e.id, lane))
        for lane, s in enumerate(solved.states)
        if s.stage == "fitted" and s.active == {"awake"} and not s.commands and s.key == "off"
        for e in solved.compiled.netlist.elements
        if e.id.endswith("/sleeping")
    )
    if kit > STANDING_LIMIT_A:
        yield Finding(
            code="standing-draw",
            severity="fix",
            subject="kit",
            message=told("The kit draws {kit:.0f} mA from the parked car.", kit=kit * 1000),
            state=None,
            path=(),
            numbers=(_amps("standing draw", kit, "kit"),),
            advice="Check the kit's sleep current; a parked car should stay below 50 mA.",
            source="50 mA (common practice)",
        )


def check_outcomes(solved: Solved) -> Iterator[Finding]:
    """Yield a finding for every state in which a relay chatters or two relays race."""
    seen: set[tuple[int, str]] = set()
    for lane, outcome in enumerate(solved.outcome):
        if outcome == Outcome.SETTLED:
            continue
        state = solved.states[lane]
        chatters = outcome == Outcome.CHATTERS
        key = (outcome, state.stage)
        if key in seen:
            continue
        seen.add(key)
        yield Finding(
            code="relay-chatters" if chatters else "relays-race",
            severity="stop" if chatters else "fix",
            subject="relays",
            message=told(
                "A relay chatters with {state_words}." if chatters else "Two relays race with {state_words}.",
                state_words=state_words(state),
            ),
            state=state,
            path=(),
            numbers=(),
            advice="The feed drops when the relays pull in; look for a high resistance in the feed or the ground.",
            source="relay pull-in and drop-out currents of published data sheets",
        )
