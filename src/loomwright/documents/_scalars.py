"""What a plain (unquoted) scalar of a document means, and how a value is written so that it means itself again.

Only what looks like nothing else is taken out of text: ``true``, ``false``, ``null``, ``~``, whole numbers without
leading zeros, and numbers with digits on both sides of a decimal point. ``NO``, ``on``, ``12:30``, ``1E3`` and ``0123``
stay text: the first is a country or a person's initials, the last a part number, and neither may change on the way.
"""

import math
import re
from decimal import Decimal

__all__ = ["NotFiniteError", "resolve", "written"]

_WORDS: dict[str, bool | None] = {"": None, "~": None, "null": None, "true": True, "false": False}
# A longer run of digits is a serial number: it stays text, digit by digit.
_WHOLE = re.compile(r"-?(?:0|[1-9][0-9]{0,17})")
# The smallest number a float holds needs 342 characters; a text longer than the limit is no number that somebody wrote.
_FRACTION = re.compile(r"(?=.{3,400}\Z)-?(?:0|[1-9][0-9]*)\.[0-9]+")
_NOT_FINITE = re.compile(r"[-+]?\.inf|\.nan", re.IGNORECASE)
_NUMBER_STARTS = frozenset("-+.0123456789")


class NotFiniteError(ValueError):
    """The scalar is written as a number, and is infinite or no number at all."""


def resolve(text: str) -> str | int | float | bool | None:
    """Return the value of a plain scalar.

    Raises
    ------
    NotFiniteError
        Where it is ``.inf`` or ``.nan``, or too large for a float.
    """
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in _NUMBER_STARTS:
        return text
    if _WHOLE.fullmatch(text):
        return int(text)
    if _FRACTION.fullmatch(text):
        number = float(text)
        if math.isinf(number):
            raise NotFiniteError(text)
        return number
    if _NOT_FINITE.fullmatch(text):
        raise NotFiniteError(text)
    return text


def written(value: bool | int | float | None) -> str:
    """Return the plain scalar that `resolve` turns into this value.

    Raises
    ------
    ValueError
        Where there is none: infinite, not a number, or a whole number of more than 18 digits.
    """
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        text = str(value)
        if _WHOLE.fullmatch(text):
            return text
    elif math.isfinite(value):
        # `repr` gives the shortest digits that mean this very float; `Decimal` only takes its exponent away.
        text = format(Decimal(repr(float(value))), "f")
        return text if "." in text else f"{text}.0"
    msg = f"found the number {value}, expected a finite one, and a whole one of at most 18 digits"
    raise ValueError(msg)
