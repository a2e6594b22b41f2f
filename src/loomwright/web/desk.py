"""The desk: what the pages ask the store and the other rooms for, with everything computed kept for the next page."""

import json
from collections import OrderedDict
from collections.abc import Hashable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from hashlib import sha256
from typing import Any, TypeVar

from pydantic import BaseModel

from loomwright.documents.car import Car, ResolveError, resolve
from loomwright.documents.checking import check_documents
from loomwright.documents.evidence import Evidence
from loomwright.documents.glance import Glance, glance
from loomwright.documents.job import Job as SoldJob
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Loaded, Source, read_document
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.errors import DocumentError, Message, StoreError
from loomwright.faults.wrong_pins import WrongPin, wrong_pins
from loomwright.fitting.order import Order, OrderCheck, begin, order_check
from loomwright.health.check import Check
from loomwright.health.kept_folder import kept_folder
from loomwright.health.report import ProblemReport
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.network.results import Proof, Readings
from loomwright.network.states import State
from loomwright.network.what_if import Bench, Held, WhatIf, bench_of, what_if
from loomwright.papers.bench_page import readings_none
from loomwright.papers.drawings import Photograph
from loomwright.papers.job import Job
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from loomwright.starting.findings import with_start
from loomwright.starting.record import Rehearsal
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import Scenario, scenarios_for
from loomwright.starting.settings import start_settings
from loomwright.store.store import Clock, Store
from loomwright.store.values import Entry, Person, Revision
from loomwright.web.asking import WebError
from loomwright.web.door import Door
from loomwright.web.keeping import Kept
from loomwright.web.settings import Settings
from loomwright.web.working.worker import Worker

__all__ = ["Desk", "Fit", "Line"]

_D = TypeVar("_D", bound=BaseModel)

