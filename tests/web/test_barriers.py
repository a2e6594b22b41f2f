"""Every page, on a desk and on a phone: no barrier, nothing wider than the screen, nothing asked of anybody else.

The barriers are looked for by axe-core, with its rules for WCAG 2.2 A and AA and its best practices.
"""

import html
import re
from collections import Counter
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from starlette.routing import compile_path
from starlette.testclient import TestClient

from loomwright.health.kept_folder import kept_folder
from loomwright.store.store import Store, open_store
from loomwright.web.routes import ROUTES
from loomwright.web.working.task import Task
from tests.web.conftest import CAR, FIT, clock, fill
from tests.web.served import Served

_VIEWS: Any = {"desk": {"width": 1280, "height": 900}, "phone": {"width": 390, "height": 844}}
_AXE = (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
_RUN = """async () => {
  const found = await axe.run(document, {resultTypes: ["violations"]});
  return found.violations.map(v => `${v.id} (${v.impact}): ${v.help}: ` + v.nodes.slice(0, 3).map(
    n => n.target.join(" ") + " " + n.html.slice(0, 120)).join(" | "));
}"""
_JOB, _TASK = "2026-0001", "000001"
_PER_PATTERN = 1
_STEP = "lead:j:start/ignition/6"
# Where no link leads, or what looks different in another state; everything else is found by following links.
_BEGIN = (
    "/", f"{FIT}?{CAR}&phase=cranking&short={_STEP}&meter={_STEP}", f"{FIT}?{CAR}&scenario=takeover&at=4",
    "/fit/larkholm-oxgate/dunlin-7", f"{FIT}/readings?{CAR}&battery=12.4",
    "/order/kestrin-fallow/rookery-4", "/order/kestrin-fallow/rookery-4?a.year=2014",
    f"/jobs/new?vehicle=kestrin-fallow&kit=rookery-4&{CAR}", f"/jobs/{_JOB}", f"/jobs/{_JOB}/readings",
    "/search?q=fallow", "/problem", "/tasks", f"/tasks/{_TASK}", "/nothing/here",
    "/vehicles/kestrin-fallow", "/vehicles/kestrin-fallow/walk?at=ignition/2", "/kits/rookery-4",
)  # fmt: skip
# No pages, or pages with a test of their own.
_APART = {
    "/begin", "/enter", "/fit/{vehicle}/{kit}/{sheet}", "/jobs/{serial}/issues/{issue}/{name}", "/problem/{report}",
    "/tasks/{task}/files/{name}", "/static/{name}", "/vehicles/{vehicle}/import/wires.csv",
    "/vehicles/{vehicle}/photos/{name:path}", "/kits/{kit}/photos/{name:path}",
}  # fmt: skip


def _pattern(path: str) -> str | None:
    """Return the pattern of the table that an address belongs to."""
    asked = path.partition("?")[0]
    return next((p for p, ways in ROUTES.items() if "GET" in ways and compile_path(p)[0].match(asked)), None)


def pages_of(client: TestClient) -> list[str]:
    """Follow the links of every page and return a few addresses of each pattern."""
    found, waiting, of = dict.fromkeys(_BEGIN), list(_BEGIN), Counter[str]()
    while waiting:
        path = waiting.pop(0)
        answer = client.get(path)
        if not answer.headers.get("content-type", "").startswith("text/html"):
            del found[path]  # a file, or only the way to another page
            continue
        for link in re.findall(r'href="(/[^"#]*)"', answer.text):
            target = html.unescape(link)
            pattern = _pattern(target)
            if pattern is None or pattern in _APART or target in found or of[pattern] >= _PER_PATTERN:
                continue
            of[pattern] += 1
            found[target] = None
            waiting.append(target)
    return list(found)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with open_store(tmp_path_factory.mktemp("barriers") / "demo.store", clock=clock) as store:
        by = fill(store)
        _work(store, by)
        _job(store, by)
        found = Served(store)
        yield found
        found.close()


def _job(store: Store, by: str) -> None:
    text = (
        "format: 1\nkind: job\nid: {0}\nname: Rookery 4 C in the Kestrin Fallow\nvehicle: kestrin-fallow\n"
        "kit: rookery-4\nverdict: fits\nchoice: {{year: '2014', body: sedan, engine: '3.3', trim: touring}}\n"
    )
    serial = store.new_serial(by=by)
    assert serial == _JOB
    store.save("job", serial, text.format(serial), by=by)
    store.record("reading", serial, f"format: 1\nkind: reading\njob: '{serial}'\nreadings: {{}}\n", by=by)


def _work(store: Store, by: str) -> None:
    task = Task(
        id=_TASK, kind="every-car", title="Prove it in every car", vehicle="kestrin-fallow", kit="rookery-4",
        choice={"year": "2014"}, by=by, at="2026-03-02T08:00:00+00:00", state="done", lines=("2 cars are built.",),
        head=("year", "verdict"), rows=(("2014", "fits"), ("2015", "fits")), links=("car.year=2014", "car.year=2015"),
        files=("every-car.csv",),
    )  # fmt: skip
    folder = kept_folder(store) / "work" / _TASK
    folder.mkdir(parents=True)
    (folder / "task.json").write_text(task.text(), encoding="utf-8")


def _faults(page: Page, address: str) -> list[str]:
    """Return what is wrong with a page as it stands, everything that can be opened opened."""
    page.evaluate("() => document.querySelectorAll('details').forEach(d => d.open = true)")
    page.evaluate(_AXE)
    found: list[str] = page.evaluate(_RUN)
    wide = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
    return [*found, *([f"{wide} px too wide"] if wide > 0 else []), *([] if address in page.url else [page.url])]


@pytest.fixture(scope="module")
def paths(served: Served) -> list[str]:
    """Every address that is looked at."""
    return pages_of(TestClient(served.app, base_url="http://127.0.0.1", follow_redirects=False))


# Most pages are laid out alike on both; what a desk adds is looked at in the long runs.
@pytest.mark.parametrize("view", [pytest.param("desk", marks=pytest.mark.soak), "phone"])
def test_no_page_has_a_barrier_or_asks_anybody_else(
    browser: Browser, served: Served, paths: list[str], view: str
) -> None:
    found: dict[str, list[str]] = {}
    # The policy of the pages would forbid the script that looks; it changes nothing of what is looked at.
    with browser.new_context(viewport=_VIEWS[view], bypass_csp=True) as context:
        page = context.new_page()
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        for path in paths:
            page.goto(f"{served.address}{path}")
            if faults := _faults(page, served.address):
                found[path] = faults
    assert not [url for url in asked if not url.startswith((served.address, "data:"))]
    assert found == {}


@pytest.mark.parametrize("view", list(_VIEWS))
def test_the_first_page_of_an_empty_shop_and_a_report_have_none_either(
    browser: Browser, served: Served, tmp_path: Path, view: str
) -> None:
    with open_store(tmp_path / "empty.store", clock=clock) as store:
        empty = Served(store)
        with browser.new_context(viewport=_VIEWS[view], bypass_csp=True) as context:
            page = context.new_page()
            page.goto(f"{empty.address}/")
            assert page.url.endswith("/begin")
            assert _faults(page, empty.address) == []
            page.goto(f"{served.address}/problem")
            page.get_by_role("button").first.click()
            page.wait_for_url(re.compile(r"/problem/\w+$"))
            assert _faults(page, served.address) == []
        empty.close()


def test_no_page_is_left_out(paths: list[str]) -> None:
    looked_at = {_pattern(path) for path in paths}
    wanted = {pattern for pattern, methods in ROUTES.items() if "GET" in methods}
    assert wanted - looked_at - _APART == set()


def test_a_barrier_would_be_found(browser: Browser, served: Served) -> None:
    with browser.new_context(viewport=_VIEWS["desk"], bypass_csp=True) as context:
        page = context.new_page()
        page.goto(f"{served.address}/kits")
        add = "() => document.querySelector('main').insertAdjacentHTML('beforeend', '<input><img src=\"data:,\">')"
        page.evaluate(add)
        found = " ".join(_faults(page, served.address))
        assert "image-alt" in found
        assert "label" in found
