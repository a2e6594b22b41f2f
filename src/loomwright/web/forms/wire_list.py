"""A shop's own wire list: which column is which, what its words mean, and the circuits that its rows make."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from loomwright.web.forms.draft import Draft
from loomwright.web.forms.spreadsheet import Sheet, column_name
from loomwright.web.forms.wire_rows import WireRow, circuits_of, job_of

__all__ = ["FIELDS", "CellFault", "Reading", "guessed_columns", "guessed_header", "read_list"]

FIELDS: Mapping[str, str] = MappingProxyType({
    "plug": "Plug", "pin": "Pin", "colour": "Colour", "stripe": "Stripe", "function": "What it is for",
    "name": "A name of its own", "area_mm2": "Size, mm²", "fuse_a": "Fuse, A",
})  # fmt: skip
"""Our fields that a column may be."""

# Words that headings of wire lists have, in our own choice; the first field with a word that fits takes the column.
_HEADINGS: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "plug": ("plug", "connector", "conn", "socket"),
    "pin": ("pin", "terminal", "position", "place", "way"),
    "stripe": ("stripe", "tracer", "second colour", "second color"),
    "colour": ("colour", "color", "wire"),
    "area_mm2": ("mm2", "mm²", "size", "area", "cross"),
    "fuse_a": ("fuse", "amp"),
    "function": ("function", "what it is for", "purpose", "use", "circuit", "signal", "job"),
    "name": ("name", "note", "remark", "comment", "description"),
})  # fmt: skip

# What shops write for a function; common practice.
_SAID: Mapping[str, str] = MappingProxyType({
    "constant": "battery feed", "battery": "battery feed", "12v": "battery feed", "12 v": "battery feed",
    "starter": "start", "crank": "start", "ignition 1": "ignition", "ignition 2": "second ignition",
    "accessory 1": "accessory", "parking lights": "parking light", "park light": "parking light",
    "parking lamp": "parking light", "parking lamps": "parking light", "brake light": "brake",
    "stop lamp": "stop light",
    "door trigger": "door switch", "door pin": "door switch", "hood": "hood switch", "hood pin": "hood switch",
    "tachometer": "tach", "engine speed": "tach", "trunk": "hatch", "tailgate": "hatch", "boot": "hatch",
    "airbag": "restraint", "srs": "restraint", "gnd": "ground", "earth": "ground", "neutral": "park/neutral",
    "park": "park/neutral", "glow": "wait-to-start",
})  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CellFault:
    """What is wrong with one cell, by its name in the spreadsheet, such as 'C17'."""

    cell: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the rows of a list come to.

    `unknown` are words for functions that nobody has explained yet; `skipped` counts rows without anything in them.
    """

    rows: tuple[tuple[int, WireRow], ...]  # (row of the sheet, as it was read)
    circuits: tuple[dict[str, Any], ...]
    faults: tuple[CellFault, ...]
    unknown: tuple[str, ...]
    skipped: int


def guessed_header(sheet: Sheet) -> int:
    """Return the row that holds the headings, counted from 1; 0 where none seems to."""
    scores = [len(_columns(row)) for row in sheet.rows[:10]]
    best = max(range(len(scores)), key=scores.__getitem__, default=0)
    return best + 1 if scores and scores[best] >= 2 else 0


def guessed_columns(sheet: Sheet, header: int) -> dict[str, int]:
    """Return which column is probably which of our fields."""
    return _columns(sheet.rows[header - 1]) if 1 <= header <= len(sheet.rows) else {}


