"""Mismatch decides interface parts: what must stand between a kit output and a vehicle wire, if anything."""

from collections.abc import Iterator

from loomwright.documents.behaviour import GroundSwitch, InputWire, KeyedFeed, SteppedInput, SwitchedFeed
from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import Terminal
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Situation, Task, one
from loomwright.planning.cutting import cut_links, reason_to_cut
from loomwright.planning.groups import SUBSTITUTES, groups_for
from loomwright.planning.installation import PartPattern
from loomwright.planning.links import Link, Unfit, coils_for, diode_drop_v, feed_of, own_power, sign_of
from loomwright.planning.loads import demand_a, load_a, peak_a
from loomwright.planning.minutes import CONTINUOUS_SHARE, MOMENTARY, NOMINAL_V, load_share
from loomwright.planning.sides import live_in, on_in, polarity
from loomwright.planning.stepping import step_links
from loomwright.sentences import listing, told

__all__ = ["input_fits", "links_for"]


def links_for(at: Situation, task: Task, terminal: Terminal, circuit: Circuit) -> Iterator[Link | Unfit]:
    """Yield every sound way from an output to a wire: straight where it fits, through a diode or a relay elsewhere.

    A wire that pulses, carries data or a sensor's voltage is never driven. A second function behind the output of a
    first one stands behind a relay, one function in two circuits behind a diode each.
    """
    wire, sign = polarity(circuit), sign_of(terminal)
    if isinstance(circuit.behaviour, SteppedInput):
        yield from step_links(at, task, terminal, circuit.behaviour)
        return
    must_cut = reason_to_cut(circuit)
    if must_cut is not None:
        yield Unfit(
            fact=told(
                "{fact}.",
                fact=must_cut,
            ),
            cure="the wire could be driven beside the factory's own signal",
            far=6,
        )
        yield from cut_links(at, task, terminal, circuit)
        return
    if wire not in ("positive", "negative"):
        yield Unfit(
            fact=_NEVER.get(wire, told(
                "The wire is a {template}, which no output may drive.", template=circuit.behaviour.template,
            )),
            cure=told("the car had {one} wire that battery voltage or ground operates", one=one(task.function)), far=6,
        )  # fmt: skip
        return
    amps = demand_a(at.car, circuit)
    own = terminal.function == task.function
    late = _against_the_crank(terminal, task, circuit)
    if late is not None:
        yield late
        return
    apart = not own or _shared(at, task, terminal)
    straight = tuple(_straight(at, terminal, task, circuit, amps)) if own and wire == sign else ()
    through: tuple[Link | Unfit, ...] = ()
    if apart and wire == sign:
        through = tuple(_diodes(at, task, terminal, circuit, amps))
    weak = amps > load_share(task.function) * terminal.rating_a
    if wire != sign or apart or weak:
        through += tuple(_relays(at, task, terminal, circuit, amps, apart=apart))
    elif _other_feeds(at, terminal, circuit):
        relays = _relays(at, task, terminal, circuit, amps, apart=False)
        through = tuple(r for r in relays if isinstance(r, Link) and r.fed_from != feed_of(at, terminal))
    if own and wire == sign and not _must_share(at, task, terminal) and any(isinstance(w, Link) for w in straight):
        # The wire can simply be joined: that a part for keeping circuits apart is missing stands in nobody's way.
        through = tuple(way for way in through if isinstance(way, Link))
    # Where a part overcomes it, an output that is too weak is no obstacle: the part says why it is there.
    overcome = any(isinstance(way, Link) for way in through)
    yield from (way for way in straight if isinstance(way, Link) or not overcome)
    yield from through
    joins = any(isinstance(way, Link) and way.feed is not None for way in (*straight, *through))
    switched = isinstance(circuit.behaviour, SwitchedFeed | InputWire) and task.function not in MOMENTARY
    if task.function == "brake line":
        yield from cut_links(at, task, terminal, circuit)
    elif switched and joins:
        yield from cut_links(at, task, terminal, circuit, _mismatch(at, terminal, task, circuit))
    elif switched and own and wire == "positive" and len(at.power_inputs) > 1:
        # The output's own feed may be too weak for all that hangs on it; the wire is then fed from another one.
        cuts = (way for way in cut_links(at, task, terminal, circuit) if isinstance(way, Link))
        yield from (cut for cut in cuts if cut.isolation == "relay" and cut.fed_from != feed_of(at, terminal))


