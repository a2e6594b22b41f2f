"""The table of the HTTP interface: every address with what it takes, what it answers, and what answers it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel

from loomwright.web.api import handlers as h
from loomwright.web.api.answers import (
    CompareAnswer,
    DocumentAnswer,
    DocumentList,
    HealthAnswer,
    IssueAnswer,
    JobAnswer,
    JobList,
    RevisionList,
    RevisionText,
    SearchAnswer,
)
from loomwright.web.api.asked import (
    AskOrder,
    AskPair,
    AskReadings,
    ByBody,
    Comparing,
    JobAsked,
    Jobs,
    Listed,
    NewJob,
    Nothing,
    One,
    SaveDocument,
    Searching,
    VersionAsked,
)
from loomwright.web.api.results import MatchResult, OrderResult, ReadingsResult
from loomwright.web.desk import Desk

__all__ = ["API", "ApiHandler", "ApiRoute"]

ApiHandler = Callable[[Desk, Any, Any], BaseModel]
"""Takes the desk, path and query, and the body; the table says of which types the two are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ApiRoute:
    """One thing that can be asked.

    Parameters
    ----------
    method, path
        How and where.
    name
        What it is called in the description.
    summary
        What it does, as a sentence.
    asked
        Path and query.
    body
        What is sent; `None` where nothing may be.
    answer
        What is answered.
    handler
        What answers.
    troubles
        Statuses of the errors that are its own, besides those that every address may answer.
    """

    method: Literal["GET", "POST", "PUT"]
    path: str
    name: str
    summary: str
    asked: type[BaseModel]
    body: type[BaseModel] | None = None
    answer: type[BaseModel]
    handler: ApiHandler
    troubles: tuple[int, ...] = ()


_DOCUMENTS, _ONE = "/api/documents/{kind}", "/api/documents/{kind}/{id}"

API: tuple[ApiRoute, ...] = (
    ApiRoute(
        method="GET", path="/api/health", name="health", asked=Nothing, answer=HealthAnswer, handler=h.health,
        summary="Tell that the workbench is there, its version, and how much it holds.",
    ),
    ApiRoute(
        method="GET", path=_DOCUMENTS, name="list-documents", asked=Listed, answer=DocumentList, handler=h.documents,
        summary="List the documents of a kind by id, page by page.",
    ),
    ApiRoute(
        method="GET", path=_ONE, name="read-document", asked=One, answer=DocumentAnswer, handler=h.document,
        summary="Read a document as it is now: its text, its values, and what is wrong with it.", troubles=(404,),
    ),
    ApiRoute(
        method="PUT", path=_ONE, name="save-document", asked=One, body=SaveDocument, answer=DocumentAnswer,
        handler=h.save, troubles=(404, 409),
        summary="Keep a new revision of a document. Where somebody saved since `base`, nothing is kept, and the error "
        "`conflict` holds both texts.",
    ),
    ApiRoute(
        method="GET", path=f"{_ONE}/revisions", name="list-revisions", asked=One, answer=RevisionList,
        handler=h.revisions, summary="List all revisions of a document, oldest first.", troubles=(404,),
    ),
    ApiRoute(
        method="GET", path=f"{_ONE}/revisions/{{number}}", name="read-revision", asked=VersionAsked,
        answer=RevisionText, handler=h.revision, summary="Read one revision of a document.", troubles=(404,),
    ),
    ApiRoute(
        method="GET", path=f"{_ONE}/compare", name="compare-revisions", asked=Comparing, answer=CompareAnswer,
        handler=h.compare, summary="Tell what differs between two revisions, value by value.", troubles=(404,),
    ),
    ApiRoute(
        method="POST", path="/api/match", name="match", asked=Nothing, body=AskPair, answer=MatchResult,
        handler=h.match, troubles=(404, 409),
        summary="Tell whether a kit fits a car, how each function is served, and why not otherwise: the object of "
        "`loomwright match --json`. Nothing is saved.",
    ),
    ApiRoute(
        method="POST", path="/api/readings", name="readings", asked=Nothing, body=AskReadings, answer=ReadingsResult,
        handler=h.readings, troubles=(404, 409),
        summary="Tell what a meter must show at each point: the object of `loomwright readings --json`. Nothing is "
        "saved.",
    ),
    ApiRoute(
        method="POST", path="/api/order-check", name="check-order", asked=Nothing, body=AskOrder, answer=OrderResult,
        handler=h.check_order, troubles=(404, 409),
        summary="Tell what a buyer's answers come to, and what to ask next: the object of `loomwright ask --json`. "
        "Nothing is saved.",
    ),
    ApiRoute(
        method="GET", path="/api/jobs", name="list-jobs", asked=Jobs, answer=JobList, handler=h.jobs,
        summary="List the jobs, newest first, page by page.",
    ),
    ApiRoute(
        method="POST", path="/api/jobs", name="begin-job", asked=Nothing, body=NewJob, answer=JobAnswer,
        handler=h.begin_job, troubles=(404, 409),
        summary="Give a kit that fits a car a serial of its own.",
    ),
    ApiRoute(
        method="GET", path="/api/jobs/{serial}", name="read-job", asked=JobAsked, answer=JobAnswer, handler=h.job,
        summary="Read a job with the guides as they went out and the readings that came back.", troubles=(404,),
    ),
    ApiRoute(
        method="POST", path="/api/jobs/{serial}/issues", name="issue-guide", asked=JobAsked, body=ByBody,
        answer=IssueAnswer, handler=h.issue, troubles=(404, 409),
        summary="Make the buyer's guide as it is now and keep it for ever under the job's serial.",
    ),
    ApiRoute(
        method="GET", path="/api/search", name="search", asked=Searching, answer=SearchAnswer, handler=h.search,
        summary="Find documents and jobs that have every one of some words, or one that begins like it.",
    ),
)  # fmt: skip
