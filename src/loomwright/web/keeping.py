"""A bounded cache for what is computed from documents that never change under their key."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

__all__ = ["Kept"]

_V = TypeVar("_V")


class Kept(Generic[_V]):
    """The last so many results, each made once however many ask for it at the same time."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._found: OrderedDict[Hashable, _V] = OrderedDict()
        self._making: dict[Hashable, Lock] = {}
        self._guard = Lock()

    def peek(self, key: Hashable) -> _V | None:
        """Return what is kept under a key, if anything is, making nothing."""
        with self._guard:
            return self._found.get(key)

    def get(self, key: Hashable, make: Callable[[], _V]) -> _V:
        """Return what is kept under a key, making it first where it is not there."""
        with self._guard:
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key]
            making = self._making.setdefault(key, Lock())
        with making:
            with self._guard:
                if key in self._found:
                    return self._found[key]
            try:
                value = make()
            finally:
                with self._guard:
                    self._making.pop(key, None)
            with self._guard:
                self._found[key] = value
                while len(self._found) > self._most:
                    self._found.popitem(last=False)
            return value
