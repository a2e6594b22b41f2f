"""The joined network seen from the battery: current and every voltage as straight lines of the battery voltage.

With segments and relays as they are, the network is linear. It is solved anew only where the state of the car, an
output, a segment or a relay changes; in between two numbers for each node serve.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loomwright.network.battery_held import hold_battery
from loomwright.network.branches import OPEN_RATIO, BoolArray, FloatArray, IntArray
from loomwright.network.compiling import Compiled, compile_netlist, emf_of, scale_of
from loomwright.network.elements import GROUND
from loomwright.network.joining import joined_netlist
from loomwright.network.paths import BATTERY
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.planning.installation import Installation

__all__ = ["Port", "PortEquivalent"]

_STEP_V = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PortEquivalent:
    """The network at one state, valid while the battery voltage stays in `low_v` to `high_v` [V]."""

    at_v: float
    low_v: float
    high_v: float
    current_a: float
    slope_s: float
    voltage: FloatArray  # (N,) at `at_v`
    per_volt: FloatArray  # (N,)
    latched: BoolArray

    def amps(self, battery_v: float) -> float:
        """Return the current the network takes [A]."""
        return self.current_a + self.slope_s * (battery_v - self.at_v)

    def volts(self, node: int, battery_v: float) -> float:
        """Return a node's voltage [V]."""
        return float(self.voltage[node] + self.per_volt[node] * (battery_v - self.at_v))


