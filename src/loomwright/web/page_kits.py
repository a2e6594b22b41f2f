"""Kits: the list, and one kit with its terminals, leads and plugs."""

from dataclasses import dataclass

from loomwright.documents.kit import Kit
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk, Line
from loomwright.web.page_vehicles import FaultyPage, list_page

__all__ = ["listed", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class KitPage:
    """One kit, and the vehicles it may be looked at in."""

    kit: Kit
    version: int
    by: str
    at: str
    vehicles: tuple[Line, ...]


def listed(desk: Desk, ask: Ask) -> Answer:
    """Show the list of kits."""
    return Page(template="list.html", title="Kits", context=list_page(desk, ask, "kit"))


def show(desk: Desk, ask: Ask) -> Answer:
    """Show one kit."""
    id = ask.path["kit"]
    revision = desk.revision("kit", id)
    if faults := desk.faults("kit", id):
        return Page(template="faulty.html", title=id, context=FaultyPage(kind="kit", id=id, messages=faults))
    kit = desk.kit(id)
    context = KitPage(
        kit=kit, version=revision.version, by=desk.name_of(revision.by), at=revision.at[:10],
        vehicles=desk.lines("vehicle", limit=60),
    )  # fmt: skip
    return Page(template="kit.html", title=f"{kit.name}, revision {kit.revision}", context=context)
