"""The controller while a rehearsal goes on: its step asked again and again, its timers, its supply and what it sees."""

from collections.abc import Callable

from loomwright.documents.kit import Terminal
from loomwright.network.sensing import input_level
from loomwright.planning.installation import Installation
from loomwright.sentences import told
from loomwright.starting.car_now import BRIDGED_S, RPM, CarNow
from loomwright.starting.modes import Decision, EngineSpeed, Inputs, Mode, Timer, changed
from loomwright.starting.port import Port, PortEquivalent
from loomwright.starting.settings import FIELD_OF, StartSettings
from loomwright.starting.step import step

__all__ = ["ControllerNow"]

_LEAST_V = 6.0
"""A controller works down to here: supply code A of ISO 16750-2 [V]."""
_CHARGING_SEEN_V = 13.2
"""From here on a controller takes the battery for one that is being charged: common practice [V]."""
_SEEN_S = 0.5
"""For how long it must be so: common practice [s]."""


def _wired(installation: Installation, settings: StartSettings, port: Port) -> dict[str, tuple[Terminal, int]]:
    """Return input -> (terminal, node) of every input that is a level on a wire."""
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    out: dict[str, tuple[Terminal, int]] = {}
    for joint in installation.joints:
        field = FIELD_OF.get(joint.function)
        terminal = terminals[joint.terminal]
        if field is not None and field in settings.senses and terminal.kind in ("positive input", "negative input"):
            out.setdefault(field, (terminal, port.index(f"k:{terminal.id}")))
    return out


class ControllerNow:
    """The controller at one moment of a rehearsal; `tell` takes what it does in words."""

    def __init__(
        self, installation: Installation, settings: StartSettings, car: CarNow, tell: Callable[[str, str], None]
    ) -> None:
        self.settings, self.car, self._tell = settings, car, tell
        self.mode = Mode()
        self.mode_at: dict[str, float] = {"idle": 0.0}
        self.ends: dict[Timer, float] = {}
        self.commands: frozenset[str] = frozenset()
        self.last_event_s: float | None = None
        self.off_after_s: float | None = None  # from the last event until all its outputs were off
        self._low_since_s: float | None = None
        self._charging_since_s: float | None = None
        self._terminals = _wired(installation, settings, car.port)

    def watch_battery(self, volts: float) -> None:
        """Keep since when the battery has been charged."""
        charging = volts >= _CHARGING_SEEN_V
        since = self._charging_since_s if self._charging_since_s is not None else self.car.time_s
        self._charging_since_s = since if charging else None

    def speed_class(self) -> EngineSpeed | None:
        """Return what it takes the engine for; None where it hears nothing of it over the bus."""
        rpm = self.car.speed * RPM
        if self.settings.detection == "voltage":
            since = self._charging_since_s
            return "running" if since is not None and self.car.time_s - since >= _SEEN_S else "still"
        if not self.car.world["speed signal"]:
            return None if self.settings.detection == "bus" else "still"  # no edges are an engine that stands
        if rpm >= self.settings.over_rpm:
            return "over"
        return "running" if rpm >= self.settings.disengage_rpm else "cranking" if rpm > 30.0 else "still"

    def sensed(self, found: PortEquivalent, request: str) -> Inputs:
        """Return what it reads."""
        battery_v = self.car.battery_v
        changes: dict[str, object] = {
            "engine": self.speed_class(), "request": request, "wait_lamp": self.car.wait_lamp(),
            "battery_low": battery_v < self.settings.low_battery_v,
        }  # fmt: skip
        for name, (terminal, node) in self._terminals.items():
            changes[name] = input_level(terminal, found.volts(node, battery_v), battery_v)
        return changed(self.car.truth, changes)

    def _starved(self) -> bool:
        """Tell whether its supply has been too low for longer than it can bridge."""
        if self.car.battery_v >= _LEAST_V:
            self._low_since_s = None
            return False
        if self._low_since_s is None:
            self._low_since_s = self.car.time_s
        return self.car.time_s - self._low_since_s > BRIDGED_S

    def _note_off(self, commands: frozenset[str]) -> None:
        """Keep when everything went off; the press that stops a button car belongs to the stop."""
        if self.mode.name == "stopping":
            commands -= {"start button"}
        if self.commands and not commands and self.last_event_s is not None and self.off_after_s is None:
            self.off_after_s = self.car.time_s - self.last_event_s

    def ask(self, found: PortEquivalent, request: str) -> None:
        """Ask its step what it does now, unless it has no supply."""
        car = self.car
        if self._starved() or not car.powered or not car.fed:
            # Without supply its relays drop out and it forgets where it was.
            if self.mode.name != "idle":
                self.mode = Mode()
                self._tell("the kit has lost its supply and begins anew", "idle")
                self.mode_at["idle"] = car.time_s
            self._note_off(frozenset())
            self.mode, self.commands, self.ends = Mode(), frozenset(), {}
            return
        expired = frozenset(t for t, end in self.ends.items() if car.time_s + 1e-9 >= end)
        decision: Decision = step(self.mode, self.sensed(found, request), expired, self.settings)
        for timer in decision.timers:
            length = self.settings.times_s[timer]
            if timer == "settle" and decision.mode.attempts:
                length = self.settings.rest_s
            self.ends[timer] = car.time_s + length
        if decision.mode.name != self.mode.name:
            self.mode_at[decision.mode.name] = car.time_s
            became = told("the kit: {mode}", mode=decision.mode.name)
            if decision.reason:
                became = told("the kit: {mode} ({reason})", mode=decision.mode.name, reason=decision.reason)
            self._tell(became, decision.mode.name)
        self.mode = decision.mode
        self._note_off(decision.commands)
        car.switched(was_on=_ignites(self.commands), is_on=_ignites(decision.commands))
        if not self.settings.keyed and "start button" in decision.commands and self.mode.name == "stopping":
            car.own_ignition = False
        self.commands = decision.commands

    @property
    def asks_starter(self) -> bool:
        """Whether it asks for the starter now."""
        return bool(self.commands & {"start", "second start"}) or {"start button", "brake line"} <= self.commands


def _ignites(commands: frozenset[str]) -> bool:
    return "ignition" in commands or "brake line" in commands
