"""The car while a rehearsal goes on: what is true in it, its engine, battery and heater, and its network with them."""

import math
from collections.abc import Mapping

from loomwright.documents.behaviour import KeyPosition, StartRequest
from loomwright.network.paths import end_node
from loomwright.network.states import State
from loomwright.planning.installation import Installation
from loomwright.starting.engine import LAMP_MARGIN, battery_emf_v, heater_c, heater_time_s, machine_of
from loomwright.starting.modes import REST
from loomwright.starting.port import Port, PortEquivalent
from loomwright.starting.scenarios import Scenario
from loomwright.starting.settings import StartSettings
from loomwright.starting.supply import Supply, settle_supply

__all__ = ["BRIDGED_S", "RPM", "CarNow"]

RPM = 30.0 / math.pi
"""Turns a minute in a radian a second."""
BRIDGED_S = 0.15
"""A controller bridges a dip of this length, such as that of the starter's inrush: common practice [s]."""
_IGNITION_V = 6.0
"""An engine computer works down to about 6 V: supply code A of ISO 16750-2."""
_COMPUTER_CRANK_S = 10.0
"""How long an engine computer cranks by itself: common practice [s]."""
_FULL_V = 13.0
"""A smart alternator lets its voltage fall to this while the battery is well charged: common practice [V]."""
_SMART_AFTER_S = 20.0

_STIMULI: Mapping[str, str] = {
    "hood_open": "hood open", "brake_pressed": "brake pressed", "key_in": "key in lock",
    "door_open": "driver door open",
}  # fmt: skip


class CarNow:
    """The car at one moment of a rehearsal; it changes as time goes on."""

    def __init__(self, installation: Installation, scenario: Scenario, settings: StartSettings, port: Port) -> None:
        self.settings, self.port = settings, port
        car = installation.car
        grid = any(c.function == "intake heater" for c in car.circuits.values())
        self.machine = machine_of(car.traits, scenario.temperature_c, scenario.oil, grid=grid)
        self.truth = REST
        self.world: dict[str, object] = {
            "key": "off", "fuel": True, "stall": False, "race": False, "power": True, "kit fuse": True,
            "speed signal": True,
        }  # fmt: skip
        self.time_s = 0.0
        self.speed = 0.0
        self.charge = scenario.charge
        self.heater_c = scenario.temperature_c
        self.lit_until_s: float | None = None
        self.combusts = False
        self.cranked_s = 0.0
        self.latched = port.rest()
        self.own_ignition = False  # a button car's own
        self.computer_until_s = -1.0
        self.dark_since_s: float | None = 0.0
        self.running_since_s: float | None = None
        self.battery_v = battery_emf_v(self.charge)
        self.battery_a = self.starter_a = 0.0
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
            self.own_ignition = not settings.keyed

    @property
    def turning(self) -> bool:
        """Whether the engine runs."""
        return self.combusts and self.speed > 0.5 * self.machine.idle_rad_s

    @property
    def powered(self) -> bool:
        """Whether the battery is connected."""
        return bool(self.world["power"])

    @property
    def fed(self) -> bool:
        """Whether the kit's main fuses are whole."""
        return bool(self.world["kit fuse"])

    @property
    def goal(self) -> float:
        """The speed the engine is governed to [rad/s]: half as much again at -30 degC as warm."""
        if self.world["race"]:
            return 6.0 * self.machine.idle_rad_s
        return self.machine.idle_rad_s * (1.0 + 0.5 * max(20.0 - self.machine.temperature_c, 0.0) / 50.0)

    def wait_lamp(self) -> bool:
        """Tell whether the car's lamp is lit: from ignition on for as long as its heater needs and a little more."""
        return self.lit_until_s is not None and self.time_s < self.lit_until_s

    def state(self, commands: frozenset[str]) -> State:
        """Return the state of the network, with what the kit has on."""
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
        on = commands if self.fed else frozenset()
        stage = "fitted" if self.fed else "kit dead"
        return State(stage=stage, key=key, active=frozenset(active), commands=on)  # type: ignore[arg-type]

    def opened(self) -> frozenset[str]:
        """Return the elements that are open: the kit's main fuses, where they have blown."""
        return frozenset() if self.fed else self._fuse

    def equivalent(self, commands: frozenset[str]) -> PortEquivalent:
        """Return the network as it is now; its relays move with it."""
        found = self.port.at(self.state(commands), self.battery_v, self.latched, self.opened())
        self.latched = found.latched
        return found

    def balance(self, found: PortEquivalent, *, engaged: bool) -> Supply:
        """Return voltage and currents with the network as it is."""
        return settle_supply(
            self.machine, found, charge=self.charge, speed_rad_s=self.speed, engaged=engaged,
            alternator_a=self.machine.alternator_a(self.speed) if self.combusts else 0.0, charging_v=self.charging_v(),
        )  # fmt: skip

    def charging_v(self) -> float:
        """Return the voltage that the alternator holds [V]."""
        smart = self.machine.smart and self.charge > 0.8 and self.running_since_s is not None
        if smart and self.time_s - (self.running_since_s or 0.0) > _SMART_AFTER_S:
            return _FULL_V
        return self.machine.charging_v

    def ignition_live(self, found: PortEquivalent) -> bool:
        """Tell whether the engine's computer is alive; it bridges the short dip of the starter's inrush."""
        volts = (
            [found.volts(n, self.battery_v) for n in self._ignition_nodes] if self.settings.keyed else [self.battery_v]
        )
        on = (self.settings.keyed or self.own_ignition) and self.powered
        if on and max(volts, default=0.0) >= _IGNITION_V:
            self.dark_since_s = None
            return True
        if self.dark_since_s is None:
            self.dark_since_s = self.time_s
        return on and max(volts, default=0.0) > 1.0 and self.time_s - self.dark_since_s <= BRIDGED_S

    def engaged(self, found: PortEquivalent, commands: frozenset[str]) -> bool:
        """Tell whether the starter turns: its solenoid by wire, or the car's computer by itself once it was asked."""
        by_wire = self.port.engaged(found.latched)
        if self.settings.keyed and self._request is None:
            return by_wire
        asks = by_wire if self.settings.keyed else {"start button", "brake line"} <= commands
        if asks and self.truth.in_park and not self.combusts and self.computer_until_s < self.time_s:
            self.computer_until_s = self.time_s + _COMPUTER_CRANK_S
            self.own_ignition = not self.settings.keyed or self.own_ignition
        if (self.combusts and self.speed * RPM > self.settings.disengage_rpm) or not self.ignition_live(found):
            self.computer_until_s = -1.0
        return self.time_s < self.computer_until_s

    def switched(self, *, was_on: bool, is_on: bool) -> None:
        """Let the car's own lamp begin with the ignition, and end with it."""
        if is_on and not was_on and self.machine.heater is not None:
            needed = heater_time_s(self.machine.heater, self.machine.temperature_c)
            self.lit_until_s = self.time_s + LAMP_MARGIN * needed
        elif not is_on:
            self.lit_until_s = None

    def warm(self, volts: float, dt: float, *, engaged: bool) -> None:
        """Let the heater go on for a step: it is on with the lamp, and while the starter turns."""
        if self.machine.heater is not None:
            on_v = volts if self.wait_lamp() or (engaged and self.lit_until_s is not None) else 0.0
            self.heater_c = heater_c(self.machine.heater, self.heater_c, self.machine.temperature_c, on_v, dt)
