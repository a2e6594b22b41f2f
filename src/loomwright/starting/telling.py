"""A way through the exploration as a story: numbered steps in plain words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from loomwright.sentences import capital, linked, told
from loomwright.starting.modes import REST, Mode, ModeName, Timer, changed
from loomwright.starting.settings import StartSettings
from loomwright.starting.step import step
from loomwright.starting.tables import DOMAIN
from loomwright.starting.wiring import PHASE_OF, Levels

__all__ = ["Step", "StoryStep", "story_of"]

Step = tuple[ModeName, int, Mapping[str, object], tuple[Timer, ...]]
"""The mode before a step, its attempts, the truths of the car and the timers that have run out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoryStep:
    """One step: what happens in the car, and what the controller makes of it."""

    number: int
    words: str
    mode: str
    outputs: tuple[str, ...]
    car: tuple[str, ...] = ()  # what is not at rest in the car then, in words


_HOLDS: Mapping[tuple[str, object], str] = {
    ("hood_open", True): "hood open", ("brake_pressed", True): "brake pedal pressed", ("in_park", False): "out of park",
    ("parking_brake", False): "parking brake released", ("engine", "cranking"): "engine turns",
    ("engine", "running"): "engine runs", ("engine", "over"): "engine too fast", ("wait_lamp", True): "wait lamp lit",
    ("key_in", True): "key in the lock", ("door_open", True): "door open", ("battery_low", True): "battery low",
    ("valet", True): "service switch on",
}  # fmt: skip
_SAYS: Mapping[tuple[str, object], str] = {
    ("request", "start"): "a start is asked for", ("request", "stop"): "a stop is asked for",
    ("hood_open", True): "the hood is open", ("hood_open", False): "the hood is shut",
    ("brake_pressed", True): "the brake pedal is pressed", ("brake_pressed", False): "the brake pedal is let go",
    ("in_park", False): "the selector leaves park", ("in_park", True): "the selector goes to park",
    ("parking_brake", False): "the parking brake is released", ("parking_brake", True): "the parking brake is set",
    ("engine", "still"): "the engine stands", ("engine", "cranking"): "the engine turns slowly",
    ("engine", "running"): "the engine runs", ("engine", "over"): "the engine turns too fast",
    ("wait_lamp", True): "the wait lamp is lit", ("wait_lamp", False): "the wait lamp goes out",
    ("key_in", True): "a key is put in", ("key_in", False): "the key is taken out",
    ("door_open", True): "a door opens", ("door_open", False): "the door is shut",
    ("battery_low", True): "the battery is low", ("battery_low", False): "the battery has recovered",
    ("valet", True): "the service switch is put on", ("valet", False): "the service switch is put off",
}  # fmt: skip
_TIMERS: Mapping[str, str] = {
    "check": "the kit has checked its inputs", "settle": "the ignition has settled",
    "ignition limit": "the longest time with the ignition on is over", "wait": "the waiting time is over",
    "wait limit": "the longest wait is over", "pulse": "the start pulse is over",
    "crank limit": "the crank limit is reached", "run time": "the run time is over",
    "stop press": "the press of the button ends", "stop rest": "the rest after the stop is over",
}  # fmt: skip


def story_of(
    way: Sequence[Step], levels: Mapping[str, Levels],
    settings: StartSettings,
) -> tuple[StoryStep, ...]:  # fmt: skip
    """Return the steps of a way: what changes in the car, then what the controller does with what it reads.

    Each entry is the mode before the step, its attempts, the truths and the expired timers. The controller's answer is
    asked of `step` itself once more.
    """
    before: dict[str, object] = {n: d[0] for n, d in DOMAIN.items()}
    steps = []
    for number, (name, attempts, truth, expired) in enumerate(way, 1):
        changes = [_SAYS[n, v] for n, v in truth.items() if v != before[n] and (n, v) in _SAYS]
        before |= {n: v for n, v in truth.items() if n != "request"}
        seen = {n: levels[n][PHASE_OF[name]][v] if n in levels else v for n, v in truth.items()}
        decision = step(Mode(name=name, attempts=attempts), changed(REST, seen), frozenset(expired), settings)
        outputs = tuple(sorted(decision.commands))
        said = linked((*changes, *(_TIMERS[t] for t in expired)), " and ") or "nothing changes"
        on = told("with {outputs} on", outputs=linked(outputs, ", ")) if outputs else "all off"
        does = told("the kit is {mode}, {on}", mode=_MODE_WORDS[decision.mode.name], on=on)
        steps.append(
            StoryStep(
                number=number,
                words=told(
                    "{said}: {does}.",
                    said=capital(said),
                    does=does,
                ),
                mode=decision.mode.name,
                outputs=outputs,
                car=tuple(_HOLDS[n, v] for n, v in truth.items() if (n, v) in _HOLDS),
            )
        )
    return tuple(steps)


_MODE_WORDS: Mapping[str, str] = {
    "idle": "idle", "checking": "checking its inputs", "ignition on": "about to crank", "waiting": "waiting",
    "cranking": "cranking", "running": "running the engine", "takeover": "handing over", "stopping": "stopping",
    "locked out": "locked out", "valet": "switched to service",
}  # fmt: skip
