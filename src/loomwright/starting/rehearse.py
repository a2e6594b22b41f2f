"""A start in time: the controller's step, the engine's few equations and the solved network, coupled.

Short steps while something moves, long ones while nothing does. The network is solved anew only where its state, a
segment or a relay changes; the result says how often.
"""

import math
from collections.abc import Iterator, Mapping

import numpy as np

from loomwright.documents.behaviour import KeyPosition, StartRequest
from loomwright.network.paths import end_node
from loomwright.network.sensing import input_level
from loomwright.network.states import State
from loomwright.planning.installation import Installation
from loomwright.starting.engine import (
    LAMP_MARGIN,
    battery_emf_v,
    battery_ohm,
    heater_c,
    heater_need_c,
    heater_time_s,
    machine_of,
    starter_current_a,
)
from loomwright.starting.modes import REST, Decision, EngineSpeed, Inputs, Mode, Timer, changed
from loomwright.starting.port import Port, PortEquivalent
from loomwright.starting.record import Energy, Frame, Happening, Moment, Rehearsal
from loomwright.starting.scenarios import Event, Scenario
from loomwright.starting.settings import FIELD_OF, StartSettings, by_time, start_settings
from loomwright.starting.step import step
from loomwright.starting.supply import Supply, accepting_ohm, settle_supply

__all__ = ["rehearse"]

_FINE_S = 0.005
_COARSE_S = 0.5
_RECORD_FINE_S = 0.02
_IGNITION_V = 6.0
"""An engine computer works down to about 6 V: supply code A of ISO 16750-2."""
_LEAST_V = 6.0
"""A controller works down to here: supply code A of ISO 16750-2 [V]."""
_BRIDGED_S = 0.15
"""And bridges a dip of this length, such as that of the starter's inrush: common practice [s]."""
_CHARGING_SEEN_V = 13.2
"""From here on a controller takes the battery for one that is being charged: common practice [V]."""
_SEEN_S = 0.5
"""For how long it must be so: common practice [s]."""
_COMPUTER_CRANK_S = 10.0
"""How long an engine computer cranks by itself: common practice [s]."""
_GOVERN_PER_S = 8.0
"""How quickly an idle governor closes a difference of speed [1/s]: common practice, settled within half a second."""
_FULL_V = 13.0
"""A smart alternator lets its voltage fall to this while the battery is well charged: common practice [V]."""
_SMART_AFTER_S = 20.0
_RPM = 30.0 / math.pi


