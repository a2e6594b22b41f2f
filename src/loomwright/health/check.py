"""What a check of this machine says: one line each, with what to do where something is not in order."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from loomwright.errors import LoomwrightError

__all__ = ["Check", "checked", "told"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One thing that was looked at.

    Parameters
    ----------
    name
        What it is, in a few words.
    good
        Whether it is in order.
    said
        What was found, with its numbers.
    do
        What to do; empty where it is in order.
    """

    name: str
    good: bool
    said: str
    do: str = ""


def checked(name: str, look: Callable[[], Check], do: str) -> Check:
    """Return what a look says; a look that breaks off is itself a finding."""
    try:
        return look()
    except (LoomwrightError, OSError, ImportError, RuntimeError, ValueError) as problem:
        return Check(name=name, good=False, said=str(problem).splitlines()[0] if str(problem) else repr(problem), do=do)


def told(checks: Iterable[Check]) -> str:
    """Return checks as lines of text."""
    lines = []
    for check in checks:
        lines.append(f"{'in order' if check.good else 'NOT IN ORDER'}: {check.name}: {check.said}")
        if check.do:
            lines.append(f"    What to do: {check.do}")
    return "\n".join(lines)
