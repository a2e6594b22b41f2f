"""A problem report from the workbench: choose documents, see what is in it, save it."""

from dataclasses import dataclass

from loomwright.health.check import Check
from loomwright.health.doctor import doctor
from loomwright.health.report import problem_report
from loomwright.web.asking import Answer, Ask, Bytes, Page, Redirect, WebError
from loomwright.web.desk import Desk, Line

__all__ = ["ask", "look", "save"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemPage:
    """Which documents may be in it."""

    vehicles: tuple[Line, ...]
    kits: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookPage:
    """What is in a report that was put together."""

    key: str
    files: tuple[tuple[str, str], ...]
    kilobytes: float
    checks: tuple[Check, ...]


def ask(desk: Desk, _ask: Ask) -> Answer:
    """Ask which documents belong to the problem."""
    page = ProblemPage(vehicles=desk.lines("vehicle", limit=500), kits=desk.lines("kit", limit=500))
    return Page(template="problem.html", title="Save a problem report", context=page)


def look(desk: Desk, ask: Ask) -> Answer:
    """Put a report together and go to where it is shown."""
    documents = []
    for kind in ("vehicle", "kit"):
        if id := ask.sent(kind):
            documents.append(desk.revision(kind, id))
            if kind == "vehicle":
                documents += desk.evidence_revisions(id)
    checks = doctor(desk.store, desk.kept_in.parent)
    found = problem_report(checks, desk.kept_in, documents)
    return Redirect(to=f"/problem/{desk.keep_report(checks, found)}")


def save(desk: Desk, ask: Ask) -> Answer:
    """Show a report that was put together, or hand it over as one file."""
    name = ask.path["report"]
    found = desk.report(name.removesuffix(".zip"))
    if found is None:
        raise WebError(404, "This report is not there any more. Put it together once more.")
    checks, report = found
    data = report.data
    if name.endswith(".zip"):
        return Bytes(data=data, media_type="application/zip", name=f"loomwright-problem-{name}")
    page = LookPage(key=name, files=tuple(report.files.items()), kilobytes=len(data) / 1000, checks=checks)
    return Page(template="problem_look.html", title="What is in the report", context=page)
