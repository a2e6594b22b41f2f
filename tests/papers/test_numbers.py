"""No number without its trace: each is a quantity, or part of a name, a pin, or a count."""

import re
from collections.abc import Iterator, Mapping

import pytest
from pydantic import BaseModel

from loomwright.documents.functions import FUNCTIONS
from loomwright.papers.blocks import Paper
from loomwright.papers.match_report import match_report
from loomwright.papers.reading_table import reading_table
from loomwright.papers.wiring_plan import wiring_plan
from tests.pairs import PAIRS
from tests.papers.builders import VARIANTS, Built, built, built_pair, documents, quantities, strings

_DIN = "|".join(sorted({f.din for f in FUNCTIONS.values() if f.din}, key=len, reverse=True))
# What may hold a digit outside a quantity, each with its reason.
_ALLOWED = (
    r"\bpins? (?:\w+(?:, \w+)*(?: and \w+)?)",  # names of pins
    r"\b\d+(?:st|nd|rd|th)\b",  # ordinals, by which one counts
    r"\bplace (?:\d+|of \d+)",  # a place of a kit plug, by the number printed beside it
    r"\bplace of \d+ \(empty places count",  # how many places the row has
    r"\bpin \d+",
    r"\b\d{4}-\d{2}-\d{2}\b",  # the day on which a rule was read
    r"\b\d+ places? (?:up|down|to the left|to the right)",  # counting from a landmark
    r"\b[CcHh]\d+(?:/\w+)?\b",  # plugs of the controller and their places
    rf"\((?:{_DIN})\)",  # terminal numbers of DIN 72552
    r"DIN 72552",
    r"\b(?:12|48) V (?:battery|car|work)",  # kinds of car and of work, named by their voltage
    r"range 20 V direct current",  # what the knob of the meter says
    r"\b10 megohm meter",  # a kind of meter
    r"\b\w+-\d\b",  # ids such as power-1
    r"\bthe \d+ [\w/ ]+ wires of this (?:row|column)",  # counting alike wires
)


_NAMES = ("guide", "wiring plan", "readings", "match", "operating-card", "hood-label", "settings", "removal")


def _document_strings(value: object) -> Iterator[str]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _document_strings(getattr(value, name))
    elif isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for item in value.values():
            yield from _document_strings(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _document_strings(item)


def _from_documents() -> list[str]:
    found = {s for document in documents() for s in _document_strings(document) if re.search(r"\d", s)}
    # A capital may be put before it, and its last stop may be dropped.
    return sorted({v for s in found for v in (s, s.rstrip("."), s[:1].upper() + s[1:])}, key=len, reverse=True)


def _papers(made: Built) -> dict[str, Paper]:
    return {
        "guide": made.guide,
        "wiring plan": wiring_plan(made.installation, made.proof, made.shop, {}),
        "readings": reading_table(made.installation, made.readings, made.shop),
        "match": match_report(made.installation, made.proof),
        **made.cards,
    }


def _stripped(text: str, names: list[str]) -> str:
    for name in names:
        # A bare number of a document ('2') is no licence for every such digit, so only whole words of a name count.
        if len(name) > 2:
            text = text.replace(name, " ")
    for pattern in _ALLOWED:
        text = re.sub(pattern, " ", text)
    return text


@pytest.mark.parametrize("variant", VARIANTS)
@pytest.mark.parametrize("paper", _NAMES)
def test_digits_outside_quantities_are_names_pins_or_counts(variant: str, paper: str) -> None:
    made = built(variant)
    names = _from_documents()
    left = {}
    for text in strings(_papers(made)[paper].blocks):
        rest = _stripped(text, names)
        if re.search(r"\d", rest):
            left[text] = rest
    # Values of settings and axes are one or two characters long and stand alone in a table, before a cue, or with the
    # other values of their setting.
    left = {t: r for t, r in left.items() if not re.fullmatch(r"(: )?[123](, [123])*", t)}
    assert left == {}


def test_the_search_finds_a_number_that_was_written_into_a_sentence() -> None:
    assert re.search(r"\d", _stripped("The wire shows 12.4 V.", _from_documents()))
    assert re.search(r"\d", _stripped("Wait 3 minutes.", _from_documents()))
    assert not re.search(r"\d", _stripped("Touch pin 14 in row 2.".replace("row 2", "the 2nd row"), _from_documents()))


def _resolves(made: Built, trace: str) -> bool:
    kind, _, rest = trace.partition(":")
    installation = made.installation
    if kind == "reading":
        return any(r.id == rest for r in made.readings.readings)
    if kind == "joint":
        return any(rest.startswith(f"{j.id}/") for j in installation.joints)
    if kind == "route":
        tasks = {r.task for r in installation.routes} | {u.task for u in installation.unserved}
        return rest in tasks or rest in {f"unused/{u.label}" for u in installation.unused_leads}
    if kind == "finding":
        return any(f.code == rest for f in made.proof.findings)
    if kind == "document":
        return _in_document(made, rest)
    owner: object = {"installation": installation, "proof": made.proof, "readings": made.readings}.get(kind)
    if owner is not None:
        return hasattr(owner, rest)
    return kind == "practice" and len(rest) > 3


def _in_document(made: Built, path: str) -> bool:
    name, *parts = path.split("/")
    if parts[:1] == ["evidence"]:
        return parts[1] in made.installation.car.circuits
    at: object = {made.vehicle.id: made.vehicle, made.kit.id: made.kit, made.shop.id: made.shop}.get(name)
    for part in parts:
        if isinstance(at, tuple):
            listed = [i for i in at if getattr(i, "id", None) == part]
            held = [v for i in at if (v := getattr(i, part, None)) is not None]
            at = listed[0] if listed else held or None
        elif part == "within_s":
            at = [s.within_s for s in getattr(at, "steps", ())] or None
        elif not hasattr(at, part) and hasattr(at, "terminals"):
            at = next((t for t in at.terminals if t.id == part), None)
        else:
            at = getattr(at, part, None)
        if at is None:
            return False
    return at is not None


@pytest.mark.parametrize("variant", VARIANTS)
@pytest.mark.parametrize("paper", _NAMES)
def test_every_quantity_has_a_trace_that_leads_somewhere(variant: str, paper: str) -> None:
    made = built(variant)
    found = list(quantities(_papers(made)[paper].blocks))
    assert found or paper == "hood-label"
    assert {q.trace for q in found if not _resolves(made, q.trace)} == set()


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_every_quantity_of_every_pair_has_a_trace_that_leads_somewhere(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    for name, paper in _papers(made).items():
        lost = {q.trace for q in quantities(paper.blocks) if not _resolves(made, q.trace)}
        assert lost == set(), name


def test_a_trace_that_leads_nowhere_is_told_apart() -> None:
    made = built("2012 wagon")
    assert not _resolves(made, "reading:j:horn/body-a/6@identify/no such state")
    assert not _resolves(made, "document:rookery-4/leads/nothing/length_m")
    assert not _resolves(made, "hearsay:x")


@pytest.mark.parametrize("variant", VARIANTS)
def test_limits_of_a_reading_hold_the_computed_band(variant: str) -> None:
    """The right row of each field lets every computed voltage of a sound car pass, and no neighbour's a volt away."""
    from loomwright.papers.reading_fields import limits_of

    for reading in built(variant).readings.readings:
        if not reading.band.driven:
            continue
        limits = limits_of(reading.band)
        assert limits.low <= max(reading.band.lo, 0.0), reading.id
        assert reading.band.hi <= limits.high, reading.id
        assert limits.high - limits.low <= (reading.band.hi - reading.band.lo) + 0.5, reading.id
