"""Complete operating points a second: this package against one process of ngspice for each point.

Both ways of the package are measured, the numpy lanes and the compiled loops. All get the same points of the same
network. The package finds segments and relays by itself; ngspice is spared the relays, since its contacts are frozen
where the package found them. The voltages are compared before anything is told.

Each round takes a turn of every way, so that its ratios are those of one and the same minute; what is told is the
median of the rounds. Time is taken twice, by the clock and as used by processors, ours and ngspice's: on a machine that
has other work only the second means something. Compiling is not counted.

    python benchmarks/solver.py [--nodes 116] [--lanes 6144] [--processes 60] [--rounds 5]

The last line is one JSON object. The exit code is 1 where the ratio by the clock is below what is asked for: 200 times
ngspice for the numpy lanes, 1,500 times for the loops. Without numba there are no loops, and `kernel` is null.
"""

import argparse
import json
import os
import resource
import shutil
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))  # for the networks and oracles that the tests use as well

from loomwright.network.branches import Branches, FloatArray
from loomwright.network.held import driven
from loomwright.network.kernel import VARIABLE, kernel
from loomwright.network.solution import Solution, contact_scale
from loomwright.network.solver import solve
from tests.independent.ngspice_deck import deck, run_deck
from tests.independent.synthetic import build, draw_points

Network = Callable[[int], tuple[Branches, FloatArray, FloatArray]]
"""Gives a network with the scale and EMF of as many operating points as it is asked for."""

LEAST_RATIO = {"numpy": 200, "kernel": 1500}
WAYS = {"numpy": "off", "kernel": "always"}


def synthetic(nodes: int) -> Network:
    net = build(nodes, seed=1)

    def points(lanes: int) -> tuple[Branches, FloatArray, FloatArray]:
        return net.branches, *draw_points(net, lanes, seed=7)

    return points


def with_kernel() -> bool:
    """Get the compiled loops ready; tells whether there are any."""
    os.environ[VARIABLE] = WAYS["kernel"]
    return kernel.loops(1, 1) is not None


def now() -> FloatArray:
    """The clock, and the processor time of this process and of all ended ones that it started [s]."""
    each = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return np.array([time.perf_counter(), sum(one.ru_utime + one.ru_stime for one in each)])


def measure(network: Network, lanes: int, processes: int, *, rounds: int, program: str) -> dict[str, object]:
    """All rates on the first points of one network."""
    branches, scale, emf = network(lanes)
    scale, emf = np.ascontiguousarray(scale), np.ascontiguousarray(emf)
    print(f"{branches.nodes} nodes, {branches.count} branches, {len(branches.latches)} relays, {lanes} points")
    ways = [way for way in WAYS if way != "kernel" or with_kernel()]
    solution: dict[str, Solution] = {}
    for way in ways:  # once before it counts: patterns and loops are made here
        os.environ[VARIABLE] = WAYS[way]
        solution[way] = solve(branches, scale, emf)
    processes = min(processes, lanes)
    shut = contact_scale(branches, scale, solution["numpy"].latched)
    held = driven(branches, solution["numpy"], scale)[:, :processes]
    rates: dict[str, list[FloatArray]] = {way: [] for way in ("ngspice", *ways)}
    apart = 0.0
    for number in range(rounds):
        for way in ways:
            os.environ[VARIABLE] = WAYS[way]
            begin = now()
            solve(branches, scale, emf)
            rates[way].append(lanes / (now() - begin))
        mine = range(number * processes // rounds, (number + 1) * processes // rounds)
        begin = now()
        found = [run_deck(program, deck(branches, shut[:, lane], emf[:, lane]), branches.nodes) for lane in mine]
        rates["ngspice"].append(len(mine) / (now() - begin))
        for way in ways:
            differences = np.abs(np.array(found).T - solution[way].voltage[:, mine])
            apart = max(apart, float(differences[held[:, mine]].max()))
        print(f"round {number + 1}, points/s: " + ", ".join(f"{way} {rates[way][-1][0]:,.1f}" for way in rates))
    print(f"largest difference at a driven node: {apart:.2g} V")
    if apart > 1e-3:
        sys.exit("the two disagree: the rates mean nothing")
    theirs = np.array(rates["ngspice"])
    result: dict[str, object] = {
        "nodes": branches.nodes, "lanes": lanes, "ngspice_points_per_s": round(float(np.median(theirs[:, 0])), 1),
    }  # fmt: skip
    for way in WAYS:
        result[way] = None
        if way in ways:
            ours = np.array(rates[way])
            by_clock, by_use = np.median(ours / theirs, axis=0)
            result[way] = {
                "points_per_s": round(float(np.median(ours[:, 0]))), "ratio": round(float(by_clock)),
                "ratio_by_processor_time": round(float(by_use)), "least_ratio": LEAST_RATIO[way],
            }  # fmt: skip
    if "kernel" in ways:
        one, other = solution["numpy"].voltage, solution["kernel"].voltage
        result["numpy_and_kernel_apart_v"] = float(np.abs(one - other).max())
    return result


def reached(result: dict[str, object]) -> bool:
    """Whether each way that could be measured is as fast as it must be."""
    measured = [way for way in (result["numpy"], result["kernel"]) if isinstance(way, dict)]
    return all(way["ratio"] >= way["least_ratio"] for way in measured)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--nodes", type=int, default=116, help="size of the synthetic network")
    parser.add_argument("--lanes", type=int, default=6144, help="operating points for this package")
    parser.add_argument("--processes", type=int, default=60, help="how many of them ngspice solves")
    parser.add_argument("--rounds", type=int, default=5)
    chosen = parser.parse_args()
    program = shutil.which("ngspice")
    if program is None:
        sys.exit("ngspice is not on this machine's path")
    result = measure(
        synthetic(chosen.nodes), chosen.lanes, chosen.processes, rounds=chosen.rounds, program=program
    )
    print(json.dumps(result))
    return 0 if reached(result) else 1


if __name__ == "__main__":
    sys.exit(main())
