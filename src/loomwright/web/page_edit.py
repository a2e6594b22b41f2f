"""A vehicle or a kit section by section: what was entered, what is still missing, and everything leads to its form."""

from dataclasses import dataclass
from typing import Any

from loomwright.documents.pictures import Photo
from loomwright.errors import Message
from loomwright.papers.drawings import FaceDrawing
from loomwright.web.asking import Answer, Ask, Page, WebError
from loomwright.web.desk import Desk
from loomwright.web.drafting import found_draft
from loomwright.web.forms.beside import path_of
from loomwright.web.forms.draft import Draft, draft_face, photo_of
from loomwright.web.forms.section import Section
from loomwright.web.forms.sections import SECTIONS, named

__all__ = ["kind_and_id", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """One entry of a section; `nth` is its number in the address."""

    nth: int
    words: str
    more: str
    is_faulty: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionView:
    """One section with its entries."""

    section: Section
    entries: tuple[Entered, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugView:
    """One plug with what sits in it so far."""

    id: str
    name: str
    nth: int
    drawing: FaceDrawing
    filled: int
    pins: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitLine:
    """One circuit; `address` leads to its form."""

    address: str
    words: str
    more: str
    is_faulty: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EditPage:
    """Everything that was entered, and what is still wrong or missing: each message with where to put it right."""

    kind: str
    id: str
    name: str
    version: int
    by: str
    at: str
    in_order: bool
    missing: tuple[tuple[str, str], ...]  # (words, address of the form)
    wrong: tuple[tuple[Message, str], ...]
    sections: tuple[SectionView, ...]
    plugs: tuple[PlugView, ...]
    circuits: tuple[CircuitLine, ...]
    wants_circuits: bool
    photo: Photo | None
    base: int
    copy_of: str  # the document of which this one was just made


def kind_and_id(ask: Ask) -> tuple[str, str]:
    """Return which document an address names."""
    kind = "vehicle" if "vehicle" in ask.path else "kit"
    return kind, ask.path[kind]


def section_of(kind: str, key: str) -> Section:
    """Return a section by its name in addresses.

    Raises WebError where there is none.
    """
    if key not in SECTIONS[kind]:
        raise WebError(404, f"A {kind} has no section {key[:60]!r}.")
    return SECTIONS[kind][key]


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what was entered of a document."""
    kind, id = kind_and_id(ask)
    revision, draft = found_draft(desk, kind, id)
    messages = desk.faults(kind, id)
    base = f"/{kind}s/{id}/edit"
    sections = tuple(_section(draft, section, messages) for section in SECTIONS[kind].values())
    is_vehicle = kind == "vehicle"
    missing = [(f"{v.section.many}: none yet", f"{base}/{v.section.key}/new") for v in sections
               if v.section.needed and not v.entries and not v.section.single]  # fmt: skip
    if kind == "vehicle" and not draft.items(("circuits",)):
        missing.append(("Circuits: none yet", f"/vehicles/{id}/circuits"))
    empty = {".".join(v.section.path) for v in sections if not v.entries} | {"circuits"}
    wrong = [m for m in messages if m.field not in empty or m.found != "nothing"]
    context = EditPage(
        kind=kind, id=id, name=draft.name, version=revision.version, by=desk.name_of(revision.by), at=revision.at[:10],
        in_order=not messages, missing=tuple(missing), wrong=tuple((m, _address(draft, m)) for m in wrong),
        sections=sections, plugs=tuple(_plug(draft, n, plug.id) for n, plug in draft.plugs) if is_vehicle else (),
        circuits=_circuits(draft, messages) if is_vehicle else (), wants_circuits=is_vehicle,
        photo=photo_of(draft.tree.value), base=revision.number,
        copy_of=of if (of := ask.one("copy-of")) and desk.store.has(kind, of) else "",
    )  # fmt: skip
    return Page(template="edit.html", title=f"Enter {draft.name}", context=context)


def _section(draft: Draft, section: Section, messages: tuple[Message, ...]) -> SectionView:
    if section.single:
        raw = draft.at(*section.path) if section.path else draft.tree.value
        entries = [raw] if isinstance(raw, dict) else []
    else:
        entries = draft.items(section.path) if not section.wrapped else [{"only": one} for one in
                                                                        draft.at(*section.path) or ()]  # fmt: skip
    faulty = {path_of(m.field)[: len(section.path) + 1] for m in messages}
    return SectionView(section=section, entries=tuple(
        Entered(
            nth=n + 1, words=named(raw), more=_more(raw), is_faulty=any(
                (*section.path, which) in faulty for which in (n, raw.get("id"))
            ),
        )
        for n, raw in enumerate(entries)
    ))  # fmt: skip


def _more(raw: dict[str, Any]) -> str:
    """Return what else a line of a list says of an entry."""
    parts = [str(raw[key]) for key in ("function", "kind", "colour", "housing", "terminal") if raw.get(key)]
    if values := raw.get("values") or raw.get("choices"):
        parts += [str(one.get("value", "")) for one in values if isinstance(one, dict)]
    return ", ".join(parts[:14])


def _plug(draft: Draft, index: int, id: str) -> PlugView:
    plug = next(plug for n, plug in draft.plugs if n == index)
    drawing = draft_face(draft, plug)
    filled = sum(1 for pin in drawing.shape.pins if pin in draft.wires_in(id))
    return PlugView(id=id, name=plug.name, nth=index + 1, drawing=drawing, filled=filled, pins=len(drawing.shape.pins))


def _circuits(draft: Draft, messages: tuple[Message, ...]) -> tuple[CircuitLine, ...]:
    seen: dict[str, int] = {}
    lines = []
    faulty = {path_of(m.field)[1:2] for m in messages if m.field.startswith("circuits[")}
    for n, raw in enumerate(draft.items(("circuits",))):
        id = str(raw.get("id", ""))
        seen[id] = seen.get(id, 0) + 1
        nth = f"?nth={seen[id]}" if seen[id] > 1 else ""
        steps = [step for step in raw.get("path") or () if isinstance(step, dict)]
        pins = dict.fromkeys(str(e) for s in steps for e in (s.get("from"), s.get("to")) if e and "/" in str(e))
        wire = next((s for s in steps if s.get("colour")), {})
        colour = "/".join(str(wire[key]) for key in ("colour", "stripe") if wire.get(key))
        lines.append(CircuitLine(
            address=f"/vehicles/{draft.id}/circuits/{id}{nth}", words=str(raw.get("name") or raw.get("function") or id),
            more=", ".join(word for word in (colour, *pins) if word), is_faulty=(n,) in faulty or (id,) in faulty,
        ))  # fmt: skip
    return tuple(lines)


def _address(draft: Draft, message: Message) -> str:
    """Return where what a message speaks of is put right; the overview itself where no form has it."""
    path = path_of(message.field)
    if path[:1] == ("circuits",) and len(path) > 1:
        ids = [str(raw.get("id", "")) for raw in draft.items(("circuits",))]
        id = ids[path[1]] if isinstance(path[1], int) and path[1] < len(ids) else str(path[1])
        return f"/vehicles/{draft.id}/circuits/{id}" if id in ids else ""
    for section in SECTIONS[draft.kind].values():
        if path[: len(section.path)] == section.path and (section.path or len(path) == 1):
            base = f"/{draft.kind}s/{draft.id}/edit/{section.key}"
            if section.single:
                return f"{base}/1"
            if len(path) > len(section.path):
                which = path[len(section.path)]
                named_ids: list[Any] = [raw.get("id") for raw in draft.items(section.path)]
                nth = which if isinstance(which, int) else named_ids.index(which) if which in named_ids else None
                return base + (f"/{nth + 1}" if nth is not None else "/new")
    return ""
