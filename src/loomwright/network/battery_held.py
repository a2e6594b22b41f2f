"""The circuit with its battery held at a voltage, as it is while somebody else keeps account of battery and engine.

The battery becomes stiff, the alternator and the charging level are left out, and so are the starter's windings: the
machine that turns the engine is reckoned apart, and the network tells only whether it is switched on.
"""

from collections.abc import Sequence

import numpy as np

from loomwright.network.branches import OPEN_RATIO, FloatArray
from loomwright.network.compiling import Compiled
from loomwright.network.paths import BATTERY
from loomwright.network.shapes import BATTERY_V

__all__ = ["hold_battery", "starter_motors"]

_STIFF = 1e5  # the battery's conductance times this holds the node at the voltage that is asked about


def starter_motors(compiled: Compiled) -> tuple[int, ...]:
    """Return the rows of the starters' windings."""
    return tuple(
        row for row, e in enumerate(compiled.netlist.elements) if e.id.endswith("/starter-motor")
    )


def hold_battery(compiled: Compiled, scale: FloatArray, emf: FloatArray, volts: Sequence[float] | FloatArray) -> None:
    """Hold the battery at a voltage in each lane, by changing scales and EMFs in place.

    Parameters
    ----------
    compiled
        The circuit.
    scale
        Scale of each branch, shape (B, L).
    emf
        EMF of each branch, shape (B, L) [V].
    volts
        At the battery, one for each lane, zero or more [V].
    """
    at = np.asarray(volts, dtype=np.float64)
    battery = compiled.element["v:battery"]
    scale[battery] = _STIFF
    emf[battery] = at
    for row in (compiled.element["v:battery-charging"], compiled.element["v:alternator"], *starter_motors(compiled)):
        scale[row] = OPEN_RATIO
    # A polled input's pull-up shows the mean of its pulses, a share of whatever the battery has.
    polled = [
        row for row, e in enumerate(compiled.netlist.elements)
        if e.kind == "pull" and e.a == BATTERY and e.emf_v != 0.0
    ]  # fmt: skip
    emf[polled] *= at / BATTERY_V
