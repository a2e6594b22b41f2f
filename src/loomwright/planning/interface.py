"""Mismatch decides interface parts: what must stand between a kit output and a vehicle wire, if anything."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import InterfacePart, Terminal
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Power, Situation, Task, one
from loomwright.planning.installation import PartPattern
from loomwright.planning.minutes import CONTINUOUS_SHARE, NOMINAL_V, load_share
from loomwright.planning.sides import live_in, load_a, on_in, polarity

__all__ = ["SUBSTITUTES", "Link", "Unfit", "input_fits", "links_for"]

SUBSTITUTES: Mapping[FunctionName, FunctionName] = MappingProxyType({
    "second ignition": "ignition",
    "second start": "start",
    "accessory 2": "accessory",
    "parking light left": "parking light",
    "parking light right": "parking light",
})
"""Which other output of the kit comes on at the same time and may serve the function through a diode or relay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One electrically sound way from a kit output to a vehicle wire."""

    part: InterfacePart | None = None
    pattern: PartPattern | None = None
    fed_from: str | None = None
    why: str = ""
    share: float
    powers: tuple[Power, ...] = ()
    feed: str | None = None  # the power input whose feed reaches the wire
    isolation: Literal["none", "diode", "relay"] = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit:
    """Why a terminal and a circuit do not go together, and what would cure it."""

    fact: str
    cure: str
    far: int


_RUNS_WITH_ENGINE = frozenset({"parking light", "parking light left", "parking light right", "running status"})


def _power(terminal: str, function: FunctionName, circuit: Circuit, amps: float) -> Power:
    live = live_in(circuit)
    running = "run" in live or function in _RUNS_WITH_ENGINE
    return Power(terminal=terminal, run_a=amps if running else 0.0, crank_a=amps if "crank" in live else 0.0)


def _sign(terminal: Terminal) -> Literal["positive", "negative"]:
    return "negative" if terminal.kind == "negative output" else "positive"


def links_for(at: Situation, task: Task, terminal: Terminal, circuit: Circuit) -> Iterator[Link | Unfit]:
    """Yield every sound way from an output to a wire: straight where it fits, through a diode or a relay elsewhere.

    A wire that pulses, carries data or a sensor's voltage is never driven. A second function behind the output of a
    first one stands behind a relay, one function in two circuits behind a diode each.
    """
    wire, sign = polarity(circuit), _sign(terminal)
    if wire not in ("positive", "negative"):
        yield Unfit(
            fact=f"The wire is a {circuit.behaviour.template}, which no output may drive.",
            cure=f"the car had {one(task.function)} wire that battery voltage or ground operates", far=6,
        )  # fmt: skip
        return
    amps = load_a(at.car, circuit)
    own = terminal.function == task.function
    if not own and not on_in(terminal.function) <= live_in(circuit):
        yield Unfit(
            fact=f"The kit's {terminal.function} output is on while cranking as well, and {task.function} drops then.",
            cure=f"the kit had {one(f'{task.function} output')}", far=4,
        )  # fmt: skip
        return
    apart = not own or _shared(at, task, terminal)
    straight = tuple(_straight(terminal, task, circuit, amps)) if own and wire == sign else ()
    through: tuple[Link | Unfit, ...] = ()
    if apart and wire == sign:
        through = tuple(_diodes(at, task, terminal, circuit, amps))
    if wire != sign or apart or amps > load_share(task.function) * terminal.rating_a:
        through += tuple(_relays(at, task, terminal, circuit, amps))
    # Where a part overcomes it, an output that is too weak is no obstacle: the part says why it is there.
    overcome = any(isinstance(way, Link) for way in through)
    yield from (way for way in straight if isinstance(way, Link) or not overcome)
    yield from through


def _shared(at: Situation, task: Task, terminal: Terminal) -> bool:
    """Tell whether the output may have to serve more than one circuit of this car."""
    alike = [c for c in at.car.circuits.values() if task.function in (c.function, SUBSTITUTES.get(c.function))]
    outputs = [t for t in at.kit.controller.terminals if t.function == task.function and t.kind == terminal.kind]
    return len(alike) > len(outputs)


def _own_power(terminal: Terminal, task: Task, circuit: Circuit, amps: float) -> tuple[Power, ...]:
    if terminal.kind == "negative output" or terminal.fed_from is None:
        return ()
    return (_power(terminal.fed_from, task.function, circuit, amps),)


def _straight(terminal: Terminal, task: Task, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed:
        yield Unfit(
            fact=f"The wire takes {amps:.3g} A; the output carries {terminal.rating_a:g} A, of which "
            f"{allowed:.3g} A may be used.",
            cure=f"the kit's {terminal.function} output carried {amps / load_share(task.function):.3g} A", far=1,
        )  # fmt: skip
        return
    feed = terminal.fed_from if terminal.kind == "relay output" else None
    yield Link(share=amps / allowed, powers=_own_power(terminal, task, circuit, amps), feed=feed)


def _diodes(at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed or terminal.function not in _diode_partners(task.function):
        return
    fitting = [p for p in at.kit.parts if p.kind == "diode" and p.rating_a * load_share(task.function) >= amps]
    for part in fitting:
        yield Link(
            part=part, pattern="diode", share=amps / allowed, powers=_own_power(terminal, task, circuit, amps),
            isolation="diode",
            why=f"One output serves two circuits that must stay apart, so a diode ({part.name}) stands before each.",
        )  # fmt: skip
    if not fitting:
        yield Unfit(
            fact=f"One output would serve two circuits, and the kit has no diode for {amps:.3g} A.",
            cure=f"the kit held a diode for {amps / load_share(task.function):.3g} A for {task.function}", far=0,
        )  # fmt: skip


def _diode_partners(function: FunctionName) -> frozenset[str]:
    """Return the outputs whose diodes may serve a function: its own, and for one side's lamps that of both sides."""
    return frozenset({function, "parking light"}) if function.startswith("parking light") else frozenset({function})


