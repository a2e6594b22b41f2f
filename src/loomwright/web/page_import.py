"""Circuits out of a spreadsheet: choose the sheet, say which column is which, look at every fault, then make them."""

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.documents.functions import FUNCTIONS
from loomwright.errors import Message
from loomwright.web.asking import Answer, Ask, Bytes, Page, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import NotKept, found_draft, keep_edit, opened
from loomwright.web.edits import many_added
from loomwright.web.forms.draft import Draft
from loomwright.web.forms.spreadsheet import Sheet, SheetError, column_name, read_sheets, sheet_text
from loomwright.web.forms.starters import BUSES
from loomwright.web.forms.wire_list import FIELDS, Reading, guessed_columns, guessed_header, read_list

__all__ = ["look", "show", "template"]

_SHOWN = 400
_HEADINGS = ("plug", "pin", "colour", "stripe", "what it is for", "name", "mm2", "fuse")


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportPage:
    """The steps of bringing a wire list in: without a sheet the first one, choosing the file."""

    vehicle: str
    name: str
    fault: str
    sheets: tuple[tuple[str, str], ...]  # (name, as csv)
    chosen: int
    header: int
    columns: tuple[tuple[str, str, int], ...]  # (field, words, its column or -1)
    headings: tuple[str, ...]
    plugs: tuple[tuple[str, str], ...]
    plug: str
    reading: Reading | None
    cells: Mapping[str, str]  # cell -> what is wrong there
    functions: tuple[str, ...]
    meanings: tuple[tuple[str, str], ...]
    leave_faulty: bool
    base: int
    messages: tuple[Message, ...]
    shown: int


def _empty(draft: Draft, base: int, fault: str = "") -> Page:
    context = ImportPage(
        vehicle=draft.id, name=draft.name, fault=fault, sheets=(), chosen=0, header=0, columns=(), headings=(),
        plugs=tuple((p.id, p.name) for _, p in draft.plugs), plug="", reading=None, cells={}, functions=(), meanings=(),
        leave_faulty=False, base=base, messages=(), shown=0,
    )  # fmt: skip
    return Page(template="import.html", title="A wire list", context=context, status=422 if fault else 200)


def show(desk: Desk, ask: Ask) -> Answer:
    """Ask for the file."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    return _empty(draft, revision.number)


def template(desk: Desk, ask: Ask) -> Answer:
    """Return an empty list with a row for each pin of the vehicle that is empty yet."""
    _, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(_HEADINGS)
    for _, plug in draft.plugs:
        known = draft.wires_in(plug.id)
        writer.writerows((plug.id, p, *[""] * 6) for row in plug.face.rows for p in row if p and p not in known)
    return Bytes(data=out.getvalue().encode("utf-8-sig"), media_type="text/csv", name=f"{draft.id}-wires.csv")


def look(desk: Desk, ask: Ask) -> Answer:
    """Show what a list comes to, and keep its circuits once that was confirmed."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    upload = ask.files.get("file")
    try:
        if upload is not None:
            return _page(ask, draft, read_sheets(upload.data), revision.number, is_first=True)
        sheets = tuple(sheet for text in _texts(ask) for sheet in read_sheets(text.encode()))
    except SheetError as problem:
        return _empty(draft, revision.number, f"{str(problem)[:1].upper()}{str(problem)[1:]}.")
    if not sheets:
        return _empty(draft, revision.number, "Found no file, expected a spreadsheet; choose one.")
    doc = opened(desk, ask, "vehicle", draft.id)
    page = _page(ask, draft, sheets, doc.base.number)
    if ask.sent("do") != "keep":
        return page
    reading = page.context.reading if isinstance(page.context, ImportPage) else None
    if reading is None or not reading.circuits or (reading.faults and not ask.sent("leave")):
        return Page(template=page.template, title=page.title, context=page.context, status=422)
    edit = many_added(("circuits",), reading.circuits)
    found = keep_edit(desk, ask, doc, edit, f"/vehicles/{draft.id}/edit#circuits")
    return _page(ask, draft, sheets, found.base, not_kept=found) if isinstance(found, NotKept) else found


def _texts(ask: Ask) -> list[str]:
    return [value for key, value in ask.form if key == "sheet"]


def _number(ask: Ask, key: str, default: int) -> int:
    text = ask.sent(key)
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 6 else default


def _page(
    ask: Ask, draft: Draft, sheets: tuple[Sheet, ...], base: int, *, is_first: bool = False,
    not_kept: NotKept | None = None,
) -> Page:  # fmt: skip
    names = [value for key, value in ask.form if key == "named"] if not is_first else [s.name for s in sheets]
    likely = max(range(len(sheets)), key=lambda n: len(guessed_columns(sheets[n], guessed_header(sheets[n]))))
    chosen = likely if is_first else min(_number(ask, "of", 0), len(sheets) - 1)
    # Another sheet has other columns: what was said of the one before does not hold.
    is_new = is_first or _number(ask, "was", chosen) != chosen
    sheet = sheets[chosen]
    header = guessed_header(sheet) if is_new else min(_number(ask, "header", 0), len(sheet.rows))
    columns = guessed_columns(sheet, header) if is_new else _columns(ask, sheet)
    plug = ask.sent("plug")
    known = {p.id for _, p in draft.plugs}
    if plug and plug not in known:
        raise WebError(400, f"Found {plug[:60]!r}, expected a plug of this vehicle. Choose it on the page.")
    meanings = _meanings(ask)
    leave = bool(ask.sent("leave"))
    reading = read_list(sheet, header, columns, plug, meanings, draft, leave_faulty=leave)
    context = ImportPage(
        vehicle=draft.id, name=draft.name, fault="",
        sheets=tuple((name, sheet_text(s)) for name, s in zip(names or [s.name for s in sheets], sheets, strict=False)),
        chosen=chosen, header=header,
        columns=tuple((field, words, columns.get(field, -1)) for field, words in FIELDS.items()),
        headings=tuple(
            f"{column_name(n)} {sheet.rows[header - 1][n] if header else ''}".strip() for n in range(len(sheet.rows[0]))
        ),
        plugs=tuple((p.id, p.name) for _, p in draft.plugs), plug=plug, reading=reading,
        cells={fault.cell: fault.words for fault in reading.faults},
        functions=(*(f for f in FUNCTIONS if f != "bus"), *(f"bus {kind}" for kind in BUSES)),
        meanings=tuple(meanings.items()), leave_faulty=leave, base=base,
        messages=not_kept.messages if not_kept else (), shown=_SHOWN,
    )  # fmt: skip
    return Page(
        template="import.html", title="A wire list", context=context, status=not_kept.status if not_kept else 200
    )


def _columns(ask: Ask, sheet: Sheet) -> dict[str, int]:
    found = {field: _number(ask, f"column.{field}", -1) for field in FIELDS}
    return {field: index for field, index in found.items() if 0 <= index < len(sheet.rows[0])}


def _meanings(ask: Ask) -> dict[str, str]:
    """Return what words of the list mean, as the person said."""
    words = {key: value for key, value in ask.form if key.startswith("word.")}
    means = {key: value for key, value in ask.form if key.startswith("means.")}
    return {word.lower(): means[f"means.{key.removeprefix('word.')}"] for key, word in words.items()
            if means.get(f"means.{key.removeprefix('word.')}")}  # fmt: skip
