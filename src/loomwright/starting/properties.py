"""What must hold in every order of events, each in plain words with its source, about the car as it truly is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import numpy.typing as npt

from loomwright.starting.modes import ENGINE, MODES, ModeName
from loomwright.starting.settings import StartSettings

__all__ = ["PROPERTIES", "PROPERTY_INPUTS", "Moment", "Property", "properties_of"]

_Bool = npt.NDArray[np.bool_]

PROPERTY_INPUTS = (
    "hood_open", "brake_pressed", "in_park", "parking_brake", "engine", "key_in", "door_open", "valet",
)  # fmt: skip
"""Truths that properties speak of and that therefore vary in every mode, whether it reads them or not."""


@cache
def _places(of: tuple[str, ...], some: tuple[str, ...]) -> _Bool:
    """Tell of each place whether it is one of some; to look that up is many times cheaper than to search."""
    return np.array([one in some for one in of])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moment:
    """Many transitions of one mode at once: the truths of the car (places in their domains), and what the kit does.

    `after` is the index of the next mode; `on` tells that some output is on, `starter` that the starter is really
    energised, `asked` that the kit asks for it, `ignition` that it has the ignition on.
    """

    mode: ModeName
    truth: Mapping[str, npt.NDArray[np.int8]]
    expired: Mapping[str, _Bool]
    after: npt.NDArray[np.int64]
    on: _Bool
    asked: _Bool
    starter: _Bool
    ignition: _Bool
    cranks: npt.NDArray[np.int64] | int

    def true(self, name: str) -> _Bool:
        """Tell where a truth differs from rest: hood open, pedal pressed, out of park, key in, ..."""
        found = self.truth.get(name)
        return np.zeros(len(self.on), dtype=np.bool_) if found is None else np.asarray(found != 0)

    def engine(self, *speeds: str) -> _Bool:
        """Tell where the engine has one of some speeds."""
        return _places(ENGINE, speeds)[self.truth["engine"]]

    def goes(self, *names: ModeName) -> _Bool:
        """Tell where the next mode is one of some."""
        return _places(MODES, names)[self.after]


@dataclass(frozen=True, slots=True, kw_only=True)
class Property:
    """One property: where it is broken, and for which settings it is asked."""

    id: str
    words: str
    source: str
    broken: Callable[[Moment, StartSettings], _Bool]
    applies: Callable[[StartSettings], bool] = lambda _settings: True
    asked: str = ""  # in words, of a car that cranks and runs by itself once it was asked: what the kit does there


_KEPT: tuple[ModeName, ...] = ("ignition on", "waiting", "cranking", "running", "takeover")


def _off_after_stop(m: Moment, _s: StartSettings) -> _Bool:
    return m.goes("idle", "stopping", "locked out", "valet") & m.on


def _expired_in(m: Moment, mode: ModeName, timer: str, *stays: ModeName) -> _Bool:
    if m.mode != mode or timer not in m.expired:
        return np.zeros(len(m.on), dtype=np.bool_)
    return m.expired[timer] & m.goes(*stays)


PROPERTIES: tuple[Property, ...] = (
    Property(
        id="starter-hood", words="The starter never turns with the hood open.",
        source="NHTSA letter of 7 May 1984 (device with hood switch); common practice",
        broken=lambda m, _s: m.starter & m.true("hood_open"),
        asked="The kit never asks the car to crank with the hood open.",
    ),
    Property(
        id="starter-park", words="The starter never turns with the selector out of park.",
        source="49 CFR 571.102 S3.1.3", broken=lambda m, _s: m.starter & m.true("in_park"),
    ),
    Property(
        id="starter-pedal", words="The starter never turns with the brake pedal pressed.",
        source="common practice, with the brake-shift interlock of 49 CFR 571.114 S5.3",
        broken=lambda m, _s: m.starter & m.true("brake_pressed"), applies=lambda s: s.keyed,
    ),
    Property(
        id="starter-running", words="The starter is off as soon as the engine turns above the disengage speed.",
        source="common practice", broken=lambda m, _s: m.starter & m.engine("running", "over"),
        asked="The kit lets go of the button as soon as the engine turns above the disengage speed.",
    ),
    Property(
        id="engage-turning", words="The starter is never switched on while the engine still turns.",
        source="common practice", applies=lambda s: s.detection != "voltage",
        broken=lambda m, _s: (
            m.goes("cranking") & ~m.engine("still") if m.mode != "cranking" else np.zeros(len(m.on), dtype=np.bool_)
        ),
        asked="The kit never asks the car to crank while the engine still turns.",
    ),
    Property(
        id="starter-parking-brake", words="The starter never turns with the parking brake released.",
        source="NHTSA letter of 7 May 1984 (device wanted it set); common practice for gearboxes without a park lock",
        broken=lambda m, _s: m.starter & m.true("parking_brake"), applies=lambda s: "parking_brake" in s.senses,
    ),
    Property(
        id="crank-limit", words="No crank lasts longer than the crank limit.", source="common practice",
        broken=lambda m, _s: _expired_in(m, "cranking", "crank limit", "cranking"),
        asked="The kit asks for no crank longer than the crank limit.",
    ),
    Property(
        id="attempts", words="One request makes no more attempts than are set.", source="common practice",
        broken=lambda m, s: np.broadcast_to(np.asarray(m.cranks > s.attempts), m.on.shape) & m.asked,
    ),
    Property(
        id="ignition-through-crank", words="The ignition stays on while the starter turns.",
        source="DIN 72552: terminal 15 is live in start", applies=lambda s: s.keyed,
        broken=lambda m, _s: m.asked & ~m.ignition,
    ),
    Property(
        id="off-after-stop", words="All outputs are off after a stop, while idle, locked out or switched to service.",
        source="common practice", broken=_off_after_stop,
    ),
    Property(
        id="run-time", words="The kit runs the engine no longer than the run time.",
        source="idling limits such as MGL c.90 s.16A; common practice",
        broken=lambda m, _s: _expired_in(m, "running", "run time", "running", "takeover")
        | _expired_in(m, "takeover", "run time", "running", "takeover"),
    ),
    Property(
        id="no-key-no-drive", words="Without the key the kit drops a running engine as the selector leaves park.",
        source="49 CFR 571.114 S5.1.1; NHTSA letter of 7 May 1984",
        broken=lambda m, _s: m.goes(*_KEPT) & m.true("in_park") & ~m.true("key_in") & m.engine("running", "over"),
    ),
    Property(
        id="hood-stops", words="Nothing is on with the hood open.", source="NHTSA letter of 7 May 1984",
        broken=lambda m, _s: m.on & m.true("hood_open"), asked="The kit has nothing on with the hood open.",
    ),
    Property(
        id="pedal-stops", words="Nothing is on with the brake pedal pressed: the pedal drops the kit.",
        source="common practice", broken=lambda m, _s: m.on & m.true("brake_pressed"),
    ),
    Property(
        id="door-stops", words="Nothing is on with a door open and no key in the lock.",
        source="NHTSA letters of 18 May 1977 and 7 May 1984", applies=lambda s: "door_open" in s.senses,
        broken=lambda m, _s: m.on & m.true("door_open") & ~m.true("key_in"),
    ),
    Property(
        id="key-in-lock", words="With a key in the lock no start begins.", source="common practice",
        applies=lambda s: "key_in" in s.senses,
        broken=lambda m, _s: m.goes("ignition on", "waiting", "cranking") & m.true("key_in"),
    ),
    Property(
        id="driving-refused", words="Nothing comes on for an engine that the kit has not started.",
        source="common practice",
        broken=lambda m, _s: np.broadcast_to(np.asarray(m.cranks == 0), m.on.shape)
        & m.goes("checking", *_KEPT) & m.engine("running", "over"),
    ),
    Property(
        id="lost-speed", words="An engine that stands is not taken for a running one.", source="common practice",
        broken=lambda m, _s: m.goes("running", "takeover") & m.engine("still"),
    ),
    Property(
        id="over-speed", words="An engine that turns too fast is stopped.", source="common practice",
        applies=lambda s: s.detection != "voltage",
        broken=lambda m, _s: m.goes("running", "takeover") & m.engine("over"),
    ),
    Property(
        id="low-battery", words="A low battery is not drained by a start.", source="common practice",
        broken=lambda m, _s: (
            m.goes("ignition on") & m.true("battery_low") if m.mode == "checking" else np.zeros(len(m.on), np.bool_)
        ),
    ),
    Property(
        id="valet", words="Nothing is on while the service switch is on.", source="common practice",
        broken=lambda m, _s: m.on & m.true("valet"),
    ),
    Property(
        id="ignition-bounded", words="The ignition does not stay on for a start that never comes.",
        source="common practice", broken=lambda m, _s: _expired_in(m, "ignition on", "ignition limit", "ignition on"),
    ),
    Property(
        id="wait-lamp", words="The starter does not turn before the wait lamp is out.", source="the car's own lamp",
        applies=lambda s: s.wait == "lamp",
        broken=lambda m, _s: (
            m.goes("cranking") & m.true("wait_lamp") if m.mode == "waiting" else np.zeros(len(m.on), np.bool_)
        ),
    ),
    Property(
        id="wait-bounded", words="The kit does not wait for ever for a lamp.", source="common practice",
        applies=lambda s: s.wait != "none",
        broken=lambda m, _s: _expired_in(m, "waiting", "wait limit", "waiting"),
    ),
)  # fmt: skip


def properties_of(settings: StartSettings) -> tuple[Property, ...]:
    """Return the properties that are asked of a controller set like this, in the words that are true of its car.

    A button car cranks by itself once it was asked, and its engine runs by itself: there the kit's own doing is told,
    and what the car does on its own is rehearsed (see `findings`).
    """
    return tuple(
        replace(p, words=p.asked) if p.asked and not settings.keyed else p
        for p in PROPERTIES
        if p.applies(settings)
    )
