"""What a page says when something cannot be done: one table from exception to status and words."""

from dataclasses import dataclass

from loomwright.errors import DocumentError, LoomwrightError, Message, RenderError, SolveError, StoreError
from loomwright.fitting.questions import AnswerError
from loomwright.store.values import Conflict
from loomwright.web.asking import WebError

__all__ = ["STATUS", "Trouble", "trouble_of"]

# The first kind that fits counts.
STATUS: tuple[tuple[type[Exception], int, str], ...] = (
    (DocumentError, 422, "Not in order"),
    (Conflict, 409, "Somebody else saved first"),
    (AnswerError, 400, "No such answer"),
    (StoreError, 409, "Not saved"),
    (SolveError, 500, "Could not be computed"),
    (RenderError, 500, "Could not be drawn"),
    (LoomwrightError, 400, "Cannot be done"),
)
_MOST_MESSAGES = 100
_TITLES = {
    403: "Not taken", 404: "Not here", 405: "Not like this", 409: "Not yet", 413: "Too large",
    500: "Something went wrong",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What went wrong, as a page shows it."""

    status: int
    title: str
    text: str
    messages: tuple[Message, ...] = ()
    more: int = 0


def trouble_of(problem: Exception) -> Trouble:
    """Return what a page says about an exception that the table knows.

    Raises TypeError for any other: that is a fault of this program and must not be hidden.
    """
    if isinstance(problem, WebError):
        return Trouble(status=problem.status, title=_TITLES.get(problem.status, "Cannot be done"), text=problem.text)
    for kind, status, title in STATUS:
        if isinstance(problem, kind):
            if isinstance(problem, DocumentError):
                shown = problem.messages[:_MOST_MESSAGES]
                return Trouble(
                    status=status, title=title, text="Correct these, then ask again.", messages=shown,
                    more=len(problem.messages) - len(shown),
                )  # fmt: skip
            return Trouble(status=status, title=title, text=str(problem))
    msg = f"{type(problem).__name__}: found no line for it in the table of troubles, expected one"
    raise TypeError(msg) from problem
