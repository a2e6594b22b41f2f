"""Every kind of block as HTML."""

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
)
from loomwright.papers.drawings import DashMap, FaceDrawing, Photograph, WiringPlan
from loomwright.sheets.drawn import draw, face_width_mm, lay, target_share
from loomwright.sheets.html_readings import ReadingWriter
from loomwright.sheets.markup import clean, items, runs, tag
from loomwright.sheets.photographs import data_uri
from loomwright.sheets.reading_sheet import reading_sheet
from loomwright.sheets.structure import Part, Placed
from loomwright.sheets.svg import in_page, shared
from loomwright.sheets.swatches import exact_codes
from loomwright.sheets.timeline import LEAST_MM, draw_chart
from loomwright.sheets.wire_swatch import draw_swatch, split_colour
from loomwright.sheets.words import spoken, without, words_for

__all__ = ["BlockWriter"]

_PHONE_MM = 90.0  # a face drawn this wide has letters of 14 px on a phone 390 px wide
_PLACE_MM = 6.0
# Of the drawings that many places of a page share; anchors have no capitals, so these ids are free.
_TRIANGLE_ID = "T"
_TRIANGLE_SHAPE = (
    '<path d="M12 1.6 23 20.6H1Z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/>'
    '<path d="M12 7.6v6.6M12 16.6v1.6" stroke="currentColor" stroke-width="2.4"/>'
)
_TRIANGLE = f'<svg viewBox="0 0 24 22" aria-hidden="true"><use href="#{_TRIANGLE_ID}"/></svg>'


