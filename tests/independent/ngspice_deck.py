"""One lane of a network as a deck for ngspice, and many lanes through one run of the program.

Contacts are frozen where the solver found the relays, because hysteretic switches make the program's Newton iteration
hunt. Every leak is an explicit resistor: the program's own ``rshunt`` would load its internal nodes as well. A branch
with several segments is a behavioural current source with the same table of points.
"""

import subprocess
import tempfile
from pathlib import Path

import numpy as np

from loomwright.network.branches import Branches, FloatArray

__all__ = ["OPTIONS", "deck", "elements_of", "run_deck", "solve_decks"]

OPTIONS = ".options gmin=1e-15 abstol=1e-13 vntol=1e-9 reltol=1e-7 itl1=1000"

_REACH = 400.0
"""Beyond the last break a table goes on this far, so that no table is left during the iteration [V]."""


def _node(number: int) -> str:
    return "0" if number < 0 else f"n{number}"


def elements_of(branches: Branches, scale: FloatArray, emf: FloatArray, leak: float) -> list[str]:
    """The lines of every leak and branch of one lane."""
    lines = [f"rl{node} n{node} 0 {1.0 / leak!r}" for node in range(branches.nodes)]
    for row in range(branches.count):
        a, b = _node(int(branches.a[row])), _node(int(branches.b[row]))
        breaks = branches.breaks[row][np.isfinite(branches.breaks[row])]
        k, e = float(scale[row]), float(emf[row])
        if not breaks.size:
            slope, intercept = float(branches.g[row, 0]), float(branches.i0[row, 0])
            lines.append(f"r{row} {a} {b} {1.0 / (k * slope)!r}")
            shift = k * (intercept - slope * e)
            if shift:
                lines.append(f"i{row} {a} {b} dc {shift!r}")
            continue
        at = np.concatenate([[breaks[0] - _REACH], breaks, [breaks[-1] + _REACH]])
        piece = np.concatenate([[0], np.arange(len(breaks)), [len(breaks)]])
        current = k * (branches.g[row, piece] * at + branches.i0[row, piece])
        table = ",".join(f"{float(x)!r},{float(y)!r}" for x, y in zip(at, current, strict=True))
        lines.append(f"b{row} {a} {b} i=pwl(v({a},{b})-({e!r}),{table})")
    return lines


def deck(branches: Branches, scale: FloatArray, emf: FloatArray, leak: float = 1e-9) -> str:
    """A whole deck of one lane that prints every node voltage; `scale` has its contacts where they stand."""
    names = [f"v(n{node})" for node in range(branches.nodes)]
    prints = [f"print {' '.join(names[first : first + 40])}" for first in range(0, len(names), 40)]
    lines = ["* one operating point", *elements_of(branches, scale, emf, leak), OPTIONS]
    control = [".control", "set numdgt=12", "op", *prints, ".endc", ".end", ""]
    return "\n".join([*lines, *control])


def run_deck(program: str, text: str, nodes: int) -> FloatArray:
    """Node voltages of one deck, one process."""
    done = subprocess.run([program, "-b"], input=text, capture_output=True, text=True, check=False, timeout=120)
    found = np.full(nodes, np.nan)
    for line in done.stdout.splitlines():
        name, _, value = line.partition(" = ")
        if name.startswith("v(n") and value:
            found[int(name[3:-1])] = float(value)
    if np.isnan(found).any():
        msg = f"ngspice gave no operating point:\n{done.stdout}\n{done.stderr}"
        raise RuntimeError(msg)
    return found


def solve_decks(program: str, branches: Branches, scale: FloatArray, emf: FloatArray, leak: float = 1e-9) -> FloatArray:
    """Node voltages of every lane from one process: a batch of circuits, each loaded, solved and written in turn.

    Shape (N, L); a lane for which the program finds no operating point is not a number.
    """
    lanes = scale.shape[1]
    found = np.full((branches.nodes, lanes), np.nan)
    with tempfile.TemporaryDirectory() as folder:
        script = ["* many operating points", ".control", "set filetype=ascii", "set numdgt=15", "set noaskquit"]
        for lane in range(lanes):
            lines = elements_of(branches, scale[:, lane], emf[:, lane], leak)
            body = [f"* lane {lane}", *lines, OPTIONS, ".op", ".end"]
            (Path(folder) / f"{lane}.cir").write_text("\n".join([*body, ""]), encoding="ascii")
            script += [f"source {lane}.cir", "op", f"write {lane}.raw", "destroy all", "remcirc"]
        script += ["quit", ".endc", ".end", ""]
        (Path(folder) / "all.cir").write_text("\n".join(script), encoding="ascii")
        subprocess.run([program, "-b", "all.cir"], cwd=folder, capture_output=True, text=True, check=False, timeout=300)
        for lane in range(lanes):
            file = Path(folder) / f"{lane}.raw"
            if file.exists():
                _read_raw(file, found[:, lane])
    return found


def _read_raw(file: Path, into: FloatArray) -> None:
    """Read an ASCII raw file with one point."""
    lines = file.read_text(encoding="latin-1").splitlines()
    first, values = lines.index("Variables:"), lines.index("Values:")
    names = [line.split()[1] for line in lines[first + 1 : values]]
    numbers = [float(line.split()[-1]) for line in lines[values + 1 :] if line.strip()]
    for name, number in zip(names, numbers, strict=True):
        if name.startswith(("v(n", "n")):
            into[int(name.removeprefix("v(").rstrip(")")[1:])] = number
