"""Sentences for finding a pin: how to hold the plug, how to count, what sits beside it, what to keep off.

The facts come from `loomwright.documents.faces`; here they are only put into words.
"""

from loomwright.documents.faces import Count, Direction, Edge, Side
from loomwright.documents.landmarks import Landmark, Neglect, Sight
from loomwright.documents.miscounts import Miscount
from loomwright.sentences import capital, linked, listing, told

__all__ = [
    "EMPTY", "LATCH", "LEGEND_AVOID", "LEGEND_EMPTY", "LEGEND_TARGET", "LEGEND_TARGETS", "WIDE_SIDE", "avoid_label",
    "caption_words", "count_label", "count_words", "keep_off_words", "landmark_words", "look_words", "neighbour_label",
    "open_end_words", "ordinal", "place_words", "slip_words", "target_label", "where_words",
]  # fmt: skip

EMPTY = "empty"
LATCH = "latch"
WIDE_SIDE = "wide side"
"""What tells which way up a free socket is: it has no latch, and one long side of its rim is wider."""
LEGEND_TARGET = "this pin"
LEGEND_TARGETS = "these pins"
LEGEND_AVOID = "not this pin"
LEGEND_EMPTY = "empty place"

_EDGE: dict[Edge, str] = {"top": "up", "bottom": "down", "left": "on the left", "right": "on the right"}
_WHERE: dict[Direction, str] = {
    "left": "on its left",
    "right": "on its right",
    "above": "above it",
    "below": "below it",
}
_TOWARDS: dict[Direction, str] = {"left": "to the left", "right": "to the right", "above": "up", "below": "down"}
_FIRST = ("first", "second", "third")


def ordinal(number: int) -> str:
    """Return 1st, 2nd, 3rd, 4th, 11th, 21st and so on."""
    if number == 1:
        return told("1st")
    tail = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return told(f"{{number}}{tail}", number=number)


def look_words(side: Side, latch: Edge, mark: str = LATCH) -> str:
    """Return how to look at the plug, e.g. 'Look at the side the wires go in, latch up.'; `mark` is what points so."""
    if side == "wire":
        return told("Look at the side the wires go in, {mark} {edge}.", mark=mark, edge=_EDGE[latch])
    return told("Look into the open end, where the metal contacts show, {mark} {edge}.", mark=mark, edge=_EDGE[latch])


def caption_words(side: Side, latch: Edge, mark: str = LATCH) -> str:
    """Return the line under a drawing, e.g. 'Seen from the wire side, latch up'."""
    seen = "Seen from the wire side" if side == "wire" else "Seen into the open end"
    return told("{seen}, {mark} {edge}", seen=seen, mark=mark, edge=_EDGE[latch])


def count_words(count: Count, mark: str = LATCH) -> str:
    """Return how to hold the plug and how to count to the pin, for somebody who has never done it."""
    return linked((look_words(count.side, count.latch, mark), place_words(count, mark)))


def place_words(count: Count, mark: str = LATCH) -> str:
    """Return how to count to the pin in a plug that is held the right way already."""
    return linked((_line_words(count, mark), _place_words(count)))


def _line_words(count: Count, mark: str) -> str:
    """Return the line to count in, ending so that the place can follow."""
    if count.lines == 1:
        return told(f"There is one {count.line}:")
    name = capital(told(f"{count.line_from} {count.line}"))
    if count.line_number > 1:
        name = told(f"{{nth}} {count.line} from the {count.line_from}", nth=capital(ordinal(count.line_number)))
    if count.latch_line == 1:
        return told("{line}, next to the {mark}:", line=name, mark=mark)
    if count.latch_line == count.lines:
        return told("{line}, away from the {mark}:", line=name, mark=mark)
    return told("{line}:", line=name)


def _place_words(count: Count) -> str:
    if count.places == 1:
        return told("it is the only place there.")
    end = count.place_from.upper()
    if count.place == 1:
        return told(f"it is the first place at the {end} end.")
    rule = "empty places count; solid plastic without a hole does not" if count.gaps else "empty places count"
    return told(
        f"count from the {end} end; it is the {{nth}} place of {{places}} ({{rule}}).",
        nth=ordinal(count.place), places=count.places, rule=rule,
    )  # fmt: skip


def _beside(sight: Sight, line: str) -> str:
    """Return what sits in a place, with the article that says whether there are more of them."""
    if sight.colour is None:
        return "an empty place"
    if sight.alike_in_plug == 1:
        return told("the {colour}", colour=sight.colour)
    if sight.alike_in_line == 1:
        return told("a {colour}" if sight.colour[0] not in "aeiou" else "an {colour}", colour=sight.colour)
    nth = _FIRST[sight.nth - 1] if sight.nth <= len(_FIRST) else ordinal(sight.nth)
    first = "left" if line == "row" else "top"
    return told(
        f"the {{nth}} from the {first} of the {{alike}} {{colour}} wires of this {line}", nth=nth,
        alike=sight.alike_in_line, colour=sight.colour,
    )  # fmt: skip


