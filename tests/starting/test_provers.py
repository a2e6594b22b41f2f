"""The same properties by two provers that share nothing with the explorer but the tables of the step function.

z3 is given the explorer's states as an inductive invariant: it must hold at the start, be kept by every step, and imply
every property. spin searches by itself. Car and properties are written out here once more, by hand.
"""

import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
import z3

from loomwright.starting.explore import searcher
from loomwright.starting.modes import ENGINE, MODES
from loomwright.starting.properties import properties_of
from loomwright.starting.settings import StartSettings
from loomwright.starting.tables import DOMAIN, Tables
from loomwright.starting.wiring import PHASE_OF, Wiring
from tests.starting.cases import settings, wiring
from tests.starting.diagrams import Leaf, Node, diagram
from tests.starting.promela import promela

CASES = ("keyed V6, speed by wire", "diesel by lamp over the bus")
_M: dict[str, int] = {name: i for i, name in enumerate(MODES)}
_KEPT = ("ignition on", "waiting", "cranking", "running", "takeover")


def _without(one: StartSettings, guard: str) -> StartSettings:
    return replace(one, guards=tuple(g for g in one.guards if g.id != guard))


def _z3_of(part: "Leaf | Node", ask: dict[str, z3.ArithRef], known: dict[int, z3.ArithRef]) -> z3.ArithRef:
    if isinstance(part, Leaf):
        return z3.IntVal(part.value)
    if id(part) not in known:
        found = _z3_of(part.branches[-1], ask, known)
        for i in reversed(range(len(part.branches) - 1)):
            found = z3.If(ask[part.variable] == i, _z3_of(part.branches[i], ask, known), found)
        known[id(part)] = found
    return known[id(part)]


def _chosen(rows: list[tuple[z3.BoolRef, z3.ArithRef]]) -> z3.ArithRef:
    found = z3.IntVal(-1)
    for condition, value in rows:
        found = z3.If(condition, value, found)
    return found


def _prove(one: StartSettings, wires: Wiring, allowed: StartSettings) -> tuple[bool, bool, bool]:
    """Whether the invariant holds at first, is kept by every step, and implies the properties.

    The invariant is the set of states that the explorer reaches with the settings `allowed`.
    """
    search = searcher(allowed, wires)
    search.explored(None, properties_of(allowed))
    reached = [search.split(s) for s in search.reached]
    tables: Tables = searcher(one, wires).tables
    base = one.attempts + 1
    mode, park, key, engine, cranks = (z3.Int(n) for n in ("mode", "park", "key", "engine", "cranks"))
    truth = {n: z3.Int(f"now_{n}") for n in DOMAIN}
    timers: dict[str, z3.ArithRef] = {t: z3.Int(f"timer_{t}") for m in tables.modes.values() for t in m.timers}
    ranges = [z3.And(v >= 0, v < len(DOMAIN[n])) for n, v in truth.items()]
    ranges += [z3.And(v >= 0, v < 2) for v in timers.values()]

    after_rows, vector_rows = [], []
    for name, table in tables.modes.items():
        ask = dict(timers)
        for n in table.inputs:
            # What the input reads in this phase, by the levels of the wiring.
            levels = wires.sound.get(n)
            if levels is None:
                ask[n] = truth[n]
            else:
                seen = [DOMAIN[n].index(levels[PHASE_OF[name]][t]) for t in DOMAIN[n]]
                ask[n] = _chosen([(truth[n] == i, z3.IntVal(v)) for i, v in enumerate(seen)])
        for attempts in range(base):
            here = mode == _M[name] * base + attempts
            after_rows.append((here, _z3_of(diagram(table, table.after[attempts]), ask, {})))
            vector_rows.append((here, _z3_of(diagram(table, table.vector[attempts]), ask, {})))
    after, vector = _chosen(after_rows), _chosen(vector_rows)

    def goes(*names: str) -> z3.BoolRef:
        return z3.Or([z3.And(after >= _M[n] * base, after < (_M[n] + 1) * base) for n in names])

    def came(*names: str) -> z3.BoolRef:
        return z3.Or([z3.And(mode >= _M[n] * base, mode < (_M[n] + 1) * base) for n in names])

    def carries(*commands: str) -> z3.BoolRef:
        return z3.Or([vector == i for i, v in enumerate(tables.vectors) if v & set(commands)])

    still, cranking, running = (ENGINE.index(s) for s in ("still", "cranking", "running"))
    turned = z3.And(came("cranking"), z3.Or(park == 0, not wires.interlocked))
    by_key = z3.And(truth["key_in"] == 1, z3.Or(truth["in_park"] == 0, not wires.interlocked))
    late = z3.And(engine == cranking, cranks > 0, came("cranking", "ignition on", "waiting"))
    now = truth["engine"]
    car = z3.And(
        z3.Implies(z3.And(park == 0, truth["in_park"] == 1), truth["brake_pressed"] == 1),
        z3.Implies(z3.And(key == 1, truth["in_park"] == 1), truth["key_in"] == 1),
        z3.If(
            engine <= cranking,
            z3.Or(turned, by_key, now == still, z3.And(late, z3.Or(now == cranking, now == running))),
            z3.Or(now != cranking, by_key),
        ),
    )  # fmt: skip
    begins = z3.And(goes("cranking"), z3.Not(came("cranking")))
    counted = z3.If(begins, z3.If(cranks < search.most, cranks + 1, cranks), cranks)
    starter = z3.And(carries("start", "second start"), z3.Or(truth["in_park"] == 0, not wires.interlocked))
    on = vector != tables.vectors.index(frozenset())
    runs = now >= running
    bad = [
        z3.And(starter, truth["hood_open"] == 1),
        z3.And(starter, truth["in_park"] == 1),
        z3.And(starter, truth["brake_pressed"] == 1),
        z3.And(starter, runs),
        z3.And(came("cranking"), timers["crank limit"] == 1, goes("cranking")),
        z3.And(carries("start"), counted > one.attempts),
        z3.And(carries("start"), z3.Not(carries("ignition"))),
        z3.And(goes("idle", "stopping", "locked out", "valet"), on),
        z3.And(came("running", "takeover"), timers["run time"] == 1, goes("running", "takeover")),
        z3.And(goes(*_KEPT), truth["in_park"] == 1, truth["key_in"] == 0, runs),
        z3.And(on, truth["hood_open"] == 1),
        z3.And(on, truth["brake_pressed"] == 1),
        z3.And(on, truth["valet"] == 1),
        z3.And(counted == 0, goes(*_KEPT), runs),
        z3.And(goes("running", "takeover"), now == still),
    ]
    state = (mode, park, key, engine, cranks)

    def inside(values: tuple[z3.ArithRef, ...]) -> z3.BoolRef:
        return z3.Or([z3.And([v == k for v, k in zip(values, one_state, strict=True)]) for one_state in reached])

    forgotten = z3.If(goes("idle", "locked out", "valet"), 0, counted)
    following = (after, truth["in_park"], truth["key_in"], now, forgotten)
    first = (0, 0, 0, 0, 0) in reached

    def impossible(*conditions: z3.BoolRef) -> bool:
        solver = z3.Solver()
        solver.add(*ranges, inside(state), car, *conditions)
        return bool(solver.check() == z3.unsat)

    return first, impossible(z3.Not(inside(following))), impossible(z3.Or(bad))


