"""The kinds of document there are."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.documents.basis import Document
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle

__all__ = ["MODELS"]

MODELS: Mapping[str, type[Document]] = MappingProxyType(
    {
        "vehicle": Vehicle,
        "kit": Kit,
        "shop": Shop,
        "evidence": Evidence,
    }
)
