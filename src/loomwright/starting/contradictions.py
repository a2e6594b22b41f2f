"""Settings of the controller that contradict each other, the car or the cold, each with what to do about it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from loomwright.documents.behaviour import StartRequest
from loomwright.network.results import Number
from loomwright.planning.installation import Installation
from loomwright.sentences import told
from loomwright.starting.engine import GLOW, GRID, LAMP_MARGIN, heater_time_s, machine_of
from loomwright.starting.modes import Timer
from loomwright.starting.settings import StartSettings

__all__ = [
    "COLDEST_C", "Contradiction", "CrankNeeded", "WaitPoint", "contradictions", "crank_needed", "speed_window",
    "wait_points",
]  # fmt: skip

COLDEST_C = -30.0
"""The coldest start that is looked at [degC]."""
_TABLE_C = (20.0, 10.0, 0.0, -10.0, -20.0, -30.0)
_OVER_CRANK = 1.25
_UNDER_IDLE = 0.85
# The threshold stays a quarter above the fastest crank and 15 % below idle: common practice against false readings.
_SPARE_S = 1.0  # a cold engine may need a second longer than a typical one: common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """One contradiction: what it is in words, which setting it is about, its numbers, and what to do."""

    id: str
    words: str
    subject: str  # the setting, function or circuit
    advice: str
    numbers: tuple[Number, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitPoint:
    """How long a diesel's heater must be on at a temperature, and how long the kit waits."""

    temperature_c: float
    needed_s: float
    kit_s: float
    enough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CrankNeeded:
    """How long a crank must be allowed to last in the cold [s]: until it fires, is seen, and some to spare."""

    fires_s: float
    seen_s: float
    spare_s: float

    @property
    def total_s(self) -> float:
        """All of it [s]."""
        return self.fires_s + self.seen_s + self.spare_s


def _grid(installation: Installation) -> bool:
    return any(c.function == "intake heater" for c in installation.car.circuits.values())


def speed_window(crank_rpm: float, idle_rpm: float) -> tuple[float, float]:
    """Return between which speeds the starter may be let go: above any crank, below any idle [rpm]."""
    return _OVER_CRANK * crank_rpm, _UNDER_IDLE * idle_rpm


def crank_needed(installation: Installation, settings: StartSettings) -> CrankNeeded:
    """Return how long the coldest crank must be allowed to last."""
    cold = machine_of(installation.car.traits, COLDEST_C, grid=_grid(installation))
    seen = 1.0 if settings.detection == "voltage" else 0.2
    return CrankNeeded(fires_s=cold.fire_s, seen_s=seen, spare_s=_SPARE_S)


def wait_points(installation: Installation, settings: StartSettings) -> tuple[WaitPoint, ...]:
    """Return how long a diesel must wait at each temperature, and how long the kit does; nothing for petrol."""
    if installation.car.traits.fuel != "diesel":
        return ()
    out = []
    for temperature in _TABLE_C:
        want = heater_time_s(GRID if _grid(installation) else GLOW, temperature)
        # A kit that waits for the lamp waits as long as the car's own computer does.
        given = {"lamp": LAMP_MARGIN * want, "time": settings.times_s["wait"], "none": 0.0}[settings.wait]
        out.append(WaitPoint(temperature_c=temperature, needed_s=want, kit_s=given, enough=given >= want))
    return tuple(out)


def contradictions(
    installation: Installation, settings: StartSettings, crank_rpm: float
) -> tuple[Contradiction, ...]:
    """Return every contradiction of an installation's settings.

    Parameters
    ----------
    installation
        Kit and car.
    settings
        How the controller is set.
    crank_rpm
        The fastest that a warm starter turns the engine [rpm].
    """
    return (
        *_waits(installation, settings), *_times(installation, settings), *_speeds(installation, settings, crank_rpm),
    )  # fmt: skip


def _number(name: str, value: float, unit: str, where: str) -> Number:
    return Number(name=name, value=value, unit=unit, where=where)


def _waits(installation: Installation, settings: StartSettings) -> Iterator[Contradiction]:
    diesel = installation.car.traits.fuel == "diesel"
    if diesel and settings.wait == "none":
        yield Contradiction(
            id="diesel-without-wait", subject="wait-to-start",
            words="A diesel is set to be cranked without waiting: set the wait by lamp or by time.",
            advice="Set the wait by the lamp where the kit reads it, else by a time that does for the coldest morning.",
        )  # fmt: skip
    if not diesel and settings.wait != "none":
        yield Contradiction(
            id="petrol-with-wait", subject="wait-to-start",
            words="A petrol engine is set to wait for glow plugs it has not got: set the wait to none.",
            advice="Set the wait to none.",
        )  # fmt: skip
    short = [w for w in wait_points(installation, settings) if not w.enough]
    if short and settings.wait == "time":
        worst = max(short, key=lambda w: w.needed_s)
        yield Contradiction(
            id="wait-too-short", subject="wait-to-start",
            words=told(
                "A wait of {kit:g} s is enough down to {holds}; at {cold:.0f} °C the heater needs {needed:.0f} s.",
                kit=worst.kit_s, holds=_holds_to(wait_points(installation, settings)), cold=worst.temperature_c,
                needed=worst.needed_s,
            ),
            advice="Set a longer wait, or the wait by the lamp, or tell the buyer down to which cold the car starts.",
            numbers=(
                _number("wait as set", worst.kit_s, "s", "wait-to-start"),
                _number("needed", worst.needed_s, "s", "wait-to-start"),
                _number("at", worst.temperature_c, "degC", "wait-to-start"),
            ),
        )  # fmt: skip


