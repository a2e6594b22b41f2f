"""The web page in a real browser: on a phone, from a file, without a network, with scripts and without."""

from collections import Counter
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from loomwright.papers.blocks import Step
from loomwright.sheets.html import render_html
from tests.browsing import PHONE, SIDEWAYS, Visit
from tests.sheets.leaves import squeezed, texts_of
from tests.sheets.sample import nasty, sample


def _visit(context: BrowserContext, file: Path) -> Visit:
    """Open a file without a network."""
    context.set_offline(True)
    visit = Visit(context, "file:")
    visit.page.goto(file.as_uri())
    return visit


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    made = {}
    for name, paper in (("sample", sample()), ("nasty", nasty())):
        made[name] = tmp_path / f"{name}.html"
        made[name].write_bytes(render_html(paper))
    return made


@pytest.mark.parametrize("name", ["sample", "nasty"])
def test_on_a_phone_without_scripts_everything_is_there(browser: Browser, files: dict[str, Path], name: str) -> None:
    visit = _visit(browser.new_context(viewport=PHONE, java_script_enabled=False), files[name])
    assert visit.page.evaluate(SIDEWAYS) <= 0
    if name == "sample":
        # Small capitals are made by the style, so both are compared in lower case.
        said = squeezed(visit.page.inner_text("body")).lower()
        assert [text for text in texts_of(sample()) if squeezed(text).lower() not in said] == []
        assert not visit.page.locator(".pager").is_visible()
        assert visit.page.locator(".lines").first.is_visible()
        assert visit.page.locator(".turned").first.is_visible()
        assert visit.page.locator("table").last.is_visible()
    assert visit.faults == []


@pytest.mark.parametrize("name", ["sample", "nasty"])
def test_step_by_step_nothing_is_wider_than_the_phone(browser: Browser, files: dict[str, Path], name: str) -> None:
    visit = _visit(browser.new_context(viewport=PHONE), files[name])
    page = visit.page
    count = page.locator(".part").count()
    for number in range(1, count + 1):
        assert page.locator(".part:visible").count() == 1
        assert page.locator(".pager .at").inner_text() == f"{number} of {count}"
        assert page.evaluate(SIDEWAYS) <= 0
        if number < count:
            page.locator(".next").click()
    assert page.locator(".next").is_disabled()
    page.keyboard.press("ArrowLeft")
    assert page.locator(".pager .at").inner_text() == f"{count - 1} of {count}"
    assert visit.faults == []


def test_targets_are_large_enough_for_a_glove(browser: Browser, files: dict[str, Path]) -> None:
    # Source: W3C, WCAG 2.2, success criterion 2.5.5: at least 44 by 44 CSS pixels.
    visit = _visit(browser.new_context(viewport=PHONE), files["sample"])
    page = visit.page
    page.locator(".more summary").click()
    page.locator('[data-tool="whole"]').click()
    for selector in ("button", "summary", "#contents a", "input[type=text]", ".ticks label"):
        for target in page.locator(selector).all():
            box = target.bounding_box()
            if box is not None and target.is_visible():
                assert box["height"] >= 44, selector
                assert box["width"] >= 44, selector
    page.locator('[data-tool="whole"]').click()
    for name in (".previous", ".next"):
        box = page.locator(name).bounding_box()
        assert box is not None
        assert box["height"] >= 56


def test_where_one_was_is_found_again(browser: Browser, files: dict[str, Path]) -> None:
    context = browser.new_context(viewport=PHONE)
    page = _visit(context, files["sample"]).page
    page.goto(f"{files['sample'].as_uri()}#step-brake")
    expect(page.locator("#step-brake")).to_be_visible()
    page.goto("about:blank")
    page.goto(files["sample"].as_uri())
    expect(page.locator("#step-brake")).to_be_visible()
    # Another paper, or another installation, has its own place.
    page.goto(files["nasty"].as_uri())
    expect(page.locator("#top")).to_be_visible()


