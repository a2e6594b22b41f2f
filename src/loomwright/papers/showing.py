"""Photographs and films of the documents at the step that they help with."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Protocol

from loomwright.documents.pictures import Photo, Video
from loomwright.papers.blocks import Film, Picture
from loomwright.papers.drawings import Photograph
from loomwright.papers.saying import capital
from loomwright.sentences import unstopped

__all__ = ["Shown", "films_of", "photo_key", "photos_of"]


class Shown(Protocol):
    """What a document may show: a photograph, a place in a film, or both."""

    @property
    def photo(self) -> Photo | None:
        """The photograph."""

    @property
    def video(self) -> Video | None:
        """The place in a film."""


def photo_key(document: str, photo: Photo) -> str:
    """Return under which name a photograph of a document is handed to the papers."""
    return f"{document}:{photo.file}"


def photos_of(
    document: str, shown: Iterable[tuple[str, Shown]], photos: Mapping[str, Photograph]
) -> Iterator[Picture]:
    """Yield the photographs that are at hand of things of one document; each is given with its name."""
    for name, thing in shown:
        if thing.photo is not None and (found := photos.get(photo_key(document, thing.photo))) is not None:
            yield Picture(drawing=found, caption=capital(name), words=thing.photo.shows)


def films_of(shown: Iterable[Shown]) -> Iterator[Film]:
    """Yield the films of some things, the time in the address as the W3C's Media Fragments URI 1.0 writes it."""
    for thing in shown:
        if thing.video is not None:
            found = thing.video
            link = f"{found.link}#t={found.seconds}" if found.seconds else found.link
            yield Film(link=link, at=found.at, words=unstopped(found.shows))
