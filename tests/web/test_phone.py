"""A phone in the shop's network: passphrase, order check, the kit in the car, guide, readings, a start in steps."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from loomwright.store.store import open_store
from loomwright.web.settings import Settings
from tests.web.conftest import CAR, FIT, clock, fill
from tests.web.served import Served

_PHONE: Any = {"width": 390, "height": 844}
_WORD = "the bench behind the door"
_SIDEWAYS = "() => document.documentElement.scrollWidth - window.innerWidth"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with open_store(tmp_path_factory.mktemp("phone") / "demo.store", clock=clock) as store:
        fill(store)
        found = Served(store, Settings(hosts=None, passphrase=_WORD))
        yield found
        found.close()


@pytest.fixture(params=[True, False], ids=["scripts", "no scripts"])
def phone(browser: Browser, served: Served, request: Any) -> Iterator[Page]:
    """Give a page on a phone that has said the passphrase; whatever it asks of another address fails the test."""
    foreign: list[str] = []
    with browser.new_context(viewport=_PHONE, has_touch=True, java_script_enabled=request.param) as context:
        page = context.new_page()
        page.on("request", lambda r: None if r.url.startswith((served.address, "data:")) else foreign.append(r.url))
        page.goto(f"{served.address}/order")
        page.get_by_label("The passphrase of this workbench").fill(_WORD)
        page.get_by_role("button", name="Enter").tap()
        expect(page.get_by_role("heading", name="Today")).to_be_visible()
        yield page
    assert foreign == []


def _fits(page: Page) -> None:
    assert page.evaluate(_SIDEWAYS) <= 0, page.url


def test_an_order_is_checked_and_leads_to_the_guide_and_its_file(phone: Page, served: Served) -> None:
    phone.goto(f"{served.address}/order/kestrin-fallow/rookery-4")
    for _ in range(12):
        _fits(phone)
        answers = phone.locator(".question button:not(.unsure)")
        if answers.count() == 0:
            break
        wanted = answers.filter(has=phone.locator("strong", has_text=re.compile(r"^(2014|sedan|3\.3|touring)$")))
        with phone.expect_navigation():
            (wanted if wanted.count() else answers).first.tap()
    with phone.expect_navigation():
        phone.get_by_role("link", name="The kit in this car").tap()
    _fits(phone)
    with phone.expect_download() as kept:
        phone.get_by_role("link", name="one file for a phone").tap()
    text = kept.value.path().read_text(encoding="utf-8")
    assert not re.findall(r'(?:src|href)="(?!#|data:|tel:)[^"]+"', text)  # it needs nothing but itself
    with phone.expect_navigation():
        phone.get_by_role("link", name="The buyer's guide").tap()
    expect(phone.get_by_role("heading", level=1).first).to_be_visible()
    _fits(phone)


def test_a_reading_is_typed_and_its_meaning_told(phone: Page, served: Served) -> None:
    phone.goto(f"{served.address}{FIT}/readings?{CAR}&battery=12.4")
    phone.get_by_label("The meter shows").first.fill("12.3")
    phone.get_by_role("button", name="What that means").first.tap()
    expect(phone.locator(".measured").first).to_contain_text(re.compile("as it should|good|right|fits", re.IGNORECASE))
    _fits(phone)


def test_a_start_is_gone_through_by_finger(phone: Page, served: Served) -> None:
    phone.goto(f"{served.address}{FIT}?{CAR}&scenario=warm")
    for event in ("A start is asked for", "The kit: ignition on", "The kit: cranking"):
        phone.get_by_role("button", name="Next event").tap()
        expect(phone.locator('.events [aria-current="step"]')).to_contain_text(event)
        _fits(phone)
    expect(phone.get_by_role("status")).to_contain_text("The kit has ignition and start on.")
    phone.get_by_role("button", name="Event before").tap()
    expect(phone.get_by_role("status")).to_contain_text("The engine stands still.")
    expect(phone).to_have_url(re.compile("scenario=warm"))
