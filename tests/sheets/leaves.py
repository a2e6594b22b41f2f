"""Every text of a paper, for asking whether a sheet holds it."""

from collections.abc import Iterator

from loomwright.papers.blocks import (
    Bullets,
    Caution,
    Face,
    Heading,
    Paper,
    Paragraph,
    Picture,
    Quantity,
    ReadingField,
    Step,
    Table,
    Text,
)
from loomwright.papers.drawings import DashMap
from loomwright.sheets.words import quantity_words

__all__ = ["squeezed", "texts_of"]


def squeezed(text: str) -> str:
    """Return the text with every white space, break opportunity and hyphenless line end taken out."""
    return "".join(text.replace("\u200b", "").split())


def _runs(text: Text) -> Iterator[str]:
    for run in text:
        yield quantity_words(run) if isinstance(run, Quantity) else run


def _reading(field: ReadingField) -> Iterator[str]:
    yield from (field.clip, field.probe, field.state, field.lamp)
    yield from _runs(field.expect)
    # That a reading is right and nothing else is what its row says.
    yield from (verdict.words for verdict in field.verdicts if verdict.words != "Right.")


def _face(face: Face) -> Iterator[str]:
    yield from (face.title, face.words, face.words_turned)


def _picture(picture: Picture) -> Iterator[str]:
    yield from (picture.caption, picture.words)
    if isinstance(picture.drawing, DashMap):
        yield from (spot.name for spot in picture.drawing.spots)


def _step(step: Step) -> Iterator[str]:
    yield from (step.title, step.place, *step.access)
    yield from (
        step.label or "",
        step.lead_colour or "",
        step.wire_colour or "",
        step.count or "",
        step.neighbours or "",
    )
    yield from (step.needs.panel or "", step.needs.tool or "", step.unproven or "")
    for text in (*step.do, step.see, step.if_not, *(caution.text for caution in step.cautions)):
        yield from _runs(text)
    if step.face:
        yield from _face(step.face)
    if step.picture:
        yield from _picture(step.picture)
    for field in step.readings:
        yield from _reading(field)


def texts_of(paper: Paper) -> list[str]:
    """Return every string that somebody wrote or that was computed, in reading order."""
    found = [paper.title, paper.subtitle, *paper.marks.values()]
    for block in paper.blocks:
        match block:
            case Heading():
                found.append(block.text)
            case Paragraph() | Caution():
                found.extend(_runs(block.text))
            case Bullets():
                found.extend(text for item in block.items for text in _runs(item))
            case Face():
                found.extend(_face(block))
            case Picture():
                found.extend(_picture(block))
            case ReadingField():
                found.extend(_reading(block))
            case Step():
                found.extend(_step(block))
            case Table():
                found.extend((block.caption, *block.head))
                found.extend(text for row in block.rows for cell in row for text in _runs(cell))
    return [text for text in found if text]
