"""A start in time: the controller's step, the engine's few equations and the solved network, coupled.

Short steps while something moves, long ones while nothing does. The network is solved anew only where its state, a
segment or a relay changes; the result says how often.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

from loomwright.planning.installation import Installation
from loomwright.starting.car_now import CarNow
from loomwright.starting.controlling import ControllerNow
from loomwright.starting.engine import battery_emf_v
from loomwright.starting.ledger import Ledger
from loomwright.starting.modes import changed
from loomwright.starting.motion import move, settle
from loomwright.starting.port import Port
from loomwright.starting.record import Rehearsal
from loomwright.starting.scenarios import Event, Scenario
from loomwright.starting.settings import StartSettings, by_time, start_settings
from loomwright.starting.supply import Supply

__all__ = ["rehearse"]

_FINE_S = 0.005
_COARSE_S = 0.5
_AFTER_S = 60.0  # what a run takes beside its run time: the start before it and the rest after it


class _Run:
    """A rehearsal while it goes on: car, controller and books, and which events are still to come."""

    def __init__(
        self, installation: Installation, scenario: Scenario, settings: StartSettings, port: Port, fine_s: float
    ) -> None:
        self.scenario, self.fine_s = scenario, fine_s
        self.car = CarNow(installation, scenario, settings, port)
        self.books = Ledger(self.car)
        self.controller = ControllerNow(installation, settings, self.car, self.books.tell)
        self.steps = 0
        self._done: set[int] = set()
        self._speed_before = 0.0

    def _begin_s(self, event: Event) -> float | None:
        """Return from when an event's time counts [s]; None where its mode has not come yet."""
        return 0.0 if event.mode is None else self.controller.mode_at.get(event.mode)

    def _due(self) -> Iterator[Event]:
        for i, event in enumerate(self.scenario.events):
            begin = self._begin_s(event)
            if i not in self._done and begin is not None and self.car.time_s + 1e-9 >= begin + event.after_s:
                self._done.add(i)
                yield event

    def _next_s(self) -> float:
        """Return when something is due to happen next [s]."""
        now = self.car.time_s
        times = [
            begin + e.after_s
            for i, e in enumerate(self.scenario.events)
            if i not in self._done and (begin := self._begin_s(e)) is not None
        ]
        times += [t for t in self.controller.ends.values() if t > now]
        return min((t for t in times if t > now + 1e-9), default=math.inf)

    def _happen(self) -> str:
        """Let due events happen; returns what is asked of the controller."""
        request, car = "none", self.car
        for event in self._due():
            self.books.tell(event.words, self.controller.mode.name)
            for name, value in event.sets.items():
                if name == "request":
                    request = str(value)
                elif name in car.world:
                    car.world[name] = value
                    if name == "power" and value:
                        car.battery_v = battery_emf_v(car.charge)
                else:
                    car.truth = changed(car.truth, {name: value})
            if event.mode is not None:
                self.controller.last_event_s, self.controller.off_after_s = car.time_s, None
        if car.world["stall"]:
            car.combusts, car.world["stall"] = False, False
        return request

    def advance(self) -> None:
        """One step: events, controller, electrical balance, crankshaft, heater, charge."""
        car, controller, books = self.car, self.controller, self.books
        request = self._happen()
        found = car.equivalent(controller.commands)
        before = controller.commands
        controller.ask(found, request)
        if controller.commands != before:
            found = car.equivalent(controller.commands)
        live = car.ignition_live(found)
        engaged = car.engaged(found, controller.commands) and car.powered
        supply: Supply = car.balance(found, engaged=engaged)
        for _ in range(3):
            if found.low_v <= supply[0] <= found.high_v:
                break
            car.battery_v = supply[0]
            found = car.equivalent(controller.commands)
            engaged = car.engaged(found, controller.commands) and car.powered
            supply = car.balance(found, engaged=engaged)
        if not car.powered:
            supply = (0.0, 0.0, 0.0, 0.0)
        car.battery_v, car.battery_a, car.starter_a = supply[:3]
        controller.watch_battery(car.battery_v)
        moving = self._moves(engaged=engaged)
        dt = self._step_s(moving=moving)
        self._speed_before = car.speed
        books.span(books.cranks, dt, on=engaged and car.starter_a > 0.0)
        books.span(books.asked, dt, on=controller.asks_starter)
        books.book(found, supply, dt, controller.mode.name, controller.commands)
        # A long step would overshoot the crankshaft's own settling, so it is walked in short ones.
        if not moving:
            settle(car, dt, live=live)
        elif move(car, dt, engaged=engaged, live=live):
            books.tell("the engine fires", controller.mode.name)
        car.warm(car.battery_v, dt, engaged=engaged)
        car.time_s += dt
        self.steps += 1

    def _moves(self, *, engaged: bool) -> bool:
        car = self.car
        changes = abs(self._speed_before - car.speed) > 0.0004 * car.machine.idle_rad_s
        return engaged or self.controller.mode.name == "cranking" or changes or (car.speed > 0 and not car.combusts)

    def _step_s(self, *, moving: bool) -> float:
        """Return how long the next step may be [s]: up to the next thing that is due, and to the end."""
        car = self.car
        waits = self.controller.mode.name in ("ignition on", "waiting", "checking") and bool(car.lit_until_s)
        dt = self.fine_s if moving or waits else _COARSE_S
        return min(dt, max(self._next_s() - car.time_s, 1e-4), self.scenario.lasts_s - car.time_s + 1e-6)


def _long_enough(scenario: Scenario, settings: StartSettings) -> Scenario:
    """Return a scenario that lasts until what it is about has happened with the times as they are set."""
    waits = settings.times_s["wait"] * max(settings.attempts, 1) if settings.wait == "time" else 0.0
    least = settings.times_s["run time"] + _AFTER_S if "stops-at-run-time" in scenario.expects else 0.0
    return replace(scenario, lasts_s=max(scenario.lasts_s, least) + waits)


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
    scenario = _long_enough(scenario, chosen)
    run = _Run(installation, scenario, chosen, used, fine_s)
    while run.car.time_s < scenario.lasts_s:
        run.advance()
    car, books = run.car, run.books
    return Rehearsal(
        scenario=scenario, settings=chosen, machine=car.machine, moments=tuple(books.moments),
        happenings=tuple(books.happenings), frames=tuple(books.frames), lowest_v=books.lowest_v,
        cranking_v=books.cranking_v, starter_peak_a=books.peak_a, cranks=tuple((a, b) for a, b in books.cranks),
        asked=tuple((a, b) for a, b in books.asked), charge=car.charge, drawn_as=books.drawn_as, energy=books.energy,
        solves=used.solves - before, steps=run.steps, stopped_after_s=run.controller.off_after_s,
        engine_lives=car.turning, hold_s=car.hold_s,
    )  # fmt: skip
