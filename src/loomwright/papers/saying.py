"""Text runs from the catalogue's templates: fields are filled with words, quantities or whole runs.

What is made here remembers its template and its fields, so that a paper can be said in another language afterwards.

Numbers that stand in foreign sentences (a finding, a reason of the plan) are lifted out of them into quantities, so
that no number of a paper is without its trace.
"""

import re
from collections.abc import Iterable, Mapping
from functools import cache
from string import Formatter
from types import MappingProxyType
from typing import Self

from loomwright.papers.blocks import Quantity, Run, Text
from loomwright.papers.foreign import Foreign
from loomwright.papers.measures import Measures
from loomwright.sentences import capital
from loomwright.sentences import listing as listed

__all__ = ["Field", "Said", "capital", "joined", "lifted", "listed", "plain", "say"]

Field = str | Quantity | Text

# Units as the other rooms write them in their sentences, longest first.
_SIGNS = {"ohm": "Ω", "mm2": "mm²"}
_UNITS = "minutes?|seconds?|states|mm2|ohm|mA|mV|rpm|°C|AWG|min|V|A|W|s|m|h|%"
_NO_UNITS: Mapping[str, str] = MappingProxyType({})


@cache
def _number(decimal: str, more: tuple[str, ...]) -> re.Pattern[str]:
    """Return what finds a number with its unit; one with a decimal point too, which a document may have."""
    units = "|".join((*(re.escape(unit) for unit in more), _UNITS))
    sign = re.escape(decimal) if decimal == "." else rf"[.{re.escape(decimal)}]"
    before = "" if decimal == "." else re.escape(decimal)
    # A count such as '6 more wires' has no unit, and what it counts stays in the sentence.
    return re.compile(rf"(?<![\w.{before}-])(\d+(?:{sign}\d+)?)(?:\s?({units})(?![\w-])|(?= more\b))")


def _tidy(runs: Iterable[Run]) -> Text:
    """Join neighbouring strings and drop empty ones."""
    out: list[Run] = []
    for run in runs:
        if _joins(run) and out and _joins(out[-1]):
            out[-1] = f"{out[-1]}{run}"
        elif run != "":
            out.append(run)
    return tuple(out)


class Said(tuple[Run, ...]):
    """A text that remembers its template and what filled it.

    With a `trace` it is one field, a sentence of another room, whose numbers were lifted out of it, in the units of
    `measures` where those are given.
    """

    template: str
    fields: Mapping[str, Field]
    trace: str | None
    measures: Measures | None

    def __new__(
        cls,
        runs: Iterable[Run],
        template: str,
        fields: Mapping[str, Field],
        trace: str | None = None,
        measures: Measures | None = None,
    ) -> Self:
        """Keep the runs with what they were made of."""
        made = super().__new__(cls, runs)
        made.template, made.fields, made.trace, made.measures = template, fields, trace, measures
        return made

    def __getnewargs__(self) -> tuple[tuple[Run, ...], str, Mapping[str, Field], str | None, Measures | None]:
        """Return what makes this text again, for copies."""
        return tuple(self), self.template, self.fields, self.trace, self.measures

    @property
    def sentence(self) -> str:
        """The sentence whose numbers were lifted out."""
        value = self.fields["sentence"]
        return value if isinstance(value, str) else ""


def _joins(run: Run) -> bool:
    """Tell whether a run flows into its neighbour; words of another language stay by themselves."""
    return isinstance(run, str) and not isinstance(run, Foreign)


def say(template: str, /, **fields: Field) -> Text:
    """Fill a template of the catalogue.

    Raises KeyError where a field of the template is not given.
    """
    runs: list[Run] = []
    for words, name, _, _ in Formatter().parse(template):
        runs.append(words)
        if name is not None:
            value = fields[name]
            runs.extend(value if isinstance(value, tuple) else (value,))
    return Said(_tidy(runs), template, fields)


def joined(*texts: Field, between: str = " ") -> Text:
    """Put texts one after the other; empty ones leave no gap."""
    fields = {f"part_{n}": text for n, text in enumerate(t for t in texts if t not in ("", ()))}
    return say(between.join(f"{{{name}}}" for name in fields), **fields)


def lifted(
    sentence: str, trace: str, measures: Measures | None = None, *, decimal: str = ".",
    units: Mapping[str, str] = _NO_UNITS,
) -> Text:  # fmt: skip
    """Turn every number with a unit in a sentence of another room into a quantity with a trace.

    With `measures` wire sizes and lengths are given in the units of that shop. A sentence of another language has its
    `decimal` sign, and its own words for some `units`: word -> the unit of the quantity.
    """
    runs: list[Run] = []
    at = 0
    for found in _number(decimal, tuple(units)).finditer(sentence):
        runs.append(sentence[at : found.start()])
        figures = found[1].replace(decimal, ".")
        word = units.get(found[2], found[2])
        unit = _SIGNS.get(word, word) or ""
        quantity = Quantity(value=float(figures), unit=unit, trace=trace, digits=len(figures.partition(".")[2]))
        runs.append(quantity if measures is None else measures.converted(quantity))
        at = found.end()
    runs.append(sentence[at:])
    return Said(_tidy(runs), "{sentence}", {"sentence": sentence}, trace, measures)


def plain(text: Text) -> str:
    """Return the words of a text without its form: quantities as value and unit."""
    return "".join(run if isinstance(run, str) else f"{run.printed} {run.unit}".rstrip() for run in text)