def _relays(at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    wire, sign = polarity(circuit), _sign(terminal)
    relays = [p for p in at.kit.parts if p.kind == "relay" and p.coil_ohm is not None]
    fitting = [p for p in relays if p.rating_a * load_share(task.function) >= amps]
    if not fitting:
        yield Unfit(
            fact=f"{_mismatch(terminal, task, circuit, amps)}, and the kit has no relay for {amps:.3g} A.",
            cure=f"the kit held a relay for {amps / load_share(task.function):.3g} A for {task.function}", far=0,
        )  # fmt: skip
        return
    for part in fitting:
        coil_a = NOMINAL_V / (part.coil_ohm or 1.0)
        if coil_a > CONTINUOUS_SHARE * terminal.rating_a:
            yield Unfit(
                fact=f"The coil of {part.name} takes {coil_a:.3g} A; the output carries {terminal.rating_a:g} A.",
                cure=f"the kit's {terminal.function} output carried {coil_a / CONTINUOUS_SHARE:.3g} A", far=1,
            )  # fmt: skip
            continue
        pattern: PartPattern = (
            "relay grounds" if wire == "negative" else "relay inverts" if sign == "negative" else "relay boosts"
        )
        coil = _own_power(terminal, task, circuit, coil_a)
        needs_feed = not (wire == "negative" and sign == "positive")
        through = amps if wire == "positive" else 0.0
        feeds = at.power_inputs if needs_feed else ()
        if needs_feed and not feeds:
            yield Unfit(
                fact="A relay would need a power input of the kit to take battery from.",
                cure="the kit had a power input to feed the relay", far=2,
            )  # fmt: skip
        options: list[tuple[str | None, tuple[Power, ...]]] = [
            (f.id, (*coil, _power(f.id, task.function, circuit, through + (coil_a if sign == "negative" else 0.0))))
            for f in feeds
        ]
        for fed_from, powers in options if needs_feed else [(None, coil)]:
            yield Link(
                part=part, pattern=pattern, fed_from=fed_from, share=coil_a / (CONTINUOUS_SHARE * terminal.rating_a),
                powers=powers, feed=fed_from if wire == "positive" else None, isolation="relay",
                why=f"{_mismatch(terminal, task, circuit, amps)}, so a relay ({part.name}) {_DOES[pattern]}.",
            )  # fmt: skip


_DOES = {
    "relay inverts": "puts battery voltage out when the output pulls to ground",
    "relay boosts": "carries the load in the output's place",
    "relay grounds": "grounds the wire in the output's place",
}


def _mismatch(terminal: Terminal, task: Task, circuit: Circuit, amps: float) -> str:
    """Say as a clause why the output cannot simply be joined to the wire."""
    wire, sign = polarity(circuit), _sign(terminal)
    if terminal.function != task.function:
        return f"The kit's {terminal.function} output has to work {task.function} as well, and the two must stay apart"
    if wire != sign:
        gives = "pulls to ground" if sign == "negative" else "puts out battery voltage"
        needs = "battery voltage" if wire == "positive" else "ground"
        return f"The kit's {terminal.function} output {gives} and the wire needs {needs}"
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed:
        share = "" if amps > terminal.rating_a else f", of which {allowed:.3g} A may be used"
        return f"The wire takes {amps:.3g} A and the output carries {terminal.rating_a:g} A{share}"
    return f"The kit's {terminal.function} output has to be kept apart from the wire"


_READS = {"positive input": "positive", "negative input": "negative", "pulse input": "pulse"}
_PLAIN = {
    "positive": "battery voltage", "negative": "ground", "pulse": "pulses", "data": "data",
    "none": "a sensor's voltage",
}  # fmt: skip


def input_fits(task: Task, terminal: Terminal, circuit: Circuit) -> Unfit | None:
    """Return why an input does not read the wire, or None where it does."""
    reads, shows = _READS[terminal.kind], polarity(circuit)
    if reads == shows:
        return None
    return Unfit(
        fact=f"The wire signals with {_PLAIN[shows]}; the kit's {task.function} input reads {_PLAIN[reads]}.",
        cure=f"the kit had {one(task.function)} input that reads {_PLAIN[shows]}", far=2,
    )  # fmt: skip