def _columns(row: Sequence[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    taken: set[int] = set()
    for exact in (True, False):
        for field, words in _HEADINGS.items():
            for index, heading in enumerate(row):
                said = heading.lower()
                fits = said in words if exact else any(word in said for word in words)
                if field not in found and index not in taken and said and fits:
                    found[field] = index
                    taken.add(index)
    return found


def read_list(
    sheet: Sheet, header: int, columns: Mapping[str, int], plug: str, meanings: Mapping[str, str], draft: Draft,
    *, leave_faulty: bool = False,
) -> Reading:  # fmt: skip
    """Return the circuits that a list makes.

    Parameters
    ----------
    sheet, header
        The table, and the row of its headings; what stands above it is no wire.
    columns
        Our field -> its column.
    plug
        The plug of rows that name none.
    meanings
        Word of the list for a function, in small letters -> the function it means.
    draft
        The vehicle, with its plugs.
    leave_faulty
        Whether rows with faults are left out.
    """
    plugs = {p.id: {pin for row in p.face.rows for pin in row if pin} for _, p in draft.plugs}
    by_name = {p.name.lower(): p.id for _, p in draft.plugs} | {id: id for id in plugs}
    rows: list[tuple[int, WireRow]] = []
    faults: list[CellFault] = []
    unknown: dict[str, str] = {}
    skipped = 0
    for number, row in enumerate(sheet.rows[header:], header + 1):
        said = {field: row[index] for field, index in columns.items() if index < len(row)}
        if not any(text for field, text in said.items() if field not in ("plug", "pin")):
            skipped += 1
            continue
        found, wrong, word = _row(number, said, by_name, plugs, plug, meanings)
        rows.append((number, found))
        faults += [CellFault(cell=f"{_letter(columns, key)}{number}", words=words) for key, words in wrong]
        if word:
            unknown.setdefault(word.lower(), word)
    twice = _twice(rows, draft)
    faults += [CellFault(cell=f"{_letter(columns, 'pin')}{n}", words=words) for n, words in twice]
    filled = circuits_of([row for _, row in rows], draft)
    of_label = {row.label: n for n, row in rows}
    told = {fault.cell for fault in faults}
    for fault in filled.faults:
        cell = f"{_letter(columns, fault.key)}{of_label[fault.label]}"
        if cell not in told:
            faults.append(CellFault(cell=cell, words=fault.words))
    bad = {int("".join(c for c in fault.cell if c.isdigit())) for fault in faults}
    circuits = filled.circuits
    if leave_faulty and bad:
        circuits = circuits_of([row for n, row in rows if n not in bad], draft).circuits
    in_order = sorted(faults, key=lambda f: (int("".join(c for c in f.cell if c.isdigit())), f.cell))
    return Reading(rows=tuple(rows), circuits=circuits, faults=tuple(in_order), unknown=tuple(unknown.values()),
                   skipped=skipped)  # fmt: skip


def _letter(columns: Mapping[str, int], key: str) -> str:
    return column_name(columns[key]) if key in columns else "row "


def _row(
    number: int, said: Mapping[str, str], by_name: Mapping[str, str], plugs: Mapping[str, set[str]], plug: str,
    meanings: Mapping[str, str],
) -> tuple[WireRow, list[tuple[str, str]], str]:  # fmt: skip
    wrong: list[tuple[str, str]] = []
    where, pin = said.get("plug", ""), said.get("pin", "")
    if "/" in pin and not where:
        where, _, pin = pin.partition("/")
    id = by_name.get(where.lower().strip(), "") if where else plug
    if where and not id:
        known = ", ".join(plugs) or "the plugs, of which none is entered"
        words = f"found {where!r}, expected one of {known}; enter the plug first"
        wrong.append(("plug" if said.get("plug") else "pin", words))
    elif pin and not id:
        wrong.append(("plug", "found no plug, expected one; choose the column, or the plug of all rows"))
    elif pin and pin not in plugs.get(id, set()):
        wrong.append(("pin", f"found pin {pin!r}, expected one of plug {id!r}; correct it"))
    elif not pin:
        wrong.append(("pin", "found nothing, expected the pin; fill it in, or leave the row out"))
    colour, stripe = said.get("colour", ""), said.get("stripe", "")
    for mark in ("/", "-", " with "):
        if not stripe and mark in colour:
            colour, _, stripe = (part.strip() for part in colour.partition(mark))
    text = said.get("function", "")
    word = meanings.get(text.lower()) or _SAID.get(text.lower().strip(" +-()"), text)
    job = job_of(word)
    unknown = text if job.fault and text else ""
    name = said.get("name", "")
    cells = {"colour": colour, "stripe": stripe, "function": f"{word}: {name}" if name and ":" not in word else word,
             "area_mm2": said.get("area_mm2", ""), "fuse_a": said.get("fuse_a", "")}  # fmt: skip
    return WireRow(label=f"row {number}", pin=f"{id}/{pin}" if id and pin else "", cells=cells), wrong, unknown


def _twice(rows: Sequence[tuple[int, WireRow]], draft: Draft) -> list[tuple[int, str]]:
    """Return the rows whose pin is filled already, in the vehicle or further up in the list."""
    known = {f"{plug.id}/{pin}" for _, plug in draft.plugs for pin in draft.wires_in(plug.id)}
    found: list[tuple[int, str]] = []
    first: dict[str, int] = {}
    for number, row in rows:
        if row.pin and row.pin in known:
            words = f"found {row.pin}, in which a circuit sits already, expected an empty pin; change it in its form"
            found.append((number, words))
        elif row.pin and row.pin in first:
            words = f"found {row.pin} again, expected each pin once; it stands in row {first[row.pin]} already"
            found.append((number, words))
        elif row.pin:
            first[row.pin] = number
    return found
