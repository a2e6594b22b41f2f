"""A whole paper said in another language: every text of its blocks anew, every number and drawing as it was."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, TypeVar

from loomwright.papers.blocks import (
    Bullets,
    Caution,
    Chart,
    Face,
    Heading,
    Paper,
    Paragraph,
    Picture,
    Quantity,
    ReadingField,
    Step,
    StepNeeds,
    Table,
    Verdict,
)  # fmt: skip
from loomwright.papers.drawings import DashMap, DashSpot, FaceDrawing, WiringPart, WiringPlan, WiringRow
from loomwright.papers.language import Language
from loomwright.papers.saying import Said
from loomwright.starting.timeline import Bar, Curve, Mark, Timeline, WaitChart

__all__ = ["SAID", "drawing_in_language", "in_language"]

_Drawing = TypeVar("_Drawing", Timeline, WaitChart)

SAID: Mapping[type, tuple[str, ...]] = MappingProxyType({
    Paper: ("title", "subtitle", "blocks", "footer"),
    Heading: ("text",),
    Paragraph: ("text",),
    Bullets: ("items",),
    Caution: ("text",),
    Face: ("title", "drawing", "words", "words_turned"),
    Picture: ("drawing", "caption", "words"),
    ReadingField: ("clip", "probe", "state", "expect", "verdicts", "lamp"),
    Chart: ("drawing", "caption", "words"),
    Timeline: ("title", "bars", "curves", "marks"),
    WaitChart: ("title", "curves"),
    Bar: ("name",),
    Curve: ("name", "level_name"),
    Mark: ("words",),
    Verdict: ("low", "high", "words"),
    StepNeeds: ("panel", "tool"),
    Step: (
        "title", "needs", "place", "access", "do", "see", "if_not", "label", "count", "neighbours", "face", "picture",
        "readings", "unproven", "cautions",
    ),
    Table: ("head", "rows", "caption"),
    FaceDrawing: ("labels",),
    DashMap: ("spots",),
    DashSpot: ("name",),
    WiringPlan: ("rows",),
    WiringRow: (
        "task", "where", "terminal", "size", "length", "fuse", "part", "plug", "function", "note",
    ),
    WiringPart: ("name", "feed_fuse"),
})  # fmt: skip
"""Block or part of one -> its fields that people read. Colours of wires are not here: a drawing is coloured by them,
and says them in the paper's language itself."""


def in_language(paper: Paper, language: Language) -> Paper:
    """Return a paper in a language.

    What it says of a car and a kit comes from the same results: only the sentences are made anew from what the paper's
    own were made of.
    """
    said: Paper = _said(paper, language)
    return replace(said, language=language.code)


def drawing_in_language(drawing: _Drawing, language: Language) -> _Drawing:
    """Return the drawing of a start in a language, for whoever draws it without a paper."""
    said: _Drawing = _said(drawing, language)
    return said


def _said(value: Any, language: Language) -> Any:
    if isinstance(value, str):
        return language.of(value)
    if isinstance(value, Said):
        return language.text(value)
    if isinstance(value, tuple):
        return tuple(_said(one, language) for one in value)
    if isinstance(value, Mapping):
        return {key: _said(one, language) for key, one in value.items()}
    if isinstance(value, Quantity):
        return language.number(value)
    fields = SAID.get(type(value))
    if fields is None:
        return value
    said = {name: _said(getattr(value, name), language) for name in fields}
    if isinstance(value, FaceDrawing):
        said["language"] = language.code
    if isinstance(value, Curve):
        said["unit"] = language.unit(value.unit)
    return replace(value, **said)
