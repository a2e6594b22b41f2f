"""The OpenAPI 3.1 description of the HTTP interface, made from its table."""

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import JsonSchemaMode, models_json_schema

from loomwright import __version__
from loomwright.web.api.errors import CODES, ErrorBody
from loomwright.web.api.table import API, ApiRoute

__all__ = ["OPENAPI_PATH", "openapi"]

OPENAPI_PATH = "/api/openapi.json"

_TEMPLATE = "#/components/schemas/{model}"
# Every address may answer these; 422 is left out below where there is nothing that could be wrong.
_ALWAYS = (400, 401, 403, 413, 421, 422, 429, 500)

_Schemas = dict[tuple[type[BaseModel], JsonSchemaMode], dict[str, Any]]


@cache
def openapi() -> dict[str, Any]:
    """Return the description."""
    sent: list[tuple[type[BaseModel], JsonSchemaMode]] = [(r.body, "validation") for r in API if r.body is not None]
    wanted = [*dict.fromkeys([*sent, *((r.answer, "serialization") for r in API), (ErrorBody, "serialization")])]
    schemas, shared = models_json_schema(wanted, ref_template=_TEMPLATE)  # type: ignore[arg-type]
    paths: dict[str, dict[str, Any]] = {}
    for route in API:
        paths.setdefault(route.path, {})[route.method.lower()] = _operation(route, schemas)  # type: ignore[arg-type]
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Loomwright workbench", "version": __version__,
            "description": "What other programs of the shop may ask the workbench for. It answers only this machine, "
            "unless it was opened to the network with a passphrase; then each request says it as "
            "`Authorization: Bearer <passphrase>`. Bodies are application/json. Every error has the same body.",
        },
        "paths": paths,
        "components": {
            "schemas": shared["$defs"],
            "securitySchemes": {
                "passphrase": {
                    "type": "http", "scheme": "bearer",
                    "description": "Only where the workbench is open to the network.",
                },
            },
        },
        "security": [{}, {"passphrase": []}],
    }  # fmt: skip


def _operation(route: ApiRoute, schemas: _Schemas) -> dict[str, Any]:
    found: dict[str, Any] = {"operationId": route.name, "summary": route.summary}
    parameters = list(_parameters(route))
    if parameters:
        found["parameters"] = parameters
    if route.body is not None:
        found["requestBody"] = {"required": True, "content": _json(schemas[route.body, "validation"])}
    statuses = sorted({*_ALWAYS, *route.troubles, *([415] if route.body is not None else [])})
    errors = {
        str(status): {
            "description": " ".join(f"`{c}`: {words}" for c, (s, words) in CODES.items() if s == status),
            "content": _json(schemas[ErrorBody, "serialization"]),
        }
        for status in statuses
    }
    found["responses"] = {
        "200": {"description": "Done.", "content": _json(schemas[route.answer, "serialization"])}, **errors,
    }  # fmt: skip
    return found


def _json(schema: dict[str, Any]) -> dict[str, Any]:
    return {"application/json": {"schema": schema}}


def _parameters(route: ApiRoute) -> Iterator[dict[str, Any]]:
    """Yield the fields of path and query as parameters; they hold plain values only."""
    schema = route.asked.model_json_schema(ref_template=_TEMPLATE)
    in_path = set(re.findall(r"{(\w+)}", route.path))
    for name, part in schema.get("properties", {}).items():
        value = {key: inner for key, inner in part.items() if key not in {"title", "description", "examples"}}
        if name not in schema.get("required", ()) and "anyOf" in value:  # left out is what null is in a query
            value = next(inner for inner in value["anyOf"] if inner.get("type") != "null")
        found: dict[str, Any] = {
            "name": name, "in": "path" if name in in_path else "query", "required": name in schema.get("required", ()),
            "schema": value,
        }  # fmt: skip
        if "description" in part:
            found["description"] = part["description"]
        if "examples" in part:
            found["examples"] = {str(each): {"value": each} for each in part["examples"]}
        yield found
