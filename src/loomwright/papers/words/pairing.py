"""A catalogue of another language beside the English one: what stands for what."""

import importlib
import pkgutil
import re
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType, ModuleType

from loomwright.papers.words import en

__all__ = ["french_spaces", "leaves", "names_of", "paired", "texts", "topics"]

# The word before a caution says how grave it is; a paper keeps it, and each form writes it in its own language.
_SIGNAL = ("DANGER", "WARNING", "CAUTION", "NOTICE")


def topics(package: ModuleType) -> Mapping[str, ModuleType]:
    """Return the modules of a catalogue by name; those that begin with an underscore are not of it."""
    names = (found.name for found in pkgutil.iter_modules(package.__path__) if not found.name.startswith("_"))
    return {name: importlib.import_module(f"{package.__name__}.{name}") for name in names}


def names_of(module: ModuleType) -> tuple[str, ...]:
    """Return the names of the texts of a module, in the order in which they stand there."""
    return tuple(name for name in vars(module) if name.isupper() and not name.startswith("_"))


def leaves(value: object, at: str) -> Iterator[tuple[str, str]]:
    """Yield every text inside a value of the catalogue with its path."""
    if isinstance(value, str):
        yield at, value
    elif isinstance(value, Mapping):
        for key, one in value.items():
            yield from leaves(one, f"{at}[{key!r}]")
    elif isinstance(value, tuple):
        for place, one in enumerate(value):
            if one not in _SIGNAL:
                yield from leaves(one, f"{at}[{place}]")


def texts(package: ModuleType) -> Mapping[str, str]:
    """Return every text of a catalogue by its path, such as 'naming.KEY['run']'."""
    found: dict[str, str] = {}
    for topic, module in topics(package).items():
        for name in names_of(module):
            found.update(leaves(getattr(module, name), f"{topic}.{name}"))
    return found


def paired(package: ModuleType, spaced: Callable[[str], str] = str) -> Mapping[str, str]:
    """Return English text -> text of another catalogue, each passed through `spaced`.

    An English text has one other text, wherever it stands; where two are wanted, the English ones must differ too.
    """
    other = texts(package)
    pairs: dict[str, str] = {}
    for path, english in texts(en).items():
        if path not in other or english == other[path]:
            continue
        pairs.setdefault(english, spaced(other[path]))
    return MappingProxyType(pairs)


_NO_BREAK, _THIN = "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"


def french_spaces(text: str) -> str:
    """Return a French text with spaces before high punctuation at which no line breaks."""
    text = re.sub(r" ([:»])", rf"{_NO_BREAK}\1", text)
    text = re.sub(r" ([;?!])", rf"{_THIN}\1", text)
    return text.replace("« ", f"«{_NO_BREAK}")