class _Run:
    """The state of a rehearsal while it goes on."""

    def __init__(
        self, installation: Installation, scenario: Scenario, settings: StartSettings, port: Port, fine_s: float
    ) -> None:
        self.installation, self.scenario, self.settings, self.port = installation, scenario, settings, port
        car = installation.car
        grid = any(c.function == "intake heater" for c in car.circuits.values())
        self.machine = machine_of(car.traits, scenario.temperature_c, scenario.oil, grid=grid)
        self.fine_s = fine_s
        self.truth = REST
        self.world: dict[str, object] = {
            "key": "off",
            "fuel": True,
            "stall": False,
            "race": False,
            "power": True,
            "kit fuse": True,
        }
        self.time_s = 0.0
        self.speed = 0.0
        self.charge = scenario.charge
        self.heater_c = scenario.temperature_c
        self.lit_until_s: float | None = None
        self.combusts = False
        self.cranked_s = 0.0
        self.mode = Mode()
        self.mode_at: dict[str, float] = {"idle": 0.0}
        self.ends: dict[Timer, float] = {}
        self.commands: frozenset[str] = frozenset()
        self.latched = port.rest()
        self.own_ignition = False  # a button car's own
        self.computer_until_s = -1.0
        self.fine_until_s = 0.0
        self.low_since_s: float | None = None
        self.dark_since_s: float | None = 0.0
        self.charging_since_s: float | None = None
        self.running_since_s: float | None = None
        self.battery_v = battery_emf_v(self.charge)
        self.battery_a = self.starter_a = 0.0
        self.done: set[int] = set()
        self.steps = 0
        self.moments: list[Moment] = []
        self.happenings: list[Happening] = []
        self.frames: list[Frame] = []
        self.told = 0  # happenings that stand in a frame
        self.energy = np.zeros(6)
        self.drawn_as = 0.0
        self.lowest_v, self.peak_a = self.battery_v, 0.0
        self.cranks: list[list[float]] = []
        self.asked: list[list[float]] = []
        self.last_event_s: float | None = None
        self.off_after_s: float | None = None
        self._terminals = self._wired()
        self._ignition_nodes = [
            port.index(node) for c in car.circuits.values() if c.function == "ignition"
            if (node := end_node(c, "load")) in port.node
        ]  # fmt: skip
        self._request = next(
            (c.behaviour for c in car.circuits.values() if isinstance(c.behaviour, StartRequest)), None
        )
        self.hold_s = None if self._request is None else self._request.hold_s
        self._fuse = frozenset(
            f"{j.id}/fuse" for j in installation.joints
            if j.function == "battery feed" and f"{j.id}/fuse" in port.compiled.element
        )  # fmt: skip
        if scenario.drives:
            self.speed, self.combusts = self.machine.idle_rad_s, True
            self.world["key"] = "run"

    def _wired(self) -> dict[str, tuple[object, int]]:
        """Return input -> (terminal, node) of every input that is a level on a wire."""
        terminals = {t.id: t for t in self.installation.kit.controller.terminals}
        out: dict[str, tuple[object, int]] = {}
        for joint in self.installation.joints:
            field = FIELD_OF.get(joint.function)
            terminal = terminals[joint.terminal]
            if (
                field in self.settings.senses
                and field is not None
                and terminal.kind in ("positive input", "negative input")
            ):
                out.setdefault(field, (terminal, self.port.index(f"k:{terminal.id}")))
        return out

    # What the car is like now ----------------------------------------------------------------------------------------

    @property
    def turning(self) -> bool:
        return self.combusts and self.speed > 0.5 * self.machine.idle_rad_s

    def wait_lamp(self) -> bool:
        """Tell whether the car's lamp is lit: from ignition on for as long as its heater needs and a little more."""
        return self.lit_until_s is not None and self.time_s < self.lit_until_s

    def state(self) -> State:
        active = set()
        for name, stimulus in _STIMULI.items():
            if getattr(self.truth, name) is True:
                active.add(stimulus)
        if self.truth.in_park is False:
            active.add("in park")
        if self.turning:
            active.add("engine running")
        if self.wait_lamp():
            active.add("wait lamp lit")
        key: KeyPosition = "run" if self.world["key"] == "run" or self.own_ignition else "off"
        stage = "fitted" if self.world["kit fuse"] else "kit dead"
        commands = self.commands if stage == "fitted" else frozenset()
        return State(stage=stage, key=key, active=frozenset(active), commands=commands)  # type: ignore[arg-type]

    def opened(self) -> frozenset[str]:
        return frozenset() if self.world["kit fuse"] else self._fuse

    def equivalent(self) -> PortEquivalent:
        found = self.port.at(self.state(), self.battery_v, self.latched, self.opened())
        self.latched = found.latched
        return found

    def balance(self, found: PortEquivalent, *, engaged: bool) -> Supply:
        """Return voltage and currents with the network as it is."""
        return settle_supply(
            self.machine, found, charge=self.charge, speed_rad_s=self.speed, engaged=engaged,
            alternator_a=self.machine.alternator_a(self.speed) if self.combusts else 0.0, charging_v=self.charging_v(),
        )  # fmt: skip

    def charging_v(self) -> float:
        smart = self.machine.smart and self.charge > 0.8 and self.running_since_s is not None
        if smart and self.time_s - (self.running_since_s or 0.0) > _SMART_AFTER_S:
            return _FULL_V
        return self.machine.charging_v

    def ignition_live(self, found: PortEquivalent) -> bool:
        """Tell whether the engine's computer is alive; it bridges the short dip of the starter's inrush."""
        volts = (
            [found.volts(n, self.battery_v) for n in self._ignition_nodes] if self.settings.keyed else [self.battery_v]
        )
        on = (self.settings.keyed or self.own_ignition) and bool(self.world["power"])
        if on and max(volts, default=0.0) >= _IGNITION_V:
            self.dark_since_s = None
            return True
        if self.dark_since_s is None:
            self.dark_since_s = self.time_s
        return on and max(volts, default=0.0) > 1.0 and self.time_s - self.dark_since_s <= _BRIDGED_S

    def engaged(self, found: PortEquivalent) -> bool:
        """Tell whether the starter turns: its solenoid by wire, or the car's computer by itself once it was asked."""
        by_wire = self.port.engaged(found.latched)
        if self.settings.keyed and self._request is None:
            return by_wire
        asks = by_wire if self.settings.keyed else {"start button", "brake line"} <= self.commands
        if asks and self.truth.in_park and not self.combusts and self.computer_until_s < self.time_s:
            self.computer_until_s = self.time_s + _COMPUTER_CRANK_S
            self.own_ignition = not self.settings.keyed or self.own_ignition
        if (self.combusts and self.speed * _RPM > self.settings.disengage_rpm) or not self.ignition_live(found):
            self.computer_until_s = -1.0
        return self.time_s < self.computer_until_s

    # What the controller sees ----------------------------------------------------------------------------------------

    def speed_class(self) -> EngineSpeed:
        rpm = self.speed * _RPM
        if self.settings.detection == "voltage":
            seen = self.charging_since_s is not None and self.time_s - self.charging_since_s >= _SEEN_S
            return "running" if seen else "still"
        if rpm >= self.settings.over_rpm:
            return "over"
        return "running" if rpm >= self.settings.disengage_rpm else "cranking" if rpm > 30.0 else "still"

    def sensed(self, found: PortEquivalent, request: str) -> Inputs:
        changes: dict[str, object] = {
            "engine": self.speed_class(), "request": request, "wait_lamp": self.wait_lamp(),
            "battery_low": self.battery_v < self.settings.low_battery_v,
        }  # fmt: skip
        for name, (terminal, node) in self._terminals.items():
            changes[name] = input_level(terminal, found.volts(node, self.battery_v), self.battery_v)  # type: ignore[arg-type]
        return changed(self.truth, changes)

    # Time goes on ----------------------------------------------------------------------------------------------------

    def tell(self, words: str) -> None:
        self.happenings.append(Happening(time_s=round(self.time_s, 3), words=words, mode=self.mode.name))

    def events(self) -> Iterator[Event]:
        for i, event in enumerate(self.scenario.events):
            begin = 0.0 if event.mode is None else self.mode_at.get(event.mode)
            if i not in self.done and begin is not None and self.time_s + 1e-9 >= begin + event.after_s:
                self.done.add(i)
                self.fine_until_s = self.time_s + 1.0
                yield event

    def next_event_s(self) -> float:
        times = [
            begin + e.after_s
            for i, e in enumerate(self.scenario.events)
            if i not in self.done and (begin := 0.0 if e.mode is None else self.mode_at.get(e.mode)) is not None
        ]
        times += [t for t in self.ends.values() if t > self.time_s]
        return min((t for t in times if t > self.time_s + 1e-9), default=math.inf)

    def happen(self) -> str:
        """Let due events happen; returns what is asked of the controller."""
        request = "none"
        for event in self.events():
            self.tell(event.words)
            for name, value in event.sets.items():
                if name == "request":
                    request = str(value)
                elif name in self.world:
                    self.world[name] = value
                    if name == "power" and value:
                        self.battery_v = battery_emf_v(self.charge)
                else:
                    self.truth = changed(self.truth, {name: value})
            if event.mode is not None:
                self.last_event_s, self.off_after_s = self.time_s, None
        if self.world["stall"]:
            self.combusts, self.world["stall"] = False, False
        return request

    def control(self, found: PortEquivalent, request: str) -> None:
        """Ask the controller, unless it has no supply."""
        if self.starved() or not self.world["power"] or not self.world["kit fuse"]:
            # Without supply its relays drop out and it forgets where it was.
            if self.mode.name != "idle":
                self.mode = Mode()
                self.tell("the kit has lost its supply and begins anew")
                self.mode_at["idle"] = self.time_s
            if self.commands and self.last_event_s is not None and self.off_after_s is None:
                self.off_after_s = self.time_s - self.last_event_s
            self.mode, self.commands, self.ends = Mode(), frozenset(), {}
            return
        expired = frozenset(t for t, end in self.ends.items() if self.time_s + 1e-9 >= end)
        decision: Decision = step(self.mode, self.sensed(found, request), expired, self.settings)
        for timer in decision.timers:
            length = self.settings.times_s[timer]
            if timer == "settle" and decision.mode.attempts:
                length = self.settings.rest_s
            self.ends[timer] = self.time_s + length
        if decision.mode.name != self.mode.name:
            self.mode_at[decision.mode.name] = self.time_s
            self.mode = decision.mode
            self.tell(f"the kit: {decision.mode.name}" + (f" ({decision.reason})" if decision.reason else ""))
        self.mode = decision.mode
        if self.commands and not decision.commands and self.last_event_s is not None and self.off_after_s is None:
            self.off_after_s = self.time_s - self.last_event_s
        was = "ignition" in self.commands or "brake line" in self.commands
        now = "ignition" in decision.commands or "brake line" in decision.commands
        if now and not was and self.machine.heater is not None:
            self.lit_until_s = self.time_s + LAMP_MARGIN * heater_time_s(
                self.machine.heater, self.machine.temperature_c
            )
        elif not now:
            self.lit_until_s = None
        if not self.settings.keyed and "start button" in decision.commands and self.mode.name == "stopping":
            self.own_ignition = False
        self.commands = decision.commands

    def starved(self) -> bool:
        """Tell whether the controller's supply has been too low for longer than it can bridge."""
        if self.battery_v >= _LEAST_V:
            self.low_since_s = None
            return False
        if self.low_since_s is None:
            self.low_since_s = self.time_s
        return self.time_s - self.low_since_s > _BRIDGED_S

    def move(self, engaged: bool, live: bool, dt: float) -> float:
        """Move the crankshaft on by a midpoint step; returns the mechanical work of the starter [J]."""
        m = self.machine

        def torque(speed: float, motor_a: float) -> float:
            drive = m.k_v_s * (motor_a - m.loss_a) if engaged and motor_a > 0.0 else 0.0
            burn = 0.0
            if self.combusts:
                burn = max(m.friction_nm(speed) + _GOVERN_PER_S * m.inertia_kg_m2 * (self.goal() - speed), 0.0)
            drag = m.friction_nm(speed) if speed > 0.0 else min(m.friction_nm(0.0), max(drive, 0.0))
            return max(drive, 0.0) + burn - drag

        half = max(self.speed + 0.5 * dt * torque(self.speed, self.starter_a) / m.inertia_kg_m2, 0.0)
        middle = starter_current_a(m, self.battery_v, half) if engaged else 0.0
        new = max(self.speed + dt * torque(half, middle) / m.inertia_kg_m2, 0.0) if half > 0.0 else 0.0
        work = m.k_v_s * half * middle * dt
        if not live:
            self.combusts = False
        able = live and bool(self.world["fuel"]) and engaged and new >= m.least_rad_s
        if able and (m.heater is None or self.heater_c >= heater_need_c(m.temperature_c)):
            self.cranked_s += dt
            if self.cranked_s >= m.fire_s and not self.combusts:
                self.combusts = True
                self.running_since_s = self.time_s
                self.tell("the engine fires")
        elif not engaged:
            self.cranked_s = 0.0
        self.speed = new
        return work

    def span(self, values: list[list[float]], *, on: bool, dt: float) -> None:
        if on and values and values[-1][1] >= self.time_s - 1e-6:
            values[-1][1] = self.time_s + dt
        elif on:
            values.append([self.time_s, self.time_s + dt])

    def advance(self) -> None:
        """One step: events, controller, electrical balance, crankshaft, heater, charge."""
        request = self.happen()
        found = self.equivalent()
        before = self.commands
        self.control(found, request)
        if self.commands != before:
            found = self.equivalent()
        live = self.ignition_live(found)
        engaged = self.engaged(found) and bool(self.world["power"])
        for _ in range(4):
            v, amps, motor, alternator = self.balance(found, engaged=engaged)
            if found.low_v <= v <= found.high_v:
                break
            self.battery_v = v
            found = self.equivalent()
            engaged = self.engaged(found) and bool(self.world["power"])
        if not self.world["power"]:
            v, amps, motor, alternator = 0.0, 0.0, 0.0, 0.0
        self.battery_v, self.battery_a, self.starter_a = v, amps, motor
        charging = v >= _CHARGING_SEEN_V
        self.charging_since_s = (
            (self.charging_since_s if self.charging_since_s is not None else self.time_s) if charging else None
        )
        goal = self.machine.idle_rad_s
        moving = (
            engaged
            or self.mode.name in ("cranking",)
            or abs(self._before - self.speed) > 0.0004 * goal
            or (self.speed > 0 and not self.combusts)
        )
        dt = (
            self.fine_s
            if moving or (self.mode.name in ("ignition on", "waiting", "checking") and self.lit_until_s)
            else _COARSE_S
        )
        dt = min(dt, max(self.next_event_s() - self.time_s, 1e-4), self.scenario.lasts_s - self.time_s + 1e-6)
        self._before = self.speed
        self.book(found, v, amps, motor, alternator, dt)
        self.span(self.cranks, on=engaged and motor > 0.0, dt=dt)
        asks = bool(self.commands & {"start", "second start"}) or {"start button", "brake line"} <= self.commands
        self.span(self.asked, on=asks, dt=dt)
        # A long step would overshoot the crankshaft's own settling, so it is walked in short ones.
        if moving:
            self.move(engaged, live, dt)
        else:
            self.settle(live, dt)
        if self.machine.heater is not None:
            on_v = v if self.wait_lamp() or (engaged and self.lit_until_s is not None) else 0.0
            self.heater_c = heater_c(self.machine.heater, self.heater_c, self.machine.temperature_c, on_v, dt)
        self.time_s += dt
        self.steps += 1

    def frame(self, v: float) -> None:
        """Keep the whole state where something has happened since the last frame."""
        state = self.state()
        if self.frames and len(self.happenings) == self.told and self.frames[-1].state == state:
            return
        words = tuple(h.words for h in self.happenings[self.told :])
        self.told = len(self.happenings)
        self.frames.append(
            Frame(
                time_s=round(self.time_s, 3), words=words, mode=self.mode.name, state=state, opened=self.opened(),
                battery_v=round(v, 3), rpm=round(self.speed * _RPM, 1),
            )
        )  # fmt: skip

    _before = 0.0

    def goal(self) -> float:
        """Return the speed the engine is governed to [rad/s]: half as much again at -30 degC as warm."""
        if self.world["race"]:
            return 6.0 * self.machine.idle_rad_s
        return self.machine.idle_rad_s * (1.0 + 0.5 * max(20.0 - self.machine.temperature_c, 0.0) / 50.0)

    def settle(self, live: bool, dt: float) -> None:
        """Move an engine that is left alone: under its governor the speed closes in on its goal exponentially."""
        if not live or not self.combusts:
            self.combusts = False
            return
        self.speed = self.goal() + (self.speed - self.goal()) * math.exp(-_GOVERN_PER_S * dt)

    def book(self, found: PortEquivalent, v: float, amps: float, motor: float, alternator: float, dt: float) -> None:
        """Keep the books of charge and energy, and the record."""
        m = self.machine
        emf, ohm = (
            battery_emf_v(self.charge),
            accepting_ohm(m, self.charge) if amps < 0.0 else battery_ohm(m.cca_a, m.temperature_c, self.charge),
        )
        taken = found.amps(v) if self.world["power"] else 0.0
        starter_ohm = 1.0 / starter_current_a(m, 1.0, 0.0)
        flows = (
            emf * amps,
            v * alternator,
            ohm * amps**2,
            v * taken,
            starter_ohm * motor**2,
            m.k_v_s * self.speed * motor,
        )
        self.energy += dt * np.array(flows)
        self.drawn_as += amps * dt
        self.charge = min(max(self.charge - amps * dt / (3600.0 * m.capacity_ah), 0.0), 1.0)
        if self.world["power"]:
            self.lowest_v = min(self.lowest_v, v)
        self.peak_a = max(self.peak_a, motor)
        self.frame(v)
        last = self.moments[-1] if self.moments else None
        outputs = tuple(sorted(self.commands))
        due = last is None or self.time_s - last.time_s >= (_RECORD_FINE_S if dt < 0.1 else 1.0)
        if due or (last is not None and (last.outputs != outputs or last.mode != self.mode.name)):
            self.moments.append(
                Moment(
                    time_s=round(self.time_s, 4), mode=self.mode.name, rpm=round(self.speed * _RPM, 1),
                    battery_v=round(v, 3), battery_a=round(amps, 2), starter_a=round(motor, 2), outputs=outputs,
                    heater_c=round(self.heater_c, 1),
                )
            )  # fmt: skip


