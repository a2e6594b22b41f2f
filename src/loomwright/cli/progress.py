"""Long work on the command line: how far it is, on one line of the terminal."""

import sys
from collections.abc import Callable

import click

__all__ = ["progress"]


def progress(what: str) -> Callable[[int, int], None]:
    """Return what shows how many are done, on one line of a terminal that goes away again; elsewhere nothing."""
    from loomwright.papers.words.en import order as words

    def tell(done: int, total: int) -> None:
        if sys.stderr.isatty() and total > 1:
            line = words.PROGRESS.format(what=what, done=done, total=total)
            click.echo(f"\r{line}" if done < total else f"\r{' ' * len(line)}\r", nl=False, err=True)

    return tell
