"""Files in and out: which documents a command means, and writing without leaving anything half done."""

import os
import tempfile
from collections.abc import Iterable, Sequence
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
    """Read and check the form of documents; all faults of all files are raised together."""
    from loomwright.documents.kinds import MODELS
    from loomwright.documents.reading import Source, load

    sources, faults = [], []
    for path in paths:
        try:
            if path.stat().st_size > _TOO_LARGE:
                size = f"{path.stat().st_size / 1e6:.0f} MB"
                faults.append(_message(path, f"a file of {size}", "a document of at most 2 MB", "name the right file"))
                continue
            sources.append(Source(file=str(path), text=path.read_bytes()))
        except OSError as problem:
            reason = (problem.strerror or "no file").lower()
            faults.append(_message(path, f"nothing to read ({reason})", "a document", "check the path"))
    if faults:
        raise DocumentError(faults)
    return load(sources, MODELS)


def shop_files(vehicle: Path) -> tuple[Path, ...]:
    """Return the shop document and the evidence that stand in the same shop folder as a vehicle document."""
    root = vehicle.resolve().parent.parent
    shop = root / "shop.yaml"
    if not shop.is_file():
        return ()
    return (shop, *sorted((root / "evidence").glob("*.yaml")))


def write_whole(target: Path, content: bytes) -> None:
    """Write a file so that it is there whole or not at all: to a neighbour first, then renamed over it."""
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".", suffix=".part")
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            Path(name).chmod(0o644)
            Path(name).replace(target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as problem:
        raise LoomwrightError(
            f"{target}: cannot be written ({(problem.strerror or 'no reason given').lower()})"
        ) from problem