@pytest.mark.parametrize("case", CASES)
def test_z3_proves_the_properties_from_the_same_tables(case: str) -> None:
    assert _prove(settings(case), wiring(case), settings(case)) == (True, True, True)


def test_z3_refutes_a_controller_without_its_hood_guard() -> None:
    case = CASES[0]
    weaker = _without(settings(case), "hood")
    first, kept, safe = _prove(weaker, wiring(case), weaker)
    assert (first, kept, safe) == (True, True, False)


def _spin(text: str, folder: Path, spin: str, compiler: str) -> str:
    # Unoptimised: the search takes a fifth of a second either way, and optimising it ten.
    (folder / "start.pml").write_text(text, encoding="ascii")
    subprocess.run([spin, "-a", "start.pml"], cwd=folder, check=True, capture_output=True, timeout=60)
    subprocess.run(
        [compiler, "-O0", "-w", "-DSAFETY", "-DNOREDUCE", "-o", "pan", "pan.c"], cwd=folder, check=True, timeout=120
    )
    ran = subprocess.run(
        [str(folder / "pan"), "-m1000000"], cwd=folder, check=True, capture_output=True, text=True, timeout=120
    )
    return ran.stdout


def test_spin_finds_no_order_of_events_that_breaks_a_property(
    tmp_path: Path, needs_program: Callable[[str], str]
) -> None:
    case = "keyed V6, speed by wire"
    said = _spin(promela(settings(case), wiring(case)), tmp_path, needs_program("spin"), needs_program("gcc"))
    assert "errors: 0" in said, said
    assert "max search depth too small" not in said
    # Both searches end with the very same number of states.
    search = searcher(settings(case), wiring(case))
    states = search.explored(None, properties_of(settings(case))).states
    assert f"{states} states, stored" in " ".join(said.split())


def test_spin_finds_the_way_around_a_missing_guard(tmp_path: Path, needs_program: Callable[[str], str]) -> None:
    case = "keyed V6, speed by wire"
    weaker = _without(settings(case), "hood")
    said = _spin(promela(weaker, wiring(case)), tmp_path, needs_program("spin"), needs_program("gcc"))
    assert "errors: 1" in said, said
    assert "assertion violated" in said
