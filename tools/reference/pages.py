"""The list of reference pages: file name -> text."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from tools.reference.commands import commands_page
from tools.reference.documents import documents_page
from tools.reference.findings import findings_page
from tools.reference.http_api import api_page, openapi_text
from tools.reference.json_keys import json_page
from tools.reference.nomenclature import nomenclature_page
from tools.reference.sources import sources_page

__all__ = ["PAGES", "pages"]

PAGES: Mapping[str, Callable[[], str]] = MappingProxyType({
    "documents.md": documents_page,
    "commands.md": commands_page,
    "json.md": json_page,
    "api.md": api_page,
    "openapi.json": openapi_text,
    "findings.md": findings_page,
    "nomenclature.md": nomenclature_page,
    "sources.md": sources_page,
})  # fmt: skip


def pages() -> dict[str, str]:
    """Return every reference page as it should be now."""
    return {name: page() for name, page in PAGES.items()}
