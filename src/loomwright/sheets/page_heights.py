"""How high texts and readings stand on a printed page, estimated before it is set.

What stands beside what, and what is kept together, is chosen by it.
"""

from loomwright.papers.blocks import ReadingField
from loomwright.sheets.reading_sheet import Fact, Meaning, ReadingSheet
from loomwright.sheets.svg import text_width
from loomwright.sheets.words import plain

__all__ = ["one_reading", "readings_height", "text_height"]

_LETTER_MM, _LINE_MM = 3.5, 4.45  # of running text
_NARROWER = 0.86  # the font of the page against the widths of `text_width`, which are generous
_SHEET_MM = 178.0
_WHERE_MM, _MEANING_MM = 44.0, 128.0  # columns of the list of what other readings mean
_TURNS_MM = 62.0  # both columns to write in
_ROW_MM, _HEAD_MM = 7.2, 6.0


def text_height(text: str, width_mm: float) -> float:
    """Return the height of a text set at a width [mm]; nothing for no text."""
    lines = sum(
        max(1, -int(-text_width(part, _LETTER_MM) * _NARROWER // width_mm)) for part in text.split("\n") if part
    )
    return lines * _LINE_MM + 1.2 if lines else 0.0


def one_reading(field: ReadingField) -> str:
    """Return the text of a single reading about as long as it is on the page, beside a drawing."""
    rows = (f"{v.words} {v.words}" for v in field.verdicts)
    return "\n".join((f"{field.clip} {field.probe} {field.state}", plain(field.expect) * 2, *rows, "x" * 40))


def readings_height(sheet: ReadingSheet) -> float:
    """Return the height of the readings of a step over the whole width of a page [mm]."""
    facts = " ".join(f"{key} {words}" for key, words in sheet.shared)
    height = text_height(f"{facts} {' '.join(lamp.words + ' ' * 20 for lamp in sheet.lamps)}", _SHEET_MM)
    height += _HEAD_MM + (_ROW_MM if sheet.relative else 0.0)
    cell = (_SHEET_MM - _TURNS_MM) / (2 if sheet.row_facts else 1)
    for group in sheet.groups:
        height += sum(text_height(words, _SHEET_MM) + _HEAD_MM / 2 for _, words in group.facts)
        for row in group.rows:
            said = text_height(_joined(row.facts), cell)
            height += max(_ROW_MM, said + 2.5, text_height(plain(row.field.expect), cell) + 2.5)
    wrong = [meaning for meaning in sheet.meanings if not meaning.good]
    height += sum(text_height(_said(m), _SHEET_MM) for m in sheet.meanings if m.good)
    height += sum(max(text_height(_where(m), _WHERE_MM), text_height(_said(m), _MEANING_MM)) + 1.2 for m in wrong)
    return height + _HEAD_MM + _LINE_MM


def _joined(facts: tuple[Fact, ...]) -> str:
    return "; ".join(words for _, words in facts)


def _where(meaning: Meaning) -> str:
    return "; ".join(f"{'1, ' * len(where.numbers)}{where.words} xxxxx" for where in meaning.where)


def _said(meaning: Meaning) -> str:
    return f"{meaning.words} {' '.join(f'1: {words}' for _, words in meaning.more)}"
