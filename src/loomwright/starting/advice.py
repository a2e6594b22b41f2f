"""Advice on how to set the controller: detection, disengage speed, crank limit, wait, and settings that contradict."""

import math
from dataclasses import dataclass, replace

from loomwright.documents.behaviour import PulseWire, StartRequest
from loomwright.planning.installation import Installation
from loomwright.starting.engine import GLOW, GRID, LAMP_MARGIN, heater_time_s, machine_of, tach_hz
from loomwright.starting.port import Port
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import StartSettings, by_time, start_settings

__all__ = ["Advice", "WaitPoint", "advise"]

_COLDEST_C = -30.0
_TABLE_C = (20.0, 10.0, 0.0, -10.0, -20.0, -30.0)
_OVER_CRANK = 1.25
_UNDER_IDLE = 0.85
# The threshold stays a quarter above the fastest crank and 15 % below idle: common practice against false readings.
_SPARE_S = 1.0  # a cold engine may need a second longer than a typical one: common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitPoint:
    """How long a diesel's heater must be on at a temperature, and how long the kit waits."""

    temperature_c: float
    needed_s: float
    kit_s: float
    enough: bool


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
    contradictions: tuple[str, ...]


def _detection(installation: Installation, settings: StartSettings) -> tuple[str, str]:
    route = next((r for r in installation.routes if r.function == "tach"), None)
    other = "; ".join(f"{r.what}: {r.fact}" for r in route.rejected[:2]) if route else ""
    why = {
        "bus": "The vehicle module hears the engine speed on the bus: no wire to find, and every speed is known.",
        "wire": "A pulse wire tells every speed; its idle must be learned once.",
        "voltage": (
            "Nothing else tells the engine here. The rise of the battery voltage shows a running engine late, does not "
            "show over-speed, and fails with an alternator that lets its voltage fall."
        ),
    }[settings.detection]
    return settings.detection, why + (f" Not taken: {other}" if other else "")


def advise(installation: Installation, port: Port | None = None, settings: StartSettings | None = None) -> Advice:
    """Return the advice for an installation, computed from its car, battery and network; `settings` asks what if.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    settings = settings or start_settings(installation)
    traits = installation.car.traits
    network = port or Port(installation)
    warm = rehearse(installation, replace(SCENARIOS["no-fuel"], lasts_s=20.0), settings, network)
    crank_rpm = max((m.rpm for m in warm.moments if m.starter_a > 0.0), default=0.0)
    idle_rpm = traits.idle_rpm or 700.0
    low, high = _OVER_CRANK * crank_rpm, _UNDER_IDLE * idle_rpm
    disengage = round(math.sqrt(low * high)) if low < high else round(0.5 * (low + high))
    grid = any(c.function == "intake heater" for c in installation.car.circuits.values())
    cold = machine_of(traits, _COLDEST_C, grid=grid)
    late = 1.0 if settings.detection == "voltage" else 0.2
    needed = cold.fire_s + late + _SPARE_S
    waits: list[WaitPoint] = []
    timed = by_time(installation, settings)
    if traits.fuel == "diesel":
        for temperature in _TABLE_C:
            want = heater_time_s(GRID if grid else GLOW, temperature)
            # A kit that waits for the lamp waits as long as the car's own computer does.
            kit = (
                LAMP_MARGIN * want
                if settings.wait == "lamp"
                else settings.times_s["wait"]
                if settings.wait == "time"
                else 0.0
            )
            waits.append(WaitPoint(temperature_c=temperature, needed_s=want, kit_s=kit, enough=kit >= want))
    return Advice(
        detection=_detection(installation, settings)[0],
        detection_why=_detection(installation, settings)[1],
        crank_rpm=crank_rpm,
        disengage_rpm=float(disengage),
        disengage_why=(
            f"A warm engine cranks at {crank_rpm:.0f} rpm and idles at {idle_rpm:.0f} rpm; between {low:.0f} and "
            f"{high:.0f} rpm neither is taken for the other." + _frequency(installation, settings, float(disengage))
        ),
        crank_needed_s=needed,
        crank_why=(
            f"At {_COLDEST_C:.0f} degC the engine fires after about {cold.fire_s:.1f} s of cranking, is seen "
            f"{late:.1f} s later, and may take {_SPARE_S:.0f} s longer."
        ),
        waits=tuple(waits),
        by_time_s=timed.times_s["wait"] if waits and timed.wait == "time" else None,
        contradictions=_contradictions(installation, settings, (low, high), needed, waits),
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
    return f" On this wire {rpm:.0f} rpm are {tach_hz(rpm, pulses[0]):.1f} Hz." if pulses else ""


def _contradictions(
    installation: Installation, settings: StartSettings, speeds: tuple[float, float], needed: float,
    waits: list[WaitPoint],
) -> tuple[str, ...]:  # fmt: skip
    traits = installation.car.traits
    out: list[str] = []
    if traits.fuel == "diesel" and settings.wait == "none":
        out.append("A diesel is set to be cranked without waiting: set the wait by lamp or by time.")
    if traits.fuel != "diesel" and settings.wait != "none":
        out.append("A petrol engine is set to wait for glow plugs it has not got: set the wait to none.")
    if settings.detection == "voltage" and traits.alternator == "smart":
        out.append(
            "The engine is told by the battery voltage, and the alternator of this car lets that fall: the kit would "
            "take a running engine for a stalled one."
        )
    if settings.times_s["crank limit"] < needed:
        out.append(
            f"The crank limit of {settings.times_s['crank limit']:g} s is short for {_COLDEST_C:.0f} degC, which needs "
            f"about {needed:.1f} s."
        )
    if settings.pulsed and settings.times_s["pulse"] >= settings.times_s["crank limit"]:
        out.append("The start pulse is longer than the crank limit.")
    for circuit in installation.car.circuits.values():
        if isinstance(circuit.behaviour, StartRequest):
            signal = settings.times_s["pulse" if settings.pulsed else "crank limit"]
            if signal > circuit.behaviour.hold_s:
                out.append(
                    f"The start signal lasts {signal:g} s; the car's computer takes {circuit.behaviour.hold_s:g} s."
                )
    if settings.detection != "voltage" and not speeds[0] <= settings.disengage_rpm <= speeds[1]:
        out.append(
            f"The disengage speed of {settings.disengage_rpm:.0f} rpm lies outside {speeds[0]:.0f} to "
            f"{speeds[1]:.0f} rpm."
        )
    short = [w for w in waits if not w.enough]
    if short and settings.wait == "time":
        worst = max(short, key=lambda w: w.needed_s)
        out.append(
            f"A wait of {worst.kit_s:g} s is enough down to {_holds_to(waits)}; at {worst.temperature_c:.0f} degC the "
            f"heater needs {worst.needed_s:.0f} s."
        )
    return tuple(out)


def _holds_to(waits: list[WaitPoint]) -> str:
    coldest = min((w.temperature_c for w in waits if w.enough), default=None)
    return "no temperature of the table" if coldest is None else f"{coldest:.0f} degC"
