"""Vehicles: the list, and one family with its plugs, circuits and what is proven about them."""

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.documents.car import variants
from loomwright.documents.vehicle import Vehicle
from loomwright.errors import Message
from loomwright.papers.vehicle_page import VehiclePage, vehicle_page
from loomwright.sheets.drawn import draw
from loomwright.sheets.svg import in_page
from loomwright.web.asking import Answer, Ask, Page
from loomwright.web.desk import Desk, Line

__all__ = ["AxisPick", "listed", "pick_axes", "show"]

PER_PAGE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisPick:
    """One question about the car with its answers: (value, what the buyer sees, chosen)."""

    id: str
    ask: str
    values: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListPage:
    """A page of a list; `next` is the id after which the next page begins, empty on the last one."""

    kind: str
    lines: tuple[Line, ...]
    after: str
    next: str
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyPage:
    """One family, shown as one of its cars."""

    vehicle: Vehicle
    version: int
    by: str
    at: str
    cars: int
    picks: tuple[AxisPick, ...]
    choice: tuple[tuple[str, str], ...]  # as it stands in an address
    shown: VehiclePage
    map: str
    kits: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultyPage:
    """A document that is not in order: what is wrong with it."""

    kind: str
    id: str
    messages: tuple[Message, ...]


def list_page(desk: Desk, ask: Ask, kind: str) -> ListPage:
    """Return a page of the list of a kind."""
    after = ask.one("after")
    lines = desk.lines(kind, after=after, limit=PER_PAGE + 1)
    more = lines[PER_PAGE - 1].entry.id if len(lines) > PER_PAGE else ""
    return ListPage(kind=kind, lines=lines[:PER_PAGE], after=after, next=more, total=desk.store.count(kind))


def listed(desk: Desk, ask: Ask) -> Answer:
    """Show the list of vehicles."""
    return Page(template="list.html", title="Vehicles", context=list_page(desk, ask, "vehicle"))


def pick_axes(vehicle: Vehicle, choice: Mapping[str, str]) -> tuple[AxisPick, ...]:
    """Return the questions about the car, the answers of a choice marked."""
    return tuple(
        AxisPick(
            id=axis.id, ask=axis.ask,
            values=tuple((v.value, v.cue, choice.get(axis.id) == v.value) for v in axis.values),
        )
        for axis in vehicle.axes
    )  # fmt: skip


def some_choice(vehicle: Vehicle, wished: Mapping[str, str]) -> dict[str, str]:
    """Return the buildable choice that keeps most of what is wished, the first axes counting most."""

    def kept(choice: Mapping[str, str]) -> list[bool]:
        return [axis.id in wished and choice[axis.id] == wished[axis.id] for axis in vehicle.axes]

    return max(variants(vehicle), key=kept)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show one family as one of its cars."""
    id = ask.path["vehicle"]
    revision = desk.revision("vehicle", id)
    if faults := desk.faults("vehicle", id):
        page = FaultyPage(kind="vehicle", id=id, messages=faults)
        return Page(template="faulty.html", title=id, context=page)
    vehicle = desk.vehicle(id)
    choice = some_choice(vehicle, ask.under("car."))
    shown = vehicle_page(desk.car(id, choice))
    drawn = draw(shown.map, width_mm=150, words="The footwell with the places of this car's plugs.")[0].svg
    context = FamilyPage(
        vehicle=vehicle, version=revision.version, by=desk.name_of(revision.by), at=revision.at[:10],
        cars=sum(1 for _ in variants(vehicle)), picks=pick_axes(vehicle, choice),
        choice=tuple((f"car.{axis}", value) for axis, value in choice.items()), shown=shown, map=in_page(drawn),
        kits=desk.lines("kit"),
    )  # fmt: skip
    names = f"{vehicle.names[0].maker} {vehicle.names[0].model}"
    return Page(template="vehicle.html", title=names, context=context)


