"""Lengths and wire sizes on every paper in the units of the shop, and in no other."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.shop import Shop
from loomwright.network.results import Finding, Proof, Readings
from loomwright.papers.blocks import Paper, Quantity
from loomwright.papers.match_report import match_report
from loomwright.papers.measures import Measures
from loomwright.papers.reading_table import reading_table
from loomwright.papers.saying import plain
from loomwright.papers.whole_set import whole_set
from loomwright.planning.installation import Installation
from loomwright.sheets import render
from tests.kept import proof_of, readings_of
from tests.pairs import PAIRS, installations
from tests.papers.builders import documents

UNITS: Mapping[str, Mapping[str, str]] = {
    "metric": {"length_unit": "mm", "wire_unit": "mm2"},
    "inch": {"length_unit": "inch", "wire_unit": "AWG"},
}
_FOREIGN = {"metric": {"in", "ft", "mil", "AWG"}, "inch": {"mm", "cm", "m", "mm²", "mm2"}}
_WRITTEN = {
    "metric": re.compile(r"\d[ \N{NO-BREAK SPACE}]?(?:inch(?:es)?\b|ft\b|feet\b|AWG\b|mil\b)"),
    "inch": re.compile(r"\d[ \N{NO-BREAK SPACE}]?(?:mm²|mm2|mm\b|cm\b)"),
}


def shop_in(units: str) -> Shop:
    return documents()[3].model_copy(update=UNITS[units])


@cache
def _solved(pair: tuple[str, str]) -> tuple[Installation, Proof, Readings]:
    (installation,) = installations(pair, 1)
    finding = Finding(
        code="wire-over-fuse", severity="note", subject="x", state=None, path=(), numbers=(), source="test",
        message="IGN (3 mm2, 21 A) stands behind 30 A over 2 m.", advice="Use at least 5 mm2 or 10 AWG.",
    )  # fmt: skip
    proof = proof_of(installation)
    return installation, replace(proof, findings=(*proof.findings, finding)), readings_of(installation)


def _papers(pair: tuple[str, str], units: str) -> list[Paper]:
    installation, proof, table = _solved(pair)
    shop = shop_in(units)
    papers = list(whole_set(installation, proof, table, shop, {}).values())
    return [*papers, reading_table(installation, table, shop), match_report(installation, proof, shop)]


def _quantities(value: object) -> Iterator[Quantity]:
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _quantities(item)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _quantities(getattr(value, field.name))


def _written_by_people() -> str:
    """What the documents of the demonstration say in their own words: the name of a tool keeps its millimetres."""
    return " ".join(" ".join(demo_files().values()).split())


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("pair", [PAIRS[0], PAIRS[5]], ids="+".join)
def test_no_paper_has_a_unit_of_the_other_system(pair: tuple[str, str], units: str) -> None:
    people = _written_by_people()
    for paper in _papers(pair, units):
        assert {q.unit for q in _quantities(paper)} & _FOREIGN[units] == set(), paper.id
        text = render(paper, "text").decode()
        text = re.sub(r"(?:socket|wrench) \d+ mm", "tool", text)  # the size printed on a tool is its name
        found = [m.group() for m in _WRITTEN[units].finditer(" ".join(text.split())) if m.group() not in people]
        assert found == [], paper.id


@pytest.mark.parametrize("units", UNITS)
def test_the_papers_do_speak_of_lengths_and_sizes(units: str) -> None:
    # So that the test above has something to find.
    wanted = {"metric": {"mm", "mm²"}, "inch": {"in", "AWG"}}[units]
    plan = next(p for p in _papers(PAIRS[5], units) if p.id == "wiring-plan")
    assert wanted <= {q.unit for q in _quantities(plan)}
    guide = next(p for p in _papers(PAIRS[5], units) if p.id == "guide")
    assert wanted & {q.unit for q in _quantities(guide)}


def test_sizes_of_another_room_are_said_in_the_units_of_the_shop() -> None:
    said = {
        units: render(_papers(PAIRS[0], units)[1], "text").decode().replace("\N{NO-BREAK SPACE}", " ")
        for units in UNITS
    }
    assert "IGN (3 mm², 21 A) stands behind 30 A over 2 m." in " ".join(said["metric"].split())
    assert "at least 5 mm² or 5.26 mm²" in " ".join(said["metric"].split())
    # Source: ASTM B258: 12 AWG is 3.31 mm2, 10 AWG 5.26 mm2: the next even ones that are not thinner than 3 and 5 mm2.
    assert "IGN (12 AWG, 21 A) stands behind 30 A over 6.6 ft." in " ".join(said["inch"].split())
    assert "at least 10 AWG or 10 AWG" in " ".join(said["inch"].split())


# Source: ASTM B258, nominal areas as reprinted in wire tables (from memory), mm2: 22 AWG 0.324 (0.326), 20 AWG 0.518,
# 18 AWG 0.823, 16 AWG 1.31, 14 AWG 2.08, 12 AWG 3.31, 10 AWG 5.26, 8 AWG 8.37, 6 AWG 13.3, 2 AWG 33.6, 1/0 53.5.
@pytest.mark.parametrize(
    ("area_mm2", "printed"),
    [(0.35, "20 AWG"), (0.5, "20 AWG"), (0.518, "20 AWG"), (0.75, "18 AWG"), (0.8, "18 AWG"), (0.823, "18 AWG"),
     (1.0, "16 AWG"), (1.31, "16 AWG"), (1.5, "14 AWG"), (2.0, "14 AWG"), (2.08, "14 AWG"), (3.0, "12 AWG"),
     (3.31, "12 AWG"), (5.0, "10 AWG"), (8.0, "8 AWG"), (13.0, "6 AWG"), (33.0, "2 AWG"), (53.0, "1/0 AWG")],
)  # fmt: skip
def test_a_size_is_the_even_gauge_that_is_not_thinner(area_mm2: float, printed: str) -> None:
    assert plain((Measures(shop=shop_in("inch")).size(area_mm2, "test"),)) == printed
    assert plain((Measures(shop=shop_in("metric")).size(area_mm2, "test"),)).endswith(" mm²")


@pytest.mark.parametrize(
    ("length_m", "inch", "metric"),
    [(0.6, "24 in", "600 mm"), (1.5, "59 in", "1500 mm"), (2.4, "94 in", "2400 mm"), (0.254, "10 in", "250 mm")],
)
def test_a_length_is_one_that_is_read_off_a_tape(length_m: float, inch: str, metric: str) -> None:
    # Source: international inch, 25.4 mm exactly (NIST SP 811, appendix B.8); whole inches and whole centimetres.
    assert plain((Measures(shop=shop_in("inch")).length(length_m, "test"),)) == inch
    assert plain((Measures(shop=shop_in("metric")).length(length_m, "test"),)) == metric
