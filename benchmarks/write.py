"""Time of the whole command `loomwright write` on the demonstration, from the start of the process to its end.

It reads the documents, plans, proves, computes the readings and draws the guide and the wiring plan for the phone and
on two papers. The whole must take less than three seconds.

    python benchmarks/write.py [--runs 5]

The last line is one JSON object; its time is the median.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

LIMIT_S = 3.0
CHOICE = ("year=2014", "body=wagon", "engine=3.3", "trim=touring")


def call(*words: str) -> tuple[float, str]:
    """Run the program and return how long it took [s] and what it told on the way."""
    begin = time.perf_counter()
    done = subprocess.run([sys.executable, "-m", "loomwright", *words], capture_output=True, text=True, check=False)
    took = time.perf_counter() - begin
    if done.returncode not in (0, 1) or "Traceback" in done.stderr:
        sys.exit(f"loomwright {words[0]} ended with {done.returncode}:\n{done.stderr}")
    return took, done.stderr


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    runs = parser.parse_args().runs
    took = []
    with tempfile.TemporaryDirectory() as folder:
        shop, out = Path(folder) / "shop", Path(folder) / "sheets"
        call("demo", str(shop))
        pair = (str(shop / "vehicles" / "kestrin-fallow.yaml"), str(shop / "kits" / "rookery-4.yaml"))
        for number in range(runs):
            seconds, told = call("write", *pair, "--with", *CHOICE, "--out", str(out))
            took.append(seconds)
            print(f"run {number + 1}: {seconds:.2f} s")
        print(told.rstrip())
        sizes = {path.name: path.stat().st_size for path in sorted(out.iterdir())}
    if "guide.html" not in sizes:
        sys.exit("no guide was written")
    result = {"write_s": round(median(took), 3), "slowest_s": round(max(took), 3), "bytes": sizes}
    print(json.dumps(result))
    return 0 if result["write_s"] < LIMIT_S else 1


if __name__ == "__main__":
    sys.exit(main())
