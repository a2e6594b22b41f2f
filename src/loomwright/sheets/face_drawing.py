"""The drawing of a connector face: housing, latch, every place with its number and wire, and the pin meant.

One user unit of the SVG is 1 mm. The pin meant has a heavy frame and its number on a filled tab, a pin to keep off a
heavy cross, an empty place a thin ring; the colours of the marked pins and of those beside them are written out.
Nothing is told by colour alone, so a black-and-white print says the same.
"""

from collections.abc import Mapping
from xml.etree.ElementTree import Element, SubElement, tostring

from loomwright.documents.faces import Cavity, Count, Edge, FaceShape, Side, Turn, count_to, latch_edge, view
from loomwright.documents.landmarks import Occupant, landmark
from loomwright.papers import count_words as words
from loomwright.sheets.characters import printable
from loomwright.sheets.face_labels import (
    LATCH_DEPTH,
    LINE,
    SMALL,
    TINY,
    TITLE,
    Anchor,
    Frame,
    Layout,
    Placed,
    face_labels,
    is_narrow,
    lay_out,
)
from loomwright.sheets.svg import FONT, INK
from loomwright.sheets.swatches import add_disc, number, wire_colours

__all__ = ["draw_face"]

_SOFT = "#6b6b6b"
_ACCENT = "#0b5566"
_BODY = "#ebe8e1"


# Said twice: browsers read the weight; the setting keeps a variable font from falling back to its thinnest cut where a
# renderer takes the normal weight for the font's default.
_REGULAR = {"font-weight": "400", "font-variation-settings": "'wght' 400"}
_BOLD = {"font-weight": "700", "font-variation-settings": "'wght' 700"}


def draw_face(
    shape: FaceShape,
    *,
    side: Side,
    turn: Turn = 0,
    occupants: Mapping[str, Occupant | None],
    target: str | None = None,
    avoid: tuple[str, ...] = (),
    labels: Mapping[str, str] | None = None,
    width_mm: float = 160.0,
    title: str = "",
) -> str:
    """Return the face of a plug as SVG text, the same bytes for the same input.

    Parameters: shape : FaceShape -- the face
                side, turn -- from which side and how turned clockwise it is seen [degrees]
                occupants : mapping -- pin to (base colour, stripe or None); None or absent where no wire sits
                target : str or None -- the pin meant
                avoid : tuple -- pins to keep off
                labels : mapping or None -- pin to the name of its circuit, written under a marked pin's colour
                width_mm : float -- width of the drawing, at least 60 [mm]
                title : str -- written above, none where empty
    Raises:     ValueError -- for a pin that the face does not have, or a width below 60 mm.
    """
    if width_mm < 60:
        msg = f"width_mm: found {width_mm:g} mm, expected at least 60 mm; give the drawing more room"
        raise ValueError(msg)
    for pin in (*([target] if target is not None else []), *avoid):
        count_to(shape, pin, side, turn)
    cavities = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    columns = count_to(shape, shape.pins[0], side, turn).line == "column"
    shown = face_labels(shape, side, turn, occupants=occupants, target=target, avoid=avoid, names=labels or {})
    layout = lay_out(cavities, latch_edge(turn), shown, columns=columns, width=width_mm, titled=bool(title))
    frame, width, height = layout.frame, layout.width, layout.height

    svg = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{number(width)}mm",
            "height": f"{number(height)}mm",
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "role": "img",
            "font-family": FONT,
            **_REGULAR,
        },
    )
    caption = words.caption_words(side, latch_edge(turn))
    SubElement(svg, "title").text = printable(title or caption)
    described = caption if target is None else _description(shape, target, side, turn, occupants)
    SubElement(svg, "desc").text = printable(described)
    SubElement(svg, "rect", {"width": number(width), "height": number(height), "fill": "#ffffff"})
    if title:
        _write(svg, title, (width / 2, TITLE * 1.1), TITLE, anchor="middle", bold=True)
    _draw_housing(svg, layout, side, latch_edge(turn))
    for pin in shape.pins:
        _draw_place(svg, cavities[pin], frame, occupants.get(pin))
    for pin in avoid:
        _draw_cross(svg, cavities[pin], frame)
    if target is not None:
        _draw_target(svg, cavities[target], frame)
        _draw_count(svg, count_to(shape, target, side, turn), cavities[target], frame)
    for each in layout.placed:
        _draw_label(svg, each, emphasis=each.label.pin == target)
    entries = [("target", words.LEGEND_TARGET)] if target is not None else []
    entries += [("avoid", words.LEGEND_AVOID)] if avoid else []
    entries += [("empty", words.LEGEND_EMPTY)] if any(occupants.get(pin) is None for pin in shape.pins) else []
    _draw_caption(svg, caption, layout, entries)
    return tostring(svg, encoding="unicode")


