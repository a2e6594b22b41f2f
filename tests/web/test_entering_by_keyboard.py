"""A whole vehicle entered by keyboard alone in a real browser: from an empty shop to the printed guide."""

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from loomwright.documents.vehicle import Vehicle
from loomwright.store.store import Store, open_store
from tests.browsing import DESK, Visit
from tests.web.conftest import clock, vehicle_in
from tests.web.served import Served

# Pin by pin: colour, stripe, what it is for, mm2, fuse. The car is invented.
_KEY = (
    "red|||5|40", "pink||ign|3", "violet||acc|2", "green||second ign|3", "red|black|30|4|40", "yellow||start|3",
    "grey|red|key|.5",
)  # fmt: skip
_BODY = (
    "red|white|other as battery feed: main feed|3|30", "white||lighting: dome lamp||10",
    "grey|black|door: driver's door switch", "tan||door: passenger's door switch", "dark blue|white|hood",
    "dark green|white|horn", "brown|white|58|.8|15", "brown||lighting: dash lamps||5", "dark blue||lock",
    "light blue||unlock", "white|black|brake|.8|15", "light green|black|parking b", "grey||wiper|1.25|20",
    "black||ground|3", "", "black|yellow|wiper: washer|.8|10", "yellow||turn light l|.8|15",
    "dark green||turn light r|.8|15", "black|white|hatch", "violet|white|bus pulse-width", "",
    "pink|black|factory alarm d", "yellow|red|restraint", "white|red|tach", "orange||other as battery feed: memory||10",
    "brown|red|charge", "tan|black|sensor: oil pressure", "violet|black|sensor: fuel level",
    "blue|black|sensor: belt buckle", "light blue|black|sensor: outside temperature",
)  # fmt: skip


