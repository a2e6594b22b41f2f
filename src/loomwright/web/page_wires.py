"""Wires in rows: a whole plug, one row for each pin, or circuits of any pin; made for fast hands on a keyboard."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.vehicle import Circuit, Plug
from loomwright.documents.writing import plain_of
from loomwright.errors import Message
from loomwright.papers.drawings import FaceDrawing
from loomwright.web.asking import Answer, Ask, Page, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import NotKept, Theirs, found_draft, keep_edit, opened
from loomwright.web.edits import Edit, item_set, many_added
from loomwright.web.forms.draft import Draft, draft_face
from loomwright.web.forms.starters import BUSES
from loomwright.web.forms.typed import rows_of
from loomwright.web.forms.wire_rows import COLUMNS, RowFault, WireRow, circuits_of

__all__ = ["fill", "keep_fill", "keep_rows", "rows"]

_BLANK_ROWS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class RowView:
    """One row of the form; a pin that has a circuit already shows what it is."""

    n: int
    pin: str
    cells: Mapping[str, str]
    circuit: str  # id of the circuit that sits there, empty where none does
    called: str
    faults: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class WiresPage:
    """The rows, with the plug drawn beside them where it is one plug."""

    vehicle: str
    name: str
    plug: str  # empty for circuits of any pin
    plug_name: str
    rows: tuple[RowView, ...]
    columns: tuple[tuple[str, str], ...]
    functions: tuple[tuple[str, str], ...]
    pins: tuple[str, ...]
    drawing: FaceDrawing | None
    base: int
    wrong: int
    messages: tuple[Message, ...]
    theirs: Theirs | None
    known: int


def _plug_of(draft: Draft, ask: Ask) -> Plug:
    plug = draft.plug(ask.path["plug"])
    if plug is None:
        raise WebError(404, f"{draft.name} has no plug {ask.path['plug'][:60]!r} that is in order.")
    return plug


def _pins(plug: Plug) -> tuple[str, ...]:
    return tuple(pin for row in plug.face.rows for pin in row if pin is not None)


def _cells_of(circuit: Circuit, pin: str) -> dict[str, str]:
    """Return what the row of a pin that has a circuit says."""
    wire = next((s for s in circuit.path if s.colour is not None and pin in (s.from_, s.to)), None)
    said = circuit.function + (f": {circuit.name}" if circuit.name else "")
    if wire is None:
        return {"colour": "", "stripe": "", "function": said, "area_mm2": "", "fuse_a": ""}
    return {"colour": wire.colour or "", "stripe": wire.stripe or "", "function": said,
            "area_mm2": f"{wire.area_mm2:g}", "fuse_a": ""}  # fmt: skip


def _view(draft: Draft, plug: Plug, sent: Mapping[int, Mapping[str, str]] | None, faults: Sequence[RowFault]) -> (
    tuple[RowView, ...]
):  # fmt: skip
    known = draft.wires_in(plug.id)
    views = []
    for n, pin in enumerate(_pins(plug), 1):
        sits = known.get(pin)
        cells = dict(sent.get(n, {})) if sent is not None else _cells_of(sits[0][1], f"{plug.id}/{pin}") if sits else {}
        views.append(RowView(
            n=n, pin=pin, cells={key: cells.get(key, "") for key in COLUMNS}, circuit=sits[0][1].id if sits else "",
            called=(sits[0][1].name or sits[0][1].function) if sits else "", faults=_faults(faults, f"pin {pin}"),
        ))  # fmt: skip
    return tuple(views)


def _faults(faults: Sequence[RowFault], label: str) -> dict[str, tuple[str, ...]]:
    keys = ("pin", *COLUMNS)
    return {key: tuple(f.words for f in faults if f.label == label and f.key == key) for key in keys}


def _page(
    draft: Draft, base: int, views: tuple[RowView, ...], plug: Plug | None, not_kept: NotKept | None = None,
    wrong: int = 0,
) -> Page:  # fmt: skip
    typed = {v.pin: (v.cells["colour"], v.cells["stripe"] or None) if v.cells["colour"] else None for v in views}
    context = WiresPage(
        vehicle=draft.id, name=draft.name, plug=plug.id if plug else "", plug_name=plug.name if plug else "",
        rows=views, columns=tuple(COLUMNS.items()), functions=_functions(),
        pins=tuple(f"{p.id}/{pin}" for _, p in draft.plugs for pin in _pins(p)),
        drawing=draft_face(draft, plug, typed) if plug else None, base=not_kept.base if not_kept else base, wrong=wrong,
        messages=not_kept.messages if not_kept else (), theirs=not_kept.theirs if not_kept else None,
        known=len(draft.items(("circuits",))),
    )  # fmt: skip
    title = f"Fill {plug.name}" if plug else "Circuits in rows"
    status = 422 if wrong else not_kept.status if not_kept else 200
    return Page(template="wires.html", title=title, context=context, status=status)


def _functions() -> tuple[tuple[str, str], ...]:
    plain = [(name, facts.gist) for name, facts in FUNCTIONS.items() if name != "bus"]
    return (*plain, *((f"bus {kind}", "data") for kind in BUSES))


def fill(desk: Desk, ask: Ask) -> Answer:
    """Show a plug, one row for each pin."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    plug = _plug_of(draft, ask)
    return _page(draft, revision.number, _view(draft, plug, None, ()), plug)


def _row(label: str, pin: str, sent: Mapping[str, str]) -> WireRow:
    return WireRow(label=label, pin=pin, cells={key: sent.get(key, "") for key in COLUMNS})


