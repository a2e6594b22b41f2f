"""A tree of files into a store.

Into an empty one with its whole history, else what is valid now, document by document.
"""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from sqlalchemy import Connection, insert, select

from loomwright.documents.reading import Source, read_tree
from loomwright.errors import StoreError
from loomwright.store import people as persons
from loomwright.store.deriving import derive
from loomwright.store.exporting import FOLDERS, FORMAT, SINGLE_SHOP
from loomwright.store.files_in import Files
from loomwright.store.pictures_beside import beside, mentioned, pictures_in, without_camera
from loomwright.store.saving import (
    attached_to,
    checked_text,
    entry_row,
    keep_blob,
    latest_of,
    put,
    revisions_of,
    sha256_of,
)  # fmt: skip
from loomwright.store.tables import attachments, people, revisions, serials
from loomwright.store.values import FROZEN, Attached, Erasure, Person, Revision

__all__ = ["Imported", "import_files"]

_LISTS = ("format.json", "history.jsonl", "people.jsonl", "erasures.jsonl", "serials.jsonl")
_AT_ONCE = 200  # revisions held in memory with their texts


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What came of an import.

    Parameters
    ----------
    history
        How many revisions were taken over as they are, with their times and people.
    saved
        New revisions: documents that were not there, or were edited in the tree.
    unchanged
        How many documents the store had already, or in a newer revision.
    conflicts
        Kind and id of documents that were changed here and there; the store's own stay as they are.
    """

    history: int
    saved: tuple[Revision, ...]
    unchanged: int
    conflicts: tuple[tuple[str, str], ...]


class _Line(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


_T = TypeVar("_T", bound=_Line)
_Hash = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
_Time = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{6}Z$")]
_Id = Annotated[str, Field(pattern=r"^[a-z0-9]+([-.][a-z0-9]+)*$", max_length=120)]
_Number = Annotated[int, Field(ge=1)]


class _Link(_Line):
    name: Annotated[str, Field(pattern=r"^\w[\w .()+-]*(/\w[\w .()+-]*)*$", max_length=120)]
    media_type: Annotated[str, Field(pattern=r"^[a-z]+/[a-z0-9][a-z0-9.+-]*$")]
    sha256: _Hash


class _Revision(_Line):
    number: _Number
    kind: Literal["vehicle", "kit", "shop", "evidence", "job", "issue", "reading"]
    id: _Id
    version: _Number
    base: _Number | None
    action: Literal["save", "undo", "remove"]
    by: _Id
    at: _Time
    sha256: _Hash
    attachments: list[_Link]


class _Person(_Line):
    id: _Id
    name: str
    contact: str
    address: str
    note: str


class _Erasure(_Line):
    person: _Id
    at: _Time
    by: _Id


class _Serial(_Line):
    serial: _Id
    at: _Time
    by: _Id


def import_files(
    connection: Connection, files: Files, *, by: str | None, at: str, erased: tuple[Erasure, ...] = ()
) -> Imported:
    """Take a tree of files in, inside a transaction that the caller holds.

    Parameters
    ----------
    connection
        In a writing transaction.
    files
        The tree.
    by, at
        Who imports, as the person of new revisions, and when. `None` for whoever began the shop; so nobody is added to
        a store that takes a whole history over.
    erased
        Erasures that are made again on the people of the tree.

    Raises
    ------
    StoreError
        Where something in the tree is not as it is exported.
    DocumentError
        Where a document cannot be read.
    """
    _refuse_strange(files)
    _import_people(connection, files, erased)
    if by is not None:
        persons.require_person(connection, by)
    history = _history(files)
    count = 0
    if history and connection.execute(select(revisions.c.number).limit(1)).first() is None:
        _import_history(connection, files, history)
        count = len(history)
    known = {one.serial for one in connection.execute(select(serials.c.serial))}
    new = [one for one in _lines(files, "serials", _Serial) if one.serial not in known]
    if new:
        connection.execute(insert(serials), [{"serial": one.serial, "at": one.at, "by_person": one.by} for one in new])

    def saver() -> str:
        return persons.usual_person(connection, add=True) if by is None else by

    saved, unchanged, conflicts = _import_valid_now(connection, files, history, saver, at)
    return Imported(history=count, saved=saved, unchanged=unchanged, conflicts=conflicts)


def _refuse_strange(files: Files) -> None:
    folders = (*FOLDERS.values(), "records/texts", "records/attachments")
    pictures = pictures_in(files)
    for name in files.readers:
        folder, _, file = name.rpartition("/")
        is_ours = (
            name == SINGLE_SHOP
            or (folder == "records" and file in _LISTS)
            or name in pictures
            or (folder in folders and (file.endswith(".yaml") or folder == "records/attachments"))
        )
        if not is_ours:
            raise StoreError(
                f"{files.name}: {name}: found a file that is no part of a shop, expected {SINGLE_SHOP} and .yaml "
                "files with their pictures in vehicles, kits and evidence; take it away"
            )
    if "records/format.json" in files.readers:
        try:
            number = json.loads(files.read("records/format.json"))["format"]
        except (ValueError, KeyError, TypeError) as problem:
            raise _wrong(files, "records/format.json", "no number of a form", '{"format": 1}') from problem
        if number != FORMAT:
            raise StoreError(
                f"{files.name}: records/format.json: found form {number!r}, expected {FORMAT}, the newest that this "
                "program reads; update the program"
            )


def _import_people(connection: Connection, files: Files, erased: tuple[Erasure, ...]) -> None:
    known = set(connection.execute(select(people.c.id)).scalars())
    for one in _lines(files, "people", _Person):
        if one.id not in known:
            persons.add_person(connection, Person(**one.model_dump()))
            known.add(one.id)
    told = tuple(Erasure(person=one.person, at=one.at, by=one.by) for one in _lines(files, "erasures", _Erasure))
    persons.replay(connection, (*told, *erased))


def _history(files: Files) -> list[_Revision]:
    """Read the history, and make sure that it is one that a store can have had."""
    name = "records/history.jsonl"
    history = list(_lines(files, "history", _Revision))
    last: dict[tuple[str, str], _Revision] = {}
    document_of: dict[int, tuple[str, str]] = {}
    for number, one in enumerate(history, 1):
        key = (one.kind, one.id)
        before = last.get(key)
        place = f"{name}:{number}"
        if one.number != number:
            raise _wrong(files, f"{place}: number", str(one.number), f"{number}, without a gap")
        if one.version != (before.version + 1 if before else 1):
            expected = f"{before.version + 1 if before else 1}, the next of {one.kind} {one.id}"
            raise _wrong(files, f"{place}: version", str(one.version), expected)
        if one.base is not None and document_of.get(one.base) != key:
            expected = f"an earlier revision of {one.kind} {one.id}"
            raise _wrong(files, f"{place}: base", str(one.base), expected)
        if one.kind in FROZEN and (before or one.action != "save"):
            raise _wrong(files, place, f"a second revision of {one.kind} {one.id}", "one for ever")
        last[key] = one
        document_of[number] = key
    return history


def _import_history(connection: Connection, files: Files, history: Sequence[_Revision]) -> None:
    known = set(connection.execute(select(people.c.id)).scalars())
    for start in range(0, len(history), _AT_ONCE):
        rows, links = [], []
        for one in history[start : start + _AT_ONCE]:
            if one.by not in known:
                raise _wrong(files, f"records/history.jsonl:{one.number}: by", one.by, "somebody in people.jsonl")
            name = f"records/texts/{one.sha256}.yaml"
            text = _text(files, name)
            if checked_text(one.kind, one.id, text, f"{files.name}/{name}") != one.sha256:
                raise _wrong(files, name, "another text than its name says", "the one that was saved")
            facts = one.model_dump(exclude={"attachments"})
            rows.append(entry_row(Revision(**facts, text=text)))
            links += [{"revision": one.number, **link.model_dump()} for link in one.attachments]
        connection.execute(insert(revisions), rows)
        for digest in {str(link["sha256"]) for link in links}:
            _keep(connection, files, digest)
        if links:
            connection.execute(insert(attachments), links)
    derive(connection)


def _import_valid_now(
    connection: Connection, files: Files, history: Sequence[_Revision], saver: Callable[[], str], at: str
) -> tuple[tuple[Revision, ...], int, tuple[tuple[str, str], ...]]:
    theirs: dict[tuple[str, str], list[_Revision]] = {}
    for one in history:
        theirs.setdefault((one.kind, one.id), []).append(one)
    saved, unchanged, conflicts = [], 0, []
    done: dict[tuple[str, str], str] = {}
    pictures = pictures_in(files)
    left = set(pictures)
    for kind, name in _valid_now(files):
        text = _text(files, name)
        id = name.rpartition("/")[2].removesuffix(".yaml")
        digest = sha256_of(text.encode())
        latest = latest_of(connection, kind, id)
        if latest is None or latest.sha256 != digest:  # else it was read when it was saved, which takes its time
            own = read_tree(Source(file=f"{files.name}/{name}", text=text)).value.get("id")
            id = id if own is None else str(own)
            checked_text(kind, id, text, f"{files.name}/{name}")
            latest = latest_of(connection, kind, id)
        if (kind, id) in done:
            raise _wrong(files, name, f"{kind} {id} a second time, after {done[kind, id]}", "each once")
        done[kind, id] = name
        told = theirs.get((kind, id), [])
        mine = mentioned(text, name.rpartition("/")[0], pictures)
        left -= mine
        put_there = _put_there(beside(files, mine, kind, id, name), told)
        kept = {one.name: one.sha256 for one in attached_to(connection, latest.number)} if latest and put_there else {}
        put_there = {
            file: it if kept.get(file) == it[0].sha256 else without_camera(it, kind, id, files.name)
            for file, it in put_there.items()
        }
        verdict = _verdict(connection, latest, digest, told)
        if verdict == "known" and latest is not None and latest.sha256 == digest:
            verdict = _verdict_on_pictures(connection, latest, put_there, told)
        if verdict == "conflict":
            conflicts.append((kind, id))
        elif verdict == "known":
            unchanged += 1
        else:
            links = {one.name: one for one in attached_to(connection, latest.number)} if latest and not told else {}
            for link in told[-1].attachments if told else ():
                _keep(connection, files, link.sha256)
                links[link.name] = Attached(**link.model_dump())
            for file, data in put_there.values():
                keep_blob(connection, file.sha256, data)
                links[file.name] = file
            saved.append(
                put(
                    connection, kind=kind, id=id, text=text, digest=digest, by=saver(), at=at, action="save",
                    before=latest, base=latest.number if latest and latest.action != "remove" else None,
                    links=links.values(),
                )
            )  # fmt: skip
    if left:
        first = min(left)
        raise StoreError(
            f"{files.name}: {first}: found a picture that no document in its folder names, expected its name under "
            "'photo: file' of one; name it there, or take it away"
        )
    return tuple(saved), unchanged, tuple(conflicts)


def _put_there(
    found: Mapping[str, tuple[Attached, bytes]], told: Sequence[_Revision]
) -> dict[str, tuple[Attached, bytes]]:
    """Return the pictures that somebody put into the tree: those that its history does not have."""
    exported = {link.name: link.sha256 for link in told[-1].attachments} if told else {}
    return {name: one for name, one in found.items() if exported.get(name) != one[0].sha256}


def _verdict_on_pictures(
    connection: Connection, latest: Revision, put_there: Mapping[str, tuple[Attached, bytes]], told: Sequence[_Revision]
) -> Literal["new", "known", "conflict"]:
    """Decide about the pictures of a document whose text is the same here and there."""
    here = {one.name: one.sha256 for one in attached_to(connection, latest.number)}
    other = {name for name, (one, _) in put_there.items() if here.get(name) != one.sha256}
    if not other:
        return "known"
    is_up_to_date = bool(told) and {link.name: link.sha256 for link in told[-1].attachments} == here
    return "new" if is_up_to_date or not other & here.keys() else "conflict"


def _verdict(
    connection: Connection, latest: Revision | None, digest: str, told: Sequence[_Revision]
) -> Literal["new", "known", "conflict"]:
    """Decide about one document: which of the two, the store's and the tree's, was made from the other."""
    if latest is None:
        return "new"
    if latest.sha256 == digest and latest.action != "remove":
        return "known"
    if latest.kind in FROZEN:
        return "conflict"
    if told and (told[-1].sha256, told[-1].action) == (latest.sha256, latest.action):
        return "new"  # somebody edited the file of a tree that is up to date
    if digest in {one.sha256 for one in revisions_of(connection, latest.kind, latest.id)}:
        return "known"  # an older version of what the store has
    if latest.sha256 in {one.sha256 for one in told}:
        return "new"  # the store has an older version of what the tree has
    return "conflict"


def _valid_now(files: Files) -> Iterator[tuple[str, str]]:
    """Yield kind and name of the files with what is valid now."""
    kinds = {folder: kind for kind, folder in FOLDERS.items()}
    for name in files.readers:
        kind = "shop" if name == SINGLE_SHOP else kinds.get(name.rpartition("/")[0])
        if kind is not None and name.endswith(".yaml"):
            yield kind, name


def _lines(files: Files, name: str, model: type[_T]) -> Iterator[_T]:
    path = f"records/{name}.jsonl"
    if path not in files.readers:
        return
    for number, line in enumerate(files.read(path).split(b"\n"), 1):
        if line:
            try:
                yield model.model_validate_json(line)
            except ValidationError as problem:
                first: Any = problem.errors()[0]
                field = "".join(f": {step}" for step in first["loc"][:1])
                given = first["input"]
                found = repr(given.decode(errors="replace") if isinstance(given, bytes) else given)[:80]
                raise _wrong(
                    files, f"{path}:{number}{field}", found, f"what was exported ({first['msg']})"
                ) from problem


def _text(files: Files, name: str) -> str:
    if name not in files.readers:
        raise _wrong(files, name, "no such file", "the text of a revision")
    try:
        return files.read(name).decode()
    except UnicodeDecodeError as problem:
        raise _wrong(files, name, "bytes that are no text", "UTF-8") from problem


def _keep(connection: Connection, files: Files, digest: str) -> None:
    name = f"records/attachments/{digest}"
    if name not in files.readers:
        raise _wrong(files, name, "no such file", "an attachment of the history")
    data = files.read(name)
    if sha256_of(data) != digest:
        raise _wrong(files, name, "other bytes than its name says", "those that were saved")
    keep_blob(connection, digest, data)


def _wrong(files: Files, place: str, found: str, expected: str) -> StoreError:
    return StoreError(f"{files.name}: {place}: found {found}, expected {expected}; export it again")
