"""Ten thousand sound cars drawn at random: what a meter shows in each lies inside the band that the guide prints."""

import numpy as np

from loomwright.network.compiling import compile_netlist, scale_of
from loomwright.network.elements import GROUND, Element, Netlist, Origin, line
from loomwright.network.joining import METER, joined_netlist, with_probes
from loomwright.network.latches import Outcome
from loomwright.network.paths import BATTERY
from loomwright.network.readings import readings
from loomwright.network.results import Reading
from loomwright.network.shapes import BATTERY_V, METER_S
from loomwright.network.solver import solve
from loomwright.planning.installation import Installation
from tests import demonstration
from tests.pairs import PAIRS, installations

_DRAWS = 18
_BACKWARD = "back:"
_CLOSE_V = 1e-6
"""What bounds by iteration may leave [V]; a meter shows a thousand times that."""


def _outside(plan: Installation, seed: int) -> tuple[int, list[tuple[float, Reading]]]:
    """Return how many cars were drawn, and every reading that one of them does not keep, with how far it is out [V]."""
    told = readings(plan).readings
    points = list(dict.fromkeys(r.node for r in told if r.node != GROUND))
    netlist = with_probes(joined_netlist(plan), points)
    to_positive = [
        Element(
            id=_BACKWARD + p, kind="meter", a=BATTERY, b=p, shape=line(METER_S), when=(),
            origin=Origin(side="tool", of=p, words="meter"),
        )
        for p in dict.fromkeys(r.node for r in told if r.clip == "battery positive")
    ]  # fmt: skip
    compiled = compile_netlist(Netlist.of([*netlist.elements, *to_positive], netlist.joints_made))
    lanes = len(told) * _DRAWS
    factor, emf = demonstration.drawn_parameters(compiled, lanes, seed)
    emf[compiled.element["v:battery"]] = BATTERY_V
    scale = scale_of(compiled.netlist, [r.band.state for r in told for _ in range(_DRAWS)])
    for n, reading in enumerate(told):
        prefix = _BACKWARD if reading.clip == "battery positive" else METER
        scale[compiled.element[prefix + reading.node], n * _DRAWS : (n + 1) * _DRAWS] = 1.0
    solution = solve(compiled.branches, scale * factor, emf)
    out = []
    for n, reading in enumerate(told):
        mine = slice(n * _DRAWS, (n + 1) * _DRAWS)
        shown = solution.voltage[compiled.at(reading.node), mine]
        if reading.clip == "battery positive":
            shown = solution.voltage[compiled.at(BATTERY), mine] - shown
        assert (solution.outcome[mine] == Outcome.SETTLED).all()
        beyond = np.maximum(shown - reading.band.hi, reading.band.lo - shown).max()
        if beyond > _CLOSE_V:
            out.append((float(beyond), reading))
    return lanes, out


def test_ten_thousand_sound_cars_keep_every_band() -> None:
    cars, out = 0, []
    for number, pair in enumerate(PAIRS):
        for plan in installations(pair, 1):
            drawn, escaped = _outside(plan, 700 + number)
            cars += drawn
            out += escaped
    print(f"{cars} cars drawn, {len(out)} readings escape")
    assert cars >= 10_000
    assert [(r.id, over, r.band.lo, r.band.hi) for over, r in out] == []
