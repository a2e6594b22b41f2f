"""The plug itself, without any mark: housing, latch, every place with its number and wire.

It is drawn around its own middle, so that a paper that speaks of many pins of one plug holds it once.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import hypot
from xml.etree.ElementTree import Element, SubElement, tostring

from loomwright.documents.faces import Cavity, Edge, FaceShape, Side, Turn, latch_edge, view
from loomwright.documents.landmarks import Occupant
from loomwright.sheets.characters import printable
from loomwright.sheets.face_labels import LATCH_DEPTH, Frame
from loomwright.sheets.svg import INK
from loomwright.sheets.swatches import add_disc, exact_codes, number

__all__ = ["SOFT", "DrawnPlug", "cross_of", "disc_of", "draw_plug", "latch_half", "number_at", "number_size"]

SOFT = "#6b6b6b"
_BODY = "#ebe8e1"
_WORDED = 8.0  # places stand at least this far apart where a code is written under the wire [mm]
_CUT = 3.0  # what is cut off the corners opposite a wide side [mm]
_EDGE = 0.5  # what the outlines take beyond the housing, at least


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPlug:
    """The marks of a plug around its middle, and how far they reach from it [mm]."""

    marks: str
    half_width: float
    half_height: float


def draw_plug(
    shape: FaceShape,
    side: Side,
    turn: Turn,
    occupants: Mapping[str, Occupant | None],
    frame: Frame,
    *,
    latched: bool = True,
) -> DrawnPlug:
    """Draw a plug at the scale of a frame; wherever the frame stands, the same plug gives the same marks.

    Where it is not `latched` there is no tab: the housing is narrower opposite the edge that tells which way up it is.
    """
    wires = tuple((pin, occupants.get(pin)) for pin in shape.pins)
    return _drawn(shape, side, turn, wires, replace(frame, x=0.0, y=0.0), latched)


@lru_cache(maxsize=64)
def _drawn(
    shape: FaceShape,
    side: Side,
    turn: Turn,
    wires: tuple[tuple[str, Occupant | None], ...],
    frame: Frame,
    latched: bool,
) -> DrawnPlug:
    latch = latch_edge(turn)
    group = Element("g")
    w, h = 2 * frame.half_w, 2 * frame.half_h
    body = {"fill": _BODY, "stroke": INK, "stroke-width": "0.6"}
    if latched:
        _add_latch(group, frame, latch)
        _add_box(group, (-frame.half_w, -frame.half_h), w, h, 2.0, body)
    else:
        _add_wide(group, frame, latch, body)
    if side == "mating" and latched:
        # The open end shows the rim of the housing: a second line inside the first.
        rim = {"fill": "none", "stroke": INK, "stroke-width": "0.25"}
        _add_box(group, (1.0 - frame.half_w, 1.0 - frame.half_h), w - 2.0, h - 2.0, 1.4, rim)
    _add_places(group, {cavity.pin: cavity for cavity in view(shape, side, turn)}, dict(wires), frame)
    depth = LATCH_DEPTH + _EDGE
    return DrawnPlug(
        marks="".join(tostring(child, encoding="unicode").replace(" />", "/>") for child in group),
        half_width=frame.half_w + (depth if latch in {"left", "right"} else _EDGE),
        half_height=frame.half_h + (depth if latch in {"top", "bottom"} else _EDGE),
    )


def _add_box(
    parent: Element, corner: tuple[float, float], w: float, h: float, r: float, style: Mapping[str, str]
) -> None:
    place = {"x": number(corner[0]), "y": number(corner[1]), "width": number(w), "height": number(h), "rx": number(r)}
    SubElement(parent, "rect", {**place, **style})


def _add_latch(parent: Element, frame: Frame, latch: Edge) -> None:
    """Add the latch as a tab on its edge, with two ridges at each end."""
    half = latch_half(frame, latch)
    edge = frame.half_h if latch in {"top", "bottom"} else frame.half_w
    quarter = {"top": 0, "right": 90, "bottom": 180, "left": 270}[latch]
    tab = SubElement(parent, "g", {"stroke": INK, **({"transform": f"rotate({quarter})"} if quarter else {})})
    outline = f"M{number(-half)} {number(-edge)}v{number(1 - LATCH_DEPTH)}l1 -1H{number(half - 1)}l1 1V{number(-edge)}"
    SubElement(tab, "path", {"d": outline, "fill": "#ffffff", "stroke-width": "0.5"})
    ridges = "".join(
        f"M{number(x)} {number(-edge - 0.7)}V{number(0.8 - edge - LATCH_DEPTH)}"
        for x in (-half + 1.6, -half + 2.6, half - 2.6, half - 1.6)
    )
    SubElement(tab, "path", {"d": ridges, "stroke-width": "0.25"})


def _add_wide(parent: Element, frame: Frame, wide: Edge, style: Mapping[str, str]) -> None:
    """Add a housing whose corners are cut off at the side opposite the wide one."""
    upright = wide in {"left", "right"}
    half, edge = (frame.half_h, frame.half_w) if upright else (frame.half_w, frame.half_h)
    quarter = {"top": 0, "right": 90, "bottom": 180, "left": 270}[wide]
    cut = _CUT
    outline = (
        f"M{number(-half)} {number(-edge)}H{number(half)}V{number(edge - cut)}L{number(half - cut)} {number(edge)}"
        f"H{number(cut - half)}L{number(-half)} {number(edge - cut)}z"
    )
    turn = {"transform": f"rotate({quarter})"} if quarter else {}
    SubElement(parent, "path", {"d": outline, "stroke-linejoin": "round", **turn, **style})


def latch_half(frame: Frame, latch: Edge) -> float:
    """Return half the length of the latch's tab [mm]."""
    return min((frame.half_w if latch in {"top", "bottom"} else frame.half_h) * 0.6, 13.0)


