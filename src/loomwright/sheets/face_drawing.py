"""The drawing of a connector face: housing, latch, every place with its number and wire, and the pin meant.

One user unit of the SVG is 1 mm. The pin meant has a heavy frame and its number on a filled tab, a pin to keep off a
heavy cross, an empty place a thin ring; the colours of the marked pins and of those beside them are written out.
Nothing is told by colour alone, so a black-and-white print says the same.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement, tostring

from loomwright.documents.faces import Cavity, Count, Edge, FaceShape, Side, Turn, count_to, latch_edge, view
from loomwright.documents.landmarks import Occupant, landmark
from loomwright.papers import count_words as words
from loomwright.sentences import linked
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
from loomwright.sheets.face_plug import SOFT, DrawnPlug, cross_of, draw_plug, latch_half, number_at, number_size
from loomwright.sheets.svg import INK, PAPER, drawing, element, shared
from loomwright.sheets.swatches import number
from loomwright.sheets.words import spoken

__all__ = ["DrawnFace", "draw_face", "lay_face"]

Point = tuple[float, float]

_ACCENT = "#0b5566"
_AT_EDGE = 4.0  # a label that comes so near to an edge of the sheet is held there [mm]
# The weight is said twice: browsers read the weight; the setting keeps a variable font from falling back to its
# thinnest cut where a renderer takes the normal weight for the font's default.
_BOLD = {"font-weight": "700", "font-variation-settings": "'wght' 700"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnFace:
    """A face in layers: the plug and the key below it, which many drawings share, and the marks of this one."""

    plug: DrawnPlug
    at: tuple[float, float]  # where the middle of the plug lies [mm]
    marks: str
    key: str  # what the marks mean
    key_at: tuple[float, float]
    width: float
    height: float
    caption: str  # from where the plug is seen
    title: str
    described: str

    @property
    def whole(self) -> str:
        """All layers as one drawing."""
        ground = element("rect", width=self.width, height=self.height, fill=PAPER)
        described = self.described if self.described != self.title else ""
        return self._drawn(ground, _moved(self.plug.marks, self.at), _moved(self.key, self.key_at), described=described)

    @property
    def over(self) -> str:
        """What lies over the plug as a drawing of its own."""
        return self._drawn(_moved(self.key, self.key_at))

    def sharing(self, name: Callable[[str], str]) -> str:
        """Return the drawing with references to the plug and the key; `name` gives what an id is made of a layer.

        The plug in its turn refers to the ends of its wires, of which many look alike.
        """

        def use(marks: str, at: tuple[float, float]) -> str:
            return element("use", href=f"#{name(marks)}", x=at[0], y=at[1])

        key = [use(self.key, self.key_at)] if self.key else []
        return self._drawn(use(shared(self.plug.marks, name), self.at), *key)

    def _drawn(self, *layers: str, described: str = "") -> str:
        return drawing(self.width, self.height, self.title, (*layers, self.marks), described=described)

    @property
    def plug_alone(self) -> str:
        """The plug as a drawing of its own, its middle in the middle."""
        w, h = self.plug.half_width, self.plug.half_height
        return drawing(2 * w, 2 * h, "", (self.plug.marks,), corner=(-w, -h))


def _moved(marks: str, at: tuple[float, float]) -> str:
    return element("g", marks, transform=f"translate({number(at[0])} {number(at[1])})") if marks else ""


def draw_face(
    shape: FaceShape,
    *,
    side: Side,
    turn: Turn = 0,
    occupants: Mapping[str, Occupant | None],
    target: str | None = None,
    avoid: tuple[str, ...] = (),
    labels: Mapping[str, str] | None = None,
    mark: str = words.LATCH,
    width_mm: float = 160.0,
    title: str = "",
) -> str:
    """Return the face of a plug as SVG text, the same bytes for the same input; arguments as of `lay_face`."""
    face = lay_face(
        shape, side=side, turn=turn, occupants=occupants, target=target, avoid=avoid, labels=labels,
        mark=mark, width_mm=width_mm, title=title,
    )  # fmt: skip
    return face.whole


def lay_face(
    shape: FaceShape,
    *,
    side: Side,
    turn: Turn = 0,
    occupants: Mapping[str, Occupant | None],
    target: str | None = None,
    avoid: tuple[str, ...] = (),
    labels: Mapping[str, str] | None = None,
    mark: str = words.LATCH,
    language: str = "en",
    width_mm: float = 160.0,
    title: str = "",
    captioned: bool = True,
) -> DrawnFace:
    """Return the face of a plug in its two layers.

    Parameters: shape : FaceShape -- the face
                side, turn -- from which side and how turned clockwise it is seen [degrees]
                occupants : mapping -- pin to (base colour, stripe or None); None or absent where no wire sits
                target : str or None -- the pin meant
                avoid : tuple -- pins to keep off
                labels : mapping or None -- pin to the name of its circuit, written under a marked pin's colour; without
                a pin meant, all of these that are not to be kept off are meant
                mark : str -- what tells which way up it is: its latch, or its wide side where it has none
                language : str -- ISO 639-1 code of what is written
                width_mm : float -- width of the drawing, at least 60 [mm]
                title : str -- written above, none where empty
                captioned : bool -- whether it is written below from where the plug is seen
    Raises:     ValueError -- for a pin that the face does not have, or a width below 60 mm.
    """
    if width_mm < 60:
        msg = f"width_mm: found {width_mm:g} mm, expected at least 60 mm; give the drawing more room"
        raise ValueError(msg)
    for pin in (*([target] if target is not None else []), *avoid):
        count_to(shape, pin, side, turn)
    say = spoken(language)
    latch = latch_edge(turn)
    cavities = {cavity.pin: cavity for cavity in view(shape, side, turn)}
    columns = count_to(shape, shape.pins[0], side, turn).line == "column"
    shown = face_labels(shape, side, turn, occupants=occupants, target=target, avoid=avoid, names=labels or {}, say=say)
    counted = count_to(shape, target, side, turn).place_from if target is not None else None
    layout = lay_out(
        cavities, latch, shown, columns=columns, width=width_mm, titled=bool(title), captioned=captioned,
        counted=counted,
    )  # fmt: skip
    frame, width = layout.frame, layout.width

    over = Element("g")
    if title:
        _write(over, title, (width / 2, TITLE * 1.1), TITLE, anchor="middle", bold=True)
    _draw_latch_word(over, layout, latch, say(mark))
    _draw_crosses(over, [cavities[pin] for pin in avoid], frame)
    # Where no single pin is meant, those are that have a name and are not to be kept off.
    meant = [target] if target is not None else [pin for pin in labels or {} if pin not in avoid]
    for pin in meant:
        _draw_target(over, cavities[pin], frame)
    if target is not None:
        _draw_count(over, count_to(shape, target, side, turn), cavities[target], frame, say)
    _draw_labels(over, layout.placed, target, width)
    caption = say(words.caption_words(side, latch, mark))
    narrow = is_narrow(width)
    if captioned:
        _write(over, caption, (1.0, layout.height - (7.6 if narrow else 2.2)), SMALL, bold=True)
    entries = [("target", say(words.LEGEND_TARGET if len(meant) == 1 else words.LEGEND_TARGETS))] if meant else []
    entries += [("avoid", say(words.LEGEND_AVOID))] if avoid else []
    entries += [("empty", say(words.LEGEND_EMPTY))] if any(occupants.get(pin) is None for pin in shape.pins) else []
    key, length = _key(entries)
    return DrawnFace(
        plug=draw_plug(shape, side, turn, occupants, frame, latched=mark == words.LATCH),
        at=(frame.x, frame.y),
        marks=_inside(over),
        key=key,
        key_at=(1.0 if narrow or not captioned else width - length, layout.height - 2.9),
        width=width,
        height=layout.height,
        caption=caption,
        title=title or caption,
        described=caption if target is None else say(_description(shape, target, side, turn, occupants, mark)),
    )


def _inside(group: Element) -> str:
    return "".join(tostring(child, encoding="unicode").replace(" />", "/>") for child in group)


def _description(
    shape: FaceShape, target: str, side: Side, turn: Turn, occupants: Mapping[str, Occupant | None], mark: str
) -> str:
    """Return what the drawing tells, for somebody who hears it read out."""
    count = words.count_words(count_to(shape, target, side, turn), mark)
    return linked((count, words.landmark_words(landmark(shape, target, side, turn, occupants))))


def _write(
    parent: Element,
    text: str,
    at: tuple[float, float],
    size: float | None,
    *,
    anchor: Anchor = "start",
    bold: bool = False,
    fill: str = INK,
) -> Element:
    style = {"x": number(at[0]), "y": number(at[1])}
    if size is not None:
        style["font-size"] = number(size)
    if fill != INK:
        style["fill"] = fill
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


def _paths(parent: Element, lines: Iterable[Sequence[Point]], **style: str) -> None:
    """Draw lines of one look as one path."""
    d = "".join("M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) for points in lines)
    if d:
        named = {key.replace("_", "-"): value for key, value in style.items()}
        SubElement(parent, "path", {"d": d, "fill": "none", **named})


def _draw_latch_word(parent: Element, layout: Layout, latch: Edge, mark: str) -> None:
    """Write the latch's name on its tab, or that of the wide side beside it, set aside from leaders that cross it."""
    frame = layout.frame
    half = latch_half(frame, latch)
    leaders = [placed.leader[0][0] - frame.x for placed in layout.placed if placed.label.edge == latch]
    # Half the width of the word and a little air.
    clear = len(mark) * TINY * 0.25 + 0.7
    crossed = leaders if latch in {"top", "bottom"} else []
    places = [x for x in (0.0, -half + clear + 3.4, half - clear - 3.4) if all(abs(at - x) > clear for at in crossed)]
    if half <= 6 or not places:
        return
    out = LATCH_DEPTH / 2
    if latch in {"top", "bottom"}:
        middle = frame.y + (frame.half_h + out) * (-1 if latch == "top" else 1)
        _write(parent, mark, (frame.x + places[0], middle + 0.85), TINY, anchor="middle")
        return
    middle = frame.x + (frame.half_w + out) * (-1 if latch == "left" else 1)
    text = _write(parent, mark, (middle, frame.y + 0.85), TINY, anchor="middle")
    text.set("transform", f"rotate({90 if latch == 'right' else 270} {number(middle)} {number(frame.y)})")


