"""Every pair of the demonstration that fits: each family of vehicles with its kit, in some of its variants."""

import random
from collections.abc import Iterator
from functools import cache

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests import demonstration

__all__ = ["EVERY_PAIR", "PAIRS", "car_of", "family", "installations"]

PAIRS = (
    ("kestrin-fallow", "rookery-4"),
    ("kestrin-sedge", "rookery-4"),
    ("averdahl-siskin", "dunlin-7"),
    ("branmoor-yarrow", "dunlin-7"),
    ("norbeck-ploughline", "dunlin-7"),
    ("quillen-marram", "dunlin-7"),
    ("sarnow-ouzel", "dunlin-7"),
    ("torvane-eamont", "dunlin-7"),
)
"""Family and kit; the families of which most variants are refused stand in tests of refusals."""

EVERY_PAIR = (
    *PAIRS,
    ("kestrin-wainage", "rookery-4"),
    ("larkholm-oxgate", "dunlin-7"),
    ("velmora-tessel", "dunlin-7"),
)
"""Every family with the kit that fits at least some of its variants."""


_PLANNED: dict[tuple[str, str], tuple[list[Installation], Iterator[Installation]]] = {}


def installations(pair: tuple[str, str], count: int) -> tuple[Installation, ...]:
    """The kit in `count` variants of the family that it fits, drawn by the name; in all where there are fewer.

    Who asks for more gets the same ones first.
    """
    if pair not in _PLANNED:
        _PLANNED[pair] = ([], _planned(pair))
    found, more = _PLANNED[pair]
    while len(found) < count:
        following = next(more, None)
        if following is None:
            break
        found.append(following)
    return tuple(found[:count])


def _planned(pair: tuple[str, str]) -> Iterator[Installation]:
    documents = demonstration.documents()
    family, kit, shop = documents[f"vehicles/{pair[0]}.yaml"], documents[f"kits/{pair[1]}.yaml"], documents["shop.yaml"]
    assert isinstance(family, Vehicle)
    assert isinstance(kit, Kit)
    assert isinstance(shop, Shop)
    records = [d for d in documents.values() if isinstance(d, Evidence) and d.vehicle == family.id]
    built = list(variants(family))
    drawn = random.Random(family.id).sample(built, len(built))
    for choice in drawn:
        plan = match(resolve(family, choice, records), kit, shop)
        if isinstance(plan, Installation):
            yield plan


def family(family_id: str) -> Vehicle:
    """The document of a family."""
    found = demonstration.documents()[f"vehicles/{family_id}.yaml"]
    assert isinstance(found, Vehicle)
    return found


@cache
def car_of(family_id: str) -> Car:
    """The first variant of a family, without evidence."""
    found = family(family_id)
    return resolve(found, next(variants(found)))
