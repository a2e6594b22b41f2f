"""One entry of a section in a form: a plug, a place, a hazard, a setting, a lead."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from loomwright.documents.part_checking import PartFault, check_part
from loomwright.documents.pictures import Photo
from loomwright.documents.vehicle import Plug
from loomwright.documents.writing import plain_of
from loomwright.papers.drawings import FaceDrawing
from loomwright.web.asking import Answer, Ask, Page, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import NotKept, Opened, Theirs, again_at, found_draft, housings, keep_edit, opened
from loomwright.web.edits import Edit, dropped, item_set, values_set
from loomwright.web.forms.beside import beside
from loomwright.web.forms.draft import Draft, draft_face, photo_of
from loomwright.web.forms.section import Section
from loomwright.web.forms.sections import named, refs_of, section_slots, with_id
from loomwright.web.forms.slots import Choices, Slot
from loomwright.web.forms.typed import Input, Typed, filled, raw_of, typed_of
from loomwright.web.page_edit import kind_and_id, section_of

__all__ = ["keep", "new", "remove", "show"]

_MOST_OFFERED = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """The form of an entry; `drawing` is the plug as it was typed, where it is one and can be drawn."""

    kind: str
    id: str
    name: str
    section: Section
    nth: int  # 0 for a new one
    called: str
    inputs: tuple[Input, ...]
    base: int
    faults: tuple[str, ...]
    may_keep_anyway: bool
    theirs: Theirs | None
    is_plug: bool
    may_have_photo: bool
    photo: Photo | None
    drawing: FaceDrawing | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _At:
    """Where an entry stands: `nth` counts from 1, 0 is a new one."""

    section: Section
    nth: int
    base: int

    @property
    def index(self) -> int | None:
        return None if self.section.single or self.nth == 0 else self.nth - 1


def _entry(draft: Draft, at: _At) -> dict[str, Any]:
    """Return an entry in plain values.

    Raises WebError where there is none.
    """
    section = at.section
    if section.single:
        found = draft.at(*section.path) if section.path else draft.tree.value
        return found if isinstance(found, dict) else {}
    items = draft.at(*section.path)
    if not isinstance(items, list) or not 1 <= at.nth <= len(items):
        raise WebError(404, f"{draft.id} has no {section.one} {at.nth}.")
    found = items[at.nth - 1]
    return {section.wrapped: found} if section.wrapped else found if isinstance(found, dict) else {}


def _slots(desk: Desk, draft: Draft, at: _At) -> tuple[Slot, ...]:
    vehicles: Choices = ()
    if at.section.key == "services":
        lines = desk.lines("vehicle", limit=_MOST_OFFERED)
        vehicles = tuple((line.entry.id, line.glance.name or line.entry.id) for line in lines)
    refs = refs_of(draft, at.section, housings(desk), vehicles)
    return section_slots(at.section, refs, is_new=at.nth == 0 and not at.section.single)


def _page(
    desk: Desk, draft: Draft, at: _At, typed: Typed, faults: Sequence[PartFault] = (), not_kept: NotKept | None = None
) -> Page:
    section = at.section
    slots = _slots(desk, draft, at)
    raw = _entry(draft, at) if at.nth and not not_kept else {}
    found = beside(not_kept.messages if not_kept else (), section.path, _place(draft, at), str(raw.get("id", "")))
    every = (*faults, *found.here)
    inputs = filled(slots, typed, every)
    placed = [f for i in inputs for f in every if f.path[: len(i.slot.path)] == i.slot.path]
    loose = [f"{'.'.join(map(str, f.path))}: {f}".removeprefix(": ") for f in every if f not in placed]
    is_plug = draft.kind == "vehicle" and section.key == "plugs"
    context = PartPage(
        kind=draft.kind, id=draft.id, name=draft.name, section=section, nth=at.nth, called=named(raw) if raw else "",
        inputs=inputs, base=not_kept.base if not_kept else at.base,
        faults=(*loose, *(str(m) for m in found.elsewhere)), may_keep_anyway=bool(not_kept and not_kept.messages),
        theirs=not_kept.theirs if not_kept else None, is_plug=is_plug,
        may_have_photo="photo" in section.model.model_fields and bool(at.nth or section.single),
        photo=photo_of(raw),
        drawing=_drawn(draft, slots, typed, str(raw.get("id", ""))) if is_plug else None,
    )  # fmt: skip
    title = f"A new {section.one}" if at.nth == 0 and not section.single else context.called or section.one
    status = 422 if faults else not_kept.status if not_kept else 200
    return Page(template="part.html", title=title, context=context, status=status)


def _place(draft: Draft, at: _At) -> int:
    return len(draft.items(at.section.path)) if at.index is None else at.index


def _drawn(draft: Draft, slots: Sequence[Slot], typed: Typed, id: str) -> FaceDrawing | None:
    """Return the plug as it was typed, as soon as its rows of pins make one."""
    raw = raw_of(typed, slots)
    words = {"name": "plug", "housing": "x", "look": "x", "place": "x"}
    plug = check_part(Plug, {**words, "face": raw.get("face", {}), "id": id or "new"} | {
        key: raw[key] for key in ("seen_side", "seen_turn") if key in raw
    }).part  # fmt: skip
    return None if plug is None else draft_face(draft, plug)


def new(desk: Desk, ask: Ask) -> Answer:
    """Show the empty form of an entry."""
    kind, id = kind_and_id(ask)
    revision, draft = found_draft(desk, kind, id)
    at = _At(section=section_of(kind, ask.path["section"]), nth=0, base=revision.number)
    return _page(desk, draft, at, [])


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the form of an entry."""
    kind, id = kind_and_id(ask)
    revision, draft = found_draft(desk, kind, id)
    at = _At(section=section_of(kind, ask.path["section"]), nth=_nth(ask), base=revision.number)
    return _page(desk, draft, at, typed_of(_entry(draft, at), _slots(desk, draft, at)))


