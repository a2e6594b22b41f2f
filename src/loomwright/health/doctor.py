"""The self-check: everything that must be in order for the workbench to do its work, in clear words."""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from loomwright.health.check import Check, checked
from loomwright.health.demo_result import demo_digest
from loomwright.health.loops import check_loops
from loomwright.health.rendering import check_fonts, check_typesetter
from loomwright.health.versions import check_packages, check_python
from loomwright.network.kernel import VARIABLE
from loomwright.store.store import Store

__all__ = ["check_demo", "check_disk", "check_store", "doctor"]

_LEAST_FREE = 500_000_000
"""A backup, the sheets of a few jobs and the log, with room to spare: common practice [bytes]."""
_MOST_S = 120.0


def doctor(store: Store | None, folder: Path) -> tuple[Check, ...]:
    """Look at everything.

    Parameters
    ----------
    store
        The shop's store; None where there is none yet.
    folder
        Where the store is, or would be.
    """
    again = "Install Loomwright once more."
    return (
        checked("Python", check_python, again),
        checked("Packages", check_packages, again),
        checked("Fonts", check_fonts, again),
        checked("Typesetter", check_typesetter, again),
        checked("Compiled loops", check_loops, f"Set {VARIABLE} to off, auto or always, or unset it."),
        checked("Store", lambda: check_store(store), "Take the last backup that is sound: docs/how-to has the steps."),
        checked("Disk", lambda: check_disk(folder), "Give the folder of the store to whoever starts the workbench."),
        checked("Demonstration", check_demo, again),
    )


def check_store(store: Store | None) -> Check:
    """Look through everything that is kept: damage of the file, and content that is other than was saved."""
    if store is None:
        return Check(name="Store", good=True, said="there is none yet")
    count = store.check()
    return Check(name="Store", good=True, said=f"{count} revisions and attachments are as they were saved")


def check_disk(folder: Path, least: int = _LEAST_FREE) -> Check:
    """Look whether there is room, and whether a file can be written [bytes]."""
    free = shutil.disk_usage(folder).free
    with tempfile.NamedTemporaryFile(dir=folder, prefix=".loomwright-check-") as file:
        file.write(b"written")
        file.flush()
        os.fsync(file.fileno())
    good = free >= least
    do = "" if good else f"Make room: {least / 1e9:g} GB should be free, for backups and sheets."
    return Check(name="Disk", good=good, said=f"{free / 1e9:.1f} GB are free, and a file can be written", do=do)


def check_demo() -> Check:
    """Plan and prove one pair of the demonstration here and in a fresh process, and compare the two results."""
    here = demo_digest()
    # Another seed of hashes: a result that depends on the order of a set would differ.
    environment = {**os.environ, "PYTHONHASHSEED": "4711"}
    fresh = subprocess.run(
        [sys.executable, "-m", "loomwright.health.demo_result"], env=environment, capture_output=True, text=True,
        timeout=_MOST_S, check=False,
    )  # fmt: skip
    there = fresh.stdout.strip()
    good = fresh.returncode == 0 and there == here
    said = f"one pair planned and proved twice, the same result {here[:12]}" if good else (
        f"found {here[:12]} here and {there[:12] or 'no result'} in a fresh process, expected the same"
    )
    do = "" if good else "Save a problem report: the program does not compute the same twice on this machine."
    return Check(name="Demonstration", good=good, said=said, do=do)
