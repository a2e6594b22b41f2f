"""A store as a tree of files: what it holds now in files that people and commands read, and all of its history.

::

    shop.yaml  vehicles/<id>.yaml  kits/<id>.yaml  evidence/<id>.yaml      what is valid now, to be read and edited
    vehicles/<picture>  kits/<picture>  evidence/<picture>                 the photographs that those name
    records/jobs/  records/issues/  records/readings/                      the same for records
    records/format.json                                                    the number of this form
    records/history.jsonl                                                  each revision there ever was, a line each
    records/texts/<sha256>.yaml  records/attachments/<sha256>              what the lines of the history name
    records/people.jsonl  records/erasures.jsonl  records/serials.jsonl

The same store gives the same bytes, and the tree read into an empty store gives the same store. Two documents may call
two different pictures by one name; neither stands beside them then, since it would be shown for the other. Both are
among the attachments.
"""

import json
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import BinaryIO

from sqlalchemy import Connection, Table, select

from loomwright.errors import StoreError
from loomwright.store.pictures_beside import WITH_PICTURES, is_picture
from loomwright.store.tables import attachments, blobs, erasures, heads, people, revisions, serials

__all__ = ["FOLDERS", "FORMAT", "SINGLE_SHOP", "export_archive", "export_folder", "exported", "write_archive"]

FORMAT = 1

FOLDERS = {
    "vehicle": "vehicles",
    "kit": "kits",
    "shop": "shops",
    "evidence": "evidence",
    "job": "records/jobs",
    "issue": "records/issues",
    "reading": "records/readings",
}
"""Kind -> folder of what is valid now; the one shop of a store stands at the top as `SINGLE_SHOP`."""

SINGLE_SHOP = "shop.yaml"

# ZIP has no earlier time; one time for all lets the same store give the same bytes.
_TIME = (1980, 1, 1, 0, 0, 0)
_FILE = 0o100600 << 16


def exported(connection: Connection) -> Iterator[tuple[str, bytes]]:
    """Yield name and content of each file of the tree, sorted within its part."""
    yield "records/format.json", _line({"format": FORMAT})
    yield from _valid_now(connection)
    yield from _pictures(connection)
    for name, table, renamed in (
        ("people", people, {}),
        ("erasures", erasures, {"by_person": "by"}),
        ("serials", serials, {"by_person": "by"}),
    ):
        yield f"records/{name}.jsonl", b"".join(_rows(connection, table, renamed))
    yield "records/history.jsonl", b"".join(_history(connection))
    done = ""
    for row in connection.execute(
        select(revisions.c.sha256, revisions.c.text).order_by(revisions.c.sha256),
        execution_options={"stream_results": True, "yield_per": 200},
    ):
        if row.sha256 != done:  # an undone text is there twice
            yield f"records/texts/{row.sha256}.yaml", row.text.encode()
        done = row.sha256
    for digest in connection.execute(select(blobs.c.sha256).order_by(blobs.c.sha256)).scalars().all():
        yield f"records/attachments/{digest}", _blob(connection, digest)


def export_folder(files: Iterable[tuple[str, bytes]], folder: Path) -> int:
    """Write the files below a folder that is empty or not there; return their count.

    Raises
    ------
    StoreError
        Where the folder holds something, or cannot be written.
    """
    count = 0
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if next(folder.iterdir(), None) is not None:
            raise StoreError(f"{folder}: found a folder that holds something, expected an empty one; name another one")
        for name, content in files:
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
            count += 1
    except OSError as problem:
        raise _unwritable(folder, problem) from problem
    return count


def export_archive(files: Iterable[tuple[str, bytes]], path: Path) -> int:
    """Write the files into one new archive; return their count.

    Raises
    ------
    StoreError
        Where there is a file of that name, or it cannot be written.
    """
    if path.exists():
        raise StoreError(f"{path}: found a file, expected none; name another one for the archive")
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("wb") as stream:
            count = write_archive(files, stream)
        part.chmod(0o600)
        part.replace(path)
    except OSError as problem:
        raise _unwritable(path, problem) from problem
    finally:
        part.unlink(missing_ok=True)
    return count


def write_archive(files: Iterable[tuple[str, bytes]], stream: BinaryIO) -> int:
    """Write the files as an archive into an open file; return their count. Raises `OSError` where that fails."""
    count = 0
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files:
            info = zipfile.ZipInfo(name, _TIME)
            info.external_attr = _FILE
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, content)
            count += 1
    return count


def _valid_now(connection: Connection) -> Iterator[tuple[str, bytes]]:
    query = select(heads.c.kind, heads.c.id, revisions.c.text).join(revisions, revisions.c.number == heads.c.number)
    query = query.where(revisions.c.action != "remove").order_by(heads.c.kind, heads.c.id)
    shops = connection.execute(select(heads.c.id).where(heads.c.kind == "shop")).all()
    for row in connection.execute(query, execution_options={"stream_results": True, "yield_per": 200}):
        is_only_shop = row.kind == "shop" and len(shops) == 1
        yield SINGLE_SHOP if is_only_shop else f"{FOLDERS[row.kind]}/{row.id}.yaml", row.text.encode()


def _pictures(connection: Connection) -> Iterator[tuple[str, bytes]]:
    """Yield the photographs of what is valid now, each beside the document that names it."""
    query = select(heads.c.kind, attachments.c.name, attachments.c.sha256, revisions.c.text)
    query = query.join(revisions, revisions.c.number == heads.c.number)
    query = query.join(attachments, attachments.c.revision == heads.c.number)
    query = query.where(revisions.c.action != "remove", heads.c.kind.in_(WITH_PICTURES))
    places: dict[str, str] = {}  # path as it is written -> hash
    known: dict[str, set[str]] = {}  # some file systems take two cases for one name
    for row in connection.execute(query, execution_options={"stream_results": True, "yield_per": 50}):
        if is_picture(row.name) and row.name in row.text:
            path = f"{WITH_PICTURES[row.kind]}/{row.name}"
            places[path] = row.sha256
            known.setdefault(path.casefold(), set()).add(row.sha256)
    for path, digest in sorted(places.items()):
        if len(known[path.casefold()]) == 1:
            yield path, _blob(connection, digest)


def _blob(connection: Connection, digest: str) -> bytes:
    return bytes(connection.execute(select(blobs.c.data).where(blobs.c.sha256 == digest)).scalar_one())


def _history(connection: Connection) -> Iterator[bytes]:
    attached: dict[int, list[dict[str, str]]] = {}
    for row in connection.execute(select(attachments).order_by(attachments.c.revision, attachments.c.name)):
        link = {"name": row.name, "media_type": row.media_type, "sha256": row.sha256}
        attached.setdefault(row.revision, []).append(link)
    columns = [column for column in revisions.columns if column.name != "text"]
    for row in connection.execute(select(*columns).order_by(revisions.c.number)):
        facts = {"by" if key == "by_person" else key: value for key, value in row._mapping.items()}
        yield _line({**facts, "attachments": attached.get(row.number, [])})


def _rows(connection: Connection, table: Table, renamed: dict[str, str]) -> Iterator[bytes]:
    for row in connection.execute(select(table).order_by(table.primary_key.columns[0])):
        yield _line({renamed.get(key, key): value for key, value in row._mapping.items()})


def _line(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False).encode() + b"\n"


def _unwritable(path: Path, problem: OSError) -> StoreError:
    reason = (problem.strerror or "no reason given").lower()
    return StoreError(f"{path}: found no way to write there ({reason}), expected one; choose another place")
