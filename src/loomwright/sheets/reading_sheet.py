"""The readings of one step as one sheet.

What all share is said once, each reading is a row, and what other readings mean is listed once below, each meaning with
the numbers of the rows it belongs to.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, groupby

from loomwright.papers.blocks import ReadingField, Verdict
from loomwright.sheets.words import limit_words, reading_unit

__all__ = [
    "Fact", "Group", "Lamp", "Limit", "Meaning", "ReadingRow", "ReadingSheet", "Where", "numbers_words",
    "reading_sheet",
]  # fmt: skip

Fact = tuple[str, str]  # key of the word before it, and what is said
_FACTS = ("clip", "probe", "state")


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One verdict of a row: its limits, and which meaning and which words after it are meant by it, None for none."""

    verdict: Verdict
    meaning: int | None
    more: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """One reading: its number on the sheet, what is said of it alone, and its verdicts in order."""

    number: int
    field: ReadingField
    unit: str
    facts: tuple[Fact, ...]
    limits: tuple[Limit, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows that follow each other and share a fact, which then stands above them."""

    facts: tuple[Fact, ...]
    rows: tuple[ReadingRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """What the test lamp does, and in which rows."""

    numbers: tuple[int, ...]
    allowed: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The limits of a meaning in some rows, in words."""

    numbers: tuple[int, ...]
    words: str
    relative: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """What a reading means: the same first sentence wherever it holds, then what differs from row to row."""

    good: bool
    words: str
    more: tuple[tuple[tuple[int, ...], str], ...]
    where: tuple[Where, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingSheet:
    """All readings of a step."""

    shared: tuple[Fact, ...]
    lamps: tuple[Lamp, ...]
    groups: tuple[Group, ...]
    meanings: tuple[Meaning, ...]
    relative: bool  # whether any row counts from the battery, so that the battery is measured first
    battery_unit: str

    @property
    def rows(self) -> tuple[ReadingRow, ...]:
        """All rows in order."""
        return tuple(row for group in self.groups for row in group.rows)

    @property
    def row_facts(self) -> tuple[str, ...]:
        """The keys of what is said in the rows."""
        found = {key for row in self.rows for key, _ in row.facts}
        return tuple(key for key in _FACTS if key in found)


def numbers_words(numbers: Iterable[int]) -> str:
    """Return '1, 3–5'."""
    runs = []
    for _, run in groupby(enumerate(sorted(numbers)), key=lambda pair: pair[1] - pair[0]):
        found = [number for _, number in run]
        runs.append(f"{found[0]}–{found[-1]}" if len(found) > 2 else ", ".join(map(str, found)))
    return ", ".join(runs)


def reading_sheet(fields: Sequence[ReadingField], words: Mapping[str, str]) -> ReadingSheet:
    """Return the readings of a step, in their order, as one sheet."""
    said = [{"clip": field.clip, "probe": field.probe, "state": field.state} for field in fields]
    varying = [key for key in _FACTS if len({facts[key] for facts in said}) > 1]
    shared = tuple((key, said[0][key]) for key in _FACTS if key not in varying and said[0][key])
    headings = _heading_keys(said, varying)
    meanings, limits = _meanings(fields, words)
    rows = [
        ReadingRow(
            number=number,
            field=field,
            unit=reading_unit(field),
            facts=tuple((key, facts[key]) for key in varying if key not in headings and facts[key]),
            limits=limits[number - 1],
        )
        for number, (field, facts) in enumerate(zip(fields, said, strict=True), start=1)
    ]
    relative = [row for row in rows if row.field.relative]
    return ReadingSheet(
        shared=shared,
        lamps=_lamps(fields),
        groups=_headed(said, headings, rows),
        meanings=meanings,
        relative=bool(relative),
        battery_unit=relative[0].unit if relative else "",
    )


def _stretches(facts: Sequence[tuple[str, ...]]) -> list[tuple[tuple[str, ...], list[int]]]:
    return [(fact, list(run)) for fact, run in groupby(range(len(facts)), key=lambda i: facts[i])]


def _heading_keys(said: Sequence[Mapping[str, str]], varying: Sequence[str]) -> tuple[str, ...]:
    """Return the facts that stand above the rows they hold for: those that make the sheet shortest.

    A heading takes a line, and so does a row; each fact beyond the first makes a row about half a line longer.
    """

    def cost(keys: tuple[str, ...]) -> float:
        headings = len(_stretches([_of(facts, keys) for facts in said])) if keys else 0
        return headings + len(said) * (1 + 0.5 * max(0, len(varying) - len(keys) - 1))

    ways = [keys for n in range(len(varying)) for keys in combinations(varying, n)] or [()]
    # Of ways that are equally short the one with the most above the rows.
    return min(ways, key=lambda keys: (cost(keys), -len(keys)))


def _of(facts: Mapping[str, str], keys: Sequence[str]) -> tuple[str, ...]:
    return tuple(facts[key] for key in keys)


def _headed(said: Sequence[Mapping[str, str]], keys: tuple[str, ...], rows: Sequence[ReadingRow]) -> tuple[Group, ...]:
    """Return the rows under what holds for them; what still holds from the rows above is not said again."""
    groups: list[Group] = []
    before: Mapping[str, str] = {}
    for _, places in _stretches([_of(facts, keys) for facts in said]):
        now = {key: said[places[0]][key] for key in keys}
        new = tuple((key, text) for key, text in now.items() if text and before.get(key) != text)
        groups.append(Group(facts=new, rows=tuple(rows[i] for i in places)))
        before = now
    return tuple(groups)


def _lamps(fields: Sequence[ReadingField]) -> tuple[Lamp, ...]:
    found: dict[tuple[bool, str], list[int]] = {}
    for number, field in enumerate(fields, start=1):
        if field.lamp:
            found.setdefault((field.lamp_allowed, field.lamp), []).append(number)
    return tuple(Lamp(numbers=tuple(rows), allowed=key[0], words=key[1]) for key, rows in found.items())


def _sentence(text: str) -> tuple[str, str]:
    """Return the first sentence and the rest."""
    first, stop, rest = text.partition(". ")
    return (f"{first}.", rest) if stop else (text, "")


def _without_word(verdict: Verdict, words: Mapping[str, str]) -> str:
    """Return what a right reading means without the word that stands before it anyway."""
    for start in (f"{words['right']}{words['colon']}", f"{words['right']}. "):
        if verdict.good and verdict.words.startswith(start):
            return verdict.words.removeprefix(start)
    return verdict.words


def _plain_good(field: ReadingField, verdict: Verdict, words: Mapping[str, str]) -> bool:
    """Tell whether a verdict says no more than that the reading is right, as the row itself does."""
    alone = sum(each.good for each in field.verdicts) == 1
    return verdict.good and alone and verdict.words.rstrip(".") == words["right"]


def _meanings(
    fields: Sequence[ReadingField], words: Mapping[str, str]
) -> tuple[tuple[Meaning, ...], list[tuple[Limit, ...]]]:
    heads: dict[tuple[bool, str], int] = {}
    mores: list[dict[str, list[int]]] = []
    wheres: list[dict[tuple[str, bool], list[int]]] = []
    limits: list[tuple[Limit, ...]] = []
    for number, field in enumerate(fields, start=1):
        row: list[Limit] = []
        for verdict in field.verdicts:
            if _plain_good(field, verdict, words):
                row.append(Limit(verdict=verdict, meaning=None, more=None))
                continue
            first, rest = _sentence(_without_word(verdict, words))
            place = heads.setdefault((verdict.good, first), len(heads))
            if place == len(mores):
                mores.append({})
                wheres.append({})
            wheres[place].setdefault((limit_words(verdict, words), field.relative), []).append(number)
            more = None
            if rest:
                mores[place].setdefault(rest, []).append(number)
                more = list(mores[place]).index(rest)
            row.append(Limit(verdict=verdict, meaning=place, more=more))
        limits.append(tuple(row))
    found = tuple(
        Meaning(
            good=good,
            words=first,
            more=tuple((tuple(rows), text) for text, rows in mores[i].items()),
            where=tuple(
                Where(numbers=tuple(rows), words=text, relative=relative)
                for (text, relative), rows in wheres[i].items()
            ),
        )
        for (good, first), i in heads.items()
    )
    return found, limits