def _draw_target(svg: Element, cavity: Cavity, frame: Frame) -> None:
    """Frame the pin meant heavily and put its number on a filled tab."""
    x, y = frame.at(cavity)
    half_w, half_h = frame.half(cavity)
    group = SubElement(svg, "g")
    left, top, w, h = x - half_w - 0.2, y - half_h - 0.2, 2 * half_w + 0.4, 2 * half_h + 0.4
    for stroke, width in (("#ffffff", "1.8"), (_ACCENT, "1.1")):
        _box(group, (left, top), w, h, min(half_w, half_h) * 0.22, fill="none", stroke=stroke, stroke_width=width)
    size = number_size(frame)
    tab = min(max(len(cavity.pin) * size * 0.6 + 1.2, size * 1.4), w)
    middle, line = number_at(cavity, frame)
    _box(group, (middle - tab / 2, line - size * 0.95 - 0.2), tab, size * 1.15 + 0.2, 0.5, fill=_ACCENT)
    _write(group, cavity.pin, (middle, line), size, anchor="middle", bold=True, fill="#ffffff")


def _crossed(x: float, y: float, arm: float) -> list[tuple[Point, Point]]:
    return [((x - arm, y - sign * arm), (x + arm, y + sign * arm)) for sign in (1, -1)]