def _description(
    shape: FaceShape, target: str, side: Side, turn: Turn, occupants: Mapping[str, Occupant | None]
) -> str:
    """Return what the drawing tells, for somebody who hears it read out."""
    count = words.count_words(count_to(shape, target, side, turn))
    return f"{count} {words.landmark_words(landmark(shape, target, side, turn, occupants))}"


def _write(
    parent: Element,
    text: str,
    at: tuple[float, float],
    size: float,
    *,
    anchor: Anchor = "start",
    bold: bool = False,
    fill: str = INK,
) -> Element:
    style = {"x": number(at[0]), "y": number(at[1]), "font-size": number(size), "fill": fill}
    if anchor != "start":
        style["text-anchor"] = anchor
    if bold:
        style |= _BOLD
    element = SubElement(parent, "text", style)
    element.text = printable(text)
    return element


def _box(parent: Element, corner: tuple[float, float], w: float, h: float, r: float, **style: str) -> None:
    named = {key.replace("_", "-"): value for key, value in style.items()}
    place = {"x": number(corner[0]), "y": number(corner[1]), "width": number(w), "height": number(h), "rx": number(r)}
    SubElement(parent, "rect", {**place, **named})


def _path(parent: Element, points: tuple[tuple[float, float], ...], **style: str) -> None:
    d = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    named = {key.replace("_", "-"): value for key, value in style.items()}
    SubElement(parent, "path", {"d": d, "fill": "none", **named})


def _draw_housing(svg: Element, layout: Layout, side: Side, latch: Edge) -> None:
    frame = layout.frame
    group = SubElement(svg, "g")
    leaders = [placed.leader[-1][0] - frame.x for placed in layout.placed if placed.label.edge == latch]
    _draw_latch(group, frame, latch, leaders if latch in {"top", "bottom"} else [])
    corner = frame.x - frame.half_w, frame.y - frame.half_h
    w, h = 2 * frame.half_w, 2 * frame.half_h
    _box(group, corner, w, h, 2.0, fill=_BODY, stroke=INK, stroke_width="0.6")
    if side == "mating":
        # The open end shows the rim of the housing: a second line inside the first.
        inner = corner[0] + 1.0, corner[1] + 1.0
        _box(group, inner, w - 2.0, h - 2.0, 1.4, fill="none", stroke=INK, stroke_width="0.25")


def _draw_latch(parent: Element, frame: Frame, latch: Edge, leaders: list[float]) -> None:
    """Draw the latch as a tab on its edge, with two ridges and its name, set aside from leaders that cross it."""
    half = min((frame.half_w if latch in {"top", "bottom"} else frame.half_h) * 0.6, 13.0)
    edge = frame.half_h if latch in {"top", "bottom"} else frame.half_w
    quarter = {"top": 0, "right": 90, "bottom": 180, "left": 270}[latch]
    turned = f"translate({number(frame.x)} {number(frame.y)}) rotate({quarter})"
    tab = SubElement(parent, "g", {"transform": turned})
    outline = f"M{number(-half)} {number(-edge)}v{number(1 - LATCH_DEPTH)}l1 -1H{number(half - 1)}l1 1V{number(-edge)}"
    SubElement(tab, "path", {"d": outline, "fill": "#ffffff", "stroke": INK, "stroke-width": "0.5"})
    for x in (-half + 1.6, -half + 2.6, half - 2.6, half - 1.6):
        _path(tab, ((x, -edge - 0.7), (x, 0.8 - edge - LATCH_DEPTH)), stroke=INK, stroke_width="0.25")
    # Half the width of the word and a little air; turned over, what is right on the sheet is left on the tab.
    clear, sign = 3.8, -1 if latch == "bottom" else 1
    places = [x for x in (0.0, -half + 7.2, half - 7.2) if all(abs(sign * at - x) > clear for at in leaders)]
    if half > 6 and places:
        y = -edge - LATCH_DEPTH / 2
        text = _write(tab, words.LATCH, (places[0], y + 0.85), TINY, anchor="middle")
        if latch == "bottom":
            text.set("transform", f"rotate(180 {number(places[0])} {number(y)})")


