"""Papers about the demo car and kit, made once for all tests."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache

from loomwright.documents.car import resolve
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Paper, Quantity, Step
from loomwright.papers.guide import guide
from loomwright.papers.hood_label import hood_label
from loomwright.papers.job import Job
from loomwright.papers.operating_card import operating_card
from loomwright.papers.removal_page import removal_page
from loomwright.papers.settings_sheet import settings_sheet
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests import demonstration
from tests.kept import proof_of, readings_of
from tests.pairs import family, installations

__all__ = ["VARIANTS", "Built", "built", "built_pair", "documents", "quantities", "steps", "strings"]

# The first has the most bus and the fewest unproven wires, the second a wire for everything that may be unproven.
VARIANTS: Mapping[str, Mapping[str, str]] = {
    "2012 wagon": {"year": "2012", "body": "wagon", "engine": "2.4", "trim": "base"},
    "2014 sedan": {"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """Everything about one variant."""

    vehicle: Vehicle
    kit: Kit
    shop: Shop
    installation: Installation
    proof: Proof
    readings: Readings
    guide: Paper
    cards: Mapping[str, Paper]  # the small papers that stay with the car, by id

    @property
    def job(self) -> Job:
        return Job(installation=self.installation, proof=self.proof, readings=self.readings, shop=self.shop)


def documents() -> tuple[Vehicle, Kit, Evidence, Shop]:
    return demonstration.vehicle(), demonstration.kit(), demonstration.evidence(), demonstration.shop()


@cache
def built(variant: str) -> Built:
    vehicle, kit, evidence, shop = documents()
    installation = match(resolve(vehicle, VARIANTS[variant], [evidence]), kit, shop)
    assert isinstance(installation, Installation)
    return _papers(vehicle, kit, shop, installation)


@cache
def built_pair(pair: tuple[str, str]) -> Built:
    """Return the papers of a family of the demonstration with its kit, in one variant that it fits."""
    (installation,) = installations(pair, 1)
    return _papers(family(pair[0]), installation.kit, documents()[3], installation)


def _papers(vehicle: Vehicle, kit: Kit, shop: Shop, installation: Installation) -> Built:
    proof, found = proof_of(installation), readings_of(installation)
    return Built(
        vehicle=vehicle, kit=kit, shop=shop, installation=installation, proof=proof, readings=found,
        guide=guide(installation, proof, found, shop, {"tool": "test"}),
        cards={
            paper.id: paper
            for make in (operating_card, hood_label, settings_sheet, removal_page)
            for paper in (make(installation, proof, found, shop, {"tool": "test"}),)
        },
    )  # fmt: skip


def steps(paper: Paper) -> tuple[Step, ...]:
    return tuple(b for b in paper.blocks if isinstance(b, Step))


def _leaves(value: object) -> Iterator[object]:
    """Yield every string and quantity inside a value; drawings are left out, since they are drawn and not read."""
    if isinstance(value, str | Quantity):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _leaves(item)
    elif is_dataclass(value):
        for f in fields(value):
            if f.name not in ("drawing", "id", "anchor", "plug", "kind", "word", "marks"):
                yield from _leaves(getattr(value, f.name))


def strings(value: object) -> Iterator[str]:
    return (leaf for leaf in _leaves(value) if isinstance(leaf, str))


def quantities(value: object) -> Iterator[Quantity]:
    return (leaf for leaf in _leaves(value) if isinstance(leaf, Quantity))