def _draw_crosses(svg: Element, cavities: Sequence[Cavity], frame: Frame) -> None:
    lines = [line for cavity in cavities for line in cross_of(cavity, frame)]
    for stroke, width in (("#ffffff", "1.3"), (INK, "0.9")):
        _paths(svg, lines, stroke=stroke, stroke_width=width, stroke_linecap="round")


def _draw_count(svg: Element, count: Count, target: Cavity, frame: Frame, say: Callable[[str], str]) -> None:
    """Draw an arrow at the end of the line from which one counts to the target."""
    x, y = frame.at(target)
    outward = {"left": (-1, 0), "right": (1, 0), "top": (0, -1), "bottom": (0, 1)}[count.place_from]
    depth = LATCH_DEPTH if count.latch == count.place_from else 0.0
    if outward[0]:
        tip = (frame.x + outward[0] * (frame.half_w + depth + 0.8), y)
    else:
        tip = (x, frame.y + outward[1] * (frame.half_h + depth + 0.8))
    tail = (tip[0] + outward[0] * 5, tip[1] + outward[1] * 4)
    across = (outward[1], outward[0])
    head = tuple(
        (tip[0] + outward[0] * 1.8 + s * across[0] * 1.2, tip[1] + outward[1] * 1.8 + s * across[1] * 1.2)
        for s in (1, -1)
    )
    arrow = ((tail, tip), (head[0], tip, head[1]))
    _paths(svg, arrow, stroke=_ACCENT, stroke_width="0.7", stroke_linejoin="round")
    group = SubElement(svg, "g", {"fill": _ACCENT, "font-size": number(TINY)})
    upper, lower = map(say, words.count_label(count.place))
    if outward[0]:
        middle = tip[0] + outward[0] * 4.0
        _write(group, upper, (middle, y - 1.7), None, anchor="middle")
        _write(group, lower, (middle, y + 3.3), None, anchor="middle")
    else:
        _write(group, f"{upper} {lower}", (x + 2.2, tip[1] + outward[1] * 2 + 0.9), None)