class Port:
    """The port of one installation. It remembers every equivalent it has made; `solves` counts the network solves."""

    def __init__(self, installation: Installation) -> None:
        self.compiled: Compiled = compile_netlist(joined_netlist(installation))
        self.node: Mapping[str, int] = self.compiled.node
        self.solves = 0
        self._emf = emf_of(self.compiled)
        self._battery = self.compiled.element["v:battery"]
        self._others = [self.compiled.element[n] for n in ("v:battery-charging", "v:alternator")]
        self._known: dict[tuple[State, frozenset[str], bytes], list[PortEquivalent]] = {}
        self._moves: dict[tuple[State, frozenset[str], bytes, float], PortEquivalent] = {}
        self.relays = len(self.compiled.branches.latches)
        motors = [e for e in self.compiled.netlist.elements if e.id.endswith("/starter-motor")]
        coils = {self.compiled.element[e.coil] for e in motors if e.coil is not None}
        self._starters = [i for i, latch in enumerate(self.compiled.branches.latches) if latch.coil in coils]

    def engaged(self, latched: BoolArray) -> bool:
        """Tell whether the starter's solenoid or relay is pulled in."""
        return any(bool(latched[i]) for i in self._starters)

    def rest(self) -> BoolArray:
        """Return all relays dropped out."""
        return np.zeros(self.relays, dtype=np.bool_)

    def at(
        self, state: State, battery_v: float, latched: BoolArray, opened: frozenset[str] = frozenset()
    ) -> PortEquivalent:
        """Return an equivalent that holds at a battery voltage, with the relays coming from where they were.

        Parameters
        ----------
        state
            Of key, stimuli and commands.
        battery_v
            At the battery [V].
        latched
            Relays before, shape (R,).
        opened
            Elements that are open, such as a blown fuse.
        """
        kept = self._known.get((state, opened, latched.tobytes()), [])
        for one in kept:
            if one.low_v <= battery_v <= one.high_v:
                return one
        # A relay that chatters makes the same two moves over and over.
        move = (state, opened, latched.tobytes(), round(battery_v, 4))
        if move in self._moves:
            return self._moves[move]
        made = self._moves[move] = self._make(state, battery_v, latched, opened)
        # Where relays have moved, its range is that of the relays as they are now, not of the move.
        self._known.setdefault((state, opened, made.latched.tobytes()), []).append(made)
        return made

    def _make(self, state: State, battery_v: float, latched: BoolArray, opened: frozenset[str]) -> PortEquivalent:
        branches = self.compiled.branches
        lanes = 3
        scale = np.repeat(scale_of(self.compiled.netlist, [state]), lanes, axis=1)
        emf = np.repeat(self._emf, lanes, axis=1)
        hold_battery(self.compiled, scale, emf, battery_v + np.array([0.0, -_STEP_V, _STEP_V]))
        for name in opened:
            scale[self.compiled.element[name]] = OPEN_RATIO
        found = solve(branches, scale, emf, latched=np.repeat(latched[:, None], lanes, axis=1))
        self.solves += 1
        same = [
            lane for lane in (1, 2)
            if (found.segment[:, lane] == found.segment[:, 0]).all()
            and (found.latched[:, lane] == found.latched[:, 0]).all()
        ]  # fmt: skip
        lane = same[0] if same else 1
        delta = float(found.voltage[self.node[BATTERY], lane] - found.voltage[self.node[BATTERY], 0])
        slope = (found.voltage[:, lane] - found.voltage[:, 0]) / delta
        current = (found.current[:, lane] - found.current[:, 0]) / delta
        low, high = -np.inf, np.inf
        if not same:
            low, high = battery_v - _STEP_V / 2, battery_v + _STEP_V / 2  # on the very edge of a segment
        else:
            segment = found.segment[:, 0].astype(np.int64)
            low, high = self._range(battery_v, found.voltage[:, 0], slope, emf[:, 0], segment)
            low, high = self._relay_range(battery_v, found.current[:, 0], current, found.latched[:, 0], (low, high))
        return PortEquivalent(
            at_v=battery_v, low_v=low, high_v=high,
            current_a=-float(found.current[self._battery, 0]), slope_s=-float(current[self._battery]),
            voltage=found.voltage[:, 0].copy(), per_volt=slope, latched=found.latched[:, 0].copy(),
        )  # fmt: skip

    def _range(
        self,
        at_v: float,
        voltage: FloatArray,
        slope: FloatArray,
        emf: FloatArray,
        segment: IntArray,
    ) -> tuple[float, float]:
        """Return between which battery voltages no branch leaves its segment."""
        branches = self.compiled.branches
        v, s = np.append(voltage, 0.0), np.append(slope, 0.0)
        across = v[branches.a] - v[branches.b] - emf
        rate = s[branches.a] - s[branches.b]
        each = np.arange(branches.count)
        walls = np.concatenate(
            [np.full((branches.count, 1), -np.inf), branches.breaks, np.full((branches.count, 1), np.inf)], axis=1
        )
        below, above = walls[each, segment], walls[each, segment + 1]
        moving = np.abs(rate) > 1e-9
        moving[[self._battery, *self._others]] = False
        with np.errstate(invalid="ignore"):
            one = (below[moving] - across[moving]) / rate[moving]
            other = (above[moving] - across[moving]) / rate[moving]
        down, up = np.minimum(one, other), np.maximum(one, other)
        return at_v + float(down.max(initial=-np.inf)), at_v + float(up.min(initial=np.inf))

    def _relay_range(
        self, at_v: float, current: FloatArray, rate: FloatArray, latched: BoolArray, within: tuple[float, float]
    ) -> tuple[float, float]:
        """Narrow a range to where no relay pulls in or drops out."""
        low, high = within
        for relay, latch in enumerate(self.compiled.branches.latches):
            now, per = (
                abs(float(current[latch.coil])),
                float(rate[latch.coil]) * np.sign(float(current[latch.coil]) or 1.0),
            )
            if abs(per) < 1e-12:
                continue
            edge = latch.drop_out_a if latched[relay] else latch.pull_in_a
            at = at_v + (edge - now) / per
            if at < at_v:
                low = max(low, at)
            else:
                high = min(high, at)
        return low, high

    def index(self, node: str) -> int:
        """Return the index of a node; battery negative has none."""
        if node == GROUND:
            raise KeyError(node)
        return self.node[node]
