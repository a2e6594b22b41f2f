"""The compiled loops of a solve: when they are used, and where they are kept.

They need the package numba, which nobody has to have: without it the numpy lanes do the same work and give the same
bits, only slower. Getting the loops ready takes time as well. Half a second where a copy compiled before is found in
the user's cache folder, twenty of compiling where not. So a process begins with the numpy lanes and goes over to the
loops when it has had two seconds' work, or twenty seconds' where it must compile: at worst that doubles its time, and a
command about one car never waits. The work is counted and not timed, so that the same calls go the same way.

The variable LOOMWRIGHT_KERNEL of the environment decides otherwise: ``off`` never uses the loops, ``always`` gets them
ready at the first solve (and so fills the cache), ``auto`` is what is told above.
"""

import hashlib
import os
import platform
import shutil
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from loomwright.errors import LoomwrightError
from loomwright.network import (
    kernel_code,
    kernel_eights,
    kernel_group,
    kernel_linear,
    kernel_plan,
    kernel_relays,
    kernel_segments,
)  # fmt: skip
from loomwright.network.branches import OPEN_RATIO, BoolArray, FloatArray
from loomwright.network.kernel_code import Answer
from loomwright.network.kernel_plan import order_of, plan_of
from loomwright.network.pattern import Pattern
from loomwright.network.segments import SLACK_V
from loomwright.network.solution import Solution
from loomwright.network.stamping import Layout

__all__ = ["VARIABLE", "Kernel", "Loops", "cache_folder", "kernel", "wished"]

VARIABLE = "LOOMWRIGHT_KERNEL"

_PER_CALL = 100
"""A call costs the numpy lanes about as much as so many lanes more."""

_READY_AFTER = 20_000_000
"""Branches times lanes after which loops that are compiled are loaded: about two seconds of the numpy lanes. To plan,
prove, bound and slip on the largest pair of the demonstration takes a third of it, and would not win by the loading."""

_COMPILE_AFTER = 200_000_000
"""The same for loops that must be compiled: about twenty seconds."""


def cache_folder() -> Path:
    """Where a user's caches are, by the custom of each system."""
    if sys.platform == "win32":
        root = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        root = str(Path.home() / "Library" / "Caches")
    else:
        root = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(root) / "loomwright" / "kernel"


def wished() -> str:
    """Return what the environment says: 'off', 'auto' or 'always'.

    Raises
    ------
    LoomwrightError
        Where it says something else.
    """
    wish = os.environ.get(VARIABLE, "auto") or "auto"
    if wish not in {"off", "auto", "always"}:
        msg = f"{VARIABLE}: found {wish!r}, expected off, auto or always; correct or unset the variable"
        raise LoomwrightError(msg)
    return wish


@dataclass(frozen=True, slots=True, kw_only=True)
class Loops:
    """The compiled functions."""

    solve_lanes: Callable[..., None]
    eliminate_lanes: Callable[..., None]

    def solve(
        self, layout: Layout, scale: FloatArray, emf: FloatArray, latched: BoolArray, *, hold: BoolArray, leak: float
    ) -> tuple[Solution, BoolArray]:
        """Find the operating point of every lane as `rounds.run` does, and tell which lanes are left to that."""
        branches, lanes = layout.branches, latched.shape[1]
        solution = Solution(
            voltage=np.empty((branches.nodes, lanes)),
            current=np.empty((branches.count, lanes)),
            segment=np.repeat(branches.start[:, None].astype(np.int8), lanes, axis=1),
            latched=np.empty(latched.shape, dtype=np.bool_),
            outcome=np.empty(lanes, dtype=np.int8),
            restless=np.empty(latched.shape, dtype=np.bool_),
            kcl_a=np.empty(lanes),
        )
        left = np.zeros(lanes, dtype=np.bool_)
        answer = Answer(
            voltage=solution.voltage,
            current=solution.current,
            segment=solution.segment,
            latched=solution.latched,
            outcome=solution.outcome,
            restless=solution.restless,
            kcl_a=solution.kcl_a,
            left=left,
        )
        plan = plan_of(layout, emf)
        self.solve_lanes(plan, _plain(scale), _plain(emf), _plain(latched), _plain(hold), leak, answer)
        return solution, left

    def eliminate(self, pattern: Pattern, rows: FloatArray) -> FloatArray:
        """Solve one linear network for each lane; voltages in node order, as `lanes.eliminate` gives them."""
        voltage = np.empty((pattern.nodes, rows.shape[1]))
        self.eliminate_lanes(order_of(pattern), _plain(rows), voltage)
        return voltage


