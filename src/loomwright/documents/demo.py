"""The demo shop: an invented shop, car, kit and evidence that come with the program as files."""

from collections.abc import Iterator, Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

__all__ = ["demo_files"]


def demo_files() -> Mapping[str, str]:
    """Return the demo shop's files: path inside the shop's directory, such as 'kits/rookery-4.yaml' -> text."""
    return MappingProxyType(dict(_texts(files("loomwright") / "demo_shop", "")))


def _texts(folder: Traversable, at: str) -> Iterator[tuple[str, str]]:
    for entry in sorted(folder.iterdir(), key=lambda found: found.name):
        if entry.is_dir():
            yield from _texts(entry, f"{at}{entry.name}/")
        elif entry.name.endswith(".yaml"):
            yield f"{at}{entry.name}", entry.read_text(encoding="utf-8")
