"""The order check: what the answers of a buyer come to, so that no wrong kit is shipped.

Whether the kit fits is proved only for the cars that the answers leave. What is not known is taken from its worse
side: a car that may stand in a garage must not start by itself.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.documents.car import resolve
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit, Setting
from loomwright.documents.shop import LocalLimit, Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.fitting.outcomes import Outcomes, Tell, Variant, outcomes, proved
from loomwright.fitting.questions import (
    ELSEWHERE,
    KEYS,
    NOT_SURE,
    PARKED,
    PLACE,
    Question,
    Settled,
    keys_needed,
    next_question,
)
from loomwright.network.results import Finding, Verdict
from loomwright.planning.installation import Installation, Refusal, Unserved
from loomwright.planning.plan import match
from loomwright.units import parse_quantity

__all__ = [
    "AFTER_START_LOCK", "RUN_TIME", "STARTS_BY_ITSELF", "CautionName", "LimitCheck", "Order", "OrderCheck", "advance",
    "begin", "order_check",
]  # fmt: skip

RUN_TIME = "run-time"
"""Id of the setting that says how long the engine runs."""

AFTER_START_LOCK = "lock-after-start"
"""Id of the setting by which the doors are locked again after a start."""

STARTS_BY_ITSELF = ("start-in-cold", "start-by-time")
"""Ids of the settings by which the car starts with nobody deciding it; their choice 'no' leaves that off."""

_OFF = "no"

CautionName = Literal["attached garage", "enclosed garage", "garage unknown", "street", "private ground", "idling"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitCheck:
    """What the kit can do about a place's limit."""

    limit: LocalLimit
    run_time: str | None  # the longest choice of the kit's run time that keeps the limit
    too_long: bool  # a limit that none of the kit's run times keeps
    locks: bool  # the kit locks the doors in this car
    lock_setting: str | None  # name of the setting that locks them again after a start, where the kit has one

    @property
    def kept(self) -> bool:
        """Tell whether the kit can be used there at all within the limit."""
        forbidden = self.limit.unattended == "not allowed"
        return not (self.too_long or forbidden or (self.limit.unattended == "locked only" and not self.locks))


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """A family, a kit and what comes of the one in the other: what the order check asks about."""

    vehicle: Vehicle
    kit: Kit
    shop: Shop
    evidence: tuple[Evidence, ...]
    outcomes: Outcomes


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderCheck:
    """What the answers come to."""

    order: Order
    answers: Mapping[str, str]
    question: Question | None  # what is still to be asked
    possible: tuple[Variant, ...]
    open: tuple[str, ...]  # axes that would still change something
    spare: tuple[str, ...]  # axes that stay open and change nothing
    verdict: Verdict | None  # None while the car is asked about, or where it differs between the cars that are left
    found: Installation | Refusal  # of the first car that the answers leave
    refusals: tuple[Refusal, ...]  # one of each code
    exceptions: tuple[Unserved | Finding, ...]  # with the stops, where the kit does not fit
    unproven: tuple[Finding, ...]
    states: int | None  # how many states of the first car were solved
    keys_needed: int
    keys: int | None  # as answered
    timed_starts: bool  # starts by time or by cold may be left to the buyer
    settings_off: tuple[Setting, ...]  # settings whose starts by itself must stay off
    cautions: tuple[CautionName, ...]
    limit: LimitCheck | None

    @property
    def choice(self) -> Mapping[str, str] | None:
        """The variant, where the answers leave one alone."""
        return dict(self.possible[0]) if len(self.possible) == 1 else None

    @property
    def keys_ok(self) -> bool | None:
        """Tell whether the working keys suffice for learning; None where nobody has counted them."""
        return None if self.keys is None and self.keys_needed else (self.keys or 0) >= self.keys_needed

    @property
    def settled(self) -> bool:
        """Tell whether the answers leave one result, however many cars."""
        return self.verdict is not None and len({self.order.outcomes[v].matters for v in self.possible}) == 1

    @property
    def ready(self) -> bool:
        """Tell whether the kit can be sold as it is: it fits without exception, with the keys and at the place."""
        kept = self.limit is None or self.limit.kept
        return self.settled and self.verdict == "fits" and self.keys_ok is not False and kept


def begin(
    vehicle: Vehicle, kit: Kit, shop: Shop, evidence: Sequence[Evidence] = (), tell: Tell | None = None
) -> Order:
    """Plan the kit into every variant of the family; `tell` is called with the number done and their total."""
    found = outcomes(vehicle, kit, shop, evidence, *([tell] if tell else []))
    return Order(vehicle=vehicle, kit=kit, shop=shop, evidence=tuple(evidence), outcomes=found)


def advance(order: Order, answers: Mapping[str, str], tell: Tell | None = None) -> tuple[Order, Question | Settled]:
    """Return the next question, with everything proved that had to be.

    Before anything but the car is asked, the cars that the answers leave are proved. Where that tells apart what the
    plans did not, more is asked about the car.

    Raises AnswerError as `next_question` does.
    """
    while True:
        step = next_question(order.vehicle, order.kit, order.shop, answers, order.outcomes)
        if isinstance(step, Question) and step.kind == "axis":
            return order, step
        waiting = [v for v in _having(order, answers) if order.outcomes[v].findings is None]
        if not waiting:
            return order, step
        order = replace(order, outcomes=proved(order.outcomes, waiting, *([tell] if tell else [])))


