"""Advice on what a document says in other languages."""

from loomwright.documents._notes import Notes
from loomwright.documents._words import nearest, quoted
from loomwright.documents.basis import Document
from loomwright.documents.texts import spaced, texts_of

__all__ = ["check_translations"]


def check_translations(notes: Notes, document: Document) -> None:
    """Write down every translation of a text that the document does not have: nobody reads it any more."""
    if not document.translations:
        return
    texts = [spaced(text) for text in texts_of(document)]
    known = frozenset(texts)
    for language, said in document.translations.items():
        for index, text in enumerate(one.text for one in said):
            if spaced(text) not in known:
                near = nearest(text, texts)
                advice = "write the text as it stands in the document, or take the line out"
                found, at = f"a translation of {quoted(text)}", ("translations", language, index, "text")
                notes.add(
                    at, found, "a text of this document",
                    advice if near is None else f"did you mean {quoted(near)}?",
                )  # fmt: skip
