"""Every kind of block as the data that the page template reads: texts as they are, drawings already drawn."""

from collections.abc import Sequence
from dataclasses import replace

from loomwright.papers.blocks import (
    Bullets,
    Caution,
    Chart,
    Face,
    Film,
    Heading,
    Paragraph,
    Picture,
    ReadingField,
    Step,
    Table,
    Text,
)
from loomwright.papers.drawings import DashMap, FaceDrawing, Photograph, WiringPlan
from loomwright.papers.foreign import Foreign
from loomwright.sheets.drawn import draw, face_width_mm, lay
from loomwright.sheets.page_heights import one_reading, readings_height, text_height
from loomwright.sheets.photographs import draw_code
from loomwright.sheets.reading_sheet import Group, Meaning, ReadingSheet, numbers_words, reading_sheet
from loomwright.sheets.structure import Placed
from loomwright.sheets.swatches import exact_codes
from loomwright.sheets.timeline import draw_chart
from loomwright.sheets.wire_swatch import draw_swatch, split_colour
from loomwright.sheets.words import plain, quantity_words, reading_unit, spoken, without, words_for

__all__ = ["TRIANGLE", "PageWriter"]

Data = dict[str, object]

TRIANGLE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="24" height="22" viewBox="0 0 24 22"><path d="M12 1.6 23 20.6H1Z"'
    ' fill="none" stroke="#1a1a1a" stroke-width="2" stroke-linejoin="round"/><path d="M12 7.6v6.6M12 16.6v1.6"'
    ' stroke="#1a1a1a" stroke-width="2.4"/></svg>'
)
_FACE_MM = 72.0
_PLACE_MM = 5.0
_MAP_MM, _SMALL_MAP_MM = 74.0, 58.0
_PHOTO_MM, _CODE_MM = 84.0, 24.0
_CAPTION_MM = 7.0  # what the line below a drawing takes
_TITLE_MM = 3.5  # and what the name of a plug takes alone
_GUTTER_MM = 6.0
_TERM_MM = 25.0  # what a term in the margin takes
_HALF = 0.64  # of the width of the text: a wider face has the page to itself
_LONG_CELL = 300  # characters
_SHORT_ITEM = 62  # characters: lists of such items stand in two columns
_KEPT_MM = 165.0  # readings no higher than that stay on one page, whichever: seven tenths of the text of the shorter


