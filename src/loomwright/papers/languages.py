"""The languages that papers are written in."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.documents.basis import Document
from loomwright.documents.car import Car
from loomwright.documents.shop import Shop
from loomwright.documents.texts import texts_of
from loomwright.errors import LoomwrightError
from loomwright.papers.language import Language
from loomwright.papers.words import fr
from loomwright.papers.words.fr._told import TOLD
from loomwright.papers.words.pairing import french_spaces, paired

__all__ = ["ENGLISH", "FRENCH", "LANGUAGES", "language_named", "language_of"]

ENGLISH = Language(code="en", name="English")
FRENCH = Language(
    code="fr",
    name="français",
    decimal=",",
    units=MappingProxyType({"rpm": "tr/min", "in": "po", "ft": "pi"}),
    glue=MappingProxyType({sign: french_spaces(f" {sign}") for sign in (": ", "; ")}),
    sentences=MappingProxyType({
        **{english: french_spaces(french) for english, french in TOLD.items()},
        **paired(fr, french_spaces),
    }),
)
LANGUAGES: Mapping[str, Language] = MappingProxyType({one.code: one for one in (ENGLISH, FRENCH)})


def language_of(code: str, shop: Shop, *others: Document | Car) -> Language:
    """Return a language with what a shop's documents say in it.

    Parameters
    ----------
    code
        ISO 639-1 code of the language.
    shop
        The shop, which says what language its documents are written in.
    others
        The other documents that a paper speaks of; a car stands for its vehicle's.

    Raises
    ------
    LoomwrightError
        Where there is no such language.
    """
    language = language_named(code)
    if code == shop.written_in == ENGLISH.code:
        return language
    every = (shop, *others)
    said = {
        found.text: found.said
        for one in every
        for language_code, texts in one.translations.items()
        if language_code == code
        for found in texts
    }
    return language.with_texts(
        {text: french_spaces(words) if code == FRENCH.code else words for text, words in said.items()},
        frozenset(text for one in every for text in texts_of(one) if _is_prose(text)),
        shop.written_in,
    )


def _is_prose(text: str) -> bool:
    """Tell whether a text of a document is to be read as language: several words, not a name or a code."""
    return " " in text and any(word.islower() and len(word) > 2 for word in text.split())


def language_named(code: str) -> Language:
    """Return a language by its code.

    Raises LoomwrightError where there is none of that code.
    """
    if code not in LANGUAGES:
        known = ", ".join(f"{one.code} ({one.name})" for one in LANGUAGES.values())
        raise LoomwrightError(f"language: found {code!r}, expected one of: {known}; choose one of these")
    return LANGUAGES[code]
