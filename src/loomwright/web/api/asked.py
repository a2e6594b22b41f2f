"""What a request may hold: path and query in one model, the body in another."""

from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

__all__ = [
    "AskOrder", "AskPair", "AskReadings", "Asked", "ByBody", "Comparing", "JobAsked", "Jobs", "Kind", "Listed",
    "NewJob", "Nothing", "One", "SaveDocument", "Searching", "VersionAsked",
]  # fmt: skip

Kind = Literal["vehicle", "kit", "evidence", "shop"]

_LARGEST_NUMBER = 2_147_483_647  # what every database counts to
_TEXT_MOST = 2_000_000
_WORDS_MOST = 2000
_AXES_MOST = 60


def _whole(value: object) -> object:
    """Return 3.0 as 3: JSON has one kind of number."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+([-.][a-z0-9]+)*$", max_length=120)]
Number = Annotated[int, Field(ge=1, le=_LARGEST_NUMBER), BeforeValidator(_whole)]
Limit = Annotated[int, Field(ge=1, le=200)]
Value = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Words = Annotated[str, StringConstraints(max_length=_WORDS_MOST)]
Choice = Annotated[dict[Value, Value], Field(max_length=_AXES_MOST)]

_VEHICLE = Field(description="Id of the vehicle family.", examples=["kestrin-fallow"])
_KIT = Field(description="Id of the kit.", examples=["rookery-4"])
_CAR = Field(
    description="Which car of the family it is: every axis of the vehicle with its value.",
    examples=[{"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"}],
)
_BY = Field(None, description="Id of the person who does it, as `by` of a revision has it; else the shop's first.")


class Asked(BaseModel):
    """Path and query of a request. Fields that the path does not name stand in the query."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Body(BaseModel):
    """What is sent as JSON."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class Nothing(Asked):
    """A request without anything."""


class Listed(Asked):
    """A page of the list of a kind."""

    kind: Kind
    after: Id | None = Field(None, description="Only ids after this one: `next` of the page before.")
    limit: Limit = 60


class One(Asked):
    """One document."""

    kind: Kind
    id: Id = Field(examples=["kestrin-fallow", "rookery-4"])


class VersionAsked(One):
    """One revision of a document."""

    number: Number = Field(description="Number of the revision, as the list of revisions has it.")


class Comparing(One):
    """Two revisions of a document."""

    before: Number = Field(description="Number of the older revision.")
    after: Number = Field(description="Number of the newer revision.")


class SaveDocument(Body):
    """A new revision of a document."""

    text: str = Field(
        max_length=_TEXT_MOST, description="The whole document as YAML; JSON will do, which is YAML too.",
        examples=["format: 1\nkind: evidence\nid: kestrin-fallow-evidence\nvehicle: kestrin-fallow\nrecords: []\n"],
    )  # fmt: skip
    base: Number | None = Field(description="Number of the revision it was made from; null for a new document.")
    by: Id | None = _BY


class AskPair(Body):
    """One kit in one car."""

    vehicle: Id = _VEHICLE
    kit: Id = _KIT
    choice: Choice = _CAR


class AskReadings(AskPair):
    """One kit in one car, and the battery as just measured."""

    battery_v: float = Field(12.6, ge=11.0, le=15.0, description="Voltage of the battery at rest [V].")


class AskOrder(Body):
    """What a buyer has answered so far."""

    vehicle: Id = _VEHICLE
    kit: Id = _KIT
    answers: Choice = Field(
        default={}, description="Id of a question to its answer; begin with none, then add one `question` at a time.",
        examples=[{"year": "2014", "engine": "3.3"}],
    )  # fmt: skip


class Jobs(Asked):
    """A page of the list of jobs, newest first."""

    before: Number | None = Field(None, description="Only jobs saved before this revision: `next` of the page before.")
    limit: Limit = 60


class JobAsked(Asked):
    """One job."""

    serial: Id = Field(examples=["2026-0001"])


class NewJob(AskPair):
    """A kit sold for a car."""

    buyer: Words = Field("", description="Name of the buyer; kept where it can be erased, and never in the job.")
    contact: Words = Field("", description="How to reach the buyer; kept in the same place.")
    note: Words = ""
    by: Id | None = _BY


class ByBody(Body):
    """Who does it."""

    by: Id | None = _BY


class Searching(Asked):
    """Words to look for."""

    q: str = Field(max_length=200, description="Words; capitals and accents do not count.")
    limit: Annotated[int, Field(ge=1, le=50)] = 20
