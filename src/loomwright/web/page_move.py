"""Everything the shop keeps as one archive: taken out, and taken in."""

import tempfile
from dataclasses import dataclass
from datetime import UTC

from loomwright.errors import StoreError
from loomwright.store.importing import Imported
from loomwright.web.asking import Answer, Ask, Page, Streamed, WebError
from loomwright.web.desk import Desk
from loomwright.web.page_search import path_of

__all__ = ["take_in", "take_out"]

_SHOWN = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenInPage:
    """What came of an archive; `conflicts` are (kind, id, where it is shown)."""

    file: str
    found: Imported
    conflicts: tuple[tuple[str, str, str], ...]
    more: int
    has_shop: bool


def take_out(desk: Desk, _ask: Ask) -> Answer:
    """Return everything as one archive, written on the disk first.

    Raises WebError where there is no room for it.
    """
    try:
        desk.kept_in.mkdir(parents=True, exist_ok=True)
        stream = tempfile.TemporaryFile(dir=desk.kept_in)  # noqa: SIM115 - closed when it was sent
        try:
            desk.store.export_stream(stream)
            size = stream.tell()
        except BaseException:
            stream.close()
            raise
    except OSError as problem:
        said = (problem.strerror or "no reason given").lower()
        raise WebError(507, f"The archive could not be written: {said}. Make room on the disk.") from problem
    name = f"shop-{desk.clock().astimezone(UTC):%Y-%m-%d}.zip"
    return Streamed(stream=stream, size=size, media_type="application/zip", name=name)


def take_in(desk: Desk, ask: Ask) -> Answer:
    """Take an archive in, and tell what came of it.

    Raises WebError where it is no export, DocumentError with every fault of a document in it; nothing is taken then.
    """
    upload = ask.files.get("file")
    if upload is None or upload.stream is None:
        raise WebError(400, "Found no file, expected an archive that was exported. Go back and choose one.")
    try:
        found = desk.store.import_archive(upload.stream, by=desk.known(ask.who), called=upload.name[:120])
    except StoreError as problem:
        said = f"{problem}. Nothing of it was taken in; what is kept here is as it was."
        raise WebError(422, said) from problem
    shown = tuple((kind, id, path_of(kind, id)) for kind, id in found.conflicts[:_SHOWN])
    context = TakenInPage(
        file=upload.name, found=found, conflicts=shown, more=len(found.conflicts) - len(shown), has_shop=desk.has_shop()
    )
    return Page(template="taken_in.html", title="Taken in", context=context)
