"""One circuit of a vehicle in a form, saved as a new version of the vehicle."""

from dataclasses import dataclass

from loomwright.documents.car import variants
from loomwright.documents.checking import check_documents
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.splicing import with_entry
from loomwright.documents.vehicle import Circuit, Vehicle
from loomwright.errors import DocumentError
from loomwright.papers.drawings import FaceDrawing
from loomwright.papers.vehicle_page import plug_drawing
from loomwright.store.values import Conflict, Revision
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.circuit_form import (
    SEGMENT_FIELDS,
    TEMPLATES,
    CircuitForm,
    empty_form,
    form_of,
    read_form,
    sent_form,
)
from loomwright.web.desk import Desk

__all__ = ["add", "change", "new", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitPage:
    """The form with the plugs it may name, and what was wrong with it the last time."""

    vehicle: str
    car_name: str
    form: CircuitForm
    columns: tuple[tuple[str, str], ...]
    templates: tuple[str, ...]
    pins: tuple[str, ...]
    faces: tuple[tuple[str, FaceDrawing], ...]
    base: int
    faults: tuple[str, ...]
    theirs: tuple[str, str, tuple[str, ...]] | None  # who saved first, when, and what they changed


def _page(
    desk: Desk, revision: Revision, form: CircuitForm, faults: tuple[str, ...] = (),
    theirs: tuple[str, str, tuple[str, ...]] | None = None, status: int = 200,
) -> Page:  # fmt: skip
    vehicle = desk.vehicle(revision.id)
    car = desk.car(vehicle.id, next(variants(vehicle)))
    named = dict.fromkeys(e.partition("/")[0] for row in form.rows for e in (row["from"], row["to"]) if "/" in e)
    context = CircuitPage(
        vehicle=vehicle.id, car_name=car.name, form=form, columns=tuple(SEGMENT_FIELDS.items()),
        templates=tuple(TEMPLATES), base=revision.number, faults=faults, theirs=theirs,
        pins=tuple(f"{p}/{pin}" for p, plug in car.plugs.items() for row in plug.face.rows for pin in row if pin),
        faces=tuple((car.plugs[p].name, plug_drawing(car, p)) for p in named if p in car.plugs),
    )  # fmt: skip
    title = "A new circuit" if form.is_new else form.name or form.id
    return Page(template="circuit.html", title=title, context=context, status=status)


def _template(ask: Ask, default: str) -> str:
    wanted = ask.one("template", default) or default
    if wanted not in TEMPLATES:
        raise WebError(400, f"Found {wanted[:60]!r}, expected a template: {', '.join(TEMPLATES)}.")
    return wanted


def _circuit(vehicle: Vehicle, id: str) -> tuple[int, Circuit]:
    """Return the first circuit of an id; where one stands twice, under conditions, the first is meant."""
    found = next(((n, c) for n, c in enumerate(vehicle.circuits) if c.id == id), None)
    if found is None:
        raise WebError(404, f"{vehicle.id} has no circuit {id[:60]!r}.")
    return found


def new(desk: Desk, ask: Ask) -> Answer:
    """Show the empty form."""
    revision = desk.revision("vehicle", ask.path["vehicle"])
    form = empty_form(desk.vehicle(revision.id), _template(ask, "switched feed"), ask.one("pin")[:60])
    return _page(desk, revision, form)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the form of a circuit."""
    revision = desk.revision("vehicle", ask.path["vehicle"])
    vehicle = desk.vehicle(revision.id)
    _, circuit = _circuit(vehicle, ask.path["circuit"])
    return _page(desk, revision, form_of(vehicle, circuit))


def add(desk: Desk, ask: Ask) -> Answer:
    """Keep a new circuit."""
    vehicle = desk.vehicle(ask.path["vehicle"])
    form = empty_form(vehicle, _template_sent(ask), "")
    if any(c.id == ask.sent("id") for c in vehicle.circuits):
        revision = desk.revision("vehicle", vehicle.id)
        faults = (f"id: found {ask.sent('id')!r}, which another circuit has; choose another one",)
        return _page(desk, revision, sent_form(form, ask.form), faults, status=422)
    return _keep(desk, ask, form, None)


def _template_sent(ask: Ask) -> str:
    wanted = ask.sent("template")
    if wanted not in TEMPLATES:
        raise WebError(400, "The form names no template. Load the page again.")
    return wanted


def change(desk: Desk, ask: Ask) -> Answer:
    """Keep a changed circuit."""
    vehicle = desk.vehicle(ask.path["vehicle"])
    _, circuit = _circuit(vehicle, ask.path["circuit"])
    return _keep(desk, ask, form_of(vehicle, circuit), circuit.id)


def _keep(desk: Desk, ask: Ask, form: CircuitForm, id: str | None) -> Answer:
    """Save the vehicle with the circuit; where somebody saved in between, what they changed decides.

    A change elsewhere in the vehicle is kept beside this one. A change of this very circuit is shown first.
    """
    latest = desk.revision("vehicle", ask.path["vehicle"])
    base = _base(desk, ask, latest)
    shown = sent_form(form, ask.form)
    vehicle = desk.vehicle(latest.id)
    before = None if id is None else _circuit(vehicle, id)[1]
    circuit, wrong = read_form(form, ask.form, before)
    if circuit is None:
        return _page(desk, latest if base.number == latest.number else base, shown, wrong, status=422)
    if base.number != latest.number and _of(desk, base, circuit.id) != _of(desk, latest, circuit.id):
        changes = desk.store.compare(base, latest)
        said = tuple(f"{c.path}: {c.before or 'nothing'} became {c.after or 'nothing'}" for c in changes[:20])
        return _page(desk, latest, shown, theirs=(desk.name_of(latest.by), latest.at[:16], said), status=409)
    index = None if id is None else _circuit(vehicle, id)[0]
    text = with_entry(desk.loaded(latest), latest.text, "circuits", index, circuit)
    if faults := _faults(desk, latest.id, text):
        return _page(desk, latest, shown, faults, status=422)
    try:
        desk.store.save("vehicle", latest.id, text, by=desk.worker(ask.who), base=latest)
    except Conflict as problem:  # in the very moment between reading and saving
        theirs = (desk.name_of(problem.theirs.by), problem.theirs.at[:16], ())
        return _page(desk, problem.theirs, shown, theirs=theirs, status=409)
    return Redirect(to=f"/vehicles/{latest.id}/circuits/{circuit.id}")


def _base(desk: Desk, ask: Ask, latest: Revision) -> Revision:
    number = ask.sent("base")
    if not number.isascii() or not number.isdecimal() or len(number) > 15:
        raise WebError(400, "The form does not say which version it was made from. Load the page again.")
    found = desk.store.at(int(number))
    if (found.kind, found.id) != ("vehicle", latest.id):
        raise WebError(400, "The form was made from another document. Load the page again.")
    return found


def _of(desk: Desk, revision: Revision, id: str) -> Circuit | None:
    document = desk.loaded(revision).document
    circuits = document.circuits if isinstance(document, Vehicle) else ()
    return next((c for c in circuits if c.id == id), None)


def _faults(desk: Desk, id: str, text: str) -> tuple[str, ...]:
    """Return what the check would say of the vehicle with this text."""
    try:
        loaded = read_document(Source(file=f"vehicle/{id}", text=text), MODELS)
        records = [desk.loaded(r) for r in desk.evidence_revisions(id)]
        return tuple(str(message) for message in check_documents([loaded, *records], whole=False))
    except DocumentError as problem:
        return tuple(str(message) for message in problem.messages)
