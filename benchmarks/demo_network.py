"""Complete operating points a second on the demonstration's joined circuit, against one process of ngspice for each.

The circuit is car and kit together, with hundreds of nodes. Points are states of its stories, each with a sound car
drawn at random; see `solver.py` for how the two are compared.

    python benchmarks/demo_network.py [--lanes 4096] [--processes 40] [--rounds 5]

The last line is one JSON object.
"""

import argparse
import json
import shutil
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))  # for what the tests and the other benchmark use as well

from benchmarks.solver import measure, reached
from loomwright.network.branches import Branches, FloatArray
from loomwright.network.compiling import scale_of
from tests import demonstration


def demo_points(lanes: int) -> tuple[Branches, FloatArray, FloatArray]:
    """The car with most circuits: its states over and over, no two points alike."""
    solved = demonstration.solved(demonstration.V6)
    compiled = solved.compiled
    order = np.random.default_rng(17).permutation(np.arange(lanes) % solved.points)
    factor, emf = demonstration.drawn_parameters(compiled, lanes, seed=18)
    return compiled.branches, scale_of(compiled.netlist, solved.states)[:, order] * factor, emf


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lanes", type=int, default=4096, help="operating points for this package")
    parser.add_argument("--processes", type=int, default=40, help="how many of them ngspice solves")
    parser.add_argument("--rounds", type=int, default=5)
    chosen = parser.parse_args()
    program = shutil.which("ngspice")
    if program is None:
        sys.exit("ngspice is not on this machine's path")
    result = measure(demo_points, chosen.lanes, chosen.processes, rounds=chosen.rounds, program=program)
    print(json.dumps(result))
    return 0 if reached(result) else 1


if __name__ == "__main__":
    sys.exit(main())
