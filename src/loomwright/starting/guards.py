"""The controller's guards and limits, as data: what must not be while a mode lasts, and which property each upholds."""

from dataclasses import dataclass

from loomwright.starting.modes import ModeName

__all__ = ["GUARDS", "LIMITS", "SAFE_SIDE", "Guard"]

_BEFORE: tuple[ModeName, ...] = ("checking", "ignition on", "waiting", "cranking")
_ON: tuple[ModeName, ...] = (*_BEFORE, "running", "takeover")
_ALL: tuple[ModeName, ...] = ("idle", *_ON, "stopping", "locked out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """In these modes the input must not have one of these values.

    `first` limits it to the time before the kit has cranked: an engine that runs then was started by somebody else.
    """

    id: str
    input: str
    unsafe: frozenset[object]
    modes: frozenset[ModeName]
    words: str
    first: bool = False


def _guard(
    name: str, of: str, unsafe: tuple[object, ...], modes: tuple[ModeName, ...], words: str, *, first: bool = False
) -> Guard:
    return Guard(id=name, input=of, unsafe=frozenset(unsafe), modes=frozenset(modes), words=words, first=first)


GUARDS: tuple[Guard, ...] = (
    _guard("valet", "valet", (True,), _ALL, "the service switch is on"),
    _guard("hood", "hood_open", (True,), _ON, "the hood is open"),
    _guard("pedal", "brake_pressed", (True,), _ON, "the brake pedal is pressed"),
    _guard("park", "in_park", (False,), _ON, "the selector is out of park"),
    _guard("parking brake", "parking_brake", (False,), _BEFORE, "the parking brake is not set"),
    # The letter of 1984 lists doors among what stops the engine; with the key in the lock the driver is taking over.
    _guard("door", "door_open", (True,), (*_BEFORE, "running"), "a door is open"),
    _guard("key", "key_in", (True,), _BEFORE, "a key is in the lock"),
    _guard("own engine", "engine", ("running", "over"), _BEFORE, "the engine runs already", first=True),
    _guard("over-speed", "engine", ("over",), ("running", "takeover"), "the engine turns too fast"),
    _guard("battery", "battery_low", (True,), ("checking",), "the battery is low"),
)

LIMITS: frozenset[str] = frozenset({
    "let go",  # the starter is off as soon as the engine runs
    "still first",  # the starter meets a standing engine only
    "crank limit",
    "attempts",
    "run time",
    "lost speed",  # an engine that stands is not taken for one that runs
    "key out",  # a takeover ends when the key is taken out again
    "ignition limit",
    "wait limit",
})  # fmt: skip
"""Limits that rules obey; a rule asks for its limit by name, so that a test can take one away."""

SAFE_SIDE: dict[str, object] = {
    "request": "none", "hood_open": True, "brake_pressed": True, "in_park": False, "parking_brake": False,
    "engine": "over", "wait_lamp": True, "key_in": False, "door_open": True, "battery_low": True, "valet": True,
}  # fmt: skip
"""What an input that is neither true nor false is taken for: the value that stops. (An unsure key gives no rights.)"""
