"""A program that makes processes which save, to be killed by tests: `python -m tests.store.saver`.

Each line that it reads makes a process; it prints the process's id and, when it has ended, that it has. The processes
are forked from one that has everything imported already, since importing takes longer than what is tested.

    save PLACE PERSON SEED      saves without end; prints that it has opened the store, and then number and hash of
                                each revision that was acknowledged
    open  PLACE PERSON -        opens the store and waits
    count PLACE PERSON TIMES    adds 1 to the number in one document so many times, whoever else does
"""

import os
import random
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Self

from loomwright.store.store import Store, open_store
from loomwright.store.values import Attachment, Conflict

_ROOT = Path(__file__).parent.parent.parent


class Savers:
    """The program above, as a test uses it."""

    def __enter__(self) -> Self:
        self._program = subprocess.Popen(
            [sys.executable, "-m", "tests.store.saver"],
            cwd=_ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1,
        )  # fmt: skip
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        assert self._program.stdin is not None
        assert self._program.stdout is not None
        self._program.stdin.close()
        self._program.stdout.close()
        self._program.wait(timeout=60)

    def start(self, *words: object) -> int:
        """Make a process and return its id."""
        assert self._program.stdin is not None
        print(*words, sep="\t", file=self._program.stdin, flush=True)
        return int(self._line().removeprefix("pid "))

    def said(self) -> Iterator[str]:
        """Return the lines of the process until it has ended."""
        while (line := self._line()) != "ended":
            yield line

    def _line(self) -> str:
        assert self._program.stdout is not None
        line = self._program.stdout.readline()
        assert line.endswith("\n"), "the program of savers has ended by itself"
        return line.rstrip("\n")


def save_without_end(store: Store, by: str, seed: str) -> None:
    chance = random.Random(seed)
    _say("opened")
    while True:
        id = f"kit-{chance.randrange(3)}"
        base = store.latest("kit", id) if store.has("kit", id) else None
        if base is not None and base.version > 1 and chance.random() < 0.1:
            saved = store.undo("kit", id, by=by, base=base)
        else:
            text = f"id: {id}\nword: w{chance.randrange(10**9)}\nfill: {'x' * chance.randrange(30_000)}\n"
            photo = Attachment(name="a.jpg", media_type="image/jpeg", data=chance.randbytes(chance.randrange(20_000)))
            saved = store.save("kit", id, text, by=by, base=base, attach=[photo] if chance.random() < 0.3 else [])
        _say(f"{saved.number} {saved.sha256}")


def count_up(store: Store, by: str, times: int) -> int:
    """Add 1 to the number in a document so many times, and return how often somebody else was first.

    Each who counts must be another person: the same text from the same base by the same person is one save, asked for
    twice.
    """
    conflicts = 0
    while times:
        base = store.latest("kit", "shared")
        number = int(base.text.removeprefix("n: "))
        try:
            store.save("kit", "shared", f"n: {number + 1}\n", by=by, base=base)
            times -= 1
        except Conflict:
            conflicts += 1
    return conflicts


def _say(text: str) -> None:
    os.write(1, f"{text}\n".encode())  # one call, so that a kill leaves a whole line or none


def _run(words: list[str]) -> None:
    job, place, by, last = words
    with open_store(place, keep_in=Path(place).parent if "://" not in place else None) as store:
        if job == "count":
            _say(f"conflicts {count_up(store, by, int(last))}")
        elif job == "open":
            signal.pause()
        else:
            save_without_end(store, by, last)


def _main() -> None:
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            _say(f"pid {os.getpid()}")
            try:
                _run(line.rstrip("\n").split("\t"))
            except Exception as problem:
                _say(f"error {problem}")
            os._exit(0)
        os.waitpid(child, 0)
        _say("ended")


if __name__ == "__main__":
    _main()
