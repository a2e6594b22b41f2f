"""Operating points by ngspice as a shared library, in this process: a circuit is handed over as text, no file written.

The decks are those of `ngspice_deck`. The library keeps global state, so it is loaded once and used by one thread.
"""

import ctypes
from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np

from loomwright.network.branches import Branches, FloatArray
from tests.independent.ngspice_deck import OPTIONS, elements_of

__all__ = ["solve_points"]


class _Complex(ctypes.Structure):
    _fields_ = (("real", ctypes.c_double), ("imaginary", ctypes.c_double))


class _Vector(ctypes.Structure):
    # Source: ngspice manual, chapter "ngspice as shared library", struct vector_info of sharedspice.h.
    _fields_ = (
        ("name", ctypes.c_char_p),
        ("type", ctypes.c_int),
        ("flags", ctypes.c_short),
        ("values", ctypes.POINTER(ctypes.c_double)),
        ("complexes", ctypes.POINTER(_Complex)),
        ("length", ctypes.c_int),
    )


@cache
def _library(file: str) -> tuple[Any, list[str], tuple[Any, ...]]:
    """Load and start the library; returns it, what it prints, and the callbacks, which must stay alive."""
    library = ctypes.CDLL(file)
    printed: list[str] = []

    def prints(text: bytes, number: int, user: int) -> int:
        printed.append(text.decode("latin-1"))
        return 0

    def leaves(status: int, now: bool, quit_: bool, number: int, user: int) -> int:
        printed.append(f"the library ends with status {status}")
        return 0

    text = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)
    ends = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_int, ctypes.c_bool, ctypes.c_bool, ctypes.c_int, ctypes.c_void_p)
    kept: tuple[Any, ...] = (text(prints), ends(leaves))
    library.ngGet_Vec_Info.restype = ctypes.POINTER(_Vector)
    library.ngGet_Vec_Info.argtypes = (ctypes.c_char_p,)
    library.ngSpice_Command.argtypes = (ctypes.c_char_p,)
    library.ngSpice_Init(kept[0], None, kept[1], None, None, None, None)
    return library, printed, kept


def solve_points(
    file: str, branches: Branches, scale: FloatArray, emf: FloatArray, leak: float = 1e-9,
    say: Callable[[str], None] = lambda text: None,
) -> FloatArray:  # fmt: skip
    """Node voltages of every lane, shape (N, L); a lane without an operating point is not a number.

    `file` is the shared library; `scale` has its contacts where they stand.
    """
    library, printed, _ = _library(file)
    lanes = scale.shape[1]
    found = np.full((branches.nodes, lanes), np.nan)
    for lane in range(lanes):
        body = ["one operating point", *elements_of(branches, scale[:, lane], emf[:, lane], leak), OPTIONS, ".end"]
        lines = (ctypes.c_char_p * (len(body) + 1))(*(line.encode("ascii") for line in body), None)
        printed.clear()
        if library.ngSpice_Circ(lines) != 0 or library.ngSpice_Command(b"op") != 0:
            say("\n".join(printed))
        else:
            for node in range(branches.nodes):
                vector = library.ngGet_Vec_Info(f"n{node}".encode())
                if vector and vector.contents.length == 1:
                    found[node, lane] = vector.contents.values[0]
        for command in (b"destroy all", b"remcirc"):
            library.ngSpice_Command(command)
    return found