def _is_flat(frame: Frame) -> bool:
    """Tell whether places are so much wider than high that the number stands beside the wire's end, not above it."""
    return frame.pitch_x >= 1.25 * frame.pitch_y


def number_size(frame: Frame) -> float:
    """Return the height of the numbers of the places [mm]: as large as two digits find room beside each other."""
    if _is_flat(frame):
        return max(min(frame.pitch_x * 0.38, frame.pitch_y * 0.46, 3.6), 1.9)
    return max(min(frame.pitch_x * 0.76, frame.pitch_y * 0.3, 3.6), 1.9)


def number_at(cavity: Cavity, frame: Frame) -> tuple[float, float]:
    """Return the middle of a place's number along its line, and that line [mm]."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    if _is_flat(frame):
        return x - half_w / 2, y - half_h + min(2 * half_h, 2 * number_size(frame)) * 0.47
    return x, y - half_h + number_size(frame) * 0.95


def _code_size(frame: Frame) -> float:
    """Return the height of the code under a wire, 0 where the places are too narrow for one."""
    size = min(frame.pitch_x * 0.18, 2.2)
    return max(size, 1.6) if frame.pitch_x >= _WORDED else 0.0


def _is_slim(half_w: float, half_h: float) -> bool:
    """Tell whether below the wire's end there is room for a cross."""
    return half_h >= 1.3 * half_w


