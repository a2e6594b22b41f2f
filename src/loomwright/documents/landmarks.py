"""What surrounds a pin: the wires beside it as landmarks, the one to keep off, and the wires that look alike."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from loomwright.documents.colours import WireColour, clash_wires, parse_colour
from loomwright.documents.faces import Direction, FaceShape, Side, Turn, find_pin, stands_upright, touching, view

__all__ = ["Landmark", "Neglect", "Occupant", "Sight", "direction", "in_line_across", "landmark"]

Occupant = tuple[str, str | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What one sees in a place near the one looked for; `colour` is None for an empty place.

    `nth` of `alike_in_line` counts wires written with the same colour along the line from its left or top end.
    """

    pin: str
    where: Direction
    places_away: int
    colour: str | None
    nth: int
    alike_in_line: int
    alike_in_plug: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Neglect:
    """The pin to keep off: where it is seen from the target, what is in it, and why it would be taken by mistake."""

    pin: str
    where: tuple[Direction, ...]
    colour: str
    reason: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Landmark:
    """What surrounds a pin in one view.

    `before` is the place to the left of (or above) the target in its line, `after` the one to the right (below);
    None is the end of the line. `only_here` tells that no other place of the plug sits between the same two.
    `anchor` is the nearest wire, in the line first, whose colour occurs once in the plug. `look_alikes` are pins
    whose wires would be taken for the target's in bad light.
    """

    pin: str
    line: Literal["row", "column"]
    colour: str | None
    before: Sight | None
    after: Sight | None
    only_here: bool
    anchor: Sight | None
    avoid: Neglect | None
    look_alikes: tuple[str, ...]


def _text(occupant: Occupant | None) -> str | None:
    if occupant is None:
        return None
    base, stripe = occupant
    return base if stripe is None else f"{base}/{stripe}"


def _known(occupant: Occupant) -> tuple[WireColour, WireColour | None] | None:
    """Return the wire's colours, or None for a word that is not a known colour: then only equal words are alike."""
    try:
        return parse_colour(occupant[0]), None if occupant[1] is None else parse_colour(occupant[1])
    except ValueError:
        return None


def _alike(a: Occupant, b: Occupant) -> str | None:
    if (a[0].lower(), (a[1] or "").lower()) == (b[0].lower(), (b[1] or "").lower()):
        return "the same colour"
    known_a, known_b = _known(a), _known(b)
    return None if known_a is None or known_b is None else clash_wires(known_a, known_b)


def landmark(
    shape: FaceShape,
    pin: str,
    side: Side,
    turn: Turn,
    occupants: Mapping[str, Occupant | None],
) -> Landmark:
    """Return what surrounds a pin in this view, and which pin near it to keep off.

    `occupants` gives (base, stripe or None) for each pin with a wire; a pin that is absent or None is empty.

    Raises:     ValueError -- if the face has no such pin.
    """
    ordered, number, index = find_pin(shape, pin, side, turn)
    line = ordered[number]
    columns = stands_upright(shape, turn)
    colours = {other: _text(occupants.get(other)) for other in shape.pins}

    def sight(other: str, where: Direction, away: int) -> Sight:
        home = next(each for each in ordered if other in each)
        colour = colours[other]
        same = [each for each in home if colours[each] == colour]
        return Sight(
            pin=other,
            where=where,
            places_away=away,
            colour=colour,
            nth=same.index(other) + 1,
            alike_in_line=len(same),
            alike_in_plug=sum(1 for each in colours.values() if each == colour),
        )

    back: Direction = "above" if columns else "left"
    ahead: Direction = "below" if columns else "right"
    before = sight(line[index - 1], back, 1) if index > 0 else None
    after = sight(line[index + 1], ahead, 1) if index + 1 < len(line) else None
    pairs = [
        (colours[each[i - 1]] if i else "the end", colours[each[i + 1]] if i + 1 < len(each) else "the end")
        for each in ordered
        for i in range(len(each))
    ]
    mine = (before.colour if before else "the end", after.colour if after else "the end")
    single = [i for i, each in enumerate(line) if i != index and _single(colours, each)]
    nearest = min(single, key=lambda i: (abs(i - index), i), default=None)
    anchor = None if nearest is None else sight(line[nearest], back if nearest < index else ahead, abs(nearest - index))
    target = occupants.get(pin)
    look_alikes = tuple(
        other
        for other in shape.pins
        if other != pin and target is not None and _clash(occupants, pin, other) is not None
    )
    return Landmark(
        pin=pin,
        line="column" if columns else "row",
        colour=colours[pin],
        before=before,
        after=after,
        only_here=pairs.count(mine) == 1,
        anchor=anchor,
        avoid=_keep_off(shape, pin, side, turn, occupants),
        look_alikes=look_alikes,
    )


def _single(colours: Mapping[str, str | None], pin: str) -> bool:
    return colours[pin] is not None and sum(1 for each in colours.values() if each == colours[pin]) == 1


def _clash(occupants: Mapping[str, Occupant | None], a: str, b: str) -> str | None:
    one, other = occupants.get(a), occupants.get(b)
    return None if one is None or other is None else _alike(one, other)


def _danger(occupants: Mapping[str, Occupant | None], pin: str, other: str) -> int:
    """Return how near the other wire looks to the pin's: 0 same colour, 1 same family, 2 look-alike, 3 not alike."""
    reason = _clash(occupants, pin, other)
    if reason is None:
        return 3
    if reason == "the same colour":
        return 0
    here, there = occupants[pin], occupants[other]
    known = (_known(here) if here else None), (_known(there) if there else None)
    return 1 if known[0] and known[1] and known[0][0].family == known[1][0].family else 2


def _keep_off(
    shape: FaceShape, pin: str, side: Side, turn: Turn, occupants: Mapping[str, Occupant | None]
) -> Neglect | None:
    """Choose the bordering wire most easily taken by mistake: a look-alike first, then the nearest in the same line."""
    filled = [other for other in touching(shape, pin) if occupants.get(other) is not None]
    if not filled:
        return None
    ordered, number, _ = find_pin(shape, pin, side, turn)

    def rank(other: str) -> tuple[int, int, int]:
        return _danger(occupants, pin, other), 0 if other in ordered[number] else 1, filled.index(other)

    other = min(filled, key=rank)
    colour = _text(occupants[other])
    return Neglect(
        pin=other, where=direction(shape, pin, other, side, turn), colour=colour or "",
        reason=_clash(occupants, pin, other),
    )  # fmt: skip


def in_line_across(shape: FaceShape, pin: str, other: str, side: Side, turn: Turn) -> bool:
    """Tell whether another place lies straight across from a pin in another row, where a wrong row would lead."""
    at = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    across = abs(at[other].y - at[pin].y) if stands_upright(shape, turn) else abs(at[other].x - at[pin].x)
    return other != pin and across < 0.5


def direction(shape: FaceShape, pin: str, other: str, side: Side, turn: Turn) -> tuple[Direction, ...]:
    """Return where another place lies seen from a pin in this view: one direction, or up or down and then sideways."""
    at = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    dx, dy = at[other].x - at[pin].x, at[other].y - at[pin].y
    where: list[Direction] = []
    # A quarter of a pitch, as in staggered rows of unequal terminals, is no direction.
    if abs(dy) > 0.25:
        where.append("above" if dy < 0 else "below")
    if abs(dx) > 0.25:
        where.append("left" if dx < 0 else "right")
    return tuple(where)
