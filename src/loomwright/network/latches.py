"""Relays on top of the search: pull in, drop out, and what it means when they never come to rest.

All relays of a lane move at once on the settled solution. A lane whose relays come back to an earlier state is begun
again with one relay at a time, the fastest first. If that comes to rest the outcome depends on their speed, a *race*;
if it cycles too, no speed helps and the relays *chatter*. Both are facts about the circuit.
"""

from enum import IntEnum

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import BoolArray, FloatArray, Latch

__all__ = ["Outcome", "Relays"]


class Outcome(IntEnum):
    """How the relays of one lane ended."""

    SETTLED = 0
    CHATTERS = 1
    RACE = 2


class Relays:
    """The relays of the lanes that are still looked at.

    Parameters
    ----------
    latches
        The relays.
    begin
        Pulled in at the beginning, shape (R, lanes).
    held
        Relays that stay as they are whatever their current, shape (R, lanes).
    """

    def __init__(self, latches: tuple[Latch, ...], begin: BoolArray, held: BoolArray) -> None:
        self._pull_in = np.array([latch.pull_in_a for latch in latches], dtype=np.float64)[:, None]
        self._drop_out = np.array([latch.drop_out_a for latch in latches], dtype=np.float64)[:, None]
        self._fastest = np.argsort([latch.operate_s for latch in latches], kind="stable")
        lanes = begin.shape[1]
        self._begin = begin.copy()
        self._held = held.copy()
        self.state: BoolArray = begin.copy()
        self.outcome: npt.NDArray[np.int8] = np.zeros(lanes, dtype=np.int8)
        self.restless: BoolArray = np.zeros_like(begin)
        self._singly = np.zeros(lanes, dtype=np.bool_)
        self._round = 0
        self._since = np.zeros(lanes, dtype=np.int64)
        self._seen: list[BoolArray] = []
        self._noted: list[BoolArray] = []

    def keep(self, lanes: npt.NDArray[np.intp]) -> None:
        """Forget the other lanes."""
        for name in ("_begin", "_held", "state", "restless"):
            setattr(self, name, getattr(self, name)[:, lanes])
        self.outcome = self.outcome[lanes]
        self._singly = self._singly[lanes]
        self._since = self._since[lanes]
        self._seen = [seen.take(lanes, axis=1) for seen in self._seen]
        self._noted = [noted[lanes] for noted in self._noted]

    def extend(self, begin: BoolArray, held: BoolArray) -> None:
        """Take more lanes in."""
        lanes = begin.shape[1]
        for name, more in (("_begin", begin), ("_held", held), ("state", begin), ("restless", np.zeros_like(begin))):
            setattr(self, name, np.concatenate([getattr(self, name), more], axis=1))
        self.outcome = np.append(self.outcome, np.zeros(lanes, dtype=np.int8))
        self._singly = np.append(self._singly, np.zeros(lanes, dtype=np.bool_))
        self._since = np.append(self._since, np.full(lanes, self._round))
        self._seen = [np.concatenate([seen, begin], axis=1) for seen in self._seen]
        self._noted = [np.append(noted, np.zeros(lanes, dtype=np.bool_)) for noted in self._noted]

    def move(self, current: FloatArray, settled: BoolArray) -> BoolArray:
        """Move the relays of the settled lanes; returns the lanes in which one moved.

        Parameters
        ----------
        current
            Current through each coil, shape (R, lanes) [A].
        settled
            Lanes whose segments are found; the others keep their relays.
        """
        size = np.abs(current)
        want = np.where(self.state, size > self._drop_out, size >= self._pull_in)
        change = (want != self.state) & ~self._held & settled
        moved: BoolArray = np.asarray(change.any(axis=0))
        self.outcome[settled & ~moved & self._singly] = Outcome.RACE
        if not moved.any():
            return moved
        needed = int(self._since.min()) - self._first
        if needed > 0:
            del self._seen[:needed], self._noted[:needed]
        self._seen.append(self.state.copy())
        self._noted.append(moved.copy())
        self._round += 1
        lanes = np.flatnonzero(moved & self._singly)
        if lanes.size:
            ordered = change[self._fastest][:, lanes]
            one = np.zeros_like(change)
            one[self._fastest[np.argmax(ordered, axis=0)], lanes] = True
            change = np.where(self._singly, one, change)
        self.state ^= change
        for lane in np.flatnonzero(self._again(moved)):
            self._close(int(lane))
        # A lane that chatters has come to its end.
        return np.asarray(moved & (self.outcome != Outcome.CHATTERS))

    @property
    def _first(self) -> int:
        """Number of the round that the remembered states begin with."""
        return self._round - len(self._seen)

    def _again(self, moved: BoolArray) -> BoolArray:
        again = np.zeros_like(moved)
        for number, (seen, noted) in enumerate(zip(self._seen, self._noted, strict=True), self._first):
            lanes = np.flatnonzero(moved & noted & (self._since <= number))
            again[lanes] |= (seen.take(lanes, axis=1) == self.state.take(lanes, axis=1)).all(axis=0)
        return again

    def _close(self, lane: int) -> None:
        """Deal with a lane whose relays are back in a state they have been in."""
        history = [
            seen[:, lane]
            for number, (seen, noted) in enumerate(zip(self._seen, self._noted, strict=True), self._first)
            if noted[lane] and number >= self._since[lane]
        ]
        back = next(at for at, seen in enumerate(history) if (seen == self.state[:, lane]).all())
        cycle = np.array(history[back:])
        self.restless[:, lane] = cycle.any(axis=0) & ~cycle.all(axis=0)
        if self._singly[lane]:
            self.outcome[lane] = Outcome.CHATTERS
            # The last state that was solved is the one to report.
            self.state[:, lane] = history[-1]
        else:
            self._singly[lane] = True
            self.state[:, lane] = self._begin[:, lane]
            self._since[lane] = self._round
