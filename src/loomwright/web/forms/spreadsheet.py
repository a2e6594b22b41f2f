"""A table out of a file somebody else made: xlsx, ods or csv, everything in it taken for text and nothing trusted."""

import csv
import io
import zipfile
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import islice

__all__ = ["MOST_CELLS", "MOST_COLUMNS", "MOST_ROWS", "Sheet", "SheetError", "column_name", "read_sheets", "sheet_text"]

MOST_ROWS, MOST_COLUMNS, MOST_TEXT = 3000, 40, 300
MOST_CELLS = 40_000  # of all sheets together
_MOST_SHEETS = 20
# A sheet of 3000 rows has some 2 MB unpacked; a file that unpacks to more is no wire list.
_MOST_UNPACKED, _MOST_RATIO, _MOST_MEMBERS = 60_000_000, 200, 400
_ZIP = b"PK\x03\x04"
_OLD_XLS = b"\xd0\xcf\x11\xe0"


class SheetError(ValueError):
    """The file is no table that can be read; the text says why and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet: its name and its rows of texts, all of one width, row 1 and column A first."""

    name: str
    rows: tuple[tuple[str, ...], ...]


def read_sheets(data: bytes) -> tuple[Sheet, ...]:
    """Return the sheets of a file, those that hold nothing left out.

    What kind of file it is, is told by its content and not by its name. A formula gives the value the program that
    wrote the file had computed; one in a csv file is a text that begins with '='.

    Raises
    ------
    SheetError
        Where it is no table, too large, or packed so that it would fill the memory.
    """
    if not data:
        raise SheetError("found an empty file, expected a table; choose another file")
    if data.startswith(_OLD_XLS):
        raise SheetError("found the old .xls format, expected .xlsx, .ods or .csv; save it in one of these")
    sheets = _of_workbook(data) if data.startswith(_ZIP) else (_of_csv(data),)
    found = tuple(sheet for sheet in sheets if sheet.rows)
    if not found:
        raise SheetError("found no filled cell, expected a table; choose another file")
    if sum(len(sheet.rows) * len(sheet.rows[0]) for sheet in found) > MOST_CELLS:
        raise SheetError(f"found more than {MOST_CELLS} cells, expected a wire list; take out the other sheets")
    return found


def _of_workbook(data: bytes) -> tuple[Sheet, ...]:
    _check_packing(data)
    from python_calamine import CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        names = book.sheet_names[:_MOST_SHEETS]
        tables = [(name, book.get_sheet_by_name(name).to_python(skip_empty_area=False)) for name in names]
    except Exception as problem:  # the library names its errors by the format it guessed
        raise SheetError(
            "found a packed file that is no workbook, or a damaged one, expected .xlsx, .ods or .csv; save it once more"
        ) from problem
    return tuple(_sheet(name, [[_text(cell) for cell in row] for row in rows]) for name, rows in tables)


def _check_packing(data: bytes) -> None:
    """Refuse an archive that unpacks to far more than it weighs, before anything is unpacked."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError) as problem:
        raise SheetError("found a damaged file, expected .xlsx, .ods or .csv; save it once more") from problem
    unpacked = sum(member.file_size for member in members)
    too_tight = any(m.file_size > 100_000 and m.file_size > _MOST_RATIO * max(m.compress_size, 1) for m in members)
    if len(members) > _MOST_MEMBERS or unpacked > _MOST_UNPACKED or too_tight:
        raise SheetError(
            f"found a file that unpacks to {unpacked / 1e6:.0f} MB in {len(members)} parts, expected a wire list; "
            "copy the list into a new file"
        )


def _of_csv(data: bytes) -> Sheet:
    if b"\0" in data[:4096] and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise SheetError("found a file of another kind, expected .xlsx, .ods or .csv; save the list in one of these")
    try:
        text = data.decode("utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    head = text[:4000]
    mark = max(",;\t", key=head.count)
    try:
        rows = list(islice(csv.reader(io.StringIO(text, newline=""), delimiter=mark), MOST_ROWS + 1))
    except csv.Error as problem:
        raise SheetError(
            f"found a table that cannot be read ({problem}), expected a csv file; save it anew"
        ) from problem
    return _sheet("table", rows)


def _sheet(name: str, rows: list[list[str]]) -> Sheet:
    width = max((n for row in rows for n, cell in enumerate(row, 1) if cell.strip()), default=0)
    while rows and not any(cell.strip() for cell in rows[-1]):
        rows.pop()
    if len(rows) > MOST_ROWS or width > MOST_COLUMNS:
        raise SheetError(
            f"found {len(rows)} rows and {width} columns in {name[:40]!r}, expected at most {MOST_ROWS} and "
            f"{MOST_COLUMNS}; take out what is no wire"
        )
    cut = [[" ".join(cell.split())[:MOST_TEXT] for cell in row[:width]] for row in rows]
    return Sheet(name=name[:60], rows=tuple(tuple(row + [""] * (width - len(row))) for row in cut))


def _text(cell: object) -> str:
    """Return a cell as a person reads it: whole numbers without the point that spreadsheets give them."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{cell:.15g}"
    if isinstance(cell, datetime | date | time | timedelta):
        return str(cell)
    return "" if cell is None else str(cell)


def sheet_text(sheet: Sheet) -> str:
    """Return a sheet as csv, in which a page keeps it until it is confirmed."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(sheet.rows)
    return out.getvalue()


def column_name(index: int) -> str:
    """Return what a spreadsheet calls a column: A, B ... Z, AA."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(65 + rest) + name
    return name
