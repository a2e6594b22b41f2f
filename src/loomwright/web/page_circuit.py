"""One circuit of a vehicle in a form, saved as a new version of the vehicle."""

from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.documents.part_checking import PartFault
from loomwright.documents.pictures import Photo
from loomwright.documents.writing import plain_of
from loomwright.papers.drawings import FaceDrawing
from loomwright.web.asking import Answer, Ask, Page, WebError
from loomwright.web.circuit_form import CircuitForm, circuit_slots, empty_typed, form_of, read_circuit
from loomwright.web.desk import Desk
from loomwright.web.drafting import NotKept, Theirs, again_at, found_draft, keep_edit, opened
from loomwright.web.edits import dropped, item_set
from loomwright.web.forms.beside import beside
from loomwright.web.forms.draft import Draft, draft_face, photo_of
from loomwright.web.forms.slots import Slot
from loomwright.web.forms.templates import TEMPLATES
from loomwright.web.forms.typed import Typed, condition_text, typed_of
from loomwright.web.photos import shots_of

__all__ = ["add", "change", "new", "remove", "show"]

_PATH = ("circuits",)


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitPage:
    """The form with the plugs it may name, and what was wrong with it the last time."""

    vehicle: str
    car_name: str
    form: CircuitForm
    nth: int  # of those with the same id, counted from 1
    twins: tuple[tuple[int, str], ...]  # the others of the same id: which one, and in which cars
    templates: tuple[str, ...]
    pins: tuple[str, ...]
    faces: tuple[tuple[str, FaceDrawing], ...]
    base: int
    id_fault: str
    faults: tuple[str, ...]
    may_keep_anyway: bool
    theirs: Theirs | None
    place: int  # in the list of circuits, counted from 1; 0 for a new one
    photo: Photo | None
    shots: tuple[tuple[str, str], ...]  # photographs in the evidence: file, what is said of them


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What is said about a form that was not kept."""

    faults: Sequence[PartFault] = ()
    id_fault: str = ""
    not_kept: NotKept | None = None


def _page(
    desk: Desk,
    draft: Draft, base: int, id: str, template: str, typed: Typed, index: int | None, told: _Told | None = None
) -> Page:  # fmt: skip
    told = told or _Told()
    not_kept = told.not_kept
    found = beside(not_kept.messages if not_kept else (), _PATH, _place(draft, index), id)
    form = form_of(draft, id, template, typed, (*told.faults, *found.here), is_new=index is None)
    wires = [text for name, text in typed if name.startswith("path.") and "/" in text]
    named = {plug: pin for plug, _, pin in (text.partition("/") for text in reversed(wires))}
    twins = [n for n, raw in enumerate(draft.items(_PATH)) if raw.get("id") == id]
    context = CircuitPage(
        vehicle=draft.id, car_name=draft.name, form=form, nth=1 + twins.index(index) if index in twins else 1,
        twins=tuple((nth, _where(draft, n)) for nth, n in enumerate(twins, 1)) if len(twins) > 1 else (),
        templates=tuple(TEMPLATES),
        pins=tuple(f"{plug.id}/{pin}" for _, plug in draft.plugs for row in plug.face.rows for pin in row if pin),
        faces=tuple(
            (plug.name, draft_face(draft, plug, target=pin))
            for p, pin in named.items()
            if (plug := draft.plug(p)) is not None
        ),
        base=not_kept.base if not_kept else base, id_fault=told.id_fault,
        faults=(*form.faults, *(str(m) for m in found.elsewhere)), may_keep_anyway=bool(not_kept and not_kept.messages),
        theirs=not_kept.theirs if not_kept else None, place=0 if index is None else index + 1,
        shots=shots_of(desk, draft.id, circuit=id) if id else (),
        photo=None if index is None else photo_of(draft.items(_PATH)[index] if index < len(draft.items(_PATH)) else {}),
    )  # fmt: skip
    title = "A new circuit" if index is None else next((i.value for i in form.head if i.slot.key == "name"), "") or id
    status = 422 if told.faults or told.id_fault else not_kept.status if not_kept else 200
    return Page(template="circuit.html", title=title, context=context, status=status)


def _place(draft: Draft, index: int | None) -> int:
    return len(draft.items(_PATH)) if index is None else index


def _where(draft: Draft, index: int) -> str:
    raw = draft.items(_PATH)[index]
    return condition_text(raw.get("only")) or "all other cars"


def _template(wanted: str) -> str:
    if wanted not in TEMPLATES:
        raise WebError(400, f"Found {wanted[:60]!r}, expected a template: {', '.join(TEMPLATES)}.")
    return wanted


def _index(draft: Draft, ask: Ask) -> int:
    """Return the place of the circuit that an address names; `nth` counts those of the same id."""
    id, nth = ask.path["circuit"], ask.sent("nth") or ask.one("nth") or "1"
    all_of = [n for n, raw in enumerate(draft.items(_PATH)) if raw.get("id") == id]
    if not nth.isascii() or not nth.isdecimal() or not 1 <= int(nth) <= len(all_of):
        raise WebError(404, f"{draft.id} has no circuit {id[:60]!r}.")
    return all_of[int(nth) - 1]


def _slots(draft: Draft, template: str) -> tuple[Slot, ...]:
    return circuit_slots(draft, template)


def new(desk: Desk, ask: Ask) -> Answer:
    """Show the empty form."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    template = _template(ask.one("template") or "switched feed")
    return _page(desk, draft, revision.number, "", template, empty_typed(draft, template, ask.one("pin")[:60]), None)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the form of a circuit; with another template where one is asked for."""
    revision, draft = found_draft(desk, "vehicle", ask.path["vehicle"])
    index = _index(draft, ask)
    raw = draft.items(_PATH)[index]
    behaviour = raw.get("behaviour")
    kept = str(behaviour.get("template", "")) if isinstance(behaviour, dict) else ""
    template = _template(ask.one("template") or (kept if kept in TEMPLATES else "switched feed"))
    typed = typed_of(raw, _slots(draft, template))
    return _page(desk, draft, revision.number, ask.path["circuit"], template, typed, index)


def add(desk: Desk, ask: Ask) -> Answer:
    """Keep a new circuit."""
    doc = opened(desk, ask, "vehicle", ask.path["vehicle"])
    id, template = ask.sent("id"), _template_sent(ask)
    if any(raw.get("id") == id for raw in doc.now.items(_PATH)):
        words = f"found {id!r}, which another circuit has; choose another one"
        told = _Told(id_fault=words)
        return _page(desk, doc.now, doc.base.number, id, template, ask.form, None, told)
    return _keep(desk, ask, id, template, None)


def _template_sent(ask: Ask) -> str:
    wanted = ask.sent("template")
    if wanted not in TEMPLATES:
        raise WebError(400, "The form names no template. Load the page again.")
    return wanted


def change(desk: Desk, ask: Ask) -> Answer:
    """Keep a changed circuit."""
    return _keep(desk, ask, ask.path["circuit"], _template_sent(ask), ask.path["circuit"])


def _keep(desk: Desk, ask: Ask, id: str, template: str, existing: str | None) -> Answer:
    doc = opened(desk, ask, "vehicle", ask.path["vehicle"])
    index = None if existing is None else _index(doc.was, ask)
    before = {} if index is None else doc.was.items(_PATH)[index]
    circuit, _, faults = read_circuit(doc.was, id, template, ask.form, before)
    if circuit is None:
        id_fault = next((str(f) for f in faults if f.path[:1] == ("id",)), "")
        told = _Told(faults=tuple(f for f in faults if f.path[:1] != ("id",)), id_fault=id_fault)
        return _page(desk, doc.was, doc.base.number, id, template, ask.form, index, told)
    then = f"/vehicles/{doc.was.id}/circuits/{id}{_nth(ask)}"
    found = keep_edit(desk, ask, doc, item_set(_PATH, index, plain_of(circuit)), then)
    if isinstance(found, NotKept):
        draft, at, not_kept = again_at(doc, _PATH, index, found)
        return _page(desk, draft, found.base, id, template, ask.form, at, _Told(not_kept=not_kept))
    return found


def _nth(ask: Ask) -> str:
    nth = ask.sent("nth")
    return f"?nth={nth}" if nth.isdecimal() and nth != "1" else ""


def remove(desk: Desk, ask: Ask) -> Answer:
    """Take a circuit away in a new version of the vehicle."""
    doc = opened(desk, ask, "vehicle", ask.path["vehicle"])
    index = _index(doc.was, ask)
    found = keep_edit(desk, ask, doc, dropped(_PATH, index), f"/vehicles/{doc.was.id}/edit")
    if isinstance(found, NotKept):
        draft, at, not_kept = again_at(doc, _PATH, index, found)
        raw = draft.items(_PATH)[at if at is not None else index]
        template = _template_sent(ask)
        typed = typed_of(raw, _slots(draft, template))
        told = _Told(not_kept=not_kept)
        return _page(desk, draft, found.base, ask.path["circuit"], template, typed, at, told)
    return found
