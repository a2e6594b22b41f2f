"""Links between a kit output and a vehicle wire: what they state, and what every kind of link asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import InterfacePart, Terminal
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Power, Situation, Task
from loomwright.planning.installation import PartPattern
from loomwright.planning.loads import switched_a
from loomwright.planning.minutes import CHARGING_V, CONTINUOUS_SHARE, NOMINAL_V, load_share
from loomwright.planning.sides import live_in
from loomwright.sentences import told

__all__ = ["Coil", "Link", "Sign", "Unfit", "coils_for", "diode_drop_v", "feed_of", "own_power", "power_of", "sign_of"]

Sign = Literal["positive", "negative"]

_RUNS_WITH_ENGINE = frozenset({"parking light", "parking light left", "parking light right", "running status"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One electrically sound way from a kit output to a vehicle wire; `cuts` where the wire must be opened for it."""

    part: InterfacePart | None = None
    pattern: PartPattern | None = None
    fed_from: str | None = None
    why: str = ""
    does: str = ""  # where only the whole plan tells why it stands there: what it does, as a clause
    share: float
    powers: tuple[Power, ...] = ()
    feed: str | None = None  # the power input whose feed reaches the wire
    isolation: Literal["none", "diode", "relay"] = "none"
    cuts: bool = False
    follows: bool = False  # its coil hangs on an output that a wire of the car may make live by itself


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit:
    """Why a terminal and a circuit do not go together, and what would cure it."""

    fact: str
    cure: str
    far: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """A relay of the kit that an output can work, with what that takes; `fed_from` feeds coil or contact."""

    part: InterfacePart
    fed_from: str | None
    share: float
    powers: tuple[Power, ...]


def _carries_a(at: Situation, relay: InterfacePart) -> float:
    """Return what a relay carries at 12 V [A]: its rating, or what its fuse lets through while the engine charges."""
    if relay.fuse_a is None:
        return relay.rating_a
    return min(relay.rating_a, relay.fuse_a * NOMINAL_V / (at.car.traits.charging_v or CHARGING_V))


def sign_of(terminal: Terminal) -> Sign:
    """Return what an output puts out: battery voltage or ground."""
    return "negative" if terminal.kind == "negative output" else "positive"


def power_of(
    at: Situation, terminal: str, function: FunctionName, circuit: Circuit, coil_a: float = 0.0, *, load: bool = True
) -> Power:
    """Return what a link takes from a power input: the load where `load` says so, and a coil [A].

    Split into running and cranking, and by what somebody may switch on while the engine runs.
    """
    live = live_in(circuit)
    running = "run" in live or function in _RUNS_WITH_ENGINE
    parts = switched_a(at.car, circuit) if load else {}
    always = parts.get(None, 0.0) + coil_a
    return Power(
        terminal=terminal, run_a=always if running else 0.0,
        crank_a=always if "crank" in live else 0.0,
        switched=tuple((name, amps) for name, amps in parts.items() if name is not None) if running else (),
    )  # fmt: skip


def own_power(
    at: Situation, terminal: Terminal, task: Task, circuit: Circuit, coil_a: float = 0.0, *, load: bool = True
) -> tuple[Power, ...]:
    """Return what an output itself takes from the power input that feeds it."""
    feed = feed_of(at, terminal)
    return () if feed is None else (power_of(at, feed, task.function, circuit, coil_a, load=load),)


def feed_of(at: Situation, terminal: Terminal) -> str | None:
    """Return the power input from which an output takes its current; the first where the kit names none."""
    if terminal.kind == "negative output":
        return None
    return terminal.fed_from or next((t.id for t in at.power_inputs), None)


def diode_drop_v(rating_a: float, current_a: float) -> float:
    """Return the forward voltage of a silicon diode [V].

    u = 0.65 V + i 0.35 V / (2 I): a straight line through 1.0 V at twice the average rating I.

    Parameters
    ----------
    rating_a : float -- average forward rating, > 0 [A]
    current_a : float -- forward current, >= 0 [A]

    Returns
    -------
    drop_v : float [V]

    References
    ----------
    T. Kuphaldt, Lessons in Electric Circuits, Semiconductors: 1N4004 points 0.70 V at 0.01 A, 1.0 V at 2.0 A.
    """
    return 0.65 + current_a * 0.35 / (2.0 * rating_a)


def coils_for(
    at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float, *, because: str, feeds: bool
) -> Iterator[Coil | Unfit]:
    """Yield every relay of the kit that carries `amps` and whose coil the output works, or what is in the way.

    `because` is a clause that says why a relay stands there; `feeds` tells that its contact puts out battery voltage.
    A negative output pulls the coil down from a power input, a positive one feeds it against ground.
    """
    relays = [p for p in at.kit.parts if p.kind == "relay" and p.coil_ohm is not None]
    fitting = [p for p in relays if _carries_a(at, p) * load_share(task.function) >= amps]
    if not fitting:
        yield Unfit(
            fact=told("{because}, and the kit has no relay for {amps:.3g} A.", because=because, amps=amps),
            cure=told(
                "the kit held a relay for {amps:.3g} A for {function}", amps=amps / load_share(task.function),
                function=task.function,
            ), far=0,
        )  # fmt: skip
        return
    negative = sign_of(terminal) == "negative"
    sources: tuple[str | None, ...] = tuple(f.id for f in at.power_inputs) if feeds or negative else (None,)
    for part in fitting:
        coil_a = NOMINAL_V / (part.coil_ohm or 1.0)
        share = coil_a / (CONTINUOUS_SHARE * terminal.rating_a)
        if share > 1.0:
            yield Unfit(
                fact=told(
                    "The coil of {part} takes {coil_a:.3g} A; the output carries {rating_a:g} A.", part=part.name,
                    coil_a=coil_a, rating_a=terminal.rating_a,
                ),
                cure=told(
                    "the kit's {function} output carried {coil_a:.3g} A", function=terminal.function,
                    coil_a=coil_a / CONTINUOUS_SHARE,
                ), far=1,
            )  # fmt: skip
            continue
        if not sources:
            yield Unfit(
                fact="A relay would need a power input of the kit to take battery from.",
                cure="the kit had a power input to feed the relay", far=2,
            )  # fmt: skip
        coil = own_power(at, terminal, task, circuit, coil_a, load=False)
        for source in sources:
            powers = coil
            if source is not None:
                pulled = coil_a if negative else 0.0
                powers = (*coil, power_of(at, source, task.function, circuit, pulled, load=feeds))
            yield Coil(part=part, fed_from=source, share=share, powers=powers)
