"""Sentences that remember how they were made, so that a paper can say them in another language.

A room below the papers says what it found in English. Where that sentence reaches a paper, it is made with `told`: it
is an ordinary string, and it keeps its pattern and what filled it.
"""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Self

__all__ = ["FORMS", "Sentence", "Value", "capital", "clause", "linked", "listing", "small", "told", "unstopped"]

Value = str | int | float | None


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def _unstopped(words: str) -> str:
    return words.rstrip(".")


FORMS: Mapping[str, Callable[[str], str]] = MappingProxyType(
    {
        "capital": _capital,
        "small": _small,
        "unstopped": _unstopped,
    }
)
"""What may be done to a sentence after it was made; the same is done to it in another language."""


class Sentence(str):
    """An English sentence with its pattern, what filled the pattern's fields, and what was done to it since."""

    __slots__ = ("fields", "forms", "pattern")

    pattern: str
    fields: Mapping[str, Value]
    forms: tuple[str, ...]

    def __new__(cls, pattern: str, fields: Mapping[str, Value], forms: tuple[str, ...] = ()) -> Self:
        """Fill a pattern; raises KeyError where one of its fields is not given."""
        words = pattern.format(**fields)
        for form in forms:
            words = FORMS[form](words)
        made = super().__new__(cls, words)
        made.pattern, made.fields, made.forms = pattern, dict(fields), forms
        return made

    def __getnewargs__(self) -> tuple[str, Mapping[str, Value], tuple[str, ...]]:  # type: ignore[override]
        """Return what makes this sentence again, for copies."""
        return self.pattern, self.fields, self.forms


def told(pattern: str, /, **fields: Value) -> str:
    """Return a sentence made from a pattern such as '{label} carries {amps:.1f} A.'.

    Raises KeyError where a field of the pattern is not given.
    """
    return Sentence(pattern, fields)


def _formed(words: str, form: str) -> str:
    if isinstance(words, Sentence):
        return Sentence(words.pattern, words.fields, (*words.forms, form))
    return Sentence("{words}", {"words": words}, (form,))


def capital(words: str) -> str:
    """Return words with a capital letter at their beginning."""
    return _formed(words, "capital")


def small(words: str) -> str:
    """Return words with a small letter at their beginning."""
    return _formed(words, "small")


def unstopped(words: str) -> str:
    """Return a sentence without its full stop, to go on after it."""
    return _formed(words, "unstopped")


def clause(words: str) -> str:
    """Return a sentence as the end of another one: with a small letter and without its full stop."""
    return unstopped(small(words))


def listing(items: Iterable[str], last: str = "and") -> str:
    """Return 'a, b and c'; `last` is the word before the last one."""
    every = list(items)
    if not every:
        return ""
    said: str = every[0]
    for item in every[1:-1]:
        said = Sentence("{said}, {item}", {"said": said, "item": item})
    if len(every) > 1:
        said = Sentence(f"{{said}} {last} {{item}}", {"said": said, "item": every[-1]})
    return said


def linked(items: Iterable[str], between: str = " ") -> str:
    """Return sentences or names one after the other; empty ones leave no gap."""
    every = [item for item in items if item]
    if len(every) < 2:
        return "".join(every) if not every else every[0]
    fields = {f"part_{n}": item for n, item in enumerate(every)}
    return Sentence(between.join(f"{{{name}}}" for name in fields), fields)
