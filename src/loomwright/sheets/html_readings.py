"""The readings of a step as HTML: a row for each with its box and its verdict, and below it what other readings mean.

With scripts the boxes take numbers and the verdict appears beside them; without, and on paper, there are lines to
write on and the list of meanings is open.
"""

from collections.abc import Callable, Mapping

from loomwright.papers.blocks import Quantity
from loomwright.sheets.markup import clean, runs, tag
from loomwright.sheets.reading_sheet import Fact, Meaning, ReadingRow, ReadingSheet, numbers_words
from loomwright.sheets.words import rounded

__all__ = ["ReadingWriter"]


class ReadingWriter:
    """Writes sheets of readings in one language; ids come from the page they are on."""

    def __init__(self, words: Mapping[str, str], new_id: Callable[[str], str]) -> None:
        """Take the words of the language and what makes an id of a wish."""
        self._words = words
        self._new_id = new_id
        self._colon = words["colon"].rstrip(" ")

    def write(self, sheet: ReadingSheet) -> str:
        """Return a sheet."""
        single = len(sheet.rows) == 1
        # The script finds a meaning by its place on the page: those of right readings stand first.
        order = sorted(range(len(sheet.meanings)), key=lambda i: not sheet.meanings[i].good)
        places = {meaning: place for place, meaning in enumerate(order)}
        return tag(
            "div",
            self._shared(sheet),
            self._battery(sheet),
            *(
                (tag("p", self._facts(group.facts), class_="group") if group.facts else "")
                + tag("ol", *(self._row(row, places, single=single) for row in group.rows))
                for group in sheet.groups
            ),
            *(self._right(each, single=single) for each in sheet.meanings if each.good),
            tag("button", self._word("limits"), type="button", class_="unfold", aria_expanded="false"),
            self._meanings(sheet, single=single),
            tag("p", self._word("less") + " " if sheet.relative else "", self._word("stop after two"), class_="small"),
            class_="readings",
        )

    def _word(self, key: str) -> str:
        return clean(self._words[key])

    def _fact(self, key: str, text: str) -> str:
        return tag("span", tag("b", self._word(key)), " ", clean(text))

    def _facts(self, facts: tuple[Fact, ...]) -> str:
        return " ".join(self._fact(key, text) for key, text in facts)

    def _shared(self, sheet: ReadingSheet) -> str:
        lamps = []
        for lamp in sheet.lamps:
            which = f" ({numbers_words(lamp.numbers)})" if len(sheet.lamps) > 1 else ""
            name = tag("b", f"{self._word('lamp yes' if lamp.allowed else 'lamp no')}{which}{self._colon}")
            lamps.append(tag("span", name, " ", clean(lamp.words)))
        return tag("p", " ".join(filter(None, (self._facts(sheet.shared), *lamps))), class_="shared")

    def _battery(self, sheet: ReadingSheet) -> str:
        if not sheet.relative:
            return ""
        unit, name = clean(sheet.battery_unit), self._new_id("battery")
        label = tag("label", f"{self._word('battery now')} ({unit})", for_=name)
        box = tag("input", type="text", class_="battery", id=name, inputmode="decimal", autocomplete="off")
        lines = self._lines(unit, relative=False)
        return tag("div", label, box, lines, class_="now-battery")

    def _lines(self, unit: str, *, relative: bool) -> str:
        """Lines to write on, for a first and a second reading."""
        blank = tag("i")
        line = f"{blank} {self._word('below short')} {blank}" if relative else blank
        turns = (f"{self._word(turn)} {line}\u00a0{unit}" for turn in ("first", "second"))
        return tag("div", *(tag("span", turn) for turn in turns), class_="lines")

    def _row(self, row: ReadingRow, places: Mapping[int, int], *, single: bool) -> str:
        name, unit = self._new_id("reading"), clean(row.unit)
        number = "" if single else f" {row.number}"
        rules = (
            (
                _limit(limit.verdict.low),
                _limit(limit.verdict.high),
                "1" if limit.verdict.good else "",
                "" if limit.meaning is None else str(places[limit.meaning]),
                "" if limit.more is None else str(limit.more),
            )
            for limit in row.limits
        )
        said = self._words["semicolon"].join(text for _, text in row.facts)
        return tag(
            "li",
            tag("span", str(row.number), class_="at") if not single else "",
            tag("span", clean(said), class_="said") if row.facts else "",
            tag("span", tag("span", self._word("expect"), class_="key"), " ", runs(row.field.expect), class_="expect"),
            tag(
                "span",
                tag("label", f"{self._word('reading')}{number} ({unit})", for_=name),
                tag("input", type="text", class_="value", id=name, inputmode="decimal", autocomplete="off"),
                class_="entry",
            ),
            self._lines(unit, relative=row.field.relative),
            tag("output", class_="verdict", for_=name),
            class_="reading",
            data_field=row.field.id,
            data_rule=";".join(",".join(rule) for rule in rules),
            data_unit=row.unit,
            data_relative=row.field.relative,
        )

    def _where(self, meaning: Meaning, *, single: bool) -> str:
        where = []
        for each in meaning.where:
            below = f" {self._word('below short')}" if each.relative else ""
            numbers = "" if single else tag("b", f"{numbers_words(each.numbers)}{self._colon}") + " "
            where.append(f"{numbers}{clean(each.words)}{below}")
        return self._word("semicolon").join(where)

    def _means(self, meaning: Meaning) -> str:
        """The words of a meaning in the pieces that the script puts together for one reading."""
        more = []
        for numbers, text in meaning.more:
            which = tag("b", f"{numbers_words(numbers)}{self._word('colon')}") if len(meaning.more) > 1 else ""
            more.append(tag("span", which, tag("span", clean(text)), class_="also"))
        return " ".join((tag("span", clean(meaning.words), class_="first"), *more))

    def _right(self, meaning: Meaning, *, single: bool) -> str:
        where = tag("span", f"({self._where(meaning, single=single)}){self._word('colon')}", class_="where")
        return tag("p", tag("b", self._word("right")), " ", where, self._means(meaning), class_="means good")

    def _meanings(self, sheet: ReadingSheet, *, single: bool) -> str:
        wrong = [each for each in sheet.meanings if not each.good]
        rows = (
            tag("tr", tag("td", self._where(each, single=single)), tag("td", self._means(each), class_="means"))
            for each in wrong
        )
        head = tag("tr", *(tag("th", self._word(key), scope="col") for key in ("other", "meaning")))
        table = tag("table", tag("thead", head), tag("tbody", *rows)) if wrong else ""
        return tag("div", table, class_="table limits")


def _limit(limit: Quantity | None) -> str:
    """Return a limit as it is printed, so that the script and the page never disagree; empty for none."""
    return "" if limit is None else f"{rounded(limit):.10g}"