def _number_size(frame: Frame) -> float:
    return max(min(frame.pitch_x * 0.28, frame.pitch_y * 0.24, 3.2), 1.9)


def _code_size(frame: Frame) -> float:
    """Return the height of the colour code under a wire, 0 where the places are too narrow for one."""
    size = min(frame.pitch_x * 0.18, 2.2)
    return max(size, 1.6) if frame.pitch_x >= 6 else 0.0


def _disc(cavity: Cavity, frame: Frame) -> tuple[float, float, float]:
    """Return middle and radius of the wire's end: between the number above and the code below."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    top = y - half_h + _number_size(frame) * 1.12
    bottom = y + half_h - (_code_size(frame) * 1.1 or half_h * 0.12)
    return x, (top + bottom) / 2, min((bottom - top) * 0.46, half_w * 0.72, 2.9 * cavity.size)


def _draw_place(svg: Element, cavity: Cavity, frame: Frame, occupant: Occupant | None) -> None:
    """Draw one place: its walls, its number, and the wire's end or the hole."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    corner = min(half_w, half_h) * 0.2
    _box(svg, (x - half_w, y - half_h), 2 * half_w, 2 * half_h, corner, fill="#ffffff", stroke=INK, stroke_width="0.25")
    size = _number_size(frame)
    _write(svg, cavity.pin, (x, y - half_h + size * 0.95), size, anchor="middle", fill=INK if occupant else _SOFT)
    cx, cy, r = _disc(cavity, frame)
    if occupant is None:
        hole = {"cx": number(cx), "cy": number(cy), "r": number(r * 0.5)}
        SubElement(svg, "circle", {**hole, "fill": "none", "stroke": _SOFT, "stroke-width": "0.2"})
        return
    add_disc(svg, (cx, cy), r, *occupant)
    code = "/".join(colour.code for colour in wire_colours(*occupant) if colour is not None)
    tiny = _code_size(frame)
    if tiny and code and 2 * half_w > len(code) * tiny * 0.6:
        _write(svg, code, (x, y + half_h - tiny * 0.32), tiny, anchor="middle")


