"""Values of a part as they are typed into the fields of a form, and back to plain values of a document."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from loomwright.documents.part_checking import PartFault
from loomwright.web.forms.slots import Slot

__all__ = ["Input", "Typed", "condition_text", "filled", "raw_of", "rows_of", "typed_of"]

Typed: TypeAlias = Sequence[tuple[str, str]]
"""Names and texts of fields, as a browser sends them."""

_SPARE_ROWS = 2
_RUN = re.compile(r"([A-Za-z]*)([0-9]{1,4})(?:-|\.\.)\1([0-9]{1,4})")
_MOST_PINS = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One field with what stands in it; of a table its rows, each with a text for each column."""

    slot: Slot
    value: str
    chosen: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    faults: tuple[str, ...]


# --- from a document into the form ------------------------------------------------------------------------------------


def typed_of(raw: Mapping[str, Any], slots: Sequence[Slot]) -> list[tuple[str, str]]:
    """Return what would have been typed for a part of a document."""
    return [pair for slot in slots for pair in _typed(slot, _at(raw, slot.path))]


def _at(raw: Any, path: Sequence[str]) -> Any:
    for step in path:
        raw = raw.get(step) if isinstance(raw, Mapping) else None
    return raw


def _typed(slot: Slot, value: Any) -> Iterator[tuple[str, str]]:
    if value is None:
        return
    if slot.kind in ("table", "pairs"):
        rows: list[Any] = (
            [{"#": key, **(inner if isinstance(inner, dict) else {"": inner})} for key, inner in value.items()]
            if isinstance(value, dict)
            else value if isinstance(value, list) else []
        )  # fmt: skip
        for number, row in enumerate(rows, 1):
            for column in slot.columns:
                for _, text in _typed(column, _at(row, column.path)):
                    yield f"{slot.name}.{number}.{column.name}", text
    elif slot.kind == "several":
        yield from ((slot.name, _text(one)) for one in (value if isinstance(value, list) else [value]))
    elif slot.kind == "face":
        yield slot.name, _text_of_face(value)
    elif slot.kind == "condition":
        yield slot.name, condition_text(value)
    elif slot.kind == "lines":
        yield slot.name, "\n".join(_text(one) for one in (value if isinstance(value, list) else [value]))
    elif slot.kind in ("pins", "axes"):
        joint = " " if slot.kind == "pins" else ", "
        yield slot.name, joint.join(_text(one) for one in (value if isinstance(value, list) else [value]))
    else:
        yield slot.name, _text(value)


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _text_of_face(rows: Any) -> str:
    """Return rows of pins as lines; runs of numbers are drawn together."""
    return "\n".join(_row_text(["-" if pin is None else str(pin) for pin in row]) for row in rows or ())


def _row_text(pins: list[str]) -> str:
    out: list[str] = []
    n = 0
    while n < len(pins):
        end = n
        while end + 1 < len(pins) and _follows(pins[end], pins[end + 1]):
            end += 1
        out.append(pins[n] if end - n < 2 else f"{pins[n]}-{pins[end]}")
        n = n + 1 if end - n < 2 else end + 1
    return " ".join(out)


def _follows(one: str, other: str) -> bool:
    return one.isdecimal() and other.isdecimal() and one[0] != "0" and other == str(int(one) + 1)


def condition_text(condition: Any) -> str:
    """Return a condition in one line: ``year 2011 to 2013; body sedan, wagon``."""
    if not isinstance(condition, Mapping):
        return ""

    def joined(values: Any) -> str:
        return ", ".join(_text(v) for v in (values if isinstance(values, list | tuple) else [values]))

    return "; ".join(f"{axis} {joined(values)}" for axis, values in condition.items())


# --- from the form into a document ------------------------------------------------------------------------------------


def raw_of(typed: Typed, slots: Sequence[Slot]) -> dict[str, Any]:
    """Return the plain values that were typed; what was left empty is left out."""
    raw: dict[str, Any] = {}
    for slot in slots:
        value = _read(slot, typed)
        if value is not None:
            here = raw
            for step in slot.path[:-1]:
                here = here.setdefault(step, {})
            here[slot.key] = value
    return raw


def _read(slot: Slot, typed: Typed) -> Any:
    if slot.kind in ("table", "pairs"):
        rows = [_row(slot, row) for row in rows_of(typed, slot.name).values()]
        if slot.kind == "table":
            return rows or None
        return {str(r.pop("#", "")): r.get("", r) if "" in r or not r else r for r in rows} or None
    every = [value.strip() for name, value in typed if name == slot.name]
    if slot.kind == "several":
        return [value for value in every if value] or None
    return _one(slot, every[0]) if every and every[0] else None


