"""The worker: a bounded queue of long work, one process at a time, and what became of each kept in a folder.

Work that is waiting or going when the workbench is shut down is kept as 'stopped' and shown as that, so that nobody
waits for what will not come; so is work that was going when the program was killed.
"""

import multiprocessing
import shutil
import threading
import time
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path

from loomwright.health.log import LOG, failed
from loomwright.web.asking import WebError
from loomwright.web.working.child import work
from loomwright.web.working.kinds import KINDS
from loomwright.web.working.task import Asked, Made, Task, TaskState

__all__ = ["MOST_KEPT", "MOST_WAITING", "Worker"]

MOST_WAITING, MOST_KEPT = 8, 40
_POLL_S = 0.1
_END_S = 3.0
_STOPPED = "The workbench was shut down before this was done. Nothing of it was kept: ask for it once more."


class Worker:
    """Does long work. It may be asked from several threads at once; the first task starts its own thread."""

    def __init__(self, folder: Path, clock: Callable[[], datetime]) -> None:
        self._folder, self._clock = folder, clock
        self._lock = threading.RLock()
        self._some = threading.Condition(self._lock)
        self._tasks: dict[str, Task] = {}
        self._waiting: deque[tuple[str, Asked]] = deque()
        self._thread: threading.Thread | None = None
        self._closing = False
        self._read()

    def _read(self) -> None:
        for file in sorted(self._folder.glob("*/task.json")) if self._folder.is_dir() else ():
            with suppress(ValueError, OSError):  # what is no task of ours is left alone
                task = Task.of(file.read_text(encoding="utf-8"))
                if file.parent.name == task.id:
                    self._tasks[task.id] = task
                    if not task.has_ended:  # the program was killed while it was at it
                        self._keep_if_possible(replace(task, state="stopped", words=_STOPPED))

    # --- asked by pages -----------------------------------------------------------------------------------------

    def tasks(self) -> tuple[Task, ...]:
        """Return every task, the newest first."""
        with self._lock:
            return tuple(sorted(self._tasks.values(), key=lambda t: t.id, reverse=True))

    def task(self, id: str) -> Task:
        """Return a task.

        Raises WebError where there is none.
        """
        with self._lock:
            if id not in self._tasks:
                raise WebError(404, "There is no such work. Finished work is kept for a while only.")
            return self._tasks[id]

    def ask(self, kind: str, title: str, asked: Asked, *, vehicle: str, kit: str, by: str) -> Task:
        """Put work into the queue.

        Raises WebError for an unknown kind, a full queue, or a workbench that is shutting down.
        """
        if kind not in KINDS:
            raise WebError(400, f"Found {kind[:40]!r}, expected a kind of work. Choose it on the page.")
        with self._lock:
            if self._closing:
                raise WebError(503, "The workbench is shutting down.")
            if len(self._waiting) >= MOST_WAITING:
                raise WebError(429, f"{MOST_WAITING} pieces of work are waiting already. Wait for one, or cancel one.")
            number = 1 + max((int(t) for t in self._tasks), default=0)
            task = Task(
                id=f"{number:06d}", kind=kind, title=title, vehicle=vehicle, kit=kit, choice=dict(asked.choice), by=by,
                digest=asked.digest, at=self._clock().astimezone(UTC).isoformat(timespec="seconds"),
            )  # fmt: skip
            self._keep(task)
            self._waiting.append((task.id, asked))
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="long work", daemon=True)
                self._thread.start()
            self._some.notify_all()
            self._clear()
            return task

    def cancel(self, id: str) -> Task:
        """End a task that is waiting or going; one that has ended stays as it is."""
        with self._lock:
            task = self.task(id)
            if not task.has_ended:
                self._waiting = deque(each for each in self._waiting if each[0] != id)
                task = replace(task, state="cancelled", words="Cancelled.")
                self._keep(task)
                self._some.notify_all()
            return task

    def about(self, kind: str, digest: str) -> Task | None:
        """Return the newest task of a kind that was asked of the very same."""
        return next((task for task in self.tasks() if task.kind == kind and task.digest == digest), None)

    def file(self, id: str, name: str) -> bytes:
        """Return a file of a result.

        Raises WebError where there is none.
        """
        if name not in self.task(id).files:
            raise WebError(404, "There is no such file.")
        try:
            return (self._folder / id / name).read_bytes()
        except OSError as problem:
            raise WebError(404, "This file is not there any more. Do the work once more.") from problem

    def close(self) -> tuple[Task, ...]:
        """End everything and return what was not done; it is kept as stopped."""
        with self._lock:
            self._closing = True
            left = tuple(t for t in self._tasks.values() if not t.has_ended)
            self._waiting.clear()
            for task in left:
                self._keep_if_possible(replace(task, state="stopped", words=_STOPPED))
            self._some.notify_all()
            thread = self._thread
        if thread is not None:
            thread.join(_END_S + 1.0)
        return left

    # --- the thread ---------------------------------------------------------------------------------------------

    def _run(self) -> None:
        while True:
            with self._lock:
                while not self._waiting and not self._closing:
                    self._some.wait()
                if self._closing:
                    return
                id, asked = self._waiting.popleft()
                task = replace(self._tasks[id], state="going", words="it begins")
                self._keep_if_possible(task)
            begun = time.monotonic()
            spawn = multiprocessing.get_context("spawn")  # a fork of a program with threads may hang
            ours, theirs = spawn.Pipe(duplex=False)
            process = spawn.Process(target=work, args=(theirs, task.kind, asked), daemon=True)
            try:
                process.start()
            except (OSError, RuntimeError) as problem:
                LOG.warning("no process for long work: %s", failed(problem))
                self._end(task.id, "failed", "The machine gave no process for this work. Try once more.", begun)
                ours.close()
                continue
            finally:
                theirs.close()
            self._follow(task.id, process, ours, begun)

    def _follow(self, id: str, process: BaseProcess, pipe: Connection, begun: float) -> None:
        try:
            while True:
                with self._lock:
                    if self._tasks[id].has_ended:  # cancelled or stopped
                        return
                if not pipe.poll(_POLL_S):
                    continue
                try:
                    message = pipe.recv()
                except EOFError:
                    process.join(_END_S)
                    self._end(id, "failed", f"The work ended by itself (exit code {process.exitcode}).", begun)
                    return
                if message[0] == "at":
                    self._at(id, *message[1:])
                elif message[0] == "done":
                    self._done(id, message[1], begun)
                    return
                else:
                    self._end(id, "failed", str(message[1]), begun)
                    return
        finally:
            pipe.close()
            if process.is_alive():
                process.terminate()
            process.join(_END_S)
            if process.is_alive():
                process.kill()

    def _at(self, id: str, done: int, total: int, words: str) -> None:
        with self._lock:
            if not self._tasks[id].has_ended:  # only in memory: it is of no use once the program has ended
                self._tasks[id] = replace(self._tasks[id], done=done, total=total, words=words)

    def _end(self, id: str, state: TaskState, words: str, begun: float) -> None:
        with self._lock:
            task = self._tasks[id]
            if not task.has_ended:
                self._keep_if_possible(replace(task, state=state, words=words, seconds=time.monotonic() - begun))

    def _done(self, id: str, made: Made, begun: float) -> None:
        try:
            for name, content in made.files.items():
                (self._folder / id / name).write_bytes(content)
        except OSError as problem:
            self._end(id, "failed", f"The result could not be kept: {problem.strerror}.", begun)
            return
        with self._lock:
            task = self._tasks[id]
            if not task.has_ended:
                self._keep_if_possible(
                    replace(
                        task, state="done", words="Done.", done=task.total, lines=made.lines, head=made.head,
                        rows=made.rows, links=made.links, files=tuple(made.files), seconds=time.monotonic() - begun,
                    )
                )  # fmt: skip

    # --- what is kept -------------------------------------------------------------------------------------------

    def _keep(self, task: Task) -> None:
        self._tasks[task.id] = task
        folder = self._folder / task.id
        try:
            folder.mkdir(parents=True, exist_ok=True)
            part = folder / "task.part"
            part.write_text(task.text(), encoding="utf-8")
            part.replace(folder / "task.json")
        except OSError as problem:
            raise WebError(507, f"The work cannot be kept: {problem.strerror}. Make room on the disk.") from problem

    def _keep_if_possible(self, task: Task) -> None:
        """Keep a task where no page could tell that it cannot be kept: it then stands in memory alone."""
        try:
            self._keep(task)
        except WebError as problem:
            LOG.warning("long work is not kept: %s", type(problem.__cause__).__name__)

    def _clear(self) -> None:
        """Forget the oldest work that has ended, beyond what is kept."""
        ended = sorted((t for t in self._tasks.values() if t.has_ended), key=lambda t: t.id)
        for task in ended[: max(0, len(ended) - MOST_KEPT)]:
            del self._tasks[task.id]
            shutil.rmtree(self._folder / task.id, ignore_errors=True)
