"""Words of a document that is written in another language than the paper."""

from typing import Self

__all__ = ["Foreign"]


class Foreign(str):
    """A text as somebody wrote it, with the language it is in, so that a reader's voice can say it right."""

    __slots__ = ("language",)

    language: str  # ISO 639-1

    def __new__(cls, text: str, language: str) -> Self:
        """Keep the text and its language."""
        made = super().__new__(cls, text)
        made.language = language
        return made

    def __getnewargs__(self) -> tuple[str, str]:  # type: ignore[override]
        """Return what makes this text again, for copies."""
        return str(self), self.language
