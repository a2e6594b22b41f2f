"""Wiring mistakes sown at random into every pair of the demonstration: each is found, with the right thing named.

What the proof finds is counted twice: all of it, and what the simulated circuit alone shows. The rules that compare
what was built with the plan (a joint on another circuit, a T without a wire) see some mistakes that no meter would.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest

from loomwright.network.expectations import expectations_of
from loomwright.network.joining import joined_netlist
from loomwright.network.proof import prove, prove_solved
from loomwright.network.results import Finding
from loomwright.network.solving import Solved, solve_stories
from loomwright.network.stories import stories_of
from loomwright.planning.installation import Installation
from tests.network.mistakes import Sown, sow
from tests.pairs import PAIRS, installations

_COMPARED = frozenset({
    "misses-circuit", "not-joined", "wrong-terminal", "wrong-fuse", "not-carried", "setting-misfits", "start-held",
})  # fmt: skip
"""Codes of what is told from the plan and the netlist, without the solved circuit."""

_QUIET_V = 0.05
"""A mistake that moves no node by more in any state changes nothing that a workshop meter would show [V]."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """What became of one mistake."""

    sown: Sown
    found: bool  # by a finding that names it
    by_current: bool  # by one that comes from the solved circuit
    quiet: bool  # nothing moves in the circuit
    codes: tuple[str, ...]


def _names(finding: Finding) -> set[str]:
    """Return everything a finding names: its subject and path, and the circuit, joint, terminal or pin of each."""
    out: set[str] = set()
    for name in (finding.subject, *finding.path):
        for text in (name, name[2:] if name[:2] in ("v:", "e:", "t:", "c:") else name):
            parts = text.split("/")
            out |= {"/".join(parts[: n + 1]) for n in range(len(parts))}
    return out


def _moved(clean: Solved, built: Solved) -> float:
    """Return how far a node of the circuit moves at most in any state [V]."""
    if clean.states != built.states:
        return float("inf")
    common = [n for n in built.compiled.netlist.nodes if n in clean.compiled.node]
    rows = [[solved.compiled.node[n] for n in common] for solved in (clean, built)]
    return float(np.abs(clean.voltage[rows[0]] - built.voltage[rows[1]]).max())


def _told(plan: Installation, seed: str) -> list[Told]:
    stories, expectations = stories_of(plan), expectations_of(plan.car, plan)
    clean = solve_stories(joined_netlist(plan), stories)
    before = {(f.code, f.subject) for f in prove_solved(plan, clean, expectations).findings}
    out = []
    for sown in sow(plan, seed):
        own = sown.plan is plan
        built = solve_stories(sown.netlist, stories if own else stories_of(sown.plan))
        findings = prove_solved(sown.plan, built, expectations if own else None).findings
        told = [f for f in findings if f.severity != "note" and (f.code, f.subject) not in before]
        named = [f for f in told if _names(f) & sown.names]
        out.append(
            Told(
                sown=sown, found=bool(named), by_current=any(f.code not in _COMPARED for f in named),
                quiet=_moved(clean, built) < _QUIET_V, codes=tuple(f.code for f in told),
            )
        )  # fmt: skip
    return out


def _table(told: Sequence[Told]) -> str:
    rows = Counter(t.sown.kind for t in told)
    lines = ["kind of mistake                  sown found by current quiet"]
    for kind, count in rows.items():
        mine = [t for t in told if t.sown.kind == kind]
        numbers = (sum(t.found for t in mine), sum(t.by_current for t in mine), sum(t.quiet for t in mine))
        lines.append(f"{kind:32}{count:5}{numbers[0]:6}{numbers[1]:11}{numbers[2]:6}")
    lines += [
        f"not found: {t.sown.plan.car.vehicle}, {t.sown.kind}, {t.sown.what}: {t.codes}" for t in told if not t.found
    ]
    return "\n".join(lines)


def _check(told: Sequence[Told], least: int) -> None:
    report = _table(told)
    print(report)
    heard = [t for t in told if not t.quiet]
    assert len(heard) >= least, report
    # What changes nothing in any state is counted apart, and may not be much of it.
    assert len(told) - len(heard) <= 0.10 * len(told), report
    assert sum(t.found for t in heard) >= 0.95 * len(heard), report
    # A fuse left out where the car has its own, or data wires crossed: only the plan tells.
    assert sum(t.by_current for t in heard) >= 0.90 * len(heard), report
    # Even the quiet ones are told, from the plan.
    assert sum(t.found for t in told) >= 0.95 * len(told), report


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_of_a_pair_without_mistakes_nothing_is_told(pair: tuple[str, str]) -> None:
    for plan in installations(pair, 2):
        told = [(f.code, f.subject, f.message) for f in prove(plan).findings if f.severity != "note"]
        assert told == [], dict(plan.car.choice)


def _sown_in(pairs: Sequence[tuple[str, str]]) -> list[Told]:
    told = [t for pair in pairs for n, plan in enumerate(installations(pair, 1)) for t in _told(plan, f"{pair} {n}")]
    assert len({t.sown.plan.car.vehicle for t in told}) == len(pairs)
    return told


def test_nineteen_of_twenty_mistakes_are_found_and_named() -> None:
    told = _sown_in(PAIRS)
    assert len({t.sown.kind for t in told}) >= 18
    _check(told, least=200)


@pytest.mark.soak
def test_nineteen_of_twenty_mistakes_are_found_in_many_variants() -> None:
    told = [
        t for pair in PAIRS for n, plan in enumerate(installations(pair, 4)) for t in _told(plan, f"soak {pair} {n}")
    ]
    _check(told, least=500)
