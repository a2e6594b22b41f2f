"""Text runs from the catalogue's templates: fields are filled with words, quantities or whole runs.

Numbers that stand in foreign sentences (a finding, a reason of the plan) are lifted out of them into quantities, so
that no number of a paper is without its trace.
"""

import re
from collections.abc import Iterable
from string import Formatter

from loomwright.papers.blocks import Quantity, Run, Text

__all__ = ["Field", "capital", "joined", "lifted", "listed", "plain", "say"]

Field = str | Quantity | Text

# Units as the other rooms write them in their sentences, longest first.
_SIGNS = {"ohm": "Ω", "mm2": "mm²", "degC": "°C"}
_UNITS = "minutes?|seconds?|states|mm2|ohm|mA|mV|rpm|degC|AWG|min|V|A|W|s|m|h|%"
# A count such as '6 more wires' has no unit, and what it counts stays in the sentence.
_NUMBER = re.compile(rf"(?<![\w.-])(\d+(?:\.\d+)?)(?:\s?({_UNITS})(?![\w-])|(?= more\b))")


def _tidy(runs: Iterable[Run]) -> Text:
    """Join neighbouring strings and drop empty ones."""
    out: list[Run] = []
    for run in runs:
        if isinstance(run, str) and out and isinstance(out[-1], str):
            out[-1] += run
        elif run != "":
            out.append(run)
    return tuple(out)


def say(template: str, **fields: Field) -> Text:
    """Fill a template of the catalogue.

    Raises KeyError where a field of the template is not given.
    """
    runs: list[Run] = []
    for words, name, _, _ in Formatter().parse(template):
        runs.append(words)
        if name is not None:
            value = fields[name]
            runs.extend(value if isinstance(value, tuple) else (value,))
    return _tidy(runs)


def joined(*texts: Field, between: str = " ") -> Text:
    """Put texts one after the other; empty ones leave no gap."""
    runs: list[Run] = []
    for text in texts:
        if text in ("", ()):
            continue
        if runs:
            runs.append(between)
        runs.extend(text if isinstance(text, tuple) else (text,))
    return _tidy(runs)


def listed(items: Iterable[str], last: str) -> str:
    """Return 'a, b and c', with the language's word before the last one."""
    every = list(items)
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} {last} {every[-1]}" if every else ""


def lifted(sentence: str, trace: str) -> Text:
    """Turn every number with a unit in a sentence of another room into a quantity with a trace."""
    runs: list[Run] = []
    at = 0
    for found in _NUMBER.finditer(sentence):
        runs.append(sentence[at : found.start()])
        digits = len(found[1].partition(".")[2])
        unit = _SIGNS.get(found[2], found[2]) or ""
        runs.append(Quantity(value=float(found[1]), unit=unit, trace=trace, digits=digits))
        at = found.end()
    runs.append(sentence[at:])
    return _tidy(runs)


def plain(text: Text) -> str:
    """Return the words of a text without its form: quantities as value and unit."""
    return "".join(
        run if isinstance(run, str) else f"{run.value:.{run.digits}f}" + (f" {run.unit}" if run.unit else "")
        for run in text
    )


def capital(words: str) -> str:
    """Return words with a capital letter at their beginning."""
    return words[:1].upper() + words[1:]
