"""Where the key is in a state, in words: with the key off it is out of the lock unless the state wants it in."""

from collections.abc import Mapping

from loomwright.network.states import State

__all__ = ["key_words"]


def key_words(keys: Mapping[str, str], state: State) -> str:
    """Return where the key is in a state, or what the button was told.

    Parameters
    ----------
    keys
        How this car's key positions are called.
    state
        The state.
    """
    if state.holds("engine running"):
        return keys["running"]
    if state.key == "off" and state.holds("key in lock"):
        return keys["in lock"]
    return keys[state.key]
