"""Where the labels of a connector face stand: what is written, at which edge, and the scale that leaves room for it."""

import itertools
import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.documents.faces import Cavity, Edge, FaceShape, Side, Turn, lines, neighbours, stands_upright, view
from loomwright.documents.landmarks import Occupant
from loomwright.papers import count_words as words
from loomwright.sheets.label_levels import Lie, cheapest_levels
from loomwright.sheets.swatches import exact_codes

__all__ = [
    "LATCH_DEPTH",
    "LINE",
    "SMALL",
    "TINY",
    "TITLE",
    "Anchor",
    "Frame",
    "Label",
    "Layout",
    "Placed",
    "face_labels",
    "is_narrow",
    "lay_out",
]

Anchor = Literal["start", "middle", "end"]
Lean = Literal["back", "middle", "ahead"]

TITLE, BIG, SMALL, TINY = 4.2, 3.7, 3.1, 2.5  # letter heights [mm]
LINE = 1.25  # distance of lines, in letter heights
LATCH_DEPTH = 3.6
_LETTER = 0.48  # mean width of a letter of the font, in letter heights
_MAX_PITCH = 13.0
_MIN_PITCH = 3.2  # below this the numbers of neighbouring places meet
_MIN_COLUMN = 8.0
_MIN_ACROSS = 9.5  # rows are drawn at least this far apart, so that number, wire and code find room in each place
_MAX_SPAN = 88.0  # longest way along upright columns, so that a turned plug leaves room on a page for its readings
_WALL = 2.4
_LEVEL = SMALL * LINE + 0.9  # distance of the levels on which labels stand
_OTHER_LEAN = 7  # what it costs to lie otherwise than a label would like, in tenths of a level farther out
_TRIALS = 40_000
_NARROW = 16  # letters of a line of a name where there is little room, at least
_COUNT_ROOM = 9.5  # beside rows, for the arrow where counting begins
_NO_COUNT_ROOM = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label with its leader: the place it belongs to and what is written, one or more lines."""

    pin: str
    text: tuple[str, ...]
    size: float
    bold: bool
    lean: Lean  # where the text lies from its leader, along the line
    edge: Edge  # of the housing, where the label stands
    inner: bool  # whether the leader has to pass outer lines

    @property
    def short(self) -> "Label":
        """The label without the code of the colour in brackets."""
        return replace(
            self, text=tuple(line.partition(" (")[0] if row == 0 else line for row, line in enumerate(self.text))
        )

    @property
    def narrow(self) -> "Label":
        """The short label with the name of its circuit in lines about as long as the first."""
        first, *rest = self.short.text
        width = max(len(first), _NARROW)
        return replace(self, text=(first, *(line for name in rest for line in textwrap.wrap(name, width))))

    @property
    def tight(self) -> "Label":
        """The short label with pin and colour under each other, and the name in lines about as long."""
        first, *rest = self.short.text
        head, _, colour = first.partition(": ")
        above = (f"{head}:", colour) if colour else (first,)
        width = max(*map(len, above), _NARROW)
        return replace(self, text=(*above, *(line for name in rest for line in textwrap.wrap(name, width))))

    @property
    def folded(self) -> "Label":
        """The label beside a column with the name of its circuit in lines about as long as those above it."""
        head = 3 if self.text[2:] and self.text[2].startswith("(") else 2  # the code of the colour has a line
        width = max(*map(len, self.text[:head]), _NARROW)
        names = (line for name in self.text[head:] for line in textwrap.wrap(name, width))
        return replace(self, text=(*self.text[:head], *names))

    @property
    def width(self) -> float:
        """The width of its longest line, estimated on the generous side."""
        return max(len(line) for line in self.text) * self.size * _LETTER * (1.06 if self.bold else 1.0)

    @property
    def height(self) -> float:
        """The height of all its lines."""
        return len(self.text) * self.size * LINE


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The scale and place of the face on the sheet; rows may be drawn farther apart than places in a row."""

    pitch_x: float
    pitch_y: float
    x: float  # the middle of the face
    y: float
    half_w: float  # half the housing's width and height
    half_h: float

    def at(self, cavity: Cavity) -> tuple[float, float]:
        """Return the middle of a place on the sheet."""
        return self.x + cavity.x * self.pitch_x, self.y + cavity.y * self.pitch_y

    def half(self, cavity: Cavity) -> tuple[float, float]:
        """Return half the width and height of a place, its share of the walls taken off."""
        wall = 0.06 * min(self.pitch_x, self.pitch_y)
        return cavity.size * self.pitch_x / 2 - wall, cavity.size * self.pitch_y / 2 - wall


