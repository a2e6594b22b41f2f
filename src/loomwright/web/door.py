"""The door of a workbench that is open to the network: the passphrase, and how often it may be guessed."""

import hmac
import secrets
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from threading import Lock

__all__ = ["Door", "Said"]

_WINDOW_S = 60.0
_WRONG_OF_ONE = 5  # from one address in the window
_WRONG_OF_ALL = 60  # from all together: somebody with many addresses guesses no faster than 60 a minute
_ADDRESSES = 10_000  # remembered at most


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What comes of a passphrase that somebody said: let in, or how long to wait [s], 0 where they may try again."""

    let_in: bool
    wait_s: int = 0


class Door:
    """Knows the passphrase and who said wrong ones. It may be used from several threads at once.

    While somebody has to wait, even the right passphrase is not taken: else waiting would be no matter to one who
    guesses. A browser that was let in keeps a word made with a secret of this very run, so that neither can the
    passphrase be tried by making up such words, nor is one of them worth anything after a restart.
    """

    def __init__(self, passphrase: str | None, clock: Callable[[], float] = time.monotonic) -> None:
        self._passphrase = passphrase
        self._clock = clock
        self._secret = secrets.token_bytes(32)
        self._guard = Lock()
        self._wrong: OrderedDict[str, list[float]] = OrderedDict()
        self._wrong_of_all: list[float] = []

    @property
    def is_open(self) -> bool:
        """Tell whether nobody needs to say anything."""
        return self._passphrase is None

    def word(self) -> str:
        """Return what a browser keeps that was let in."""
        return hmac.new(self._secret, (self._passphrase or "").encode(), sha256).hexdigest()

    def knows(self, word: str) -> bool:
        """Tell whether a browser was let in."""
        return self.is_open or hmac.compare_digest(word.encode(), self.word().encode())

    def says(self, address: str, said: bytes) -> Said:
        """Judge a passphrase.

        Parameters
        ----------
        address
            From where it was said.
        said
            The passphrase in UTF-8.
        """
        right = self.is_open or hmac.compare_digest(said, (self._passphrase or "").encode())
        with self._guard:  # asking and counting are one step, so that many at once guess no more often
            now = self._clock()
            since = now - _WINDOW_S
            mine = [moment for moment in self._wrong.get(address, ()) if moment > since]
            self._wrong_of_all = [moment for moment in self._wrong_of_all if moment > since]
            if len(mine) >= _WRONG_OF_ONE:
                return Said(let_in=False, wait_s=_wait_s(mine[-_WRONG_OF_ONE], since))
            if len(self._wrong_of_all) >= _WRONG_OF_ALL:
                return Said(let_in=False, wait_s=_wait_s(self._wrong_of_all[-_WRONG_OF_ALL], since))
            if right:
                self._wrong.pop(address, None)
                return Said(let_in=True)
            self._wrong_of_all.append(now)
            self._wrong[address] = [*mine, now]
            self._wrong.move_to_end(address)
            while len(self._wrong) > _ADDRESSES:
                self._wrong.popitem(last=False)
        return Said(let_in=False)


def _wait_s(oldest: float, since: float) -> int:
    return int(oldest - since) + 1
