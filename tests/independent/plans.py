"""Every plan there is, one by one: the best of all combinations of candidates, by rules written out a second time.

Nothing of the planner's rows, program or solver is used; only what a candidate states about itself.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations, product

from loomwright.planning.candidates import Candidate, Situation, Task

__all__ = ["all_plans", "best_plan", "is_sound", "price_cents"]

_PLUG_IN_MINUTES = 3.0


def _two_go_together(a: Candidate, b: Candidate) -> bool:
    """Tell whether two candidates of different tasks may both be chosen, whatever else is."""
    shared_pins = {e.pin for e in a.ends if e.pin} & {e.pin for e in b.ends if e.pin}
    if shared_pins and "resistor" not in (a.pattern, b.pattern):
        return False
    for feed, output in ((a, b), (b, a)):
        if feed.fuse is not None and output.meets is not None:
            terminal, circuit = output.meets
            if terminal == feed.ends[0].terminal and circuit != feed.ends[0].circuit:
                return False
    for line, pedal in ((a, b), (b, a)):
        if pedal.task == "brake" and pedal.ends and pedal.ends[0].pin in line.reaches:
            return False
    for x, y in product(a.branches, b.branches):
        if (x[0] == y[0]) != (x[1] == y[1]):  # one branch in two plugs, or two branches in one plug
            return False
    if a.setting and b.setting and a.setting[0] == b.setting[0] and a.setting[1] != b.setting[1]:
        return False
    if a.fuse is not None and a.fuse == b.fuse:
        return False
    if {e.terminal for e in a.ends} & {e.terminal for e in b.ends}:
        if a.isolation == b.isolation == "none":
            return False
        for straight, other in ((a, b), (b, a)):
            by_key = bool(straight.live) and straight.live <= other.live
            if straight.isolation == "none" and (other.isolation == "diode" or not by_key):
                return False
    wires = [{(e.lead or e.branch, e.label) for e in c.ends} for c in (a, b)]
    return not (wires[0] & wires[1] and a.places != b.places)


def is_sound(at: Situation, tasks: Sequence[Task], plan: Sequence[Candidate]) -> bool:
    """Tell whether a choice of at most one candidate for each task keeps every rule."""
    if not all(_two_go_together(a, b) for a, b in combinations(plan, 2)):
        return False
    for part in at.kit.parts:
        if sum(c.part is not None and c.part.id == part.id for c in plan) > part.stock:
            return False
    for terminal in at.kit.controller.terminals:
        if sum(c.share for c in plan if any(e.terminal == terminal.id for e in c.ends)) > 1 + 1e-9:
            return False
    functions = {t.id: t.function for t in tasks}
    wired = {functions[c.task] for c in plan if c.how not in ("setting", "none")}
    joined_to_bus = any(c.task == "bus" for c in plan)
    for c in plan:
        if (c.needs is not None and c.needs not in wired) or (c.needs_bus and not joined_to_bus):
            return False
    feeds = {c.ends[0].terminal: c for c in plan if c.fuse is not None}
    for name in {p.terminal for c in plan for p in c.powers}:
        if name not in feeds:
            return False
        taken = [p for c in plan for p in c.powers if p.terminal == name]
        if sum(p.run_a for p in taken) > feeds[name].run_limit_a + 1e-9:
            return False
        if sum(p.crank_a for p in taken) > feeds[name].crank_limit_a + 1e-9:
            return False
        for stimulus in {s for p in taken for s, _ in p.switched}:
            amps = sum(p.run_a + sum(a for s, a in p.switched if s == stimulus) for p in taken)
            held = stimulus.endswith("pressed") and not stimulus.startswith("brake")
            limit = feeds[name].crank_limit_a if held else feeds[name].run_limit_a
            if amps > limit + 1e-9:
                return False
    return True


def price_cents(at: Situation, plan: Sequence[Candidate], minute_price: float) -> int:
    """Return the cost of a plan [cents], each piece rounded to a cent."""

    def cents(minutes: float) -> int:
        return round(100 * minutes * minute_price)

    total = sum(round(100 * ((c.minutes + sum(m for m, _ in c.penalties)) * minute_price + c.price)) for c in plan)
    total += sum(cents(at.car.places[p].minutes) for p in {p for c in plan for p in c.places})
    return total + cents(_PLUG_IN_MINUTES) * len({b for c in plan for b in c.branches})


def all_plans(tasks: Sequence[Task], candidates: Sequence[Candidate]) -> Iterator[tuple[Candidate, ...]]:
    """Yield every choice of at most one candidate for each task."""
    options = [[None, *(c for c in candidates if c.task == t.id)] for t in tasks]
    for choice in product(*options):
        yield tuple(c for c in choice if c is not None)


def best_plan(
    at: Situation, tasks: Sequence[Task], candidates: Sequence[Candidate], minute_price: float
) -> tuple[int, int, int, int]:
    """Return (unserved required, unserved wanted, cents, sum of the ranks of ids) of the best sound plan."""
    rank = {name: i for i, name in enumerate(sorted(c.id for c in candidates))}

    def value(plan: Sequence[Candidate]) -> tuple[int, int, int, int]:
        served = {c.task for c in plan}
        missing = [t.need for t in tasks if t.id not in served]
        return (
            missing.count("required"), missing.count("wanted"), price_cents(at, plan, minute_price),
            sum(rank[c.id] for c in plan),
        )  # fmt: skip

    best: tuple[int, int, int, int] | None = None
    for plan in all_plans(tasks, candidates):
        worth = value(plan)
        if (best is None or worth < best) and is_sound(at, tasks, plan):
            best = worth
    if best is None:
        raise AssertionError("the empty plan is always sound")
    return best