def _held(placed: Placed, width: float) -> tuple[Anchor, float]:
    """Return by which end a label above or below the plug is held: at an edge of the sheet by the end that lies there.

    The widths of letters are an estimate; a browser with a wider font then makes the label grow inwards.
    """
    if placed.label.edge not in {"top", "bottom"}:
        return placed.anchor, placed.x
    wide = placed.label.width
    left = placed.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[placed.anchor] * wide
    if left < _AT_EDGE and placed.anchor != "start":
        return "start", max(left, 1.0)
    if left + wide > width - _AT_EDGE and placed.anchor != "end":
        return "end", min(left + wide, width - 1.5)
    return placed.anchor, placed.x


def _draw_labels(svg: Element, labels: Sequence[Placed], target: str | None, width: float) -> None:
    """Draw all leaders, that of the target heavily, and what stands at their ends."""
    others = [placed for placed in labels if placed.label.pin != target]
    mine = [placed for placed in labels if placed.label.pin == target]
    inner = [placed.leader for placed in labels if placed.label.inner]
    _paths(svg, inner, stroke="#ffffff", stroke_width="1")
    _paths(svg, (placed.leader for placed in others), stroke=INK, stroke_width="0.3")
    _paths(svg, (placed.leader for placed in mine), stroke=_ACCENT, stroke_width="0.6")
    for group in (others, mine):
        if not group:
            continue
        # The labels of the others are all of one size.
        texts = SubElement(svg, "g", {"font-size": number(group[0].label.size)})
        for placed in group:
            label = placed.label
            anchor, x = _held(placed, width)
            for row, line in enumerate(label.text):
                at = x, placed.y + (row + 0.86) * label.size * LINE
                ink = _ACCENT if label.pin == target and row == 0 else INK
                _write(texts, line, at, None, anchor=anchor, bold=label.bold and row == 0, fill=ink)


def _key(entries: Sequence[tuple[str, str]]) -> tuple[str, float]:
    """Return what the marks mean, drawn to the right of the origin, and its length [mm]."""
    group = Element("g")
    texts = Element("g", {"font-size": number(TINY)})
    x = 0.0
    for mark, text in entries:
        if mark == "target":
            _box(group, (x + 0.6, -1.4), 2.8, 2.8, 0.6, fill="none", stroke=_ACCENT, stroke_width="0.9")
        elif mark == "avoid":
            _paths(group, _crossed(x + 2.0, 0.0, 1.3), stroke=INK, stroke_width="0.7", stroke_linecap="round")
        else:
            hole = {"cx": number(x + 2), "cy": "0", "r": "1.1"}
            SubElement(group, "circle", {**hole, "fill": "none", "stroke": SOFT, "stroke-width": "0.25"})
        _write(texts, text, (x + 4.8, 0.85), None)
        x += 5.2 + len(text) * TINY * 0.53 + 3.0
    if entries:
        group.append(texts)
    return _inside(group), x
