"""All sections that have a form, and what the form of each may name of the document around it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from loomwright.web.forms.draft import Draft, free_slug
from loomwright.web.forms.kit_sections import KIT_SECTIONS
from loomwright.web.forms.section import FILM_WORDS, Section
from loomwright.web.forms.slots import Choices, Refs, Slot, slots_of
from loomwright.web.forms.typed import condition_text
from loomwright.web.forms.vehicle_sections import VEHICLE_SECTIONS

__all__ = ["SECTIONS", "named", "refs_of", "section_slots", "with_id"]

SECTIONS: Mapping[str, Mapping[str, Section]] = MappingProxyType({
    "vehicle": MappingProxyType({section.key: section for section in VEHICLE_SECTIONS}),
    "kit": MappingProxyType({section.key: section for section in KIT_SECTIONS}),
})  # fmt: skip
"""Kind of document -> name of a section -> the section."""


def refs_of(draft: Draft, section: Section, housings: Sequence[str] = (), vehicles: Choices = ()) -> Refs:
    """Return what the form of an entry may name: of the document, and of others the housings and vehicles."""
    if draft.kind == "vehicle":
        places = _ids(draft, ("places",))
        return Refs(
            chosen={"place": places} if places else {}, suggested={"housing": tuple(housings)}, axes=draft.axis_values
        )
    terminals = _ids(draft, ("controller", "terminals"))
    chosen: dict[str, Choices] = {"terminal": terminals} if terminals else {}
    if vehicles:
        chosen["vehicle"] = vehicles
    power = tuple((one, words) for one, words in terminals if _kind_of(draft, one) == "power in")
    suggested = {
        "housing": tuple(housings), "fed_from": tuple(one for one, _ in power),
        "lead": tuple(one for one, _ in _ids(draft, ("leads",))),
        "learning": tuple(one for one, _ in _ids(draft, ("dialogues",))),
    }  # fmt: skip
    return Refs(chosen=chosen, suggested=suggested, axes=None if section.key == "services" else ())


def _ids(draft: Draft, path: Sequence[str]) -> Choices:
    items = [item for item in draft.items(path) if isinstance(item.get("id"), str)]
    return tuple((str(item["id"]), named(item)) for item in items)


def _kind_of(draft: Draft, terminal: str) -> str:
    found = (t for t in draft.items(("controller", "terminals")) if t.get("id") == terminal)
    return str(next(found, {}).get("kind", ""))


def section_slots(section: Section, refs: Refs, *, is_new: bool) -> tuple[Slot, ...]:
    """Return the fields of an entry; the id of one that exists stays, since others name it by it."""
    leave = (*section.leave, "photo") if is_new else (*section.leave, "photo", "id")
    slots = slots_of(section.model, refs, {**FILM_WORDS, **section.words}, leave)
    if not section.id_from:
        return slots
    # An id is made of what was typed; whoever wants another one finds its field at the end.
    ids = tuple(replace(slot, needed=False, hint="Left empty it is made of the words above.") for slot in slots
                if slot.path == ("id",))  # fmt: skip
    return (*(slot for slot in slots if slot.path != ("id",)), *ids)


def with_id(section: Section, raw: dict[str, Any], taken: Sequence[str]) -> dict[str, Any]:
    """Return a new entry with an id: the one that was typed, else one made of its words."""
    if not section.id_from or raw.get("id"):
        return raw
    words = " ".join(str(raw[key]) for key in section.id_from if raw.get(key))
    return {"id": free_slug(words, taken, section.key.rstrip("s")), **raw}


def named(raw: Mapping[str, Any]) -> str:
    """Return what an entry is called in a list."""
    for key in ("name", "label", "ask", "words"):
        if raw.get(key):
            return str(raw[key])
    if raw.get("maker") or raw.get("model"):
        return " ".join(str(raw[key]) for key in ("maker", "model") if raw.get(key))
    shown = [
        condition_text(v) if isinstance(v, dict) else v if isinstance(v, str) else f"{key.replace('_', ' ')} {v}"
        for key, v in raw.items()
        if key not in ("id", "x", "y") and not isinstance(v, list)
    ]
    return ", ".join(shown[:8]) or "empty"