def _colour(occupant: Occupant | None, say: Callable[[str], str]) -> str | None:
    """Return 'yellow/black (YE/BK)': the word as written first, the code of IEC 60757 where it says as much."""
    if occupant is None:
        return None
    base, stripe = occupant
    written = say(base) if stripe is None else f"{say(base)}/{say(stripe)}"
    code = exact_codes(base, stripe)
    return f"{written} ({code})" if code else written


def face_labels(
    shape: FaceShape,
    side: Side,
    turn: Turn,
    *,
    occupants: Mapping[str, Occupant | None],
    target: str | None,
    avoid: tuple[str, ...],
    names: Mapping[str, str],
    say: Callable[[str], str] = str,
) -> list[Label]:
    """Return the labels of the target's neighbours, of the pins to keep off, and last of the target.

    Where no pin is meant, each pin that has a name is labelled with it: the drawing of a whole plug. `say` puts words
    of the labels into another language.
    """
    ordered = lines(shape, side, turn)
    columns = stands_upright(shape, turn)
    at = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    first: Edge = "left" if columns else "top"
    last: Edge = "right" if columns else "bottom"

    def label(pin: str, text: str, size: float, *, bold: bool) -> Label:
        number_of = next(i for i, line in enumerate(ordered) if pin in line)
        upper = pin == target if len(ordered) == 1 else number_of < (len(ordered) + 1) // 2
        step = 0.0
        if target is not None:
            step = at[pin].y - at[target].y if columns else at[pin].x - at[target].x
        more = (names[pin],) if bold and pin in names else ()
        return Label(
            pin=pin,
            text=_split(text, columns=columns) + more,
            size=size,
            bold=bold,
            lean="back" if step < -0.3 else "ahead" if step > 0.3 else "middle",
            edge=first if upper else last,
            inner=number_of not in {0, len(ordered) - 1},
        )

    beside = neighbours(shape, target, side, turn).values() if target is not None else ()
    found: dict[str, Label] = {}
    for pin in beside:
        if pin is not None:
            said = words.neighbour_label(pin, _colour(occupants.get(pin), say))
            found[pin] = label(pin, say(said), SMALL, bold=False)
    if target is None:
        for pin in names:
            if pin in at:
                said = words.target_label(pin, _colour(occupants.get(pin), say))
                found[pin] = label(pin, say(said), SMALL, bold=True)
    for pin in avoid:
        found[pin] = label(pin, say(words.avoid_label(pin, _colour(occupants.get(pin), say))), SMALL, bold=True)
    if target is not None:
        found.pop(target, None)
    labels = [found[pin] for pin in sorted(found, key=lambda pin: (at[pin].y, at[pin].x))]
    if target is not None:
        said = words.target_label(target, _colour(occupants.get(target), say))
        labels.append(label(target, say(said), BIG, bold=True))
    return labels