class PageWriter:
    """Makes the data of one paper's blocks; each drawing is kept once, however often it is shown."""

    def __init__(self, language: str, width_mm: float) -> None:
        """Take the language and the width of the text on the page [mm]."""
        self._language = language
        self._words = words_for(language)
        self._width = width_mm
        self._drawings: dict[str, int] = {}

    @property
    def drawings(self) -> list[str]:
        """Every drawing made so far; blocks name them by their place in this list."""
        return list(self._drawings)

    def block(self, placed: Placed) -> Data:
        """Return one block for the template."""
        block = placed.block
        match block:
            case Heading():
                data: Data = {"is": "heading", "level": placed.level, "text": block.text}
            case Paragraph():
                data = {"is": "paragraph", "small": block.small, "text": _runs(block.text)}
            case Bullets():
                data = self._bullets(block)
            case Caution():
                data = _caution(block, brief=placed.said_before == (True,))
            case Chart():
                svg = self._drawing(draw_chart(block.drawing, width_mm=self._width, language=self._language))
                data = {
                    "is": "picture", "caption": block.caption, "words": block.words, "share": 1.0, "legend": [],
                    "plate": None, "rows": [{"svg": svg, "words": block.words}],
                }  # fmt: skip
            case Face():
                data = self._face(block, _FACE_MM + 20, both=True)
            case Picture():
                data = self._picture(block, self._width)
            case ReadingField():
                data = {"is": "readings", **self._readings(reading_sheet((block,), self._words))}
            case Step():
                data = self._step(block, placed)
            case Table():
                data = self._table(block)
        return data | {"anchor": placed.anchor}

    def _bullets(self, bullets: Bullets) -> Data:
        lengths = [len(plain(item)) for item in bullets.items]
        short = len(lengths) >= 6 and not bullets.numbered and sum(lengths) / len(lengths) <= _SHORT_ITEM
        return {
            "is": "bullets",
            "ticked": bullets.ticked,
            "numbered": bullets.numbered,
            "halved": short,
            "items": [_runs(item) for item in bullets.items],
        }

    def _table(self, table: Table) -> Data:
        return {
            "is": "table",
            "caption": table.caption,
            "head": list(table.head),
            "rows": [[_runs(cell) for cell in row] for row in table.rows],
            "widths": list(table.widths),
            # A row is kept on one page unless it might be longer than one.
            "short": all(len(plain(cell)) < _LONG_CELL for row in table.rows for cell in row),
        }

    # --- drawings ----------------------------------------------------------------------------------------------

    def _drawing(self, svg: str) -> int:
        return self._drawings.setdefault(svg, len(self._drawings))

    def _plate(self, drawing: FaceDrawing, words: str, least_mm: float) -> Data:
        """A face in its two layers, so that the plug is read by the typesetter once for many marked pins."""
        wanted = face_width_mm(drawing, least=least_mm, pitch=_PLACE_MM)
        face = lay(drawing, width_mm=self._width if wanted > self._width * _HALF else wanted)
        x, y = face.at
        plug = face.plug
        return {
            "marks": self._drawing(face.over),
            "words": words,
            "caption": face.caption,
            "size": [face.width, face.height],
            "plug": self._drawing(face.plug_alone),
            "at": [x - plug.half_width, y - plug.half_height],
            "plug-width": 2 * plug.half_width,
        }

    def _face(self, face: Face, least_mm: float, *, said: str = "", both: bool = False) -> Data:
        turned = self._plate(face.drawing.turned, face.words_turned or face.words, least_mm) if both else None
        return {
            "is": "face",
            "title": face.title,
            "words": "" if face.words in said else face.words,  # on paper nothing is said twice
            "said": face.words in said,  # how to look at it stands beside the drawing, and so does the plug's name
            "words-turned": face.words_turned,
            "seen": self._plate(face.drawing, face.words, least_mm),
            # Within a step the person sees one side, so paper shows one.
            "turned": turned,
        }

    def _picture(self, picture: Picture, width_mm: float) -> Data:
        drawing = picture.drawing
        share = 1.0 if picture.wide else 0.6
        data: Data = {"is": "picture", "caption": picture.caption, "words": picture.words, "share": share, "legend": []}
        if isinstance(drawing, FaceDrawing):
            return data | {"plate": self._plate(drawing, picture.words, _FACE_MM + 20), "rows": []}
        width = width_mm if isinstance(drawing, WiringPlan | Photograph) else max(80.0, width_mm * share)
        drawn = draw(drawing, width_mm=width, words=picture.words, language=self._language)
        rows = [{"svg": self._drawing(item.svg), "words": item.words} for item in drawn]
        if isinstance(drawing, DashMap):
            legend = [{"name": spot.name, "meant": spot.id in drawing.highlight} for spot in drawing.spots]
            data |= {"share": 0.8 if picture.wide else share, "legend": legend}
        return data | {"plate": None, "rows": rows}

    def _lead(self, colour: str | None, label: str | None = None) -> Data:
        base, stripe = split_colour(colour or "")
        return {
            "label": label or "",
            "colour": spoken(self._language)(colour or ""),
            "codes": exact_codes(base, stripe) if colour else "",
            "svg": self._drawing(draw_swatch(base, stripe, 11.0, 4.0)) if colour else None,
        }

    # --- readings ----------------------------------------------------------------------------------------------

    def _readings(self, sheet: ReadingSheet) -> Data:
        single = len(sheet.rows) == 1
        return {
            "facts": list(map(list, sheet.shared)),
            "lamps": [
                [self._words["lamp yes" if lamp.allowed else "lamp no"], numbers_words(lamp.numbers), lamp.words]
                for lamp in sheet.lamps
            ],
            "lamp-numbered": len(sheet.lamps) > 1,
            "relative": sheet.relative,
            "battery-unit": sheet.battery_unit,
            "head": " · ".join(self._words[key] for key in sheet.row_facts),
            "numbered": not single,
            "single": single and not sheet.relative,
            "kept": readings_height(sheet) <= _KEPT_MM,
            "groups": [self._group(group) for group in sheet.groups],
            "right": [self._meaning(each, single=single) for each in sheet.meanings if each.good],
            "wrong": [self._meaning(each, single=single) for each in sheet.meanings if not each.good],
        }

    def _group(self, group: Group) -> Data:
        rows = [
            {
                "number": str(row.number),
                "said": self._words["semicolon"].join(text for _, text in row.facts),
                "expect": _runs(row.field.expect),
                "relative": row.field.relative,
                "unit": reading_unit(row.field),
            }
            for row in group.rows
        ]
        return {"head": list(map(list, group.facts)), "rows": rows}

    def _meaning(self, meaning: Meaning, *, single: bool) -> Data:
        where = []
        for each in meaning.where:
            limits = f"{each.words} {self._words['below short']}" if each.relative else each.words
            where.append(["" if single else numbers_words(each.numbers), limits])
        more = [["" if len(meaning.more) == 1 else numbers_words(rows), text] for rows, text in meaning.more]
        return {"where": where, "words": meaning.words, "more": more}

    # --- steps -------------------------------------------------------------------------------------------------

    def _needs(self, step: Step, *, still_open: bool) -> str:
        needs = step.needs
        facts = [self._words[f"battery {needs.battery}"]]
        if needs.key != "any":
            facts.append(self._words[needs.switched])
        if needs.panel:
            facts.append(f"{self._words['still open' if still_open else 'panel']} {needs.panel}")
        if needs.tool:
            facts.append(f"{self._words['tool']} {needs.tool}")
        return " · ".join(facts)

    def _step(self, step: Step, placed: Placed) -> Data:
        face = self._face(step.face, _FACE_MM, said=step.count or "") if step.face else None
        # With a face in the step the map stands small beside the words for the place.
        map_width = _SMALL_MAP_MM if face else _MAP_MM
        picture = self._where(step.picture, step.place, map_width) if step.picture else None
        told = placed.still_open and step.needs.panel is not None
        data: Data = {
            "is": "step",
            "number": placed.number,
            "level": placed.level,
            "kind": self._words[step.kind],
            "title": step.title,
            "needs": self._needs(step, still_open=placed.still_open),
            "place": "" if told else step.place,
            "access": "" if placed.still_open else " ".join(step.access),
            "cautions": [
                _caution(caution, brief=before)
                for caution, before in zip(step.cautions, placed.said_before, strict=True)
            ],
            "lead": self._lead(step.lead_colour, step.label) if step.label or step.lead_colour else None,
            "wire": self._lead(step.wire_colour) if step.wire_colour else None,
            "count": step.count or "",
            "neighbours": step.neighbours or "",
            "do": [_runs(text) for text in step.do],
            "see": _runs(step.see),
            "if-not": _runs(step.if_not),
            "face": face,
            "picture": picture,
            "photos": [self._picture(replace(photo, wide=True), _PHOTO_MM) for photo in step.photos],
            "films": [self._film(film) for film in step.films],
            "readings": self._readings(reading_sheet(step.readings, self._words)) if step.readings else None,
            "unproven": step.unproven,
            "may-stop": step.may_stop,
            "whole": face is None and picture is None and not step.photos and len(step.readings) < 3,
        }
        return data | {"spread": self._spread(step, face, picture)}

    def _film(self, film: Film) -> Data:
        said = f"{self._words['film']}{self._words['colon']}{film.words} ({self._words['film at']} {film.at})"
        return {"words": said, "link": film.link, "code": self._drawing(draw_code(film.link, _CODE_MM, said))}

    def _where(self, picture: Picture, place: str, width_mm: float) -> Data:
        """The picture of a step, its words without those that stand above it as the place of the step."""
        data = self._picture(replace(picture, wide=True), width_mm)
        return data | {"share": 1.0, "words": without(picture.words, place), "width": width_mm}

    def _spread(self, step: Step, face: Data | None, picture: Data | None) -> Data | None:
        """Return the width of a step's drawing and what stands under it, beside it and below both.

        Of the divisions that keep each column in reading order the one that makes the step shortest. None where the
        drawing takes the whole width, or there is none.
        """
        width, height = _size_of(face) if face else (_MAP_MM, _MAP_MM * 0.66 + 11) if picture else (0.0, 0.0)
        if not 0 < width <= self._width * _HALF:
            return None
        facts = {
            "lead": "x" * 30 if step.label or step.lead_colour else "",
            "wire": "x" * 20 if step.wire_colour else "",
            "count": step.count or "",
            "neighbours": step.neighbours or "",
            "do": "\n".join(plain(text) for text in step.do),
            "see": plain(step.see),
            "if not": plain(step.if_not),
        }
        if len(step.readings) == 1 and not step.readings[0].relative:
            facts["readings"] = one_reading(step.readings[0])

        def tall(keys: Sequence[str], width_mm: float) -> float:
            return sum(text_height(facts[key], width_mm) for key in keys)

        best: tuple[float, Data] | None = None
        names = list(facts)
        caption = _TITLE_MM if face and face["said"] else _CAPTION_MM
        # What speaks of the drawing may stand under it.
        for left in ([], ["count"], ["count", "neighbours"]):
            rest = [key for key in names if key not in left]
            for n in range(2, len(rest) + 1):
                right, below = rest[:n], rest[n:]
                columns = (height + caption + tall(left, width), tall(right, self._width - width - _GUTTER_MM))
                total = max(columns) + tall(below, self._width - _TERM_MM)
                if best is None or total < best[0] - 0.01:
                    keys = [key for key in below if key != "readings"]  # they have a frame of their own there
                    tall_mm = height + caption - 2
                    best = total, {"width": width, "tall": tall_mm, "left": left, "right": right, "below": keys}
        assert best is not None
        return best[1]


def _size_of(face: Data) -> tuple[float, float]:
    seen = face["seen"]
    assert isinstance(seen, dict)
    width, height = seen["size"]
    return width, height


def _runs(text: Text) -> list[object]:
    """Strings stay strings; a quantity is a list of one, so that the template keeps it on one line.

    Words of another language than the paper's come with the code of theirs.
    """
    return [
        {"lang": run.language, "words": str(run)}
        if isinstance(run, Foreign)
        else run
        if isinstance(run, str)
        else [quantity_words(run)]
        for run in text
    ]


def _caution(caution: Caution, *, brief: bool) -> Data:
    return {"is": "caution", "word": caution.word.lower(), "text": _runs(caution.text), "brief": brief}
