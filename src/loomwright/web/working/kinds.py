"""The kinds of long work, as one table; each runs in a process of its own, from texts to what came of them."""

import csv
import io
import json
import zipfile
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from urllib.parse import urlencode

from loomwright import __version__
from loomwright.documents.car import resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, read_document
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.faults.weight import measure_next
from loomwright.faults.wrong_pins import wrong_pins
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.network.results import verdict
from loomwright.papers.blocks import Bullets, Paper
from loomwright.papers.languages import language_of
from loomwright.papers.match_object import match_object
from loomwright.papers.match_report import match_report
from loomwright.papers.rehearsal import start_paper
from loomwright.papers.saying import plain
from loomwright.papers.translating import in_language
from loomwright.papers.weighing import weighing_paper
from loomwright.papers.whole_set import printed_on, whole_set
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from loomwright.sheets import Form, render
from loomwright.sheets.together import render_each
from loomwright.starting.advice import advise
from loomwright.starting.findings import contradicting, findings_of, property_findings, with_start
from loomwright.starting.port import Port
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import scenarios_for
from loomwright.starting.settings import start_settings
from loomwright.starting.silent import check_start
from loomwright.web.working.task import Asked, Made

__all__ = ["KINDS", "LOOK_OVER", "Kind", "Tell"]

LOOK_OVER = "look-over"
_MOST_WEIGHED = 12

Tell = Callable[[int, int, str], None]
"""Says how far the work is: done, of how many, and what it is at."""

_VERDICTS: Mapping[str, str] = MappingProxyType({
    "fits": "fits", "fits-with-exceptions": "fits with exceptions", "does-not-fit": "does not fit",
})  # fmt: skip
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the same files give the same archive


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of long work: its name on a button, what it is good for, what does it, whether it shows photographs."""

    name: str
    words: str
    run: Callable[[Asked, Tell], Made]
    shows_photos: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Documents:
    vehicle: Vehicle
    kit: Kit
    shop: Shop
    evidence: tuple[Evidence, ...]


def _documents(asked: Asked) -> _Documents:
    def read(kind: str, text: str) -> object:
        return read_document(Source(file=kind, text=text), MODELS).document

    vehicle, kit, shop = read("vehicle", asked.vehicle), read("kit", asked.kit), read("shop", asked.shop)
    records = [read("evidence", text) for text in asked.evidence]
    if not isinstance(vehicle, Vehicle) or not isinstance(kit, Kit) or not isinstance(shop, Shop):
        msg = "asked: found a document of another kind, expected a vehicle, a kit and a shop"
        raise TypeError(msg)
    evidence = tuple(record for record in records if isinstance(record, Evidence))
    return _Documents(vehicle=vehicle, kit=kit, shop=shop, evidence=evidence)


def _one(asked: Asked) -> tuple[_Documents, Installation | Refusal]:
    found = _documents(asked)
    return found, match(resolve(found.vehicle, asked.choice, found.evidence), found.kit, found.shop)


def _prove_all(asked: Asked, tell: Tell) -> Made:
    """Prove the kit in every car of the family that is built."""
    docs = _documents(asked)
    built = list(variants(docs.vehicle))
    rows, links, counted = [], [], Counter[str]()
    for number, choice in enumerate(built):
        tell(number, len(built), ", ".join(f"{axis} {value}" for axis, value in choice.items()))
        found = match(resolve(docs.vehicle, choice, docs.evidence), docs.kit, docs.shop)
        links.append(urlencode([(f"car.{axis}", value) for axis, value in choice.items()]))
        if isinstance(found, Refusal):
            counted["refused"] += 1
            rows.append((*choice.values(), "must not be fitted", "", "", "", found.reason))
            continue
        findings = with_start(prove(found)).findings
        said = _VERDICTS[verdict(found, findings)]
        counted[said] += 1
        grave = next((f.message for f in findings if f.severity in ("stop", "fix")), "")
        numbers = (str(sum(f.severity == s for f in findings)) for s in ("stop", "fix", "note"))
        rows.append((*choice.values(), said, *numbers, grave))
    tell(len(built), len(built), "every car")
    head = (*(axis.id for axis in docs.vehicle.axes), "verdict", "stop", "to be put right", "notes", "first of them")
    lines = [f"{len(built)} cars of this family are built; each was planned and proved with this kit."]
    lines += [f"{count}: {words}." for words, count in counted.most_common()]
    return Made(
        lines=tuple(lines), head=head, rows=tuple(rows), links=tuple(links), files={"every-car.csv": _csv(head, rows)}
    )


def _csv(head: Sequence[str], rows: Sequence[Sequence[str]]) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(head)
    # A sheet program takes a cell that begins like this for a formula.
    writer.writerows([[f"'{c}" if c[:1] in "=+-@" else c for c in row] for row in rows])
    return out.getvalue().encode("utf-8-sig")


def _said(paper: Paper, docs: _Documents, found: Installation | Refusal) -> Paper:
    """Return a paper in the shop's language."""
    return in_language(paper, language_of(docs.shop.language, docs.shop, found.car, docs.kit))


