"""The drawn circuit of every pair of the demonstration, read back from its marks, is the installation's own netlist."""

import re
from typing import TYPE_CHECKING, Literal

import pypdfium2
import pytest

from loomwright.network.results import Readings
from loomwright.papers.blocks import Picture
from loomwright.papers.drawings import WiringPlan
from loomwright.papers.job import Job
from loomwright.papers.languages import FRENCH
from loomwright.papers.saying import plain
from loomwright.papers.translating import in_language
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.papers.wiring_rows import wiring_drawing
from loomwright.planning.installation import Installation
from loomwright.sheets import render
from loomwright.sheets.wiring import DrawnRow, coded, draw_wiring
from tests.pairs import EVERY_PAIR, installations
from tests.papers.builders import documents
from tests.sheets.geometry import faults
from tests.sheets.kit_netlist import drawn_name, kit_nodes, kit_pins, unproved
from tests.sheets.read_circuit import read_circuit

if TYPE_CHECKING:
    from playwright.sync_api import Browser

_VARIANTS = 3
_WIDTHS = (90.0, 178.0)  # a phone; A4 and Letter, whose text is equally wide

pairs = pytest.mark.parametrize("pair", EVERY_PAIR, ids="+".join)
widths = pytest.mark.parametrize("width", _WIDTHS)


def job_of(installation: Installation) -> Job:
    readings = Readings(installation=installation.id, battery_v=12.6, readings=())
    shop = documents()[3].model_copy(update={"wire_unit": "mm2", "length_unit": "mm"})
    return Job(installation=installation, proof=unproved(installation), readings=readings, shop=shop)


def drawn(installation: Installation, width: float) -> tuple[DrawnRow, ...]:
    return draw_wiring(wiring_drawing(job_of(installation)), width_mm=width)


@pairs
@widths
def test_nothing_of_a_drawn_circuit_lies_over_anything(pair: tuple[str, str], width: float) -> None:
    for installation in installations(pair, _VARIANTS):
        rows = drawn(installation, width)
        assert len(rows) == sum(max(1, len(route.joints)) for route in installation.routes)
        assert [fault for row in rows for fault in faults(row)] == []
        # A row is never higher than a page: Letter has 279 mm, of which 215 are left for what stands on it.
        assert max(row.height for row in rows) < 215


@pairs
@widths
def test_nothing_lies_over_anything_in_french_either(pair: tuple[str, str], width: float) -> None:
    for installation in installations(pair, 1):
        paper = in_language(wiring_plan(installation, unproved(installation), documents()[3], {}), FRENCH)
        (plan,) = (b.drawing for b in paper.blocks if isinstance(b, Picture) and isinstance(b.drawing, WiringPlan))
        rows = draw_wiring(plan, width_mm=width, language="fr")
        assert [fault for row in rows for fault in faults(row)] == []
        assert "Masse" in "".join(row.words for row in rows)


@pairs
@widths
def test_the_drawing_read_back_is_the_netlist_of_the_installation(pair: tuple[str, str], width: float) -> None:
    for installation in installations(pair, _VARIANTS):
        read = read_circuit(row.svg for row in drawn(installation, width))
        expected = kit_nodes(installation, drawn_name)
        assert read.nodes - expected == set()
        assert expected - read.nodes == set()


@pairs
@widths
def test_the_drawing_names_every_lead_wire_and_part(pair: tuple[str, str], width: float) -> None:
    for installation in installations(pair, _VARIANTS):
        read = read_circuit(row.svg for row in drawn(installation, width))
        car, pins = installation.car, kit_pins(installation)
        size = job_of(installation).measures
        assert read.leads == {
            (j.label, pins[j.terminal], coded(j.colour, j.stripe),
             ", ".join(plain((q,)) for q in (size.size(j.area_mm2, ""), size.length(j.length_m, ""))))
            for j in installation.joints
        }  # fmt: skip
        assert read.wires == {
            (drawn_name(installation, j), coded(car.pins[j.pin].colour or "", car.pins[j.pin].stripe),
             car.circuits[j.circuit or ""].name or car.circuits[j.circuit or ""].function)
            for j in installation.joints
            if j.pin is not None
        }  # fmt: skip
        names = {p.id: p.name for p in installation.kit.parts}
        assert read.parts == {
            (f"{j.label} @ {drawn_name(installation, j)}", names[j.part.part])
            for j in installation.joints
            if j.part is not None
        }


