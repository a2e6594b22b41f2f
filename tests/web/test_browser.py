"""The workbench in a real browser: from nothing to a guide, on a phone, with scripts and without."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from loomwright.store.store import open_store
from tests.browsing import DESK, PHONE, Visit
from tests.web.conftest import CAR, FIT, clock, fill
from tests.web.served import Served


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with open_store(tmp_path_factory.mktemp("browser") / "demo.store", clock=clock) as store:
        fill(store)
        found = Served(store)
        yield found
        found.close()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Served]:
    with open_store(tmp_path / "empty.store", clock=clock) as store:
        found = Served(store)
        yield found
        found.close()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_from_nothing_to_a_guide(browser: Browser, empty: Served, viewport: Any, scripts: bool) -> None:
    with browser.new_context(viewport=viewport, java_script_enabled=scripts) as context:
        page = context.new_page()
        foreign: list[str] = []
        page.on("request", lambda r: None if r.url.startswith((empty.address, "data:")) else foreign.append(r.url))
        page.goto(f"{empty.address}/")
        page.get_by_label("Your name or initials").first.fill("R. B.")
        page.get_by_role("button", name="Open the demonstration shop").click()
        expect(page.get_by_role("heading", name="Today")).to_be_visible()
        page.get_by_role("link", name="Fit a kit to a car").click()
        page.get_by_label("Vehicle").select_option("kestrin-fallow")
        page.get_by_label("Kit").select_option("rookery-4")
        page.get_by_role("button", name="Show what comes of it").click()
        expect(page.get_by_text("Nothing was found that must be put right.")).to_be_visible()
        page.locator("#phase-cranking").check()
        if not scripts:
            page.get_by_role("button", name="Show this state").click()
        expect(page.get_by_role("status")).to_contain_text("the kit has ignition and start on")
        page.get_by_role("link", name="The buyer's guide").click()
        expect(page.get_by_role("heading", level=1).first).to_be_visible()
        assert "guide.html" in page.url
        assert foreign == []


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_no_page_is_wider_than_its_screen_or_asks_another_machine(
    browser: Browser, served: Served, viewport: Any
) -> None:
    with browser.new_context(viewport=viewport) as context:
        visit = Visit(context, served.address)
        for path in (
            "/", "/vehicles", f"/vehicles/kestrin-fallow?{CAR}", "/vehicles/kestrin-fallow/circuits/ignition-1",
            "/vehicles/kestrin-fallow/circuits/new", "/vehicles/kestrin-fallow/walk?at=body-a/5", "/kits",
            "/kits/rookery-4", "/documents", "/fit", f"{FIT}?{CAR}&phase=running&short=lead:j:ignition/ignition/2",
            "/fit/kestrin-wainage/rookery-4", f"{FIT}/readings?{CAR}", "/order", "/order/kestrin-fallow/rookery-4",
            "/jobs", f"/jobs/new?vehicle=kestrin-fallow&kit=rookery-4&{CAR}", "/search?q=yellow",
        ):  # fmt: skip
            visit.page.goto(f"{served.address}{path}")
            visit.check()


def test_a_state_is_changed_in_place(browser: Browser, served: Served) -> None:
    with browser.new_context(viewport=DESK) as context:
        visit = Visit(context, served.address)
        page = visit.page
        page.goto(f"{served.address}{FIT}?{CAR}")
        page.evaluate("() => { document.body.dataset.same = 'yes'; }")
        page.locator('label:has(#key-run)').click()
        expect(page.get_by_role("status")).to_contain_text("key on (run)", ignore_case=True)
        assert "key=run" in page.url
        page.locator("label:has([id='short-lead:j:ignition/ignition/2'])").click()
        expect(page.get_by_text("What that changes")).to_be_visible()
        page.locator("label:has([id='meter-pin:ignition/2'])").click()
        expect(page.get_by_role("status")).to_contain_text("The meter on pin 2, pink")
        assert page.evaluate("() => document.body.dataset.same") == "yes"  # the page was never loaded anew
        assert page.evaluate(
            "() => [...document.querySelectorAll('use')]"
            ".every(u => document.getElementById(u.getAttribute('href').slice(1)))"
        )
        page.go_back()
        expect(page.get_by_text("What that changes")).to_be_visible()
        visit.check()


def test_every_control_is_named_and_can_be_reached_by_keyboard(browser: Browser, served: Served) -> None:
    with browser.new_context(viewport=DESK) as context:
        page = context.new_page()
        page.goto(f"{served.address}{FIT}?{CAR}")
        unnamed = page.evaluate(
            "() => [...document.querySelectorAll('input:not([type=hidden]), select, button, a[href]')]"
            ".filter(e => !(e.textContent.trim() || e.labels?.length || e.getAttribute('aria-label'))).length"
        )
        assert unnamed == 0
        page.keyboard.press("Tab")
        assert page.evaluate("() => document.activeElement.textContent") == "To the page"
        page.locator("#key-off").focus()
        page.keyboard.press("ArrowRight")
        expect(page.get_by_role("status")).to_contain_text("accessory")


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_what_a_finger_must_hit_is_large_enough(browser: Browser, served: Served, viewport: Any) -> None:
    # Source: WCAG 2.2, success criterion 2.5.8 (AA): targets of at least 24 by 24 CSS pixels; links in a line of text
    # are excepted.
    with browser.new_context(viewport=viewport) as context:
        page = context.new_page()
        page.goto(f"{served.address}{FIT}?{CAR}")
        small = page.evaluate(
            "() => [...document.querySelectorAll('main button, main select, main summary, main label, nav a')]"
            ".map(e => [e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])"
            ".filter(([, r]) => r.width && (r.width < 24 || r.height < 24)).map(([t]) => t)"
        )
        assert small == []
