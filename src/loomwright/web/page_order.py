"""The order check: as few questions as settle whether a kit fits a buyer's car, one a page."""

from dataclasses import dataclass

from loomwright.fitting.questions import NOT_SURE, Question
from loomwright.papers.blocks import Paper
from loomwright.papers.order_check import order_paper, worded
from loomwright.web.asking import Answer, Ask, Page, Redirect, address
from loomwright.web.desk import Desk, Line

__all__ = ["choose", "show"]

ANSWER = "a."


@dataclass(frozen=True, slots=True, kw_only=True)
class ChooseOrderPage:
    """Which vehicle and which kit the buyer asks about."""

    vehicles: tuple[Line, ...]
    kits: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One answer, and the address by which it is taken back with those after it."""

    ask: str
    value: str
    back: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPage:
    """The next question, or what the answers come to."""

    vehicle: str
    kit: str
    car_name: str
    kit_name: str
    given: tuple[Given, ...]
    answers: tuple[tuple[str, str], ...]
    question: Question | None
    not_sure: str
    paper: Paper | None
    ready: bool
    fit: str  # address of the installation, where one car is left


def choose(desk: Desk, ask: Ask) -> Answer:
    """Ask for vehicle and kit."""
    vehicle, kit = ask.one("vehicle"), ask.one("kit")
    if vehicle and kit:
        return Redirect(to=f"/order/{desk.revision('vehicle', vehicle).id}/{desk.revision('kit', kit).id}")
    page = ChooseOrderPage(vehicles=desk.lines("vehicle", limit=500), kits=desk.lines("kit", limit=500))
    return Page(template="choose_order.html", title="Order check", context=page)


def show(desk: Desk, ask: Ask) -> Answer:
    """Ask the next question, or tell what the answers come to."""
    vehicle, kit = ask.path["vehicle"], ask.path["kit"]
    answers = ask.under(ANSWER)
    check = desk.order_check(vehicle, kit, answers)
    order = check.order
    question = None if check.question is None else worded(check.question)
    here = f"/order/{vehicle}/{kit}"
    pairs = tuple((f"{ANSWER}{name}", value) for name, value in answers.items())
    axes = {axis.id: axis.ask for axis in order.vehicle.axes}
    choice = check.choice
    context = OrderPage(
        vehicle=vehicle, kit=kit, car_name=f"{order.vehicle.names[0].maker} {order.vehicle.names[0].model}",
        kit_name=f"{order.kit.name}, revision {order.kit.revision}",
        given=tuple(
            Given(
                ask=axes.get(name, name.partition("/")[2]), value=value,
                back=address(here, pairs[:n]),
            )
            for n, (name, value) in enumerate(answers.items())
        ),
        answers=pairs, question=question, not_sure=NOT_SURE, paper=None if question else order_paper(check),
        ready=check.ready,
        # A family of one car has a choice that chooses nothing.
        fit="" if choice is None else address(f"/fit/{vehicle}/{kit}", [(f"car.{a}", v) for a, v in choice.items()]),
    )  # fmt: skip
    return Page(template="order.html", title="Order check", context=context)
