"""What may befall a start, as data: the car's temperature and battery, and what happens when."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from loomwright.starting.modes import ModeName

__all__ = ["SCENARIOS", "Event", "Scenario", "scenarios_for"]

Fuel = Literal["petrol", "diesel"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something happens `after_s` after the controller has entered a mode, or after the beginning.

    `sets` changes truths of the car: those of the controller's inputs by their names, and besides 'key' (position),
    'fuel', 'stall', 'race' (an engine that revs up by itself), 'power', 'kit fuse' and 'speed signal'.
    """

    words: str
    sets: Mapping[str, object]
    after_s: float
    mode: ModeName | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """One rehearsal: conditions, events, and what must come of it (ids of `verdicts`)."""

    id: str
    words: str
    events: tuple[Event, ...]
    expects: tuple[str, ...]
    temperature_c: float = 20.0
    charge: float = 1.0
    oil: str = "5W"
    lasts_s: float = 60.0
    fuel: Fuel | None = None  # None: any car
    keyed: bool | None = None
    needs: frozenset[str] = field(default_factory=frozenset)  # inputs the kit must have
    lacks: frozenset[str] = field(default_factory=frozenset)  # inputs the kit must not have
    pulsed: bool | None = None
    by_time: bool = False  # the kit is set to wait by time where it could wait by the lamp
    drives: bool = False  # the engine runs on its key at the beginning


def _ask(after_s: float = 1.0) -> Event:
    return Event(words="a start is asked for", sets={"request": "start"}, after_s=after_s)


def _running(words: str, after_s: float = 10.0, **sets: object) -> Event:
    return Event(words=words, sets=sets, after_s=after_s, mode="running")


