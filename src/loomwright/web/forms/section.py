"""What a section of a document is: a list of entries, or one entry, that has a form."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from pydantic import BaseModel

__all__ = ["FILM_WORDS", "ID_WORDS", "Section"]

ID_WORDS = "Short name inside the shop's records"

FILM_WORDS = {
    "video.link": "Film: its address | Where one is on the network; it begins with https://.",
    "video.at": "Film: where it begins | Minutes and seconds.", "video.shows": "Film: what it shows",
}  # fmt: skip
"""Words for the fields of a film, which many kinds of entry may have. A photograph has a form of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One section of a document.

    Parameters
    ----------
    key
        Its name in addresses.
    one, many
        What an entry and all of them are called.
    intro
        What somebody who enters it for the first time should know.
    path
        Where it stands in the document.
    model
        The model of an entry.
    single
        Whether it is one entry and no list.
    needed
        Whether a document without it is not complete.
    words
        Key -> what the form says beside it.
    leave
        Keys without a field.
    id_from
        Keys of which the id of a new entry is made where nobody typed one; empty where entries have no id.
    wrapped
        Key under which the form has what is an entry by itself in the document.
    """

    key: str
    one: str
    many: str
    intro: str
    path: tuple[str, ...]
    model: type[BaseModel]
    single: bool = False
    needed: bool = False
    words: Mapping[str, str] = field(default_factory=dict)
    leave: tuple[str, ...] = ()
    id_from: tuple[str, ...] = ()
    wrapped: str = ""
