"""The demonstration shop, whole or with some words of its files changed, as order checks about it."""

from dataclasses import replace
from functools import cache

from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.fitting.order import Order, advance, begin
from loomwright.fitting.outcomes import proved
from loomwright.fitting.questions import NOT_SURE, Question, Settled
from tests.demonstration import documents, read_once

__all__ = ["FALLOW", "ROOKERY", "SHOP", "Edit", "demo_pairs", "order", "proved_order", "truthfully"]

FALLOW = "vehicles/kestrin-fallow.yaml"
ROOKERY = "kits/rookery-4.yaml"
SHOP = "shop.yaml"

Edit = tuple[str, str, str]
"""File, old words, new words; the old ones stand in it."""


@cache
def _kits() -> tuple[tuple[str, Kit], ...]:
    return tuple((file, one) for file, one in documents().items() if isinstance(one, Kit))


def demo_pairs() -> tuple[tuple[str, str], ...]:
    """Every vehicle of the demonstration shop with the kits that speak to it, or else with the Rookery."""
    pairs = []
    for name in demo_files():
        if name.startswith("vehicles/"):
            family = name.removeprefix("vehicles/").removesuffix(".yaml")
            made_for = [
                file
                for file, kit in _kits()
                if kit.vehicle_module is not None and any(s.vehicle == family for s in kit.vehicle_module.services)
            ]
            pairs += [(name, file) for file in made_for or [ROOKERY]]
    return tuple(pairs)


@cache
def order(*edits: Edit, vehicle: str = FALLOW, kit: str = ROOKERY) -> Order:
    """A kit of the demonstration shop planned into every variant of one of its vehicles."""
    texts = dict(demo_files())
    for file, old, new in edits:
        assert old in texts[file], old
        texts[file] = texts[file].replace(old, new)
    wanted = [vehicle, kit, SHOP, *(name for name in texts if name.startswith("evidence/"))]
    loaded = {file: read_once(file, texts[file]).document for file in wanted}
    family, product, shop = loaded[vehicle], loaded[kit], loaded[SHOP]
    assert isinstance(family, Vehicle)
    assert isinstance(product, Kit)
    assert isinstance(shop, Shop)
    records = [d for d in loaded.values() if isinstance(d, Evidence) and d.vehicle == family.id]
    return begin(family, product, shop, records)


@cache
def proved_order() -> Order:
    """The demonstration's kit in the Fallow, every variant proved."""
    asked = order()
    return replace(asked, outcomes=proved(asked.outcomes, asked.outcomes))


def truthfully(asked: Order, truth: dict[str, str], unsure: tuple[str, ...] = ()) -> tuple[Order, dict[str, str]]:
    """Answer every question as the truth has it; what it lacks, and the unsure ones, with 'not sure'."""
    answers: dict[str, str] = {}
    while True:
        asked, step = advance(asked, answers)
        if isinstance(step, Settled):
            return asked, answers
        assert isinstance(step, Question)
        assert step.id not in answers
        value = NOT_SURE if step.id in unsure else truth.get(step.id, NOT_SURE)
        assert value == NOT_SURE or value in [choice.value for choice in step.choices]
        answers[step.id] = value
