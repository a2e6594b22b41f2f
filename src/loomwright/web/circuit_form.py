"""The form of a circuit: from a circuit to fields, and from what was typed back to a circuit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.part_checking import PartFault, check_part
from loomwright.documents.vehicle import Circuit
from loomwright.papers.job import function_words
from loomwright.web.forms.draft import Draft
from loomwright.web.forms.section import FILM_WORDS
from loomwright.web.forms.slots import Refs, Slot, slots_of
from loomwright.web.forms.templates import TEMPLATES
from loomwright.web.forms.typed import Input, Typed, filled, raw_of, typed_of

__all__ = ["CircuitForm", "circuit_slots", "empty_typed", "form_of", "read_circuit"]

_WORDS: Mapping[str, str] = MappingProxyType({
    "function": "What it is for", "name": "What it is called, where that is not enough",
    "note": "What somebody working on it should know",
    "needed_to_start": "Does the engine need it to catch, so that a kit has to serve it?",
    "path": "Its way, from the source to the load", "from": "From", "to": "To", "colour": "Colour", "stripe": "Stripe",
    "area_mm2": "mm²", "length_m": "m", "fuse_a": "Fuse A", "closed_when": "Closed when", "switch": "Switch",
    "behaviour.loads": "End", "load_a": "A at 12 V", "load": "Kind", "behaviour.steps": "Switches", "when": "When",
    "resistance_ohm": "ohm", "behaviour.resistances": "Key position",
})  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitForm:
    """Everything the form shows: what the circuit is, how it behaves, its way, and in which cars it is."""

    id: str
    is_new: bool
    template: str
    head: tuple[Input, ...]
    behaviour: tuple[Input, ...]
    path: Input
    where: tuple[Input, ...]
    faults: tuple[str, ...]  # about the circuit as a whole


def circuit_slots(draft: Draft, template: str) -> tuple[Slot, ...]:
    """Return the fields of a circuit that behaves as a template."""
    ids = tuple(dict.fromkeys(str(raw["id"]) for raw in draft.items(("circuits",)) if raw.get("id")))
    functions = tuple((name, function_words(name)) for name in FUNCTIONS)
    refs = Refs(
        chosen={"function": functions}, suggested={"fed_by": ids, "partner": ids}, axes=draft.axis_values
    )  # fmt: skip
    own = slots_of(Circuit, refs, {**FILM_WORDS, **_WORDS}, leave=("id", "behaviour", "photo"))
    model = TEMPLATES[template]
    words = {**_described(model), **_WORDS}
    behaviour = slots_of(model, refs, words, leave=("template",), at=("behaviour",))
    return (*own, *behaviour)


def _described(model: type[BaseModel]) -> dict[str, str]:
    """Return what the fields of a template are for, in the words of the model."""
    return {
        f"behaviour.{info.alias or key}": info.description.rstrip(".")
        for key, info in model.model_fields.items()
        if info.description
    }


def empty_typed(draft: Draft, template: str, pin: str) -> list[tuple[str, str]]:
    """Return what stands in the form of a new circuit that comes through a pin."""
    path = [{"from": "source", "to": pin or ""}, {"from": pin or "", "to": "load"}]
    return typed_of({"function": "other", "path": path}, circuit_slots(draft, template))


def form_of(
    draft: Draft, id: str, template: str, typed: Typed, faults: Sequence[PartFault] = (), *, is_new: bool = False
) -> CircuitForm:
    """Return the form with what was typed into it, and each fault beside its field."""
    slots = circuit_slots(draft, template)
    inputs = {i.slot.name: i for i in filled(slots, typed, faults)}
    by_first: dict[str, list[Input]] = {}
    for slot in slots:
        by_first.setdefault(slot.path[0], []).append(inputs[slot.name])
    placed = {fault for i in inputs.values() for fault in faults if fault.path[: len(i.slot.path)] == i.slot.path}
    return CircuitForm(
        id=id, is_new=is_new, template=template,
        head=tuple(i for key in ("function", "name", "note", "needed_to_start", "video") for i in by_first[key]),
        behaviour=tuple(by_first.get("behaviour", ())), path=by_first["path"][0],
        where=tuple(i for key in ("only", "except") for i in by_first.get(key, ())),
        faults=tuple(f"{'.'.join(map(str, fault.path))}: {fault}".removeprefix(": ") for fault in faults
                     if fault not in placed),
    )  # fmt: skip


def read_circuit(
    draft: Draft, id: str, template: str, typed: Typed, before: Mapping[str, Any] = MappingProxyType({})
) -> tuple[Circuit | None, dict[str, Any], tuple[PartFault, ...]]:
    """Return the circuit that was typed, its plain values, and what is wrong with it; `before` gives its photograph."""
    kept = {"photo": before["photo"]} if "photo" in before else {}
    raw: dict[str, Any] = {"id": id, **kept, **raw_of(typed, circuit_slots(draft, template))}
    raw["behaviour"] = {"template": template, **raw.get("behaviour", {})}
    checked = check_part(Circuit, raw)
    return checked.part, raw, checked.faults
