"""Jobs: a kit sold for a car under a serial, with the guides as they went out and the readings that came back."""

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.documents.job import Job
from loomwright.documents.vehicle import Vehicle
from loomwright.store.values import Entry
from loomwright.web.asking import Answer, Ask, Bytes, Page, Redirect, WebError
from loomwright.web.desk import Desk, Fit, Line
from loomwright.web.job_work import issue_guide, job_name, job_of, new_job, quoted
from loomwright.web.page_fit import is_sold, verdict_words
from loomwright.web.page_readings import readings_page
from loomwright.web.page_vehicles import PER_PAGE, some_choice

__all__ = ["issue", "keep_readings", "listed", "make", "new", "readings", "sheet", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewJobPage:
    """What a job would hold."""

    vehicle: str
    kit: str
    name: str
    choice: tuple[tuple[str, str], ...]
    cues: tuple[tuple[str, str, str], ...]
    verdict: str
    sold: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JobsPage:
    """The jobs, newest first; `next` is the number before which the next page begins."""

    lines: tuple[Line, ...]
    next: int | None
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """One guide as it went out."""

    entry: Entry
    by: str
    files: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobPage:
    """One job."""

    job: Job
    cues: tuple[tuple[str, str], ...]
    issued: tuple[Issued, ...]
    kept: tuple[tuple[Entry, str], ...]  # readings, with their text
    choice: tuple[tuple[str, str], ...]
    buyer: str


def listed(desk: Desk, ask: Ask) -> Answer:
    """Show the jobs, newest first."""
    before = ask.one("before")
    number = int(before) if before.isascii() and before.isdecimal() and len(before) < 16 else None
    entries = desk.store.recent(("job",), before=number, limit=PER_PAGE + 1)
    page = JobsPage(
        lines=tuple(desk.line(e) for e in entries[:PER_PAGE]),
        next=entries[PER_PAGE - 1].number if len(entries) > PER_PAGE else None, total=desk.store.count("job"),
    )  # fmt: skip
    return Page(template="jobs.html", title="Jobs", context=page)


def _asked(desk: Desk, vehicle: str, kit: str, choice: dict[str, str]) -> tuple[Vehicle, Fit]:
    family = desk.vehicle(vehicle)
    return family, desk.fit(vehicle, kit, some_choice(family, choice))


def new(desk: Desk, ask: Ask) -> Answer:
    """Show what a job would hold."""
    _, fit = _asked(desk, ask.one("vehicle"), ask.one("kit"), ask.under("car."))
    context = NewJobPage(
        vehicle=fit.car.vehicle, kit=fit.kit.id, name=job_name(fit), cues=fit.car.choice_words,
        choice=tuple((f"car.{a}", v) for a, v in fit.car.choice.items()), verdict=verdict_words(fit),
        sold=is_sold(fit),
    )  # fmt: skip
    return Page(template="job_new.html", title="A new job", context=context)


def make(desk: Desk, ask: Ask) -> Answer:
    """Give a kit in a car a serial of its own."""
    _, fit = _asked(desk, ask.sent("vehicle"), ask.sent("kit"), ask.under("car.", ask.form))
    made = new_job(
        desk, fit, buyer=ask.sent("buyer"), contact=ask.sent("contact"), note=ask.sent("note"),
        by=desk.worker(ask.who),
    )  # fmt: skip
    return Redirect(to=f"/jobs/{made.id}")


def show(desk: Desk, ask: Ask) -> Answer:
    """Show one job."""
    job = job_of(desk, ask.path["serial"])
    context = JobPage(
        job=job, cues=tuple(job.choice.items()), issued=tuple(_issued(desk, job.id)),
        kept=tuple((e, desk.store.at(e.number).text) for e in desk.store.records("reading", job.id)),
        choice=tuple((f"car.{a}", v) for a, v in job.choice.items()),
        buyer=desk.name_of(job.buyer) if job.buyer else "",
    )  # fmt: skip
    return Page(template="job.html", title=job.id, context=context)


def _issued(desk: Desk, serial: str) -> Iterator[Issued]:
    for entry in desk.store.records("issue", serial):
        files = tuple(a.name for a in desk.store.attachments(entry))
        yield Issued(entry=entry, by=desk.name_of(entry.by), files=files)


def issue(desk: Desk, ask: Ask) -> Answer:
    """Make the guide as it is now and keep it for ever under the job's serial."""
    job = job_of(desk, ask.path["serial"])
    _, fit = _asked(desk, job.vehicle, job.kit, dict(job.choice))
    issue_guide(desk, job, fit, by=desk.worker(ask.who))
    return Redirect(to=f"/jobs/{job.id}")


def sheet(desk: Desk, ask: Ask) -> Answer:
    """Return a sheet exactly as it went out."""
    entry = desk.revision("issue", ask.path["issue"])
    found = next((a for a in desk.store.attachments(entry) if a.name == ask.path["name"]), None)
    if found is None or not entry.id.startswith(f"{ask.path['serial']}."):
        raise WebError(404, "There is no such sheet.")
    html = found.media_type == "text/html"
    return Bytes(
        data=desk.store.bytes_of(found), media_type=found.media_type + ("; charset=utf-8" if html else ""),
        name=found.name, inline=ask.one("save") == "", own_policy=html,
    )  # fmt: skip


def readings(desk: Desk, ask: Ask) -> Answer:
    """Show the readings of a job's car, to be kept with the job."""
    job = job_of(desk, ask.path["serial"])
    _, fit = _asked(desk, job.vehicle, job.kit, dict(job.choice))
    page = readings_page(desk, ask, fit, f"/jobs/{job.id}/readings", job)
    return Page(template="readings.html", title=f"{job.id}: {page.name}", context=page)


def keep_readings(desk: Desk, ask: Ask) -> Answer:
    """Keep what a meter showed with the job, for ever."""
    job = job_of(desk, ask.path["serial"])
    found = {key[:200]: value[:20] for key, value in ask.under("r.", ask.form).items()}
    if not found:
        raise WebError(400, "No reading was typed. Go back and type what the meter shows.")
    lines = [f"  {quoted(key)}: {quoted(value)}" for key, value in found.items()]
    text = "\n".join((
        "format: 1", "kind: reading", f"job: {quoted(job.id)}", f"battery: {quoted(ask.sent('battery')[:20])}",
        "readings:", *lines, "",
    ))  # fmt: skip
    desk.store.record("reading", job.id, text, by=desk.worker(ask.who))
    return Redirect(to=f"/jobs/{job.id}")