_STIMULI: Mapping[str, str] = {
    "hood_open": "hood open", "brake_pressed": "brake pressed", "key_in": "key in lock",
    "door_open": "driver door open",
}  # fmt: skip


def rehearse(
    installation: Installation, scenario: Scenario, settings: StartSettings | None = None, port: Port | None = None,
    fine_s: float = _FINE_S,
) -> Rehearsal:  # fmt: skip
    """Rehearse one scenario of an installation.

    Parameters
    ----------
    installation
        Kit and car.
    scenario
        What happens.
    settings
        How the controller is set; as the installation says where left out.
    port
        The network's port of this installation, to share between scenarios.
    fine_s
        Step while something moves [s].

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    used = port or Port(installation)
    before = used.solves
    chosen = settings or start_settings(installation)
    if scenario.by_time:
        chosen = by_time(installation, chosen)
    run = _Run(installation, scenario, chosen, used, fine_s)
    while run.time_s < scenario.lasts_s:
        run.advance()
    battery, alternator, heat, network, starter, shaft = (float(x) for x in run.energy)
    return Rehearsal(
        scenario=scenario, settings=run.settings, machine=run.machine, moments=tuple(run.moments),
        happenings=tuple(run.happenings), frames=tuple(run.frames), lowest_v=run.lowest_v, starter_peak_a=run.peak_a,
        cranks=tuple((a, b) for a, b in run.cranks), asked=tuple((a, b) for a, b in run.asked), charge=run.charge,
        drawn_as=run.drawn_as,
        energy=Energy(
            battery_j=battery, alternator_j=alternator, resistance_j=heat, network_j=network, starter_heat_j=starter,
            shaft_j=shaft,
        ),
        solves=used.solves - before, steps=run.steps, stopped_after_s=run.off_after_s, engine_lives=run.turning,
        hold_s=run.hold_s,
    )  # fmt: skip
