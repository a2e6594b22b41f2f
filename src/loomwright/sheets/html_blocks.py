"""Every kind of block as HTML."""

from collections.abc import Sequence

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
)
from loomwright.papers.drawings import DashMap, FaceDrawing, WiringPlan
from loomwright.sheets.characters import printable
from loomwright.sheets.drawn import draw, face_width_mm, target_share
from loomwright.sheets.markup import clean, compact_json, items, runs, tag
from loomwright.sheets.structure import Part, Placed
from loomwright.sheets.wire_swatch import colour_codes, draw_swatch, split_colour
from loomwright.sheets.words import limit_words, reading_unit, rounded, words_for

__all__ = ["BlockWriter"]

_PHONE_MM = 90.0  # a face drawn this wide has letters of 14 px on a phone 390 px wide
_PLACE_MM = 7.2
_TRIANGLE = (
    '<svg viewBox="0 0 24 22" aria-hidden="true"><path d="M12 1.6 23 20.6H1Z" fill="none" stroke="currentColor"'
    ' stroke-width="2" stroke-linejoin="round"/><path d="M12 7.6v6.6M12 16.6v1.6" stroke="currentColor"'
    ' stroke-width="2.4"/></svg>'
)


class BlockWriter:
    """Writes the blocks of one paper; it knows the words of its language and gives out ids."""

    def __init__(self, language: str) -> None:
        self._language = language
        self._words = words_for(language)
        self._ids: dict[str, int] = {}

    def part(self, part: Part) -> str:
        """Return what is read together. Cautions stand before the number and title of their step."""
        blocks = (f"\n{self._block(placed)}" for placed in part.blocks)
        return tag("section", *blocks, class_="part step" if part.kind == "step" else "part", id=part.id, tabindex="-1")

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
                return self._caution(block)
            case Face():
                return self._faces(block)
            case Picture():
                return self._picture(block)
            case ReadingField():
                return self._reading(block)
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

    def _caution(self, caution: Caution) -> str:
        name = caution.word.lower()
        signal = tag("div", "" if name == "notice" else _TRIANGLE, tag("span", self._word(name)), class_="signal")
        return tag("div", signal, tag("p", runs(caution.text)), class_=f"safety {name}", role="note")

    # --- drawings ----------------------------------------------------------------------------------------------

    def _plate(self, drawing: FaceDrawing, words: str) -> str:
        width = face_width_mm(drawing, least=_PHONE_MM, pitch=_PLACE_MM)
        (drawn,) = draw(drawing, width_mm=width, words=words, language=self._language)
        # A face with many places keeps its size on a phone and is moved sideways.
        broad = min(3, int((width - _PHONE_MM + 29) // 30))
        share = target_share(drawing)
        if not broad:
            return tag("div", drawn.svg, class_="plate")
        return tag(
            "div",
            drawn.svg,
            class_=f"plate broad-{broad}",
            data_at=f"{share:.3f}" if share is not None else None,
            tabindex="0",
            role="group",
            aria_label=self._words["scroll"],
        )

    def _faces(self, face: Face, said: str = "") -> str:
        words = "" if face.words in said else clean(face.words)  # the same beside it need not stand below it too
        seen = f"{tag('strong', clean(face.title))}. {self._word('seen')}. {words}"
        turned = f"{self._word('turned')}. {clean(face.words_turned)}"
        return tag(
            "div",
            tag("figure", self._plate(face.drawing, face.words), tag("figcaption", seen), class_="seen"),
            tag(
                "figure",
                self._plate(face.drawing.turned, face.words_turned),
                tag("figcaption", turned),
                class_="turned",
            ),
            tag("button", self._word("turn"), type="button", class_="turn", aria_pressed="false"),
            class_="faces",
        )

    def _picture(self, picture: Picture) -> str:
        drawing = picture.drawing
        caption = tag("figcaption", tag("strong", clean(picture.caption)), ". ", clean(picture.words))
        if isinstance(drawing, FaceDrawing):
            return tag("figure", self._plate(drawing, picture.words), caption)
        if isinstance(drawing, WiringPlan):
            # Both say the same; the style sheet shows the one that fits, and a reader hears only that.
            plans = []
            for look, width in (("plan-wide", 178.0), ("plan-narrow", _PHONE_MM)):
                rows = draw(drawing, width_mm=width, words=picture.words, language=self._language)
                plans.append(tag("div", *(row.svg for row in rows), class_=f"plate {look}"))
            return tag("figure", *plans, caption)
        (drawn,) = draw(drawing, width_mm=_PHONE_MM, words=picture.words, language=self._language)
        return tag("figure", tag("div", drawn.svg, class_="plate map"), caption, self._legend(drawing))

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
            codes = tag("span", colour_codes(base, stripe), class_="codes")
            words = tag("span", clean(colour), " ", codes)
            pieces.append(tag("span", tag("span", draw_swatch(base, stripe), class_="swatch"), words, class_="wire"))
        return tag("div", *pieces, class_="lead")

    # --- tables and readings -----------------------------------------------------------------------------------

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

    def _reading(self, field: ReadingField) -> str:
        name, unit = self._id("reading"), reading_unit(field)
        # The script compares with what is printed, so that page and table never disagree.
        rows = [
            [None if v.low is None else rounded(v.low), None if v.high is None else rounded(v.high), v.words, v.good]
            for v in field.verdicts
        ]
        facts = (
            ("clip", clean(field.clip), ""),
            ("probe", clean(field.probe), ""),
            ("state", clean(field.state), ""),
            ("expect", runs(field.expect), "strong"),
        )
        lamp = self._word("lamp yes" if field.lamp_allowed else "lamp no")
        boxes = (("battery now", "battery"), ("your reading", "value"))
        entry = [
            tag(
                "div",
                tag("label", f"{self._word(key)} ({clean(unit)})", for_=f"{name}-{kind}"),
                tag("input", type="text", class_=kind, id=f"{name}-{kind}", inputmode="decimal", autocomplete="off"),
            )
            for key, kind in boxes[0 if field.relative else 1 :]
        ]
        return tag(
            "div",
            tag("p", self._word("reading"), class_="of"),
            tag(
                "dl",
                *(tag("dt", self._word(key), class_=look) + tag("dd", value) for key, value, look in facts if value),
                class_="run-in",
            ),
            tag("p", tag("strong", lamp), ": ", clean(field.lamp), class_="lamp") if field.lamp else "",
            tag("div", *entry, class_="entry"),
            tag("output", class_="verdict", for_=f"{name}-value"),
            self._worksheet(field, unit),
            tag("button", self._word("limits"), type="button", class_="unfold", aria_expanded="false"),
            self._limits(field),
            class_="reading",
            id=name,
            data_field=field.id,
            data_rule=compact_json(
                {"relative": field.relative, "unit": unit, "rows": [_printable(row) for row in rows]}
            ),
        )

    def _worksheet(self, field: ReadingField, unit: str) -> str:
        """The lines to fill in on paper, twice, with the subtraction spelled out."""
        blank = f"{tag('span', class_='blank')}\u00a0{clean(unit)}"
        if field.relative:
            battery, own = self._word("battery now"), self._word("your reading")
            line = f"{battery} {blank} − {own} {blank} = {blank} {self._word('below')}"
        else:
            line = f"{self._word('your reading')} {blank}"
        lines = (tag("p", f"{self._word(turn)}: {line}") for turn in ("first", "second"))
        return tag("div", *lines, tag("p", self._word("stop after two"), class_="small"), class_="worksheet")

    def _limits(self, field: ReadingField) -> str:
        heads = ("below battery" if field.relative else "reads", "verdict", "meaning")
        rows = []
        for verdict in field.verdicts:
            kind = "right" if verdict.good else "wrong"
            cells = (clean(limit_words(verdict, self._words)), self._word(kind), clean(verdict.words))
            rows.append(tag("tr", *(tag("td", cell) for cell in cells), class_=kind))
        table = tag(
            "table",
            tag("caption", self._word("limits")),
            tag("thead", tag("tr", *(tag("th", self._word(head), scope="col") for head in heads))),
            tag("tbody", *rows),
        )
        return tag("div", table, class_="table limits")

    # --- steps -------------------------------------------------------------------------------------------------

    def _needs(self, step: Step) -> str:
        needs = step.needs
        facts = [self._word(f"battery {needs.battery}")]
        if needs.key != "any":
            facts.append(self._word(f"key {needs.key}"))
        if needs.panel:
            facts.append(f"{self._word('panel')} {clean(needs.panel)}")
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
        get = [("place", clean(step.place))]
        if step.access:
            get.append(("access", items("ul", ((line,) for line in step.access))))
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
        look = self._faces(step.face, step.count or "") if step.face else ""
        look += self._picture(step.picture) if step.picture else ""
        return "\n".join((
            *map(self._caution, step.cautions),
            self._title(step, placed),
            self._needs(step),
            tag(
                "div",
                self._run_in("get", get),
                tag("div", look, class_="look") if look else "",
                self._run_in("aim", aim),
                class_="spread" if look else "",
            ),
            self._run_in("act", act),
            *map(self._reading, step.readings),
            self._mark("unproven", step.unproven or "") if step.unproven is not None else "",
            self._mark("may-stop", self._words["may stop words"]) if step.may_stop else "",
        ))  # fmt: skip

    def _mark(self, look: str, words: str) -> str:
        return tag("p", tag("strong", self._word(look.replace("-", " "))), ". ", clean(words), class_=look)

    def _run_in(self, look: str, facts: list[tuple[str, str]]) -> str:
        rows = [tag("dt", self._word(key)) + tag("dd", value) for key, value in facts if value]
        return tag("dl", *rows, class_=f"run-in {look}") if rows else ""


def _printable(row: Sequence[object]) -> list[object]:
    return [printable(cell) if isinstance(cell, str) else cell for cell in row]
