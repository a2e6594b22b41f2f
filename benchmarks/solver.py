"""Complete operating points a second: this package's lanes against one process of ngspice for each point.

Both get the same points of the same network. The package finds segments and relays by itself; ngspice is spared the
relays, since its contacts are frozen where the package found them. The voltages are compared before anything is told.

    python benchmarks/solver.py [--nodes 116] [--lanes 6144] [--processes 60]

The last line is one JSON object.
"""

import argparse
import json
import shutil
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))  # for the networks and oracles that the tests use as well

from loomwright.network.branches import Branches, FloatArray
from loomwright.network.held import driven
from loomwright.network.solution import contact_scale
from loomwright.network.solver import solve
from tests.independent.ngspice_deck import deck, run_deck
from tests.independent.synthetic import build, draw_points

Network = Callable[[int], tuple[Branches, FloatArray, FloatArray]]
"""Gives a network with the scale and EMF of as many operating points as it is asked for."""


def synthetic(nodes: int) -> Network:
    net = build(nodes, seed=1)

    def points(lanes: int) -> tuple[Branches, FloatArray, FloatArray]:
        return net.branches, *draw_points(net, lanes, seed=7)

    return points


def measure(network: Network, lanes: int, processes: int, program: str) -> dict[str, float]:
    """Both rates on the first points of one network, the median of five runs of ours."""
    branches, scale, emf = network(lanes)
    print(f"{branches.nodes} nodes, {branches.count} branches, {len(branches.latches)} relays, {lanes} points")
    solution = solve(branches, scale, emf)
    took = []
    for run in range(5):
        begin = time.perf_counter()
        solution = solve(branches, scale, emf)
        took.append(time.perf_counter() - begin)
        print(f"lanes, run {run + 1}: {lanes / took[-1]:,.0f} points/s")
    ours = lanes / float(np.median(took))

    processes = min(processes, lanes)
    shut = contact_scale(branches, scale, solution.latched)
    begin = time.perf_counter()
    found = [
        run_deck(program, deck(branches, shut[:, lane], emf[:, lane]), branches.nodes) for lane in range(processes)
    ]
    theirs = processes / (time.perf_counter() - begin)
    print(f"ngspice, {processes} processes: {theirs:,.1f} points/s")

    held = driven(branches, solution, scale)[:, :processes]
    apart = float(np.abs(np.array(found).T - solution.voltage[:, :processes])[held].max())
    print(f"largest difference at a driven node: {apart:.2g} V")
    if apart > 1e-3:
        sys.exit("the two disagree: the rates mean nothing")
    return {
        "nodes": branches.nodes,
        "lanes": lanes,
        "ours_points_per_s": round(ours),
        "ngspice_points_per_s": round(theirs, 1),
        "ratio": round(ours / theirs),
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--nodes", type=int, default=116, help="size of the synthetic network")
    parser.add_argument("--lanes", type=int, default=6144, help="operating points for the lanes")
    parser.add_argument("--processes", type=int, default=60, help="how many of them ngspice solves")
    chosen = parser.parse_args()
    program = shutil.which("ngspice")
    if program is None:
        sys.exit("ngspice is not on this machine's path")
    print(json.dumps(measure(synthetic(chosen.nodes), chosen.lanes, chosen.processes, program)))


if __name__ == "__main__":
    main()