def _holds_to(waits: Sequence[WaitPoint]) -> str:
    coldest = min((w.temperature_c for w in waits if w.enough), default=None)
    return "no temperature of the table" if coldest is None else told("{coldest:.0f} °C", coldest=coldest)


def _times(installation: Installation, settings: StartSettings) -> Iterator[Contradiction]:
    times = settings.times_s
    needed = crank_needed(installation, settings).total_s
    # Where the car's computer cranks by itself the limit ends the attempt all the same: the ignition goes with it.
    if times["crank limit"] < needed:
        yield Contradiction(
            id="crank-limit-short", subject="crank-limit",
            words=told(
                "The crank limit of {limit:g} s is short for {cold:.0f} °C, which needs about {needed:.1f} s.",
                limit=times["crank limit"], cold=COLDEST_C, needed=needed,
            ),
            advice="Set a longer crank limit, or tell the buyer down to which cold the car starts.",
            numbers=(
                _number("crank limit", times["crank limit"], "s", "crank-limit"),
                _number("needed", needed, "s", "crank-limit"),
            ),
        )  # fmt: skip
    if settings.pulsed and times["pulse"] >= times["crank limit"]:
        yield Contradiction(
            id="pulse-too-long", subject="start", words="The start pulse is longer than the crank limit.",
            advice="Choose a shorter pulse or a longer crank limit.",
            numbers=(
                _number("pulse", times["pulse"], "s", "start"),
                _number("crank limit", times["crank limit"], "s", "crank-limit"),
            ),
        )  # fmt: skip
    for name, timer, words in _NEVER_ZERO:
        if times[timer] <= 0.0:
            yield Contradiction(
                id="time-of-zero", subject=name, words=words, advice="Set a time greater than zero.",
                numbers=(_number("as set", times[timer], "s", name),),
            )  # fmt: skip
    if settings.attempts < 1:
        yield Contradiction(
            id="no-attempts", subject="attempts", words="The kit is set to make no attempt at all: it never cranks.",
            advice="Set one attempt or more.",
            numbers=(_number("attempts", float(settings.attempts), "", "attempts"),),
        )  # fmt: skip
    for circuit in installation.car.circuits.values():
        if isinstance(circuit.behaviour, StartRequest):
            signal, most = times["pulse" if settings.pulsed else "crank limit"], circuit.behaviour.hold_s
            if signal > most:
                yield Contradiction(
                    id="signal-too-long", subject=circuit.id,
                    words=told(
                        "The start signal lasts {signal:g} s; the car's computer takes {most:g} s.", signal=signal,
                        most=most,
                    ),
                    advice="Set the start output to a pulse that is shorter than that.",
                    numbers=(
                        _number("signal", signal, "s", circuit.id), _number("takes", most, "s", circuit.id),
                    ),
                )  # fmt: skip


_NEVER_ZERO: tuple[tuple[str, Timer, str], ...] = (
    ("crank-limit", "crank limit", "The crank limit is zero: the starter never turns."),
    ("run-time", "run time", "The run time is zero: the engine is stopped as soon as it runs."),
)


def _speeds(installation: Installation, settings: StartSettings, crank_rpm: float) -> Iterator[Contradiction]:
    traits = installation.car.traits
    if settings.detection == "voltage" and traits.alternator == "smart":
        yield Contradiction(
            id="voltage-with-smart-alternator", subject="tach",
            words="The engine is told by the battery voltage, and the alternator of this car lets that fall: the kit "
            "would take a running engine for a stalled one.",
            advice="Tell the engine by its speed wire or over the data bus.",
        )  # fmt: skip
    low, high = speed_window(crank_rpm, traits.idle_rpm or 700.0)
    if settings.detection != "voltage" and not low <= settings.disengage_rpm <= high:
        yield Contradiction(
            id="disengage-outside", subject="tach",
            words=told(
                "The disengage speed of {rpm:.0f} rpm lies outside {low:.0f} to {high:.0f} rpm.",
                rpm=settings.disengage_rpm, low=low, high=high,
            ),
            advice="Teach the kit the idle speed of this engine again, with the engine warm and everything off.",
            numbers=(
                _number("disengage speed", settings.disengage_rpm, "rpm", "tach"), _number("from", low, "rpm", "tach"),
                _number("to", high, "rpm", "tach"),
            ),
        )  # fmt: skip
