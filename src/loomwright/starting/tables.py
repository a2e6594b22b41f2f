"""The step function as tables: every mode, attempt, combination of what the mode reads, and expired timers.

Explorer and provers' models take these tables, so that what they explore is the function itself.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
import numpy.typing as npt

from loomwright.starting.modes import ENGINE, MODES, REST, Inputs, Mode, ModeName, Timer, changed
from loomwright.starting.settings import StartSettings
from loomwright.starting.step import reads, step

__all__ = ["DOMAIN", "ModeTable", "Tables", "combinations", "mode_code", "tabulate"]

_Int = npt.NDArray[np.int64]

DOMAIN: Mapping[str, tuple[object, ...]] = {
    "request": ("none", "start", "stop"), "hood_open": (False, True), "brake_pressed": (False, True),
    "in_park": (True, False), "parking_brake": (True, False), "engine": ENGINE, "wait_lamp": (False, True),
    "key_in": (False, True), "door_open": (False, True), "battery_low": (False, True), "valet": (False, True),
}  # fmt: skip
"""Values of each input, the value of rest first; an undefined one is taken for one of these (see `step.settled`)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ModeTable:
    """All decisions of one mode.

    The place of a combination is a number in mixed radix: inputs in the order of `inputs`, then one bit per timer, the
    last one least. `after` is the code of the next mode, shape (attempts + 1, combinations); `vector` the number of
    the command vector.
    """

    inputs: tuple[str, ...]
    timers: tuple[Timer, ...]
    after: _Int
    vector: _Int

    @property
    def strides(self) -> tuple[int, ...]:
        """Return the stride of each input, then of each timer."""
        sizes = [len(DOMAIN[i]) for i in self.inputs] + [2] * len(self.timers)
        out, at = [], 1
        for size in reversed(sizes):
            out.append(at)
            at *= size
        return tuple(reversed(out))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tables:
    """Every mode's table, and the command vectors they name by number; vector 0 has nothing on."""

    modes: Mapping[ModeName, ModeTable]
    vectors: tuple[frozenset[str], ...]
    attempts: int


def mode_code(mode: Mode, attempts: int) -> int:
    """Return the code of a mode and its attempts, of which there are `attempts` at most."""
    return MODES.index(mode.name) * (attempts + 1) + mode.attempts


def combinations(inputs: tuple[str, ...], timers: tuple[Timer, ...]) -> Iterator[tuple[Inputs, frozenset[Timer]]]:
    """Yield every combination in the order of the tables."""
    for values in product(*(DOMAIN[i] for i in inputs), *((False, True) for _ in timers)):
        seen: dict[str, object] = dict(zip(inputs, values, strict=False))
        bits = values[len(inputs) :]
        yield changed(REST, seen), frozenset(t for t, b in zip(timers, bits, strict=True) if b)


@lru_cache(maxsize=64)
def _all_combinations(
    inputs: tuple[str, ...], timers: tuple[Timer, ...]
) -> tuple[tuple[Inputs, frozenset[Timer]], ...]:
    """Return the combinations, which many settings have in common."""
    return tuple(combinations(inputs, timers))


def tabulate(settings: StartSettings) -> Tables:
    """Ask `step` about everything it can be asked and return its answers."""
    numbers: dict[frozenset[str], int] = {frozenset(): 0}
    modes: dict[ModeName, ModeTable] = {}
    for name in MODES:
        read = reads(name, settings)
        asked = _all_combinations(read.inputs, read.timers)
        after = np.zeros((settings.attempts + 1, len(asked)), dtype=np.int64)
        vector = np.zeros_like(after)
        for attempts in range(settings.attempts + 1):
            mode = Mode(name=name, attempts=attempts)
            for i, (inputs, expired) in enumerate(asked):
                decision = step(mode, inputs, expired, settings)
                after[attempts, i] = mode_code(decision.mode, settings.attempts)
                vector[attempts, i] = numbers.setdefault(decision.commands, len(numbers))
        modes[name] = ModeTable(inputs=read.inputs, timers=read.timers, after=after, vector=vector)
    return Tables(modes=modes, vectors=tuple(numbers), attempts=settings.attempts)
