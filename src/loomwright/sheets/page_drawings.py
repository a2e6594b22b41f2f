"""Drawings for a page that is put together elsewhere: what many places of it share stands in it once.

The ids are made of what is shared, so a part of the page that is replaced later still finds it.
"""

import hashlib
from functools import lru_cache

from loomwright.papers.blocks import Paper
from loomwright.papers.drawings import FaceDrawing
from loomwright.sheets.drawn import face_width_mm, lay
from loomwright.sheets.html_blocks import BlockWriter
from loomwright.sheets.live_marks import draw_live_mark
from loomwright.sheets.markup import runs, tag
from loomwright.sheets.structure import outline
from loomwright.sheets.svg import in_page
from loomwright.sheets.wire_swatch import colour_codes, draw_swatch

__all__ = ["PageDrawings", "codes_of", "paper_in_page", "runs"]

_FACE_MM, _PLACE_MM = 90.0, 7.2


class PageDrawings:
    """The drawings of one page; `shapes` is to stand behind them, as often as the page has parts of its own."""

    def __init__(self) -> None:
        self._shared: dict[str, str] = {}
        self._given: set[str] = set()

    def swatch(self, colour: str, stripe: str | None) -> str:
        """Return a piece of wire."""
        return self._small(*_swatch(colour, stripe))

    def mark(self, condition: str) -> str:
        """Return the stroke of a wire by what it does."""
        return self._small(*_mark(condition))

    def face(self, face: FaceDrawing) -> tuple[str, int]:
        """Return a plug face, and how many steps broader than a phone it is: 0 to 3."""
        width = face_width_mm(face, least=_FACE_MM, pitch=_PLACE_MM)
        drawn = lay(face, width_mm=width)
        return in_page(drawn.sharing(self._use)), max(0, min(3, int((width - _FACE_MM + 29) // 30)))

    def shapes(self) -> str:
        """Return what the drawings since the last time share."""
        new = {name: marks for marks, name in self._shared.items() if name not in self._given}
        self._given |= set(new)
        shapes = (f'<g id="{name}">{marks}</g>' for name, marks in new.items())
        return tag("svg", tag("defs", *shapes), class_="shapes", aria_hidden="true")

    def _use(self, marks: str) -> str:
        return self._shared.setdefault(marks, _name(marks))

    def _small(self, marks: str, drawn: str, name: str) -> str:
        self._shared.setdefault(marks, name)
        return drawn


def _name(marks: str) -> str:
    return f"s{hashlib.sha256(marks.encode()).hexdigest()[:10]}"


@lru_cache(maxsize=512)
def _swatch(colour: str, stripe: str | None) -> tuple[str, str, str]:
    return _shell(draw_swatch(colour, stripe, width_mm=14, height_mm=4.4))


@lru_cache(maxsize=32)
def _mark(condition: str) -> tuple[str, str, str]:
    return _shell(draw_live_mark(condition, width_mm=15))


def _shell(svg: str) -> tuple[str, str, str]:
    """Return what is between the tags of a small drawing, the drawing that only refers to it, and the id for that.

    The words beside it say what it shows.
    """
    plain = in_page(svg).replace(' role="img"', ' aria-hidden="true"', 1)
    start = plain.index("</title>") + len("</title>") if "</title>" in plain else plain.index(">") + 1
    marks = plain[start : plain.rindex("</svg>")]
    name = _name(marks)
    return marks, f'{plain[: plain.index(">") + 1]}<use href="#{name}"/></svg>', name


def codes_of(colour: str, stripe: str | None) -> str:
    """Return the IEC 60757 codes of a wire, empty where a word is not known."""
    return colour_codes(colour, stripe)


def paper_in_page(paper: Paper) -> str:
    """Return the blocks of a short paper as HTML, to stand in a page that has the style of the papers."""
    writer = BlockWriter(paper.language)
    parts = [writer.part(part) for part in outline(paper).parts]
    return writer.shapes() + "".join(parts)