_DOCUMENTS, _GLANCES, _FITS, _BENCHES, _SHEETS, _REPORTS, _ANSWERS = 400, 6000, 64, 24, 64, 8, 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a list of documents."""

    entry: Entry
    glance: Glance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """One car, one kit, and what comes of them; `proof` and `job` are there where the kit was not refused."""

    car: Car
    kit: Kit
    shop: Shop
    found: Installation | Refusal
    proof: Proof | None
    job: Job | None
    key: tuple[object, ...]


class Desk:
    """Everything that the handlers of pages call. It may be used from several threads at once."""

    def __init__(self, store: Store, clock: Clock, settings: Settings) -> None:
        self.store = store
        self.clock = clock
        self.settings = settings
        self.door = Door(settings.passphrase)
        self.kept_in = kept_folder(store)
        self.work = Worker(self.kept_in / "work", clock)
        self._documents: Kept[Loaded] = Kept(_DOCUMENTS)
        self._glances: Kept[Glance] = Kept(_GLANCES)
        self._faults: Kept[tuple[Message, ...]] = Kept(_DOCUMENTS)
        self._cars: Kept[Car] = Kept(_FITS)
        self._fits: Kept[Fit] = Kept(_FITS)
        self._benches: Kept[Bench] = Kept(_BENCHES)
        self._answers: Kept[WhatIf] = Kept(_ANSWERS)
        self._orders: Kept[Order] = Kept(_BENCHES)
        self._checks: Kept[OrderCheck] = Kept(_FITS)
        self._readings: Kept[Readings] = Kept(_BENCHES)
        self._slips: Kept[tuple[WrongPin, ...]] = Kept(_BENCHES)
        self._rehearsals: Kept[Rehearsal] = Kept(_FITS)
        self.sheets: Kept[bytes] = Kept(_SHEETS)
        self.photos: Kept[Photograph] = Kept(_SHEETS)
        self.sold: Kept[SoldJob | None] = Kept(_DOCUMENTS)  # jobs by the hash of their text
        self._workers: Kept[tuple[Person, ...]] = Kept(1)
        self.today: Kept[Any] = Kept(2)  # the page of what is open, by the last revision
        self._reports: OrderedDict[str, tuple[tuple[Check, ...], ProblemReport]] = OrderedDict()

    # --- documents --------------------------------------------------------------------------------------------

    def lines(self, kind: str, after: str = "", limit: int | None = None) -> tuple[Line, ...]:
        """Return the documents of a kind by id, with their names."""
        return tuple(self.line(entry) for entry in self.store.list(kind, after=after, limit=limit))

    def line(self, entry: Entry) -> Line:
        """Return one line of a list."""
        found = self._glances.get(entry.sha256, lambda: glance(self.store.at(entry.number).text))
        return Line(entry=entry, glance=found)

    def revision(self, kind: str, id: str) -> Revision:
        """Return the latest revision of a document.

        Raises WebError where there is none.
        """
        try:
            return self.store.latest(kind, id)
        except StoreError as problem:
            if self.store.has(kind, id):  # it is there, so the trouble is another one
                raise
            raise WebError(404, f"There is no {kind} {id[:80]!r} in this shop.") from problem

    def numbered(self, kind: str, id: str, number: int) -> Revision:
        """Return one revision of a document.

        Raises WebError where the document has none of that number.
        """
        if any(entry.number == number for entry in self.store.revisions(kind, id)):
            return self.store.at(number)
        raise WebError(404, f"There is no revision {number} of {kind} {id[:80]!r} in this shop.")

    def keep(self, kind: str, id: str, text: str, *, by: str, base: Revision | None) -> Revision:
        """Keep a text as a new revision of a document, if it is one.

        Raises DocumentError with every fault of its form, Conflict where somebody saved first.
        """
        read = read_document(Source(file=f"{kind}/{id}", text=text), MODELS)
        for key, wanted in (("kind", kind), ("id", id)):
            if (stands := str(getattr(read.document, key, ""))) != wanted:
                raise DocumentError([
                    Message(
                        file=read.file, line=read.lines.get((key,)), field=key, found=repr(stands),
                        expected=repr(wanted), advice="save it under its own name",
                    )
                ])  # fmt: skip
        kept = self.store.save(kind, id, text, by=by, base=base)
        self._documents.get(kept.sha256, lambda: read)  # whoever asks for it next need not read it again
        return kept

    def loaded(self, revision: Revision) -> Loaded:
        """Read a revision.

        Raises DocumentError with every fault of its form.
        """
        source = Source(file=f"{revision.kind}/{revision.id}", text=revision.text)
        return self._documents.get(revision.sha256, lambda: read_document(source, MODELS))

    def document(self, kind: str, id: str, model: type[_D]) -> _D:
        """Return the latest document of an id.

        Raises WebError where there is none, DocumentError with every fault of its form.
        """
        found = self.loaded(self.revision(kind, id)).document
        if not isinstance(found, model):
            raise WebError(404, f"There is no {kind} {id!r} in this shop.")
        return found

    def vehicle(self, id: str) -> Vehicle:
        """Return a vehicle family."""
        return self.document("vehicle", id, Vehicle)

    def kit(self, id: str) -> Kit:
        """Return a kit."""
        return self.document("kit", id, Kit)

    def shop(self) -> Shop:
        """Return the shop's own document.

        Raises WebError where the store has none.
        """
        return self._shop()[1]

    def shop_revision(self) -> tuple[Revision, Shop]:
        """Return the shop's own document with its revision.

        Raises WebError where the store has none.
        """
        return self._shop()

    def filled(self, kind: str, id: str, model: type[_D], told: Mapping[str, object]) -> _D:
        """Return a document as it was filled in on a form; empty fields count as left out.

        Raises DocumentError with every fault of its form.
        """
        text = json.dumps({key: value for key, value in told.items() if value not in ("", [])})  # JSON is YAML too
        found = read_document(Source(file=f"{kind}/{id}", text=text), MODELS).document
        if not isinstance(found, model):
            raise WebError(400, f"This is no {kind}.")
        return found

    def _shop(self) -> tuple[Revision, Shop]:
        entries = self.store.list("shop", limit=1)
        if not entries:
            raise WebError(409, "This store has no shop yet. Begin with the demo shop or an empty one.")
        revision = self.store.at(entries[0].number)
        return revision, self.document("shop", entries[0].id, Shop)

    def shop_name(self) -> str:
        """Return what the shop is called, empty where there is none yet."""
        entries = self.store.list("shop", limit=1)
        return self.line(entries[0]).glance.name if entries else ""

    def has_shop(self) -> bool:
        """Tell whether the store was begun."""
        return bool(self.store.list("shop", limit=1))

    def evidence_revisions(self, vehicle: str) -> tuple[Revision, ...]:
        """Return what is recorded about a vehicle: documents named after it, such as 'kestrin-fallow-evidence'."""
        entries = self.store.list("evidence", after=vehicle[:-1], limit=40)
        mine = [e for e in entries if e.id == vehicle or e.id.startswith(f"{vehicle}-")]
        found = [self.store.at(e.number) for e in mine]
        return tuple(r for r in found if getattr(self.loaded(r).document, "vehicle", None) == vehicle)

    def evidence(self, vehicle: str) -> tuple[Evidence, ...]:
        """Return the evidence about a vehicle."""
        found = (self.loaded(r).document for r in self.evidence_revisions(vehicle))
        return tuple(document for document in found if isinstance(document, Evidence))

    def faults(self, kind: str, id: str) -> tuple[Message, ...]:
        """Return everything that is wrong with a document and with the evidence about it; none where all is well."""
        return self._faults_of(self.revision(kind, id))

    def faults_in(self, kind: str, id: str, text: str) -> tuple[Message, ...]:
        """Return what would be wrong with a document that had another text; it is known once that text is kept."""
        return self._faults_of(replace(self.revision(kind, id), text=text, sha256=sha256(text.encode()).hexdigest()))

    def _faults_of(self, revision: Revision) -> tuple[Message, ...]:
        others = self.evidence_revisions(revision.id) if revision.kind == "vehicle" else ()

        def look() -> tuple[Message, ...]:
            try:
                return check_documents([self.loaded(r) for r in (revision, *others)], whole=False)
            except DocumentError as problem:
                return problem.messages

        return self._faults.get((revision.sha256, *(r.sha256 for r in others)), look)

    # --- fits -------------------------------------------------------------------------------------------------

    def car(self, vehicle: str, choice: Mapping[str, str]) -> Car:
        """Return the car of a family that a choice names.

        Raises WebError where it names none.
        """
        family, records = self.revision("vehicle", vehicle), self.evidence_revisions(vehicle)

        def make() -> Car:
            try:
                return resolve(self.vehicle(vehicle), choice, self.evidence(vehicle))
            except ResolveError as problem:
                raise WebError(400, f"{str(problem)[:1].upper()}{str(problem)[1:]}.") from problem

        return self._cars.get((family.sha256, *(r.sha256 for r in records), tuple(sorted(choice.items()))), make)

    def fit(self, vehicle: str, kit: str, choice: Mapping[str, str]) -> Fit:
        """Plan a kit into a car and prove it.

        Raises WebError where the choice names no car, DocumentError where a document has faults.
        """
        papers = (self.revision("vehicle", vehicle), self.revision("kit", kit), self._shop()[0])
        records = self.evidence_revisions(vehicle)
        key = (*(r.sha256 for r in (*papers, *records)), tuple(sorted(choice.items())))
        return self._fits.get(key, partial(self._fit, vehicle, kit, choice, key))

    def _fit(self, vehicle: str, kit: str, choice: Mapping[str, str], key: tuple[object, ...]) -> Fit:
        for kind, id in (("vehicle", vehicle), ("kit", kit)):
            if faults := self.faults(kind, id):
                raise DocumentError(faults)
        car, box, shop = self.car(vehicle, choice), self.kit(kit), self.shop()
        found = match(car, box, shop)
        if isinstance(found, Refusal):
            return Fit(car=car, kit=box, shop=shop, found=found, proof=None, job=None, key=key)
        proof = with_start(prove(found))
        job = Job(installation=found, proof=proof, readings=readings_none(found), shop=shop)
        return Fit(car=car, kit=box, shop=shop, found=found, proof=proof, job=job, key=key)

    def order_check(self, vehicle: str, kit: str, answers: Mapping[str, str]) -> OrderCheck:
        """Return what a buyer's answers come to.

        Raises AnswerError for an answer that no car of the family has, DocumentError where a document has faults.
        """
        papers = (self.revision("vehicle", vehicle), self.revision("kit", kit), self._shop()[0])
        key = tuple(r.sha256 for r in (*papers, *self.evidence_revisions(vehicle)))

        def first() -> Order:
            for kind, id in (("vehicle", vehicle), ("kit", kit)):
                if faults := self.faults(kind, id):
                    raise DocumentError(faults)
            return begin(self.vehicle(vehicle), self.kit(kit), self.shop(), self.evidence(vehicle))

        def check() -> OrderCheck:
            return order_check(self._orders.get(key, first), answers)

        return self._checks.get((key, tuple(answers.items())), check)

    def bench(self, fit: Fit) -> Bench:
        """Return the installation of a fit made ready to be asked what if.

        Raises WebError for a refusal.
        """
        found = fit.found
        if isinstance(found, Refusal):
            raise WebError(409, "This kit must not be fitted to this car, so there is nothing to look at.")
        return self._benches.get(fit.key, lambda: bench_of(found))

    def what_if(
        self, fit: Fit, history: Sequence[State], *, opened: tuple[str, ...] = (), shorted: tuple[str, ...] = (),
        held: Sequence[Held] | None = None,
    ) -> WhatIf:  # fmt: skip
        """Return what each wire of a fit does in the last state of a history.

        Whoever steps through a start asks for a state more each time, so what is known goes on from the last one.
        """
        bench = self.bench(fit)

        def key(count: int) -> Hashable:
            return (fit.key, tuple(history[:count]), None if held is None else tuple(held[:count]), opened, shorted)

        def make() -> WhatIf:
            counts = range(len(history) - 1, 0, -1)
            begun, since = next(((n, a) for n in counts if (a := self._answers.peek(key(n))) is not None), (0, None))
            rest = None if held is None else held[begun:]
            return what_if(bench, history[begun:], opened=opened, shorted=shorted, held=rest, since=since)

        return self._answers.get(key(len(history)), make)

    def scenarios(self, fit: Fit) -> tuple[Scenario, ...]:
        """Return the starts that make sense for a car and its kit; none for a refusal."""
        found = fit.found
        if isinstance(found, Refusal):
            return ()
        settings = start_settings(found)
        return scenarios_for(
            found.car.traits.fuel or "petrol", keyed=settings.keyed, pulsed=settings.pulsed, senses=settings.senses,
            speed=settings.detection != "voltage",
        )  # fmt: skip

    def rehearsal(self, fit: Fit, scenario: str) -> Rehearsal:
        """Return a start of a fit, gone through in time.

        Raises WebError for a refusal or a scenario that makes no sense for it.
        """
        found = fit.found
        chosen = next((s for s in self.scenarios(fit) if s.id == scenario), None)
        if isinstance(found, Refusal) or chosen is None:
            raise WebError(404, "There is no such start for this car and kit.")
        return self._rehearsals.get((fit.key, scenario), lambda: rehearse(found, chosen))

    def readings(self, fit: Fit, battery_v: float) -> Readings:
        """Return what a meter must show.

        Raises WebError for a refusal.
        """
        found = fit.found
        if isinstance(found, Refusal):
            raise WebError(409, "This kit must not be fitted to this car, so there is nothing to measure.")
        return self._readings.get((fit.key, battery_v), lambda: readings(found, battery_v))

    def slips(self, found: Installation) -> tuple[WrongPin, ...]:
        """Return the pins at which a joint may be made by mistake."""
        return self._slips.get(found.id, lambda: wrong_pins(found))

    def named(self, file: str, text: str) -> tuple[str, str]:
        """Return kind and id of a document's text.

        Raises DocumentError with every fault of its form.
        """
        document = read_document(Source(file=file, text=text), MODELS).document
        return str(getattr(document, "kind", "")), str(getattr(document, "id", ""))

    # --- problem reports --------------------------------------------------------------------------------------

    def keep_report(self, checks: tuple[Check, ...], report: ProblemReport) -> str:
        """Keep a report until a few newer ones are there, and return under which word."""
        key = sha256(report.data).hexdigest()[:20]
        self._reports[key] = (checks, report)
        while len(self._reports) > _REPORTS:
            self._reports.popitem(last=False)
        return key

    def report(self, key: str) -> tuple[tuple[Check, ...], ProblemReport] | None:
        """Return a report that is kept, if it still is."""
        return self._reports.get(key)

    # --- people -----------------------------------------------------------------------------------------------

    def worker(self, who: str) -> str:
        """Return the id under which something is saved: the browser's person, else whoever began the shop."""
        return self.known(who) or self.store.usual_person()

    def known(self, who: str) -> str | None:
        """Return the id of the browser's person; a browser may come with the name of another store, or with none."""
        with suppress(StoreError):
            if who and self.store.person(who).name:
                return who
        return None

    def workers(self) -> tuple[Person, ...]:
        """Return the people of the shop: those who have saved something and were not erased."""
        found = self._workers.get(self.store.last_number(), self.store.workers)
        return tuple(person for person in found if person.name)

    def name_of(self, who: str) -> str:
        """Return what a person is called; somebody who was erased is 'somebody'."""
        return self.store.person(who).name or "somebody"