def _split(text: str, *, columns: bool) -> tuple[str, ...]:
    """Beside a column there is little width: number, colour and code stand under each other."""
    if not columns:
        return (text,)
    head, _, rest = text.partition(": ")
    word, bracket, code = rest.partition(" (")
    return (f"{head}:", word) + ((f"({code}",) if bracket else ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A label with its place on the sheet: where its lines are anchored, the top of the first, and its leader."""

    label: Label
    anchor: Anchor
    x: float
    y: float
    leader: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The whole drawing laid out; it may be wider than asked for where a face would else be too small to read."""

    frame: Frame
    width: float
    height: float
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class _Stacked:
    """A label above or below the face: where its text begins and how far out, and where its leader runs."""

    label: Label
    left: float
    right: float
    rise: float
    out: float  # how far out it ends
    leader_x: float
    anchor: Anchor
    anchor_x: float
    pushed: bool = False  # back from the edge of the sheet, and so away from its leader

    def at(self, rise: float) -> "_Stacked":
        """Return the same label at another level."""
        return replace(self, rise=rise, out=rise + self.label.height)


def lay_out(
    cavities: Mapping[str, Cavity],
    latch: Edge,
    shown: list[Label],
    *,
    columns: bool,
    width: float,
    titled: bool,
    captioned: bool = True,
    counted: Edge | None = None,
) -> Layout:
    """Choose the scale, put the face on the sheet and give each label its place."""
    span_w = 2 * max(abs(c.x) + c.size / 2 for c in cavities.values())
    span_h = 2 * max(abs(c.y) + c.size / 2 for c in cavities.values())
    least = span_w * (_MIN_COLUMN if columns else _MIN_PITCH)
    room = _room(shown, latch, counted, columns=columns)
    if columns and room["left"] + room["right"] + 2 * _WALL + least > width:
        shown = [label.folded for label in shown]
        room = _room(shown, latch, counted, columns=columns)
    besides = room["left"] + room["right"] + 2 * _WALL
    width = max(width, besides + least)
    pitch_x = min((width - besides) / span_w, _MAX_PITCH)
    if columns:
        # Labels take more or less room beside the columns; a few scales for all let drawings share the plug.
        pitch_x -= pitch_x % 0.5
    pitch_y = min(max(pitch_x * 1.1, _MIN_ACROSS), _MAX_SPAN / span_h if columns else _MAX_PITCH * 1.1)
    top = (TITLE * 1.6 if titled else 1.0) + (LATCH_DEPTH if latch == "top" else 0.0)
    foot = LATCH_DEPTH if latch == "bottom" else 0.0
    flat = Frame(
        pitch_x=pitch_x,
        pitch_y=pitch_y,
        x=(width + room["left"] - room["right"]) / 2,
        y=0.0,
        half_w=span_w * pitch_x / 2 + _WALL,
        half_h=span_h * pitch_y / 2 + _WALL,
    )
    if columns:
        frame = replace(flat, y=top + 5 + flat.half_h)
        placed = _place_beside(cavities, frame, shown, latch)
        lowest = max((each.y + each.label.height + 1 for each in placed), default=0.0)
        bottom = max(frame.y + frame.half_h + foot + 6, lowest)
    else:
        above = _stack([label for label in shown if label.edge == "top"], cavities, flat, width)
        below = _stack([label for label in shown if label.edge == "bottom"], cavities, flat, width)
        upper = max((item.rise + item.label.height for item in above), default=-1.5)
        lower = max((item.rise + item.label.height for item in below), default=-1.5)
        frame = replace(flat, y=top + upper + 3 + flat.half_h)
        placed = [_place_stacked(item, cavities, frame, latch) for item in (*above, *below)]
        bottom = frame.y + frame.half_h + foot + 3 + lower + 1.5
    return Layout(
        frame=frame, width=width, height=bottom + _caption_height(width, captioned=captioned), placed=tuple(placed)
    )


def _room(shown: list[Label], latch: Edge, counted: Edge | None, *, columns: bool) -> dict[Edge, float]:
    """Return what stands left and right of the housing takes: labels of columns, the latch, the arrow to count from."""
    room: dict[Edge, float] = {"left": 0.0, "right": 0.0}
    for edge in room:
        room[edge] = _COUNT_ROOM if counted == edge else _NO_COUNT_ROOM
        if columns:
            room[edge] = max((label.width for label in shown if label.edge == edge), default=0.0) + 7
        room[edge] += LATCH_DEPTH if latch == edge else 0.0
    return room


def _place_stacked(item: _Stacked, cavities: Mapping[str, Cavity], frame: Frame, latch: Edge) -> Placed:
    label = item.label
    cavity = cavities[label.pin]
    _, y = frame.at(cavity)
    reach = frame.half(cavity)[1]
    out = frame.half_h + 3 + (LATCH_DEPTH if latch == label.edge else 0.0)
    if label.edge == "top":
        text_y = frame.y - out - item.rise - label.height
        ends = y - reach, text_y + label.height + 0.6
    else:
        text_y = frame.y + out + item.rise
        ends = y + reach, text_y + 0.2
    leader: tuple[tuple[float, float], ...] = tuple((item.leader_x, end) for end in ends)
    if item.pushed:
        # The text could not stay at its leader, so the leader goes on along it.
        leader = (*leader, ((item.left + item.right) / 2, ends[1]))
    return Placed(label=label, anchor=item.anchor, x=item.anchor_x, y=text_y, leader=leader)


def _stack(items: list[Label], cavities: Mapping[str, Cavity], frame: Frame, width: float) -> list[_Stacked]:
    """Place labels above or below the face so that no text meets a text or a leader, as near the face as can be.

    On a crowded sheet the codes of the colours are left out of the labels, and then their lines are broken; where
    places are wide enough the codes stand under the wires as well. Where even that does not help, each label gets a
    level of its own.
    """
    ways = [items, [i.short for i in items], [i.narrow for i in items], [i.tight for i in items]]
    choices = [[_choices(label, cavities[label.pin], frame, width) for label in labels] for labels in ways]
    for options in choices:
        found = _search(options)
        if found is not None:
            return found
    for options in reversed(choices):
        found = _stairs(options)
        if found is not None:
            return found
    return _one_above_the_other([first for (_, first), *_ in choices[0]])


def _stairs(labels: list[list[tuple[int, _Stacked]]]) -> list[_Stacked] | None:
    """Give each label a level of its own so that no leader meets a text; None where no order of levels does that.

    A text must lie farther out than every label whose leader runs under it. Where these demands are in no circle an
    order of the levels meets them all.
    """
    for leans in itertools.islice(itertools.product(*labels), _TRIALS):
        left = [item for _, item in leans]
        order: list[_Stacked] = []
        while left:
            free = [
                item
                for item in left
                if not any(o is not item and item.left - 1 < o.leader_x < item.right + 1 for o in left)
            ]
            if not free:
                break
            order += free
            left = [item for item in left if item not in free]
        if not left:
            return _one_above_the_other(order)
    return None


def _one_above_the_other(items: list[_Stacked]) -> list[_Stacked]:
    rises = itertools.accumulate((item.label.height + 1.0 for item in items), initial=0.0)
    return [item.at(rise) for item, rise in zip(items, rises, strict=False)]


def _choices(label: Label, cavity: Cavity, frame: Frame, width: float) -> list[tuple[int, _Stacked]]:
    """Return where the label may lie from its leader, with what it costs to lie otherwise than it would like."""
    x, _ = frame.at(cavity)
    if label.inner:
        # The leader of an inner line runs in the wall between two places of the outer lines.
        x += cavity.size * frame.pitch_x / 2
    w = label.width
    found: dict[Lean, tuple[float, Anchor, float]] = {
        "back": (x - w + 0.8, "end", x + 0.8),
        "ahead": (x - 0.8, "start", x - 0.8),
        "middle": (x - w / 2, "middle", x),
    }
    order: list[Lean] = [label.lean, *(lean for lean in ("middle", "back", "ahead") if lean != label.lean)]
    fitting = [found[each] for each in order if 0.5 <= found[each][0] <= width - w - 0.5]
    # At the edge of the sheet a text is pushed back until it fits; it still has to meet its leader.
    pushed: list[tuple[float, Anchor, float]] = [
        (left, "middle", left + w / 2) for left in (max(width - w - 0.5, 0.5), 0.5)
    ]
    fitting += [one for one in pushed if one[0] <= x <= one[0] + w]
    return [
        (
            0 if one == found[label.lean] else _OTHER_LEAN,
            _Stacked(label, one[0], one[0] + w, 0.0, label.height, x, one[1], one[2], one in pushed),
        )
        for one in fitting or pushed[:1]
    ]


def _search(labels: list[list[tuple[int, _Stacked]]]) -> list[_Stacked] | None:
    """Return the cheapest set of levels and leans of all labels without a collision; None where none was found."""
    lies = [
        [
            Lie(left=item.left, right=item.right, height=item.label.height, leader_x=item.leader_x, cost=cost)
            for cost, item in choices
        ]
        for choices in labels
    ]
    found = cheapest_levels(lies, _LEVEL)
    if found is None:
        return None
    return [choices[way][1].at(level * _LEVEL) for choices, (way, level) in zip(labels, found, strict=True)]


def _place_beside(cavities: Mapping[str, Cavity], frame: Frame, shown: list[Label], latch: Edge) -> list[Placed]:
    """Place labels left and right of upright columns, each at the height of its pin where there is room."""
    placed: list[Placed] = []
    for edge, sign in (("left", -1.0), ("right", 1.0)):
        items = sorted((label for label in shown if label.edge == edge), key=lambda label: cavities[label.pin].y)
        tops = _spread([(frame.at(cavities[i.pin])[1] - i.height / 2, i.height + 1.0) for i in items])
        start = frame.x + sign * (frame.half_w + 5.0 + (LATCH_DEPTH if latch == edge else 0.0))
        for label, text_y in zip(items, tops, strict=True):
            cavity = cavities[label.pin]
            x, y = frame.at(cavity)
            if label.inner:
                y += cavity.size * frame.pitch_y / 2
            bend = frame.x + sign * (frame.half_w + 1.0)
            middle = text_y + label.height / 2
            leader = ((x + sign * frame.half(cavity)[0], y), (bend, y), (start - sign * 0.8, middle))
            anchor: Anchor = "end" if edge == "left" else "start"
            placed.append(Placed(label=label, anchor=anchor, x=start, y=text_y, leader=leader))
    return placed


def _spread(wanted: list[tuple[float, float]]) -> list[float]:
    """Move tops apart so that none overlaps, keeping their order and their common middle as far as possible."""
    tops: list[float] = []
    for top, _ in wanted:
        tops.append(max(top, tops[-1] + wanted[len(tops) - 1][1]) if tops else top)
    if tops:
        shift = sum(have - want for have, (want, _) in zip(tops, wanted, strict=True)) / len(tops)
        shift = min(shift, tops[0] - 1.0)  # all of them together stay on the sheet, and apart
        tops = [top - shift for top in tops]
    return tops


def _caption_height(width: float, *, captioned: bool) -> float:
    """Return the room below the face for the caption and the key, which stand under each other on a narrow sheet."""
    return 12.5 if captioned and is_narrow(width) else 7.0 if captioned else 6.0


def is_narrow(width: float) -> bool:
    """Tell whether the caption and the key do not fit side by side."""
    return width < 135
