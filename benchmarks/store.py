"""How quickly a store of 2 000 vehicles and 20 000 jobs saves, finds, lists, backs up and comes back.

    python benchmarks/store.py [--vehicles 2000] [--jobs 20000] [--place ADDRESS]

The store is filled in a few transactions, so that filling does not measure the disk; each save that is measured waits
for the disk as always. The last line is one JSON object, times in ms.
"""

import argparse
import json
import random
import tempfile
import time
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

from loomwright.store import saving
from loomwright.store.store import Store, open_store

TIMES = 200


def fill(store: Store, by: str, vehicles: int, jobs: int) -> None:
    texts = [
        one.read_text(encoding="utf-8")
        for one in sorted((files("loomwright") / "demo_shop" / "vehicles").iterdir(), key=str)
    ]
    documents = [("vehicle", f"car-{n:05d}", texts[n % len(texts)]) for n in range(vehicles)]
    documents += [("job", f"2026-{n:05d}", job(n)) for n in range(jobs)]
    for start in range(0, len(documents), 2000):
        with store.database.writing() as connection:
            for kind, id, text in documents[start : start + 2000]:
                own = text.split("\nid: ")[0] + f"\nid: {id}\n" + text.split("\nid: ")[1].split("\n", 1)[1]
                saving.save(connection, kind=kind, id=id, text=own, by=by, at=store.now(), base=None)


def job(number: int) -> str:
    facts = f"vehicle: car-{number % 2000:05d}\nkit: rookery-4\nbuyer: p-{number:06x}\nnote: word{number % 997}\n"
    return f"kind: job\nid: x\n{facts}"


def measured(times: int, act: Callable[[int], object]) -> dict[str, float]:
    """Call so often, and return the middle one and the slowest of twenty [ms]."""
    took = []
    for number in range(times):
        start = time.perf_counter()
        act(number)
        took.append((time.perf_counter() - start) * 1000)
    took.sort()
    return {"p50": round(took[times // 2], 2), "p95": round(took[times * 95 // 100], 2)}


def seconds(act: Callable[[], object]) -> float:
    start = time.perf_counter()
    act()
    return round(time.perf_counter() - start, 1)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--vehicles", type=int, default=2000)
    parser.add_argument("--jobs", type=int, default=20_000)
    parser.add_argument("--place", default="")
    options = parser.parse_args()
    chance = random.Random(3)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with open_store(options.place or folder / "shop.db") as store, open_store(folder / "other.db") as other:
            by = store.add_person("Wren").id
            result: dict[str, object] = {"fill_s": seconds(lambda: fill(store, by, options.vehicles, options.jobs))}

            def any_job() -> str:
                return f"2026-{chance.randrange(options.jobs):05d}"

            def save(number: int) -> None:
                base = store.latest("job", any_job())
                store.save("job", base.id, base.text + f"n{number}: {number}\n", by=by, base=base)

            for what, act in {
                "save": save,
                "latest": lambda _: store.latest("vehicle", f"car-{chance.randrange(options.vehicles):05d}"),
                "list of 50": lambda _: store.list("job", after=any_job(), limit=50),
                "recent 50": lambda _: store.recent(["job"]),
                "count": lambda _: store.count("job"),
                "search, rare word": lambda n: store.search(f"word{n % 997}"),
                "search, word of all": lambda _: store.search("rookery"),
                "search, two letters": lambda _: store.search("wo ro"),
                "serial": lambda _: store.new_serial(by=by),
            }.items():
                result[what] = measured(TIMES, act)
                print(what, result[what])
            result["backup_s"] = seconds(lambda: store.backup(folder / "backup"))
            result["restore_s"] = seconds(lambda: other.restore(folder / "backup"))
            result["archive_s"] = seconds(lambda: store.export_archive(folder / "shop.zip"))
        with open_store(folder / "third.db") as third:
            result["import_s"] = seconds(lambda: third.import_archive(folder / "shop.zip", by=by))
        result["file_mb"] = round((folder / "backup").stat().st_size / 1e6, 1)
        result["archive_mb"] = round((folder / "shop.zip").stat().st_size / 1e6, 1)
    print(json.dumps(result))


if __name__ == "__main__":
    main()
