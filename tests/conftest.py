"""What all tests share: outside programs that may be missing, and the list of what was not run for want of them."""

import ctypes.util
import gc
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, NoReturn

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from playwright.sync_api import Browser

# Plans and proofs are kept for a whole run; to look through them again and again for litter took part of its time.
gc.set_threshold(100_000, 50, 50)

_MISSING = "missing outside program"

# No test fails because the machine is busy; benchmarks tell what is fast.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")

# Programs that tests start would each compile the whole package anew.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# The numpy lanes are what everybody has; the tests of the compiled loops turn them on for themselves.
os.environ["LOOMWRIGHT_KERNEL"] = "off"


@pytest.fixture
def needs_program(request: pytest.FixtureRequest) -> Callable[[str], str]:
    """Give a function that returns the path of a program, or ends the test where the machine has none.

    An environment variable with the program's name in capitals (``CHROMIUM=/opt/chromium``) goes before the PATH.
    With ``CI`` set a missing program is a failure; else the test is skipped and listed at the end of the run.
    """

    def path_of(name: str) -> str:
        path = os.environ.get(name.upper()) or shutil.which(name)
        if path is None:
            _end_without(request.node, name)
        return path

    return path_of


@pytest.fixture
def needs_library(request: pytest.FixtureRequest) -> Callable[[str], str]:
    """Give a function like that of `needs_program`, for a shared library (``"ngspice"`` for libngspice)."""

    def file_of(name: str) -> str:
        file = ctypes.util.find_library(name)
        if file is None:
            _end_without(request.node, f"lib{name}")
        return file

    return file_of


@pytest.fixture(scope="module")
def browser_of() -> "Iterator[Callable[[str], Browser]]":
    """Give a function that returns the browser at a path, started once for all tests of a file."""
    from playwright.sync_api import expect, sync_playwright  # here: most tests need no browser

    from tests.browsing import FLAGS, LONGEST_MS

    expect.set_options(timeout=LONGEST_MS)
    with sync_playwright() as playwright:
        opened: list[Browser] = []

        def start(path: str) -> "Browser":
            if not opened:
                opened.append(playwright.chromium.launch(executable_path=path, args=FLAGS))
            return opened[0]

        yield start
        for browser in opened:
            browser.close()


@pytest.fixture
def browser(browser_of: "Callable[[str], Browser]", needs_program: Callable[[str], str]) -> "Browser":
    """Give a browser, or end the test where the machine has none."""
    return browser_of(needs_program("chromium"))


def _end_without(node: pytest.Item, name: str) -> NoReturn:
    # A property of the report, since reports are all that comes back from the processes that run tests in parallel.
    node.user_properties.append((_MISSING, name))
    reason = f"needs {name}, which this machine does not have"
    if os.environ.get("CI"):
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)


_LONGEST = (
    "test_barriers.py", "test_mutation.py", "test_entering_by_keyboard.py", "test_seeded_mistakes.py",
    "test_hostile_texts.py", "test_guide_in_browser.py", "test_work.py", "test_order.py", "test_browser.py",
    "test_api.py", "test_weight.py", "test_findings.py", "test_tutorial.py", "test_commands.py", "test_edit_pages.py",
    "test_ask.py", "test_phone.py", "test_kernel.py", "test_photos.py", "test_proof_seeded.py", "test_today.py",
    "test_html_browser.py", "test_many_users.py", "test_hostile_requests.py", "test_order_readings_jobs.py",
    "test_api_described.py",
)  # fmt: skip
"""The longest files, the longest first; a run of several processes ends late where they come last."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest files first; all else stays in its order."""
    items.sort(key=lambda item: _LONGEST.index(name) if (name := item.path.name) in _LONGEST else len(_LONGEST))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """List the tests that were not run because an outside program is missing."""
    absent: dict[str, list[str]] = {}
    for report in terminalreporter.getreports("skipped"):
        for key, name in report.user_properties:
            if key == _MISSING:
                absent.setdefault(str(name), []).append(report.nodeid)
    for name in sorted(absent):
        terminalreporter.section(f"not run, because missing: {name}")
        for nodeid in sorted(absent[name]):
            terminalreporter.line(nodeid)
