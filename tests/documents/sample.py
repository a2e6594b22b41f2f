"""A small document of every shape that the reader must tell faults of: the models, and a text that is right."""

import re
from datetime import date
from enum import Enum
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from loomwright.documents.fault import Fault, Faults
from loomwright.documents.reading import Loaded, Source, read_document

__all__ = ["GARDEN", "MODELS", "Bed", "Garden", "faults_of", "read"]


class Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Soil(Enum):
    CLAY = "clay"
    SAND = "sand"


class Hose(Entry):
    by: Literal["hose"]
    length_m: float = Field(gt=0, le=50, description="Length of the hose.")


class Can(Entry):
    by: Literal["can", "bucket"]
    trips: int = Field(default=1, ge=1, le=9)


def _known(name: str) -> str:
    if name == "weed":
        raise Fault(found="a weed", expected="a plant", advice="pull it")
    if not re.fullmatch("[a-z-]+", name):
        msg = f"found {name!r}, expected lower-case letters; write it small"
        raise ValueError(msg)
    return name


def _not_monday(day: date) -> date:
    if day.weekday() == 0:
        msg = "any day but Monday"
        raise ValueError(msg)
    return day


class Plant(Entry):
    name: Annotated[str, AfterValidator(_known)]
    sown: Annotated[date, AfterValidator(_not_monday)] | None = None
    depth_mm: float = 10.0
    tall: bool = False


class Stake(Entry):
    wood: str
    height_m: float


class Wire(Entry):
    wire: str
    height_m: float
    rows: int = 1


class Bed(Entry):
    id: str
    soil: Soil
    water: Annotated[Hose | Can, Field(discriminator="by")] | None = None
    plants: tuple[Plant, ...] = ()
    support: Stake | Wire | Literal["none", "fence"] = "none"
    price: float | int | str | None = None
    corner: tuple[float, float] = (0.0, 0.0)
    except_: tuple[str, ...] = Field(default=(), alias="except")
    code: str = Field(default="AB-1", pattern="^[A-Z]{2}-[0-9]+$")
    inner: tuple["Bed", ...] = ()
    spacing_mm: Annotated[
        tuple[float, ...], BeforeValidator(lambda written: written if isinstance(written, list) else [written])
    ] = ()


class Garden(Entry):
    format: int = 1
    kind: Literal["garden"] = "garden"
    name: str = Field(default="", max_length=20)
    beds: tuple[Bed, ...] = Field(min_length=1)
    notes: dict[str, int] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _names_once(self) -> Self:
        ids = [bed.id for bed in self.beds]
        twice = [index for index, name in enumerate(ids) if name in ids[:index]]
        if twice:
            raise Faults(
                Fault(expected="each id once", advice="rename one of them", at=("beds", index, "id"))
                if index % 2
                else Fault(
                    found=f"the id {ids[index]!r} again",
                    expected="each id once",
                    advice="rename one of them",
                    at=("beds", index, "id"),
                )
                for index in twice
            )
        return self


class Shed(Entry):
    tools: tuple[str, ...] = ()


MODELS: dict[str, type[BaseModel]] = {"garden": Garden, "shed": Shed}

GARDEN = """\
format: 1
kind: garden
beds:
  - id: north
    soil: clay
    water: {by: hose, length_m: 12}
    plants:
      - name: leek
        sown: 2026-03-31
        depth_mm: 150.0
  - id: south
    soil: sand
"""


def read(text: str | bytes) -> Loaded:
    return read_document(Source(file="g.yaml", text=text), MODELS)


def faults_of(text: str | bytes) -> list[str]:
    """Messages of a text that must not be read, each as the person sees it."""
    from loomwright.errors import DocumentError

    try:
        read(text)
    except DocumentError as error:
        return [str(message) for message in error.messages]
    return []
