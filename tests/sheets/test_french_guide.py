"""The guide of the demonstration's main car in French, on the phone and on paper."""

import io
import re
from functools import cache
from pathlib import Path

import pypdf
import pypdfium2
import pytest
from playwright.sync_api import Browser

from loomwright.papers.blocks import Paper
from loomwright.papers.languages import language_of
from loomwright.papers.translating import in_language
from loomwright.sheets import render
from loomwright.sheets.html import render_html
from tests.browsing import PHONE, Visit
from tests.papers.builders import built

_ENGLISH = re.compile(r"\b(?:the|and|with|wire|plug|your|until|which|does|from)\b", re.IGNORECASE)


@cache
def _guide() -> Paper:
    made = built("2014 sedan")
    return in_language(made.guide, language_of("fr", made.shop, made.installation.car, made.kit))


@cache
def _printed() -> bytes:
    return render(_guide(), "a4")


@cache
def _read() -> str:
    pages = pypdf.PdfReader(io.BytesIO(_printed())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_page_says_its_language_and_writes_decimal_commas() -> None:
    page = render_html(_guide()).decode()
    assert '<html lang="fr" dir="ltr">' in page
    shown = re.findall(r'<span class="quantity" data-trace="[^"]*">([^<]*)</span>', page)
    assert len(shown) > 100
    assert [text for text in shown if re.search(r"\d\.\d", text)] == []
    assert any(re.fullmatch(r"12,\d\N{NO-BREAK SPACE}V", text) for text in shown)


def test_no_english_sentence_is_left_on_the_page() -> None:
    text = render(_guide(), "text").decode()
    assert [line for line in text.splitlines() if len(_ENGLISH.findall(line)) > 1] == []


def test_on_paper_it_says_its_language_and_stays_on_the_page() -> None:
    data = _printed()
    assert str(pypdf.PdfReader(io.BytesIO(data)).root_object["/Lang"]) == "fr"
    document = pypdfium2.PdfDocument(data)
    outside = []
    for number in range(len(document)):
        page = document[number]
        width, height = page.get_size()
        text = page.get_textpage()
        for i in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(i)
            if left < 20 or bottom < 10 or right > width - 20 or top > height - 10:
                outside.append((number + 1, text.get_text_bounded(left, bottom, right, top)))
    assert outside == []


@pytest.mark.parametrize("words", ["Vous pouvez vous arrêter ici", "12,6 V", "AVERTISSEMENT", "broche 27, rose/noir"])
def test_the_printed_text_can_be_read_and_searched(words: str) -> None:
    assert words.replace(" ", "") in _read().replace(" ", "").replace("\N{NO-BREAK SPACE}", "")


def test_step_by_step_nothing_is_wider_than_the_phone(browser: Browser, tmp_path: Path) -> None:
    file = tmp_path / "guide.html"
    file.write_bytes(render_html(_guide()))
    context = browser.new_context(viewport=PHONE)
    context.set_offline(True)
    visit = Visit(context, "file:")
    visit.page.goto(file.as_uri())
    for _ in range(25):
        visit.check()
        visit.page.click(".pager .next")
    heights = visit.page.eval_on_selector_all(".pager button", "all => all.map(b => b.offsetHeight)")
    assert max(heights) < 70  # one line of words


def test_a_typed_reading_is_answered_in_french_with_a_decimal_comma(browser: Browser, tmp_path: Path) -> None:
    file = tmp_path / "guide.html"
    file.write_bytes(render_html(_guide()))
    context = browser.new_context(viewport=PHONE)
    context.set_offline(True)
    page = context.new_page()
    page.goto(file.as_uri())
    page.evaluate("document.querySelector('[data-tool=whole]').click()")
    sheet = page.locator(".readings", has=page.locator(".battery")).first
    field = sheet.locator(".reading[data-relative]").first
    sheet.locator(".battery").fill("12,6")
    for typed in ("12,4", "12.4"):
        field.locator(".value").fill(typed)
        said = field.locator(".verdict").inner_text()
        assert said.startswith("Juste\N{NO-BREAK SPACE}: 0,2\N{NO-BREAK SPACE}V de moins que la batterie."), said
