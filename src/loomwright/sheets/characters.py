"""Characters that no page can hold are taken out before a text goes onto one."""

import unicodedata

__all__ = ["printable"]

# Embedding and override marks would turn round the text that follows, isolates are made by the page itself; the last
# two are no characters, and XML 1.0 (production 2) has no place for them.
_NOWHERE = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufffe\uffff")


def printable(text: str) -> str:
    """Return the text without control characters, lone surrogates and marks that reorder what follows.

    Line breaks and tabs become spaces: where a line breaks is the page's business.
    """
    if text.isascii() and text.isprintable():
        return text
    kept = []
    for character in text:
        if character in "\n\t\r\u2028\u2029\x85":
            kept.append(" ")
        elif character not in _NOWHERE and unicodedata.category(character) not in {"Cc", "Cs"}:
            kept.append(character)
    return "".join(kept)