class BlockWriter:
    """Writes the blocks of one paper; it knows the words of its language and gives out ids."""

    def __init__(self, language: str) -> None:
        """Take the language of the paper."""
        self._language = language
        self._words = words_for(language)
        self._ids: dict[str, int] = {}
        self._shared: dict[str, str] = {_TRIANGLE_SHAPE: _TRIANGLE_ID}
        self._readings = ReadingWriter(self._words, self._id)

    def part(self, part: Part) -> str:
        """Return what is read together. Cautions stand before the number and title of their step."""
        blocks = (f"\n{self._block(placed)}" for placed in part.blocks)
        return tag("section", *blocks, class_="part step" if part.kind == "step" else "part", id=part.id, tabindex="-1")

    def shapes(self) -> str:
        """Return what the parts written so far share: each plug and each piece of wire once."""
        shapes = (f'<g id="{name}">{marks}</g>' for marks, name in self._shared.items())
        return tag("svg", tag("defs", *shapes), class_="shapes", aria_hidden="true")

    def _use(self, marks: str) -> str:
        return self._shared.setdefault(marks, f"D{len(self._shared)}")

    def _word(self, key: str) -> str:
        return clean(self._words[key])

    def _id(self, wish: str) -> str:
        count = self._ids[wish] = self._ids.get(wish, 0) + 1
        return f"{wish}-{count}"

    def _block(self, placed: Placed) -> str:
        block = placed.block
        match block:
            case Heading():
                return tag(f"h{placed.level + 1}", clean(block.text), id=placed.anchor)
            case Paragraph():
                return tag("p", runs(block.text), class_="small" if block.small else "")
            case Bullets():
                return self._bullets(block)
            case Caution():
                return self._caution(block, brief=placed.said_before == (True,))
            case Chart():
                return self._chart(block)
            case Face():
                return self._faces(block)
            case Picture():
                return self._picture(block)
            case ReadingField():
                return self._readings.write(reading_sheet((block,), self._words))
            case Step():
                return self._step(block, placed)
            case Table():
                return self._table(block)

    def _bullets(self, bullets: Bullets) -> str:
        if not bullets.ticked:
            return items("ol" if bullets.numbered else "ul", bullets.items)
        rows = []
        for text in bullets.items:
            name = self._id("tick")
            box = tag("input", type="checkbox", id=name)
            rows.append(tag("li", tag("label", box, tag("span", runs(text)), for_=name)))
        return tag("ul", *rows, class_="ticks")

    def _caution(self, caution: Caution, *, brief: bool) -> str:
        """A caution; one that this part has given before is set in one piece with its signal word."""
        name = caution.word.lower()
        signal = tag("div", "" if name == "notice" else _TRIANGLE, tag("span", self._word(name)), class_="signal")
        look = f"safety {name} brief" if brief else f"safety {name}"
        return tag("div", signal, tag("p", runs(caution.text)), class_=look, role="note")

    # --- drawings ----------------------------------------------------------------------------------------------

    def _plate(self, drawing: FaceDrawing) -> tuple[str, str]:
        """Return the drawing of a face and the line that says from where it is seen."""
        width = face_width_mm(drawing, least=_PHONE_MM, pitch=_PLACE_MM)
        face = lay(drawing, width_mm=width)
        svg = in_page(face.sharing(self._use))
        caption = clean(face.caption)
        # A face with many places keeps its size on a phone and is moved sideways.
        broad = min(3, int((width - _PHONE_MM + 29) // 30))
        share = target_share(drawing)
        if not broad:
            return tag("div", svg, class_="plate"), caption
        plate = tag(
            "div",
            svg,
            class_=f"plate broad-{broad}",
            data_at=f"{share:.3f}" if share is not None else None,
            tabindex="0",
            role="group",
            aria_label=self._words["scroll"],
        )
        return plate, caption

    def _faces(self, face: Face, said: str = "") -> str:
        words = "" if face.words in said else clean(face.words)  # the same beside it need not stand below it too
        seen, caption = self._plate(face.drawing)
        turned, caption_turned = self._plate(face.drawing.turned)
        below = (
            f"{tag('strong', clean(face.title))}. {self._word('seen')}. {caption}. {words if words != caption else ''}"
        )
        below_turned = f"{self._word('turned')}. {caption_turned}. {clean(face.words_turned)}"
        return tag(
            "div",
            tag("figure", seen, tag("figcaption", below), class_="seen"),
            tag("figure", turned, tag("figcaption", below_turned), class_="turned"),
            tag("button", self._word("turn"), type="button", class_="turn", aria_pressed="false"),
            class_="faces",
        )

    def _picture(self, picture: Picture, said: str = "") -> str:
        drawing = picture.drawing
        words = without(picture.words, said)
        caption = tag("figcaption", tag("strong", clean(picture.caption)), ". ", clean(words))
        if isinstance(drawing, FaceDrawing):
            return tag("figure", self._plate(drawing)[0], caption)
        if isinstance(drawing, WiringPlan):
            # Both say the same; the style sheet shows the one that fits, and a reader hears only that.
            plans = []
            for look, width in (("plan-wide", 178.0), ("plan-narrow", _PHONE_MM)):
                rows = draw(drawing, width_mm=width, words=picture.words, language=self._language)
                plans.append(tag("div", *(in_page(row.svg) for row in rows), class_=f"plate {look}"))
            return tag("figure", *plans, caption)
        if isinstance(drawing, Photograph):
            return self._photograph(drawing, picture)
        (drawn,) = draw(drawing, width_mm=_PHONE_MM, words=picture.words, language=self._language)
        plate = tag("div", shared(in_page(drawn.svg), self._use), class_="plate map")
        return tag("figure", plate, caption, self._legend(drawing))

    def _chart(self, chart: Chart) -> str:
        """A start in time at both widths: the style sheet shows the one that fits, and a reader hears only that."""
        plates = [
            tag("div", in_page(svg), class_=f"plate {look}")
            for look, width in (("plan-wide", 178.0), ("plan-narrow", LEAST_MM))
            for svg in (draw_chart(chart.drawing, width_mm=width, language=self._language),)
        ]
        caption = tag("figcaption", tag("strong", clean(chart.caption)), ". ", clean(chart.words))
        return tag("figure", *plates, caption)

    @staticmethod
    def _photograph(photo: Photograph, picture: Picture) -> str:
        size = {"width": str(photo.width_px), "height": str(photo.height_px)}
        shown = tag("img", src=data_uri(photo), alt=picture.words, loading="lazy", **size)
        caption = tag("figcaption", tag("strong", clean(picture.caption)), ". ", clean(picture.words))
        return tag("figure", shown, caption)

    def _film(self, film: Film) -> str:
        """Where a film is found; on a phone without a network the step is as complete."""
        words = f"{clean(film.words)} ({self._word('film at')} {clean(film.at)})"
        said = f"{self._word('film')}{self._word('colon')}{words}"
        link = tag("a", said, href=film.link, rel="noreferrer")
        return tag("p", link, " ", tag("span", clean(film.link), class_="address"), class_="film")

    @staticmethod
    def _legend(drawing: DashMap) -> str:
        names = (
            tag("li", clean(spot.name), class_="meant" if spot.id in drawing.highlight else "")
            for spot in drawing.spots
        )
        return tag("ol", *names, class_="legend")

    def _lead(self, colour: str | None, label: str | None = None) -> str:
        pieces = [tag("span", clean(label), class_="tag")] if label else []
        if colour:
            base, stripe = split_colour(colour)
            codes = tag("span", exact_codes(base, stripe), class_="codes")
            words = tag("span", clean(spoken(self._language)(colour)), " ", codes)
            pieces.append(tag("span", tag("span", self._swatch(base, stripe), class_="swatch"), words, class_="wire"))
        return tag("div", *pieces, class_="lead")

    def _swatch(self, base: str, stripe: str | None) -> str:
        """A piece of wire, drawn on the page once for each colour."""
        svg = in_page(draw_swatch(base, stripe))
        start, end = svg.index("</title>") + len("</title>"), svg.rindex("</svg>")
        return f'{svg[:start]}<use href="#{self._use(svg[start:end])}"/>{svg[end:]}'

    # --- tables ------------------------------------------------------------------------------------------------

    def _table(self, table: Table) -> str:
        total = sum(table.widths)
        columns = (tag("col", width=f"{100 * width / total:.1f}%") for width in table.widths) if total else ()
        return tag(
            "div",
            tag(
                "table",
                tag("caption", clean(table.caption)) if table.caption else "",
                tag("colgroup", *columns) if total else "",
                tag("thead", tag("tr", *(tag("th", clean(cell), scope="col") for cell in table.head))),
                tag("tbody", *(tag("tr", *(tag("td", runs(cell)) for cell in row)) for row in table.rows)),
            ),
            class_="table",
            tabindex="0",
            role="group",
            aria_label=table.caption or self._words["scroll"],
        )

    # --- steps -------------------------------------------------------------------------------------------------

    def _needs(self, step: Step, *, still_open: bool) -> str:
        needs = step.needs
        facts = [self._word(f"battery {needs.battery}")]
        if needs.key != "any":
            facts.append(self._word(needs.switched))
        if needs.panel:
            facts.append(f"{self._word('still open' if still_open else 'panel')} {clean(needs.panel)}")
        if needs.tool:
            facts.append(f"{self._word('tool')} {clean(needs.tool)}")
        return tag("p", " · ".join(facts), class_="needs")

    def _title(self, step: Step, placed: Placed) -> str:
        return tag(
            f"h{placed.level + 1}",
            tag("span", str(placed.number), class_="number"),
            " ",
            tag("span", self._word(step.kind), class_="kind"),
            " ",
            tag("span", clean(step.title), class_="name"),
            class_="title",
        )

    def _step(self, step: Step, placed: Placed) -> str:
        get = self._run_in("get", self._get(step))
        if placed.still_open and step.needs.panel:
            # How to get there was told in the step before; it can still be unfolded.
            summary = f"{self._word('still open')} {clean(step.needs.panel)}"
            get = tag("details", tag("summary", summary), get, class_="still")
        aim = []
        if step.label or step.lead_colour:
            aim.append(("lead", self._lead(step.lead_colour, step.label)))
        if step.wire_colour:
            aim.append(("wire", self._lead(step.wire_colour)))
        aim.append(("count", clean(step.count or "")))
        aim.append(("neighbours", clean(step.neighbours or "")))
        act = [
            ("do", items("ol", step.do) if len(step.do) > 1 else "".join(map(runs, step.do))),
            ("see", runs(step.see)),
            ("if not", runs(step.if_not)),
        ]
        look = self._picture(step.picture, step.place) if step.picture else ""
        look += self._faces(step.face, step.count or "") if step.face else ""
        look += "".join(map(self._picture, step.photos)) + "".join(map(self._film, step.films))
        return "\n".join((
            *(self._caution(c, brief=b) for c, b in zip(step.cautions, placed.said_before, strict=True)),
            self._title(step, placed),
            self._needs(step, still_open=placed.still_open),
            tag(
                "div",
                get,
                tag("div", look, class_="look") if look else "",
                self._run_in("aim", aim),
                class_="spread" if look else "",
            ),
            self._run_in("act", act),
            self._readings.write(reading_sheet(step.readings, self._words)) if step.readings else "",
            self._mark("unproven", step.unproven or "") if step.unproven is not None else "",
            self._mark("may-stop", self._words["may stop words"]) if step.may_stop else "",
        ))  # fmt: skip

    @staticmethod
    def _get(step: Step) -> list[tuple[str, str]]:
        facts = [("place", clean(step.place))]
        if step.access:
            facts.append(("access", items("ul", ((line,) for line in step.access))))
        return facts

    def _mark(self, look: str, words: str) -> str:
        return tag("p", tag("strong", self._word(look.replace("-", " "))), ". ", clean(words), class_=look)

    def _run_in(self, look: str, facts: list[tuple[str, str]]) -> str:
        rows = [tag("dt", self._word(key)) + tag("dd", value) for key, value in facts if value]
        return tag("dl", *rows, class_=f"run-in {look}") if rows else ""