def disc_of(cavity: Cavity, frame: Frame) -> tuple[float, float, float]:
    """Return middle and radius of the wire's end: below the number, and in a slim place with room for a cross left."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    if _is_flat(frame):
        return x + half_w * 0.46, y, min(half_h * 0.84, half_w * 0.46, 2.9 * cavity.size)
    top = y - half_h + number_size(frame) * 1.12
    bottom = y + half_h - (_code_size(frame) * 1.1 or half_h * 0.06)
    r = min((bottom - top) * 0.46, half_w * 0.78, 2.9 * cavity.size)
    if _is_slim(half_w, half_h) and not _code_size(frame):
        r = min(r, (bottom - top) * 0.29)
        return x, top + r * 1.05, r
    return x, (top + bottom) / 2, r


def cross_of(cavity: Cavity, frame: Frame) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    """Return the strokes of the cross at a pin to keep off: below the wire's end or towards it."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    cx, cy, r = disc_of(cavity, frame)
    if _is_flat(frame):
        # There is no room around the wire's end: the cross lies over it, and the label beside says its colours.
        return tuple(((cx - r, cy - sign * r), (cx + r, cy + sign * r)) for sign in (1, -1))
    if _is_slim(half_w, half_h) and not _code_size(frame):
        top, bottom = cy + r, y + half_h
        arm = min((bottom - top) / 2 - 0.45, half_w - 0.45)
        middle = (top + bottom) / 2
        return tuple(((x - arm, middle - sign * arm), (x + arm, middle + sign * arm)) for sign in (1, -1))
    # From each corner of the place to the wire's end, whose colour stays to be seen.
    digits = len(cavity.pin) * number_size(frame) * 0.28 + 0.7
    below_number = y - half_h + number_size(frame) + 0.5
    strokes = []
    for i in (-1, 1):
        for j in (-1, 1):
            corner = (x + i * (half_w - 0.6), y + (half_h - 0.6 - _code_size(frame) if j > 0 else 0.6 - half_h))
            reach = hypot(corner[0] - cx, corner[1] - cy)
            share = min(r * 1.1 / reach, 0.8)
            end = (cx + (corner[0] - cx) * share, cy + (corner[1] - cy) * share)
            passing = abs(corner[0] - x) * (cy - below_number) / (cy - corner[1])  # how far from the number
            if j < 0 and passing < digits:
                # It stops beside the number.
                share = digits / abs(corner[0] - x)
                end = (x + i * digits, cy + (corner[1] - cy) * share)
            strokes.append((corner, end))
    return tuple(strokes)


def _add_places(
    group: Element, cavities: Mapping[str, Cavity], wires: Mapping[str, Occupant | None], frame: Frame
) -> None:
    """Add every place: its walls, its number, and the wire's end with its code, or the hole.

    What is of one kind stands in one group, which says once how it looks.
    """
    size, tiny = number_size(frame), _code_size(frame)
    # One outline for all walls: with the places of a long plug that is much shorter than a box for each.
    look = {"fill": "#ffffff", "stroke": INK, "stroke-width": "0.25", "stroke-linejoin": "round"}
    walls = SubElement(group, "path", look)
    outlines: list[str] = []
    numbers = SubElement(group, "g", {"font-size": number(size), "text-anchor": "middle", "fill": INK})
    ends = SubElement(group, "g")
    rims = SubElement(group, "g", {"fill": "none", "stroke": INK, "stroke-width": "0.3"})
    holes = SubElement(group, "g", {"fill": "none", "stroke": SOFT, "stroke-width": "0.2"})
    codes = SubElement(group, "g", {"font-size": number(tiny), "text-anchor": "middle", "fill": INK})
    for pin, occupant in wires.items():
        cavity = cavities[pin]
        x, y = frame.at(cavity)
        half_w, half_h = frame.half(cavity)
        w, h = number(2 * half_w), number(2 * half_h)
        outlines.append(f"M{number(x - half_w)} {number(y - half_h)}h{w}v{h}h-{w}z")
        _add_text(numbers, pin, *number_at(cavity, frame), {} if occupant else {"fill": SOFT})
        cx, cy, r = disc_of(cavity, frame)
        if occupant is None:
            SubElement(holes, "circle", {"cx": number(cx), "cy": number(cy), "r": number(r * 0.5)})
            continue
        end = SubElement(ends, "g", {"transform": f"translate({number(cx)} {number(cy)})"})
        add_disc(end, (0.0, 0.0), r, *occupant)
        SubElement(rims, "circle", {"cx": number(cx), "cy": number(cy), "r": number(r)})
        code = exact_codes(*occupant)
        beside = half_w if _is_flat(frame) else 2 * half_w
        if tiny and code and beside > len(code) * tiny * 0.56:
            _add_text(codes, code, number_at(cavity, frame)[0], y + half_h - tiny * 0.32, {})
    walls.set("d", "".join(outlines))
    for each in (ends, rims, holes, codes):
        if not len(each):
            group.remove(each)


def _add_text(parent: Element, text: str, x: float, y: float, style: Mapping[str, str]) -> None:
    SubElement(parent, "text", {"x": number(x), "y": number(y), **style}).text = printable(text)
