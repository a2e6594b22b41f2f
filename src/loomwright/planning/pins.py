"""Routes that the builder has pinned: kept where they can be, planned around with the reason where they cannot."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from loomwright.documents.car import Car
from loomwright.documents.shop import PinnedRoute, Shop
from loomwright.planning.candidates import Candidate, End, RuledOut, Task, pin_words
from loomwright.planning.installation import Rejected
from loomwright.planning.minutes import PENALTIES
from loomwright.planning.program import Program, Solution, solve
from loomwright.planning.sides import factory_side
from loomwright.sentences import told, unstopped

__all__ = ["Pinned", "interrupted", "solve_with_pins"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinned:
    """The solution with the pins that could be kept, and those that could not."""

    solution: Solution
    program: Program
    kept: Mapping[str, str]  # task -> the builder's reason
    dropped: Mapping[str, tuple[Rejected, ...]]  # task -> pins that had to be given up


def interrupted(tasks: Sequence[Task], candidates: Sequence[Candidate], shop: Shop, car: Car) -> tuple[Candidate, ...]:
    """Return the ways through a T that cut the wire open; only a pin asks for one: the car then hangs on the kit."""
    asked = {p.function for p in shop.pinned if p.vehicle == car.vehicle and p.how == "T interrupted"}
    functions = {t.id: t.function for t in tasks}

    def opened(end: End) -> End | None:
        circuit = car.circuits.get(end.circuit or "")
        side = None if circuit is None or end.pin is None else factory_side(circuit, end.pin)
        return None if side is None else replace(end, kind="T interrupted", factory_side=side)

    found = []
    for c in candidates:
        ends = [opened(e) for e in c.ends] if c.how == "T tapped" and functions[c.task] in asked else [None]
        if all(end is not None for end in ends):
            changed = replace(
                c, id=c.id.replace("|T tapped|", "|T interrupted|", 1), how="T interrupted",
                ends=tuple(e for e in ends if e is not None), penalties=(*c.penalties, PENALTIES["interrupted"]),
            )  # fmt: skip
            found.append(changed)
    return tuple(found)


def _matches(pin: PinnedRoute, candidate: Candidate, function: str) -> bool:
    if pin.function != function or pin.how != candidate.how:
        return False
    return pin.pin is None or any(e.pin == pin.pin for e in candidate.ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wish:
    """One pin, for one task: the candidates that keep it, or none at all where the task shall stay unserved."""

    pin: PinnedRoute
    task: Task
    keeps: frozenset[str]

    def on(self, program: Program) -> Program:
        if self.pin.how == "none":
            return replace(program, left_out=program.left_out | {self.task.id})
        return replace(program, forced=(*program.forced, self.keeps))


def _wishes(program: Program, pins: Sequence[PinnedRoute]) -> tuple[list[_Wish], list[_Wish]]:
    """Return the wishes that some candidate could keep, and those that none could."""
    possible, hopeless = [], []
    for pin in pins:
        found = []
        mine = [t for t in program.tasks if t.function == pin.function]
        for task in mine:
            keeps = frozenset(c.id for c in program.candidates if c.task == task.id and _matches(pin, c, task.function))
            if keeps or (pin.how == "none" and task.need != "required"):
                found.append(_Wish(pin=pin, task=task, keeps=keeps))
        possible += found
        if not found:
            hopeless += [_Wish(pin=pin, task=task, keeps=frozenset()) for task in mine]
    return possible, hopeless


def solve_with_pins(program: Program, shop: Shop, ruled_out: Sequence[RuledOut]) -> Pinned:
    """Return the best plan that keeps every pin it can, in the order in which they are written.

    A pin is given up where it cannot be had, where it does not go together with those before it, or where a required
    function would lose its only way: no reason of the builder's makes up for that.
    """
    best = solve(program)
    if best is None:  # pragma: no cover - nothing is forced in it
        raise AssertionError
    pins = [p for p in shop.pinned if p.vehicle == program.at.car.vehicle]
    possible, hopeless = _wishes(program, pins)
    dropped: dict[str, list[Rejected]] = {}
    for wish in hopeless:
        dropped.setdefault(wish.task.id, []).append(_given_up(program, wish, _why_hopeless(wish, ruled_out)))
    limit = best.unserved_required
    kept: dict[str, str] = {}
    # Where all pins can be kept together, so can each beginning of the list: one solve instead of one for each.
    together = program
    for wish in possible:
        together = wish.on(together)
    solution = solve(together) if len(possible) > 1 else None
    if solution is not None and solution.unserved_required <= limit:
        program, best = together, solution
        kept = {wish.task.id: unstopped(wish.pin.reason) for wish in possible}
        possible = []
    for wish in possible:
        tried = wish.on(program)
        solution = solve(tried)
        if solution is None or solution.unserved_required > limit:
            what = "it does not go together with what else is fixed"
            if solution is not None:
                what = "a required function would then have no way"
            dropped.setdefault(wish.task.id, []).append(_given_up(program, wish, what))
            continue
        program, best = tried, solution
        kept[wish.task.id] = unstopped(wish.pin.reason)
    return Pinned(
        solution=best, program=program, kept=MappingProxyType(kept),
        dropped=MappingProxyType({task: tuple(facts) for task, facts in dropped.items()}),
    )  # fmt: skip


def _why_hopeless(wish: _Wish, ruled_out: Sequence[RuledOut]) -> str:
    if wish.pin.how == "none":
        return told("{function} is required and no start may be without it", function=wish.task.function)
    facts = [r.fact for r in ruled_out if r.task == wish.task.id and r.how == wish.pin.how]
    return (
        told("that way is ruled out: {fact}", fact=unstopped(facts[0]))
        if facts
        else "this kit and this car offer no such way"
    )


def _given_up(program: Program, wish: _Wish, because: str) -> Rejected:
    where = told(" at {where}", where=pin_words(program.at.car, wish.pin.pin)) if wish.pin.pin else ""
    reason = unstopped(wish.pin.reason)
    return Rejected(
        how=wish.pin.how, what=told("the pinned route{where}", where=where), fact=told(
            "The builder pinned it ({reason}), but {because}.", reason=reason, because=because,
        ),
        pinned=True,
    )  # fmt: skip
