"""Every paper of a kit in a car, by name, and what each is printed on."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings, verdict
from loomwright.papers.bench_test import bench_test
from loomwright.papers.blocks import Paper
from loomwright.papers.drawings import Photograph
from loomwright.papers.guide import guide
from loomwright.papers.hood_label import hood_label
from loomwright.papers.operating_card import operating_card
from loomwright.papers.removal_page import removal_page
from loomwright.papers.settings_sheet import settings_sheet
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.planning.installation import Installation

__all__ = ["BOTH", "SMALL", "printed_on", "whole_set"]

Printed = Literal["a4", "letter"]
BOTH = ("guide", "wiring-plan")
"""Printed on both papers; the small ones on that of the shop."""
SMALL = ("operating-card", "hood-label", "settings", "removal", "bench-test")


def printed_on(name: str, shop: Shop) -> tuple[Printed, ...]:
    """Return the papers that a sheet is printed on."""
    own: Printed = "letter" if shop.paper == "Letter" else "a4"
    return ("a4", "letter") if name in BOTH else (own,)


def whole_set(
    found: Installation, proof: Proof, table: Readings, shop: Shop, marks: Mapping[str, str],
    photos: Mapping[str, Photograph] = MappingProxyType({}),
) -> Mapping[str, Paper]:  # fmt: skip
    """Return the guide, the wiring plan and the small papers.

    `photos` are those of the documents that are at hand, by `showing.photo_key`. What must not be fitted needs no card
    either: the guide says so, and takes the place of each.
    """
    papers = {
        "guide": guide(found, proof, table, shop, marks, photos),
        "wiring-plan": wiring_plan(found, proof, shop, marks),
    }
    fits = verdict(found, proof.findings) != "does-not-fit"
    for name, make in zip(SMALL, (operating_card, hood_label, settings_sheet, removal_page, bench_test), strict=True):
        papers[name] = make(found, proof, table, shop, marks) if fits else papers["guide"]
    return papers
