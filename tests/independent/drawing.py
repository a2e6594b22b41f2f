"""A network put together branch by branch, for tests: plain branches, diodes, lamps, limited drivers, relays."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from loomwright.network.branches import Branches, FloatArray, Latch

__all__ = ["Drawing", "from_drawing"]

Table = tuple[list[float], list[float], list[float]]


@dataclass(slots=True)
class Drawing:
    """Branches while a network is being put together."""

    nodes: int = 0
    ends: list[tuple[int, int]] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)
    scale: list[float] = field(default_factory=list)
    emf: list[float] = field(default_factory=list)
    latches: list[Latch] = field(default_factory=list)

    def node(self) -> int:
        self.nodes += 1
        return self.nodes - 1

    def branch(
        self,
        a: int,
        b: int,
        siemens: float,
        emf: float = 0.0,
        breaks: Sequence[float] = (),
        slopes: Sequence[float] = (1.0,),
    ) -> int:
        """Add a branch whose characteristic passes through zero and has these slopes between its breaks."""
        self.ends.append((a, b))
        self.tables.append(_table(list(breaks), list(slopes)))
        self.scale.append(siemens)
        self.emf.append(emf)
        return len(self.ends) - 1

    def diode(self, a: int, b: int) -> int:
        return self.branch(a, b, 1.0, breaks=(0.7,), slopes=(1e-7, 40.0))

    def lamp(self, a: int, b: int, watts: float) -> int:
        # Rising and odd, less and less steep: a filament's resistance grows with its voltage.
        cold = 4.0 * watts / 12.0**2
        breaks = (-6.0, -2.0, -0.4, 0.4, 2.0, 6.0)
        return self.branch(a, b, cold, breaks=breaks, slopes=(0.22, 0.35, 0.6, 1.0, 0.6, 0.35, 0.22))

    def driver(self, a: int, b: int, ampere: float) -> int:
        # A high-side output: 0.1 ohm up to its limit, then nearly constant current; backwards its body diode as well.
        return self.branch(a, b, 1.0, breaks=(-0.7, 0.1 * ampere), slopes=(20.0, 10.0, 1e-3))

    def relay(self, coil: int, *, makes: int = -1, breaks: int = -1, pull_in_a: float, drop_out_a: float) -> None:
        """Add a relay with at most one contact of each kind; each further one is slower by a millisecond."""
        self.latches.append(
            Latch(
                coil=coil,
                pull_in_a=pull_in_a,
                drop_out_a=drop_out_a,
                makes=() if makes < 0 else (makes,),
                breaks=() if breaks < 0 else (breaks,),
                operate_s=0.005 + 0.001 * len(self.latches),
            )
        )


def _table(breaks: list[float], slopes: list[float]) -> Table:
    origin = sum(1 for voltage in breaks if voltage < 0.0)
    intercepts = [0.0] * len(slopes)
    for index in range(origin, len(breaks)):
        intercepts[index + 1] = intercepts[index] + (slopes[index] - slopes[index + 1]) * breaks[index]
    for index in range(origin, 0, -1):
        at = breaks[index - 1]
        intercepts[index - 1] = intercepts[index] + (slopes[index] - slopes[index - 1]) * at
    return breaks, slopes, intercepts


def from_drawing(drawing: Drawing) -> tuple[Branches, FloatArray, FloatArray]:
    """The network of a drawing with its nominal scale and EMF, one lane."""
    count = len(drawing.ends)
    width = max(len(slopes) for _, slopes, _ in drawing.tables)
    breaks = np.full((count, width - 1), np.inf)
    g = np.zeros((count, width))
    i0 = np.zeros((count, width))
    for row, (voltages, slopes, intercepts) in enumerate(drawing.tables):
        breaks[row, : len(voltages)] = voltages
        g[row, : len(slopes)] = slopes
        i0[row, : len(slopes)] = intercepts
        g[row, len(slopes) :] = slopes[-1]
        i0[row, len(slopes) :] = intercepts[-1]
    branches = Branches(
        nodes=drawing.nodes,
        a=np.array([a for a, _ in drawing.ends]),
        b=np.array([b for _, b in drawing.ends]),
        breaks=breaks,
        g=g,
        i0=i0,
        start=(breaks < 0.0).sum(axis=1),
        latches=tuple(drawing.latches),
    )
    return branches, np.array(drawing.scale)[:, None], np.array(drawing.emf)[:, None]
