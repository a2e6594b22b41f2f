"""Wires typed in rows, one for each pin: pin, colour, stripe, function, size, fuse; from the rows to circuits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.part_checking import check_part
from loomwright.documents.vehicle import Circuit
from loomwright.web.forms.draft import Draft, free_slug
from loomwright.web.forms.starters import BUSES, STARTERS, Feeds, started
from loomwright.web.forms.templates import TEMPLATES

__all__ = ["COLUMNS", "FilledRows", "RowFault", "WireRow", "circuits_of", "job_of"]

COLUMNS: Mapping[str, str] = {
    "colour": "Colour", "stripe": "Stripe", "function": "What it is for", "area_mm2": "mm²", "fuse_a": "Fuse, A",
}  # fmt: skip
"""Key of a cell -> its heading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WireRow:
    """One row as it was typed; `label` is what messages call it, such as 'pin 7' or 'row 12'."""

    label: str
    pin: str
    cells: Mapping[str, str]

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing was typed."""
        return not any(text.strip() for text in self.cells.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFault:
    """What is wrong with one cell."""

    label: str
    key: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledRows:
    """The circuits that the rows make, in plain values, and what is wrong with them."""

    circuits: tuple[dict[str, Any], ...]
    faults: tuple[RowFault, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """What a cell of the function column says."""

    function: str = ""
    template: str = ""
    bus: str = ""
    name: str = ""
    fault: str = ""


def job_of(text: str) -> _Job:
    """Read what a wire is for: ``ign``, ``30``, ``bus two-wire high``, ``other as battery feed: memory of the radio``.

    A function may be shortened as long as it stays clear, or be said by its DIN 72552 number.
    """
    head, _, name = text.partition(":")
    said, _, template = (part.strip() for part in f" {head} ".partition(" as "))
    bus = ""
    word = " ".join(said.lower().split())
    if word == "bus" or word.startswith("bus "):
        bus = word.removeprefix("bus").strip()
        if bus not in BUSES:
            return _Job(fault=f"found {said!r}, expected which one: bus {', bus '.join(BUSES)}; say it in full")
        word = "bus"
    function, fault = _function(word, said)
    if fault:
        return _Job(fault=fault)
    if template and template not in TEMPLATES:
        return _Job(fault=f"found 'as {template}', expected one of {', '.join(TEMPLATES)}; choose one")
    if (template or STARTERS[function].template) == "data wire" and not bus:
        return _Job(fault=f"found a data wire, expected which one: bus {', bus '.join(BUSES)}; say it in full")
    return _Job(function=function, template=template, bus=bus, name=" ".join(name.split()))


def _function(word: str, said: str) -> tuple[str, str]:
    if word in FUNCTIONS:
        return word, ""
    by_number = [name for name, facts in FUNCTIONS.items() if facts.din and facts.din.lower() == word]
    begun = by_number or [name for name in FUNCTIONS if name.startswith(word)] if word else []
    # 'acc' means 'accessory', of which 'accessory 2' is another one, and '50' means 'start' and not 'second start'.
    plain = [name for name in begun if all(name in other for other in begun)]
    if plain:
        return plain[0], ""
    if begun:
        return "", f"found {said!r}, expected one of {', '.join(begun)}; write more of it"
    return "", f"found {said!r}, expected a function such as ignition, lock or other; choose one from the list"


def circuits_of(rows: Sequence[WireRow], draft: Draft) -> FilledRows:
    """Return the circuits that some rows make; feeds are made first, whatever their order."""
    faults: list[RowFault] = []
    jobs: dict[str, _Job] = {}
    filled = [row for row in rows if not row.is_empty]
    for row in filled:
        job = job_of(row.cells.get("function", ""))
        if not row.cells.get("function", "").strip():
            words = "found nothing, expected what the wire is for; 'other' where nobody knows"
            faults.append(RowFault(label=row.label, key="function", words=words))
        elif job.fault:
            faults.append(RowFault(label=row.label, key="function", words=job.fault))
        else:
            jobs[row.label] = job
    book = _Book(draft)
    made: dict[str, dict[str, Any]] = {}
    for row in sorted((r for r in filled if r.label in jobs), key=lambda r: _order(jobs[r.label])):
        raw, wrong = _made(row, jobs[row.label], book)
        made[row.label] = raw
        faults += wrong
    order = {row.label: n for n, row in enumerate(rows)}
    return FilledRows(
        circuits=tuple(made[row.label] for row in filled if row.label in made),
        faults=tuple(sorted(faults, key=lambda fault: order[fault.label])),
    )


def _order(job: _Job) -> int:
    return {"battery feed": 0, "ignition": 1, "accessory": 1}.get(job.function, 2)


@dataclass(slots=True)
class _Book:
    """What is there already while row after row is made."""

    draft: Draft
    ids: list[str] = field(default_factory=list)
    battery: list[str] = field(default_factory=list)
    firsts: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for raw in self.draft.items(("circuits",)):
            self.add(raw)

    def add(self, raw: Mapping[str, Any]) -> None:
        id, function = str(raw.get("id", "")), str(raw.get("function", ""))
        self.ids.append(id)
        if function == "battery feed" and any("load" in (s.get("from"), s.get("to")) for s in raw.get("path") or ()):
            self.battery.append(id)
        self.firsts.setdefault(function, id)

    @property
    def feeds(self) -> Feeds:
        first = self.firsts.get
        traits = self.draft.items(("traits",))
        return Feeds(
            battery=tuple(self.battery), ignition=first("ignition", ""), accessory=first("accessory", ""),
            park_in_start=any(t.get("park_interlock") == "start circuit" for t in traits),
        )  # fmt: skip


def _made(row: WireRow, job: _Job, book: _Book) -> tuple[dict[str, Any], list[RowFault]]:
    wire: dict[str, Any] = {
        key: " ".join(row.cells[key].split()) for key in ("colour", "stripe") if row.cells.get(key, "").strip()
    }
    size, fuse = (_number(row.cells.get(key, "")) for key in ("area_mm2", "fuse_a"))
    if size is not None:
        wire["area_mm2"] = size
    id = free_slug(job.name or job.function, book.ids, "wire")
    raw = started(
        id=id, function=job.function, pin=row.pin, wire=wire, feeds=book.feeds, name=job.name, template=job.template,
        bus=job.bus, fuse_a=fuse,
    )  # fmt: skip
    wrong = []
    if "colour" not in wire:
        words = "found nothing, expected the colour of the wire; look at it, or take it from the diagram"
        wrong.append(RowFault(label=row.label, key="colour", words=words))
    for fault in check_part(Circuit, raw).faults:
        key = str(fault.path[-1])
        if key == "fed_by":
            words = "found no battery feed, expected one that feeds it; enter the feed in its pin first"
            wrong.append(RowFault(label=row.label, key="function", words=words))
        else:
            wrong.append(RowFault(label=row.label, key=key if key in COLUMNS else "function", words=str(fault)))
    if not wrong:
        book.add(raw)
    return raw, wrong


def _number(text: str) -> float | str | None:
    plain = text.strip()
    if not plain:
        return None
    try:
        return float(plain.replace(",", "."))
    except ValueError:
        return plain
