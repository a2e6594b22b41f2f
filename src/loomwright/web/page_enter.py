"""The passphrase, where the workbench is open to the shop's network."""

from dataclasses import dataclass

from loomwright.web.asking import Answer, Ask, Page, Redirect
from loomwright.web.desk import Desk
from loomwright.web.guard import ENTERED

__all__ = ["enter", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EnterPage:
    """The form for the passphrase; `wrong` after a wrong one, `wait_s` after too many of them."""

    wrong: bool = False
    wait_s: int = 0


def show(desk: Desk, _ask: Ask) -> Answer:
    """Ask for the passphrase."""
    if desk.door.is_open:
        return Redirect(to="/")
    return Page(template="enter.html", title="Passphrase", context=EnterPage())


def enter(desk: Desk, ask: Ask) -> Answer:
    """Let a browser in that says the passphrase."""
    if desk.door.is_open:
        return Redirect(to="/")
    found = desk.door.says(ask.address, ask.sent("passphrase").encode("utf-8", "replace"))
    if found.let_in:
        return Redirect(to="/", cookies=((ENTERED, desk.door.word()),))
    page = EnterPage(wrong=not found.wait_s, wait_s=found.wait_s)
    return Page(template="enter.html", title="Passphrase", context=page, status=429 if found.wait_s else 403)