_NO_FUEL = Event(words="no fuel", sets={"fuel": False}, after_s=0.0)
_ALL: tuple[Scenario, ...] = (
    Scenario(
        id="warm", words="a warm start", events=(_ask(),), expects=("starts", "holds-up", "lets-go", "runs-on"),
        lasts_s=40.0,
    ),
    Scenario(
        id="run-time", words="a warm start left alone until the run time is over", events=(_ask(),),
        expects=("starts", "stops-at-run-time", "all-off", "charge-back"), lasts_s=1320.0,
    ),
    Scenario(
        id="cold", words="a start at -30 °C", events=(_ask(),), expects=("starts", "lets-go"), temperature_c=-30.0,
        lasts_s=90.0,
    ),
    Scenario(
        id="cold-by-time", words="a start at -30 °C with the wait set by time", events=(_ask(),),
        expects=("starts", "cranks-bounded"), temperature_c=-30.0, lasts_s=90.0, fuel="diesel", by_time=True,
    ),
    Scenario(
        id="weak-battery", words="a start at -10 °C with a battery at 55 %", events=(_ask(),),
        expects=("starts", "relay-holds"), temperature_c=-10.0, charge=0.55, lasts_s=90.0,
    ),
    Scenario(
        id="low-battery", words="a start asked of an empty battery", events=(_ask(),),
        expects=("never-cranks", "all-off"), charge=0.0, lasts_s=20.0,
    ),
    Scenario(
        id="no-fuel", words="the engine does not fire", events=(_ask(), _NO_FUEL),
        expects=("attempts-bounded", "cranks-bounded", "all-off"), lasts_s=120.0,
    ),
    Scenario(
        id="stall", words="the engine stalls after firing",
        events=(_ask(), _running("the engine stalls", 2.0, stall=True)),
        expects=("attempts-bounded", "starts"), lasts_s=60.0,
    ),
    Scenario(
        id="takeover", words="the key takes the running engine over",
        events=(
            _ask(), _running("the key is put in and turned to run", 10.0, key_in=True, key="run"),
            _running("the brake pedal is pressed", 13.0, brake_pressed=True),
            Event(words="the brake pedal is pressed", sets={"brake_pressed": True}, after_s=3.0, mode="takeover"),
        ),
        expects=("starts", "all-off", "engine-stays"), keyed=True, lasts_s=50.0,
    ),
    Scenario(
        id="takeover-button", words="the driver of a button car gets in with a key that the kit sees",
        events=(
            _ask(), _running("a key is seen in the car", 10.0, key_in=True),
            _running("the brake pedal is pressed", 13.0, brake_pressed=True),
            Event(words="the brake pedal is pressed", sets={"brake_pressed": True}, after_s=3.0, mode="takeover"),
        ),
        expects=("starts", "all-off", "engine-stays"), keyed=False, needs=frozenset({"key_in"}), lasts_s=50.0,
    ),
    Scenario(
        id="unseen-driver", words="the driver of a button car gets in with a key that the kit cannot see",
        events=(_ask(), _running("the brake pedal is pressed", brake_pressed=True)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), keyed=False, lacks=frozenset({"key_in"}),
        lasts_s=40.0,
    ),
    Scenario(
        id="door", words="a door is opened without a key", events=(_ask(), _running("a door opens", door_open=True)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), needs=frozenset({"door_open"}), lasts_s=40.0,
    ),
    Scenario(
        id="brake", words="the brake pedal is pressed without a key",
        events=(_ask(), _running("the brake pedal is pressed", brake_pressed=True)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), lasts_s=40.0,
    ),
    Scenario(
        id="hood", words="the hood is opened", events=(_ask(), _running("the hood is opened", hood_open=True)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), lasts_s=40.0,
    ),
    Scenario(
        id="hood-cranking", words="the hood is opened while the starter turns",
        events=(
            _ask(), _NO_FUEL,
            Event(words="the hood is opened", sets={"hood_open": True}, after_s=0.5, mode="cranking"),
        ),
        expects=("stops-at-once", "starter-off", "all-off"), lasts_s=30.0,
    ),
    Scenario(
        id="selector", words="the selector is moved out of park without a key, which takes a foot on the brake",
        events=(_ask(), _running("pedal pressed and selector moved", brake_pressed=True, in_park=False)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), lasts_s=40.0,
    ),
    Scenario(
        id="out-of-park", words="a start is asked for with the selector out of park",
        events=(Event(words="the selector stands in drive", sets={"in_park": False}, after_s=0.0), _ask()),
        expects=("starter-still", "all-off"), lasts_s=120.0,
    ),
    Scenario(
        id="over-speed", words="the engine races", events=(_ask(), _running("the engine races", race=True)),
        expects=("starts", "stops-at-once", "all-off", "engine-stops"), needs=frozenset({"speed"}), lasts_s=40.0,
    ),
    Scenario(
        id="speed-lost", words="the signal of the engine speed is lost while the engine runs",
        events=(_ask(), _running("the signal of the engine speed is lost", **{"speed signal": False})),
        expects=("starts", "stops-at-once", "all-off", "engine-stops", "one-attempt"), needs=frozenset({"speed"}),
        lasts_s=40.0,
    ),
    Scenario(
        id="driving", words="a start is asked for while the engine runs on its key",
        events=(
            Event(words="the engine runs on its key", sets={"key_in": True, "key": "run"}, after_s=0.0), _ask(3.0),
        ),
        expects=("never-cranks", "never-on", "engine-stays"), lasts_s=20.0, drives=True,
    ),
    Scenario(
        id="two-requests", words="a start is asked for twice",
        events=(
            _ask(), _ask(1.5),
            Event(words="a start is asked for", sets={"request": "start"}, after_s=0.4, mode="cranking"),
        ),
        expects=("starts", "one-attempt", "lets-go"), lasts_s=40.0,
    ),
    Scenario(
        id="power-lost", words="the battery comes off for a second while the starter turns",
        events=(
            _ask(), _NO_FUEL,
            Event(words="the battery comes off", sets={"power": False}, after_s=0.4, mode="cranking"),
            Event(words="the battery is back", sets={"power": True}, after_s=6.0),
        ),
        expects=("all-off", "no-restart"), lasts_s=30.0,
    ),
    Scenario(
        id="kit-fuse", words="the kit's main fuse blows while the engine runs",
        events=(_ask(), _running("the kit's main fuse blows", **{"kit fuse": False})),
        expects=("starts", "engine-stops"), lasts_s=40.0,
    ),
    Scenario(
        id="held-signal", words="a car whose computer cranks is given its start signal", events=(_ask(),),
        expects=("starts", "signal-short"), pulsed=True, lasts_s=40.0,
    ),
)  # fmt: skip

SCENARIOS: Mapping[str, Scenario] = MappingProxyType({s.id: s for s in _ALL})


def scenarios_for(fuel: str, *, keyed: bool, pulsed: bool, senses: frozenset[str], speed: bool) -> tuple[Scenario, ...]:
    """Return the scenarios that make sense for a car and a kit."""
    have = senses | ({"speed"} if speed else frozenset())
    return tuple(
        s for s in _ALL
        if s.fuel in (None, fuel) and s.keyed in (None, keyed) and s.pulsed in (None, pulsed) and s.needs <= have
        and not s.lacks & have
    )  # fmt: skip
