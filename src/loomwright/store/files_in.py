"""A tree of files from outside, as a folder or an archive, read with suspicion.

Names that lead elsewhere, links, and contents larger than anything that a store holds are refused before anything of
the tree is looked at. An archive is never unpacked onto the disk.
"""

import stat
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from loomwright.errors import StoreError
from loomwright.store.values import LARGEST_FILE

__all__ = ["LIMITS", "Files", "Limits", "opened_archive", "opened_folder"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How much may come in at once.

    Parameters
    ----------
    files
        Count of files.
    file_bytes
        Size of one file.
    list_bytes
        Size of a list of the history, the people and so on; 20 000 revisions have some 7 MB.
    all_bytes
        Size of all together.
    ratio
        How much smaller an archive may have made a file of more than 1 MB. Text becomes up to 30 times smaller; a
        file of equal bytes 1000 times.
    """

    files: int = 500_000
    file_bytes: int = LARGEST_FILE
    list_bytes: int = 500_000_000
    all_bytes: int = 20_000_000_000
    ratio: int = 200


LIMITS = Limits()


@dataclass(frozen=True, slots=True, kw_only=True)
class Files:
    """The tree: what it is called, and for each name a function that reads the file."""

    name: str
    readers: Mapping[str, Callable[[], bytes]]

    def read(self, name: str) -> bytes:
        """Return the content of a file that is there."""
        return self.readers[name]()


@contextmanager
def opened_folder(folder: Path, limits: Limits = LIMITS) -> Iterator[Files]:
    """Give the files below a folder; hidden ones are left out.

    Raises
    ------
    StoreError
        Where it is no folder, holds a link or something else that is no file, or too much.
    """
    if not folder.is_dir():
        raise StoreError(f"{folder}: found no folder, expected one that was exported; check the path")
    readers: dict[str, Callable[[], bytes]] = {}
    total = 0
    try:
        for path in sorted(folder.rglob("*")):
            name = path.relative_to(folder).as_posix()
            if any(part.startswith(".") for part in PurePosixPath(name).parts):
                continue
            mode = path.lstat().st_mode
            if stat.S_ISDIR(mode):
                continue
            if not stat.S_ISREG(mode):
                found = "a link" if stat.S_ISLNK(mode) else "something that is no file"
                raise _refused(folder, name, found, "plain files", "take it away")
            total += path.stat().st_size
            _check_size(folder, name, path.stat().st_size, total, len(readers) + 1, limits)
            readers[name] = _reader_of_file(path, _most(name, limits), folder, name)
    except OSError as problem:
        raise _unreadable(folder, problem) from problem
    yield Files(name=str(folder), readers=readers)


@contextmanager
def opened_archive(archive: Path | BinaryIO, limits: Limits = LIMITS, *, called: str = "") -> Iterator[Files]:
    """Give the files in an archive.

    Parameters
    ----------
    archive
        Its path, or an open file of which one can read any part.
    limits
        How much may come in.
    called
        What messages call it; its path where left out.

    Raises
    ------
    StoreError
        Where it is no archive, or a member has a name that leads elsewhere, is a link, is there twice, is locked by a
        password, or is too large; a size that is told wrongly is noticed while the member is read.
    """
    place = called or str(archive)
    try:
        opened = zipfile.ZipFile(archive)
    except (OSError, zipfile.BadZipFile, NotImplementedError, ValueError) as problem:
        raise _unreadable(place, problem) from problem
    with opened:
        readers: dict[str, Callable[[], bytes]] = {}
        total = 0
        for info in opened.infolist():
            name = info.filename
            if info.is_dir():
                continue
            _check_member(place, info, limits)
            if name in readers:
                raise _refused(place, name, "two members of this name", "one", "make the archive again")
            total += info.file_size
            _check_size(place, name, info.file_size, total, len(readers) + 1, limits)
            readers[name] = _reader_of_member(opened, info, _most(name, limits), place)
        yield Files(name=place, readers=readers)


def _check_member(place: str, info: zipfile.ZipInfo, limits: Limits) -> None:
    name = info.filename
    parts = name.split("/")
    # The reader of archives cuts a name at a zero byte and turns backslashes round on some systems only.
    is_strange = info.orig_filename != name or any(c in name for c in "\\:\0") or not name.isprintable()
    if is_strange or any(part in {"", ".", ".."} for part in parts):
        raise _refused(place, name, "a name that may lead elsewhere", "names such as kits/one.yaml", "do not trust it")
    mode = info.external_attr >> 16
    if mode and stat.S_IFMT(mode) not in {0, stat.S_IFREG}:
        found = "a link" if stat.S_ISLNK(mode) else "something that is no file"
        raise _refused(place, name, found, "plain files", "do not trust it")
    if info.flag_bits & 0x1:
        raise _refused(place, name, "a member locked by a password", "an open one", "make the archive without it")
    if info.file_size > 1_000_000 and info.file_size > limits.ratio * max(info.compress_size, 1):
        found = f"{info.file_size / 1e6:.0f} MB packed into {info.compress_size / 1e6:.1f} MB"
        raise _refused(place, name, found, f"at most {limits.ratio} times", "do not trust it")


def _most(name: str, limits: Limits) -> int:
    return limits.list_bytes if name.endswith(".jsonl") else limits.file_bytes


def _check_size(place: Path | str, name: str, size: int, total: int, count: int, limits: Limits) -> None:
    if size > (most := _most(name, limits)):
        raise _refused(place, name, f"{size / 1e6:.1f} MB", f"at most {most / 1e6:g} MB", "take it away")
    if total > limits.all_bytes:
        raise _refused(
            place, name, f"more than {limits.all_bytes / 1e6:g} MB with this file", "less", "import it in parts"
        )
    if count > limits.files:
        raise _refused(place, name, f"more than {limits.files} files", "less", "import it in parts")


def _reader_of_file(path: Path, most: int, folder: Path, name: str) -> Callable[[], bytes]:
    def read() -> bytes:
        try:
            with path.open("rb") as stream:
                content = stream.read(most + 1)
        except OSError as problem:
            raise _unreadable(path, problem) from problem
        if len(content) > most:
            raise _refused(folder, name, "a file that grows", f"at most {most / 1e6:g} MB", "try again")
        return content

    return read


def _reader_of_member(archive: zipfile.ZipFile, info: zipfile.ZipInfo, most: int, place: str) -> Callable[[], bytes]:
    def read() -> bytes:
        try:
            with archive.open(info) as stream:
                content = stream.read(min(most, info.file_size) + 1)
        except (OSError, zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as problem:
            found = f"a damaged member ({problem})"
            raise _refused(place, info.filename, found, "a sound one", "copy it again") from problem
        if len(content) != info.file_size:
            raise _refused(place, info.filename, "another size than it tells", "the same", "do not trust it")
        return content

    return read


def _refused(place: Path | str, name: str, found: str, expected: str, advice: str) -> StoreError:
    shown = name if name.isprintable() and len(name) <= 200 else repr(name[:200])
    return StoreError(f"{place}: {shown}: found {found}, expected {expected}; {advice}")


def _unreadable(place: Path | str, problem: Exception) -> StoreError:
    reason = (problem.strerror if isinstance(problem, OSError) else str(problem)) or "no reason given"
    return StoreError(f"{place}: found nothing that can be read ({reason.lower()}), expected an export; check the file")
