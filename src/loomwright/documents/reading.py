"""From the text of a file to a checked document, with every fault of it told at once.

The text becomes plain values with a line for each (`read_tree`); the document's `kind` chooses the model; what the
model refuses becomes messages in the words of the file.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from pydantic import BaseModel, ValidationError

from loomwright.documents._messages import troubles_of
from loomwright.documents._strict import checker
from loomwright.documents._tree import Origin, Path, Source, Tree, Trouble, grown, read_tree
from loomwright.documents._words import choices, nearest, quoted, show
from loomwright.documents.unseen import unseen_in
from loomwright.errors import DocumentError, Message

__all__ = ["FORMAT", "Loaded", "Origin", "Path", "Source", "Tree", "load", "read_document", "read_tree"]

FORMAT = 1
"""The number of the document format that this program reads and writes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """A checked document and where each of its values stands."""

    document: BaseModel
    tree: Tree

    @property
    def file(self) -> str:
        """The file as the caller named it."""
        return self.tree.file

    @property
    def lines(self) -> Mapping[Path, int]:
        """Path of keys and indexes, as the file has them -> line."""
        return self.tree.lines

    def origin(self, *path: str | int) -> Origin:
        """Where a value stands; of one that was left out, where the value around it stands."""
        return self.tree.origin(path)


def load(sources: Iterable[Source], models: Mapping[str, type[BaseModel]]) -> tuple[Loaded, ...]:
    """Read several documents.

    Parameters
    ----------
    sources
        The files, in the order in which the documents are returned.
    models
        Kind of document, as its key `kind` says it -> the model of such a document.

    Raises
    ------
    DocumentError
        With every fault of every file, in the order of file and line.
    """
    documents: list[Loaded] = []
    messages: list[Message] = []
    for source in sources:
        try:
            documents.append(read_document(source, models))
        except DocumentError as error:
            messages += error.messages
    if messages:
        raise DocumentError(_in_order(messages))
    return tuple(documents)


def read_document(source: Source, models: Mapping[str, type[BaseModel]]) -> Loaded:
    """Read one document.

    Parameters
    ----------
    source
        The file.
    models
        Kind of document, as its key `kind` says it -> the model of such a document.

    Raises
    ------
    DocumentError
        With every fault of the file, in the order of lines.
    """
    tree, found = grown(source)
    troubles = [*found, *_unseen(tree)]
    given_up = {trouble.path for trouble in troubles}
    head = [trouble for trouble in _head(tree, models) if trouble.path not in given_up]
    if _is_newer(tree.value.get("format")):
        raise DocumentError(tree.message(trouble) for trouble in head if trouble.path == ("format",))
    document: BaseModel | None = None
    refused: list[Trouble] = []
    kind = tree.value.get("kind")
    if isinstance(kind, str) and kind in models:
        model = models[kind]
        try:
            document = checker(model).validate_python(_body(tree, model))
        except ValidationError as error:
            refused = [
                trouble
                for trouble in troubles_of(error, model, tree)
                # A value that the text could not give is told already; what the model makes of it is no news.
                if not any(trouble.path[: len(path)] == path for path in given_up)
                and trouble.path not in {("format",), ("kind",)}
            ]
    messages = [tree.message(trouble) for trouble in (*troubles, *head, *refused)]
    if messages or document is None:
        raise DocumentError(_in_order(messages))
    return Loaded(document=document, tree=tree)


def _head(tree: Tree, models: Mapping[str, type[BaseModel]]) -> list[Trouble]:
    """Return the faults of the two keys that every document begins with."""
    faults: list[Trouble] = []
    number = tree.value.get("format")
    if "format" not in tree.value:
        faults.append(_trouble("format", "nothing", f"the number {FORMAT}", f"begin with the line 'format: {FORMAT}'"))
    elif _is_newer(number):
        faults.append(
            _trouble(
                "format",
                f"a document of format {number}",
                f"format {FORMAT}, the newest that this program reads",
                "update the program",
            )
        )
    elif isinstance(number, bool) or number != FORMAT or not isinstance(number, int):
        faults.append(_trouble("format", show(number), f"the number {FORMAT}", f"write 'format: {FORMAT}'"))
    kind = tree.value.get("kind")
    if not isinstance(kind, str) or kind not in models:
        near = nearest(kind, models) if isinstance(kind, str) else None
        advice = "choose one" if near is None else f"did you mean {quoted(near)}?"
        missing = "kind" not in tree.value
        faults.append(
            _trouble(
                "kind",
                "nothing" if missing else show(kind),
                choices(models, kind if isinstance(kind, str) else None),
                "add the line 'kind: ...' at the top" if missing else advice,
            )
        )
    return faults


def _trouble(key: str, found: str, expected: str, advice: str) -> Trouble:
    return Trouble(path=(key,), line=None, found=found, expected=expected, advice=advice)


def _unseen(tree: Tree) -> list[Trouble]:
    """Return a fault for each text with a character that nobody sees."""
    return [
        Trouble(
            path=path, line=None, found=f"the invisible character U+{ord(character):04X}", expected="printable text",
            advice="delete that character",
        )
        for path, character in unseen_in(tree.value)
    ]  # fmt: skip


def _is_newer(number: object) -> bool:
    return isinstance(number, int) and not isinstance(number, bool) and number > FORMAT


def _body(tree: Tree, model: type[BaseModel]) -> dict[str, object]:
    """Return what the model is given: format and kind only where it has such keys itself."""
    left_out = {"format", "kind"} - set(model.model_fields)
    return {key: value for key, value in tree.value.items() if key not in left_out}


def _in_order(messages: Iterable[Message]) -> list[Message]:
    """Sort by file and line; what has no line comes last in its file. Equal messages are told once."""
    return sorted(dict.fromkeys(messages), key=lambda message: (message.file, message.line or 1 << 60))
