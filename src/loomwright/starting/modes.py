"""What the controller's step function takes and gives: mode, inputs and decision."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, get_args

from loomwright.network.states import Command

__all__ = [
    "ENGINE",
    "INPUTS",
    "MODES",
    "REST",
    "Decision",
    "EngineSpeed",
    "Inputs",
    "Mode",
    "ModeName",
    "Request",
    "Timer",
    "changed",
]

ModeName = Literal[
    "idle", "checking", "ignition on", "waiting", "cranking", "running", "takeover", "stopping", "locked out", "valet"
]
MODES: tuple[ModeName, ...] = get_args(ModeName)

# 'running' begins at the disengage speed, 'over' at the over-speed limit.
EngineSpeed = Literal["still", "cranking", "running", "over"]
ENGINE: tuple[EngineSpeed, ...] = get_args(EngineSpeed)

Request = Literal["none", "start", "stop"]

Timer = Literal[
    "check",  # time the controller takes to look at its inputs
    "settle",  # from ignition on until the starter may turn: fuel pump, modules awake; longer between attempts
    "ignition limit",  # longest time with the ignition on and no start
    "wait",  # shortest wait for a diesel's heating, where it is set by time
    "wait limit",  # longest wait for the lamp
    "pulse",  # length of a start signal given as one pulse
    "crank limit",  # longest crank
    "run time",  # longest run
    "stop press",  # longest press of the button that stops a button car
    "stop rest",  # time all stays off after a stop
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mode:
    """What the controller remembers: its mode and the attempts it has made since the last request."""

    name: ModeName = "idle"
    attempts: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """What the controller reads at one moment; None is neither true nor false (a voltage between the thresholds).

    An input that is not wired keeps its value of rest and is never read.
    """

    request: Request = "none"
    hood_open: bool | None = False
    brake_pressed: bool | None = False
    in_park: bool | None = True
    parking_brake: bool | None = True
    engine: EngineSpeed | None = "still"
    wait_lamp: bool | None = False
    key_in: bool | None = False
    door_open: bool | None = False
    battery_low: bool | None = False
    valet: bool | None = False


def changed(inputs: Inputs, changes: Mapping[str, object]) -> Inputs:
    """Return the inputs with some fields changed, named by a table at run time."""
    return replace(inputs, **changes) if changes else inputs  # type: ignore[arg-type]


REST = Inputs()
"""The parked car with nobody near it."""

INPUTS: tuple[str, ...] = (
    "request", "hood_open", "brake_pressed", "in_park", "parking_brake", "engine", "wait_lamp", "key_in", "door_open",
    "battery_low", "valet",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What the controller does now: its mode from here on, the outputs that are on, timers begun anew, and replies."""

    mode: Mode
    commands: frozenset[str] = frozenset()
    timers: tuple[Timer, ...] = ()
    replies: tuple[str, ...] = ()
    reason: str = ""  # id of the guard or limit that decided, empty where none did


if unknown := {"start", "start button"} - set(get_args(Command)):  # pragma: no cover - a slip of the pen
    raise AssertionError(unknown)
