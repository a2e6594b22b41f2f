"""What every document is made of: the frozen base model, slugs, conditions over axes, and numbers with units."""

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from loomwright.documents.fault import Fault
from loomwright.units import parse_quantity

__all__ = [
    "Amps",
    "AreaMm2",
    "Condition",
    "Document",
    "LanguageCode",
    "LengthM",
    "Minutes",
    "Ohms",
    "Part",
    "Slug",
    "Translation",
    "Volts",
    "Words",
    "holds",
    "name_text",
]

_SLUG = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)*")


Words = Annotated[str, Field(min_length=1)]
LanguageCode = Literal["en", "fr"]
"""A language that papers can be written in, ISO 639-1."""


class Part(BaseModel):
    """A frozen piece of a document; an unknown key is a fault, never silently dropped."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, str_strip_whitespace=True)


class Translation(Part):
    """One text of a document in another language."""

    text: Words = Field(description="The text as it stands in this document.")
    said: Words = Field(description="The same in the language.")


class Document(Part):
    """A whole document: its format number and kind stand at its top."""

    format: int = Field(1, description="The number of the document format; this program reads format 1.")
    translations: Mapping[LanguageCode, tuple[Translation, ...]] = Field(
        default_factory=dict, description="Texts of this document in other languages: code of the language -> texts."
    )


def _slug(text: str) -> str:
    if not _SLUG.fullmatch(text):
        near = "-".join(re.findall(r"[a-z0-9]+", text.lower()))
        raise Fault(
            found=repr(text),
            expected="lower-case words joined by '-'",
            advice=f"write {near!r}" if near else "choose another name",
        )
    return text


def name_text(value: object) -> object:
    """Let a bare number such as a year or a pin stand where a name is wanted."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


Slug = Annotated[str, BeforeValidator(name_text), AfterValidator(_slug)]


def _as_tuple(value: object) -> object:
    return value if isinstance(value, list | tuple) else [value]


AxisValues = Annotated[tuple[Annotated[str, BeforeValidator(name_text)], ...], BeforeValidator(_as_tuple)]
Condition = Annotated[
    dict[str, AxisValues],
    Field(
        description="Axis to value or list of values: OR inside one axis, AND over axes. 'A to B' for an ordered axis."
    ),
]


def holds(condition: Mapping[str, tuple[str, ...]], choice: Mapping[str, str]) -> bool:
    """Tell whether every axis of the condition has, in this choice, one of the values listed for it."""
    return all(choice[axis] in values for axis, values in condition.items())


def _quantity(unit: str) -> Callable[[object], object]:
    def read(value: Any) -> Any:
        return parse_quantity(value, unit) if isinstance(value, str) else value

    return read


Amps = Annotated[float, BeforeValidator(_quantity("A")), Field(ge=0, le=2000)]
Volts = Annotated[float, BeforeValidator(_quantity("V")), Field(ge=0, le=60)]
Ohms = Annotated[float, BeforeValidator(_quantity("ohm")), Field(ge=0.001, le=1e8)]
LengthM = Annotated[float, BeforeValidator(_quantity("m")), Field(gt=0, le=30)]
AreaMm2 = Annotated[float, BeforeValidator(_quantity("mm2")), Field(ge=0.13, le=120)]
Minutes = Annotated[float, Field(ge=0, le=600)]
