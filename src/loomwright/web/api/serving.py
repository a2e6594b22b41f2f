"""Requests of programs to the handlers of the table, and what they answer as JSON."""

import time
from collections.abc import Awaitable, Callable, Collection, Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from loomwright.errors import LoomwrightError
from loomwright.health.log import LOG, failed
from loomwright.store.values import Conflict
from loomwright.web.api.errors import Refused, count_of, error_of, faults_of_fields
from loomwright.web.api.openapi import OPENAPI_PATH, openapi
from loomwright.web.api.replies import error_response, json_response
from loomwright.web.api.table import API, ApiRoute
from loomwright.web.asking import WebError
from loomwright.web.desk import Desk

__all__ = ["api_routes"]

_M = TypeVar("_M", bound=BaseModel)


def api_routes(desk: Desk) -> list[Route]:
    """Return the routes of the table, each address once with all its methods."""
    by_path: dict[str, dict[str, ApiRoute]] = {}
    for route in API:
        by_path.setdefault(route.path, {})[route.method] = route

    async def described(_: Request) -> Response:
        return JSONResponse(openapi())

    routes = [Route(path, _endpoint(desk, path, methods), methods=list(methods)) for path, methods in by_path.items()]
    return [Route(OPENAPI_PATH, described, methods=["GET"]), *routes]


def _endpoint(
    desk: Desk, path: str, methods: Mapping[str, ApiRoute]
) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        begun = time.perf_counter()
        response = await answered(request)
        took = 1000 * (time.perf_counter() - begun)
        LOG.info("%s %s %d %.0f ms", request.method, path, response.status_code, took)
        return response

    async def answered(request: Request) -> Response:
        route = methods["GET" if request.method == "HEAD" else request.method]
        data = b"" if route.body is None else await request.body()
        try:
            asked = _asked(route, request)
            body = None if route.body is None else _body(route.body, request, data)
            return json_response(await run_in_threadpool(route.handler, desk, asked, body))
        except (LoomwrightError, WebError, Conflict, Refused) as problem:
            status, wrong = error_of(problem)
            return json_response(wrong, status)
        except Exception as problem:
            # Whatever it is, a program gets a body that it can read; what happened stands in the log.
            LOG.error("%s %s %s", route.method, route.path, failed(problem))
            if desk.settings.raises:
                raise
            return error_response("broken", "This is a fault of the program, not of what was sent. See the log.")

    return answer


def _asked(route: ApiRoute, request: Request) -> BaseModel:
    """Read path and query; a key of the query may stand once."""
    query, in_path = request.query_params.multi_items(), request.path_params
    found: dict[str, Any] = dict(query)
    if len(found) != len(query) or in_path.keys() & found.keys():
        raise Refused("faults", "Found a field twice in the address. Name each once, then ask again.")
    try:
        return route.asked.model_validate({**found, **in_path})
    except ValidationError as problem:
        raise _wrong(problem, "query", in_path) from problem


def _body(model: type[_M], request: Request, data: bytes) -> _M:
    """Read a body that a page of another site cannot send without being asked first.

    A browser lets such a page send forms and plain text, but JSON only to those who answer that it may; nobody does.
    """
    origin, site = request.headers.get("origin"), request.headers.get("sec-fetch-site", "none")
    from_here = origin is None or origin.partition("://")[2] == request.headers.get("host")
    if not from_here or site not in {"same-origin", "none"}:
        raise Refused("foreign-page", "This request came from a page of another site. Ask from a program.")
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() != "application/json":
        raise Refused("no-json", "Found a body of another type, expected application/json. Say so in Content-Type.")
    try:
        return model.model_validate_json(data)
    except ValidationError as problem:
        first = problem.errors(include_url=False)[0]
        if first["type"] == "json_invalid":
            raise Refused("cannot-be-read", f"The body is no JSON: {first['ctx']['error']}.") from problem
        raise _wrong(problem, "body") from problem


def _wrong(problem: ValidationError, part: str, in_path: Collection[str] = ()) -> Refused:
    return Refused("faults", count_of(problem.error_count()), faults_of_fields(problem, part, in_path))
