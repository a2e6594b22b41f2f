"""The application: routes from one table, answers to responses, exceptions to responses from one table."""

import sys
import time
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator, Mapping
from contextlib import asynccontextmanager
from types import MappingProxyType

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Route

from loomwright.documents.unseen import without_unseen
from loomwright.errors import LoomwrightError
from loomwright.health.log import LOG, failed
from loomwright.store.store import Clock, Store
from loomwright.store.values import Conflict
from loomwright.web.api.replies import error_response, is_api
from loomwright.web.api.serving import api_routes
from loomwright.web.asking import Answer, Ask, Bytes, Page, Redirect, Streamed, Upload, WebError
from loomwright.web.desk import Desk
from loomwright.web.guard import TAKE_IN, TOKEN, WHO, Guard, TooLargeError, check_form, new_token
from loomwright.web.routes import ROUTES, Handler
from loomwright.web.setting import Chrome, Setter
from loomwright.web.settings import Settings
from loomwright.web.trouble import Trouble, trouble_of

__all__ = ["create_app"]

_YEAR_S = 31_536_000
_PIECE = 262_144  # bytes of a file in the memory at once
_FAULT = (
    "This is a fault of the program. What was saved before is as it was; what you just sent was not taken. "
    "Go back and try once more. If it stays, save a problem report: the page Settings leads to it."
)
_HTML_OF_ITS_OWN = "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"


def create_app(store: Store, clock: Clock, settings: Settings | None = None) -> Starlette:
    """Return the workbench over a store.

    Parameters
    ----------
    store
        What the shop keeps.
    clock
        Gives the present time, with its zone.
    settings
        Who may ask; only this machine where left out.
    """
    settings = settings or Settings()
    desk, setter = Desk(store, clock, settings), Setter()
    routes = [
        Route(pattern, _endpoint(desk, setter, pattern, by_method), methods=list(by_method))
        for pattern, by_method in ROUTES.items()
    ]

    async def lost(request: Request, problem: Exception) -> Response:
        status = problem.status_code if isinstance(problem, HTTPException) else 500
        if is_api(request.url.path):
            return _api_lost(problem)
        words = WebError(status, "There is no such page." if status == 404 else "This cannot be done here.")
        return await _told(desk, setter, request, words)

    @asynccontextmanager
    async def living(_: Starlette) -> AsyncIterator[None]:
        yield
        if left := await run_in_threadpool(desk.work.close):
            names = "\n".join(f"  {task.title}" for task in left)
            sys.stderr.write(f"Stopped before it was done; ask for it once more:\n{names}\n")

    app = Starlette(
        routes=[*routes, *api_routes(desk)], exception_handlers={HTTPException: lost}, lifespan=living,
        middleware=[
            Middleware(Guard, settings=settings, door=desk.door),
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=5),
        ],
    )  # fmt: skip
    app.router.redirect_slashes = False  # an address has one spelling, and no answer repeats what the request said
    return app


def _api_lost(problem: Exception) -> Response:
    """Say to a program that there is no such address, or that it is asked in another way."""
    if isinstance(problem, HTTPException) and problem.status_code == 405:
        said = "This address is asked in another way; the header Allow says how."
        return error_response("wrong-method", said, problem.headers)
    return error_response("not-found", "There is no such address. /api/openapi.json lists those that there are.")


def _endpoint(
    desk: Desk, setter: Setter, pattern: str, by_method: Mapping[str, Handler]
) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        begun = time.perf_counter()
        response = await answered(request)
        took = 1000 * (time.perf_counter() - begun)
        LOG.info("%s %s %d %.0f ms", request.method, pattern, response.status_code, took)
        return response

    async def answered(request: Request) -> Response:
        try:
            ask = await _asked(request, on_disk=pattern == TAKE_IN)
            handler = by_method["GET" if request.method == "HEAD" else request.method]
            found = await run_in_threadpool(handler, desk, ask)
            return await _response(desk, setter, request, found)
        except (LoomwrightError, WebError, Conflict) as problem:
            return await _told(desk, setter, request, problem)
        except TooLargeError:
            raise  # while the body was read: the guard answers
        except Exception as problem:
            LOG.error("%s %s %s", request.method, pattern, failed(problem))
            if desk.settings.raises:
                raise
            return await _told(desk, setter, request, WebError(500, _FAULT))
        finally:
            await request.close()  # what a form sent

    return answer


