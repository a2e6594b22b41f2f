"""The books of a rehearsal: what happened and when, the record in time, and charge and energy for the balances."""

import numpy as np

from loomwright.network.states import State
from loomwright.starting.car_now import RPM, CarNow
from loomwright.starting.engine import battery_emf_v, battery_ohm, starter_current_a
from loomwright.starting.port import PortEquivalent
from loomwright.starting.record import Energy, Frame, Happening, Moment
from loomwright.starting.supply import Supply, accepting_ohm

__all__ = ["Ledger"]

_RECORD_FINE_S = 0.02
_INRUSH_S = 0.3
"""From here after it has engaged a starter has run up, and a meter shows what the battery holds while it cranks [s].

Common practice; the crankshaft is within a tenth of its cranking speed by then.
"""


class Ledger:
    """Everything that is written down while a rehearsal goes on."""

    def __init__(self, car: CarNow) -> None:
        self.car = car
        self.moments: list[Moment] = []
        self.happenings: list[Happening] = []
        self.frames: list[Frame] = []
        self.lowest_v, self.peak_a = car.battery_v, 0.0
        self.cranking_v: float | None = None
        self.drawn_as = 0.0
        self.cranks: list[list[float]] = []
        self.asked: list[list[float]] = []
        self._energy = np.zeros(6)
        self._told = 0  # happenings that stand in a frame

    def tell(self, words: str, mode: str) -> None:
        """Write down that something happened."""
        self.happenings.append(Happening(time_s=round(self.car.time_s, 3), words=words, mode=mode))

    def span(self, values: list[list[float]], dt: float, *, on: bool) -> None:
        """Lengthen the last of some spans of time while a thing is on, or begin another."""
        now = self.car.time_s
        if on and values and values[-1][1] >= now - 1e-6:
            values[-1][1] = now + dt
        elif on:
            values.append([now, now + dt])

    def book(self, found: PortEquivalent, supply: Supply, dt: float, mode: str, outputs: frozenset[str]) -> None:
        """Keep the books of charge and energy over a step, and the record at its beginning."""
        car, m = self.car, self.car.machine
        v, amps, motor, alternator = supply
        charging = amps < 0.0
        ohm = accepting_ohm(m, car.charge) if charging else battery_ohm(m.cca_a, m.temperature_c, car.charge)
        taken = found.amps(v) if car.powered else 0.0
        starter_ohm = 1.0 / starter_current_a(m, 1.0, 0.0)
        flows = (
            battery_emf_v(car.charge) * amps, v * alternator, ohm * amps**2, v * taken, starter_ohm * motor**2,
            m.k_v_s * car.speed * motor,
        )  # fmt: skip
        self._energy += dt * np.array(flows)
        self.drawn_as += amps * dt
        car.charge = min(max(car.charge - amps * dt / (3600.0 * m.capacity_ah), 0.0), 1.0)
        if car.powered:
            self.lowest_v = min(self.lowest_v, v)
            if motor > 0.0 and self.cranks and car.time_s - self.cranks[-1][0] >= _INRUSH_S:
                self.cranking_v = v if self.cranking_v is None else min(self.cranking_v, v)
        self.peak_a = max(self.peak_a, motor)
        self._frame(v, mode, car.state(outputs))
        last = self.moments[-1] if self.moments else None
        shown = tuple(sorted(outputs))
        due = last is None or car.time_s - last.time_s >= (_RECORD_FINE_S if dt < 0.1 else 1.0)
        if due or (last is not None and (last.outputs != shown or last.mode != mode)):
            self.moments.append(
                Moment(
                    time_s=round(car.time_s, 4), mode=mode, rpm=round(car.speed * RPM, 1), battery_v=round(v, 3),
                    battery_a=round(amps, 2), starter_a=round(motor, 2), outputs=shown, heater_c=round(car.heater_c, 1),
                )
            )  # fmt: skip

    def _frame(self, v: float, mode: str, state: State) -> None:
        """Keep the whole state where something has happened since the last frame."""
        if self.frames and len(self.happenings) == self._told and self.frames[-1].state == state:
            return
        words = tuple(h.words for h in self.happenings[self._told :])
        self._told = len(self.happenings)
        self.frames.append(
            Frame(
                time_s=round(self.car.time_s, 3), words=words, mode=mode, state=state, opened=self.car.opened(),
                battery_v=round(v, 3), rpm=round(self.car.speed * RPM, 1),
            )
        )  # fmt: skip

    @property
    def energy(self) -> Energy:
        """What went where."""
        battery, alternator, heat, network, starter, shaft = (float(x) for x in self._energy)
        return Energy(
            battery_j=battery, alternator_j=alternator, resistance_j=heat, network_j=network, starter_heat_j=starter,
            shaft_j=shaft,
        )  # fmt: skip