def _plain(array: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """An array of the one form that the loops are compiled for."""
    return np.require(array, requirements=["C", "A", "W"])


@dataclass(slots=True, kw_only=True)
class Kernel:
    """Decides for one process, and remembers why the loops are not there where they are not.

    Parameters
    ----------
    folder
        Where compiled loops are kept; None keeps them nowhere.
    work
        Branches times lanes that the numpy lanes have had so far.
    trouble
        Why the loops cannot be had, or empty.
    """

    folder: Path | None = field(default_factory=lambda: _home(cache_folder))
    work: int = 0
    trouble: str = ""
    _loops: Loops | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def loops(self, branches: int, lanes: int) -> Loops | None:
        """The loops for a solve of so much work, or None where the numpy lanes are to do it."""
        wish = wished()
        if wish == "off" or self.trouble:
            return None
        if self._loops is None:
            if wish == "auto":
                self.work += branches * (lanes + _PER_CALL)
                if self.work < _READY_AFTER or (self.work < _COMPILE_AFTER and not self.is_compiled()):
                    return None
            with self._lock:
                if self._loops is None and not self.trouble:
                    self._get_ready()
        return self._loops

    def is_compiled(self) -> bool:
        """Tell whether loops of this program lie ready on this machine; notes the trouble where there can be none."""
        place = self._place()
        return place is not None and (place / _MARK).exists()

    def _place(self) -> Path | None:
        """Folder of the loops of this program on this machine; notes the trouble where there can be none."""
        try:
            return None if self.folder is None else self.folder / _fingerprint()
        except Exception as error:  # whatever the compiler meets, a solve must not fail for it
            self.trouble = _told(error)
            return None

    def _get_ready(self) -> None:
        """Load or compile the loops; any failure of the compiler or its cache leaves the numpy lanes at work."""
        place = self._place()
        if self.trouble:
            return
        try:
            self._loops = _compile(place if place is not None and _writable(place) else None)
        except Exception as error:  # the same
            self.trouble = _told(error)
            if place is not None:
                shutil.rmtree(place, ignore_errors=True)  # what was damaged is made again by the next process


def _told(error: Exception) -> str:
    return "numba is not installed" if isinstance(error, ModuleNotFoundError) else f"{type(error).__name__}: {error}"


_MODULES = (
    kernel_code, kernel_eights, kernel_group, kernel_linear, kernel_plan, kernel_relays, kernel_segments,
)  # fmt: skip
"""What the loops are made from."""

_MARK = "compiled"
"""A file beside the compiled loops which says that they are whole."""


def _home(folder: Callable[[], Path]) -> Path | None:
    try:
        return folder()
    except RuntimeError:  # a user without a home folder
        return None


def _writable(place: Path) -> bool:
    """Whether files can be put there; a copy that is there already can be used anyway."""
    try:
        place.mkdir(parents=True, exist_ok=True)
        trial = place / f"trial-{os.getpid()}"
        trial.write_bytes(b"")
        trial.unlink()
    except OSError:
        return False
    return True


@cache
def _fingerprint() -> str:
    """A name for what the loops are made from: their source, the numbers in it, the compiler and the machine."""
    import llvmlite.binding
    import numba

    parts = [Path(str(module.__file__)).read_bytes() for module in _MODULES]
    parts += [repr((OPEN_RATIO, SLACK_V, numba.__version__, np.__version__, sys.version, platform.machine())).encode()]
    parts += [llvmlite.binding.get_host_cpu_name().encode()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:24]


def _compile(place: Path | None) -> Loops:
    """Compile the loops, or load them from `place` where they stand there; then try them on the smallest network."""
    import numba
    from numba.extending import register_jitable

    for helper in kernel_code.HELPERS:
        register_jitable(inline="always" if helper is kernel_code.IN_PLACE else "never")(helper)
    config: Any = numba.config
    before = config.CACHE_DIR, config.SLP_VECTORIZE
    try:
        # The eight numbers of a row are to share a register; that pass of the compiler is off by default.
        config.CACHE_DIR, config.SLP_VECTORIZE = "" if place is None else str(place), 1
        made = [
            numba.njit(nogil=True, error_model="numpy", cache=place is not None)(function)
            for function in (kernel_code.solve_lanes, kernel_linear.eliminate_lanes)
        ]
        loops = Loops(solve_lanes=made[0], eliminate_lanes=made[1])
        _try(loops)
    finally:
        config.CACHE_DIR, config.SLP_VECTORIZE = before
    for function in made:
        function.disable_compile()  # arrays of another form are a mistake; they must not cost ten seconds unseen
    if place is not None:
        (place / _MARK).touch()
    return loops


def _try(loops: Loops) -> None:
    from loomwright.network.branches import Branches
    from loomwright.network.stamping import lay_out

    branches = Branches(
        nodes=1,
        a=np.array([0, 0]),
        b=np.array([-1, -1]),
        breaks=np.array([[np.inf], [0.5]]),
        g=np.array([[1.0, 1.0], [0.0, 1.0]]),
        i0=np.array([[0.0, 0.0], [0.0, -0.5]]),
        start=np.array([0, 0]),
    )
    layout, none = lay_out(branches), np.zeros((0, 1), dtype=np.bool_)
    solution, left = loops.solve(layout, np.ones((2, 1)), np.array([[4.5], [0.0]]), none, hold=none, leak=1e-9)
    rows = np.ones((layout.pattern.rows, 1))
    if left.any() or abs(solution.voltage[0, 0] - 2.5) > 1e-6 or loops.eliminate(layout.pattern, rows)[0, 0] != 1.0:
        msg = "the compiled loops do not solve the smallest network"
        raise ArithmeticError(msg)


kernel = Kernel()
"""The one of this process."""
