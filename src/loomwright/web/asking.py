"""What a page is asked and what it answers, apart from the library that carries both."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import BinaryIO
from urllib.parse import urlencode

__all__ = ["Answer", "Ask", "Bytes", "Page", "Redirect", "Streamed", "Upload", "WebError", "address"]


class WebError(Exception):
    """Something asked for that cannot be answered; the text is shown as it is."""

    def __init__(self, status: int, text: str) -> None:
        super().__init__(text)
        self.status = status
        self.text = text


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload:
    """A file that came with a form; what may be large is an open `stream`, for as long as it is answered."""

    name: str
    data: bytes
    stream: BinaryIO | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One question of a browser.

    Parameters
    ----------
    path
        The words of the address that its pattern names.
    query
        What stands behind the question mark, in order; a key may stand several times.
    form
        What a form sent; empty for a page that is only looked at.
    files
        Files of the form.
    who
        Id of the person who works here, as far as the browser told.
    is_fragment
        Whether only a part of the page is taken from the answer.
    address
        From where it is asked.
    """

    path: Mapping[str, str]
    query: Sequence[tuple[str, str]] = ()
    form: Sequence[tuple[str, str]] = ()
    files: Mapping[str, Upload] = field(default_factory=dict)
    who: str = ""
    is_fragment: bool = False
    address: str = ""

    def one(self, key: str, default: str = "") -> str:
        """Return the first value of a key of the query, without the space around it."""
        return next((value.strip() for name, value in self.query if name == key), default)

    def every(self, key: str) -> tuple[str, ...]:
        """Return all values of a key of the query."""
        return tuple(value for name, value in self.query if name == key)

    def sent(self, key: str, default: str = "") -> str:
        """Return the first value of a field of the form, without the space around it."""
        return next((value.strip() for name, value in self.form if name == key), default)

    def under(self, prefix: str, of: Sequence[tuple[str, str]] | None = None) -> dict[str, str]:
        """Return what stands under keys that begin with a prefix, without it; empty values are left out."""
        pairs = self.query if of is None else of
        return {key[len(prefix) :]: value for key, value in pairs if key.startswith(prefix) and value}


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """An answer to be set by a template; `context` is a dataclass that the template knows as `page`."""

    template: str
    title: str
    context: object
    status: int = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Redirect:
    """Send the browser on; `cookies` are what it keeps from now on, name and value."""

    to: str
    cookies: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bytes:
    """A file; `name` is what it is saved as, or called where it is shown `inline`.

    `own_policy` tells of a page that says itself what it may load.
    """

    data: bytes
    media_type: str
    name: str = ""
    inline: bool = False
    own_policy: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Streamed:
    """A file that is too large for the memory, sent piece by piece from its beginning and closed then."""

    stream: BinaryIO
    size: int
    media_type: str
    name: str


Answer = Page | Redirect | Bytes | Streamed


def address(path: str, pairs: Sequence[tuple[str, str]] = ()) -> str:
    """Return a path with its query."""
    return f"{path}?{urlencode(list(pairs))}" if pairs else path
