"""Seeded networks of the kind a car has, and seeded operating points on them, for tests and benchmarks.

Not a car: a battery, feeds with fuses, switches, limited drivers, relays, diodes, lamps and plain loads, joined as they
are in one, with values drawn from the ranges that are usual there. Faults are changes of scale: an open, a wire with
five ohms in series, a dead short to ground or to the battery.
"""

from dataclasses import dataclass

import numpy as np

from loomwright.network.branches import Branches, FloatArray, Latch
from tests.independent.drawing import Drawing, from_drawing

__all__ = ["OPEN_S", "SHORT_S", "Synthetic", "build", "draw_points", "random_network"]

OPEN_S = 1e-9
SHORT_S = 1e3
_UNUSED = 1e-13


@dataclass(frozen=True, slots=True, kw_only=True)
class Synthetic:
    """A network with its nominal values and what may happen to it."""

    branches: Branches
    scale: FloatArray
    emf: FloatArray
    wires: tuple[int, ...]
    switches: tuple[int, ...]
    shorts: tuple[int, ...]


def build(nodes: int, seed: int) -> Synthetic:
    """A network like a car's, with exactly this many nodes (40 or more)."""
    rng = np.random.default_rng(seed)
    net = Drawing()
    wires: list[int] = []
    switches: list[int] = []

    def wire(a: int, b: int) -> None:
        wires.append(net.branch(a, b, 1.0 / rng.uniform(0.003, 0.06)))

    post = net.node()
    net.branch(post, -1, 1.0 / 0.012, emf=12.6)
    grounds = [net.node() for _ in range(3)]
    for ground in grounds:
        wires.append(net.branch(ground, -1, 1.0 / rng.uniform(0.001, 0.005)))
    feeds = [net.node() for _ in range(4)]
    for feed in feeds:
        wire(post, feed)
    controls: list[int] = []
    while nodes - net.nodes >= 8:
        ground = int(rng.choice(grounds))
        feed = int(rng.choice(feeds))
        fused, load = net.node(), net.node()
        wires.append(net.branch(feed, fused, 1.0 / rng.uniform(0.002, 0.02)))
        kind = rng.integers(4)
        if kind == 0:  # A relay with its control circuit.
            command, coil_end, out = net.node(), net.node(), net.node()
            switches.append(net.driver(feed, command, 1.5))
            net.diode(command, coil_end)
            coil = net.branch(coil_end, ground, 1.0 / rng.uniform(75.0, 110.0))
            make = net.branch(fused, out, 1.0 / 0.01)
            pull_in = rng.uniform(0.055, 0.075)
            net.latches.append(
                Latch(
                    coil=coil,
                    pull_in_a=pull_in,
                    drop_out_a=pull_in * rng.uniform(0.2, 0.5),
                    makes=(make,),
                    operate_s=rng.uniform(0.004, 0.012),
                )
            )
            wire(out, load)
            controls.append(out)
        elif kind == 1:  # A change-over relay whose coil is fed by another circuit.
            source = int(rng.choice(controls)) if controls else feed
            coil_end, rest = net.node(), net.node()
            wire(source, coil_end)
            coil = net.branch(coil_end, ground, 1.0 / rng.uniform(75.0, 110.0))
            make = net.branch(fused, load, 1.0 / 0.01)
            break_ = net.branch(rest, load, 1.0 / 0.01)
            net.branch(rest, ground, 1.0 / rng.uniform(20.0, 200.0))
            net.latches.append(
                Latch(coil=coil, pull_in_a=0.07, drop_out_a=0.02, makes=(make,), breaks=(break_,), operate_s=0.008)
            )
        elif kind == 2:  # A plain switch.
            out = net.node()
            switches.append(net.branch(fused, out, 1.0 / 0.01))
            wire(out, load)
            controls.append(load)
        else:  # An output of a module.
            out = net.node()
            switches.append(net.driver(fused, out, rng.uniform(1.0, 8.0)))
            wire(out, load)
            if controls:
                net.diode(load, int(rng.choice(controls)))
        if rng.random() < 0.6:
            net.lamp(load, ground, rng.choice([2.0, 5.0, 21.0, 55.0]))
        if rng.random() < 0.7:
            net.branch(load, ground, 1.0 / rng.choice([3.0, 12.0, 60.0, 470.0, 10e3]))
    while net.nodes < nodes:
        end = net.node()
        wire(int(rng.integers(4, end)), end)
        net.branch(end, int(rng.choice(grounds)), 1.0 / rng.choice([100.0, 1e3, 47e3]))
    shorts = [net.branch(node, -1, _UNUSED) for node in range(4, net.nodes)]
    shorts += [net.branch(node, post, _UNUSED) for node in range(8, net.nodes, 6)]
    branches, scale, emf = from_drawing(net)
    return Synthetic(
        branches=branches, scale=scale, emf=emf, wires=tuple(wires), switches=tuple(switches), shorts=tuple(shorts)
    )


def draw_points(net: Synthetic, lanes: int, seed: int) -> tuple[FloatArray, FloatArray]:
    """Scale and EMF of random operating points: switch positions, spread of values, one fault in most of them."""
    rng = np.random.default_rng(seed)
    scale = np.repeat(net.scale, lanes, axis=1)
    emf = np.repeat(net.emf, lanes, axis=1)
    emf[0] = rng.uniform(11.8, 14.8, lanes)
    spread = np.exp(rng.uniform(-0.25, 0.25, scale.shape))
    scale *= np.where(scale > 1e-9, spread, 1.0)
    for switch in net.switches:
        scale[switch, rng.random(lanes) < 0.4] *= 1e-10
    for lane in range(lanes):
        fault = rng.integers(5)
        if fault == 0:
            scale[rng.choice(net.wires), lane] = OPEN_S
        elif fault == 1:
            at = rng.choice(net.wires)
            scale[at, lane] = 1.0 / (1.0 / scale[at, lane] + 5.0)
        elif fault in {2, 3}:
            scale[rng.choice(net.shorts), lane] = SHORT_S
    return scale, emf


def random_network(rng: np.random.Generator, nodes: int) -> tuple[Branches, FloatArray, FloatArray]:
    """A network without any sense: random ends, 1 nS to 1 kS, a quarter diodes, lamps, limited drivers."""
    net = Drawing(nodes=nodes)
    net.branch(0, -1, 50.0, emf=12.0)
    for _ in range(3 * nodes):
        a, b = (int(end) for end in rng.choice(np.arange(-1, nodes), size=2, replace=False))
        draw = rng.random()
        if draw < 0.25:
            net.diode(a, b)
        elif draw < 0.40:
            net.lamp(a, b, rng.choice([2.0, 21.0, 55.0]))
        elif draw < 0.55:
            net.driver(a, b, rng.uniform(0.5, 5.0))
        else:
            net.branch(a, b, float(10.0 ** rng.uniform(-9, 3)), emf=float(rng.choice([0.0, 0.0, 0.0, 9.0, -5.0])))
    return from_drawing(net)
