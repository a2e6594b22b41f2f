"""What answers each address of the HTTP interface: it reads the request, makes one call, and fills in the answer."""

from loomwright import __version__
from loomwright.documents.reading import FORMAT
from loomwright.errors import DocumentError
from loomwright.papers.match_object import match_object, readings_object
from loomwright.papers.order_object import order_object
from loomwright.planning.installation import Installation, Refusal
from loomwright.store.values import Entry
from loomwright.web.api import asked as a
from loomwright.web.api.answers import (
    ChangeAnswer,
    CompareAnswer,
    DocumentAnswer,
    DocumentLine,
    DocumentList,
    HealthAnswer,
    HitAnswer,
    IssueAnswer,
    JobAnswer,
    JobLine,
    JobList,
    KeptReading,
    RevisionAnswer,
    RevisionList,
    RevisionText,
    SearchAnswer,
    SheetLink,
    facts_of,
)
from loomwright.web.api.errors import fault_of
from loomwright.web.api.results import MatchResult, OrderResult, ReadingsResult
from loomwright.web.asking import WebError
from loomwright.web.desk import Desk, Fit
from loomwright.web.job_work import issue_guide, job_of, new_job

__all__ = [
    "begin_job", "check_order", "compare", "document", "documents", "health", "issue", "job", "jobs", "match",
    "readings", "revision", "revisions", "save", "search",
]  # fmt: skip

_SEARCHED = ("vehicle", "kit", "job", "evidence", "shop")


def health(desk: Desk, _: a.Nothing, __: None) -> HealthAnswer:
    """Tell that the workbench is there."""
    kinds: tuple[a.Kind, ...] = ("vehicle", "kit", "evidence", "shop")
    return HealthAnswer(
        status="ok", version=__version__, format=FORMAT, shop=desk.shop_name(),
        documents={kind: desk.store.count(kind) for kind in kinds}, jobs=desk.store.count("job"),
    )  # fmt: skip


# Documents ---------------------------------------------------------------------------------------------------------


def documents(desk: Desk, asked: a.Listed, _: None) -> DocumentList:
    """List documents."""
    lines = desk.lines(asked.kind, after=asked.after or "", limit=asked.limit + 1)
    shown = [DocumentLine(**facts_of(line.entry), name=line.glance.name) for line in lines[: asked.limit]]
    return DocumentList(
        documents=shown, next=shown[-1].id if len(lines) > asked.limit else None, total=desk.store.count(asked.kind)
    )


def document(desk: Desk, asked: a.One, _: None) -> DocumentAnswer:
    """Return a document as it is now."""
    found = desk.revision(asked.kind, asked.id)
    try:
        values = desk.loaded(found).document.model_dump(mode="json", by_alias=True)
    except DocumentError:
        values = None
    faults = [fault_of(message) for message in desk.faults(asked.kind, asked.id)]
    return DocumentAnswer(**facts_of(found), text=found.text, document=values, faults=faults)


def save(desk: Desk, asked: a.One, body: a.SaveDocument) -> DocumentAnswer:
    """Keep a new revision."""
    by = _by(desk, body.by)
    base = None if body.base is None else desk.numbered(asked.kind, asked.id, body.base)
    desk.keep(asked.kind, asked.id, body.text, by=by, base=base)
    return document(desk, asked, None)


def revisions(desk: Desk, asked: a.One, _: None) -> RevisionList:
    """List the revisions of a document."""
    found = desk.store.revisions(asked.kind, asked.id)
    if not found:
        raise WebError(404, f"There is no {asked.kind} {asked.id!r} in this shop.")
    return RevisionList(revisions=[RevisionAnswer(**facts_of(entry)) for entry in found])


def revision(desk: Desk, asked: a.VersionAsked, _: None) -> RevisionText:
    """Return one revision."""
    found = desk.numbered(asked.kind, asked.id, asked.number)
    return RevisionText(**facts_of(found), text=found.text)


def compare(desk: Desk, asked: a.Comparing, _: None) -> CompareAnswer:
    """Tell what differs between two revisions."""
    before, after = (desk.numbered(asked.kind, asked.id, n) for n in (asked.before, asked.after))
    changes = desk.store.compare(before, after)
    return CompareAnswer(changes=[ChangeAnswer(path=c.path, before=c.before, after=c.after) for c in changes])


# What is computed --------------------------------------------------------------------------------------------------


def _fit(desk: Desk, body: a.AskPair) -> Fit:
    return desk.fit(body.vehicle, body.kit, body.choice)


