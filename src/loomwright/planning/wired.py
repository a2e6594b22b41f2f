"""Candidates that join a vehicle wire: outputs that drive it and inputs that read it, on the right side of switches."""

from collections.abc import Iterator
from dataclasses import replace

from loomwright.documents.behaviour import STIMULI, InputWire, KeyedFeed, StartRequest, SwitchedFeed
from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import Terminal
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Candidate, End, RuledOut, Situation, Task, one, pin_words, slug
from loomwright.planning.cutting import reached_pins, reason_at
from loomwright.planning.installation import How
from loomwright.planning.interface import input_fits, links_for
from loomwright.planning.links import Link, Unfit
from loomwright.planning.minutes import CUT_IN_MINUTES, MOMENTARY, PENALTIES, T_PIN_MINUTES, TAP_MINUTES
from loomwright.planning.pulses import start_pulse
from loomwright.planning.reach import airbag_near, ends_for, restraint_pins
from loomwright.planning.sides import between, factory_side, live_in, switches_to_drive, switches_to_rest
from loomwright.sentences import linked, told

__all__ = ["SIGNS", "penalties_of", "wired_candidates"]

SIGNS: dict[FunctionName, tuple[str, ...]] = {
    "brake": ("brake pressed",),
    "hood switch": ("hood open",),
    "parking brake": ("parking brake set",),
    "park/neutral": ("in park",),
    "key sense": ("key in lock",),
    "door switch": ("driver door open", "passenger door open"),
    "wait-to-start": ("wait lamp lit",),
}
"""What closes or opens the switch that an input wants to hear of."""

_STARTS: frozenset[FunctionName] = frozenset({"start", "second start"})


def _stimulus(condition: str | None) -> str:
    text = (condition or "").removeprefix("not ")
    return text if text in STIMULI else ""


def _wrong_side_to_drive(task: Task, circuit: Circuit, pin: str) -> tuple[str, str] | None:
    """Return (fact, cure) where the output would work against a switch or past an interlock, else None.

    The selector's switch must stay between the kit and the starter: bridging it would let the engine crank in gear
    (49 CFR 571.102 S3.1.3).
    """
    toward_rest = [s for s in switches_to_rest(circuit, pin) if _stimulus(s.closed_when) == "in park"]
    if task.function in _STARTS and toward_rest:
        return (
            "It lies past the park/neutral switch: the starter would turn in gear (49 CFR 571.102).",
            told("the {function} wire could be reached before the park/neutral switch", function=circuit.function),
        )
    ahead = switches_to_drive(circuit, pin)
    if ahead is None:
        return (
            "The path does not lead from here to what it works.",
            told("the path of the {function} circuit were recorded as far as its load", function=circuit.function),
        )
    blocking = [s for s in ahead if not (task.function in _STARTS and _stimulus(s.closed_when) == "in park")]
    if blocking:
        name = blocking[0].switch or blocking[0].closed_when
        return (
            told("It lies on the wrong side of {name}, which would have to be closed first.", name=name),
            told("the {function} wire could be reached after {name}", function=circuit.function, name=name),
        )
    return None


def _wrong_side_to_sense(task: Task, circuit: Circuit, pin: str) -> tuple[str, str] | None:
    """Return (fact, cure) where the wire shows nothing of what the input wants to hear of, else None."""
    signs = SIGNS.get(task.function, ())
    own = [s for s in circuit.path if _stimulus(s.closed_when) in signs]
    behind = [s for s in switches_to_rest(circuit, pin) if _stimulus(s.closed_when) in signs]
    if own and not behind:
        name = own[0].switch or own[0].closed_when
        return (
            told("It lies on the wrong side of {name}: nothing changes there.", name=name),
            told(
                "the {function} wire could be reached on the other side of {name}", function=circuit.function, name=name
            ),
        )
    if task.function == "brake" and not own:
        return (
            "The path shows no pedal switch, so nobody knows on which side of it this pin lies.",
            "the pedal switch were recorded in the path of the brake circuit",
        )
    return None


