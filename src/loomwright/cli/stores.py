"""What the commands that move a store share: opening one that is there, and making one that is not."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from loomwright.errors import LoomwrightError

if TYPE_CHECKING:
    from loomwright.store.store import Store

__all__ = ["made_store", "store_option", "there"]

_Command = TypeVar("_Command", bound=Callable[..., object])


def store_option(words: str) -> Callable[[_Command], _Command]:
    """Return the option that names a store, as every command has it."""
    return click.option("--store", default="loomwright.store", show_default=True, metavar="PATH", help=words)


def there(place: str) -> str | Path:
    """Return the place of a store that is there, for `open_store`.

    Raises
    ------
    LoomwrightError
        Where there is no such file: it would be made, and empty.
    """
    if "://" in place:
        return place
    if not Path(place).is_file():
        raise LoomwrightError(f"{place}: found no store, expected one; name it with --store")
    return Path(place)


@contextmanager
def made_store(place: str) -> "Iterator[Store]":
    """Give a store, made where it is not there; a new file that nothing came into is taken away again."""
    from loomwright.store.store import open_store

    path = None if "://" in place else Path(place)
    is_new = path is not None and not path.exists()
    is_left_empty = False
    try:
        with open_store(place if path is None else path) as store:
            try:
                yield store
            except BaseException:
                is_left_empty = is_new and store.last_number() == 0
                raise
    finally:
        if path is not None and is_left_empty:
            path.unlink(missing_ok=True)
