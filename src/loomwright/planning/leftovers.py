"""What a plan leaves over: a value for every setting, and leads that this car does not need."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from loomwright.documents.car import Car
from loomwright.documents.colours import WireColour, clash_wires, parse_colour
from loomwright.documents.kit import Branch, Kit, Lead, Setting, SettingChoice
from loomwright.planning.candidates import pin_words
from loomwright.planning.installation import Joint, Route, UnusedLead
from loomwright.sentences import told
from loomwright.units import parse_quantity

__all__ = ["packed_branches", "packed_leads", "settings_of", "unused_leads", "with_clashes"]


_ONLY_BY_SETTING = frozenset({"driver unlock", "factory alarm arm"})
"""Outputs that the controller drives only where a setting says so: no button of a remote asks for them alone."""

_CRANK_LIMIT = "crank-limit"


def settings_of(car: Car, kit: Kit, routes: Sequence[Route]) -> tuple[tuple[str, str], ...]:
    """Return a value for every setting: the one a route chose, else one that the car or a joined output asks for.

    Else it is the default, or one that fits the routes. A default does not fit where it needs a function that nothing
    joins, or stands in for one that is joined. A choice named 'bus' or 'wire' fits only where the function it needs is
    joined in that way.
    """
    chosen = dict(route.setting for route in routes if route.setting is not None)
    joined = {str(r.function): "bus" if r.how == "bus" else "wire" for r in routes if r.how not in ("setting", "none")}
    return tuple(
        (s.id, chosen.get(s.id) or _put_to_use(s, joined) or _for_diesel(car, s) or _fitting(s, joined))
        for s in kit.settings
    )


def _put_to_use(setting: Setting, joined: Mapping[str, str]) -> str | None:
    """Return the choice without which an output would be joined for nothing; None where there is none."""
    uses = (c.value for c in setting.choices if c.needs in _ONLY_BY_SETTING and c.needs in joined)
    return next(uses, None)


def _for_diesel(car: Car, setting: Setting) -> str | None:
    """Return the longest crank that can be set, which a cold diesel may need; None for any other car or setting."""
    if setting.id != _CRANK_LIMIT or car.traits.fuel != "diesel":
        return None
    return max((c.value for c in setting.choices), key=_seconds)


def _seconds(value: str) -> float:
    try:
        return parse_quantity(value, "s")
    except ValueError:
        return 0.0


def _fitting(setting: Setting, joined: Mapping[str, str]) -> str:
    def fits(choice: SettingChoice) -> bool:
        if choice.serves is not None and choice.serves in joined:
            return False
        if choice.needs is None:
            return True
        return choice.needs in joined and (choice.value not in ("bus", "wire") or choice.value == joined[choice.needs])

    default = next((c for c in setting.choices if c.value == setting.default), None)
    if default is None or fits(default):
        return setting.default
    # A choice that reads what is joined says more than one that needs nothing.
    fitting = sorted((c for c in setting.choices if fits(c) and c.serves is None), key=lambda c: c.needs is None)
    return fitting[0].value if fitting else setting.default


def packed_branches(kit: Kit, joints: Sequence[Joint]) -> tuple[Branch, ...]:
    """Return the branches that are in the bag for this car: all of them, or only those that are plugged in."""
    plugged = {j.branch for j in joints}
    return tuple(b for b in kit.branches if b.packed == "always" or b.id in plugged)


def packed_leads(kit: Kit, joints: Sequence[Joint]) -> tuple[Lead, ...]:
    """Return the loose leads in the bag.

    A place of the kit's plug holds one lead: where that of a branch is joined, the loose one was never fitted.
    """
    held = {j.terminal for j in joints if j.branch is not None}
    return tuple(lead for lead in kit.leads if lead.terminal not in held)


def unused_leads(car: Car, kit: Kit, joints: Sequence[Joint]) -> tuple[UnusedLead, ...]:
    """Return every lead and conductor in the bag without a joint, and a wire near the work it could be taken for."""
    used = {(j.lead or j.branch, j.label) for j in joints}
    packed = packed_branches(kit, joints)
    wires = tuple(_wires_near(car, joints))
    ends = [(lead.id, "loose lead", lead) for lead in packed_leads(kit, joints)]
    ends += [(branch.id, branch.label, c) for branch in packed for c in branch.conductors]  # type: ignore[misc]
    return tuple(
        UnusedLead(
            label=end.label, colour=end.colour, stripe=end.stripe, where=where, terminal=end.terminal,
            clash=_clash(car, _parsed(end.colour, end.stripe), wires),
        )
        for owner, where, end in ends
        if (owner, end.label) not in used
    )  # fmt: skip


def with_clashes(car: Car, routes: Sequence[Route]) -> tuple[Route, ...]:
    """Return the routes, each joint with the other vehicle wire near it that has the very colours of its kit lead."""
    wires = tuple(_wires_near(car, [j for route in routes for j in route.joints]))

    def marked(joint: Joint) -> Joint:
        lead = _parsed(joint.colour, joint.stripe)
        places = {p.id: p.place for p in car.plugs.values()}
        same = [
            pin
            for pin, wire in wires
            if lead is not None and _same(lead, wire) and pin != joint.pin and places[_plug(pin)] == joint.place
        ]
        return replace(joint, clash=_wire_words(car, min(same))) if same else joint

    return tuple(replace(route, joints=tuple(marked(j) for j in route.joints)) for route in routes)


def _plug(pin: str) -> str:
    return pin.partition("/")[0]


def _same(lead: "_Wire", wire: "_Wire") -> bool:
    """Tell whether two wires have the same base and the same stripe, whatever words were used for them."""
    return [c and (c.family, c.shade) for c in lead] == [c and (c.family, c.shade) for c in wire]


_Wire = tuple[WireColour, WireColour | None]


def _parsed(colour: str | None, stripe: str | None) -> _Wire | None:
    """Read a wire's colours; None where somebody wrote a word that nobody can place."""
    try:
        return None if colour is None else (parse_colour(colour), parse_colour(stripe) if stripe else None)
    except ValueError:
        return None


def _wires_near(car: Car, joints: Iterable[Joint]) -> Iterator[tuple[str, _Wire]]:
    """Yield the vehicle wires in all plugs of the places where the buyer works."""
    places = {j.place for j in joints if j.place is not None}
    for pin, occupant in car.pins.items():
        plug = car.plugs.get(_plug(pin))
        wire = _parsed(occupant.colour, occupant.stripe)
        if plug is not None and plug.place in places and wire is not None:
            yield pin, wire


def _clash(car: Car, lead: _Wire | None, wires: Sequence[tuple[str, _Wire]]) -> str | None:
    """Name the vehicle wire that looks most like a lead: the same colours first, then look-alikes."""
    if lead is None:
        return None
    alike = [(pin, why, _same(lead, wire)) for pin, wire in wires if (why := clash_wires(lead, wire)) is not None]
    if not alike:
        return None
    pin, why, _ = min(alike, key=lambda found: (not found[2], not found[1].startswith("both"), found[0]))
    more = told("; {count} more wires look alike", count=len(alike) - 1) if len(alike) > 2 else ""
    return told("{wire}: {why}{more}", wire=_wire_words(car, pin), why=why, more=more)


def _wire_words(car: Car, pin: str) -> str:
    occupant = car.pins[pin]
    circuit = car.circuits[occupant.circuit]
    return told(
        "the {colour} wire at {where} ({circuit})",
        colour=occupant.words,
        where=pin_words(car, pin),
        circuit=circuit.name or circuit.function,
    )