def match(desk: Desk, _: a.Nothing, body: a.AskPair) -> MatchResult:
    """Tell whether a kit fits a car, and how."""
    fit = _fit(desk, body)
    slips = desk.slips(fit.found) if isinstance(fit.found, Installation) else ()
    return MatchResult.model_validate(match_object(fit.found, fit.proof, slips))


def readings(desk: Desk, _: a.Nothing, body: a.AskReadings) -> ReadingsResult:
    """Tell what a meter must show."""
    fit = _fit(desk, body)
    table = desk.readings(fit, body.battery_v)
    if isinstance(fit.found, Refusal):
        raise WebError(409, "This kit must not be fitted to this car, so there is nothing to measure.")
    return ReadingsResult.model_validate(readings_object(fit.found, table))


def check_order(desk: Desk, _: a.Nothing, body: a.AskOrder) -> OrderResult:
    """Tell what a buyer's answers come to."""
    return OrderResult.model_validate(order_object(desk.order_check(body.vehicle, body.kit, body.answers)))


# Jobs --------------------------------------------------------------------------------------------------------------


def jobs(desk: Desk, asked: a.Jobs, _: None) -> JobList:
    """List jobs, newest first."""
    entries = desk.store.recent(("job",), before=asked.before, limit=asked.limit + 1)
    shown = [JobLine(**facts_of(entry), name=desk.line(entry).glance.name) for entry in entries[: asked.limit]]
    more = len(entries) > asked.limit
    return JobList(jobs=shown, next=shown[-1].number if more else None, total=desk.store.count("job"))


def job(desk: Desk, asked: a.JobAsked, _: None) -> JobAnswer:
    """Return a job with what is kept under it."""
    found, facts = job_of(desk, asked.serial), facts_of(desk.revision("job", asked.serial))
    kept = desk.store.records("reading", asked.serial)
    return JobAnswer(
        **facts, name=found.name, vehicle=found.vehicle, kit=found.kit, choice=dict(found.choice),
        verdict=found.verdict, unproven=found.unproven, buyer=found.buyer, note=found.note,
        issues=[_issue(desk, asked.serial, entry) for entry in desk.store.records("issue", asked.serial)],
        readings=[KeptReading(**facts_of(entry), text=desk.store.at(entry.number).text) for entry in kept],
    )  # fmt: skip


def _issue(desk: Desk, serial: str, entry: Entry) -> IssueAnswer:
    sheets = [
        SheetLink(
            name=one.name, media_type=one.media_type, sha256=one.sha256,
            href=f"/jobs/{serial}/issues/{entry.id}/{one.name}",
        )
        for one in desk.store.attachments(entry)
    ]  # fmt: skip
    return IssueAnswer(**facts_of(entry), sheets=sheets)


def begin_job(desk: Desk, _: a.Nothing, body: a.NewJob) -> JobAnswer:
    """Give a kit in a car a serial."""
    by = _by(desk, body.by)
    made = new_job(desk, _fit(desk, body), buyer=body.buyer.strip(), contact=body.contact, note=body.note, by=by)
    return job(desk, a.JobAsked(serial=made.id), None)


def issue(desk: Desk, asked: a.JobAsked, body: a.ByBody) -> IssueAnswer:
    """Make the guide as it is now and keep it for ever."""
    by, found = _by(desk, body.by), job_of(desk, asked.serial)
    kept = issue_guide(desk, found, desk.fit(found.vehicle, found.kit, dict(found.choice)), by=by)
    return _issue(desk, asked.serial, kept)


# The rest ----------------------------------------------------------------------------------------------------------


def search(desk: Desk, asked: a.Searching, _: None) -> SearchAnswer:
    """Find documents."""
    hits = desk.store.search(asked.q, _SEARCHED, limit=asked.limit)
    return SearchAnswer(hits=[
        HitAnswer(
            kind=hit.entry.kind, id=hit.entry.id, name=desk.line(hit.entry).glance.name, number=hit.entry.number,
            line=hit.line, excerpt=hit.excerpt,
        )
        for hit in hits
    ])  # fmt: skip


def _by(desk: Desk, by: str | None) -> str:
    """Return who does it.

    Raises WebError for somebody who is not of this shop: nothing is saved under another name than was said.
    """
    if by is None or any(person.id == by for person in desk.store.people()):
        return desk.worker(by or "")
    raise WebError(404, f"There is no person {by!r} in this shop. Leave `by` out or correct it.")