def _nth(ask: Ask) -> int:
    text = ask.path.get("nth", "")
    if not text.isascii() or not text.isdecimal() or len(text) > 4:
        raise WebError(404, f"Found {text[:40]!r}, expected the number of an entry.")
    return int(text)


def keep(desk: Desk, ask: Ask) -> Answer:
    """Keep an entry, or draw it as it was typed."""
    kind, id = kind_and_id(ask)
    doc = opened(desk, ask, kind, id)
    section = section_of(kind, ask.path["section"])
    at = _At(section=section, nth=_nth(ask) if "nth" in ask.path else 0, base=doc.base.number)
    if ask.sent("do") == "draw":
        return _page(desk, doc.was, at, ask.form)
    slots = _slots(desk, doc.was, at)
    raw = raw_of(ask.form, slots)
    if at.nth and not section.single:
        before = _entry(doc.was, at)
        raw = {key: before[key] for key in ("id", "photo") if key in before} | raw
    elif not section.single:
        ids = [str(one.get("id", "")) for draft in (doc.was, doc.now) for one in draft.items(section.path)]
        raw = with_id(section, raw, ids)
    part, faults = _checked(section, doc.was, raw)
    if faults:
        return _page(desk, doc.was, at, ask.form, faults)
    then = f"/{kind}s/{id}/edit#{section.key}"
    if ask.sent("then") == "another":
        then = f"/{kind}s/{id}/edit/{section.key}/new"
    elif kind == "vehicle" and section.key == "plugs" and at.nth == 0:
        then = f"/vehicles/{id}/plugs/{part['id']}/fill"
    found = keep_edit(desk, ask, doc, _edit(section, at, slots, part), then)
    if isinstance(found, NotKept):
        draft, at, found = _again(doc, at, found)
        return _page(desk, draft, at, ask.form, not_kept=found)
    return found


def _again(doc: Opened, at: _At, told: NotKept) -> tuple[Draft, _At, NotKept]:
    draft, index, told = again_at(doc, at.section.path, at.index, told)
    return draft, at if index is None else _At(section=at.section, nth=index + 1, base=at.base), told


def _checked(section: Section, draft: Draft, raw: dict[str, Any]) -> tuple[dict[str, Any], tuple[PartFault, ...]]:
    """Return the entry in plain values as a file has it, or its faults; of a single one only what its form has."""
    if section.single:
        around = {key: value for key, value in _around(section, draft).items() if key in _kept_keys(section)}
        checked = check_part(section.model, {**around, **raw})
        mine = tuple(f for f in checked.faults if not f.path or f.path[0] not in around)
        return raw, tuple(f for f in mine if not (f.path[:1] and f.path[0] in section.leave))
    found = check_part(section.model, raw)
    if found.part is None:
        return {}, found.faults
    return plain_of(found.part), ()


def _around(section: Section, draft: Draft) -> dict[str, Any]:
    found = draft.at(*section.path) if section.path else draft.tree.value
    return found if isinstance(found, dict) else {}


def _kept_keys(section: Section) -> frozenset[str]:
    return frozenset(section.leave)


def _edit(section: Section, at: _At, slots: Sequence[Slot], part: dict[str, Any]) -> Edit:
    if section.single:
        return values_set(section.path, {slot.path[0]: part.get(slot.path[0]) for slot in slots})
    raw: Any = part[section.wrapped] if section.wrapped else part
    return item_set(section.path, at.index, raw)


def remove(desk: Desk, ask: Ask) -> Answer:
    """Take an entry away in a new version of the document."""
    kind, id = kind_and_id(ask)
    doc = opened(desk, ask, kind, id)
    section = section_of(kind, ask.path["section"])
    at = _At(section=section, nth=_nth(ask), base=doc.base.number)
    _entry(doc.was, at)
    if section.single:
        if section.needed:
            raise WebError(409, f"A {kind} cannot be without its {section.one}.")
        edit = values_set(section.path[:-1], {section.path[-1]: None})
    else:
        edit = dropped(section.path, at.nth - 1)
    found = keep_edit(desk, ask, doc, edit, f"/{kind}s/{id}/edit#{section.key}")
    if isinstance(found, NotKept):
        draft, at, found = _again(doc, at, found)
        return _page(desk, draft, at, typed_of(_entry(draft, at), _slots(desk, draft, at)), not_kept=found)
    return found
