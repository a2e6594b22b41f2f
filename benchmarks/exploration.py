"""How fast every order of events is explored: by the tables, by a plain dict search, and by spin.

What the findings of the start add to a match is measured too: half a second at most.
"""

import json
import shutil
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from loomwright.starting.explore import searcher
from loomwright.starting.findings import start_findings
from loomwright.starting.modes import MODES, REST, Inputs, Mode, ModeName, changed
from loomwright.starting.properties import properties_of
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import StartSettings
from loomwright.starting.silent import report_of
from loomwright.starting.step import step
from loomwright.starting.tables import DOMAIN, mode_code
from loomwright.starting.wiring import PHASE_OF, Wiring
from tests.starting.cases import CASES, installation, settings, wiring
from tests.starting.promela import promela
from tests.starting.test_provers import _spin


def plain(one: StartSettings, wires: Wiring) -> tuple[int, int]:
    """Search with a dict, asking `step` about each transition; same states, same transitions as the tables."""
    search = searcher(one, wires)
    seen, frontier, transitions = {0}, [0], 0
    while frontier:
        found = []
        for state in frontier:
            code, park, key, engine, cranks = search.split(state)
            name = MODES[code // search.base]
            grid = search.grids[name]
            for i in search.allowed(name, park, key, engine, cranks).nonzero()[0]:
                truth = {n: DOMAIN[n][int(v[i])] for n, v in grid.value.items()}
                expired = frozenset(t for t in grid.timers if grid.expired[t][i])
                seen_inputs = _read(truth, wires, name)
                mode = step(Mode(name=name, attempts=code % search.base), seen_inputs, expired, one).mode
                transitions += 1
                begins = mode.name == "cranking" and name != "cranking"
                count = 0 if mode.name in ("idle", "locked out", "valet") else min(cranks + begins, search.most)
                at = {n: DOMAIN[n].index(truth[n]) for n in ("in_park", "key_in", "engine")}
                after = (mode_code(mode, one.attempts) * 2 + at["in_park"]) * 2 + at["key_in"] * one.keyed
                after = (after * 4 + at["engine"]) * (search.most + 1) + count
                if after not in seen:
                    seen.add(after)
                    found.append(after)
        frontier = found
    return len(seen), transitions


def _read(truth: dict[str, object], wires: Wiring, name: ModeName) -> Inputs:
    return changed(REST, {n: wires.sound[n][PHASE_OF[name]][v] if n in wires.sound else v for n, v in truth.items()})


def main() -> None:
    longest = dearest_s = 0.0
    for case in CASES:
        one, wires = settings(case), wiring(case)
        begin = time.perf_counter()
        report = report_of(one, wires, installation(case))
        took = time.perf_counter() - begin
        longest = max(longest, took)
        start_findings(installation(case))
        begin = time.perf_counter()
        start_findings(installation(case))
        findings_s = time.perf_counter() - begin
        dearest_s = max(dearest_s, findings_s)
        print(
            f"{case:30} {report.explored:3} explorations {report.states:6} states {report.transitions:9} transitions"
            f" {took:6.2f} s {report.transitions / took / 1e6:5.1f} M transitions/s, findings {findings_s:5.2f} s"
        )
    case = next(iter(CASES))
    one, wires = settings(case), wiring(case)
    begin = time.perf_counter()
    found = searcher(one, wires).explored(None, properties_of(one))
    tables_s = took = time.perf_counter() - begin
    print(f"tables, sound wiring: {found.states} states, {found.transitions} transitions, {took:.3f} s")
    begin = time.perf_counter()
    states, transitions = plain(one, wires)
    plain_s = took = time.perf_counter() - begin
    print(f"plain dict search:    {states} states, {transitions} transitions, {took:.3f} s")
    if (states, transitions) != (found.states, found.transitions):
        sys.exit("the two searches differ")
    long = replace(SCENARIOS["run-time"], lasts_s=1260.0)
    twenty = replace(one, times_s={**one.times_s, "run time": 1200.0})
    begin = time.perf_counter()
    run = rehearse(installation(case), long, twenty)
    rehearsal_s = took = time.perf_counter() - begin
    print(f"twenty-minute rehearsal: {took:.2f} s, {run.solves} network solves, {run.steps} steps")
    spin_s: float | None = None
    spin, compiler = shutil.which("spin"), shutil.which("gcc")
    if spin and compiler:
        with tempfile.TemporaryDirectory() as folder:
            begin = time.perf_counter()
            said = _spin(promela(one, wires), Path(folder), spin, compiler)
            spin_s = took = time.perf_counter() - begin
        lines = [line.strip() for line in said.splitlines() if "states, stored" in line or "transitions" in line]
        print(f"spin, with its compiler: {took:.1f} s; {'; '.join(lines)}")
    rates = {
        "longest_with_all_faults_s": round(longest, 3), "limit_s": 3.0, "findings_s": round(dearest_s, 3),
        "findings_limit_s": 0.5, "tables_s": round(tables_s, 3),
        "plain_search_s": round(plain_s, 3), "ratio_to_plain_search": round(plain_s / tables_s, 1),
        "states_per_s": round(found.states / tables_s), "transitions_per_s": round(found.transitions / tables_s),
        "spin_with_compiler_s": None if spin_s is None else round(spin_s, 2),
        "rehearsal_s": round(rehearsal_s, 3), "rehearsal_limit_s": 1.0, "network_solves": run.solves,
    }  # fmt: skip
    print(json.dumps(rates))


if __name__ == "__main__":
    main()
