"""The workbench in a real browser: from nothing to a guide, on a phone, with scripts and without."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from loomwright.store.store import Store, open_store
from loomwright.web.app import create_app
from tests.web.conftest import CAR, FIT, clock, fill

_FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
_PHONE: Any = {"width": 390, "height": 844}
_DESK: Any = {"width": 1280, "height": 900}
_SIDEWAYS = "() => document.documentElement.scrollWidth - window.innerWidth"


class _Served:
    """A workbench that listens on a free port of this machine."""

    def __init__(self, store: Store) -> None:
        self._socket = socket.socket()
        self._socket.bind(("127.0.0.1", 0))
        config = uvicorn.Config(create_app(store, clock), log_level="error", lifespan="off")
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, kwargs={"sockets": [self._socket]}, daemon=True)
        self._thread.start()
        self.address = f"http://127.0.0.1:{self._socket.getsockname()[1]}"
        until = time.monotonic() + 20
        while not self._server.started:
            assert time.monotonic() < until, "the workbench did not start"
            time.sleep(0.02)

    def close(self) -> None:
        self._server.should_exit = True
        self._thread.join(timeout=20)
        self._socket.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[_Served]:
    with open_store(tmp_path_factory.mktemp("browser") / "demo.store", clock=clock) as store:
        fill(store)
        found = _Served(store)
        yield found
        found.close()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[_Served]:
    with open_store(tmp_path / "empty.store", clock=clock) as store:
        found = _Served(store)
        yield found
        found.close()


@pytest.fixture(scope="module")
def browser_of() -> Iterator[Callable[[str], Browser]]:
    """Give one browser for all tests of this file."""
    with sync_playwright() as playwright:
        opened: list[Browser] = []

        def start(path: str) -> Browser:
            if not opened:
                opened.append(playwright.chromium.launch(executable_path=path, args=_FLAGS))
            return opened[0]

        yield start
        for browser in opened:
            browser.close()


@pytest.fixture
def browser(browser_of: Callable[[str], Browser], needs_program: Callable[[str], str]) -> Browser:
    return browser_of(needs_program("chromium"))


class _Visit:
    """A page that was opened, and whatever it asked of another address or complained about."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.faults: list[str] = []
        self.page: Page = context.new_page()
        self.page.on("request", lambda r: None if r.url.startswith((address, "data:")) else self.faults.append(r.url))
        self.page.on("console", lambda m: self.faults.append(m.text) if m.type in {"error", "warning"} else None)
        self.page.on("pageerror", lambda e: self.faults.append(str(e)))

    def check(self) -> None:
        assert self.faults == []
        assert self.page.evaluate(_SIDEWAYS) <= 0, self.page.url


@pytest.mark.parametrize("viewport", [_PHONE, _DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_from_nothing_to_a_guide(browser: Browser, empty: _Served, viewport: Any, scripts: bool) -> None:
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


@pytest.mark.parametrize("viewport", [_PHONE, _DESK], ids=["phone", "desk"])
def test_no_page_is_wider_than_its_screen_or_asks_another_machine(
    browser: Browser, served: _Served, viewport: Any
) -> None:
    with browser.new_context(viewport=viewport) as context:
        visit = _Visit(context, served.address)
        for path in (
            "/", "/vehicles", f"/vehicles/kestrin-fallow?{CAR}", "/vehicles/kestrin-fallow/circuits/ignition-1",
            "/vehicles/kestrin-fallow/circuits/new", "/vehicles/kestrin-fallow/walk?at=body-a/5", "/kits",
            "/kits/rookery-4", "/documents", "/fit", f"{FIT}?{CAR}&phase=running&short=lead:j:ignition/ignition/2",
            "/fit/kestrin-wainage/rookery-4", f"{FIT}/readings?{CAR}", "/order", "/order/kestrin-fallow/rookery-4",
            "/jobs", f"/jobs/new?vehicle=kestrin-fallow&kit=rookery-4&{CAR}", "/search?q=yellow",
        ):  # fmt: skip
            visit.page.goto(f"{served.address}{path}")
            visit.check()


def test_a_state_is_changed_in_place(browser: Browser, served: _Served) -> None:
    with browser.new_context(viewport=_DESK) as context:
        visit = _Visit(context, served.address)
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


def test_every_control_is_named_and_can_be_reached_by_keyboard(browser: Browser, served: _Served) -> None:
    with browser.new_context(viewport=_DESK) as context:
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


@pytest.mark.parametrize("viewport", [_PHONE, _DESK], ids=["phone", "desk"])
def test_what_a_finger_must_hit_is_large_enough(browser: Browser, served: _Served, viewport: Any) -> None:
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
