"""The pages of docs/reference, made from the code: ``python -m tools.reference`` writes them."""

from tools.reference.pages import pages

__all__ = ["pages"]
