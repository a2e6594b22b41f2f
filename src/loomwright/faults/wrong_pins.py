"""Wrong pins: what a meter would show there, what tells it from the right one, and what harm it would do."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from loomwright.documents.behaviour import GroundSwitch
from loomwright.documents.kit import Terminal
from loomwright.faults.landing import landings
from loomwright.faults.misjoined import Misjoined, Mistake, harm_states, misjoined
from loomwright.network.asking import telling_states
from loomwright.network.bounds import bounds
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.expectations import Expectation, expectations_of, trigger_level
from loomwright.network.joining import METER, bare_netlist, with_probes
from loomwright.network.kit_side import terminal_node
from loomwright.network.paths import BATTERY, pin_nodes
from loomwright.network.rules_live import DEAD_V, LIVE_SHARE, TRIGGER_SHARE
from loomwright.network.sensing import input_level, sensed_truth
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Joint

__all__ = ["TELLING_GAP_V", "Harm", "Shown", "WrongPin", "wrong_pins"]

TELLING_GAP_V = 0.3
"""Two readings tell two wires apart where their bands lie at least so far from each other [V]: well over what a meter
and the reading of it add (common practice, 0.5 % and a digit)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a meter shows in one state: on the right pin and on the wrong one, each as a band [V]."""

    state: State
    right: tuple[float, float]
    wrong: tuple[float, float]

    @property
    def gap_v(self) -> float:
        """Return how far the two bands lie apart, negative where they overlap [V]."""
        return max(self.wrong[0] - self.right[1], self.right[0] - self.wrong[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Harm:
    """One thing a wrong joint does: to a circuit, a fuse or an input of the kit, and in which state."""

    kind: Literal["made live", "not fed", "operated", "fuse opens", "read wrongly"]
    subject: str  # circuit id, fuse element id, or the function that is read
    state: State
    later: bool  # only once the kit works, not already as soon as it is plugged in
    value: float  # [V], or [A] for a fuse


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongPin:
    """One pin a joint may be made at by mistake."""

    joint: str
    pin: str
    landed: str
    how: str
    shown: tuple[Shown, ...]
    harms: tuple[Harm, ...]

    @property
    def told_by(self) -> Shown | None:
        """Return the one measurement that tells it best from the right pin, or None where none does."""
        best = max(self.shown, key=lambda s: s.gap_v, default=None)
        return best if best is not None and best.gap_v >= TELLING_GAP_V else None


def _mistakes(installation: Installation) -> list[Mistake]:
    """Return each joint on a vehicle wire with each pin it may land on."""
    return [
        Mistake(joint=joint, landing=landing)
        for joint in installation.joints
        if joint.pin is not None and joint.kind in ("tap", "T tapped")
        for landing in landings(installation.car, joint.pin)
    ]


def _shown(installation: Installation, mistakes: Sequence[Mistake]) -> dict[tuple[str, State], tuple[float, float]]:
    """Return the band of every pin, right or wrong, in every state in which its joint is measured."""
    car = installation.car
    asked: dict[tuple[str, State], None] = {}
    for mistake in mistakes:
        for state in _measured(installation, mistake.joint):
            asked[mistake.joint.pin or "", state] = None
            asked[mistake.landing.pin, state] = None
    pairs = list(asked)
    points = list(dict.fromkeys(pin_nodes(pin)[0] for pin, _ in pairs))
    netlist = with_probes(bare_netlist(car), points)
    compiled = compile_netlist(netlist)
    scale = scale_of(netlist, [state for _, state in pairs])
    for lane, (pin, _) in enumerate(pairs):
        scale[compiled.element[METER + pin_nodes(pin)[0]], lane] = 1.0
    elements = netlist.elements
    found = bounds(
        compiled.branches,
        scale,
        emf_of(compiled),
        spread_lo=np.array([e.low for e in elements]),
        spread_hi=np.array([e.high for e in elements]),
        emf_lo=np.array([-e.emf_spread_v for e in elements]),
        emf_hi=np.array([e.emf_spread_v for e in elements]),
        points=[(lane, compiled.at(pin_nodes(pin)[0])) for lane, (pin, _) in enumerate(pairs)],
        audit=4,
    )
    return {pair: (float(found.lo[n]), float(found.hi[n])) for n, pair in enumerate(pairs)}


def _measured(installation: Installation, joint: Joint) -> list[State]:
    circuit = installation.car.circuits[joint.circuit or ""]
    return [State(stage="bare", key=key, active=active) for key, active in telling_states(installation.car, circuit)]


def _thresholds(installation: Installation, e: Expectation, battery_v: float) -> tuple[float, float]:
    """Return (live above, dead below) of an expectation [V]."""
    circuit = installation.car.circuits[e.circuit]
    if isinstance(circuit.behaviour, GroundSwitch):
        level = trigger_level(circuit, battery_v)
        return LIVE_SHARE * level, TRIGGER_SHARE * level
    return LIVE_SHARE * battery_v, DEAD_V


def _load_harms(installation: Installation, solved: Misjoined) -> Iterator[tuple[int, Harm]]:
    """Yield, per mistake, every load and trigger that is not as the documents want it."""
    expectations = expectations_of(installation.car, installation)
    node = solved.compiled.node
    for s, state in enumerate(solved.states):
        battery = solved.voltage[node[BATTERY], :, s]
        for e in expectations.of(state):
            if e.share is not None:
                continue
            volts = solved.voltage[node[e.node], :, s]
            trigger = isinstance(installation.car.circuits[e.circuit].behaviour, GroundSwitch)
            live_v, dead_v = _thresholds(installation, e, float(battery.mean()))
            wrong = volts < live_v if e.live else volts > dead_v
            for n in np.flatnonzero(wrong):
                kind: Literal["made live", "not fed", "operated"] = (
                    ("operated" if e.live else "not fed") if trigger else "not fed" if e.live else "made live"
                )
                yield (
                    int(n),
                    Harm(kind=kind, subject=e.circuit, state=state, later=bool(state.commands), value=float(volts[n])),
                )


def _fuse_harms(solved: Misjoined) -> Iterator[tuple[int, Harm]]:
    """Yield, per mistake, every fuse that carries more than its rating."""
    for i, element in enumerate(solved.compiled.netlist.elements):
        if element.fuse_a is None:
            continue
        amps = np.abs(solved.current[i])
        for n, s in zip(*np.nonzero(amps > element.fuse_a), strict=True):
            state = solved.states[int(s)]
            yield (
                int(n),
                Harm(
                    kind="fuse opens",
                    subject=element.id,
                    state=state,
                    later=bool(state.commands),
                    value=float(amps[n, s]),
                ),
            )


def _input_harms(installation: Installation, solved: Misjoined) -> Iterator[tuple[int, Harm]]:
    """Yield, per mistake on an input, each state in which the kit would be told something untrue."""
    terminals: Mapping[str, Terminal] = {t.id: t for t in installation.kit.controller.terminals}
    node = solved.compiled.node
    for n, mistake in enumerate(solved.mistakes):
        terminal = terminals[mistake.joint.terminal]
        if terminal.kind not in ("positive input", "negative input"):
            continue
        for s, state in enumerate(solved.states):
            truth = sensed_truth(mistake.joint.function, state)
            if truth is None:
                continue
            volts = float(solved.voltage[node[terminal_node(terminal.id)], n, s])
            if input_level(terminal, volts, float(solved.voltage[node[BATTERY], n, s])) is not truth:
                yield n, Harm(
                    kind="read wrongly", subject=mistake.joint.function, state=state, later=bool(state.commands),
                    value=volts,
                )  # fmt: skip


def wrong_pins(installation: Installation) -> tuple[WrongPin, ...]:
    """Return every pin at which a tap or T conductor may be joined by mistake, with its readings and its harm.

    Each reading is a band over every spread with the battery known, as on the untouched car; each harm comes from the
    joined circuit solved with that one joint moved. A harm counts once per kind and subject, in the first state.
    """
    mistakes = _mistakes(installation)
    if not mistakes:
        return ()
    bands = _shown(installation, mistakes)
    solved = misjoined(installation, mistakes, harm_states(installation))
    harms: list[dict[tuple[str, str], Harm]] = [{} for _ in mistakes]
    for found in (_load_harms(installation, solved), _fuse_harms(solved), _input_harms(installation, solved)):
        for n, harm in found:
            harms[n].setdefault((harm.kind, harm.subject), harm)
    out = []
    for n, mistake in enumerate(mistakes):
        pin = mistake.joint.pin or ""
        shown = tuple(
            Shown(state=state, right=bands[pin, state], wrong=bands[mistake.landing.pin, state])
            for state in _measured(installation, mistake.joint)
        )
        out.append(
            WrongPin(
                joint=mistake.joint.id,
                pin=pin,
                landed=mistake.landing.pin,
                how=mistake.landing.how,
                shown=shown,
                harms=tuple(harms[n].values()),
            )
        )
    return tuple(out)