def wired_candidates(at: Situation, task: Task) -> Iterator[Candidate | RuledOut]:
    """Yield every way to serve a task with a wire, and what rules out the others."""
    for circuit in (at.car.circuits[c] for c in task.circuits):
        for terminal in (at.terminal(t) for t in task.terminals):
            links = tuple(_links(at, task, terminal, circuit))
            for unfit in (link for link in links if isinstance(link, Unfit)):
                yield RuledOut(
                    task=task.id, how="tap", what=_wire_words(at, circuit, terminal), fact=unfit.fact,
                    cure=unfit.cure, far=unfit.far,
                )  # fmt: skip
            usable = tuple(link for link in links if isinstance(link, Link))
            if usable:
                yield from _at_pins(at, task, terminal, circuit, usable)
        if not task.terminals:
            kind = "output" if task.kind == "drive" else "input"
            yield RuledOut(
                task=task.id, how="tap", what=told("the {function} wire", function=circuit.function),
                fact=told(f"The kit has no {{function}} {kind}.", function=task.function),
                cure=told("the kit had {one}", one=one(told(f"{{function}} {kind}", function=task.function))), far=4,
            )  # fmt: skip
    if not task.circuits:
        # What a start may not be without is there and was forgotten; of the rest a record without it says it all.
        forgotten = task.need == "required" or task.kind == "sense"
        yield RuledOut(
            task=task.id, how="tap", what=told("the {function} wire", function=task.function),
            fact="No such circuit of this car is recorded." if forgotten else told(
                "The car has no {function} wire.", function=task.function,
            ),
            cure=told("{one} circuit of this car were recorded", one=one(task.function))
            if forgotten
            else told("the car had {one} wire", one=one(task.function)), far=6,
        )  # fmt: skip


def _wire_words(at: Situation, circuit: Circuit, terminal: Terminal) -> str:
    pins = [p for p in at.car.pins_of(circuit.id) if p in at.car.pins]
    name = circuit.name or circuit.function
    kind = "input" if "input" in terminal.kind else "output"
    colour = at.car.pins[pins[0]].words if pins and at.car.pins[pins[0]].colour else ""
    return linked(
        (
            told(f"the {{function}} {kind} on {{name}}", function=terminal.function, name=name),
            told("({colour})", colour=colour) if colour else "",
        )
    )


def _links(at: Situation, task: Task, terminal: Terminal, circuit: Circuit) -> Iterator[Link | Unfit]:
    if task.kind != "drive":
        unfit = input_fits(task, terminal, circuit)
        yield Link(share=0.0) if unfit is None else unfit
        return
    pulse = start_pulse(at, circuit) if isinstance(circuit.behaviour, StartRequest) else None
    if isinstance(pulse, Unfit):
        yield pulse
        return
    yield from links_for(at, task, terminal, circuit)


def _at_pins(
    at: Situation, task: Task, terminal: Terminal, circuit: Circuit, links: tuple[Link, ...]
) -> Iterator[Candidate | RuledOut]:
    wrong_side = _wrong_side_to_drive if task.kind == "drive" else _wrong_side_to_sense
    housings = {b.housing for b in at.kit.branches if any(c.terminal == terminal.id for c in b.conductors)}
    met = {at.car.plugs[p.partition("/")[0]].housing for p in at.car.pins_of(circuit.id) if _opens(at, p)}
    for end in ends_for(at, task, terminal.id, circuit):
        if isinstance(end, RuledOut):
            yield end
            continue
        if end.pin is None or end.plug is None:  # pragma: no cover - ends of circuits always have a pin
            continue
        wrong = wrong_side(task, circuit, end.pin)
        if wrong is not None:
            how, what = _way(at, end)
            yield RuledOut(task=task.id, how=how, what=what, fact=wrong[0], cure=wrong[1], far=5)
            continue
        must_cut = reason_at(task, circuit, end.pin) if task.kind == "drive" else None
        if must_cut is None:
            yield from (_candidate(at, task, circuit, end, link) for link in links if not link.cuts)
        yield from _cut_at(at, task, circuit, end, tuple(link for link in links if link.cuts), must_cut)
    for branch in at.kit.branches:
        if branch.housing in housings - met and any(p.housing == branch.housing for p in at.car.plugs.values()):
            yield RuledOut(
                task=task.id, how="T tapped", what=branch.label,
                fact=told("There is no pin of {function} in the plug it fits.", function=circuit.function),
                cure=told(
                    "{function} had a pin in the plug of {branch}", function=circuit.function, branch=branch.label,
                ), far=6,
            )  # fmt: skip


def _opens(at: Situation, pin: str) -> bool:
    return pin.partition("/")[0] in at.car.plugs


