"""States of an installation and the stories made of them.

A state says how far the fitting has come (stage), where the key is, what people and things do (stimuli) and what the
controller commands. Stories are ordered states with relay latches carried along; they are listed, never multiplied
blindly.
"""

from dataclasses import dataclass
from typing import Literal

from loomwright.documents.behaviour import STIMULI, KeyPosition
from loomwright.sentences import linked, told

__all__ = ["Command", "Stage", "State", "state_words"]

Stage = Literal["bare", "fitting", "fitted", "learned", "kit dead", "removed"]
Command = Literal[
    "ignition", "second ignition", "accessory", "accessory 2", "start", "second start", "parking light",
    "parking light left", "parking light right", "lock", "unlock", "driver unlock", "horn", "hatch",
    "factory alarm arm", "factory alarm disarm", "running status", "start button", "brake line",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """One state: `active` lists the stimuli that differ from rest, `commands` the outputs that are on.

    `joined` counts, in stage 'fitting', how many joints of the fitting order are made.
    """

    stage: Stage = "fitted"
    key: KeyPosition = "off"
    active: frozenset[str] = frozenset()
    commands: frozenset[str] = frozenset()
    joined: int | None = None

    def holds(self, stimulus: str) -> bool:
        """Tell whether a stimulus holds, rest values included."""
        return STIMULI[stimulus] != (stimulus in self.active)


_KEY_WORDS = {"off": "key off", "acc": "key in accessory", "run": "key on (run)", "crank": "key held in start"}
_OPPOSITE = {"in park": "selector out of park", "awake": "car asleep"}


def state_words(state: State) -> str:
    """Return the state in plain words: 'key on (run), brake pressed, kit ignition on'."""
    parts = [_KEY_WORDS[state.key]]
    parts += [_OPPOSITE.get(s, s) for s in sorted(state.active)]
    parts += [told("kit {output} on", output=c) for c in sorted(state.commands)]
    return linked(parts, ", ")
