"""The wire walk: pin by pin with a meter under the dash, each look kept as evidence."""

from dataclasses import dataclass

from loomwright.documents.car import Car
from loomwright.documents.evidence import Claims, Evidence, EvidenceRecord
from loomwright.documents.pictures import Photo
from loomwright.documents.splicing import with_entry
from loomwright.network.pin_levels import pin_levels
from loomwright.papers.drawings import FaceDrawing
from loomwright.papers.vehicle_page import plug_drawing, walk_states
from loomwright.papers.words.en import naming
from loomwright.sheets.drawn import target_share
from loomwright.store.values import Attachment, Conflict
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError, address
from loomwright.web.desk import Desk
from loomwright.web.page_vehicles import some_choice
from loomwright.web.photos import new_photo, shots_of

__all__ = ["keep", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkPage:
    """One pin: where it is, what is written about it, and what a meter should show."""

    vehicle: str
    car_name: str
    cues: tuple[tuple[str, str, str], ...]
    choice: tuple[tuple[str, str], ...]
    at: str
    pin: str
    plug: str
    place: str
    place_words: str
    look: str
    drawing: FaceDrawing
    at_share: float  # how far from the left of the drawing the pin is, 0 to 1
    name: str
    colour: str
    stripe: str
    standing: str
    why: str
    levels: tuple[tuple[str, str], ...]  # (state, what it should show)
    number: int
    total: int
    unproven: int
    before: str
    after: str
    pins: tuple[tuple[str, str], ...]  # (pin, what is said of it)
    by: str
    never: bool
    shots: tuple[tuple[str, str], ...]  # photographs of this pin in the evidence: name, what is said of them
    sent: tuple[str, str, str]  # colour, stripe and reading as they were typed
    faults: tuple[str, ...] = ()


def show(desk: Desk, ask: Ask) -> Answer:
    """Show one pin; the first that is not proven where none is named."""
    page = _page(desk, ask.path["vehicle"], ask.under("car."), ask.one("at"), ask.one("by") or "bench")
    return Page(template="walk.html", title=f"Pin {page.pin}, {page.plug}", context=page)


def _page(
    desk: Desk, vehicle: str, wished: dict[str, str], at: str, by: str, faults: tuple[str, ...] = (),
    sent: tuple[str, str, str] = ("", "", ""),
) -> WalkPage:  # fmt: skip
    car = desk.car(vehicle, some_choice(desk.vehicle(vehicle), wished))
    pins = [f"{p}/{pin}" for p, plug in car.plugs.items() for row in plug.face.rows for pin in row
            if pin is not None and f"{p}/{pin}" in car.pins]  # fmt: skip
    open_pins = [pin for pin in pins if car.standing[car.pins[pin].circuit].status != "proven"]
    wanted = at or next(iter(open_pins or pins), "")
    if wanted not in pins:
        raise WebError(404, f"Found {wanted[:60]!r}, expected a pin of this car in which a circuit sits.")
    plug_id, _, pin = wanted.partition("/")
    plug, occupant, n = car.plugs[plug_id], car.pins[wanted], pins.index(wanted)
    circuit, standing = car.circuits[occupant.circuit], car.standing[occupant.circuit]
    levels, drawing = pin_levels(car, wanted), plug_drawing(car, plug_id, pin)
    return WalkPage(
        vehicle=vehicle, car_name=car.name, cues=car.choice_words,
        choice=tuple((f"car.{axis}", value) for axis, value in car.choice.items()), at=wanted, pin=pin,
        plug=plug.name, place=car.places[plug.place].name, place_words=car.places[plug.place].words, look=plug.look,
        drawing=drawing,
        at_share=target_share(drawing) or 0.0, name=circuit.name or circuit.function,
        colour=occupant.colour or "", stripe=occupant.stripe or "", standing=naming.STANDING[standing.status],
        why=standing.why, levels=walk_states(car, levels), number=n + 1, total=len(pins), unproven=len(open_pins),
        before=pins[n - 1] if n else "", after=pins[n + 1] if n + 1 < len(pins) else "",
        pins=tuple((p, _said(car, p)) for p in pins), by=by, never=circuit.function == "restraint",
        shots=shots_of(desk, vehicle, pin=wanted), sent=sent, faults=faults,
    )  # fmt: skip


def _said(car: Car, pin: str) -> str:
    occupant = car.pins[pin]
    mark = "" if car.standing[occupant.circuit].status == "proven" else ", not proven"
    return f"{car.plugs[pin.partition('/')[0]].name} {pin.partition('/')[2]}: {occupant.words}{mark}"


def keep(desk: Desk, ask: Ask) -> Answer:
    """Keep what was seen and measured at a pin, and go on to the next."""
    vehicle, at, by = ask.path["vehicle"], ask.sent("at"), ask.sent("by") or "bench"
    wished = ask.under("car.", ask.form)
    page = _page(desk, vehicle, wished, at, by)
    if page.never:
        raise WebError(409, "Airbag wires are never measured, so nothing is kept about this pin here.")
    as_drawn = ask.sent("seen") == "as drawn"
    colour = page.colour if as_drawn else ask.sent("colour")
    stripe = page.stripe if as_drawn else ask.sent("stripe")
    reading, upload = ask.sent("reading")[:200], ask.files.get("photo")
    photo: Photo | None = None
    attach: tuple[Attachment, ...] = ()
    faults: tuple[str, ...] = ()
    if upload is not None and upload.data:
        seen = f"{colour}/{stripe}" if stripe else colour
        shows = f"Pin {page.pin}, {page.plug}{f': {seen}' if seen else ''}."
        try:
            photo, attachment = new_photo(upload, page.at, shows)
            attach = (attachment,)
        except ValueError as problem:
            faults = (f"The photograph: {problem}. Take it once more.",)
    if not reading and not colour and photo is None and not faults:
        faults = ("Nothing was said: choose the colour you see, type what the meter shows, or take a photograph.",)
    if faults:
        again = _page(desk, vehicle, wished, at, by, faults, (ask.sent("colour"), ask.sent("stripe"), reading))
        return Page(template="walk.html", title=f"Pin {page.pin}, {page.plug}", context=again, status=422)
    _keep(desk, vehicle, _record(desk, page, (colour, stripe, reading), photo), desk.worker(ask.who), attach)
    after = page.after or page.at
    return Redirect(to=address(f"/vehicles/{vehicle}/walk", [*page.choice, ("at", after), ("by", by)]))


def _record(desk: Desk, page: WalkPage, seen: tuple[str, str, str], photo: Photo | None) -> EvidenceRecord:
    car = desk.car(page.vehicle, {key.removeprefix("car."): value for key, value in page.choice})
    colour, stripe, reading = seen
    return EvidenceRecord(
        circuit=car.pins[page.at].circuit,
        claims=Claims(colour=colour or None, stripe=(stripe or None) if colour else None, pin=page.at, kind=None),
        scope={key.removeprefix("car."): (value,) for key, value in page.choice},
        how="measured", reading=reading or None, by=page.by[:60], on=desk.clock().date(), photo=photo,
    )  # fmt: skip


def _keep(desk: Desk, vehicle: str, record: EvidenceRecord, by: str, attach: tuple[Attachment, ...]) -> None:
    """Add a record to the evidence about a vehicle; whoever adds one at the same time is waited for."""
    id = f"{vehicle}-evidence"
    for _ in range(8):
        if not desk.store.has("evidence", id):
            text: str | Evidence = Evidence(format=1, kind="evidence", id=id, vehicle=vehicle, records=(record,))
            base = None
        else:
            base = desk.store.latest("evidence", id)
            text = with_entry(desk.loaded(base), base.text, "records", None, record)
        try:
            desk.store.save("evidence", id, text, by=by, base=base, attach=attach)
        except Conflict:
            continue
        return
    raise WebError(409, "Many are saving at once. Send it once more.")
