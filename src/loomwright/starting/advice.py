"""Advice on how to set the controller: detection, disengage speed, crank limit, and wait."""

import math
from dataclasses import dataclass, replace

from loomwright.documents.behaviour import PulseWire
from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told
from loomwright.starting.contradictions import (
    COLDEST_C,
    Contradiction,
    WaitPoint,
    contradictions,
    crank_needed,
    speed_window,
    wait_points,
)
from loomwright.starting.engine import GLOW, GRID, LAMP_MARGIN, heater_time_s, tach_hz
from loomwright.starting.port import Port
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import StartSettings, by_time, start_settings

__all__ = ["Advice", "WaitPoint", "advise", "crank_speed_rpm"]

_SPUN_UP_S = 1.5
"""A starter has run up by then [s]; see `ledger`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to set and why."""

    detection: str
    detection_why: str
    crank_rpm: float  # fastest crank: warm, battery full
    disengage_rpm: float
    disengage_why: str
    crank_needed_s: float
    crank_why: str
    waits: tuple[WaitPoint, ...]
    by_time_s: float | None  # the wait by time that the kit offers a diesel [s]
    contradictions: tuple[Contradiction, ...]


def _detection(installation: Installation, settings: StartSettings) -> tuple[str, str]:
    route = next((r for r in installation.routes if r.function == "tach"), None)
    other = linked((linked((r.what, r.fact), ": ") for r in route.rejected[:2]), "; ") if route else ""
    why = {
        "bus": "The vehicle module hears the engine speed on the bus: no wire to find, and every speed is known.",
        "wire": "A pulse wire tells every speed; its idle must be learned once.",
        "voltage": (
            "Nothing else tells the engine here. The rise of the battery voltage shows a running engine late, does not "
            "show over-speed, and fails with an alternator that lets its voltage fall."
        ),
    }[settings.detection]
    return settings.detection, linked((why, told("Not taken: {other}", other=other) if other else ""))


def crank_speed_rpm(
    installation: Installation, settings: StartSettings, port: Port, temperature_c: float = 20.0
) -> float:
    """Return the fastest that a warm starter turns an engine that does not fire, with a full battery [rpm]."""
    grid = any(c.function == "intake heater" for c in installation.car.circuits.values())
    warms = heater_time_s(GRID if grid else GLOW, temperature_c) if settings.wait == "lamp" else 0.0
    times = settings.times_s
    begins = 1.0 + times["check"] + times["settle"] + max(LAMP_MARGIN * warms, times["wait"])
    scenario = replace(SCENARIOS["no-fuel"], lasts_s=begins + _SPUN_UP_S, temperature_c=temperature_c)
    found = rehearse(installation, scenario, settings, port)
    return max((m.rpm for m in found.moments if m.starter_a > 0.0), default=0.0)


def advise(installation: Installation, port: Port | None = None, settings: StartSettings | None = None) -> Advice:
    """Return the advice for an installation, computed from its car, battery and network; `settings` asks what if.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    settings = settings or start_settings(installation)
    traits = installation.car.traits
    crank_rpm = crank_speed_rpm(installation, settings, port or Port(installation))
    idle_rpm = traits.idle_rpm or 700.0
    low, high = speed_window(crank_rpm, idle_rpm)
    disengage = round(math.sqrt(low * high)) if low < high else round(0.5 * (low + high))
    needed = crank_needed(installation, settings)
    waits = wait_points(installation, settings)
    timed = by_time(installation, settings)
    detection, why = _detection(installation, settings)
    return Advice(
        detection=detection,
        detection_why=why,
        crank_rpm=crank_rpm,
        disengage_rpm=float(disengage),
        disengage_why=linked((
            told(
                "A warm engine cranks at {crank:.0f} rpm and idles at {idle:.0f} rpm; between {low:.0f} and {high:.0f} "
                "rpm neither is taken for the other.", crank=crank_rpm, idle=idle_rpm, low=low, high=high,
            ),
            _frequency(installation, settings, float(disengage)),
        )),
        crank_needed_s=needed.total_s,
        crank_why=told(
            "At {cold:.0f} °C the engine fires after about {fires:.1f} s of cranking, is seen {seen:.1f} s later, "
            "and may take {spare:.0f} s longer.",
            cold=COLDEST_C, fires=needed.fires_s, seen=needed.seen_s, spare=needed.spare_s,
        ),
        waits=waits,
        by_time_s=timed.times_s["wait"] if waits and timed.wait == "time" else None,
        contradictions=contradictions(installation, settings, crank_rpm),
    )


def _frequency(installation: Installation, settings: StartSettings, rpm: float) -> str:
    if settings.detection != "wire":
        return ""
    pulses = [
        c.behaviour.pulses_per_rev
        for j in installation.joints
        if j.function == "tach" and j.circuit is not None
        and isinstance((c := installation.car.circuits[j.circuit]).behaviour, PulseWire)
    ]  # fmt: skip
    return (
        told("On this wire {rpm:.0f} rpm are {hertz:.1f} Hz.", rpm=rpm, hertz=tach_hz(rpm, pulses[0])) if pulses else ""
    )
