"""The one body of every answer that is an error, and from which exception it is made."""

from collections.abc import Collection, Iterable, Mapping
from types import MappingProxyType

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from loomwright.documents.unseen import without_unseen
from loomwright.errors import DocumentError, LoomwrightError, Message, RenderError, SolveError
from loomwright.fitting.questions import AnswerError
from loomwright.store.merging import merged
from loomwright.store.values import Conflict, Revision
from loomwright.web.asking import WebError

__all__ = ["CODES", "ErrorBody", "Fault", "Refused", "count_of", "error_of", "fault_of", "faults_of_fields", "told"]

CODES: Mapping[str, tuple[int, str]] = MappingProxyType({
    "cannot-be-read": (400, "The body is no JSON."),
    "no-such-choice": (400, "An answer or a choice names nothing that the vehicle has."),
    "passphrase-needed": (401, "The workbench is open to the network and the request does not say the passphrase."),
    "foreign-page": (403, "The request came from a page of another site."),
    "not-found": (404, "There is no such address, document, revision or job."),
    "wrong-method": (405, "The address is there, and is asked in another way; see the header Allow."),
    "conflict": (409, "Somebody saved a newer revision first; `conflict` holds both texts."),
    "not-possible": (409, "What was asked for is refused as things stand."),
    "too-large": (413, "The body is larger than the workbench takes."),
    "no-json": (415, "The body is not said to be application/json."),
    "wrong-host": (421, "The request was sent under a name that is not this workbench's."),
    "faults": (422, "A document or a field is wrong; `faults` lists everything at once."),
    "too-many-guesses": (429, "Too many wrong passphrases; wait as long as the header Retry-After says."),
    "not-computed": (500, "A circuit, a plan or a sheet could not be computed."),
    "broken": (500, "A fault of the program; the log has more."),
})
"""Code of an error -> the status it comes with, and what it means."""

_FOUND_MOST = 80
_FAULTS_MOST = 200


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Fault(_Part):
    """One thing that is wrong, in the words that the command line uses."""

    file: str = Field(description="The document as `kind/id`, or the part of the request: `body`, `query` or `path`.")
    line: int | None = Field(description="Line of the document, counted from 1; null where there is none.")
    field: str = Field(description="The value, as in `circuits[3].behaviour`; empty where the whole is meant.")
    found: str
    expected: str
    advice: str = Field(description="What to do.")


class ConflictTexts(_Part):
    """Two texts that were made from the same revision."""

    base: int | None = Field(description="Number of the revision that the request named; null for a new document.")
    theirs: int = Field(description="Number of the revision that is there now: name it as `base` of the next try.")
    theirs_text: str
    yours_text: str = Field(description="What was sent. It was not saved.")
    merged_text: str | None = Field(
        description="Both put together where they touch different lines, to be looked at and sent; else null."
    )


class ErrorBody(_Part):
    """What every answer that is not a success holds."""

    code: str = Field(description="Stable; for programs.", json_schema_extra={"enum": list(CODES)})
    message: str = Field(description="What happened and what to do; for people.")
    faults: list[Fault] = Field(description="Every single fault; empty where the message says it all.")
    conflict: ConflictTexts | None = Field(description="Both texts, with the code `conflict`; else null.")


class Refused(Exception):  # noqa: N818 - named as what it does to the request
    """A request that is answered with an error of the table."""

    def __init__(self, code: str, message: str, faults: Iterable[Fault] = ()) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.faults = tuple(faults)


_OF_STATUS: Mapping[int, str] = MappingProxyType({
    400: "no-such-choice", 403: "foreign-page", 404: "not-found", 405: "wrong-method", 409: "not-possible",
    413: "too-large", 422: "faults",
})  # fmt: skip


def told(code: str, message: str, faults: Iterable[Fault] = ()) -> tuple[int, ErrorBody]:
    """Return status and body of an error."""
    return CODES[code][0], ErrorBody(code=code, message=message, faults=list(faults), conflict=None)


def error_of(problem: Exception) -> tuple[int, ErrorBody]:
    """Return status and body for an exception, with the status that a page would have.

    Raises TypeError for an exception that is no answer but a fault of the program.
    """
    if isinstance(problem, Refused):
        return told(problem.code, problem.message, problem.faults)
    if isinstance(problem, WebError):
        return told(_OF_STATUS[problem.status], problem.text)
    if isinstance(problem, Conflict):
        return CODES["conflict"][0], ErrorBody(
            code="conflict", message=str(problem), faults=[], conflict=_texts(problem)
        )
    if isinstance(problem, DocumentError):
        faults = [fault_of(message) for message in problem.messages[:_FAULTS_MOST]]
        return told("faults", count_of(len(problem.messages)), faults)
    if isinstance(problem, AnswerError):
        return told("no-such-choice", str(problem))
    if isinstance(problem, SolveError | RenderError):
        return told("not-computed", str(problem))
    if isinstance(problem, LoomwrightError):
        return told("not-possible", str(problem))
    msg = f"{type(problem).__name__}: found no line for it in the table of errors, expected one"
    raise TypeError(msg) from problem


def count_of(faults: int) -> str:
    """Return what the message says of a number of faults."""
    many, them = ("1 fault", "it") if faults == 1 else (f"{faults} faults", "them")
    return f"Found {many}. Correct {them}, then ask again."


def _texts(problem: Conflict) -> ConflictTexts:
    base = problem.base
    return ConflictTexts(
        base=None if base is None else base.number, theirs=problem.theirs.number, theirs_text=problem.theirs.text,
        yours_text=problem.text,
        merged_text=merged(base.text, problem.text, problem.theirs.text) if isinstance(base, Revision) else None,
    )  # fmt: skip


def fault_of(message: Message) -> Fault:
    """Return a fault of a document as it stands in an answer."""
    return Fault(
        file=message.file, line=message.line, field=message.field, found=message.found, expected=message.expected,
        advice=message.advice,
    )  # fmt: skip


def faults_of_fields(problem: ValidationError, part: str, in_path: Collection[str] = ()) -> tuple[Fault, ...]:
    """Return what is wrong with the fields of a request.

    Parameters
    ----------
    problem
        What the model refused.
    part
        `body` or `query`.
    in_path
        Fields that stand in the path.
    """
    errors = [dict(error) for error in problem.errors(include_url=False)[:_FAULTS_MOST]]
    return tuple(_fault_of_field(error, part, in_path) for error in errors)


def _fault_of_field(error: Mapping[str, object], part: str, in_path: Collection[str]) -> Fault:
    steps = error["loc"] if isinstance(error["loc"], tuple) else ()
    if steps and steps[0] in in_path:
        part = "path"
    field = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).removeprefix(".")
    kind, expected = str(error["type"]), str(error["msg"]).removeprefix("Input should be ")
    found, advice = repr(error["input"])[:_FOUND_MOST], "correct it"
    if kind == "missing":
        found, expected, advice = "nothing", "a value", "add it"
    elif kind == "extra_forbidden":
        found, expected, advice = "a field of this name", "only those that are described", "leave it out"
    field = without_unseen(field)[:_FOUND_MOST]
    return Fault(file=part, line=None, field=field, found=found, expected=expected, advice=advice)
