"""Sentences of the paper that shows where one reading comes from."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["BAND", "HEAD", "KIND", "NOT_HELD", "NO_DOCUMENT", "SUBTITLE", "TITLE"]

TITLE = "Where a reading comes from"
SUBTITLE = "{id}"
BAND = "The meter stands on {node} and shows {low} to {high}, {nominal} with every value at its middle."
KIND: Mapping[str, str] = MappingProxyType({
    "fed": "Most current arrives along this way, from the source to the point:",
    "held": "No current arrives. This way holds the point to battery negative:",
})
NOT_HELD = "No current arrives, and nothing holds the point: a meter may show anything."
HEAD = ("Element", "What it is", "From", "To", "Drop", "Current", "Stands in")
NO_DOCUMENT = "rule of the program"
