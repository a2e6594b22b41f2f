"""What every request must pass: a known host, a body that is not too large, the passphrase; and what every answer says.

The token of forms is a random word that the browser keeps in a cookie no script can read and no other site can make it
send; a form must say it again.
"""

import hmac
import secrets
from collections.abc import MutableMapping
from hashlib import sha256
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from loomwright.web.asking import WebError
from loomwright.web.settings import Settings

__all__ = ["ENTER", "ENTERED", "POLICY", "TOKEN", "WHO", "Guard", "check_form", "entered_with", "new_token"]

POLICY = "; ".join((
    "default-src 'self'", "img-src 'self' data:", "object-src 'none'", "base-uri 'none'", "form-action 'self'",
    "frame-ancestors 'none'",
))  # fmt: skip
TOKEN = "loomwright-token"
WHO = "loomwright-who"
ENTERED = "loomwright-entered"
ENTER = "/enter"

_OWN = {
    "x-content-type-options": "nosniff", "referrer-policy": "same-origin", "cross-origin-opener-policy": "same-origin",
}  # fmt: skip


class _TooLargeError(Exception):
    """The body of a request is larger than the settings allow."""


class Guard:
    """The outermost layer of the workbench."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self._app = app
        self._settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what must not pass, and hand the rest on."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await refusal(scope, receive, _told(send))
            return
        taken = 0

        async def counted() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > self._settings.largest_upload:
                raise _TooLargeError
            return message

        begun = False

        async def watched(message: MutableMapping[str, Any]) -> None:
            nonlocal begun
            begun = True
            await _told(send)(message)

        try:
            await self._app(scope, counted, watched)
        except _TooLargeError:
            if not begun:
                await self._too_large()(scope, receive, _told(send))

    def _refusal(self, scope: Scope, headers: Headers) -> PlainTextResponse | RedirectResponse | None:
        host = _without_port(headers.get("host", ""))
        if self._settings.hosts is not None and host not in self._settings.hosts:
            return PlainTextResponse(
                "This workbench answers only under the address it was opened with, such as http://127.0.0.1.\n", 421
            )
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > self._settings.largest_upload:
            return self._too_large()
        if self._settings.passphrase is not None and not _open_to_all(scope["path"]):
            word = Request(scope).cookies.get(ENTERED, "")
            if not hmac.compare_digest(word.encode(), entered_with(self._settings.passphrase).encode()):
                return RedirectResponse(ENTER, 303)
        return None

    def _too_large(self) -> PlainTextResponse:
        most = self._settings.largest_upload / 1e6
        return PlainTextResponse(f"This is too large: expected at most {most:g} MB. Send a smaller file.\n", 413)


def _open_to_all(path: str) -> bool:
    return path == ENTER or path.startswith("/static/")


def _without_port(host: str) -> str:
    name, colon, port = host.lower().rpartition(":")
    return name if colon and port.isdecimal() else host.lower()


def _told(send: Send) -> Send:
    """Add to every answer what browsers must know."""

    async def wrapped(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _OWN.items():
                headers[name] = value
            headers.setdefault("content-security-policy", POLICY)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return wrapped


def entered_with(passphrase: str) -> str:
    """Return the word a browser keeps after the passphrase was said; a new passphrase makes it worthless."""
    return hmac.new(sha256(passphrase.encode()).digest(), b"entered the workbench", sha256).hexdigest()


def new_token() -> str:
    """Return a random word for forms."""
    return secrets.token_hex(16)


def check_form(request: Request, said: str) -> None:
    """Make sure that a form was filled in on a page of ours.

    Raises WebError where it was not.
    """
    kept = request.cookies.get(TOKEN, "")
    origin = request.headers.get("origin")
    site = request.headers.get("sec-fetch-site", "same-origin")
    from_here = origin is None or origin.partition("://")[2] == request.headers.get("host")
    if not kept or not hmac.compare_digest(kept.encode(), said.encode()) or not from_here or site != "same-origin":
        raise WebError(403, "This form did not come from a page of this workbench, or the page is too old. Go back, "
                            "load the page again, and send it once more.")  # fmt: skip