def landmark_words(landmark: Landmark) -> str:
    """Return what the pin sits between, how sure that is, and which pin to keep off."""
    parts: list[str] = ["There is no wire in this place yet."]
    if landmark.colour:
        parts = [told("The wire is {colour}.", colour=landmark.colour)]
    parts.append(_between(landmark))
    if not landmark.only_here:
        parts.append("The same two sit beside another place of this plug as well, so count.")
        if landmark.anchor is not None:
            away = landmark.anchor.places_away
            places = told("1 place") if away == 1 else told("{away} places", away=away)
            # The anchor lies on its side of the target, so the way from it to the target is the opposite one.
            way = _TOWARDS[_OPPOSITE[landmark.anchor.where]]
            parts.append(
                told(
                    "From the {colour}, the only one in this plug, go {places} {way}.", colour=landmark.anchor.colour,
                    places=places, way=way,
                )
            )  # fmt: skip
    if landmark.avoid is not None:
        parts.append(_avoid_words(landmark.avoid))
    others = [pin for pin in landmark.look_alikes if landmark.avoid is None or pin != landmark.avoid.pin]
    if others:
        alike = "The wire at pin {pins} looks much the same: go by the place, not by colour alone."
        if len(others) > 1:
            alike = "The wires at pins {pins} look much the same: go by the place, not by colour alone."
        parts.append(told(alike, pins=listing(others)))
    return linked(parts)


_OPPOSITE: dict[Direction, Direction] = {"left": "right", "right": "left", "above": "below", "below": "above"}


def _between(landmark: Landmark) -> str:
    before, after, line = landmark.before, landmark.after, landmark.line
    if before is None and after is None:
        return told(f"It has no neighbour in its {line}.")
    if before is not None and after is not None:
        if before.colour is None and after.colour is None:
            return told(
                "The places {before} and {after} are empty.", before=_WHERE[before.where], after=_WHERE[after.where]
            )
        return told(
            "It sits between {first}, {before}, and {second}, {after}.", first=_beside(before, line),
            before=_WHERE[before.where], second=_beside(after, line), after=_WHERE[after.where],
        )  # fmt: skip
    sight = after if before is None else before
    if sight is None:
        return ""
    end = {"right": "left", "left": "right", "below": "top", "above": "bottom"}[sight.where]
    return told(
        f"It is the last place at the {end} end, with {{neighbour}} {{where}}.", neighbour=_beside(sight, line),
        where=_WHERE[sight.where],
    )  # fmt: skip


def open_end_words(landmark: Landmark) -> str:
    """Return what surrounds a pin as one sees it looking into the open end: contacts and empty places, no colours."""
    said: list[str] = ["From here no wire shows its colour: go by the place alone."]
    for sight in (landmark.before, landmark.after):
        if sight is None:
            continue
        held = "The place {where}, pin {pin}, is empty."
        if sight.colour is not None:
            held = "The place {where}, pin {pin}, has a contact; do not touch it."
        said.append(told(held, where=_WHERE[sight.where], pin=sight.pin))
    if landmark.before is None or landmark.after is None:
        said.append(told(f"Its {landmark.line} ends there."))
    return linked(said)


def where_words(where: tuple[Direction, ...]) -> str:
    """Return where a place lies seen from the pin, e.g. 'above it to the left'."""
    if len(where) > 1:
        return told(f"{{where}} to the {where[1]}", where=_WHERE[where[0]])
    return _WHERE[where[0]] if where else "beside it"


def keep_off_words(landmark: Landmark) -> str:
    """Return which pin to keep off, or nothing where none is near."""
    return "" if landmark.avoid is None else _avoid_words(landmark.avoid)


def _avoid_words(avoid: Neglect) -> str:
    where = where_words(avoid.where)
    because = "it is right next to it" if avoid.reason is None else avoid.reason
    return told(
        "Do not touch pin {pin}, the {colour} {where}: {because}.", pin=avoid.pin, colour=avoid.colour, where=where,
        because=because,
    )  # fmt: skip


def slip_words(slip: Miscount) -> str:
    """Return how one comes to land on a wrong pin, e.g. 'you end on pin 12 if you count from the wrong end'."""
    cause = {
        "one off": "you are one place out",
        "wrong end": "you count from the wrong end",
        "other row": "you count in the wrong row",
        "wrong side": "you look at the other side of the plug",
        "upside down": "you hold the plug upside down",
        "skipped empty places": "you count only the places with wires",
    }[slip.how]
    return told("You end on pin {pin} if {cause}.", pin=slip.pin, cause=cause)


def target_label(pin: str, colour: str | None) -> str:
    """Return the label of the pin meant in a drawing, e.g. 'Pin 14: yellow/black'."""
    return told("Pin {pin}: {colour}", pin=pin, colour=colour if colour is not None else EMPTY)


def avoid_label(pin: str, colour: str | None) -> str:
    """Return the label of a pin to keep off in a drawing, e.g. 'Not pin 15: brown'."""
    return told("Not pin {pin}: {colour}", pin=pin, colour=colour if colour is not None else EMPTY)


def neighbour_label(pin: str, colour: str | None) -> str:
    """Return the label of a pin beside the one meant, e.g. '13: brown/white'."""
    return told("{pin}: {colour}", pin=pin, colour=colour if colour is not None else EMPTY)


def count_label(place: int) -> tuple[str, str]:
    """Return what stands above and below the arrow at the end where counting begins."""
    return ("first", "place") if place == 1 else ("count", told("to {place}", place=place))