def _having(order: Order, answers: Mapping[str, str]) -> tuple[Variant, ...]:
    known = {(a.id, answers[a.id]) for a in order.vehicle.axes if answers.get(a.id, NOT_SURE) != NOT_SURE}
    return tuple(variant for variant in order.outcomes if known <= set(variant))


def order_check(order: Order, answers: Mapping[str, str], tell: Tell | None = None) -> OrderCheck:
    """Return what the answers come to; questions that nobody answered count as not sure.

    While a question about the car is to be asked, nothing is proved and there is no verdict.

    Raises AnswerError as `next_question` does.
    """
    order, asked = advance(order, answers, tell)
    pending = isinstance(asked, Question) and asked.kind == "axis"
    own = (*(axis.id for axis in order.vehicle.axes), KEYS, PARKED, PLACE)
    every = {**dict.fromkeys(own, NOT_SURE), **answers}
    if pending:  # nothing is proved while the car is not known
        step = next_question(order.vehicle, order.kit, order.shop, every, order.outcomes)
    else:
        order, step = advance(order, every, tell)
    if not isinstance(step, Settled):
        raise TypeError("every question was just seen to be answered")
    results = [order.outcomes[v] for v in step.possible]
    verdicts = {result.verdict for result in results}
    first = order.outcomes[step.possible[0]]
    # Planned again, since the reasons of what alike cars lack name the car they were planned for.
    found = match(resolve(order.vehicle, dict(step.possible[0]), order.evidence), order.kit, order.shop)
    needed = keys_needed(order.outcomes, step.possible) if order.kit.vehicle_module is not None else 0
    fits = verdicts != {"does-not-fit"}
    return OrderCheck(
        order=order, answers=dict(answers), question=asked if isinstance(asked, Question) else None,
        possible=step.possible, open=step.open, spare=step.spare,
        verdict=verdicts.pop() if len(verdicts) == 1 and not pending else None,
        found=found, refusals=tuple({r.found.code: r.found for r in results if isinstance(r.found, Refusal)}.values()),
        exceptions=_exceptions(found, first.findings or ()),
        unproven=tuple(f for f in first.findings or () if f.code == "unproven"),
        states=first.states, keys_needed=needed, keys=_count(answers.get(KEYS)),
        timed_starts=answers.get(PARKED) in ("street", "private-ground"),
        settings_off=_starting_by_itself(order.kit) if fits and _may_be_inside(answers) else (),
        cautions=tuple(_cautions(answers)) if fits else (),
        limit=_limit(order, answers.get(PLACE), found) if fits else None,
    )  # fmt: skip


def _count(answer: str | None) -> int | None:
    return None if answer in (None, NOT_SURE) else int(answer or 0)


def _exceptions(found: Installation | Refusal, findings: Sequence[Finding]) -> tuple[Unserved | Finding, ...]:
    grave = [f for f in findings if f.severity in ("stop", "fix")]
    return (*found.unserved, *grave) if isinstance(found, Installation) else ()


def _may_be_inside(answers: Mapping[str, str]) -> bool:
    return answers.get(PARKED) not in ("street", "private-ground")


def _starting_by_itself(kit: Kit) -> tuple[Setting, ...]:
    named = (setting for setting in kit.settings if setting.id in STARTS_BY_ITSELF)
    return tuple(setting for setting in named if any(choice.value == _OFF for choice in setting.choices))


def _cautions(answers: Mapping[str, str]) -> Iterator[CautionName]:
    by_parking: Mapping[str, CautionName] = {
        "attached-garage": "attached garage", "enclosed-garage": "enclosed garage", "street": "street",
        "private-ground": "private ground",
    }  # fmt: skip
    yield by_parking.get(answers.get(PARKED, NOT_SURE), "garage unknown")
    if answers.get(PLACE, NOT_SURE) in (NOT_SURE, ELSEWHERE):
        yield "idling"


def _limit(order: Order, place: str | None, found: Installation | Refusal) -> LimitCheck | None:
    limit = next((entry for entry in order.shop.local_limits if entry.place == place), None)
    if limit is None:
        return None
    times = _run_times(order.kit)
    longest: str | None = None
    too_long = False
    if limit.idle_minutes is not None:
        within = {value: minutes for value, minutes in times.items() if minutes <= limit.idle_minutes}
        longest = max(within, key=lambda value: within[value], default=None)
        too_long = longest is None
    routes = found.routes if isinstance(found, Installation) else ()
    settings = [s for s in order.kit.settings if s.id == AFTER_START_LOCK]
    return LimitCheck(
        limit=limit, run_time=longest, too_long=too_long,
        locks=any(route.function == "lock" and route.how != "none" for route in routes),
        lock_setting=settings[0].name if settings else None,
    )  # fmt: skip


def _run_times(kit: Kit) -> Mapping[str, float]:
    """Return the kit's run times: value as the setting has it -> minutes; choices that are no time are left out."""
    found: dict[str, float] = {}
    for setting in kit.settings:
        for choice in setting.choices if setting.id == RUN_TIME else ():
            try:
                found[choice.value] = parse_quantity(choice.value, "s") / 60
            except ValueError:
                continue
    return found