def _against_the_crank(terminal: Terminal, task: Task, circuit: Circuit) -> Unfit | None:
    """Return the fact that the kit's output and the car's own key differ in what they do while cranking, or None.

    What drops then is a load too many for the battery where it stays on; an ignition that drops stops the engine.
    """
    if not isinstance(circuit.behaviour, KeyedFeed):
        return None
    stays = "cranking" in terminal.on_while if terminal.on_while else "crank" in on_in(terminal.function)
    cure = told("the kit had {one}", one=one(told("{function} output", function=task.function)))
    if stays and "crank" not in live_in(circuit):
        drops = "the wire" if terminal.function == task.function else task.function
        return Unfit(
            fact=told(
                "The kit's {function} output is on while cranking as well, and {drops} drops then.",
                function=terminal.function, drops=drops,
            ),
            cure=cure if terminal.function != task.function else told(
                "{cure} that drops while cranking", cure=cure,
            ), far=4,
        )  # fmt: skip
    if not stays and "crank" in live_in(circuit) and task.function == "second ignition":
        return Unfit(
            fact=told(
                "The kit's {function} output drops while cranking, and the car keeps this wire live then.",
                function=terminal.function,
            ),
            cure=told("{cure} that stays on while cranking", cure=cure), far=4,
        )  # fmt: skip
    return None


_NEVER = {
    "coded": "The ignition switch tells its position by resistance on one wire, which no output may drive.",
}


def _shared(at: Situation, task: Task, terminal: Terminal) -> bool:
    """Tell whether the output may have to serve more than one job of this car."""
    alike = (task.function, *(half for half, whole in SUBSTITUTES.items() if whole == task.function))
    jobs = sum(len(groups_for(at, function)) for function in alike)
    outputs = [t for t in at.kit.controller.terminals if t.function == task.function and t.kind == terminal.kind]
    return jobs > len(outputs)


def _must_share(at: Situation, task: Task, terminal: Terminal) -> bool:
    """Tell whether the output serves more than one job of this car whatever the plan: no other output could."""
    outputs = [t for t in at.kit.controller.terminals if t.kind == terminal.kind]
    halves = (half for half, whole in SUBSTITUTES.items() if whole == task.function)
    lacking = [half for half in halves if not any(t.function == half for t in outputs)]
    jobs = sum(len(groups_for(at, function)) for function in (task.function, *lacking))
    return jobs > sum(t.function == task.function for t in outputs)


def _other_feeds(at: Situation, terminal: Terminal, circuit: Circuit) -> bool:
    """Tell whether a relay could put another power input's feed on a wire that the key feeds."""
    return isinstance(circuit.behaviour, KeyedFeed) and sign_of(terminal) == "positive" and len(at.power_inputs) > 1


def _takes(at: Situation, circuit: Circuit) -> str:
    """Say what the wire takes: always, or up to where that decides."""
    always, most = load_a(at.car, circuit), peak_a(at.car, circuit)
    peaks = CONTINUOUS_SHARE * most > always
    return told("up to {most:.3g} A", most=most) if peaks else told("{always:.3g} A", always=always)


