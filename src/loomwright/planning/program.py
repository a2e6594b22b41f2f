"""The exact choice: a small mixed-integer program over the candidates, solved in three steps by HiGHS.

First as few unserved tasks as possible (one required task outweighs all wanted ones), then the least cost, then the
least sum of candidate ranks so that equal plans always come out the same. Each step keeps what the ones before found.
Three steps instead of one sum of big weights: the numbers stay small, and a solver's tolerance cannot trade a cent
for a task. What comes back is rounded and checked against the rows again in plain arithmetic.
"""

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from loomwright.errors import SolveError
from loomwright.planning.candidates import Candidate, Situation, Task
from loomwright.planning.rules import Row, broken_row, helper_minutes, helpers_of, rows_of

__all__ = ["Program", "Solution", "cost_cents", "solve"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """All that is to be chosen from, with the price of a minute and candidates or tasks that are fixed beforehand."""

    at: Situation
    tasks: tuple[Task, ...]
    candidates: tuple[Candidate, ...]
    rows: tuple[Row, ...]
    minute_price: float
    forced: tuple[frozenset[str], ...] = ()  # of each set of candidates, one must be chosen
    left_out: frozenset[str] = frozenset()  # tasks that the builder wants unserved

    @staticmethod
    def of(at: Situation, tasks: tuple[Task, ...], candidates: tuple[Candidate, ...], minute_price: float) -> "Program":
        """Return the program with its rows."""
        ordered = tuple(sorted(candidates, key=lambda c: c.id))
        rows = rows_of(at, tasks, ordered)
        return Program(at=at, tasks=tasks, candidates=ordered, rows=rows, minute_price=minute_price)


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """The candidates chosen, and what they come to."""

    chosen: tuple[Candidate, ...]
    unserved_required: int
    unserved_wanted: int
    cost_cents: int
    rank_sum: int


def cost_cents(program: Program, chosen: Sequence[Candidate]) -> int:
    """Return the cost of a choice: minutes at their price, minutes for unreliability, and parts [cents]."""
    return sum(_own_cents(program, c) for c in chosen) + sum(_helper_cents(program, h) for h in helpers_of(chosen))


def _own_cents(program: Program, candidate: Candidate) -> int:
    return round(100 * ((candidate.minutes + candidate.penalty) * program.minute_price + candidate.price))


def _helper_cents(program: Program, helper: str) -> int:
    return round(100 * helper_minutes(program.at, helper) * program.minute_price)


def solve(program: Program) -> Solution | None:
    """Return the best choice, or None where what was forced cannot stand together.

    Raises SolveError where the solver stops without an answer, or answers with something that breaks a row.
    """
    if not program.candidates:
        return _judged(program, ())
    solver, columns = _loaded(program)
    wanted = sum(t.need == "wanted" for t in program.tasks)
    weights = {t.id: wanted + 1 if t.need == "required" else 1 if t.need == "wanted" else 0 for t in program.tasks}
    # One candidate serves a task, so what is served is the sum of the weights of the chosen.
    served = {c.id: -weights[c.task] for c in program.candidates if weights[c.task]}
    cents = {c.id: _own_cents(program, c) for c in program.candidates}
    cents |= {name: _helper_cents(program, name) for name in columns if name not in cents}
    ranks = {c.id: rank for rank, c in enumerate(program.candidates)}
    chosen: tuple[Candidate, ...] = ()
    for step, costs in enumerate((served, cents, ranks)):
        values = _optimum(solver, columns, costs)
        if values is None:
            if step == 0 and program.forced:
                return None
            raise SolveError("the planner stopped without an answer")
        chosen = tuple(c for c in program.candidates if values[columns[c.id]] > 0.5)
        reached = sum(costs.get(name, 0) for name in (*(c.id for c in chosen), *helpers_of(chosen)))
        if step < 2:
            _keep(solver, columns, costs, reached)
    broken = broken_row(program.rows, chosen)
    if broken is not None:
        raise SolveError(f"the planner's answer breaks a rule: {broken.fact.rstrip('.')}")
    return _judged(program, chosen)


def _judged(program: Program, chosen: tuple[Candidate, ...]) -> Solution:
    served = {c.task for c in chosen}
    rank = {c.id: i for i, c in enumerate(program.candidates)}
    return Solution(
        chosen=chosen,
        unserved_required=sum(t.need == "required" and t.id not in served for t in program.tasks),
        unserved_wanted=sum(t.need == "wanted" and t.id not in served for t in program.tasks),
        cost_cents=cost_cents(program, chosen),
        rank_sum=sum(rank[c.id] for c in chosen),
    )


@contextmanager
def _quiet() -> Iterator[None]:
    """Point file descriptor 1 at nothing: the solver's first object prints a banner there, past `sys.stdout`."""
    sys.stdout.flush()
    kept = os.dup(1)
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nothing)


def _loaded(program: Program) -> tuple[Any, dict[str, int]]:
    with _quiet():
        import highspy

        solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.0)
    solver.setOptionValue("mip_feasibility_tolerance", 1e-9)
    solver.setOptionValue("primal_feasibility_tolerance", 1e-9)
    names = [c.id for c in program.candidates]
    names += sorted(helpers_of(program.candidates))
    columns = {name: index for index, name in enumerate(names)}
    left_out = {c.id for c in program.candidates if c.task in program.left_out}
    for name, index in columns.items():
        solver.addVar(0.0, 0.0 if name in left_out else 1.0)
        solver.changeColIntegrality(index, highspy.HighsVarType.kInteger)
    for row in program.rows:
        _add(solver, columns, row.terms, -highspy.kHighsInf, row.limit)
    for group in program.forced:
        _add(solver, columns, dict.fromkeys(sorted(group), 1.0), 1.0, highspy.kHighsInf)
    return solver, columns


def _add(solver: Any, columns: Mapping[str, int], terms: Mapping[str, float], low: float, high: float) -> None:
    solver.addRow(low, high, len(terms), [columns[name] for name in terms], list(terms.values()))


def _optimum(solver: Any, columns: Mapping[str, int], costs: Mapping[str, int]) -> list[float] | None:
    import highspy

    solver.changeColsCost(len(columns), list(columns.values()), [float(costs.get(name, 0)) for name in columns])
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise SolveError(f"the planner stopped without an answer: {solver.modelStatusToString(status)}")
    return list(solver.getSolution().col_value)


def _keep(solver: Any, columns: Mapping[str, int], costs: Mapping[str, int], reached: int) -> None:
    import highspy

    _add(solver, columns, {k: float(v) for k, v in costs.items() if v}, -highspy.kHighsInf, reached + 0.5)
