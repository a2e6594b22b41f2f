"""From the description of a drawing to the drawing, in the width that a page has for it."""

from dataclasses import dataclass
from functools import lru_cache

from loomwright.documents.faces import FaceShape, Side, Turn, stands_upright, view
from loomwright.documents.landmarks import Occupant
from loomwright.papers.drawings import DashMap, Drawing, FaceDrawing, Photograph, WiringPlan
from loomwright.sheets.face_drawing import DrawnFace, lay_face
from loomwright.sheets.photographs import draw_photograph
from loomwright.sheets.underdash import draw_underdash
from loomwright.sheets.wiring import draw_wiring

__all__ = ["Drawn", "draw", "face_width_mm", "lay", "target_share"]

_BESIDE_MM = 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """One drawing and what it shows in words; a wiring plan is several, one below the other."""

    svg: str
    words: str


def draw(drawing: Drawing, *, width_mm: float, words: str, language: str = "en") -> tuple[Drawn, ...]:
    """Draw a description at a width [mm]; `words` says the same to somebody who cannot see it.

    Raises
    ------
    ValueError
        If the width is too small for the drawing, or a face has not the pin it is about.
    """
    match drawing:
        case FaceDrawing():
            return (Drawn(svg=_lay(drawing, width_mm, captioned=True).whole, words=words),)
        case DashMap():
            svg = draw_underdash(
                drawing.spots, highlight=drawing.highlight, width_mm=width_mm, title=words, language=language
            )
            return (Drawn(svg=svg, words=words),)
        case Photograph():
            return (Drawn(svg=draw_photograph(drawing, width_mm, words), words=words),)
        case WiringPlan():
            rows = draw_wiring(drawing, width_mm=width_mm, language=language)
            return tuple(Drawn(svg=row.svg, words=row.words) for row in rows)


def lay(face: FaceDrawing, *, width_mm: float) -> DrawnFace:
    """Draw a face in its two layers at a width [mm], for a page that says below it from where it is seen."""
    return _lay(face, width_mm, captioned=False)


def _lay(face: FaceDrawing, width_mm: float, *, captioned: bool) -> DrawnFace:
    return _laid(
        face.shape,
        face.side,
        face.turn,
        occupants=tuple(face.occupants.items()),
        target=face.target,
        avoid=face.avoid,
        labels=tuple(face.labels.items()),
        mark=face.mark,
        language=face.language,
        width_mm=width_mm,
        captioned=captioned,
    )


@lru_cache(maxsize=256)  # both sizes of page show the same drawings
def _laid(
    shape: FaceShape,
    side: Side,
    turn: Turn,
    *,
    occupants: tuple[tuple[str, Occupant | None], ...],
    target: str | None,
    avoid: tuple[str, ...],
    labels: tuple[tuple[str, str], ...],
    mark: str,
    language: str,
    width_mm: float,
    captioned: bool,
) -> DrawnFace:
    return lay_face(
        shape,
        side=side,
        turn=turn,
        occupants=dict(occupants),
        target=target,
        avoid=avoid,
        labels=dict(labels),
        mark=mark,
        language=language,
        width_mm=width_mm,
        captioned=captioned,
    )


def face_width_mm(face: FaceDrawing, *, least: float, pitch: float) -> float:
    """Return the width a face wants, so that two places stand no nearer than `pitch` [mm]."""
    if stands_upright(face.shape, face.turn):
        # Labels stand beside the columns and take width of their own.
        return max(least, len(face.shape.rows) * pitch + 12) + _BESIDE_MM
    return max(least, max(len(row) for row in face.shape.rows) * pitch + 12)


def target_share(face: FaceDrawing) -> float | None:
    """Return how far from the left of the face its target lies, 0 to 1; None where there is no target."""
    if face.target is None:
        return None
    places = {cavity.pin: cavity.x for cavity in view(face.shape, face.side, face.turn)}
    left, right = min(places.values()), max(places.values())
    return (places[face.target] - left) / (right - left) if right > left else 0.5
