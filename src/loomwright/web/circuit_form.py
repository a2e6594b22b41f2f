"""The form of a circuit: from a circuit to fields, and from what was typed back to a circuit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from loomwright.documents.behaviour import Behaviour
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.vehicle import Circuit, Vehicle
from loomwright.papers.job import function_words

__all__ = ["SEGMENT_FIELDS", "TEMPLATES", "CircuitForm", "Field", "empty_form", "form_of", "read_form", "sent_form"]

# Template -> its model, as the union of behaviours lists them.
TEMPLATES: Mapping[str, type[BaseModel]] = MappingProxyType({
    str(get_args(model.model_fields["template"].annotation)[0]): model
    for model in get_args(get_args(Behaviour)[0])
})  # fmt: skip

# Key of a step of the path -> its heading.
SEGMENT_FIELDS: Mapping[str, str] = MappingProxyType({
    "from": "From", "to": "To", "colour": "Colour", "stripe": "Stripe", "area_mm2": "mm²", "length_m": "m",
    "fuse_a": "Fuse A", "closed_when": "Closed when", "switch": "Switch",
})  # fmt: skip
_SPARE_ROWS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One value of a template: a text to type, or one or several of some words."""

    key: str
    words: str
    value: str
    choices: tuple[str, ...] = ()
    chosen: tuple[str, ...] = ()
    several: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitForm:
    """Everything the form shows."""

    id: str
    is_new: bool
    function: str
    functions: tuple[tuple[str, str], ...]
    name: str
    note: str
    template: str
    fields: tuple[Field, ...]
    left_alone: tuple[str, ...]  # values of the template that only a file can change
    rows: tuple[Mapping[str, str], ...]
    only: tuple[tuple[str, str], ...]  # (axis, values)
    has_except: bool


def _functions() -> tuple[tuple[str, str], ...]:
    return tuple((name, function_words(name)) for name in FUNCTIONS)


def _literals(annotation: Any) -> tuple[str, ...]:
    """Return the words of a Literal, of a tuple of one, or of one that may be missing; else nothing."""
    if get_origin(annotation) is Literal:
        return tuple(str(word) for word in get_args(annotation))
    for inner in get_args(annotation):
        if inner is not Ellipsis and inner is not type(None) and (found := _literals(inner)):
            return found
    return ()


def _is_plain(info: FieldInfo) -> bool:
    if get_origin(info.annotation) is tuple:
        return bool(_literals(info.annotation))
    plain = {float, int, str, bool, type(None)}
    inner = get_args(info.annotation) or (info.annotation,)
    return bool(_literals(info.annotation)) or all(each in plain for each in inner)


def _field(key: str, info: FieldInfo, value: Any) -> Field:
    words = (info.description or key.replace("_", " ")).rstrip(".")
    choices = _literals(info.annotation)
    several = get_origin(info.annotation) is tuple
    if info.annotation is bool:
        return Field(key=key, words=words, value="", choices=("no", "yes"), chosen=("yes" if value else "no",))
    if choices:
        chosen = tuple(value or ()) if several else (str(value),)
        return Field(key=key, words=words, value="", choices=choices, chosen=chosen, several=several)
    shown = "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
    return Field(key=key, words=words, value=shown)


def _fields(template: str, values: Mapping[str, Any]) -> tuple[tuple[Field, ...], tuple[str, ...]]:
    fields, others = [], []
    for key, info in TEMPLATES[template].model_fields.items():
        if key == "template":
            continue
        if not _is_plain(info):
            others.append((info.description or key).rstrip("."))
            continue
        default = None if info.is_required() else info.get_default(call_default_factory=True, validated_data={})
        fields.append(_field(key, info, values.get(key, default)))
    return tuple(fields), tuple(others)


def _only(vehicle: Vehicle, circuit: Circuit | None) -> tuple[tuple[str, str], ...]:
    only = circuit.only if circuit is not None else {}
    return tuple((axis.id, ", ".join(only.get(axis.id, ()))) for axis in vehicle.axes)


def form_of(vehicle: Vehicle, circuit: Circuit) -> CircuitForm:
    """Return the form of a circuit as it is."""
    template = circuit.behaviour.template
    fields, others = _fields(template, circuit.behaviour.model_dump())
    rows = [s.model_dump(by_alias=True) for s in circuit.path]
    return CircuitForm(
        id=circuit.id, is_new=False, function=circuit.function, functions=_functions(), name=circuit.name or "",
        note=circuit.note or "", template=template, fields=fields, left_alone=others,
        rows=_rows([{key: _shown(row.get(key)) for key in SEGMENT_FIELDS} for row in rows]),
        only=_only(vehicle, circuit), has_except=bool(circuit.except_),
    )  # fmt: skip


