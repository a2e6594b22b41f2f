"""What only several documents, or every variant of one, can show: all faults of meaning, told at once."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from loomwright.documents._notes import Notes
from loomwright.documents._words import quoted
from loomwright.documents.basis import Document
from loomwright.documents.checking_evidence import check_evidence, check_shop
from loomwright.documents.checking_kit import check_kit
from loomwright.documents.checking_told import advise_vehicle
from loomwright.documents.checking_translations import check_translations
from loomwright.documents.checking_vehicle import check_vehicle
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Loaded, Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.errors import DocumentError, Message

__all__ = ["advise_documents", "check_documents", "load_checked"]

_T = TypeVar("_T")


def check_documents(loaded: Sequence[Loaded], *, whole: bool = True) -> tuple[Message, ...]:
    """Return every fault of meaning in a shop's documents, in the order of file and line; none where all is well.

    Every buildable variant of every vehicle is resolved on the way. References to vehicles are checked only where any
    vehicle is among the documents, so that a kit can be checked by itself.

    Parameters
    ----------
    loaded
        The documents as `load` returned them.
    whole
        False where they are only some of a shop's: what they say of vehicles that are not among them is let be.

    Returns
    -------
    tuple of Message
        One for each fault, with its line.
    """
    vehicles = {document.id: document for document in _of(loaded, Vehicle)}
    evidence = _of(loaded, Evidence)
    messages: list[Message] = []
    first: dict[tuple[type, str], str] = {}
    for one in loaded:
        notes = Notes(loaded=one)
        _check_twice(notes, first)
        document = one.document
        if isinstance(document, Vehicle):
            # A scope that names an unknown axis is told with the evidence; resolving could only stumble over it.
            about = [record for record in evidence if record.vehicle == document.id and _is_sound(record, document)]
            check_vehicle(notes, document, about)
        elif isinstance(document, Kit):
            check_kit(notes, document, vehicles, whole=whole)
        elif isinstance(document, Evidence):
            check_evidence(notes, document, vehicles, whole=whole)
        elif isinstance(document, Shop):
            check_shop(notes, document, vehicles, whole=whole)
        messages += notes.messages
    return tuple(sorted(dict.fromkeys(messages), key=lambda message: (message.file, message.line or 0)))


def advise_documents(loaded: Sequence[Loaded]) -> tuple[Message, ...]:
    """Return what is not wrong in a shop's documents but would serve better otherwise, in the order of file and line.

    Parameters
    ----------
    loaded
        Documents in which `check_documents` finds no fault.
    """
    messages: list[Message] = []
    for one in loaded:
        notes = Notes(loaded=one)
        if isinstance(one.document, Vehicle):
            advise_vehicle(notes, one.document)
        if isinstance(one.document, Document):
            check_translations(notes, one.document)
        messages += notes.messages
    return tuple(sorted(messages, key=lambda message: (message.file, message.line or 0)))


def load_checked(texts: Mapping[str, str | bytes]) -> tuple[Loaded, ...]:
    """Read a shop's files and check them against each other.

    Parameters
    ----------
    texts
        Name of each file, as messages should say it -> its content.

    Raises
    ------
    DocumentError
        With every fault of form; or, where there is none, with every fault of meaning.
    """
    loaded = load([Source(file=file, text=text) for file, text in texts.items()], MODELS)
    messages = check_documents(loaded)
    if messages:
        raise DocumentError(messages)
    return loaded


def _of(loaded: Iterable[Loaded], kind: type[_T]) -> list[_T]:
    return [one.document for one in loaded if isinstance(one.document, kind)]


def _is_sound(evidence: Evidence, vehicle: Vehicle) -> bool:
    axes = {axis.id for axis in vehicle.axes}
    return all(axis in axes for record in evidence.records for axis in record.scope)


def _check_twice(notes: Notes, first: dict[tuple[type, str], str]) -> None:
    """Write down a second document of the same kind and id."""
    document = notes.loaded.document
    name = getattr(document, "id", None)
    if name is None:
        return
    key = (type(document), name)
    if key in first:
        notes.add(
            ("id",),
            f"the id {quoted(name)}, which {first[key]} has too",
            "a document of its own id",
            "rename one of the two",
        )
    else:
        first[key] = notes.loaded.file