def keep_fill(desk: Desk, ask: Ask) -> Answer:
    """Make circuits of the rows that were filled in, and change the wires of those that were there."""
    doc = opened(desk, ask, "vehicle", ask.path["vehicle"])
    plug = _plug_of(doc.was, ask)
    sent = rows_of(ask.form, "w")
    if ask.sent("do") == "draw":
        return _page(doc.was, doc.base.number, _view(doc.was, plug, sent, ()), plug)
    known = doc.was.wires_in(plug.id)
    new: list[WireRow] = []
    changed: list[tuple[int, dict[str, Any]]] = []
    faults: list[RowFault] = []
    for n, pin in enumerate(_pins(plug), 1):
        row = _row(f"pin {pin}", f"{plug.id}/{pin}", sent.get(n, {}))
        if pin not in known:
            new.append(row)
        elif (was := _cells_of(known[pin][0][1], row.pin)) != dict(row.cells):
            rewired = _rewired(known[pin][0][1], row, was)
            if isinstance(rewired, RowFault):
                faults.append(rewired)
            else:
                changed.append((known[pin][0][0], rewired))
    filled = circuits_of(new, doc.now)
    faults = [*faults, *filled.faults]
    if faults:
        return _page(doc.was, doc.base.number, _view(doc.was, plug, sent, faults), plug, wrong=len(faults))
    pins = frozenset(row.pin.partition("/")[2] for row in new if not row.is_empty)
    edit = many_added(("circuits",), filled.circuits, _all_set(changed, plug.id, pins))
    found = keep_edit(desk, ask, doc, edit, f"/vehicles/{doc.was.id}/edit#plug-{plug.id}")
    if isinstance(found, NotKept):
        plug = doc.now.plug(plug.id) or plug
        return _page(doc.now, found.base, _view(doc.now, plug, sent, ()), plug, found)
    return found


def _all_set(changed: Sequence[tuple[int, dict[str, Any]]], plug: str, filled: frozenset[str]) -> Edit:
    """Return one change out of those of several circuits; pins that are to be filled must be empty still."""
    edits = [item_set(("circuits",), index, raw) for index, raw in changed]

    def over(base: Draft, now: Draft) -> str | None:
        text: str | None = None if filled & now.wires_in(plug).keys() else now.text
        for edit in edits:
            text = None if text is None else edit.over(base, now.with_text(text))
        return text

    return Edit(over=over)


def _rewired(circuit: Circuit, row: WireRow, was: Mapping[str, str]) -> dict[str, Any] | RowFault:
    """Return a circuit with another wire at a pin; what it is for is changed in its own form."""
    if row.cells["function"] != was["function"] or row.cells["fuse_a"]:
        words = "found a change of what the wire is for, expected it as it is; change it in the circuit's own form"
        return RowFault(label=row.label, key="function", words=words)
    if not row.cells["colour"]:
        words = "found nothing, expected a colour; to take the circuit away open its own form"
        return RowFault(label=row.label, key="colour", words=words)
    raw = plain_of(circuit)
    for step in raw["path"]:
        if step.get("colour") and row.pin in (step["from"], step["to"]):
            step.pop("stripe", None)
            step |= {key: row.cells[key] for key in ("colour", "stripe") if row.cells[key]}
            if row.cells["area_mm2"]:
                try:
                    step["area_mm2"] = float(row.cells["area_mm2"].replace(",", "."))
                except ValueError:
                    step["area_mm2"] = row.cells["area_mm2"]
    return raw


def rows(desk: Desk, ask: Ask) -> Answer:
    """Show empty rows for circuits of any pin."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    return _page(draft, revision.number, _blank({}, ()), None)


def _blank(sent: Mapping[int, Mapping[str, str]], faults: Sequence[RowFault]) -> tuple[RowView, ...]:
    return tuple(
        RowView(
            n=n, pin=sent.get(n, {}).get("pin", ""), cells={key: sent.get(n, {}).get(key, "") for key in COLUMNS},
            circuit="", called="", faults=_faults(faults, f"row {n}"),
        )
        for n in range(1, max(_BLANK_ROWS, *sent, 0) + 1)
    )  # fmt: skip


def keep_rows(desk: Desk, ask: Ask) -> Answer:
    """Make circuits of the rows that were filled in."""
    doc = opened(desk, ask, "vehicle", ask.path["vehicle"])
    draft = doc.now
    sent = {n: row for n, row in rows_of(ask.form, "w").items() if n <= 400}
    pins = {f"{plug.id}/{pin}" for _, plug in draft.plugs for pin in _pins(plug)}
    typed = [_row(f"row {n}", row.get("pin", ""), row) for n, row in sent.items()]
    filled = circuits_of(typed, draft)
    unknown = [
        RowFault(label=r.label, key="pin", words=f"found {r.pin!r}, expected a pin of this car such as "
                 f"{next(iter(sorted(pins)), 'plug/1')}; enter the plug first or leave it empty")
        for r in typed if r.pin and r.pin not in pins
    ]  # fmt: skip
    faults = (*unknown, *filled.faults)
    if faults or ask.sent("do") == "draw":
        return _page(draft, doc.base.number, _blank(sent, faults), None, wrong=len(faults))
    edit = many_added(("circuits",), filled.circuits)
    found = keep_edit(desk, ask, doc, edit, f"/vehicles/{draft.id}/edit#circuits")
    if isinstance(found, NotKept):
        return _page(draft, found.base, _blank(sent, ()), None, found)
    return found
