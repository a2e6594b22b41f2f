"""Pictures as files beside the documents that name them: which belong where, in a tree that goes out or comes in."""

import re
from collections.abc import Iterator, Mapping, Set
from pathlib import PurePosixPath
from types import MappingProxyType

from loomwright.documents.reading import Source, read_tree
from loomwright.errors import StoreError
from loomwright.store.files_in import Files
from loomwright.store.saving import linked
from loomwright.store.values import Attached, Attachment

__all__ = ["WITH_PICTURES", "beside", "is_picture", "mentioned", "pictures_in", "without_camera"]

WITH_PICTURES: Mapping[str, str] = MappingProxyType({"vehicle": "vehicles", "kit": "kits", "evidence": "evidence"})
"""Kinds of documents that name photographs, each with its folder."""

_TYPES = {".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png"}
_ENDING = re.compile(r"\.(?:jpe?g|png)", re.IGNORECASE)
_LONGEST = 120  # letters of the name of an attachment
# How such a file begins: ITU-T T.81, B.1.1.3 (start of image, then a marker), and ISO/IEC 15948, 5.2.
_BEGINNINGS = {"image/jpeg": b"\xff\xd8\xff", "image/png": b"\x89PNG\r\n\x1a\n"}


def is_picture(name: str) -> bool:
    """Tell whether a file of this name would be a picture."""
    return PurePosixPath(name).suffix.lower() in _TYPES


def pictures_in(files: Files) -> frozenset[str]:
    """Return the names of the pictures that stand in the folders of documents, or below them."""
    folders = tuple(f"{folder}/" for folder in WITH_PICTURES.values())
    return frozenset(name for name in files.readers if name.startswith(folders) and is_picture(name))


def mentioned(text: str, folder: str, pictures: Set[str]) -> frozenset[str]:
    """Return the pictures below a folder whose names stand in a text, without reading it as a document."""
    found = set()
    for ending in _ENDING.finditer(text):
        begins = range(max(0, ending.end() - _LONGEST), ending.start())
        found |= {f"{folder}/{text[at : ending.end()]}" for at in begins} & pictures
    return frozenset(found)


def beside(files: Files, pictures: Set[str], kind: str, id: str, name: str) -> dict[str, tuple[Attached, bytes]]:
    """Return the pictures that a document names and that stand beside it, by the name it gives them.

    Parameters
    ----------
    files
        The tree.
    pictures
        Those of which `mentioned` says that the document may name them.
    kind, id
        The document.
    name
        Its file.

    Raises
    ------
    StoreError
        Where one is no picture, too large, or has a name that a store cannot keep.
    DocumentError
        Where the document cannot be read.
    """
    if not pictures:
        return {}
    folder = name.rpartition("/")[0]
    here = {picture.removeprefix(f"{folder}/"): picture for picture in pictures}
    tree = read_tree(Source(file=f"{files.name}/{name}", text=files.read(name).decode())).value
    found = {}
    for picture in dict.fromkeys(_named(tree)):
        if picture in here:
            data = files.read(here[picture])
            media_type = _TYPES[PurePosixPath(picture).suffix.lower()]
            if not data.startswith(_BEGINNINGS[media_type]):
                raise StoreError(
                    f"{files.name}: {here[picture]}: found no picture, expected {media_type.removeprefix('image/')} as "
                    "its name says; save it as one"
                )
            file = Attachment(name=picture, media_type=media_type, data=data)
            found[picture] = (linked(kind, id, file), data)
    return found


def without_camera(one: tuple[Attached, bytes], kind: str, id: str, place: str) -> tuple[Attached, bytes]:
    """Return a picture as it is kept with a document: without where, when and with what it was taken.

    Raises
    ------
    StoreError
        Where it is no whole picture; `place` is what the message calls its folder or archive.
    """
    from loomwright.sheets.photographs import bare  # only for pictures: few imports have any

    attached, data = one
    try:
        data = bare(data)
    except ValueError as problem:
        raise StoreError(f"{place}: {attached.name} of {kind} {id}: {problem}; save it again") from problem
    return linked(kind, id, Attachment(name=attached.name, media_type=attached.media_type, data=data)), data


def _named(value: object) -> Iterator[str]:
    """Yield the files of the photographs that plain values of a document name."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key == "photo" and isinstance(inner, dict) and isinstance(inner.get("file"), str):
                yield inner["file"]
            else:
                yield from _named(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _named(inner)