def _write_all(asked: Asked, tell: Tell) -> Made:
    """Write every sheet of one kit in one car into one archive."""
    docs, found = _one(asked)
    if isinstance(found, Refusal):
        refused = {"refusal.html": render(_said(match_report(found, None), docs, found), "html")}
        lines = ("This kit must not be fitted to this car: there is nothing to print but why.",)
        return Made(lines=lines, files=refused)
    tell(0, 0, "the proof and the readings")
    proof = with_start(prove(found))
    marks = {"tool": f"Loomwright {__version__}"}
    papers = whole_set(found, proof, readings(found), docs.shop, marks, asked.photos)
    todo: list[tuple[str, Form]] = []
    for name in papers:
        todo += [(name, "html"), *((name, form) for form in printed_on(name, docs.shop))]
    said = {name: _said(paper, docs, found) for name, paper in papers.items()}
    drawn = render_each([(said[name], form) for name, form in todo])
    result = match_object(found, proof, wrong_pins(found))  # while the first sheets are set
    files: dict[str, bytes] = {}
    for number, (name, form) in enumerate(todo):
        tell(number, len(todo), f"{name}, {form}")
        file = f"{name}.html" if form == "html" else f"{name}-{form}.pdf"
        files[file] = next(drawn)
    files["match.json"] = json.dumps(result, indent=2, ensure_ascii=False).encode()
    tell(len(todo), len(todo), "the archive")
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in files.items():
            target.writestr(zipfile.ZipInfo(name, _EPOCH), content, zipfile.ZIP_DEFLATED)
    name = f"{docs.kit.id}-{docs.vehicle.id}.zip"
    return Made(lines=(f"{len(files)} files in one archive.",), files={name: archive.getvalue(), **files})


def _look_over(asked: Asked, tell: Tell) -> Made:
    """Tell what of one kit in one car must be put right, and which fact nobody measured matters most."""
    docs, found = _one(asked)
    head = ("kind", "what", "what to do", "why")
    if isinstance(found, Refusal):
        row = ("finding", f"Must not be fitted: {found.reason}", f"It would fit if {found.would_fit_if}.", "")
        return Made(lines=("This kit must not be fitted to this car.",), head=head, rows=(row,), links=("",))
    tell(0, 0, "the proof and the start")
    grave = [f for f in with_start(prove(found)).findings if f.severity != "note"]
    rows = [("finding", f.message, f.advice, "") for f in grave]
    each = "each fact that nobody has measured on this variant: the kit planned, proved and started anew without it"
    weighed = measure_next(found, docs.shop, tell=lambda done, total: tell(done, total, each))
    paper = weighing_paper(found, weighed)
    # The paper lists what moves something, the heaviest first, in the same order.
    told = [plain(item) for block in paper.blocks if isinstance(block, Bullets) for item in block.items]
    moving = [w for w in weighed if w.moves]
    for weight, words in list(zip(moving, told, strict=True))[:_MOST_WEIGHED]:
        if not weight.circuit:
            rows.append(("measure", f"The car's {weight.fact}", "Find out as told beside", words))
            continue
        circuit = found.car.circuits[weight.circuit]
        what = f"{circuit.name or circuit.function}, pin {weight.pin}"
        rows.append(("measure", what[:1].upper() + what[1:], f"Measure pin {weight.pin}", words))
    lines = (
        f"{len(grave)} findings must be put right.",
        f"{len(moving)} of {len(weighed)} facts that are not proven on this variant would change something.",
    )
    link = urlencode([(f"car.{axis}", value) for axis, value in asked.choice.items()])
    files = {"what-to-measure-next.html": render(_said(paper, docs, found), "html")}
    return Made(lines=lines, head=head, rows=tuple(rows), links=(link,) * len(rows), files=files)


def _explore(asked: Asked, tell: Tell) -> Made:
    """Rehearse every scenario of one start and explore it in every order of events."""
    docs, found = _one(asked)
    if isinstance(found, Refusal):
        return Made(lines=("This kit must not be fitted to this car: there is no start to explore.",))
    settings, port = start_settings(found), Port(found)
    told = scenarios_for(
        found.car.traits.fuel or "petrol", keyed=settings.keyed, pulsed=settings.pulsed, senses=settings.senses,
        speed=settings.detection != "voltage",
    )  # fmt: skip
    steps = len(told) + 2
    done = []
    for number, scenario in enumerate(told):
        tell(number, steps, scenario.words)
        done.append(rehearse(found, scenario, settings, port))
    tell(len(told), steps, "every order of events, sound and with each single fault of an input's wiring")
    report = check_start(found)
    tell(len(told) + 1, steps, "the paper")
    advice = advise(found, port)
    findings = (
        *property_findings(report),
        *contradicting(advice.contradictions),
        *(f for one in done for f in findings_of(found, one)),
    )
    paper = start_paper(found, report, done, advice, findings)
    broken = [h.words for h in report.properties if not h.holds]
    lines = [
        f"{len(done)} starts were rehearsed; {report.transitions} transitions between {report.states} states explored.",
        f"{len(report.properties) - len(broken)} of {len(report.properties)} properties hold in every order of events.",
        f"{len(report.silent)} faults of a single wire would defeat a protection silently.",
        *(f"Broken: {words}" for words in broken),
        *(f"To be put right: {one.message}" for one in findings if one.severity == "fix"),
    ]
    paper = _said(paper, docs, found)
    files = {"the-start.html": render(paper, "html"), "the-start-a4.pdf": render(paper, "a4")}
    tell(steps, steps, "the paper")
    return Made(lines=tuple(lines), files=files)


KINDS: Mapping[str, Kind] = MappingProxyType({
    "every-car": Kind(
        name="Prove it in every car of the family", run=_prove_all,
        words="Plans and proves the kit in each car of the family that is built.",
    ),
    "every-sheet": Kind(
        name="Write every sheet", run=_write_all, words="All sheets of this kit in this car, also as one archive.",
        shows_photos=True,
    ),
    LOOK_OVER: Kind(
        name="Find what matters most", run=_look_over,
        words="What must be put right, and which fact that nobody measured would change most if it were otherwise.",
    ),
    "start": Kind(
        name="Explore the start", run=_explore,
        words="Every scenario in time, and every order of events with sound and faulty input wiring.",
    ),
})  # fmt: skip