def test_a_wire_that_is_missing_or_moved_is_found() -> None:
    (installation,) = installations(("quillen-marram", "dunlin-7"), 1)
    rows = [row.svg for row in drawn(installation, 178.0)]
    expected = kit_nodes(installation, drawn_name)
    found = re.compile(r'<path d="M[^>]*class="c-wire"[^>]*/>')
    wires = [(n, each) for n, svg in enumerate(rows) for each in found.findall(svg)]
    assert len(wires) > 100
    blind = []
    for n, wire in wires[::3]:
        without = [svg.replace(wire, "", 1) if i == n else svg for i, svg in enumerate(rows)]
        if read_circuit(without).nodes == expected:
            blind.append((n, wire))
    assert blind == [], "each wire of the drawing matters"


def test_the_demonstration_has_every_kind_of_joint_but_none_that_nobody_draws() -> None:
    every = [i for pair in EVERY_PAIR for i in installations(pair, _VARIANTS)]
    assert {j.kind for i in every for j in i.joints} == {
        "tap", "T tapped", "T interrupted", "cut in", "plug", "ground point", "added part",
    }  # fmt: skip
    assert {j.part.pattern for i in every for j in i.joints if j.part is not None} >= {
        "relay inverts", "relay boosts", "relay changes over", "diode cuts in", "resistor",
    }  # fmt: skip


@widths
def test_no_letters_overlap_in_the_font_of_a_browser(browser: "Browser", width: float) -> None:
    """A browser may have a wider font than the one on paper: then letters must still keep off each other."""
    plans = [row.svg for pair in EVERY_PAIR for i in installations(pair, 1) for row in drawn(i, width)]
    page = browser.new_page(viewport={"width": 390 if width < 100 else 1200, "height": 800})
    page.set_content(f"<style>svg {{ width: 100%; display: block }}</style>{''.join(plans)}")
    found = page.evaluate(
        """() => [...document.querySelectorAll("svg")].flatMap((svg) => {
            const texts = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBBox()]);
            // The box of a letter is taller than its ink by about a quarter of its height.
            const flat = texts.map(([w, b]) => [w, b.x, b.y + b.height * 0.2, b.x + b.width, b.y + b.height * 0.8]);
            const limit = svg.viewBox.baseVal.width;
            const out = flat.filter(([w, l, t, r, b]) => l < -0.5 || r > limit + 0.5).map(([w]) => w + " leaves");
            return out.concat(flat.flatMap((a, i) => flat.slice(i + 1)
                .filter((b) => a[1] < b[3] && b[1] < a[3] && a[2] < b[4] && b[2] < a[4])
                .map((b) => a[0] + " | " + b[0])));
        })"""
    )
    page.close()
    assert found == []


@pytest.mark.parametrize("form", ["a4", "letter"])
def test_a_printed_plan_keeps_its_margins(form: Literal["a4", "letter"]) -> None:
    (installation,) = installations(("quillen-marram", "dunlin-7"), 1)
    paper = wiring_plan(installation, unproved(installation), documents()[3], {})
    document = pypdfium2.PdfDocument(render(paper, form))
    for number in range(len(document)):
        page = document[number].render(scale=1.0).to_pil().convert("L")
        sheet = (26, 22, page.width - 26, page.height - 22)  # 8 mm from above and below, 9 from the sides
        inner = page.crop(sheet)
        page.paste(255, sheet)
        assert page.getextrema() == (255, 255), f"page {number + 1} has something in its margin"
        assert inner.getextrema()[0] < 100
