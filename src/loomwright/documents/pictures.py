"""Photographs and films that a document names: a file beside it, or a place in a film that stands elsewhere."""

import re
from collections.abc import Iterator
from pathlib import PurePosixPath
from typing import Annotated
from urllib.parse import urlsplit

from pydantic import AfterValidator, BaseModel, Field

from loomwright.documents._tree import Path
from loomwright.documents.basis import Part, Words
from loomwright.documents.fault import Fault

__all__ = ["Photo", "Video", "photos_in"]

_CLOCK = re.compile(r"(?:(\d{1,2}):)?([0-5]?\d):([0-5]\d)")
_LINK_LETTERS = 200  # a longer one makes a code that no phone reads from paper


def _file(name: str) -> str:
    path = PurePosixPath(name)
    advice = "keep the pictures in a folder beside the document and name them from there, such as photos/plug.jpg"
    if path.is_absolute() or "\\" in name or ":" in name or ".." in path.parts or name != str(path):
        raise Fault(found=repr(name), expected="a file beside this document or in a folder below it", advice=advice)
    if path.suffix.lower() not in {".jpg", ".jpeg", ".png"}:
        raise Fault(found=repr(name), expected="a .jpg or .png file", advice="save the picture as one of those")
    return name


def _link(link: str) -> str:
    parts = urlsplit(link)
    plain = link.isascii() and link.isprintable() and not set(link) & set(" \"'<>\\")
    if parts.scheme != "https" or not parts.hostname or "@" in parts.netloc or not plain:
        advice = "copy it from the browser"
        raise Fault(found=repr(link), expected="an address that begins with https://", advice=advice)
    if parts.fragment:
        raise Fault(found=repr(link), expected="an address without '#'", advice="give the time under 'at'")
    if len(link) > _LINK_LETTERS:
        raise Fault(
            found=f"an address of {len(link)} letters", expected=f"at most {_LINK_LETTERS}", advice="use a shorter one"
        )
    return link


def _clock(at: str) -> str:
    if not _CLOCK.fullmatch(at):
        raise Fault(found=repr(at), expected="minutes and seconds such as 3:25", advice="write the time in quotes")
    return at


class Photo(Part):
    """A photograph in a file of its own."""

    file: Annotated[str, AfterValidator(_file)] = Field(description="The .jpg or .png file beside the document.")
    shows: Words = Field(description="What it shows, for the caption and for somebody who cannot see it.")


class Video(Part):
    """A place in a film that stands on the network; paper and phone tell where, and bring nothing of it."""

    link: Annotated[str, AfterValidator(_link)] = Field(description="Its address, beginning with https://.")
    at: Annotated[str, AfterValidator(_clock)] = Field("0:00", description="Where it begins, as minutes and seconds.")
    shows: Words = Field(description="What it shows.")

    @property
    def seconds(self) -> int:
        """Where it begins [s]."""
        found = _CLOCK.fullmatch(self.at)
        if found is None:
            raise ValueError(self.at)
        return int(found[1] or 0) * 3600 + int(found[2]) * 60 + int(found[3])


def photos_in(model: BaseModel, path: Path = ()) -> Iterator[tuple[Path, Photo]]:
    """Yield every photograph that a document names, with the path of keys and indexes to it."""
    for name in type(model).model_fields:
        value = getattr(model, name)
        if isinstance(value, Photo):
            yield (*path, name), value
        elif isinstance(value, BaseModel):
            yield from photos_in(value, (*path, name))
        elif isinstance(value, tuple):
            for index, item in enumerate(value):
                if isinstance(item, BaseModel):
                    yield from photos_in(item, (*path, name, index))
