"""The exceptions of this package, by what the caller can do about them.

::

    LoomwrightError
    ├── DocumentError   a file that somebody wrote is wrong: correct the lines it names
    ├── SolveError      a circuit or a plan could not be solved: look at the element it names
    ├── StoreError      the store refused or could not keep a revision: retry, or look at the store
    └── RenderError     a sheet could not be drawn: look at the block it names

A mistake of the calling code stays a `TypeError` or a `ValueError`. What is wrong with an *installation* is a result of
the proof, never an exception.
"""

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["DocumentError", "LoomwrightError", "Message", "RenderError", "SolveError", "StoreError"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """One fault of one document, told in one line.

    Parameters
    ----------
    file
        The file as the caller named it.
    line
        Line in that file, counted from 1; `None` where the fault has no line, as in an empty file.
    field
        Path of the value, as in ``circuits[3].behaviour``; empty where the whole file is meant.
    found
        What stands there.
    expected
        What may stand there.
    advice
        What to do, as an imperative without a full stop.
    """

    file: str
    line: int | None
    field: str
    found: str
    expected: str
    advice: str

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        if self.field:
            place = f"{place}: {self.field}"
        return f"{place}: found {self.found}, expected {self.expected}; {self.advice}"


class LoomwrightError(Exception):
    """The root: catching it catches everything this package raises on purpose."""


class DocumentError(LoomwrightError):
    """One or more documents are wrong; all their faults are raised together, one line each.

    Scenarios: a key that does not exist, a circuit through a pin that its plug does not have, a missing colour.
    """

    def __init__(self, messages: Iterable[Message]) -> None:
        self.messages: tuple[Message, ...] = tuple(messages)
        if not self.messages:
            msg = "a document error needs at least one message"
            raise ValueError(msg)
        super().__init__(self.messages)

    def __str__(self) -> str:
        return "\n".join(str(message) for message in self.messages)


class SolveError(LoomwrightError):
    """A circuit or a plan could not be solved.

    Scenarios: a search over segments that comes back to a state it has left, an exact planner that stops without an
    answer. A plan that does not exist is a refusal with its reasons, not this exception.

    Parameters
    ----------
    text
        What failed, as a sentence without a full stop.
    place
        Id of the worst node or element, empty where there is none.
    iterations
        How many steps were made, `None` where nothing was counted.
    residual
        What was still wrong at the end, in the unit that `text` names.
    """

    def __init__(
        self, text: str, *, place: str = "", iterations: int | None = None, residual: float | None = None
    ) -> None:
        super().__init__(text)
        self.text = text
        self.place = place
        self.iterations = iterations
        self.residual = residual

    def __str__(self) -> str:
        facts = [
            *([f"at {self.place}"] if self.place else []),
            *([f"after {self.iterations} steps"] if self.iterations is not None else []),
            *([f"residual {self.residual:.3g}"] if self.residual is not None else []),
        ]
        return f"{self.text} ({', '.join(facts)})" if facts else self.text


class StoreError(LoomwrightError):
    """The store refused a revision or could not keep it.

    Scenarios: somebody else saved a newer revision first, the file is locked, the disk is full.
    """


class RenderError(LoomwrightError):
    """A sheet could not be drawn.

    Scenarios: a picture that a block names is missing, the typesetter rejected a page.
    """