def empty_form(vehicle: Vehicle, template: str, pin: str) -> CircuitForm:
    """Return the form of a new circuit that comes through a pin."""
    fields, others = _fields(template, {})
    end = pin or ""
    rows = [{"from": "source", "to": end}, {"from": end, "to": "load"}]
    return CircuitForm(
        id="", is_new=True, function="other", functions=_functions(), name="", note="", template=template,
        fields=fields, left_alone=others, rows=_rows([{k: row.get(k, "") for k in SEGMENT_FIELDS} for row in rows]),
        only=_only(vehicle, None), has_except=False,
    )  # fmt: skip


def _rows(rows: Sequence[Mapping[str, str]]) -> tuple[Mapping[str, str], ...]:
    return (*rows, *(dict.fromkeys(SEGMENT_FIELDS, "") for _ in range(_SPARE_ROWS)))


def _shown(value: Any) -> str:
    return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def sent_form(form: CircuitForm, sent: Sequence[tuple[str, str]]) -> CircuitForm:
    """Return the form with what was typed into it, to be shown again."""
    first = dict(reversed(sent))

    def again(field: Field) -> Field:
        every = tuple(value for key, value in sent if key == f"b.{field.key}")
        if field.choices:
            return Field(
                key=field.key, words=field.words, value="", choices=field.choices, chosen=every, several=field.several
            )
        return Field(key=field.key, words=field.words, value=first.get(f"b.{field.key}", ""))

    rows = [{key: value for key, value in row.items() if key in SEGMENT_FIELDS} for row in _sent_rows(sent)]
    return CircuitForm(
        id=first.get("id", form.id) if form.is_new else form.id, is_new=form.is_new,
        function=first.get("function", ""), functions=form.functions, name=first.get("name", ""),
        note=first.get("note", ""), template=form.template, fields=tuple(again(f) for f in form.fields),
        left_alone=form.left_alone, rows=_rows([{k: row.get(k, "") for k in SEGMENT_FIELDS} for row in rows]),
        only=tuple((axis, first.get(f"only.{axis}", "")) for axis, _ in form.only), has_except=form.has_except,
    )  # fmt: skip


def _sent_rows(sent: Sequence[tuple[str, str]]) -> list[dict[str, str]]:
    """Return the steps of the path that were filled in, in their order."""
    rows: dict[int, dict[str, str]] = {}
    for key, value in sent:
        head, _, rest = key.partition(".")
        number, _, name = rest.partition(".")
        if head == "s" and number.isascii() and number.isdecimal() and len(number) < 4 and value.strip():
            rows.setdefault(int(number), {})[name] = value.strip()
    return [rows[number] for number in sorted(rows)]


def read_form(
    form: CircuitForm, sent: Sequence[tuple[str, str]], before: Circuit | None
) -> tuple[Circuit | None, tuple[str, ...]]:
    """Return the circuit that was typed, or what is wrong with it.

    Parameters
    ----------
    form
        The form that was sent.
    sent
        Its fields.
    before
        The circuit it was about; what the form does not show is kept from it.
    """
    first = {key: value.strip() for key, value in reversed(sent)}
    behaviour: dict[str, Any] = {}
    if before is not None and before.behaviour.template == form.template:
        behaviour = before.behaviour.model_dump(exclude_defaults=True)
    behaviour["template"] = form.template
    for field in form.fields:
        every = [value for key, value in sent if key == f"b.{field.key}"]
        if field.several:
            behaviour[field.key] = every
        elif field.choices == ("no", "yes"):
            behaviour[field.key] = every[:1] == ["yes"]
        elif text := first.get(f"b.{field.key}", ""):
            behaviour[field.key] = _value(text)
        else:
            behaviour.pop(field.key, None)
    raw: dict[str, Any] = {
        "id": before.id if before is not None else first.get("id", ""), "function": first.get("function", ""),
        "behaviour": behaviour,
        "path": [
            {key: text if key in _WORDS else _value(text) for key, text in row.items() if key in SEGMENT_FIELDS}
            for row in _sent_rows(sent)
        ],
        "only": {
            axis: [part.strip() for part in text.split(",")]
            for axis, _ in form.only
            if (text := first.get(f"only.{axis}", ""))
        },
    }  # fmt: skip
    raw |= {key: first[key] for key in ("name", "note") if first.get(key)}
    if before is not None and before.except_:
        raw["except"] = dict(before.except_)
    try:
        return Circuit.model_validate(raw), ()
    except ValidationError as problem:
        return None, tuple(_told(fault) for fault in problem.errors(include_url=False))


_WORDS = frozenset({"from", "to", "colour", "stripe", "closed_when", "switch"})


def _value(text: str) -> float | str:
    """Return a number where one was typed; with a unit, such as '500 mA', it is read by the document itself."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return text


def _told(fault: Any) -> str:
    where = ".".join(str(part + 1) if isinstance(part, int) else str(part) for part in fault["loc"]) or "circuit"
    if fault["type"] == "missing":
        return f"{where}: found nothing, expected a value; fill it in"
    words = str(fault["msg"]).removeprefix("Value error, ")
    if words.startswith("found "):
        return f"{where}: {words}"
    return f"{where}: found {str(fault['input'])[:60]!r}, expected another value ({words.lower()}); correct it"