def _cut_at(
    at: Situation, task: Task, circuit: Circuit, end: End, links: tuple[Link, ...], must_cut: str | None
) -> Iterator[Candidate | RuledOut]:
    """Yield the ways to open the wire at an end, or why it cannot be opened where it would have to be."""
    side = factory_side(circuit, end.pin or "")
    if side is not None and end.kind in ("tap", "T tapped"):
        opened = replace(end, kind="cut in" if end.kind == "tap" else "T interrupted", factory_side=side)
        yield from (_candidate(at, task, circuit, opened, link) for link in links)
        if links or must_cut is None:
            return
    if must_cut is not None:
        how, what = _way(at, end)
        yield RuledOut(
            task=task.id, how=how, what=what, fact=told("{fact}.", fact=must_cut),
            cure=told("the kit had a part that parts the {function} wire there", function=circuit.function), far=4,
        )  # fmt: skip


_HOW: dict[str, How] = {
    "T tapped": "T tapped", "T interrupted": "T interrupted", "plug": "plug", "cut in": "cut in", "tap": "tap",
}  # fmt: skip


def _way(at: Situation, end: End) -> tuple[How, str]:
    """Return how an end is joined, and where in words."""
    where = pin_words(at.car, end.pin or "")
    if end.branch is None:
        return _HOW[end.kind], where
    return _HOW[end.kind], told(
        "{branch} at {where}", branch=next(b.label for b in at.kit.branches if b.id == end.branch), where=where
    )


def _candidate(at: Situation, task: Task, circuit: Circuit, end: End, link: Link) -> Candidate:
    part = link.part
    how, what = _way(at, end)
    substitute = at.terminal(end.terminal).function != task.function
    name = "|".join((
        # The order of names decides between equals: an output of the function itself comes before its substitute, whose
        # mark sorts after any pin.
        task.id, how, *(("~substitute",) if substitute else ()), end.pin or "", end.lead or end.branch or "",
        slug(end.label), part.id if part else "-", link.fed_from or "-",
        *((link.pattern,) if link.cuts and link.pattern else ()),
    ))  # fmt: skip
    pulse = start_pulse(at, circuit) if isinstance(circuit.behaviour, StartRequest) and task.kind == "drive" else None
    work = CUT_IN_MINUTES if how == "cut in" else TAP_MINUTES if how == "tap" else T_PIN_MINUTES
    return Candidate(
        id=name, task=task.id, how=how, what=told(
            "{what}, through {part}", what=what, part=part.name,
        ) if part else what, ends=(end,), part=part,
        pattern=link.pattern, fed_from=link.fed_from, part_why=link.why, part_does=link.does,
        setting=pulse if isinstance(pulse, tuple) else None, minutes=work + (part.minutes if part else 0.0),
        penalties=penalties_of(at, circuit, end), price=part.price if part else 0.0, share=link.share,
        powers=link.powers, isolation=link.isolation, live=live_in(circuit), meets=_meets(task, circuit, link),
        reaches=_reached(task, circuit, end),
    )  # fmt: skip


def _meets(task: Task, circuit: Circuit, link: Link) -> tuple[str, str] | None:
    """Return the power input and the vehicle feed that stand on the wire together, or None where they never do.

    They do once the key takes over or somebody switches the lamps on; what the kit gives for seconds is past then,
    unless its relay follows a wire that the key makes live. A switched wire that no other circuit feeds has a feed of
    its own.
    """
    behaviour = circuit.behaviour
    if (task.function in MOMENTARY and not link.follows) or link.feed is None or link.cuts:
        return None
    if isinstance(behaviour, KeyedFeed | SwitchedFeed | InputWire):
        return link.feed, behaviour.fed_by or circuit.id
    return None


def _reached(task: Task, circuit: Circuit, end: End) -> frozenset[str]:
    """Return the pins that the kit's own brake line makes live; its brake input must not read one of them."""
    if task.function != "brake line" or end.pin is None:
        return frozenset()
    back = between(circuit, end.pin, "source") if end.factory_side is not None else None
    return reached_pins(circuit, end.pin, back[0] if back else None)


def penalties_of(at: Situation, circuit: Circuit, end: End) -> tuple[tuple[float, str], ...]:
    """Return the minutes a joint counts for besides its work, with their reasons."""
    found = [PENALTIES["tap"]] if end.kind == "tap" else []
    if end.factory_side is not None:
        found.append(PENALTIES["cut in" if end.kind == "cut in" else "contact"])
    status = at.car.standing[circuit.id].status
    if status != "proven":
        found.append(PENALTIES[status])
    if end.plug is not None and restraint_pins(at.car, end.plug):
        found.append(PENALTIES["airbag wire"])
    if airbag_near(at.car, end.place):
        found.append(PENALTIES["airbag place"])
    if end.place is not None and at.car.places[end.place].through is not None:
        found.append(PENALTIES["bulkhead"])
    return tuple(found)
