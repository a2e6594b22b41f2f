"""Time to plan, prove with both histories, bound every reading and try every wrong pin, for the largest pair.

The largest is the pair of the demonstration whose joined circuit has most nodes. Every run plans anew; imports and
documents are not counted. Each run is made with the numpy lanes and with the compiled loops. The whole must take less
than two seconds, and less than one with the loops (`kernel`, null without numba).

    python benchmarks/tight.py [--runs 5]

The last line is one JSON object; its times are medians [s], once by the clock and once as used by this process. Where
other work keeps the machine busy, the second tells more.
"""

import argparse
import json
import os
import sys
import time
from itertools import pairwise
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parent.parent))  # for what the tests and the other benchmark use as well

from benchmarks.solver import WAYS, with_kernel
from loomwright.faults.wrong_pins import wrong_pins
from loomwright.network.joining import joined_netlist
from loomwright.network.kernel import VARIABLE
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests.demonstration import shop
from tests.pairs import PAIRS, installations

LIMIT_S = {"numpy": 2.0, "kernel": 1.0}
SIZES = ("nodes", "points", "readings", "wrong_pins")
PARTS = ("match_s", "prove_s", "readings_s", "wrong_pins_s")


def run(car_and_kit: Installation) -> dict[str, float]:
    """One run from car and kit to all results; times [s]."""
    used = time.process_time()
    clock = [time.perf_counter()]
    plan = match(car_and_kit.car, car_and_kit.kit, shop())
    if not isinstance(plan, Installation):
        sys.exit("the kit is refused")
    clock.append(time.perf_counter())
    proof = prove(plan)
    clock.append(time.perf_counter())
    table = readings(plan)
    clock.append(time.perf_counter())
    slips = wrong_pins(plan)
    clock.append(time.perf_counter())
    parts = dict(zip(PARTS, (after - before for before, after in pairwise(clock)), strict=True))
    return {
        **parts, "total_s": clock[-1] - clock[0], "used_s": time.process_time() - used, "nodes": proof.nodes,
        "points": proof.points, "readings": len(table.readings), "wrong_pins": len(slips),
    }  # fmt: skip


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    count = parser.parse_args().runs
    plans = [plan for pair in PAIRS for plan in installations(pair, 1)]
    largest = max(plans, key=lambda plan: len(joined_netlist(plan).nodes))
    ways = [way for way in WAYS if way != "kernel" or with_kernel()]
    runs: dict[str, list[dict[str, float]]] = {way: [] for way in ways}
    for number in range(1, count + 1):
        for way in ways:
            os.environ[VARIABLE] = WAYS[way]
            found = run(largest)
            runs[way].append(found)
            told = ", ".join(f"{key} {found[key]:.3f}" for key in found if key not in SIZES)
            print(f"run {number}, {way}: {told}")
    result: dict[str, object] = {"pair": f"{largest.car.vehicle} with {largest.kit.id}"}
    result |= {key: int(runs["numpy"][0][key]) for key in SIZES}
    late = False
    for way in WAYS:
        result[way] = None
        if way in ways:
            times = {key: round(median(one[key] for one in runs[way]), 4) for key in runs[way][0] if key not in SIZES}
            result[way] = {**times, "limit_s": LIMIT_S[way]}
            late |= times["total_s"] >= LIMIT_S[way]
    print(json.dumps(result))
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
