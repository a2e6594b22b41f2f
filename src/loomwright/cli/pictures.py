"""The photographs that documents name: read from beside them, checked, and made small enough for a paper."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from loomwright.errors import DocumentError, Message

if TYPE_CHECKING:
    from loomwright.documents.reading import Loaded
    from loomwright.papers.drawings import Photograph

__all__ = ["photos_beside"]


def photos_beside(loaded: "Iterable[Loaded]") -> "dict[str, Photograph]":
    """Return every photograph that some documents name, by `showing.photo_key`.

    Raises
    ------
    DocumentError
        With every one that is not there, lies outside the folder of its document, or is no picture.
    """
    from loomwright.documents.pictures import photos_in
    from loomwright.papers.showing import photo_key

    found: dict[str, Photograph] = {}
    faults: list[Message] = []
    for one in loaded:
        name = str(getattr(one.document, "id", ""))
        for path, photo in photos_in(one.document):
            key = photo_key(name, photo)
            if key in found:
                continue
            origin = one.origin(*path, "file")
            try:
                found[key] = _read(Path(one.file).parent, photo.file)
            except ValueError as problem:
                told, _, expected = str(problem).removeprefix("found ").partition(", expected ")
                faults.append(
                    Message(
                        file=one.file, line=origin.line, field=origin.path, found=f"{photo.file!r}, {told}",
                        expected=expected, advice="correct the name, or put the picture there",
                    )
                )  # fmt: skip
    if faults:
        raise DocumentError(faults)
    return found


def _read(folder: Path, name: str) -> "Photograph":
    """Return one photograph; raises ValueError, 'found ..., expected ...', for every reason why it cannot be used."""
    from loomwright.sheets.photographs import LARGEST_BYTES, reduced

    path = folder / name
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
        if not inside:
            raise ValueError("found a link that leads out of the folder, expected a picture beside the document")
        if not path.is_file():
            raise ValueError("found no such file, expected a picture beside the document")
        if (size := path.stat().st_size) > LARGEST_BYTES:
            raise ValueError(
                f"found a picture of {size / 1e6:.0f} MB, expected at most {LARGEST_BYTES / 1e6:.0f} MB"
            )
        return reduced(path.read_bytes())
    except OSError as problem:
        reason = (problem.strerror or "no reason given").lower()
        raise ValueError(f"found nothing to read ({reason}), expected a picture beside the document") from problem
