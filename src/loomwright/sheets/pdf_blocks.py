"""Every kind of block as the data that the page template reads: texts as they are, drawings already drawn."""

from collections.abc import Mapping

from loomwright.papers.blocks import (
    Bullets,
    Caution,
    Face,
    Heading,
    Paragraph,
    Picture,
    ReadingField,
    Step,
    Table,
    Text,
)
from loomwright.papers.drawings import DashMap, FaceDrawing, WiringPlan
from loomwright.sheets.drawn import draw, face_width_mm
from loomwright.sheets.structure import Placed
from loomwright.sheets.wire_swatch import colour_codes, draw_swatch, split_colour
from loomwright.sheets.words import limit_words, plain, quantity_words, reading_unit, words_for

__all__ = ["TRIANGLE", "block_data"]

Data = dict[str, object]

TRIANGLE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="24" height="22" viewBox="0 0 24 22"><path d="M12 1.6 23 20.6H1Z"'
    ' fill="none" stroke="#1a1a1a" stroke-width="2" stroke-linejoin="round"/><path d="M12 7.6v6.6M12 16.6v1.6"'
    ' stroke="#1a1a1a" stroke-width="2.4"/></svg>'
)
_FACE_MM = 92.0
_PLACE_MM = 6.2
_LONG_CELL = 300  # characters


def block_data(placed: Placed, language: str, width_mm: float) -> Data:
    """Return one block for the template; `width_mm` is the width of the text on the page."""
    block = placed.block
    words = words_for(language)
    match block:
        case Heading():
            data: Data = {"is": "heading", "level": placed.level, "text": block.text}
        case Paragraph():
            data = {"is": "paragraph", "small": block.small, "text": _runs(block.text)}
        case Bullets():
            data = {
                "is": "bullets",
                "ticked": block.ticked,
                "numbered": block.numbered,
                "items": [_runs(item) for item in block.items],
            }
        case Caution():
            data = _caution(block)
        case Face():
            data = _face(block, language)
        case Picture():
            data = _picture(block, language, width_mm)
        case ReadingField():
            data = _reading(block, words)
        case Step():
            data = _step(block, placed, language, words)
        case Table():
            data = {
                "is": "table",
                "caption": block.caption,
                "head": list(block.head),
                "rows": [[_runs(cell) for cell in row] for row in block.rows],
                "widths": list(block.widths),
                # A row is kept on one page unless it might be longer than one.
                "short": all(len(plain(cell)) < _LONG_CELL for row in block.rows for cell in row),
            }
    return data | {"anchor": placed.anchor}


def _runs(text: Text) -> list[object]:
    """Strings stay strings; a quantity is a list of one, so that the template keeps it on one line."""
    return [run if isinstance(run, str) else [quantity_words(run)] for run in text]


def _caution(caution: Caution) -> Data:
    return {"is": "caution", "word": caution.word.lower(), "text": _runs(caution.text)}


def _svg(svg: str) -> str:
    # The typesetter draws the font's thinnest weight where a drawing names none or 400; 500 it honours.
    root = svg[: svg.index(">")]
    return svg if "font-weight=" in root else svg.replace("<svg ", '<svg font-weight="500" ', 1)


def _plate(drawing: FaceDrawing, words: str, language: str) -> Data:
    width = face_width_mm(drawing, least=_FACE_MM, pitch=_PLACE_MM)
    (drawn,) = draw(drawing, width_mm=width, words=words, language=language)
    return {"svg": _svg(drawn.svg), "words": words}


def _face(face: Face, language: str, said: str = "") -> Data:
    return {
        "is": "face",
        "title": face.title,
        "words": "" if face.words in said else face.words,  # on paper nothing is said twice
        "words-turned": face.words_turned,
        "seen": _plate(face.drawing, face.words, language),
        "turned": _plate(face.drawing.turned, face.words_turned or face.words, language),
    }


def _picture(picture: Picture, language: str, width_mm: float) -> Data:
    drawing = picture.drawing
    share = 1.0 if picture.wide else 0.6
    if isinstance(drawing, FaceDrawing):
        rows = [_plate(drawing, picture.words, language)]
    else:
        width = width_mm if isinstance(drawing, WiringPlan) else max(80.0, width_mm * share)
        drawn = draw(drawing, width_mm=width, words=picture.words, language=language)
        rows = [{"svg": _svg(item.svg), "words": item.words} for item in drawn]
    spots = drawing.spots if isinstance(drawing, DashMap) else ()
    meant = drawing.highlight if isinstance(drawing, DashMap) else ()
    return {
        "is": "picture",
        "caption": picture.caption,
        "words": picture.words,
        "share": 0.8 if picture.wide else share,
        "rows": rows,
        "legend": [{"name": spot.name, "meant": spot.id in meant} for spot in spots],
    }


def _reading(field: ReadingField, words: Mapping[str, str]) -> Data:
    return {
        "is": "reading",
        "clip": field.clip,
        "probe": field.probe,
        "state": field.state,
        "expect": _runs(field.expect),
        "lamp": field.lamp,
        "lamp-word": words["lamp yes" if field.lamp_allowed else "lamp no"],
        "relative": field.relative,
        "unit": reading_unit(field),
        "head": [words["below battery" if field.relative else "reads"], words["verdict"], words["meaning"]],
        "rows": [[[limit_words(v, words)], [words["right" if v.good else "wrong"]], [v.words]] for v in field.verdicts],
        "good": [i for i, v in enumerate(field.verdicts) if v.good],
    }


def _lead(colour: str | None, label: str | None = None) -> Data:
    base, stripe = split_colour(colour or "")
    return {
        "label": label or "",
        "colour": colour or "",
        "codes": colour_codes(base, stripe) if colour else "",
        "svg": _svg(draw_swatch(base, stripe)) if colour else "",
    }


def _needs(step: Step, words: Mapping[str, str]) -> str:
    needs = step.needs
    facts = [words[f"battery {needs.battery}"]]
    if needs.key != "any":
        facts.append(words[f"key {needs.key}"])
    if needs.panel:
        facts.append(f"{words['panel']} {needs.panel}")
    if needs.tool:
        facts.append(f"{words['tool']} {needs.tool}")
    return " · ".join(facts)


def _step(step: Step, placed: Placed, language: str, words: Mapping[str, str]) -> Data:
    picture = _picture(step.picture, language, _FACE_MM) | {"share": 1.0} if step.picture else None
    return {
        "is": "step",
        "number": placed.number,
        "level": placed.level,
        "kind": words[step.kind],
        "title": step.title,
        "needs": _needs(step, words),
        "place": step.place,
        "access": list(step.access),
        "cautions": [_caution(caution) for caution in step.cautions],
        "lead": _lead(step.lead_colour, step.label) if step.label or step.lead_colour else None,
        "wire": _lead(step.wire_colour) if step.wire_colour else None,
        "count": step.count or "",
        "neighbours": step.neighbours or "",
        "do": [_runs(text) for text in step.do],
        "see": _runs(step.see),
        "if-not": _runs(step.if_not),
        "face": _face(step.face, language, step.count or "") if step.face else None,
        "picture": picture,
        "readings": [_reading(field, words) for field in step.readings],
        "unproven": step.unproven,
        "may-stop": step.may_stop,
    }
