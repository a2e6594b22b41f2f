"""Why each route was chosen, why the others were not, and what would serve what stays unserved."""

from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.planning.candidates import Candidate, RuledOut, Situation, Task, pin_words, slug
from loomwright.planning.installation import PartUse, Rejected, Route, Unserved
from loomwright.planning.pins import Pinned
from loomwright.planning.program import cost_cents
from loomwright.planning.rules import Row, broken_row, helper_minutes, helpers_of
from loomwright.sentences import capital, listing, told, unstopped

__all__ = ["fitting_minutes", "route_of", "unserved_of"]


def fitting_minutes(at: Situation, chosen: Sequence[Candidate]) -> float:
    """Return the whole time of a choice: work on every joint, each place opened once, each branch plugged in once."""
    shared = sum(helper_minutes(at, h) for h in helpers_of(chosen))
    return round(sum(c.minutes for c in chosen) + shared, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Other:
    """An alternative candidate in place of the chosen one: what breaks, or what more it costs."""

    candidate: Candidate
    broken: Row | None
    cents: int = 0
    minutes_more: float = 0.0
    penalty_more: float = 0.0
    price_more: float = 0.0
    minutes: float = 0.0


def _compared(pinned: Pinned, chosen: Candidate | None, other: Candidate) -> _Other:
    program, all_chosen = pinned.program, pinned.solution.chosen
    rest = tuple(c for c in all_chosen if chosen is None or c.id != chosen.id)
    swapped = (*rest, other)
    broken = broken_row(program.rows, swapped)
    if broken is not None:
        return _Other(candidate=other, broken=broken)
    spent, spent_rest = fitting_minutes(program.at, swapped), fitting_minutes(program.at, rest)
    return _Other(
        candidate=other, broken=None, cents=cost_cents(program, swapped) - pinned.solution.cost_cents,
        minutes_more=round(spent - fitting_minutes(program.at, all_chosen), 3),
        penalty_more=round(other.penalty - (chosen.penalty if chosen else 0.0), 3),
        price_more=other.price - (chosen.price if chosen else 0.0), minutes=round(spent - spent_rest, 3),
    )  # fmt: skip


def _minutes(value: float) -> str:
    return told("{value:g} minute", value=value) if value == 1 else told("{value:g} minutes", value=value)


def _dearer(other: _Other) -> str:
    """Say in a clause what makes a possible alternative dearer: 'takes 7.5 minutes more'."""
    if other.cents == 0:
        return "comes to the same cost, and the order of names decided"
    if other.minutes_more > 0:
        return told("takes {minutes} more", minutes=_minutes(other.minutes_more))
    if other.penalty_more > 0:
        saved = (
            told("takes {minutes} less, but ", minutes=_minutes(-other.minutes_more))
            if other.minutes_more < 0
            else "counts for less: "
        )
        weight, reason = max(other.candidate.penalties)
        return told(
            "{saved}{reason}, which is weighed as {minutes}", saved=saved, reason=reason, minutes=_minutes(weight)
        )
    if other.price_more > 0:
        return told("needs a part that costs {price_more:.2f} more", price_more=other.price_more)
    return "was not what the builder fixed"


def _key(candidate: Candidate) -> tuple[object, ...]:
    """Return what makes two candidates the same way for a reader: leads and relays of one pin are not told apart."""
    return (candidate.how, tuple(e.pin or e.at for e in candidate.ends), candidate.setting)


def _others(pinned: Pinned, task: Task, chosen: Candidate | None) -> list[_Other]:
    """Return the best alternative of each way, the cheapest first, impossible ones last."""
    best: dict[tuple[object, ...], _Other] = {}
    for candidate in pinned.program.candidates:
        if candidate.task != task.id or (chosen is not None and _key(candidate) == _key(chosen)):
            continue
        other = _compared(pinned, chosen, candidate)
        key = _key(candidate)
        if key not in best or _order(other) < _order(best[key]):
            best[key] = other
    return sorted(best.values(), key=_order)


def _order(other: _Other) -> tuple[bool, int, str]:
    return (other.broken is not None, other.cents, other.candidate.id)


def _rejected(other: _Other) -> Rejected:
    candidate = other.candidate
    if other.broken is not None:
        return Rejected(how=candidate.how, what=candidate.what, fact=other.broken.fact)
    return Rejected(
        how=candidate.how, what=candidate.what, fact=told("It {dearer}.", dearer=_dearer(other)), minutes=other.minutes
    )


def _ruled_out(task: Task, facts: Sequence[RuledOut]) -> tuple[Rejected, ...]:
    mine = dict.fromkeys((r.how, r.what, r.fact) for r in facts if r.task == task.id)
    return tuple(Rejected(how=how, what=what, fact=fact) for how, what, fact in mine)


def _done(at: Situation, task: Task, chosen: Candidate) -> str:
    """Say as a clause what is done: 'Lead IGN is tapped onto the pink wire at pin 4 of ...'."""
    if chosen.how == "bus":
        return told("The vehicle module serves {function} over the bus", function=task.function)
    if chosen.how == "setting":
        return told("{what} serves {function} without a wire", what=capital(chosen.what), function=task.function)
    end = chosen.ends[0]
    if chosen.how == "added part":
        return told("{what} is added to the car", what=chosen.what)
    if end.kind == "ground point":
        return told("Lead {end} goes to this bolt: {what}", end=end.label, what=chosen.what)
    labels = listing(e.label for e in chosen.ends)
    where = pin_words(at.car, end.pin or "") if len(chosen.ends) == 1 else chosen.what
    if end.lead is None:
        branch = next(b.label for b in at.kit.branches if b.id == end.branch)
        verb = "opens the wire for" if end.kind == "T interrupted" else "joins"
        return told(f"{{branch}} {verb} {{labels}} at {{where}}", branch=branch, labels=labels, where=where)
    colour = at.car.pins[end.pin or ""].words
    if end.kind == "cut in":
        return told("Lead {labels} is cut into the {colour} wire at {where}", labels=labels, colour=colour, where=where)
    return told("Lead {labels} is tapped onto the {colour} wire at {where}", labels=labels, colour=colour, where=where)


def _way(candidate: Candidate) -> str:
    if candidate.how == "cut in":
        return told("a cut at {what}", what=candidate.what)
    tapped = candidate.how == "tap" and any(e.pin is not None for e in candidate.ends)
    return told("a tap at {what}", what=candidate.what) if tapped else candidate.what


def _part_why(pinned: Pinned, chosen: Candidate) -> str:
    """Say why a part stands there; where only the plan tells, by what is wrong with the same joint without it."""
    if chosen.part_does:
        for other in pinned.program.candidates:
            if other.task == chosen.task and other.part is None and _joined(other) == _joined(chosen):
                broken = _compared(pinned, chosen, other).broken
                if broken is not None:
                    return told("{fact}, so {part_does}.", fact=unstopped(broken.fact), part_does=chosen.part_does)
    return chosen.part_why


def _joined(candidate: Candidate) -> list[tuple[str, str | None]]:
    return [(end.label, end.pin) for end in candidate.ends]


def route_of(pinned: Pinned, task: Task, chosen: Candidate, facts: Sequence[RuledOut]) -> Route:
    """Return the route of a chosen candidate, with its reason and every alternative's deciding fact."""
    at = pinned.program.at
    part = None
    if chosen.part is not None and chosen.pattern is not None:
        part = PartUse(
            id=f"p:{slug(task.id)}/{chosen.part.id}", part=chosen.part.id, pattern=chosen.pattern,
            fed_from=chosen.fed_from, why=_part_why(pinned, chosen),
        )  # fmt: skip
    others = _others(pinned, task, chosen)
    possible = [o for o in others if o.broken is None]
    if task.id in pinned.kept:
        because = told("the builder fixed it: {kept}", kept=pinned.kept[task.id])
    elif possible:
        because = told("the next way, {way}, {dearer}", way=_way(possible[0].candidate), dearer=_dearer(possible[0]))
    else:
        because = "no other way fits"
    through = told(", through {part}", part=chosen.part.name) if chosen.part is not None else ""
    return Route(
        task=task.id, function=task.function, how=chosen.how, required=task.need == "required",
        joints=tuple(end.joint(task, part) for end in chosen.ends), setting=chosen.setting, minutes=chosen.minutes,
        penalty=chosen.penalty, why=told(
            "{done}{through}; {because}.", done=_done(at, task, chosen), through=through, because=because,
        ),
        rejected=(
            *pinned.dropped.get(task.id, ()), *(_rejected(o) for o in others), *_ruled_out(task, facts),
        ),
        pinned=pinned.kept.get(task.id), gated=chosen.gated,
    )  # fmt: skip


def unserved_of(pinned: Pinned, task: Task, facts: Sequence[RuledOut]) -> Unserved:
    """Return what stays unserved and the single fact, of all that stand in its way, that is nearest to a cure."""
    others = _others(pinned, task, None)
    cures = [(r.far, i, r.cure, r.fact) for i, r in enumerate(facts) if r.task == task.id]
    cures += [(o.broken.far, -1, o.broken.cure, o.broken.fact) for o in others if o.broken is not None]
    if task.id in pinned.kept:
        why, cure = told("The builder left it out: {kept}.", kept=pinned.kept[task.id]), "the builder lifted the pin"
    else:
        _, _, cure, why = min(cures)
    return Unserved(
        task=task.id, function=task.function, required=task.need == "required", why=why, would_fit_if=cure,
        rejected=(*pinned.dropped.get(task.id, ()), *(_rejected(o) for o in others), *_ruled_out(task, facts)),
    )  # fmt: skip