async def _asked(request: Request, *, on_disk: bool) -> Ask:
    """Read a request; characters that nobody sees are taken out of it, since nobody typed them on purpose.

    Its files are read into the memory, or left where they were put on the way, to be read while it is answered.
    """
    form: list[tuple[str, str]] = []
    uploads: dict[str, Upload] = {}
    if request.method == "POST":
        try:
            sent = await request.form(max_files=20, max_fields=2000)
        except (HTTPException, UnicodeDecodeError) as problem:
            raise WebError(400, "This form cannot be read. Go back and send it once more.") from problem
        for key, value in sent.multi_items():
            if isinstance(value, UploadFile):
                if value.filename:
                    name, data = without_unseen(value.filename), b"" if on_disk else await value.read()
                    uploads[key] = Upload(name=name, data=data, stream=value.file if on_disk else None)
            else:
                form.append((without_unseen(key), without_unseen(value)))
        check_form(request, next((value for key, value in form if key == "token"), ""))
    return Ask(
        path=MappingProxyType({key: without_unseen(str(value)) for key, value in request.path_params.items()}),
        query=tuple((without_unseen(k), without_unseen(v)) for k, v in request.query_params.multi_items()),
        form=tuple(form), files=MappingProxyType(uploads),
        who=request.cookies.get(WHO, ""), is_fragment=request.headers.get("hx-request") == "true",
        address=request.client.host if request.client else "",
    )  # fmt: skip


async def _response(desk: Desk, setter: Setter, request: Request, found: Answer) -> Response:
    if isinstance(found, Redirect):
        moved = RedirectResponse(found.to, 303)
        for name, value in found.cookies:
            _keep(moved, name, value)
        return moved
    if isinstance(found, Bytes):
        headers = {}
        if request.url.path.startswith("/static/"):
            headers["cache-control"] = f"public, max-age={_YEAR_S}, immutable"
        if found.name:
            headers["content-disposition"] = f'{"inline" if found.inline else "attachment"}; filename="{found.name}"'
        if found.own_policy:
            headers["content-security-policy"] = _HTML_OF_ITS_OWN
        return Response(found.data, media_type=found.media_type, headers=headers)
    if isinstance(found, Streamed):
        headers = {
            "content-length": str(found.size), "content-disposition": f'attachment; filename="{found.name}"'
        }  # fmt: skip
        return StreamingResponse(_pieces(found), media_type=found.media_type, headers=headers)
    return await _page(desk, setter, request, found)


def _pieces(file: Streamed) -> Iterator[bytes]:
    with file.stream as stream:
        stream.seek(0)
        while piece := stream.read(_PIECE):
            yield piece


async def _page(desk: Desk, setter: Setter, request: Request, page: Page) -> Response:
    kept = request.cookies.get(TOKEN, "")
    token = kept if len(kept) == 32 and kept.isalnum() else new_token()

    def html() -> str:
        shop = desk.shop_name()
        here = request.url.path.strip("/").partition("/")[0]
        fragment = request.headers.get("hx-request") == "true"
        return setter.html(page, Chrome(shop=shop, here=here, token=token, is_fragment=fragment))

    response = HTMLResponse(await run_in_threadpool(html), status_code=page.status)
    if token != kept:
        _keep(response, TOKEN, token)
    return response


def _keep(response: Response, name: str, value: str) -> None:
    response.set_cookie(name, value, max_age=_YEAR_S, httponly=True, samesite="strict", path="/")


async def _told(desk: Desk, setter: Setter, request: Request, problem: Exception) -> Response:
    """Say on a page what went wrong, in the same words as the command line."""
    trouble: Trouble = trouble_of(problem)
    page = Page(template="trouble.html", title=trouble.title, context=trouble, status=trouble.status)
    return await _page(desk, setter, request, page)


