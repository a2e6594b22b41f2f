"""Answers to programs: JSON, and the one body of errors."""

from collections.abc import Mapping

from pydantic import BaseModel
from starlette.responses import Response

from loomwright.web.api.errors import told

__all__ = ["error_response", "is_api", "json_response"]

_PREFIX = "/api/"


def is_api(path: str) -> bool:
    """Tell whether an address is asked by a program."""
    return path.startswith(_PREFIX)


def json_response(body: BaseModel, status: int = 200, headers: Mapping[str, str] | None = None) -> Response:
    """Return a model as an answer."""
    return Response(
        body.model_dump_json(), status, media_type="application/json", headers=dict(headers) if headers else None
    )


def error_response(code: str, message: str, headers: Mapping[str, str] | None = None) -> Response:
    """Return an error of the table."""
    status, body = told(code, message)
    return json_response(body, status, headers)
