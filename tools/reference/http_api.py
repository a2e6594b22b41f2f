"""docs/reference/api.md and openapi.json: the HTTP interface, read out of its table."""

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel

from loomwright.web.api.answers import RevisionAnswer
from loomwright.web.api.errors import CODES, ConflictTexts, ErrorBody, Fault
from loomwright.web.api.openapi import openapi
from loomwright.web.api.results import MatchResult, OrderResult, ReadingsResult
from loomwright.web.api.table import API, ApiRoute
from tools.reference.markdown import anchor, code, page, table

__all__ = ["api_page", "openapi_text"]

# Objects that the page on JSON describes, with the heading they have there.
_ELSEWHERE: Mapping[type[BaseModel], str] = {
    MatchResult: "What match prints", ReadingsResult: "What readings prints", OrderResult: "What ask prints",
}  # fmt: skip
_TYPES = {"string": "text", "integer": "whole number", "number": "number", "boolean": "true or false", "null": "null"}
_OWN_PARTS = (ErrorBody, Fault, ConflictTexts)


def openapi_text() -> str:
    """Return the OpenAPI description as it is served."""
    return json.dumps(openapi(), indent=1, ensure_ascii=False) + "\n"


def _words(schema: Mapping[str, Any]) -> str:
    """Return the type of a value in words; a part of the description by its name, linked."""
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        return f"[{name}]({anchor(name)})"
    if "anyOf" in schema:
        return " or ".join(dict.fromkeys(_words(one) for one in schema["anyOf"]))
    if "const" in schema:
        return code(schema["const"])
    if "enum" in schema and len(schema["enum"]) < 8:
        return ", ".join(code(value) for value in schema["enum"])
    if schema.get("type") == "array":
        return f"list of {_words(schema['items'])}"
    if schema.get("type") == "object":
        inner = schema.get("additionalProperties")
        return f"object of {_words(inner)}s" if isinstance(inner, dict) and inner else "object"
    return _TYPES[schema["type"]]


def _limits(schema: Mapping[str, Any]) -> str:
    inner = next((s for s in schema.get("anyOf", ()) if s.get("type") != "null"), schema)
    found = []
    if "minimum" in inner:
        most = inner["maximum"]
        found.append(f"from {inner['minimum']:g}" + (f" to {most:g}" if most < 1e6 else ""))
    if "maxLength" in inner:
        found.append(f"at most {inner['maxLength']} characters")
    if schema.get("default") not in (None, "", {}):
        found.append(f"{schema['default']} where left out")
    return "; ".join(found)


def _rows(model: type[BaseModel], names: Iterable[str] | None = None) -> list[tuple[str, str, str]]:
    mode: Any = "serialization"
    schema = model.model_json_schema(mode=mode, ref_template="#/{model}")
    needed = schema.get("required", ())
    rows = []
    for name, part in schema.get("properties", {}).items():
        if names is None or name in names:
            said = [part.get("description", ""), _limits(part)]
            if not part.get("description") and name in _MEANINGS:
                said[0] = _MEANINGS[name]
            kind = _words(part)
            if name not in needed:
                kind += ", may be left out"
            text = " ".join(s if s.endswith(".") else f"{s[:1].upper()}{s[1:]}." for s in said if s)
            rows.append((code(name), kind, text))
    return rows


# What names say that mean the same everywhere.
_MEANINGS = {
    "kind": "Kind of the document.", "id": "Id of the document.", "name": "What it is called.", "text": "Its text.",
    "total": "How many there are.", "choice": "Which car of the family it is.", "vehicle": "Id of the vehicle.",
    "kit": "Id of the kit.", "verdict": "As it was when the job was begun.", "note": "What was noted.",
    "unproven": "How many circuits were not proven.", "buyer": "Id of the buyer, empty where nobody is named.",
    "media_type": "As in `application/pdf`.", "sha256": "Of its bytes.", "found": "What stands there.",
    "expected": "What may stand there.", "limit": "How many at most.", "path": "Where, as messages write it.",
    "before": "The value before.", "after": "The value after.", "version": "Version of the program.",
    "jobs": "The jobs.", "documents": "The documents.", "revisions": "The revisions.", "changes": "The differences.",
    "hits": "What was found.", "issues": "Guides as they went out.", "readings": "Readings that were kept.",
    "sheets": "The sheets of it.", "number": "Number of its latest revision.", "excerpt": "That line.",
    "theirs_text": "The text that is there now.", "serial": "Serial of the job.",
}  # fmt: skip


