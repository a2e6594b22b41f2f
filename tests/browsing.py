"""Pages in a real browser, for tests of sheets and workbench: flags, sizes of screens, a page that is watched."""

from typing import Any

from playwright.sync_api import BrowserContext, Page

__all__ = ["DESK", "FLAGS", "LONGEST_MS", "PHONE", "SIDEWAYS", "Visit"]

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
LONGEST_MS = 120_000
"""How long a page is waited for before it counts as one that never comes [ms], on a busy machine."""
PHONE: Any = {"width": 390, "height": 844}
DESK: Any = {"width": 1280, "height": 900}
SIDEWAYS = "() => document.documentElement.scrollWidth - window.innerWidth"
"""How much wider than the screen a whole page is [px]."""


class Visit:
    """A page that is watched: whatever it asks of another address or complains about is a fault."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.faults: list[str] = []
        self.page: Page = context.new_page()
        self.page.set_default_timeout(LONGEST_MS)
        self.page.on("request", lambda r: None if r.url.startswith((address, "data:")) else self.faults.append(r.url))
        self.page.on("console", lambda m: self.faults.append(m.text) if m.type in {"error", "warning"} else None)
        self.page.on("pageerror", lambda e: self.faults.append(str(e)))

    def check(self) -> None:
        """Fail where the page complained, asked somebody else, or is wider than its screen."""
        assert self.faults == []
        assert self.page.evaluate(SIDEWAYS) <= 0, self.page.url