def _straight(at: Situation, terminal: Terminal, task: Task, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed:
        yield Unfit(
            fact=told(
                "The wire takes {takes}; the output carries {rating_a:g} A, of which {allowed:.3g} A may be used.",
                takes=_takes(at, circuit), rating_a=terminal.rating_a, allowed=allowed,
            ),
            cure=told(
                "the kit's {function} output carried {amps:.3g} A", function=terminal.function,
                amps=amps / load_share(task.function),
            ), far=1,
        )  # fmt: skip
        return
    feed = feed_of(at, terminal) if terminal.kind == "relay output" else None
    yield Link(share=amps / allowed, powers=own_power(at, terminal, task, circuit), feed=feed)


def _diodes(at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float) -> Iterator[Link | Unfit]:
    allowed = load_share(task.function) * terminal.rating_a
    if amps > allowed or terminal.function not in _diode_partners(task.function):
        return
    rated = [p for p in at.kit.parts if p.kind == "diode" and p.rating_a * load_share(task.function) >= amps]
    limit_v, because = _drop_limit_v(circuit)
    fitting = [p for p in rated if diode_drop_v(p.rating_a, amps) <= limit_v]
    if rated and not fitting:
        yield Unfit(
            fact=told(
                "A diode takes {drop_v:.2g} V, and {because} {limit_v:.2g} V.",
                drop_v=diode_drop_v(rated[0].rating_a, amps), because=because, limit_v=limit_v,
            ),
            cure=told("the kit had one more {function} output", function=terminal.function), far=4,
        )  # fmt: skip
        return
    for part in fitting:
        yield Link(
            part=part, pattern="diode", share=amps / allowed, powers=own_power(at, terminal, task, circuit),
            isolation="diode",
            why=told(
                "One output serves two circuits that must stay apart, so a diode ({part}) stands before each.",
                part=part.name,
            ),
        )  # fmt: skip
    if not fitting:
        yield Unfit(
            fact=told("One output would serve two circuits, and the kit has no diode for {amps:.3g} A.", amps=amps),
            cure=told(
                "the kit held a diode for {amps:.3g} A for {function}", amps=amps / load_share(task.function),
                function=task.function,
            ), far=0,
        )  # fmt: skip


def _drop_limit_v(circuit: Circuit) -> tuple[float, str]:
    """Return the voltage that a diode may take of a wire [V], and a clause that ends before it.

    FAA AC 43.13-1B table 11-6 allows 0.5 V for a continuous load of a 14 V system, less than silicon takes, and 1 V
    for an intermittent one, more than a diode within its rating takes (0.83 V). A wire that a module holds up must be
    pulled below a fifth of that voltage; common practice for module inputs.
    """
    b = circuit.behaviour
    if isinstance(b, GroundSwitch):
        level_v = b.pull_up_v if b.pull_up_v is not None else NOMINAL_V
        return _PULLED_SHARE * level_v, "the module wants the wire pulled below"
    if isinstance(b, KeyedFeed):
        return _FEED_DROP_V, "a feed may lose no more than"
    return _LAMP_DROP_V, "a lamp may lose no more than"


_FEED_DROP_V = 0.5
_LAMP_DROP_V = 1.0
_PULLED_SHARE = 0.2


def _diode_partners(function: FunctionName) -> frozenset[str]:
    """Return the outputs whose diodes may serve a function: its own, and for one side's lamps that of both sides."""
    return frozenset({function, "parking light"}) if function.startswith("parking light") else frozenset({function})


def _relays(
    at: Situation, task: Task, terminal: Terminal, circuit: Circuit, amps: float, *, apart: bool
) -> Iterator[Link | Unfit]:
    wire, sign = polarity(circuit), sign_of(terminal)
    pattern: PartPattern = (
        "relay grounds" if wire == "negative" else "relay inverts" if sign == "negative" else "relay boosts"
    )
    because, feeds = _mismatch(at, terminal, task, circuit), wire == "positive"
    # Where output and wire are alike and the output is strong enough, only the whole plan tells what a relay is for.
    carried = amps <= load_share(task.function) * terminal.rating_a
    plain = terminal.function == task.function and wire == sign and carried
    for coil in coils_for(at, task, terminal, circuit, amps, because=because, feeds=feeds):
        if isinstance(coil, Unfit):
            yield coil
            continue
        yield Link(
            part=coil.part, pattern=pattern, fed_from=coil.fed_from, share=coil.share, powers=coil.powers,
            feed=coil.fed_from if feeds else None, isolation="relay", follows=apart,
            why=told(
                "{because}, so a relay ({part}) {does}.", because=because, part=coil.part.name, does=_DOES[pattern],
            ),
            does=told("a relay ({part}) {does}", part=coil.part.name, does=_DOES[pattern]) if plain else "",
        )  # fmt: skip


_DOES = {
    "relay inverts": "puts battery voltage out when the output pulls to ground",
    "relay boosts": "carries the load in the output's place",
    "relay grounds": "grounds the wire in the output's place",
}


def _mismatch(at: Situation, terminal: Terminal, task: Task, circuit: Circuit) -> str:
    """Say as a clause why the output cannot simply be joined to the wire."""
    wire, sign = polarity(circuit), sign_of(terminal)
    if terminal.function != task.function:
        if groups_for(at, terminal.function):
            both = told("{function} as well, and the two", function=task.function)
        else:  # no circuit of the output's own: only halves of it, such as the lamps of each side
            halves = [half for half, whole in SUBSTITUTES.items() if whole == terminal.function]
            both = told("{halves}, which", halves=listing(half for half in halves if groups_for(at, half)))
        return told(
            "The kit's {function} output has to work {both} must stay apart", function=terminal.function, both=both
        )
    if wire != sign:
        gives = "pulls to ground" if sign == "negative" else "puts out battery voltage"
        needs = "battery voltage" if wire == "positive" else "ground"
        return told(f"The kit's {{function}} output {gives} and the wire needs {needs}", function=terminal.function)
    allowed = load_share(task.function) * terminal.rating_a
    amps = demand_a(at.car, circuit)
    if amps > allowed:
        share = "" if amps > terminal.rating_a else told(", of which {allowed:.3g} A may be used", allowed=allowed)
        return told(
            "The wire takes {takes} and the output carries {rating_a:g} A{share}",
            takes=_takes(at, circuit),
            rating_a=terminal.rating_a,
            share=share,
        )
    if _other_feeds(at, terminal, circuit) and not _shared(at, task, terminal):
        return told(
            "The kit's {function} output puts out another feed than the car has on the wire", function=terminal.function
        )
    return told("The kit's {function} output has to be kept apart from the wire", function=terminal.function)


_READS = {"positive input": "positive", "negative input": "negative", "pulse input": "pulse"}
_PLAIN = {
    "positive": "battery voltage", "negative": "ground", "pulse": "pulses", "data": "data",
    "none": "a sensor's voltage", "reversing": "battery voltage and ground in turn", "stepped": "steps of resistance",
    "coded": "a coded resistance",
}  # fmt: skip
_KIT_PULL_UP_OHM = 10_000.0
_KIT_DIODE_V = 0.65
# A negative input holds its wire up through a resistor and a diode; common practice where the kit states no resistance.


def input_fits(task: Task, terminal: Terminal, circuit: Circuit) -> Unfit | None:
    """Return why an input does not read the wire, or None where it does."""
    reads, shows = _READS[terminal.kind], polarity(circuit)
    if reads != shows:
        return Unfit(
            fact=told(
                "The wire signals with {shows}; the kit's {function} input reads {reads}.", shows=_PLAIN[shows],
                function=task.function, reads=_PLAIN[reads],
            ),
            cure=told("the kit had {one} input that reads {plain}", one=one(task.function), plain=_PLAIN[shows]), far=2,
        )  # fmt: skip
    if isinstance(circuit.behaviour, GroundSwitch) and circuit.behaviour.polled < 1.0 and not terminal.filters_polls:
        return Unfit(
            fact=told(
                "The module holds this wire up in short pulses only; the kit's {function} input would read the "
                "pauses as the switch.", function=task.function,
            ),
            cure=told("the kit had {one} input that filters polls", one=one(task.function)), far=2,
        )  # fmt: skip
    rest_v = _rest_v(terminal, circuit)
    if rest_v is not None and rest_v <= terminal.true_above * NOMINAL_V:
        return Unfit(
            fact=told(
                "The wire rests at {rest_v:.2g} V, and the kit's {function} input takes less than "
                "{true_above:.2g} V for a pulled wire or for nothing.", rest_v=rest_v, function=task.function,
                true_above=terminal.true_above * NOMINAL_V,
            ),
            cure=told(
                "the kit had {one} input for a wire that rests at {rest_v:.2g} V", one=one(task.function),
                rest_v=rest_v,
            ), far=2,
        )  # fmt: skip
    return None


def _rest_v(terminal: Terminal, circuit: Circuit) -> float | None:
    """Return where a wire that a module holds up rests with the input on it [V]; None for other wires.

    Two resistors to two voltages (Millman): the module's, polled as its share of time, and the input's own.
    """
    b = circuit.behaviour
    if not isinstance(b, GroundSwitch):
        return None
    module_v = (b.pull_up_v if b.pull_up_v is not None else NOMINAL_V) * b.polled
    own_v, own_ohm = NOMINAL_V - _KIT_DIODE_V, terminal.resistance_ohm or _KIT_PULL_UP_OHM
    if module_v >= own_v:
        return module_v
    return (module_v / b.pull_up_ohm + own_v / own_ohm) / (1.0 / b.pull_up_ohm + 1.0 / own_ohm)
