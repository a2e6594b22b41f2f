"""Rule of the short circuit: every kit wire shorted to the body, and whether its fuse opens before it is hurt."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from loomwright.network.commands import command_table, momentary_commands
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND, Element, Netlist, Origin, line
from loomwright.network.fuses import opening_time
from loomwright.network.results import Finding, Number
from loomwright.network.solver import solve
from loomwright.network.states import State, state_words
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["COPPER_K", "SHORT_OHM", "check_shorts", "withstand_s"]

COPPER_K = 103.8
"""k of copper, 85 to 160 degC [A s^0.5 / mm2]: k = 226 sqrt(ln((234.5 + 160) / (234.5 + 85))), the adiabatic rule of
IEC 60364-4-43 (from memory; the same formula gives its published 115 and 143)."""

SHORT_OHM = 0.001
"""A dead short to the body [ohm]."""

_SHORT = "short:"


def withstand_s(area_mm2: float, current_a: float) -> float:
    """Return how long a copper wire stands a current before its insulation is hurt, no heat given off [s].

    t = (k S / I)^2 with k of `COPPER_K`.

    Parameters
    ----------
    area_mm2 : float -- conductor size S, > 0 [mm2]
    current_a : float -- current I, > 0 [A]

    Returns
    -------
    seconds : float -- adiabatic, so too short for anything over a few seconds [s]

    References
    ----------
    IEC 60364-4-43, adiabatic equation (from memory).
    """
    return (COPPER_K * area_mm2 / current_a) ** 2


def _shortable(installation: Installation, netlist: Netlist) -> list[Element]:
    """Return the kit's leads: the wires that lie loose in the car."""
    joints = {f"{j.id}/lead" for j in installation.joints if j.kind != "ground point"}
    return [e for e in netlist.elements if e.id in joints]


def _states(installation: Installation) -> tuple[State, ...]:
    """Return the states that put most behind the leads: running, cranking, and each pulsed output."""
    table = command_table(installation)
    running = frozenset({"engine running"})
    states = [
        State(stage="fitted", commands=table["running"], active=running),
        State(stage="fitted", commands=table["cranking"]),
    ]
    states += [State(stage="fitted", commands=frozenset({c})) for c in momentary_commands(installation)]
    return tuple(states)


def check_shorts(installation: Installation, netlist: Netlist) -> Iterator[Finding]:
    """Yield a finding for each kit lead that a short to the body would hurt before a fuse opens.

    Every lead is shorted at either end, in the states that put most behind it. The fuses in the way open at the latest
    times of the standard; the wire stands the current for its adiabatic time.
    """
    wires = _shortable(installation, netlist)
    nodes = list(dict.fromkeys(n for w in wires for n in (w.a, w.b)))
    shorts = [
        Element(
            id=_SHORT + n, kind="meter", a=n, b=GROUND, shape=line(1.0 / SHORT_OHM), when=(),
            origin=Origin(side="tool", of=n, words="short"),
        )
        for n in nodes
    ]  # fmt: skip
    with_shorts = Netlist.of([*netlist.elements, *shorts], netlist.joints_made)
    compiled = compile_netlist(with_shorts)
    cases = [(state, node) for state in _states(installation) for node in nodes]
    scale = scale_of(with_shorts, [s for s, _ in cases])
    for lane, (_, node) in enumerate(cases):
        scale[compiled.element[_SHORT + node], lane] = 1.0
    found = solve(compiled.branches, scale, emf_of(compiled))
    fuses = [(i, e.fuse_a) for i, e in enumerate(with_shorts.elements) if e.fuse_a is not None]
    for wire in wires:
        worst = _worst(compiled.element[wire.id], wire, cases, np.abs(found.current), fuses)
        if worst is not None:
            yield worst


def _worst(
    index: int,
    wire: Element,
    cases: Sequence[tuple[State, str]],
    current: np.ndarray[tuple[int, int], np.dtype[np.float64]],
    fuses: Sequence[tuple[int, float]],
) -> Finding | None:
    """Return the finding of one lead where its worst case hurts it."""
    if wire.area_mm2 is None or wire.rating_a is None:
        return None
    for lane, (state, node) in enumerate(cases):
        amps = float(current[index, lane])
        if node not in (wire.a, wire.b) or amps <= wire.rating_a:
            continue
        clears = min((opening_time(rating, float(current[i, lane])).max_s for i, rating in fuses), default=math.inf)
        stands = withstand_s(wire.area_mm2, amps)
        if clears <= stands:
            continue
        words = "no fuse need open" if clears == math.inf else told("a fuse may take {clears:.2g} s", clears=clears)
        return Finding(
            code="short-hurts-wire",
            severity="fix",
            subject=wire.id,
            message=(
                told(
                    "{origin} shorted to the body with {state_words} carries {amps:.0f} A: {words}, and the "
                    "wire ({area_mm2:g} mm2) stands it for {stands:.2g} s.",
                    origin=wire.origin.words,
                    state_words=state_words(state),
                    amps=amps,
                    words=words,
                    area_mm2=wire.area_mm2,
                    stands=stands,
                )
            ),
            state=state,
            path=(wire.id,),
            numbers=(
                Number(name="short-circuit current", value=amps, unit="A", where=wire.id),
                Number(name="time the wire stands it", value=stands, unit="s", where=wire.id),
            ),
            advice="Fit a smaller fuse or a larger wire, or keep the lead where nothing can rub it through.",
            source="fuse gates of ISO 8820-3 and the adiabatic rule of IEC 60364-4-43, both from memory",
        )
    return None
