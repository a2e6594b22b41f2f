"""How a validator of a document model says exactly what is wrong.

A validator may raise any `ValueError`; its text then becomes part of the message. Where the message should say found,
expected and advice in the validator's own words, and name the value inside the one being checked, it raises a `Fault`;
where it sees several at once, `Faults`.
"""

from collections.abc import Iterable

__all__ = ["Fault", "Faults"]


class Fault(ValueError):  # noqa: N818 - named as the person reads it: a fault of the document
    """One fault of a document, told by a validator.

    Parameters
    ----------
    found
        What stands there; `None` lets the reader show the value itself.
    expected
        What may stand there.
    advice
        What to do, as an imperative without a full stop.
    at
        Steps from the value being validated down to the one that is wrong: keys as they are written in the file, and
        indexes of lists. A last key that is not in the file names what is missing.
    """

    def __init__(self, *, expected: str, advice: str, found: str | None = None, at: tuple[str | int, ...] = ()) -> None:
        super().__init__(f"found {found}, expected {expected}; {advice}")
        self.found = found
        self.expected = expected
        self.advice = advice
        self.at = at


class Faults(ValueError):  # noqa: N818 - the same
    """Several faults that one validator found in one go."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        if not self.faults:
            msg = "faults to raise: found none, expected at least one"
            raise ValueError(msg)
        super().__init__("; ".join(str(fault) for fault in self.faults))
