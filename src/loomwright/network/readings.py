"""What a meter should read at each joint and check point in each stage, and whether a test lamp may be used there."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loomwright.documents.behaviour import KeyedFeed, StartRequest
from loomwright.documents.vehicle import Circuit
from loomwright.network.adjoint import observe, sensitivity
from loomwright.network.asking import lamp_never, moves_by_itself, telling_states
from loomwright.network.bounds import bounds
from loomwright.network.compiling import Compiled, compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Element, Kind, Netlist, Origin, Shape, line
from loomwright.network.fitting_order import FitAction, fitting_order
from loomwright.network.held import driven
from loomwright.network.joining import LAMP, METER, joined_netlist, with_probes
from loomwright.network.kit_side import lead_node
from loomwright.network.paths import BATTERY, pin_nodes
from loomwright.network.results import Band, LampRule, Reading, Readings
from loomwright.network.rules_live import TRIGGER_SHARE
from loomwright.network.shapes import METER_S, SPREAD, TEST_LAMP_A, lamp_shape
from loomwright.network.solver import Solution, solve
from loomwright.network.states import State, state_words
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.planning.installation import Installation, Joint

__all__ = ["LAMP_LIT_SHARE", "readings"]

LAMP_LIT_SHARE = 0.5
"""A bulb is plainly lit above this share of its current at 12 V; common practice."""

_POSITIVE_METER = "meter+:"
_POSITIVE_LAMP = "lamp+:"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ask:
    """One reading to be computed."""

    joint: str
    circuit: Circuit | None
    node: str
    state: State
    purpose: str
    positive_clip: bool = False


def _asks_of_joint(installation: Installation, joint: Joint, all_but_controller: int) -> list[_Ask]:
    """Return the readings of a joint: on the untouched wire before joining, and at the end of the lead after.

    The leads are read at the controller's plug while that still hangs free, so a reading there tells about the joint.
    """
    car = installation.car
    if joint.kind == "ground point":
        state = State(stage="fitting", joined=all_but_controller)
        node = lead_node(joint.terminal)
        return [_Ask(joint=joint.id, circuit=None, node=node, state=state, purpose="after joining", positive_clip=True)]
    if joint.circuit is None or joint.pin is None:
        return []
    circuit = car.circuits[joint.circuit]
    asks = []
    for key, active in telling_states(car, circuit):
        state = State(stage="bare", key=key, active=active)
        asks.append(
            _Ask(joint=joint.id, circuit=circuit, node=pin_nodes(joint.pin)[0], state=state, purpose="identify")
        )
    if joint.kind == "plug" or joint.part is not None:
        return asks  # the conductor ends inside a plug, or behind a part that only works once the kit is powered
    for ask in list(asks):
        # A lead that is live with the starter turning only would be shown dead by any other state, joined or not.
        if ask.state.key != "crank" or _only_cranks(circuit):
            state = State(stage="fitting", key=ask.state.key, active=ask.state.active, joined=all_but_controller)
            node = lead_node(joint.terminal)
            asks.append(_Ask(joint=joint.id, circuit=circuit, node=node, state=state, purpose="after joining"))
    return asks


def _only_cranks(circuit: Circuit) -> bool:
    """Tell whether a circuit is live with the key in start only."""
    behaviour = circuit.behaviour
    return isinstance(behaviour, KeyedFeed | StartRequest) and set(behaviour.live) == {"crank"}


def _asks(installation: Installation, order: tuple[FitAction, ...]) -> list[_Ask]:
    running = frozenset({"engine running"})
    asks = [
        _Ask(joint="check:battery", circuit=None, node=BATTERY, state=s, purpose="check")
        for s in (
            State(stage="bare"),
            State(stage="bare", key="run"),
            State(stage="bare", key="crank"),
            State(stage="bare", key="run", active=running),
            State(stage="fitted"),
        )
    ]
    for action in order:
        for joint in action.joints:
            asks += _asks_of_joint(installation, joint, len(order) - 1)
    return asks


def _with_positive_probes(netlist: Netlist, points: Sequence[str]) -> Netlist:
    """Return the netlist with a meter and a test lamp from battery positive to each point, all lifted off."""
    tools: tuple[tuple[str, Kind, Shape], ...] = (
        (_POSITIVE_METER, "meter", line(METER_S)),
        (_POSITIVE_LAMP, "test lamp", lamp_shape(TEST_LAMP_A)),
    )
    extra = [
        Element(
            id=prefix + p, kind=kind, a=BATTERY, b=p, shape=shape, when=(), low=SPREAD[kind][0], high=SPREAD[kind][1],
            origin=Origin(side="tool", of=p, words=kind),
        )
        for p in points
        for prefix, kind, shape in tools
    ]  # fmt: skip
    return Netlist.of([*netlist.elements, *extra], netlist.joints_made)


def _lamp_rule(compiled: Compiled, asks: Sequence[_Ask], plain: Solution, lit: Solution, n: int) -> LampRule:
    """Decide one lamp: what it touches, what it switches, and whether it shines."""
    ask = asks[n]
    if ask.positive_clip:
        # From battery positive a lamp loads the ground as no meter does: it is the better test of the two.
        bright = float(lit.current[compiled.element[_POSITIVE_LAMP + ask.node], n]) > LAMP_LIT_SHARE * TEST_LAMP_A
        why = "fed firmly" if bright else "meter only"
        return LampRule(allowed=bright, kind="bulb lamp" if bright else "none", lit=bright, why=why)
    never = None if ask.circuit is None else lamp_never(ask.circuit)
    if never is not None:
        return LampRule(allowed=False, kind="none", lit=False, why=never)
    current = float(lit.current[compiled.element[LAMP + ask.node], n])
    shines = current > LAMP_LIT_SHARE * TEST_LAMP_A
    if bool((plain.latched[:, n] != lit.latched[:, n]).any()):
        return LampRule(allowed=False, kind="none", lit=shines, why="operates a relay")
    node = compiled.at(ask.node)
    before, after = float(plain.voltage[node, n]), float(lit.voltage[node, n])
    if before > 1.0 and after < TRIGGER_SHARE * before:
        return LampRule(allowed=False, kind="none", lit=shines, why="pulls the wire down")
    if before > 1.0 and after < 0.75 * before:
        return LampRule(allowed=False, kind="none", lit=shines, why="loads the wire")
    return LampRule(
        allowed=True, kind="bulb lamp", lit=shines, why="fed firmly" if shines else "dead and fed by nothing"
    )


def _allowed_everywhere(asks: Sequence[_Ask], rules: list[LampRule]) -> list[LampRule]:
    """A lamp stays on the wire while the state changes: one forbidden state forbids it at that point."""
    bad: dict[tuple[str, str], str] = {}
    for ask, rule in zip(asks, rules, strict=True):
        if not rule.allowed:
            bad.setdefault((ask.joint, ask.purpose), rule.why)
    return [
        rule
        if (why := bad.get((ask.joint, ask.purpose))) is None
        else LampRule(allowed=False, kind="none", lit=rule.lit, why=why)
        for ask, rule in zip(asks, rules, strict=True)
    ]


def readings(installation: Installation, battery_v: float = BATTERY_V) -> Readings:
    """Return what a sound car shows at every joint and check point, with the kit fitted up to there.

    Each reading is a lane of its own with the meter on its point. The band comes from the extremes of every wire,
    contact and load within its spread, with the battery known: `battery_v` at rest [V].

    Raises SolveError where a state does not settle, which would be a fault of this program.
    """
    order = fitting_order(installation)
    asks = _asks(installation, order)
    points = list(dict.fromkeys(a.node for a in asks))
    netlist = with_probes(joined_netlist(installation), [p for p in points if p != GROUND])
    netlist = _with_positive_probes(netlist, list(dict.fromkeys(a.node for a in asks if a.positive_clip)))
    compiled = compile_netlist(netlist)
    scale = scale_of(netlist, [a.state for a in asks])
    lamp_scale = scale.copy()
    for lane, ask in enumerate(asks):
        meter = (_POSITIVE_METER if ask.positive_clip else METER) + ask.node
        scale[compiled.element[meter], lane] = 1.0
        lamp_scale[compiled.element[(_POSITIVE_LAMP if ask.positive_clip else LAMP) + ask.node], lane] = 1.0
    emf = emf_of(compiled, battery_v)
    elements = netlist.elements
    observed = [
        (lane, compiled.at(BATTERY), compiled.at(a.node)) if a.positive_clip else (lane, compiled.at(a.node))
        for lane, a in enumerate(asks)
    ]
    plain = solve(compiled.branches, scale, emf)
    found = bounds(
        compiled.branches,
        scale,
        emf,
        spread_lo=np.array([e.low for e in elements]),
        spread_hi=np.array([e.high for e in elements]),
        emf_lo=np.array([-e.emf_spread_v for e in elements]),
        emf_hi=np.array([e.emf_spread_v for e in elements]),
        points=observed,
    )
    lit = solve(compiled.branches, lamp_scale, emf)
    slope = sensitivity(compiled.branches, plain, scale, observe(compiled.branches, observed, len(asks))).emf
    sources = [i for i, e in enumerate(elements) if e.kind in ("battery", "alternator")]
    held = driven(compiled.branches, plain, scale)
    rules = _allowed_everywhere(asks, [_lamp_rule(compiled, asks, plain, lit, n) for n in range(len(asks))])
    out = []
    for n, ask in enumerate(asks):
        band = Band(
            point=ask.node,
            state=ask.state,
            lo=float(found.lo[n]),
            hi=float(found.hi[n]),
            nominal=float(found.nominal[n]),
            battery_v=battery_v,
            per_battery_volt=float(slope[sources, n].sum()),
            driven=ask.positive_clip or bool(held[compiled.at(ask.node), n]),
            widened_v=float(found.escaped[n]),
        )
        out.append(
            Reading(
                # A check is made at several stages, the others at one each: so told, no two readings share an id.
                id=f"{ask.joint}@{ask.state.stage if ask.purpose == 'check' else ask.purpose}/{state_words(ask.state)}",
                joint=ask.joint,
                circuit=None if ask.circuit is None else ask.circuit.id,
                node=ask.node,
                stage=ask.state.stage,
                purpose=ask.purpose,  # type: ignore[arg-type]
                band=band,
                lamp=rules[n],
                clip="battery positive" if ask.positive_clip else "battery negative",
                flicker=moves_by_itself(ask.circuit, ask.state),
            )
        )
    return Readings(installation=installation.id, battery_v=battery_v, readings=tuple(out))
