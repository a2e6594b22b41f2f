"""Time to plan, prove and compute all readings of the demonstration's kit in its car, in one warm process.

Every run begins with fresh documents, so that nothing remembered from the run before helps; imports are not counted.
The whole must take less than a second.

    python benchmarks/match.py [--runs 7]

The last line is one JSON object; its times are medians.
"""

import argparse
import json
import sys
import time
from itertools import pairwise
from statistics import median

from loomwright.documents.car import resolve
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match

LIMIT_S = 1.0
FILES = ("vehicles/kestrin-fallow.yaml", "kits/rookery-4.yaml", "shop.yaml", "evidence/kestrin-fallow.yaml")
CHOICE = {"year": "2014", "body": "wagon", "engine": "3.3", "trim": "touring"}


def run() -> dict[str, float]:
    """One run from the text of the documents to the readings; times [s]."""
    clock = [time.perf_counter()]
    loaded = load([Source(file=name, text=demo_files()[name]) for name in FILES], MODELS)
    vehicle, kit, shop, evidence = (one.document for one in loaded)
    if not (isinstance(vehicle, Vehicle) and isinstance(kit, Kit) and isinstance(shop, Shop)):
        sys.exit("the demonstration's files are of other kinds")
    car = resolve(vehicle, CHOICE, [evidence] if isinstance(evidence, Evidence) else [])
    clock.append(time.perf_counter())
    installation = match(car, kit, shop)
    if not isinstance(installation, Installation):
        sys.exit("the demonstration's kit is refused")
    clock.append(time.perf_counter())
    proof = prove(installation)
    clock.append(time.perf_counter())
    table = readings(installation)
    clock.append(time.perf_counter())
    load_s, match_s, prove_s, readings_s = (after - before for before, after in pairwise(clock))
    return {
        "load_s": load_s, "match_s": match_s, "prove_s": prove_s, "readings_s": readings_s,
        "total_s": match_s + prove_s + readings_s, "nodes": proof.nodes, "states": proof.points,
        "readings": len(table.readings), "findings": len(proof.findings),
    }  # fmt: skip


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=7)
    runs = [run() for _ in range(parser.parse_args().runs)]
    for number, found in enumerate(runs, 1):
        print(f"run {number}: " + ", ".join(f"{key} {found[key]:.3f}" for key in found if key.endswith("_s")))
    result = {key: round(median(found[key] for found in runs), 4) for key in runs[0]}
    result = {key: value if key.endswith("_s") else int(value) for key, value in result.items()}
    print(json.dumps(result))
    return 0 if result["total_s"] < LIMIT_S else 1


if __name__ == "__main__":
    sys.exit(main())