def _part(model: type[BaseModel]) -> str:
    text = f"### {model.__name__}\n\n{(model.__doc__ or '').strip()}"
    own = None
    if issubclass(model, RevisionAnswer) and model is not RevisionAnswer:
        own = set(model.model_fields) - set(RevisionAnswer.model_fields)
        text += f" All keys of [RevisionAnswer]({anchor('RevisionAnswer')}), and:"
    return f"{text}\n\n" + table(("key", "type", "meaning"), _rows(model, own))


def _answer(route: ApiRoute) -> str:
    if route.answer in _ELSEWHERE:
        title = _ELSEWHERE[route.answer]
        return f"Answers [{title[:1].lower()}{title[1:]}](json.md{anchor(title)})."
    return f"Answers [{route.answer.__name__}]({anchor(route.answer.__name__)})."


def _route(route: ApiRoute) -> str:
    blocks = [f"### {route.name}", f"{code(f'{route.method} {route.path}')}. {route.summary}"]
    if route.asked.model_fields:
        in_path = set(re.findall(r"{(\w+)}", route.path))
        rows = [(n, "path" if n.strip("`") in in_path else "query", t, m) for n, t, m in _rows(route.asked)]
        blocks.append(table(("field", "in", "type", "meaning"), rows))
    if route.body is not None:
        blocks += ["The body:", table(("key", "type", "meaning"), _rows(route.body))]
    return "\n\n".join([*blocks, _answer(route)])


def api_page() -> str:
    """Return the page."""
    answers = dict.fromkeys(route.answer for route in API if route.answer not in _ELSEWHERE)
    # What stands inside of answers only.
    parts = {n for model in answers for n in model.model_json_schema(mode="serialization").get("$defs", {})}
    inner = [m for m in _models_below(answers) if m.__name__ in parts and m not in answers and m not in _OWN_PARTS]
    return page(
        "HTTP interface",
        "What other programs of the shop may ask a workbench for that `loomwright serve` has opened. How to, with an "
        "example, is in [use the HTTP interface](../how-to/use-the-http-interface.md). The same as an OpenAPI 3.1 "
        "document is in [openapi.json](openapi.json), and served at `/api/openapi.json`.",
        "Addresses and keys are stable: later versions may add some, and take none away without saying so.",
        "## Addresses",
        table(
            ("method", "address", "name"),
            [(r.method, code(r.path), f"[{r.name}]({anchor(r.name)})") for r in API],
        ),
        *(_route(route) for route in API),
        "## Errors",
        "Every answer that is not a success has this body, whatever went wrong:",
        *(_part(model) for model in _OWN_PARTS),
        "### Codes",
        table(("code", "status", "meaning"), [(code(c), str(s), words) for c, (s, words) in CODES.items()]),
        "## Answers",
        *(_part(model) for model in (*answers, *inner)),
    )


def _models_below(models: Iterable[type[BaseModel]]) -> list[type[BaseModel]]:
    """Return the models that fields of some models hold, each once."""
    found: dict[type[BaseModel], None] = {}
    for model in models:
        for field in model.model_fields.values():
            for inner in getattr(field.annotation, "__args__", (field.annotation,)):
                if isinstance(inner, type) and issubclass(inner, BaseModel):
                    found[inner] = None
                    found.update(dict.fromkeys(_models_below([inner])))
    return list(found)