def test_contents_lead_to_the_step(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.locator('#contents a[href="#step-test"]').click()
    expect(page.locator("#step-test")).to_be_visible()
    page.locator('[data-tool="contents"]').click()
    expect(page.locator("#contents")).to_be_visible()


def test_a_reading_gets_its_verdict_in_words(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.goto(f"{files['sample'].as_uri()}#step-brake")
    sheet = page.locator("#step-brake .readings")
    field = sheet.locator(".reading").first
    verdict = field.locator(".verdict")
    expect(field).to_be_visible()
    field.locator(".value").fill("12.2")
    assert verdict.inner_text() == "Type the battery first."
    # 12.6 - 12.2 is a little more than 0.4 in binary; on the meter it is 0.4, which is still right.
    sheet.locator(".battery").fill("12,6")
    assert verdict.inner_text() == "Right: 0.4\u00a0V below the battery.\nThe wire is live and its path is sound."
    assert "right" in (verdict.get_attribute("class") or "")
    for reading, words in (
        ("12.1", "Not right: 0.5\u00a0V below the battery.\nLive, but something on the way is weak."),
        ("0.02", "Not right: 12.58\u00a0V below the battery.\nThis is not the wire, or its fuse is out."),
        ("8", "Not right: 4.6\u00a0V below the battery.\nSomething else loads this wire. Stop and report."),
        ("12.7", "Right: 0.1\u00a0V above the battery.\nThe wire is live and its path is sound."),
        ("twelve", "Type a number such as 12.4."),
        ("", ""),
    ):
        field.locator(".value").fill(reading)
        assert verdict.inner_text() == words
    # The second row of the sheet has limits of its own, and shares a meaning with the first.
    other = sheet.locator(".reading").nth(1)
    for reading, words in (
        ("0.1", "Right."), ("0.2", "Right."), ("9", "Not right.\nThis is not the wire, or its fuse is out.")
    ):  # fmt: skip
        other.locator(".value").fill(reading)
        assert other.locator(".verdict").inner_text() == words


def test_the_table_of_limits_unfolds(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.goto(f"{files['sample'].as_uri()}#step-brake")
    field = page.locator("#step-brake .readings")
    expect(field.locator(".limits")).to_be_hidden()
    field.locator(".unfold").click()
    expect(field.locator(".limits")).to_be_visible()
    assert field.locator(".unfold").get_attribute("aria-expanded") == "true"


def test_the_battery_is_typed_once_and_two_failures_stop(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.goto(f"{files['sample'].as_uri()}#step-brake")
    field = page.locator("#step-brake .reading").first
    expect(field).to_be_visible()
    page.locator("#step-brake .battery").fill("12.6")
    assert page.locator(".battery").last.input_value() == "12.6"
    for reading in ("5.0", "5.1"):
        field.locator(".value").fill(reading)
        field.locator(".value").blur()
        stopped = "That is the second reading that does not fit." in field.locator(".verdict").inner_text()
        assert stopped == (reading == "5.1")
    page.reload()
    assert field.locator(".value").input_value() == "5.1"
    assert "second reading" in field.locator(".verdict").inner_text()


def test_a_plug_turns_around(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.goto(f"{files['sample'].as_uri()}#step-tap")
    seen, turned = page.locator("#step-tap .seen"), page.locator("#step-tap .turned")
    expect(seen).to_be_visible()
    expect(turned).to_be_hidden()
    page.locator("#step-tap .turn").click()
    expect(seen).to_be_hidden()
    expect(turned).to_be_visible()
    assert page.locator("#step-tap .turn").get_attribute("aria-pressed") == "true"


def test_dark_and_bright(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE, color_scheme="dark"), files["sample"]).page
    ground = "() => getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(21, 24, 26)"
    page.locator(".more summary").click()
    page.locator('[data-tool="theme"]').click()
    assert page.evaluate(ground) == "rgb(251, 250, 245)"
    page.reload()
    assert page.evaluate(ground) == "rgb(251, 250, 245)"


def test_on_print_everything_is_there_once(browser: Browser, files: dict[str, Path]) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.emulate_media(media="print")
    said = squeezed(page.inner_text("body")).lower()
    # Within a step paper shows a plug from one side, the one that the person sees.
    turned = {block.face.words_turned for block in sample().blocks if isinstance(block, Step) and block.face}
    assert [text for text in texts_of(sample()) if squeezed(text).lower() not in said and text not in turned] == []
    assert not page.locator(".tools").is_visible()
    assert not page.locator(".pager").is_visible()
    assert page.locator(".plan-wide").is_visible()
    assert not page.locator(".plan-narrow").is_visible()


def test_printed_no_letters_lie_over_others(browser: Browser, files: dict[str, Path], tmp_path: Path) -> None:
    page = _visit(browser.new_context(viewport=PHONE), files["sample"]).page
    page.pdf(path=str(tmp_path / "printed.pdf"), format="A4")
    for sheet in pypdfium2.PdfDocument(tmp_path / "printed.pdf"):
        text = sheet.get_textpage()
        boxes = [text.get_charbox(i) for i in range(text.count_chars()) if text.get_text_range(i, 1).strip()]
        # Two letters that share most of their middle lie over each other.
        middles = Counter((round((left + right) / 4), round((low + high) / 4)) for left, low, right, high in boxes)
        assert sum(count - 1 for count in middles.values() if count > 1) < len(boxes) / 20


@pytest.mark.parametrize(("width", "plan"), [(390, ".plan-narrow"), (1200, ".plan-wide")])
def test_no_letters_of_the_plan_overlap_in_the_browsers_own_font(
    browser: Browser, files: dict[str, Path], width: int, plan: str
) -> None:
    visit = _visit(
        browser.new_context(viewport={"width": width, "height": 844}, java_script_enabled=True), files["sample"]
    )
    visit.page.goto(f"{visit.page.url}#wiring-plan")
    expect(visit.page.locator(plan)).to_be_visible()
    overlaps = visit.page.evaluate(
        """(plan) => [...document.querySelectorAll(plan + " svg")].flatMap((svg) => {
            const texts = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBBox()]);
            // The box of a letter is taller than its ink by about a quarter of its height.
            const flat = texts.map(([w, b]) => [w, b.x, b.y + b.height * 0.2, b.x + b.width, b.y + b.height * 0.8]);
            const limit = svg.viewBox.baseVal.width;
            const out = flat.filter(([w, l, t, r, b]) => l < -0.5 || r > limit + 0.5).map(([w]) => w + " leaves");
            return out.concat(flat.flatMap((a, i) => flat.slice(i + 1)
                .filter((b) => a[1] < b[3] && b[1] < a[3] && a[2] < b[4] && b[2] < a[4])
                .map((b) => a[0] + " | " + b[0])));
        })""",
        plan,
    )
    assert overlaps == []
