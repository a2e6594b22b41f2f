"""The JSON Schema of a kind of document, for editors that complete keys and mark faults while somebody types."""

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from loomwright.documents._words import choices, nearest, quoted
from loomwright.documents.reading import FORMAT

__all__ = ["schema"]


def schema(kind: str, models: Mapping[str, type[BaseModel]]) -> dict[str, Any]:
    """Return the schema of a kind of document, with the titles and descriptions of its keys.

    Parameters
    ----------
    kind
        The kind, as a document's key `kind` says it.
    models
        Kind -> model, as for `read_document`.

    Raises
    ------
    ValueError
        Where there is no such kind; the text names those that exist.
    """
    if kind not in models:
        near = nearest(kind, models)
        advice = "choose one" if near is None else f"did you mean {quoted(near)}?"
        msg = f"found the kind {quoted(kind)}, expected {choices(models, kind)}; {advice}"
        raise ValueError(msg)
    body = models[kind].model_json_schema(by_alias=True, mode="validation")
    head = {
        "format": {"const": FORMAT, "title": "Format", "description": "The number of the document format."},
        "kind": {"const": kind, "title": "Kind", "description": "What kind of document this is."},
    }
    properties = {**head, **{key: part for key, part in body.get("properties", {}).items() if key not in head}}
    required = [*head, *(key for key in body.get("required", []) if key not in head)]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **body,
        "title": f"{kind.capitalize()} document",
        "properties": properties,
        "required": required,
    }
