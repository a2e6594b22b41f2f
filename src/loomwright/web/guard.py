"""What every request must pass: a known host, a body that is not too large, the passphrase; and what every answer says.

The token of forms is a random word that the browser keeps in a cookie no script can read and no other site can make it
send; a form must say it again.
"""

import hmac
import secrets
from collections.abc import Mapping, MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from loomwright.web.api.errors import CODES
from loomwright.web.api.replies import error_response, is_api
from loomwright.web.asking import WebError
from loomwright.web.door import Door
from loomwright.web.settings import Settings

__all__ = [
    "ENTER", "ENTERED", "POLICY", "TAKE_IN", "TOKEN", "WHO", "Guard", "TooLargeError", "check_form", "new_token",
]  # fmt: skip

POLICY = "; ".join((
    "default-src 'self'", "img-src 'self' data:", "object-src 'none'", "base-uri 'none'", "form-action 'self'",
    "frame-ancestors 'none'",
))  # fmt: skip
TOKEN = "loomwright-token"
WHO = "loomwright-who"
ENTERED = "loomwright-entered"
ENTER = "/enter"
TAKE_IN = "/settings/import"
"""The one address that takes a whole shop."""

_OWN = {
    "x-content-type-options": "nosniff", "referrer-policy": "same-origin", "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}  # fmt: skip


class TooLargeError(Exception):
    """The body of a request is larger than the settings allow."""


class Guard:
    """The outermost layer of the workbench."""

    def __init__(self, app: ASGIApp, settings: Settings, door: Door) -> None:
        self._app = app
        self._settings = settings
        self._door = door

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
        taken, most = 0, self._most(scope["path"])

        async def counted() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > most:
                raise TooLargeError
            return message

        begun = False

        async def watched(message: MutableMapping[str, Any]) -> None:
            nonlocal begun
            begun = True
            await _told(send)(message)

        try:
            await self._app(scope, counted, watched)
        except TooLargeError:
            if not begun:
                await self._too_large(scope["path"])(scope, receive, _told(send))

    def _refusal(self, scope: Scope, headers: Headers) -> Response | None:
        path: str = scope["path"]
        host = _without_port(headers.get("host", ""))
        if self._settings.hosts is not None and host not in self._settings.hosts:
            said = "This workbench answers only under the address it was opened with, such as http://127.0.0.1."
            return self._told(path, "wrong-host", said)
        length = headers.get("content-length", "0")
        is_number = length.isascii() and length.isdecimal() and len(length) < 19
        if not is_number or int(length) > self._most(path):
            return self._too_large(path)
        if self._door.is_open or _open_to_all(path) or self._door.knows(Request(scope).cookies.get(ENTERED, "")):
            return None
        return self._not_let_in(scope, path, headers.get("authorization", ""))

    def _not_let_in(self, scope: Scope, path: str, authorization: str) -> Response | None:
        """Let a program in that says the passphrase with its request; send a browser to where it is asked for it."""
        scheme, _, said = authorization.partition(" ")
        if scheme.lower() == "bearer":
            client = scope.get("client")
            found = self._door.says(client[0] if client else "", said.strip().encode("latin-1", "replace"))
            if found.let_in:
                return None
            if found.wait_s:
                words = f"Too many wrong passphrases. Wait {found.wait_s} s, then ask again."
                return self._told(path, "too-many-guesses", words, {"retry-after": str(found.wait_s)})
        if is_api(path):
            words = "Say the passphrase of this workbench in the header Authorization, as Bearer."
            return self._told(path, "passphrase-needed", words, {"www-authenticate": "Bearer"})
        return RedirectResponse(ENTER, 303)

    def _most(self, path: str) -> int:
        return self._settings.largest_archive if path == TAKE_IN else self._settings.largest_upload

    def _too_large(self, path: str) -> Response:
        do = "Bring it in with the command 'loomwright import'." if path == TAKE_IN else "Send a smaller file."
        most = self._most(path) / 1e6
        return self._told(path, "too-large", f"This is too large: expected at most {most:g} MB. {do}")

    def _told(self, path: str, code: str, words: str, headers: Mapping[str, str] | None = None) -> Response:
        if is_api(path):
            return error_response(code, words, headers)
        return PlainTextResponse(f"{words}\n", CODES[code][0], headers=headers)


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
