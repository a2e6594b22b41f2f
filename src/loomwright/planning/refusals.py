"""Cars that this kit must not be fitted to; no setting and no pin lifts a refusal.

An engine may crank only while the selector cannot move the car: 49 CFR 571.102 S3.1.3 asks that of automatic
gearboxes. No federal rule asks a manual gearbox for a clutch or neutral switch (NHTSA interpretations 24473.drn and
10024), so a manual car is refused. A park lock that only holds the selector mechanically tells the starter circuit
nothing. Hybrid, electric and 48 V cars start in another way and carry lethal voltage (49 CFR 571.305). That a kit
needs a proven brake, hood and park input is common practice of the trade.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from loomwright.documents.car import Car
from loomwright.documents.functions import FunctionName
from loomwright.planning.candidates import Task, slug
from loomwright.planning.installation import Unserved
from loomwright.sentences import told, unstopped

__all__ = ["Grounds", "refused_by_task", "refused_by_traits"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """Why a car is refused: a stable code, the reason, the caution and what would change it."""

    code: str
    reason: str
    caution: str
    would_fit_if: str


_HIGH_VOLTAGE = (
    "Orange cable carries a voltage that can kill even with the 12 V battery disconnected. Do not open or touch it."
)
_ROLLS = "The car can leap forward the moment it cranks and hurt whoever stands in front of it. Do not fit this kit."
_UNKNOWN = "Do not sell or fit the kit before this is settled: a wrong guess can hurt somebody."

_DRIVES = {
    "hybrid": Grounds(
        code="hybrid", reason="This car is a hybrid: its engine is started by its own drive system, not by a starter.",
        caution=_HIGH_VOLTAGE, would_fit_if="the car were driven by a combustion engine alone",
    ),
    "electric": Grounds(
        code="electric", reason="This car is electric: there is no engine to start.",
        caution=_HIGH_VOLTAGE, would_fit_if="the car had a combustion engine",
    ),
    "mild hybrid 48 V": Grounds(
        code="mild-hybrid-48-v", reason="This car has a 48 V system that starts its engine.",
        caution="A 48 V cable holds an arc when it is opened under load; it is not for this work.",
        would_fit_if="the car were the variant with a plain 12 V starter",
    ),
}  # fmt: skip


def refused_by_traits(car: Car) -> Grounds | None:
    """Return why a car is refused for what it is as a whole, or None."""
    return next(_by_traits(car), None)


def _by_traits(car: Car) -> Iterator[Grounds]:
    traits = car.traits
    if traits.drive in _DRIVES:
        yield _DRIVES[traits.drive]
    if traits.gearbox == "manual":
        yield Grounds(
            code="manual-gearbox",
            reason="This car has a manual gearbox: nothing keeps it from being left in gear, and no rule asks for a "
            "switch that would tell.",
            caution=_ROLLS, would_fit_if="the car had an automatic gearbox",
        )  # fmt: skip
    if traits.park_interlock == "shifter lock only":
        yield Grounds(
            code="shifter-lock-only",
            reason="In this car only a mechanical lock holds the selector; nothing electrical keeps the starter off "
            "in gear.",
            caution=_ROLLS, would_fit_if="the park/neutral switch sat in the start circuit or in a computer",
        )  # fmt: skip
    for what, value in (("drive", traits.drive), ("gearbox", traits.gearbox)):
        if value is None:
            yield Grounds(
                code=f"{what}-unknown", reason=told(
                    "The vehicle document does not say which {what} this car has.", what=what,
                ),
                caution=_UNKNOWN, would_fit_if=told("the vehicle document stated the {what}", what=what),
            )  # fmt: skip
    yield from _by_park(car)


def _by_park(car: Car) -> Iterator[Grounds]:
    if car.traits.park_interlock == "computer":
        return
    switch = any((s.closed_when or "").removeprefix("not ") == "in park" for c in car.circuits.values() for s in c.path)
    if car.traits.park_interlock is None or not switch:
        yield Grounds(
            code="no-park",
            reason="Nothing proves that the starter stays off in gear: no park/neutral switch is recorded."
            if car.traits.park_interlock is not None
            else "The vehicle document does not say what keeps the starter off in gear.",
            caution=_ROLLS,
            would_fit_if="the park/neutral switch were recorded in the circuit it interrupts"
            if car.traits.park_interlock is not None
            else "the vehicle document stated where the park/neutral switch sits",
        )  # fmt: skip


_CAUTIONS: dict[FunctionName, str] = {
    "brake": "Without the brake input nothing stops the engine when somebody without a key steps in. "
    "Do not fit this kit.",
    "hood switch": "Without a hood switch the engine can start while hands are in it. Do not fit this kit.",
    "start": "Do not bridge the start circuit by any other way.",
    "tach": "Without engine speed the starter may be held in a running engine. Do not fit this kit.",
    "ground": "Never take the ground at a seat-belt, airbag, brake or fuel fastener.",
    "battery feed": "A feed without a fuse that carries it can start a fire. Do not fit this kit.",
    "immobiliser": "Do not hide a key in the car: whoever finds it drives away. Do not fit this kit.",
}


def refused_by_task(tasks: Sequence[Task], unserved: Sequence[Unserved]) -> Grounds | None:
    """Return the refusal for the first required task that has no candidate at all, or None."""
    lacking = {u.task: u for u in unserved if u.required}
    for task in tasks:
        if task.id in lacking:
            lack = lacking[task.id]
            return Grounds(
                code=f"no-{slug(task.function)}",
                reason=told(
                    "Nothing serves {function}, without which no start may be: {why}.", function=task.function,
                    why=unstopped(lack.why),
                ),
                caution=_CAUTIONS.get(task.function, "Do not fit this kit."),
                would_fit_if=lack.would_fit_if,
            )  # fmt: skip
    return None
