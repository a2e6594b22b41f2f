"""Long work: asked for, followed while it goes on, its results, and cancelled."""

import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.web.asking import Answer, Ask, Bytes, Page, Redirect, WebError, address
from loomwright.web.desk import Desk
from loomwright.web.page_vehicles import some_choice
from loomwright.web.photos import photos_for
from loomwright.web.working.kinds import KINDS
from loomwright.web.working.task import Asked, Task

__all__ = ["again", "ask", "asked_of", "cancel", "file", "listed", "put", "put_asked", "show"]

STATES = {
    "waiting": "waits for its turn", "going": "at work", "done": "done", "failed": "could not be done",
    "cancelled": "cancelled", "stopped": "not done: the workbench was shut down",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """A task as a list and its own page show it."""

    task: Task
    kind: str
    state: str
    by: str
    percent: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPage:
    """Every task."""

    going: tuple[TaskLine, ...]
    ended: tuple[TaskLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskPage:
    """One task; `choice` as it stands in an address."""

    line: TaskLine
    choice: tuple[tuple[str, str], ...]
    before: int  # tasks that come first


def _line(desk: Desk, task: Task) -> TaskLine:
    kind = KINDS[task.kind].name if task.kind in KINDS else task.kind
    percent = 100 * task.done // task.total if task.total else 0
    return TaskLine(task=task, kind=kind, state=STATES[task.state], by=desk.name_of(task.by), percent=percent)


def listed(desk: Desk, _ask: Ask) -> Answer:
    """Show every task."""
    lines = [_line(desk, task) for task in desk.work.tasks()]
    page = WorkPage(
        going=tuple(line for line in lines if not line.task.has_ended),
        ended=tuple(line for line in lines if line.task.has_ended),
    )
    return Page(template="work.html", title="Long work", context=page)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show one task: how far it is, or what came of it."""
    task = desk.work.task(ask.path["task"])
    before = sum(not t.has_ended and t.id < task.id for t in desk.work.tasks())
    choice = tuple((f"car.{axis}", value) for axis, value in task.choice.items())
    page = TaskPage(line=_line(desk, task), choice=choice, before=before)
    return Page(template="task.html", title=task.title, context=page)


def ask(desk: Desk, ask: Ask) -> Answer:
    """Put work into the queue."""
    return _asked(desk, ask, ask.sent("kind"), ask.sent("vehicle"), ask.sent("kit"), ask.under("car.", ask.form))


def again(desk: Desk, ask: Ask) -> Answer:
    """Ask for the same once more, of the documents as they are now."""
    task = desk.work.task(ask.path["task"])
    return _asked(desk, ask, task.kind, task.vehicle, task.kit, dict(task.choice))


def _asked(desk: Desk, ask: Ask, kind: str, vehicle: str, kit: str, wished: Mapping[str, str]) -> Answer:
    if kind not in KINDS:
        raise WebError(400, f"Found {kind[:40]!r}, expected a kind of work. Choose it on the page.")
    return Redirect(to=f"/tasks/{put(desk, kind, vehicle, kit, wished, by=desk.worker(ask.who)).id}")


def put(desk: Desk, kind: str, vehicle: str, kit: str, wished: Mapping[str, str], *, by: str) -> Task:
    """Put work into the queue.

    Raises WebError where the queue is full or there is no such document, DocumentError where one has faults.
    """
    return put_asked(desk, kind, vehicle, kit, asked_of(desk, kind, vehicle, kit, wished), by=by)


def put_asked(desk: Desk, kind: str, vehicle: str, kit: str, asked: Asked, *, by: str) -> Task:
    """Put work into the queue as it was made up before; raises as `put` does."""
    family = desk.vehicle(vehicle).names[0]
    title = f"{KINDS[kind].name}: {desk.kit(kit).name} in the {family.maker} {family.model}"
    return desk.work.ask(kind, title, asked, vehicle=vehicle, kit=kit, by=by)


def asked_of(desk: Desk, kind: str, vehicle: str, kit: str, wished: Mapping[str, str]) -> Asked:
    """Return a question to the worker, of the documents as they are now.

    The process that works on it has no store, so photographs go along.
    """
    return Asked(
        vehicle=desk.revision("vehicle", vehicle).text, kit=desk.revision("kit", kit).text,
        shop=desk.shop_revision()[0].text, choice=some_choice(desk.vehicle(vehicle), wished),
        evidence=tuple(r.text for r in desk.evidence_revisions(vehicle)),
        photos=photos_for(desk, vehicle, kit) if KINDS[kind].shows_photos else {},
    )  # fmt: skip


def cancel(desk: Desk, ask: Ask) -> Answer:
    """End a task."""
    return Redirect(to=address(f"/tasks/{desk.work.cancel(ask.path['task']).id}"))


def file(desk: Desk, ask: Ask) -> Answer:
    """Return a file of a result."""
    name = ask.path["name"]
    data = desk.work.file(ask.path["task"], name)
    media_type = mimetypes.guess_type(name)[0] or "application/octet-stream"
    html = media_type == "text/html"
    return Bytes(
        data=data, media_type=media_type + ("; charset=utf-8" if html else ""), name=name,
        inline=media_type in ("text/html", "application/pdf"), own_policy=html,
    )  # fmt: skip
