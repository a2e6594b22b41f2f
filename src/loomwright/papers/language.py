"""A language of the papers: its catalogue, how it writes numbers, and the texts that documents hold in it.

The English sentence is the key: a catalogue of another language says for each what stands in its place. Nothing of it
is kept anywhere but in the value that is passed along.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from loomwright.papers.blocks import Quantity, Text
from loomwright.papers.foreign import Foreign
from loomwright.papers.saying import Field, Said, lifted, say
from loomwright.sentences import FORMS, Sentence

__all__ = ["Language"]

_NOTHING: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Language:
    """What a paper is written in."""

    code: str  # ISO 639-1
    name: str  # as its speakers call it
    decimal: str = "."
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
        pattern = self.sentences.get(sentence.pattern, sentence.pattern)
        fields = {name: self.of(value) if isinstance(value, str) else value for name, value in sentence.fields.items()}
        words = pattern.format(**fields)
        for form in sentence.forms:
            words = FORMS[form](words)
        (alone,) = fields.values() if len(fields) == 1 else ("",)
        whole = isinstance(alone, Foreign) and pattern.startswith("{") and pattern.endswith("}")
        return Foreign(words, self.foreign_code) if whole else words

    def text(self, text: Text) -> Text:
        """Return runs in this language; what they were made of is said anew, and a number keeps its trace."""
        if not isinstance(text, Said):
            return tuple(self.of(run) if isinstance(run, str) else self._number(run) for run in text)
        if text.trace is not None:
            return tuple(
                run if isinstance(run, str) else self._number(run)
                for run in lifted(self.of(text.sentence), text.trace, text.measures)
            )
        return say(self.of(text.template), **{name: self._field(value) for name, value in text.fields.items()})

    def _field(self, value: Field) -> Field:
        if isinstance(value, str):
            return self.of(value)
        return self.text(value) if isinstance(value, tuple) else self._number(value)

    def _number(self, found: Quantity) -> Quantity:
        return replace(found, decimal=self.decimal)


def _spaced(text: str) -> str:
    """Return a text with single spaces, as it is compared: documents break their lines where they like."""
    return " ".join(text.split())
