"""The map of the driver's footwell: a plain dash in outline with the numbered places of one car.

The outline is of no make: it only tells up from down and door from centre. Driver at the left, as the places are given.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import lru_cache
from math import cos, hypot, sin, tau

from loomwright.papers.drawings import DashSpot
from loomwright.sheets.svg import INK, PAPER, circle, drawing, element, line, path, text, text_width
from loomwright.sheets.words import words_for

__all__ = ["draw_underdash", "spread_spots"]

_HEIGHT = 0.66  # of the width
_MARGIN = 0.03  # of the width, around the 0 to 100 of the places
_WORDS_FROM_MM = 110.0  # below that the words of the outline would be too small to read, or too large to fit
_GREY = "#5a5a5a"


def spread_spots(points: Sequence[tuple[float, float]], apart: float) -> list[tuple[float, float]]:
    """Move numbers that would cover each other: each stays at its point or goes the least way to where it is free."""
    placed: list[tuple[float, float]] = []
    for x, y in points:
        tries = [(x, y)]
        for ring in range(1, 12):
            radius = apart * 0.6 * ring
            tries.extend((x + radius * cos(tau * i / 16), y + radius * sin(tau * i / 16)) for i in range(16))
        free = next(
            (t for t in tries if all(hypot(t[0] - p[0], t[1] - p[1]) >= apart for p in placed)),
            (x, y + apart * len(placed)),
        )
        placed.append(free)
    return placed


def draw_underdash(
    places: Sequence[DashSpot],
    *,
    highlight: Collection[str] = (),
    width_mm: float = 160,
    title: str = "",
    language: str = "en",
) -> str:
    """Draw the footwell with its numbered places; those of `highlight` are filled, ringed and named.

    The names stand above or below the outline, so the drawing is higher where there are any. Numbers follow the order
    of `places`. Lengths are in millimetres; text does not shrink with the width.
    """
    return _drawn(tuple(places), frozenset(highlight), width_mm, title, language)


@lru_cache(maxsize=64)
def _drawn(places: tuple[DashSpot, ...], highlight: frozenset[str], width: float, title: str, language: str) -> str:
    """Draw it; a page that is looked at in many states asks for the same drawing again and again."""
    words = words_for(language)
    height = width * _HEIGHT
    margin = width * _MARGIN

    def at(x: float, y: float) -> tuple[float, float]:
        return margin + x / 100 * (width - 2 * margin), margin + y / 100 * (height - 2 * margin)

    radius = max(2.6, width * 0.021)
    outline = _outline(at, words, letters=width * 0.021 if width >= _WORDS_FROM_MM else 0)
    marks = [element("g", *outline, transform="translate(0 0)")]  # one piece, which a page may share
    true = [at(spot.x, spot.y) for spot in places]
    # Those meant now are placed first, so that they stay where they are.
    order = sorted(range(len(places)), key=lambda i: places[i].id not in highlight)
    moved = dict(zip(order, spread_spots([true[i] for i in order], radius * 2.3), strict=True))
    for i, spot in enumerate(places):
        (px, py), (x, y) = true[i], moved[i]
        if hypot(px - x, py - y) > 0.1:
            marks.append(line(px, py, x, y, 0.3))
            marks.append(circle(px, py, 0.6, fill=INK))
        marks.extend(_spot(x, y, radius, i + 1, meant=spot.id in highlight))
    meant = [i for i, spot in enumerate(places) if spot.id in highlight]
    others = [point for i, point in moved.items() if i not in meant]
    names, above, below = _names([(moved[i], places[i].name) for i in meant], others, radius, (width, height))
    return drawing(width, height + above + below, title, [*marks, *names], corner=(0.0, -above))


def _spot(x: float, y: float, radius: float, number: int, *, meant: bool) -> list[str]:
    size = radius * 1.25
    inner = [
        circle(x, y, radius, fill=INK if meant else PAPER, stroke_width=0.5),
        text(x, y + size * 0.36, str(number), size, anchor="middle", bold=True, fill=PAPER if meant else INK),
    ]
    if not meant:
        return inner
    return [circle(x, y, radius * 1.75, fill=PAPER, stroke_width=0.8, stroke_dasharray="2 1"), *inner]


def _names(
    named: Sequence[tuple[tuple[float, float], str]],
    others: Sequence[tuple[float, float]],
    radius: float,
    page: tuple[float, float],
) -> tuple[list[str], float, float]:
    """The names above and below the outline, each with a line to its number; nothing of the dash is covered.

    Returns the marks, how far they reach above the outline, and how far below it.
    """
    size = radius * 1.35
    marks: list[str] = []
    rows = {"above": 0, "below": 0}
    for (x, y), name in named:
        wide = min(text_width(name, size, bold=True), page[0] - 1)

        def crossed(way: str, x: float = x, y: float = y) -> int:
            return sum(abs(ox - x) < radius * 1.3 and (oy < y) == (way == "above") for ox, oy in others)

        # The nearer edge, unless the line to it would run over other numbers.
        way = min(("above", "below"), key=lambda w: (crossed(w), y if w == "above" else page[1] - y))
        rows[way] += 1
        level = rows[way] * size * 1.5
        edge = -level + size * 1.2 if way == "above" else page[1] + level - size * 1.2
        # At an edge the name is held by the end that lies there: a font wider than the estimate grows inwards.
        left, right = x - wide / 2 < 0.5, x + wide / 2 > page[0] - 0.5
        at, anchor = (0.5, "start") if left else (page[0] - 0.5, "end") if right else (x, "middle")
        marks += [
            line(x, y + radius * (-1.75 if way == "above" else 1.75), x, edge, 0.9, stroke=PAPER),
            line(x, y + radius * (-1.75 if way == "above" else 1.75), x, edge, 0.4),
            text(at, edge + (-size * 0.3 if way == "above" else size * 0.85), name, size, anchor=anchor, bold=True,
                 width=wide),
        ]  # fmt: skip
    return marks, rows["above"] * size * 1.5, rows["below"] * size * 1.5


def _outline(
    place: Callable[[float, float], tuple[float, float]], words: Mapping[str, str], letters: float
) -> list[str]:
    def shape(*pairs: tuple[float, float], close: bool = True, width: float = 0.4, fill: str = "none") -> str:
        points = "L".join("{:.2f} {:.2f}".format(*place(*pair)) for pair in pairs)
        return path(f"M{points}{'Z' if close else ''}", stroke_width=width, fill=fill)

    def word(x: float, y: float, key: str) -> str:
        px, py = place(x, y)
        return text(px, py, words[key], letters, anchor="middle", fill=_GREY) if letters else ""

    def oval(x: float, y: float, rx: float, ry: float, *, width: float = 0.3, fill: str = "none") -> str:
        (cx, cy), (ex, ey) = place(x, y), place(x + rx, y + ry)
        return element("ellipse", cx=cx, cy=cy, rx=ex - cx, ry=ey - cy, fill=fill, stroke=INK, stroke_width=width)

    return [
        # door edge, sill and carpet
        shape((0, 0), (0, 100), close=False, width=0.9),
        shape((3.5, 6), (3.5, 97), close=False, width=0.3),
        shape((0, 100), (100, 100), close=False, width=0.9),
        shape((3.5, 97), (62, 97), close=False, width=0.3),
        # top and lower edge of the dash
        shape((3.5, 12), (14, 7), (22, 5), (50, 5), (62, 8), (84, 8), (98, 13), (98, 58), (84, 62), (82, 62),
              close=False, width=0.7),
        shape((3.5, 50), (16, 52), (18, 44), (56, 44), (58, 52), (62, 54), close=False, width=0.4),
        # cluster with its hood
        shape((21, 21), (24, 9), (29, 6.5), (44, 6.5), (49, 9), (52, 21), width=0.5),
        oval(30.5, 15, 4.6, 5.6), oval(42.5, 15, 4.6, 5.6),
        # knee panel below the wheel
        shape((18, 44), (56, 44), (53, 66), (21, 66), width=0.5),
        # kick panel beside the left foot
        shape((4.5, 58), (14, 62), (14, 94), (4.5, 94), width=0.5),
        # centre stack and console
        shape((62, 12), (82, 12), (80, 70), (78, 99), (66, 99), (64, 70), width=0.5),
        shape((65, 17), (79, 17), (78.4, 34), (65.6, 34), width=0.3),
        shape((65.8, 38), (78.2, 38), (77.8, 46), (66.2, 46), width=0.3),
        shape((67, 76), (77, 76), (76.5, 90), (67.5, 90), width=0.3),
        # glove box
        shape((84.5, 30), (97, 30), (96, 54), (85.5, 56), width=0.3),
        # column shroud and wheel, in front of everything above
        shape((31, 34), (42, 34), (41, 57), (32, 57), width=0.5, fill=PAPER),
        oval(36.5, 30, 15.5, 18.5, width=0.9), oval(36.5, 30, 13.6, 16.0),
        oval(36.5, 31, 4.6, 6, width=0.4, fill=PAPER),
        shape((23.2, 28), (32, 30), close=False), shape((49.8, 28), (41, 30), close=False),
        # pedals: foot rest, brake, accelerator
        shape((17.5, 78), (23, 76), (25, 93), (19.5, 94), width=0.4),
        shape((35.5, 66), (36.5, 77), close=False, width=0.7),
        shape((31, 77), (42, 77), (41.4, 84), (31.6, 84), width=0.6),
        shape((51, 66), (51.5, 76), close=False, width=0.7),
        shape((49.5, 76), (53.5, 76), (55, 92), (50.5, 92), width=0.6),
        word(46.8, 63.6, "map knee panel"), word(36.5, 55.5, "map column"), word(9.2, 88, "map kick"),
        word(9.2, 92.5, "map panel"), word(46, 95.5, "map pedals"), word(72, 67, "map stack"),
        word(36.5, 3, "map cluster"),
    ]  # fmt: skip
