"""Today: open jobs, what is to be put right, what is to be measured, each with the next thing to do.

What takes long is done beside the page, once for each car and kit as they are now; until then the page says so.
"""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

from loomwright.documents.job import Job
from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError, LoomwrightError
from loomwright.store.values import Entry
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError, address
from loomwright.web.desk import Desk, Line
from loomwright.web.page_vehicles import some_choice
from loomwright.web.page_work import asked_of, put_asked
from loomwright.web.working.kinds import LOOK_OVER
from loomwright.web.working.task import Task

__all__ = ["show"]

_LOOKED_AT, _OPEN, _RECENT, _PAIRS, _CHECKED, _MEASURED = 40, 12, 12, 3, 4, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Todo:
    """One thing to do: what it is, of what, the next action with its address, and why it is worth it."""

    what: str
    of: str
    next: str
    to: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TodayPage:
    """What is open; `going` are pieces of work whose result is still to come."""

    jobs: tuple[Todo, ...]
    settle: tuple[Todo, ...]
    measure: tuple[Todo, ...]
    going: tuple[Task, ...]
    recent: tuple[Line, ...]
    vehicles: int
    kits: int
    all_jobs: int


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what is open."""
    if not desk.has_shop():
        return Redirect(to="/begin")
    state = tuple((t.id, t.state) for t in desk.work.tasks() if t.kind == LOOK_OVER)
    page = desk.today.get((desk.store.last_number(), state), lambda: _page(desk, desk.worker(ask.who)))
    return Page(template="today.html", title="Today", context=page)


def _page(desk: Desk, by: str) -> TodayPage:
    store = desk.store
    jobs = [job for entry in store.recent(("job",), limit=_LOOKED_AT) if (job := _job(desk, entry)) is not None]
    waiting = [(job, todo) for job in jobs if (todo := _next(desk, job)) is not None]
    pairs = {(job.vehicle, job.kit, tuple(job.choice.items())): job for job, _ in reversed(waiting)}
    tasks = [task for job in list(pairs.values())[-_PAIRS:] if (task := _looked_over(desk, job, by)) is not None]
    return TodayPage(
        jobs=tuple(todo for _, todo in waiting[:_OPEN]), settle=(*_faulty(desk), *_found(desk, tasks, "finding", 20)),
        measure=(*_found(desk, tasks, "measure", _MEASURED), *_not_proven(desk)),
        going=tuple(task for task in tasks if task.state in ("waiting", "going")),
        recent=tuple(desk.line(e) for e in store.recent(("vehicle", "kit", "evidence"), limit=_RECENT)),
        vehicles=store.count("vehicle"), kits=store.count("kit"), all_jobs=store.count("job"),
    )  # fmt: skip


def _job(desk: Desk, entry: Entry) -> Job | None:
    """Return a job; one that an older program wrote in another way is left to its own page."""

    def read() -> Job | None:
        with suppress(DocumentError):
            found = read_document(Source(file="job", text=desk.store.at(entry.number).text), {"job": Job}).document
            return found if isinstance(found, Job) else None
        return None

    return desk.sold.get(entry.sha256, read)


def _next(desk: Desk, job: Job) -> Todo | None:
    """Return what comes next with a job; None where nothing does."""
    issued = desk.store.records("issue", job.id)
    fit = address(f"/fit/{job.vehicle}/{job.kit}", [(f"car.{a}", v) for a, v in job.choice.items()])
    if not issued:
        return Todo(what=job.id, of=job.name, next="Issue the guide", to=f"/jobs/{job.id}")
    with suppress(WebError):
        changed = max(desk.revision("vehicle", job.vehicle).number, desk.revision("kit", job.kit).number)
        if changed > issued[-1].number:
            return Todo(
                what=job.id, of=f"{job.name}: the vehicle or the kit was changed after the guide went out",
                next="Look whether the guide still holds", to=fit,
            )  # fmt: skip
    if not desk.store.records("reading", job.id):
        return Todo(
            what=job.id, of=f"{job.name}: the guide is out", next="Type in what the buyer reads",
            to=f"/jobs/{job.id}/readings",
        )  # fmt: skip
    return None


def _looked_over(desk: Desk, job: Job, by: str) -> Task | None:
    """Return the work that tells what matters for a job's car and kit as they are now; it is begun where it was not."""
    try:
        asked = asked_of(desk, LOOK_OVER, job.vehicle, job.kit, job.choice)
        known = desk.work.about(LOOK_OVER, asked.digest)
        if known is not None:
            return known
        return put_asked(desk, LOOK_OVER, job.vehicle, job.kit, asked, by=by)
    except (LoomwrightError, WebError):  # a document is not in order, which is told beside; or the queue is full
        return None


def _found(desk: Desk, tasks: Sequence[Task], kind: str, most: int) -> Iterator[Todo]:
    for task in tasks:
        rows = [(row, link) for row, link in zip(task.rows, task.links, strict=True) if row[0] == kind]
        name = f"{_name(desk, 'kit', task.kit)} in the {_name(desk, 'vehicle', task.vehicle)}"
        once: dict[str, tuple[str, str, str]] = {}
        for (_, what, do, why), link in rows:
            once.setdefault(what, (do, why, link))  # of several facts of a pin the weightiest, which comes first
        for what, (do, why, link) in list(once.items())[:most]:
            if kind == "measure":
                to = f"/vehicles/{task.vehicle}/walk?at={do.split()[-1]}&{link}"
                yield Todo(what=what, of=name, next=do, to=to, why=why)
            else:
                to = f"/fit/{task.vehicle}/{task.kit}?{link}"
                yield Todo(what=what, of=name, next="Look at it in the car", to=to, why=do)


def _name(desk: Desk, kind: str, id: str) -> str:
    with suppress(WebError):
        return desk.line(desk.revision(kind, id)).glance.name or id
    return id


def _faulty(desk: Desk) -> Iterator[Todo]:
    """Yield the documents that are not in order, of those that were changed last."""
    for entry in desk.store.recent(("vehicle", "kit"), limit=_CHECKED):
        if messages := desk.faults(entry.kind, entry.id):
            count = f"{len(messages)} {'message' if len(messages) == 1 else 'messages'}"
            yield Todo(
                what=f"{_name(desk, entry.kind, entry.id)} is not in order: {count}", of=str(messages[0]),
                next="Put it right", to=f"/{entry.kind}s/{entry.id}",
            )  # fmt: skip


def _not_proven(desk: Desk) -> Iterator[Todo]:
    """Yield the vehicles changed last that have circuits which nobody measured on the variant shown first."""
    for entry in desk.store.recent(("vehicle",), limit=_CHECKED):
        if desk.faults("vehicle", entry.id):
            continue
        car = desk.car(entry.id, some_choice(desk.vehicle(entry.id), {}))
        open_ = [standing for standing in car.standing.values() if standing.status != "proven"]
        if open_:
            against = sum(standing.status == "contradicted" for standing in open_)
            words = f"{len(open_)} of {len(car.standing)} circuits are not proven"
            yield Todo(
                what=words + (f", and evidence speaks against {against}" if against else ""), of=car.name,
                next="Walk its wires with a meter", to=f"/vehicles/{entry.id}/walk",
            )  # fmt: skip
