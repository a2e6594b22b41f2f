"""Settings: the shop's own facts, who works at this browser, backups, and to whom the workbench is open."""

import re
import socket
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from loomwright import __version__
from loomwright.documents.shop import Shop
from loomwright.errors import StoreError
from loomwright.papers.languages import LANGUAGES
from loomwright.store.values import Entry, Person
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.desk import Desk
from loomwright.web.guard import WHO

__all__ = ["back_up", "change", "person", "show"]

_PAPERS = (("A4", "A4"), ("Letter", "US Letter"))
_LENGTHS = (("mm", "millimetres"), ("inch", "inches"))
_WIRES = (("mm2", "mm²"), ("AWG", "AWG"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A backup that is there."""

    name: str
    at: str
    megabytes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsPage:
    """Everything that can be set, and how things are."""

    shop: Shop
    base: int
    saved: str
    papers: tuple[tuple[str, str], ...]
    lengths: tuple[tuple[str, str], ...]
    wires: tuple[tuple[str, str], ...]
    languages: tuple[tuple[str, str], ...]
    workers: tuple[Person, ...]
    who: str
    is_chosen: bool
    backups: tuple[Backup, ...]
    folder: str
    store: str
    revisions: int
    is_open: bool
    address: str
    version: str
    again: str = ""


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what is set."""
    return Page(template="settings.html", title="Settings", context=_page(desk, ask))


def _page(desk: Desk, ask: Ask, again: str = "") -> SettingsPage:
    revision, shop = desk.shop_revision()
    workers = desk.workers()
    return SettingsPage(
        shop=shop, base=revision.number, saved=ask.one("saved"), papers=_PAPERS, lengths=_LENGTHS, wires=_WIRES,
        languages=tuple((one.code, one.name) for one in LANGUAGES.values()),
        workers=workers, who=desk.worker(ask.who), is_chosen=ask.who in {p.id for p in workers},
        backups=tuple(_backups(desk.kept_in)), folder=str(desk.kept_in / "backups"), store=desk.store.database.name,
        revisions=desk.store.last_number(), is_open=desk.settings.passphrase is not None, address=_own_address(),
        version=__version__, again=again,
    )  # fmt: skip


def _own_address() -> str:
    """Return the address of this machine in its network, as far as it has one; nothing is sent for it."""
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737): this only picks a way out
        return str(asked.getsockname()[0])
    return ""


def _backups(folder: Path) -> list[Backup]:
    found = []
    for file in sorted((folder / "backups").glob("*.store"), reverse=True):
        with suppress(OSError):
            facts = file.stat()
            at = datetime.fromtimestamp(facts.st_mtime, UTC)
            found.append(Backup(name=file.name, at=at.strftime("%Y-%m-%d %H:%M"), megabytes=facts.st_size / 1e6))
    return found


def change(desk: Desk, ask: Ask) -> Answer:
    """Keep the shop's facts as a new version.

    Raises DocumentError with every fault of what was typed, Conflict where somebody saved it first.
    """
    revision, shop = desk.shop_revision()
    base: Entry = revision
    if ask.sent("base") != str(revision.number):
        if not ask.sent("base").isdecimal():
            raise WebError(400, "This form is not whole. Load the page again.")
        with suppress(StoreError):
            base = desk.numbered("shop", shop.id, int(ask.sent("base")))
    price = ask.sent("minute_price").replace(",", ".")
    if not re.fullmatch(r"\d{1,6}(\.\d{1,4})?", price):
        words = "A minute's price is a number of zero or more, such as 0.8."
        return Page(template="settings.html", title="Settings", context=_page(desk, ask, words), status=422)
    told = {
        **shop.model_dump(mode="json", exclude_unset=True), "name": ask.sent("name"), "call": ask.sent("call"),
        "paper": ask.sent("paper"), "length_unit": ask.sent("length_unit"), "wire_unit": ask.sent("wire_unit"),
        "language": ask.sent("language") or shop.language, "minute_price": float(price),
        "terms": [t.strip() for t in ask.sent("terms").splitlines() if t.strip()],
    }  # fmt: skip
    document = desk.filled("shop", shop.id, Shop, told)
    desk.store.save("shop", shop.id, document, by=desk.worker(ask.who), base=base)
    return Redirect(to="/settings?saved=shop")


def person(desk: Desk, ask: Ask) -> Answer:
    """Let this browser be somebody from now on: one who worked here before, or somebody new."""
    name, chosen = ask.sent("name")[:80], ask.sent("person")
    if name:
        chosen = desk.store.add_person(name).id
    elif chosen not in {p.id for p in desk.workers()}:
        raise WebError(400, "Choose a name, or type a new one.")
    return Redirect(to="/settings?saved=who", cookies=((WHO, chosen),))


def back_up(desk: Desk, _ask: Ask) -> Answer:
    """Write a backup beside the store, now.

    Raises StoreError where it cannot be written.
    """
    folder = desk.kept_in / "backups"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise WebError(507, f"No backup could be written: {problem.strerror}. Make room on the disk.") from problem
    moment = desk.clock().astimezone(UTC).strftime("%Y-%m-%d-%H%M%S")
    path, count = folder / f"{moment}.store", 1
    while path.exists():
        count += 1
        path = folder / f"{moment}-{count}.store"
    desk.store.backup(path)
    return Redirect(to="/settings?saved=backup")