def _row(slot: Slot, row: Mapping[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for column in slot.columns:
        if text := row.get(column.name, ""):
            found[column.key] = _one(column, text)
    return found


def rows_of(typed: Typed, name: str) -> dict[int, dict[str, str]]:
    """Return the rows of a table that were filled in, by their number in the form."""
    rows: dict[int, dict[str, str]] = {}
    head = f"{name}."
    for key, value in typed:
        number, dot, column = key.removeprefix(head).partition(".")
        is_row = key.startswith(head) and dot and number.isascii() and number.isdecimal() and len(number) < 5
        if is_row and (text := value.strip()):
            rows.setdefault(int(number), {})[column] = text
    return dict(sorted(rows.items()))


def _one(slot: Slot, text: str) -> Any:
    if slot.kind == "yes or no":
        return {"yes": True, "no": False}.get(text, text)
    if slot.kind in ("number", "whole"):
        return _number(text, whole=slot.kind == "whole")
    if slot.counted:
        return _number(text, whole=True)
    if slot.kind == "several":
        return [word.strip() for word in text.split(",") if word.strip()]
    if slot.kind == "lines":
        return [line.strip() for line in text.splitlines() if line.strip()]
    if slot.kind == "pins":
        return [pin for word in text.replace(",", " ").split() for pin in _run(word)]
    if slot.kind == "axes":
        return [word.strip() for word in text.split(",") if word.strip()]
    if slot.kind == "face":
        lines = [line for line in text.splitlines() if line.strip()]
        return [[None if p == "-" else p for w in line.replace(",", " ").split() for p in _run(w)] for line in lines]
    if slot.kind == "condition":
        return _condition_of(text)
    return " ".join(text.split("\n")) if slot.kind != "long" else " ".join(text.split())


def _number(text: str, *, whole: bool) -> float | int | str:
    """Return a number where one was typed; with a unit, such as '500 mA', it is read by the document itself."""
    plain = text.replace(",", ".")
    try:
        return int(plain) if whole else float(plain)
    except ValueError:
        return text


def _run(word: str) -> list[str]:
    found = _RUN.fullmatch(word)
    if found is None:
        return [word]
    first, last = int(found[2]), int(found[3])
    step = 1 if last >= first else -1
    if abs(last - first) >= _MOST_PINS:
        return [word]
    return [f"{found[1]}{n}" for n in range(first, last + step, step)]


def _condition_of(text: str) -> dict[str, list[str]]:
    """Return the condition that a line says: ``year 2011 to 2013; body sedan, wagon``."""
    found: dict[str, list[str]] = {}
    for part in text.split(";"):
        axis, _, values = part.replace("=", " ").replace(":", " ").strip().partition(" ")
        if axis:
            found[axis] = [value.strip() for value in values.split(",") if value.strip()]
    return found


# --- the form, with faults beside their fields ------------------------------------------------------------------------


def filled(slots: Sequence[Slot], typed: Typed, faults: Sequence[PartFault] = ()) -> tuple[Input, ...]:
    """Return the fields with what was typed into them, each with the faults that concern it."""
    return tuple(_input(slot, typed, faults) for slot in slots)


def _input(slot: Slot, typed: Typed, faults: Sequence[PartFault]) -> Input:
    every = tuple(value for name, value in typed if name == slot.name)
    rows: tuple[tuple[str, ...], ...] = ()
    mine = [fault for fault in faults if fault.path[: len(slot.path)] == slot.path]
    if slot.kind in ("table", "pairs"):
        sent = rows_of(typed, slot.name)
        rows = tuple(tuple(row.get(column.name, "") for column in slot.columns) for row in sent.values())
        rows += ((("",) * len(slot.columns)),) * _SPARE_ROWS
    value = every[0] if every else slot.assumed if slot.kind in ("choice", "yes or no") else ""
    return Input(
        slot=slot, value=value, chosen=every or ((value,) if value else ()), rows=rows,
        faults=tuple(_said(slot, fault) for fault in mine),
    )  # fmt: skip


def _said(slot: Slot, fault: PartFault) -> str:
    """Return a fault in words; advice that speaks of keys of a file speaks of the field."""
    advice = "fill it in" if fault.advice.startswith("add the key") else fault.advice
    where = ""
    if slot.kind in ("table", "pairs") and len(fault.path) > len(slot.path):
        row, *rest = fault.path[len(slot.path) :]
        column = next((c.words for c in slot.columns if rest and c.key == rest[0]), "")
        number = row + 1 if isinstance(row, int) else row
        where = f"row {number}{f', {column}' if column else ''}: "
    return f"{where}found {fault.found}, expected {fault.expected}; {advice}"
