"""Time to plan, prove with both histories, bound every reading and try every wrong pin, for the largest pair.

The largest is the pair of the demonstration whose joined circuit has most nodes. Every run plans anew; imports and
documents are not counted. The whole must take less than two seconds.

    python benchmarks/tight.py [--runs 5]

The last line is one JSON object; its times are medians [s], once by the clock and once as used by this process.
"""

import argparse
import json
import sys
import time
from itertools import pairwise
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parent.parent))  # for the pairs, which the tests use as well

from loomwright.faults.wrong_pins import wrong_pins
from loomwright.network.joining import joined_netlist
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests.demonstration import shop
from tests.pairs import PAIRS, installations

LIMIT_S = 2.0
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
    runs = [run(largest) for _ in range(count)]
    for number, found in enumerate(runs, 1):
        print(f"run {number}: " + ", ".join(f"{key} {found[key]:.3f}" for key in found if key.endswith("_s")))
    result = {key: round(median(found[key] for found in runs), 4) for key in runs[0]}
    print(
        json.dumps({
            "pair": f"{largest.car.vehicle} with {largest.kit.id}",
            **{key: value if key.endswith("_s") else int(value) for key, value in result.items()},
            "limit_s": LIMIT_S,
        })
    )  # fmt: skip
    return 0 if result["total_s"] < LIMIT_S else 1


if __name__ == "__main__":
    sys.exit(main())
