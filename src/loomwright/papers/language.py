"""A language of the papers: its catalogue, how it writes numbers, and the texts that documents hold in it.

The English sentence is the key: a catalogue of another language says for each what stands in its place. Nothing of it
is kept anywhere but in the value that is passed along.
"""

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from string import Formatter
from types import MappingProxyType

from loomwright.papers.blocks import Quantity, Text
from loomwright.papers.foreign import Foreign
from loomwright.papers.saying import Field, Said, lifted, say
from loomwright.sentences import FORMS, Sentence

__all__ = ["Language"]

_NOTHING: Mapping[str, str] = MappingProxyType({})
_FIELD = re.compile(r"\{[^{}]*\}")


class _Numbers(Formatter):
    """Fills a pattern as `str.format` does, with the decimal sign of a language in its numbers."""

    def __init__(self, decimal: str) -> None:
        self._decimal = decimal

    def format_field(self, value: object, format_spec: str) -> str:
        """Format one field; a text is left as it is."""
        words: str = super().format_field(value, format_spec)
        return words if isinstance(value, str) else words.replace(".", self._decimal)


@dataclass(frozen=True, slots=True, kw_only=True)
class Language:
    """What a paper is written in."""

    code: str  # ISO 639-1
    name: str  # as its speakers call it
    decimal: str = "."
    units: Mapping[str, str] = field(default_factory=lambda: _NOTHING)  # unit -> how this one writes it, if otherwise
    glue: Mapping[str, str] = field(default_factory=lambda: _NOTHING)  # sign between two texts -> the same in this one
    sentences: Mapping[str, str] = field(default_factory=lambda: _NOTHING)  # English sentence -> the same in this one
    texts: Mapping[str, str] = field(default_factory=lambda: _NOTHING)  # text of a document -> its translation there
    foreign: frozenset[str] = frozenset()  # texts of documents that are in another language and not translated
    foreign_code: str = ""  # what language those are in

    def with_texts(self, texts: Mapping[str, str], written: Collection[str], written_in: str) -> "Language":
        """Return the language with the texts of documents.

        Parameters
        ----------
        texts
            Text of a document -> what it is in this language.
        written
            Every text of the documents.
        written_in
            ISO 639-1 code of the language they are written in.
        """
        said = {_spaced(text): words for text, words in texts.items()}
        strange: Collection[str] = () if written_in == self.code else written
        return replace(
            self, texts=said, foreign=frozenset(map(_spaced, strange)) - said.keys(), foreign_code=written_in
        )

    def of(self, text: str) -> str:
        """Return a text in this language: a sentence, a name of the trade, a colour, or what a document translates.

        What is neither in the catalogue nor translated in its document stays as it was written, and is told as foreign
        where it comes from a document of another language.
        """
        if isinstance(text, Sentence):
            return self._sentence(text)
        spaced = _spaced(text)
        if spaced in self.texts:
            return self.texts[spaced]
        if text in self.sentences:
            return self.sentences[text]
        parts = text.split("/")  # a striped wire, 'yellow/black'
        if len(parts) == 2 and all(part in self.sentences for part in parts):
            return "/".join(self.sentences[part] for part in parts)
        return Foreign(text, self.foreign_code) if spaced in self.foreign else text

    def _sentence(self, sentence: Sentence) -> str:
        pattern = self._pattern(sentence.pattern)
        fields = {name: self.of(value) if isinstance(value, str) else value for name, value in sentence.fields.items()}
        words = pattern.format(**fields) if self.decimal == "." else _Numbers(self.decimal).format(pattern, **fields)
        for form in sentence.forms:
            words = FORMS[form](words)
        (alone,) = fields.values() if len(fields) == 1 else ("",)
        whole = isinstance(alone, Foreign) and pattern.startswith("{") and pattern.endswith("}")
        return Foreign(words, self.foreign_code) if whole else words

    def _pattern(self, pattern: str) -> str:
        """Return a pattern in this language; one that only puts texts beside each other takes the signs of it."""
        said = self.of(pattern)
        if said != pattern or any(letter.isalnum() for letter in _FIELD.sub("", pattern)):
            return said
        for sign, own in self.glue.items():
            said = said.replace(sign, own)
        return said

    def text(self, text: Text) -> Text:
        """Return runs in this language; what they were made of is said anew, and a number keeps its trace."""
        if not isinstance(text, Said):
            return tuple(self.of(run) if isinstance(run, str) else self.number(run) for run in text)
        if text.trace is not None:
            said = lifted(
                self.of(text.sentence), text.trace, text.measures, decimal=self.decimal,
                units={own: unit for unit, own in self.units.items()},
            )  # fmt: skip
            return tuple(run if isinstance(run, str) else self.number(run) for run in said)
        return say(self._pattern(text.template), **{name: self._field(value) for name, value in text.fields.items()})

    def _field(self, value: Field) -> Field:
        if isinstance(value, str):
            return self.of(value)
        return self.text(value) if isinstance(value, tuple) else self.number(value)

    def unit(self, unit: str) -> str:
        """Return how this language writes a unit."""
        return self.units.get(unit, unit)

    def number(self, found: Quantity) -> Quantity:
        """Return a quantity as this language writes it."""
        return replace(found, decimal=self.decimal, unit=self.unit(found.unit))


def _spaced(text: str) -> str:
    """Return a text with single spaces, as it is compared: documents break their lines where they like."""
    return " ".join(text.split())
