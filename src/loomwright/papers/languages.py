"""The languages that papers are written in."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.errors import LoomwrightError
from loomwright.papers.language import Language
from loomwright.papers.words import fr
from loomwright.papers.words.fr._told import TOLD
from loomwright.papers.words.pairing import french_spaces, paired

__all__ = ["ENGLISH", "FRENCH", "LANGUAGES", "language_named"]

ENGLISH = Language(code="en", name="English")
FRENCH = Language(
    code="fr",
    name="français",
    sentences=MappingProxyType({
        **{english: french_spaces(french) for english, french in TOLD.items()},
        **paired(fr, french_spaces),
    }),
)
LANGUAGES: Mapping[str, Language] = MappingProxyType({one.code: one for one in (ENGLISH, FRENCH)})


def language_named(code: str) -> Language:
    """Return a language by its code.

    Raises LoomwrightError where there is none of that code.
    """
    if code not in LANGUAGES:
        known = ", ".join(f"{one.code} ({one.name})" for one in LANGUAGES.values())
        raise LoomwrightError(f"language: found {code!r}, expected one of: {known}; choose one of these")
    return LANGUAGES[code]
