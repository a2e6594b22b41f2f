"""How soon the guide can be read on a slow phone, for every pair of the demonstration; how large and how dear it is.

Chromium opens each guide at 390 by 844 with its processor slowed down four times: once from the phone's own storage,
once over a slow mobile link (150 ms, 1.6 Mbit/s down: common practice for a slow 4G), with an empty cache each time.
The first screen is readable at the first contentful paint of the front page (W3C, Paint Timing), which must come within
a second; the page answers to a tap once its script has run. The making of one pair's guide, plan and small sheets, from
the plan of the installation to the bytes for the phone and on paper, two at a time as `loomwright write` draws them,
must take less than three seconds by the clock, for which a person waits; the time of the processor is told beside it.

    python benchmarks/guide_phone.py [--runs 3]

The last line is one JSON object; times are medians (those of the making: of the same number of runs), the pair that
is slowest over the link is named, and the one that is slowest in the making.
"""

import argparse
import json
import shutil
import sys
import tempfile
import threading
import time
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from loomwright.documents.car import resolve, variants
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.papers.whole_set import printed_on, whole_set
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from loomwright.sheets import Form
from loomwright.sheets.together import render_each
from loomwright.starting.findings import with_start

FIRST_SCREEN_MS, LARGEST_KB, MAKING_S = 1000.0, 600.0, 3.0
SLOWER, DELAY_MS, DOWN_BYTES_S = 4, 150, 1.6e6 / 8
PHONE: Any = {"width": 390, "height": 844}
_PAINT = """() => new Promise(done => {
  const first = () => performance.getEntriesByName("first-contentful-paint")[0];
  if (first()) return done(first().startTime);
  new PerformanceObserver(() => { if (first()) done(first().startTime); }).observe({type: "paint", buffered: true});
})"""


def installations() -> dict[str, tuple[Installation, Shop]]:
    """One variant of each family with the first kit that fits it."""
    loaded = [one.document for one in load([Source(file=f, text=t) for f, t in demo_files().items()], MODELS)]
    (shop,) = [one for one in loaded if isinstance(one, Shop)]
    kits = [one for one in loaded if isinstance(one, Kit)]
    found: dict[str, tuple[Installation, Shop]] = {}
    for family in (one for one in loaded if isinstance(one, Vehicle)):
        records = [one for one in loaded if isinstance(one, Evidence) and one.vehicle == family.id]
        for kit in kits:
            plans = (match(resolve(family, choice, records), kit, shop) for choice in variants(family))
            plan = next((p for p in plans if isinstance(p, Installation)), None)
            if plan is not None:
                found.setdefault(family.id, (plan, shop))
    return found


def make(installation: Installation, shop: Shop) -> tuple[bytes, float, float]:
    """Return the guide for the phone, and how long the whole set took by the clock and of the processor [s]."""
    begin, worked = time.perf_counter(), time.process_time()
    proof = with_start(prove(installation))
    papers = whole_set(installation, proof, readings(installation), shop, {"tool": "benchmark"})
    wanted: list[tuple[str, Form]] = []
    for name in papers:
        wanted += [(name, "html"), *((name, form) for form in printed_on(name, shop))]
    drawn = render_each([(papers[name], form) for name, form in wanted])
    pages = dict(zip(wanted, drawn, strict=True))
    return pages["guide", "html"], time.perf_counter() - begin, time.process_time() - worked


def visit(browser: Browser, address: str, *, slow_link: bool) -> tuple[float, float]:
    """Return when the first screen was painted, and when the page answered [ms]."""
    context = browser.new_context(viewport=PHONE, device_scale_factor=2)
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    if slow_link:
        session.send("Network.enable")
        link = {"offline": False, "latency": DELAY_MS, "downloadThroughput": DOWN_BYTES_S, "uploadThroughput": 1e5}
        session.send("Network.emulateNetworkConditions", link)
    page.goto(address, wait_until="load")
    painted = float(page.evaluate(_PAINT))
    answered = float(page.evaluate("() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"))
    assert page.locator(".front h1").inner_text()
    context.close()
    return painted, answered


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--runs", type=int, default=3)
    runs = parser.parse_args().runs
    path = shutil.which("chromium")
    if path is None:
        sys.exit("needs chromium, which this machine does not have")
    made: dict[str, tuple[float, float, float]] = {}
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        for family, (installation, shop) in installations().items():
            turns = [make(installation, shop) for _ in range(runs)]
            page = turns[0][0]
            (Path(folder) / f"{family}.html").write_bytes(page)
            made[family] = (len(page) / 1000, median(turn[1] for turn in turns), median(turn[2] for turn in turns))
        quiet = type("Quiet", (SimpleHTTPRequestHandler,), {"log_message": lambda *_: None})
        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(quiet, directory=folder))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        worst = {"stored_first_ms": 0.0, "stored_answers_ms": 0.0, "linked_first_ms": 0.0, "linked_answers_ms": 0.0}
        slowest = ""
        for family, (kilobytes, seconds, worked) in made.items():
            stored = [visit(browser, (Path(folder) / f"{family}.html").as_uri(), slow_link=False) for _ in range(runs)]
            address = f"http://127.0.0.1:{server.server_port}/{family}.html"
            linked = [visit(browser, address, slow_link=True) for _ in range(runs)]
            times = [median(run[i] for run in each) for each in (stored, linked) for i in (0, 1)]
            told = ", ".join(f"{ms:.0f} ms" for ms in times)
            making = f"made in {seconds:.2f} s, {worked:.2f} s of processor"
            print(f"{family}: {kilobytes:.0f} kB, {making}; first screen and answer: {told}")
            slowest = family if times[2] > worst["linked_first_ms"] else slowest
            worst = {key: max(value, ms) for (key, value), ms in zip(worst.items(), times, strict=True)}
        browser.close()
        server.shutdown()
    result: dict[str, Any] = {key: round(value) for key, value in worst.items()}
    result |= {
        "largest_kb": round(max(kb for kb, _, _ in made.values())),
        "making_s": round(max(s for _, s, _ in made.values()), 2),
        "processor_s": round(max(s for _, _, s in made.values()), 2), "pairs": len(made), "slowest": slowest,
        "slowest_made": max(made, key=lambda family: made[family][1]),
    }  # fmt: skip
    print(json.dumps(result))
    good = (
        max(result["stored_first_ms"], result["linked_first_ms"]) < FIRST_SCREEN_MS
        and result["largest_kb"] < LARGEST_KB and result["making_s"] < MAKING_S
    )  # fmt: skip
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
