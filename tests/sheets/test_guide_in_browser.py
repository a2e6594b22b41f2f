"""The guides of the hardest demonstration cars on a phone, from a file and without a network, scripts on and off."""

from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from loomwright.sheets import render
from tests.browsing import PHONE, SIDEWAYS, Visit
from tests.papers.builders import built_pair, steps
from tests.sheets.leaves import squeezed, texts_of

# The largest guide, and that of a car with a button.
_PAIRS = (("sarnow-ouzel", "dunlin-7"), ("averdahl-siskin", "dunlin-7"))
_AXE = (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
# While one part is shown the title of the whole stands on the first one.
_BARRIERS = """async (only) => (await axe.run(document, {
  resultTypes: ["violations"], ...(only.length ? {runOnly: only} : {}),
  rules: {"page-has-heading-one": {enabled: false}}})).violations.map(
  v => `${v.id}: ` + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(" | "))"""
# Source: W3C, WCAG 2.2, success criterion 2.5.5: targets of at least 44 by 44 CSS pixels, those in a sentence left out.
_TARGETS = "button, summary, #contents a, input[type=text], .ticks label, .film a"
_SMALL = """(targets) => [...document.querySelectorAll(targets)]
  .map(e => [e.getBoundingClientRect(), e.outerHTML.slice(0, 80)])
  .filter(([r]) => r.width > 0 && (r.height < 44 || r.width < 44))
  .map(([r, html]) => `${r.width} x ${r.height} ${html}`)"""
_EACH_PART = """() => {
  const wide = [], next = document.querySelector(".next");
  for (let i = 0; i < 500; i++) {
    const over = document.documentElement.scrollWidth - window.innerWidth;
    if (over > 0) wide.push([i, over]);
    if (document.querySelectorAll(".part.now").length !== 1) wide.push([i, "not one part"]);
    if (next.disabled) return wide.length ? wide : i + 1;
    next.click();
  }
}"""

pairs = pytest.mark.parametrize("pair", _PAIRS, ids=lambda pair: pair[0])


@pytest.fixture
def file(pair: tuple[str, str], tmp_path: Path) -> Path:
    path = tmp_path / "guide.html"
    path.write_bytes(render(built_pair(pair).guide, "html"))
    return path


def _open(browser: Browser, file: Path, **more: Any) -> Visit:
    context = browser.new_context(viewport=PHONE, **more)
    context.set_offline(True)
    context.add_init_script(
        "window.spoken = []; window.speechSynthesis.speak = u => window.spoken.push(u.text);"
        "window.locks = 0; if (navigator.wakeLock) navigator.wakeLock.request = async () => {"
        " window.locks += 1; return {addEventListener() {}, release: async () => {}}; };"
    )
    visit = Visit(context, "file:")
    visit.page.goto(file.as_uri())
    return visit


@pairs
def test_with_scripts_off_everything_is_there_and_nothing_runs_off_the_phone(
    browser: Browser, pair: tuple[str, str], file: Path
) -> None:
    visit = _open(browser, file, java_script_enabled=False)
    assert visit.page.evaluate(SIDEWAYS) <= 0
    said = squeezed(visit.page.inner_text("body")).lower()
    # What several readings mean alike is said once up to its first full stop, so texts are looked for by sentence.
    lost = [
        sentence
        for text in texts_of(built_pair(pair).guide)
        for sentence in text.removeprefix("Right: ").removeprefix("Right. ").split(". ")
        if squeezed(sentence).rstrip(".").lower() not in said
    ]
    assert lost == []
    assert not visit.page.locator(".pager").is_visible()
    assert visit.faults == []


@pairs
def test_step_by_step_one_part_is_shown_and_none_is_wider_than_the_phone(
    browser: Browser, pair: tuple[str, str], file: Path
) -> None:
    visit = _open(browser, file)
    shown = visit.page.evaluate(_EACH_PART)
    assert shown == visit.page.locator(".part").count(), shown
    assert len(built_pair(pair).guide.blocks) >= shown > 40
    assert visit.faults == []


@pairs
def test_every_target_is_large_enough_for_a_glove(browser: Browser, pair: tuple[str, str], file: Path) -> None:
    assert pair
    page = _open(browser, file).page
    page.locator(".more summary").click()
    page.locator('[data-tool="whole"]').click()
    assert page.evaluate(_SMALL, _TARGETS) == []


def test_no_barrier_is_found_bright_or_dark_on_a_part_of_each_kind(browser: Browser, tmp_path: Path) -> None:
    guide = built_pair(_PAIRS[0]).guide
    file = tmp_path / "guide.html"
    file.write_bytes(render(guide, "html"))
    visit = _open(browser, file, bypass_csp=True)  # only so that the looker itself may be put into the page
    page = visit.page
    page.evaluate(_AXE)
    first = {step.kind: step.title for step in reversed(steps(guide))}
    assert set(first) >= {"prepare", "measure", "join", "plug", "program", "test", "close"}
    for title in ("", *first.values()):
        page.locator('[data-tool="contents"]').click()
        if title:
            page.locator("#contents a", has_text=title).first.click()
        # The dark page differs in its colours and in nothing else.
        for theme, only in (("bright", []), ("dark", ["cat.color"])):
            page.evaluate(f"document.documentElement.dataset.theme = {theme!r}")
            assert page.evaluate(_BARRIERS, only) == [], (title, theme)


@pairs
def test_it_resumes_reads_aloud_and_keeps_the_screen_on(browser: Browser, pair: tuple[str, str], file: Path) -> None:
    visit = _open(browser, file)
    page = visit.page
    step = next(b for b in built_pair(pair).guide.blocks if getattr(b, "kind", "") == "join")
    page.locator("#contents a", has_text=step.title).first.click()  # type: ignore[union-attr]
    here = page.locator(".part.now").get_attribute("id")
    page.locator('[data-tool="speak"]').click()
    spoken = squeezed(" ".join(page.evaluate("window.spoken")))
    for text in (step.title, step.place):  # type: ignore[union-attr]
        assert squeezed(text) in spoken
    assert all(len(piece) < 1000 for piece in page.evaluate("window.spoken"))
    page.locator(".more summary").click()
    awake = page.locator('[data-tool="awake"]')
    assert page.evaluate("'wakeLock' in navigator"), "a file counts as a secure context"
    awake.click()
    assert page.evaluate("window.locks") == 1
    assert awake.get_attribute("aria-pressed") == "true"
    page.goto("about:blank")
    page.goto(file.as_uri())
    assert page.locator(".part.now").get_attribute("id") == here
    assert page.locator(".resumed").count() == 1
    assert visit.faults == []
