"""The passphrase, where the workbench is open to the shop's network."""

import hmac
import time
from dataclasses import dataclass

from loomwright.web.asking import Answer, Ask, Page, Redirect
from loomwright.web.desk import Desk
from loomwright.web.guard import ENTERED, entered_with

__all__ = ["enter", "show"]

_WAIT_S = 1.0  # what a wrong guess costs


@dataclass(frozen=True, slots=True, kw_only=True)
class EnterPage:
    """The form for the passphrase; `wrong` after a wrong one."""

    wrong: bool


def show(desk: Desk, _ask: Ask) -> Answer:
    """Ask for the passphrase."""
    if desk.settings.passphrase is None:
        return Redirect(to="/")
    return Page(template="enter.html", title="Passphrase", context=EnterPage(wrong=False))


def enter(desk: Desk, ask: Ask) -> Answer:
    """Let a browser in that says the passphrase."""
    passphrase = desk.settings.passphrase
    if passphrase is None:
        return Redirect(to="/")
    if hmac.compare_digest(ask.sent("passphrase").encode(), passphrase.encode()):
        return Redirect(to="/", cookies=((ENTERED, entered_with(passphrase)),))
    time.sleep(_WAIT_S)
    return Page(template="enter.html", title="Passphrase", context=EnterPage(wrong=True), status=403)