def _draw_target(svg: Element, cavity: Cavity, frame: Frame) -> None:
    """Frame the pin meant heavily and put its number on a filled tab."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    group = SubElement(svg, "g")
    left, top, w, h = x - half_w - 0.2, y - half_h - 0.2, 2 * half_w + 0.4, 2 * half_h + 0.4
    for stroke, width in (("#ffffff", "1.8"), (_ACCENT, "1.1")):
        _box(group, (left, top), w, h, min(half_w, half_h) * 0.22, fill="none", stroke=stroke, stroke_width=width)
    size = _number_size(frame)
    tab = min(max(len(cavity.pin) * size * 0.6 + 1.2, size * 1.4), w)
    _box(group, (x - tab / 2, top), tab, size * 1.15 + 0.2, 0.5, fill=_ACCENT)
    _write(group, cavity.pin, (x, y - half_h + size * 0.95), size, anchor="middle", bold=True, fill="#ffffff")


def _draw_cross(svg: Element, cavity: Cavity, frame: Frame) -> None:
    cx, cy, r = _disc(cavity, frame)
    arm = r * 1.05
    group = SubElement(svg, "g")
    for stroke, width in (("#ffffff", "1.6"), (INK, "0.8")):
        for sign in (1, -1):
            points = ((cx - arm, cy - sign * arm), (cx + arm, cy + sign * arm))
            _path(group, points, stroke=stroke, stroke_width=width, stroke_linecap="round")


def _draw_count(svg: Element, count: Count, target: Cavity, frame: Frame) -> None:
    """Draw an arrow at the end of the line from which one counts to the target."""
    x, y = frame.at(target)
    outward = {"left": (-1, 0), "right": (1, 0), "top": (0, -1), "bottom": (0, 1)}[count.place_from]
    depth = LATCH_DEPTH if count.latch == count.place_from else 0.0
    if outward[0]:
        tip = (frame.x + outward[0] * (frame.half_w + depth + 0.8), y)
    else:
        tip = (x, frame.y + outward[1] * (frame.half_h + depth + 0.8))
    tail = (tip[0] + outward[0] * 5, tip[1] + outward[1] * 4)
    group = SubElement(svg, "g")
    _path(group, (tail, tip), stroke=_ACCENT, stroke_width="0.7")
    across = (outward[1], outward[0])
    head = tuple(
        (tip[0] + outward[0] * 1.8 + s * across[0] * 1.2, tip[1] + outward[1] * 1.8 + s * across[1] * 1.2)
        for s in (1, -1)
    )
    _path(group, (head[0], tip, head[1]), stroke=_ACCENT, stroke_width="0.7", stroke_linejoin="round")
    upper, lower = words.count_label(count.place)
    if outward[0]:
        middle = tip[0] + outward[0] * 4.0
        _write(group, upper, (middle, y - 1.7), TINY, anchor="middle", fill=_ACCENT)
        _write(group, lower, (middle, y + 3.3), TINY, anchor="middle", fill=_ACCENT)
    else:
        _write(group, f"{upper} {lower}", (x + 2.2, tip[1] + outward[1] * 2 + 0.9), TINY, fill=_ACCENT)


def _draw_label(svg: Element, placed: Placed, *, emphasis: bool) -> None:
    label = placed.label
    group = SubElement(svg, "g")
    colour, weight = (_ACCENT, "0.6") if emphasis else (INK, "0.3")
    if label.inner:
        _path(group, placed.leader, stroke="#ffffff", stroke_width="1")
    _path(group, placed.leader, stroke=colour, stroke_width=weight)
    for row, line in enumerate(label.text):
        at = placed.x, placed.y + (row + 0.86) * label.size * LINE
        ink = colour if emphasis and row == 0 else INK
        _write(group, line, at, label.size, anchor=placed.anchor, bold=label.bold and row == 0, fill=ink)


def _draw_caption(svg: Element, caption: str, layout: Layout, entries: list[tuple[str, str]]) -> None:
    """Write from where the plug is seen, and what the marks mean."""
    group = SubElement(svg, "g")
    narrow = is_narrow(layout.width)
    _write(group, caption, (1.0, layout.height - (7.6 if narrow else 2.2)), SMALL, bold=True)
    lengths = [5.2 + len(text) * TINY * 0.53 + 3.0 for _, text in entries]
    x = 1.0 if narrow else layout.width - sum(lengths)
    y = layout.height - 2.9
    for (mark, text), length in zip(entries, lengths, strict=True):
        if mark == "target":
            _box(group, (x + 0.6, y - 1.4), 2.8, 2.8, 0.6, fill="none", stroke=_ACCENT, stroke_width="0.9")
        elif mark == "avoid":
            for sign in (1, -1):
                points = ((x + 0.7, y - sign * 1.3), (x + 3.3, y + sign * 1.3))
                _path(group, points, stroke=INK, stroke_width="0.7", stroke_linecap="round")
        else:
            hole = {"cx": number(x + 2), "cy": number(y), "r": "1.1"}
            SubElement(group, "circle", {**hole, "fill": "none", "stroke": _SOFT, "stroke-width": "0.25"})
        _write(group, text, (x + 4.8, y + 0.85), TINY)
        x += length