class _Keys:
    """A person with a keyboard and no mouse; every press counts."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.presses = 0
        self.pages = 0

    def press(self, key: str, times: int = 1) -> None:
        for _ in range(times):
            self.page.keyboard.press(key)
            self.presses += 1

    def write(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.presses += len(text)

    def go(self, key: str = "Enter") -> None:
        """Press a key that opens another page."""
        with self.page.expect_navigation():
            self.press(key)
        self.pages += 1
        # A person sees the caret in the first field before typing.
        self.page.wait_for_function(
            "() => !document.querySelector('[autofocus]') || document.activeElement.autofocus"
        )

    def to(self, words: str, most: int = 60) -> None:
        """Go on with Tab until a control of these words has the focus."""
        seen = []
        for _ in range(most):
            self.press("Tab")
            seen.append(self._focused())
            if re.fullmatch(words, seen[-1]):
                return
        raise AssertionError(f"{words} was not reached on {self.page.url}: {seen}")

    def _focused(self) -> str:
        found = self.page.evaluate(
            "() => { const e = document.activeElement; return e.getAttribute('aria-label') || "
            "(e.labels && e.labels.length ? e.labels[0].textContent : e.textContent); }"
        )
        return " ".join(found.split())

    def open(self, words: str) -> None:
        self.to(words)
        self.go()

    def fill(self, *texts: str) -> None:
        """Type into the field that has the focus and those behind it."""
        for n, text in enumerate(texts):
            if n:
                self.press("Tab")
            self.write(text)

    def rows(self, rows: tuple[str, ...]) -> None:
        """Type row after row, cell by cell; the first cell of the first row has the focus."""
        for n, row in enumerate(rows):
            if n:
                self.press("Enter")
            self.fill(*row.split("|"))


@pytest.fixture
def empty_shop(tmp_path: Path) -> Iterator[tuple[Served, Store]]:
    with open_store(tmp_path / "shop.store", clock=clock) as store:
        found = Served(store)
        yield found, store
        found.close()


def test_a_vehicle_is_entered_by_keyboard_alone_and_its_guide_is_printed(
    browser: Browser,
    empty_shop: tuple[Served, Store], record_property: Callable[[str, object], None],
) -> None:  # fmt: skip
    served, store = empty_shop
    with browser.new_context(viewport=DESK) as context:
        visit = Visit(context, served.address)
        page, keys = visit.page, _Keys(visit.page)
        page.goto(f"{served.address}/")
        keys.to("What the shop is called")
        keys.fill("Fenbridge Bench", "Bench line 555-0177", "R. B.")
        keys.go()
        keys.open("Vehicles")
        keys.open("A new vehicle")
        keys.fill("Aldermoor", "Teal", "petrol", "combustion", "automatic", "keyed", "heavy", "start", "none")
        keys.press("Tab")
        keys.go()
        # Each line of what is missing leads to its form.
        keys.open("Places: none yet")
        keys.fill("under the steering column", "Behind the lower column cover.", "46", "46")
        keys.to("Keep it, and another one")
        keys.go()
        keys.fill("left kick panel", "On the side wall left of the pedals.", "5", "70")
        keys.go()
        keys.open("Plugs: none yet")
        keys.fill("ignition-switch plug", "kf-key-8", "1-4\n5-8", "", "", "", "Black, eight places.", "under")
        keys.to("Keep it")
        keys.go()
        assert page.url.endswith("/fill")
        keys.rows(_KEY)
        keys.go("Control+Enter")
        # Nothing was said of pin 1, which is told beside its cell; nothing typed is lost.
        expect(page.get_by_text("expected what the wire is for")).to_be_visible()
        page.keyboard.press("Tab")
        assert page.get_by_label("Colour of pin 6").input_value() == "yellow"
        keys.to("What it is for of pin 1")
        keys.write("30")
        keys.go("Control+Enter")
        keys.open("Add a plug")
        keys.fill("body plug", "am-bm-40", "1-20\n21-40", "", "", "", "White, 40 places.", "left")
        keys.to("Keep it")
        keys.go()
        bare = page.locator("#drawn").inner_html()
        keys.rows(_BODY)
        # The plug is drawn as it was typed before it is kept.
        page.wait_for_function("bare => document.getElementById('drawn').innerHTML !== bare", arg=bare)
        keys.go("Control+Enter")
        keys.open("Add a ground point")
        keys.fill("left", "M6 bolt with a green washer behind the plug.")
        keys.to("Keep it")
        keys.go()
        car = vehicle_in(store, "aldermoor-teal")
        _check(car)
        # The kit of the demonstration comes with one press.
        keys.open("Kits")
        keys.open("A new kit")
        keys.open("Take over Rookery 4 C")
        keys.open("Order check")
        keys.to("Their car")
        keys.press("ArrowDown")
        keys.to("The kit they want")
        keys.press("ArrowDown")
        keys.open("Begin")
        assert "/order/aldermoor-teal/rookery-4" in page.url
        keys.open("private-ground .*")  # a car that stands in the open
        keys.open("The kit in this car")
        expect(page.get_by_text("It fits. Nothing was found that must be put right.")).to_be_visible()
        keys.to("printed, A4")
        with page.expect_event("response", lambda answer: "guide-a4.pdf" in answer.url, timeout=60_000) as answered:
            keys.press("Enter")
        assert answered.value.headers["content-type"] == "application/pdf"
        guide = context.request.get(answered.value.url).body()
        assert guide.startswith(b"%PDF-")
        assert len(PdfReader(io.BytesIO(guide)).pages) > 5
        assert [fault for fault in visit.faults if fault.startswith("http")] == []  # nothing left the machine
        record_property("presses", keys.presses)
        record_property("pages", keys.pages)
        print(f"{keys.presses} presses of a key, {keys.pages} pages")


def _check(car: Vehicle) -> None:
    assert len(car.circuits) == 35
    assert [sum(map(len, plug.face.rows)) for plug in car.plugs] == [8, 40]
    feed = next(c for c in car.circuits if c.id == "battery-feed")
    assert [(s.from_, s.to, s.colour, s.area_mm2, s.fuse_a) for s in feed.path[:2]] == [
        ("source", "s:battery-feed-fuse", None, 0.5, 40.0),
        ("s:battery-feed-fuse", "ignition-switch-plug/1", "red", 5.0, None),
    ]  # fmt: skip
    assert next(c for c in car.circuits if c.name == "outside temperature").path[0].to == "body-plug/30"
