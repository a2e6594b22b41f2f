"""How the controller is set in one installation: read from the kit's settings and the routes, else common practice."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from loomwright.network.commands import command_table, driven_functions
from loomwright.planning.installation import Installation
from loomwright.sentences import told
from loomwright.starting.guards import GUARDS, LIMITS, Guard
from loomwright.starting.modes import Timer
from loomwright.units import parse_quantity

__all__ = ["FIELD_OF", "Detection", "StartSettings", "by_time", "start_settings"]

Detection = Literal["bus", "wire", "voltage"]

FIELD_OF: Mapping[str, str] = MappingProxyType({
    "hood switch": "hood_open", "brake": "brake_pressed", "park/neutral": "in_park", "parking brake": "parking_brake",
    "tach": "engine", "wait-to-start": "wait_lamp", "key sense": "key_in", "door switch": "door_open",
})  # fmt: skip
"""Function that a route serves -> the input it gives."""

_IDLE_RPM = 700.0
_OWN = frozenset({"request", "engine", "battery_low", "valet"})
# What the controller has without a wire of the car: its remote, some way to tell the engine, its own supply, and its
# service switch (common practice).

# Times where the kit document states none: all common practice.
_DEFAULT_S: Mapping[Timer, float] = MappingProxyType({
    "check": 0.5, "settle": 2.0, "ignition limit": 40.0, "wait": 0.0, "wait limit": 30.0, "pulse": 0.0,
    "crank limit": 4.0, "run time": 900.0, "stop press": 3.0, "stop rest": 5.0,
})  # fmt: skip
_REST_S = 6.0
_WAIT_SPARE_S = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StartSettings:
    """Everything `step` needs to know of the installation.

    `times_s` holds each timer's length [s]; `rest_s` is that of 'settle' between two attempts [s]. `vectors` are the
    outputs that are on in each phase, as the proof of the network takes them. `source` names where a value came from.
    """

    detection: Detection
    senses: frozenset[str]
    keyed: bool
    pulsed: bool
    wait: Literal["lamp", "time", "none"]
    attempts: int
    times_s: Mapping[Timer, float]
    rest_s: float
    vectors: Mapping[str, frozenset[str]]
    disarm: bool = False
    disengage_rpm: float = 450.0
    over_rpm: float = 3000.0
    low_battery_v: float = 12.0
    guards: tuple[Guard, ...] = GUARDS
    limits: frozenset[str] = LIMITS
    source: Mapping[str, str] = field(default_factory=dict)


def _seconds(text: str) -> float | None:
    """Return a setting's value as a time [s], or None where it is no time."""
    try:
        return parse_quantity(text, "s")
    except ValueError:
        return None


def _chosen(installation: Installation, serves: str) -> str | None:
    """Return the chosen value of the setting that has a choice in place of, or in need of, a function's wire."""
    values = dict(installation.settings)
    for setting in installation.kit.settings:
        if any(c.serves == serves for c in setting.choices):
            return values.get(setting.id)
    return None


def _waiting(times: dict[Timer, float]) -> dict[Timer, float]:
    """Return the times with a limit of waiting that is longer than the wait itself, where that is set by time."""
    return {**times, "wait limit": max(times["wait limit"], times["wait"] + _WAIT_SPARE_S)}


def by_time(installation: Installation, settings: StartSettings) -> StartSettings:
    """Return the settings with the wait set by time, as the kit's own choice for that has it; unchanged without one."""
    times = [
        found
        for setting in installation.kit.settings
        for choice in setting.choices
        if choice.serves == "wait-to-start" and (found := _seconds(choice.value)) is not None
    ]
    if not times:
        return settings
    return replace(
        settings, wait="time", senses=settings.senses - {"wait_lamp"},
        times_s=MappingProxyType(_waiting({**settings.times_s, "wait": times[0]})),
    )  # fmt: skip


def start_settings(installation: Installation) -> StartSettings:
    """Return how the controller of this installation is set."""
    values = dict(installation.settings)
    car, kit = installation.car, installation.kit
    source: dict[str, str] = {}
    served = {r.function: r.how for r in installation.routes if r.how not in ("none", "setting")}
    how = served.get("tach")
    detection: Detection = "voltage" if how is None else "bus" if how == "bus" else "wire"
    source["detection"] = told("route of the engine speed: {how}", how=how or "the setting for voltage")
    times = dict(_DEFAULT_S)
    for name, timer in (("run-time", "run time"), ("crank-limit", "crank limit")):
        found = _seconds(values.get(name, ""))
        if found is not None:
            times[timer] = found  # type: ignore[index]
        source[timer] = (
            told("setting {name} of {kit}", name=name, kit=kit.id) if found is not None else "common practice"
        )
    attempts = int(values["attempts"]) if values.get("attempts", "").isdigit() else 2
    source["attempts"] = told("setting attempts of {kit}", kit=kit.id) if "attempts" in values else "common practice"
    pulses = [
        c.pulse_s for s in kit.settings for c in s.choices if c.pulse_s is not None and values.get(s.id) == c.value
    ]
    if pulses:
        times["pulse"] = min(pulses)
    wait_value = _chosen(installation, "wait-to-start")
    wait_s = _seconds(wait_value or "")
    wait: Literal["lamp", "time", "none"] = "none"
    if "wait-to-start" in served:
        wait = "lamp"
    elif wait_s is not None:
        wait, times["wait"] = "time", wait_s
        times = _waiting(times)
    source["wait"] = (
        "the wait lamp"
        if wait == "lamp"
        else told("setting: {wait_value}", wait_value=wait_value)
        if wait_value
        else "common practice"
    )
    senses = {FIELD_OF[f] for f in served if f in FIELD_OF} | _OWN
    if wait != "lamp":
        senses.discard("wait_lamp")
    if car.traits.gearbox != "manual":
        # An automatic is held by its park lock; asking for the parking brake as well is for gearboxes without one.
        senses.discard("parking_brake")
    idle = car.traits.idle_rpm or _IDLE_RPM
    # Between the fastest crank and the slowest idle: two thirds of idle (common practice; see `advice`).
    source["disengage_rpm"] = "two thirds of the idle speed: common practice"
    table = dict(command_table(installation))
    return StartSettings(
        detection=detection,
        senses=frozenset(senses),
        keyed=car.traits.key != "button",
        pulsed=bool(pulses),
        wait=wait,
        attempts=attempts,
        times_s=MappingProxyType(times),
        rest_s=_REST_S,
        vectors=MappingProxyType(table),
        disarm="factory alarm disarm" in driven_functions(installation),
        disengage_rpm=round(idle * 2.0 / 3.0),
        source=MappingProxyType(source),
    )
