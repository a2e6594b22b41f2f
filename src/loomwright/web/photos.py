"""Photographs that a shop keeps with its documents: written anew before they are kept, and handed to the papers.

A phone writes into a picture where and when it was taken and by which device. What is kept here is the picture alone,
upright and drawn anew; so a file that is two things at once comes out as a picture only.
"""

from collections.abc import Iterator, Mapping
from functools import partial
from hashlib import sha256

from loomwright.documents.pictures import Photo, photos_in
from loomwright.papers.drawings import Photograph
from loomwright.papers.showing import photo_key
from loomwright.sheets.photographs import KEPT_PX, KEPT_QUALITY, reduced
from loomwright.store.values import Attached, Attachment, Revision
from loomwright.web.asking import Upload, WebError
from loomwright.web.desk import Desk
from loomwright.web.forms.draft import slug_of

__all__ = ["attached_named", "new_photo", "photos_for", "photos_kept", "shots_of"]

_MOST_SHOTS = 6


def new_photo(upload: Upload, of: str, shows: str) -> tuple[Photo, Attachment]:
    """Return a photograph as a document names it, and what is kept for it.

    Its name has a mark of its content, so that another picture has another name and no copy of an old one is shown.

    Raises ValueError, 'found ..., expected ...', where the file is no picture.
    """
    picture = reduced(upload.data, KEPT_PX, KEPT_QUALITY)
    name = f"{slug_of(of) or 'photo'}-{sha256(picture.jpeg).hexdigest()[:12]}.jpg"
    return Photo(file=name, shows=shows), Attachment(name=name, media_type="image/jpeg", data=picture.jpeg)


def attached_named(desk: Desk, revisions: Iterator[Revision], name: str) -> Attached:
    """Return the attachment of a name, of the first revision that has it.

    Raises WebError where none has.
    """
    for revision in revisions:
        for one in desk.store.attachments(revision):
            if one.name == name:
                return one
    raise WebError(404, "There is no such picture here.")


def photos_for(desk: Desk, vehicle: str, kit: str) -> dict[str, Photograph]:
    """Return the photographs that the papers of a kit in a car may show, small enough for them, by `photo_key`."""
    return {**photos_kept(desk, "vehicle", vehicle), **photos_kept(desk, "kit", kit)}


def _small(desk: Desk, one: Attached) -> Photograph:
    return reduced(desk.store.bytes_of(one))


def photos_kept(desk: Desk, kind: str, id: str) -> Mapping[str, Photograph]:
    """Return the photographs of one document that are kept with it."""
    revision = desk.revision(kind, id)
    attached = {one.name: one for one in desk.store.attachments(revision)}
    found: dict[str, Photograph] = {}
    for _, photo in photos_in(desk.loaded(revision).document):
        if (one := attached.get(photo.file)) is not None:
            found[photo_key(id, photo)] = desk.photos.get(one.sha256, partial(_small, desk, one))
    return found


def shots_of(desk: Desk, vehicle: str, *, pin: str = "", circuit: str = "") -> tuple[tuple[str, str], ...]:
    """Return the photographs that the evidence has of a pin or of a circuit, the newest first: file, what is said."""
    records = [record for document in desk.evidence(vehicle) for record in document.records if record.photo is not None]
    mine = [r for r in records if (pin and r.claims.pin == pin) or (circuit and r.circuit == circuit)]
    return tuple(
        (record.photo.file, f"{record.photo.shows} {record.by}, {record.on}")
        for record in reversed(mine[-_MOST_SHOTS:])
        if record.photo is not None
    )
