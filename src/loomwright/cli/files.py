"""Files in and out: which documents a command means, and writing without leaving anything half done."""

import os
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from errno import EISDIR
from pathlib import Path
from typing import TYPE_CHECKING

from loomwright.errors import DocumentError, LoomwrightError, Message

if TYPE_CHECKING:
    from loomwright.documents.reading import Loaded

__all__ = ["document_files", "load_files", "shop_files", "write_whole"]

_TOO_LARGE = 2_000_000  # bytes; a vehicle of 100 circuits has some 60 kB


def document_files(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Return the YAML files that the paths name; a folder stands for all of them below it."""
    found: dict[Path, None] = {}
    for path in paths:
        if path.is_dir():
            inside = sorted(p for p in path.rglob("*") if p.suffix in (".yaml", ".yml"))
            if not inside:
                raise DocumentError([_message(path, "a folder without .yaml files", "documents", "name another one")])
            found.update(dict.fromkeys(inside))
        else:
            found[path] = None
    return tuple(found)


def _message(path: Path, found: str, expected: str, advice: str) -> Message:
    return Message(file=str(path), line=None, field="", found=found, expected=expected, advice=advice)


def load_files(paths: Sequence[Path]) -> "tuple[Loaded, ...]":
    """Read and check the form of documents; all faults of all files are raised together.

    Where a file has faults of form, those of the others are still checked each by itself, so that one call tells as
    much as can be told.
    """
    from loomwright.documents.checking import check_documents
    from loomwright.documents.kinds import MODELS
    from loomwright.documents.reading import Source, read_document

    loaded: list[Loaded] = []
    faults: list[Message] = []
    for path in paths:
        try:
            if (size := path.stat().st_size) > _TOO_LARGE:
                found = f"a file of {size / 1e6:.0f} MB"
                faults.append(_message(path, found, "a document of at most 2 MB", "name the right file"))
                continue
            loaded.append(read_document(Source(file=str(path), text=path.read_bytes()), MODELS))
        except OSError as problem:
            reason = (problem.strerror or "no file").lower()
            faults.append(_message(path, f"nothing to read ({reason})", "a document", "check the path"))
        except DocumentError as problem:
            faults += problem.messages
    if faults:
        raise DocumentError([*faults, *(fault for one in loaded for fault in check_documents([one]))])
    return tuple(loaded)


def shop_files(vehicle: Path) -> tuple[Path, ...]:
    """Return the shop document and the evidence that stand in the same shop folder as a vehicle document."""
    root = vehicle.resolve().parent.parent
    shop = root / "shop.yaml"
    if not shop.is_file():
        return ()
    return (shop, *sorted((root / "evidence").glob("*.yaml")))


def write_whole(files: Mapping[Path, bytes]) -> None:
    """Write files so that all of them are there whole or none is touched.

    Each is written to a neighbour first; only when all of them are on the disk are they renamed over their targets.

    Raises
    ------
    LoomwrightError
        Where one cannot be written; what was made on the way is taken away again.
    """
    waiting: list[tuple[Path, Path]] = []
    folders: list[Path] = []
    target = Path()
    try:
        for target, content in files.items():
            if target.is_dir():
                raise IsADirectoryError(EISDIR, "a folder of that name is there")
            _make_folders(target.parent, folders)
            handle, name = tempfile.mkstemp(dir=target.parent, prefix=".", suffix=".part")
            waiting.append((Path(name), target))
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            Path(name).chmod(0o644)
        for part, place in waiting:
            part.replace(place)
    except BaseException as problem:
        for part, _ in waiting:
            part.unlink(missing_ok=True)
        for folder in reversed(folders):
            with suppress(OSError):  # somebody put something into it
                folder.rmdir()
        if isinstance(problem, OSError):
            reason = (problem.strerror or "no reason given").lower()
            raise LoomwrightError(f"{target}: cannot be written ({reason}); choose another folder") from problem
        raise


def _make_folders(folder: Path, made: list[Path]) -> None:
    """Make a folder with those around it, and add the new ones to the list, outermost first."""
    for one in reversed((folder, *folder.parents)):
        if not one.exists():
            one.mkdir()
            made.append(one)
