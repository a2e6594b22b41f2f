"""Every pair of the demonstration that fits: each family of vehicles with its kit, in some of its variants."""

import random
from functools import cache
from itertools import islice

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match

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


@cache
def _documents() -> dict[str, object]:
    return {
        one.file: one.document
        for one in load([Source(file=file, text=text) for file, text in demo_files().items()], MODELS)
    }


@cache
def installations(pair: tuple[str, str], count: int) -> tuple[Installation, ...]:
    """The kit in `count` variants of the family that it fits, drawn by the name; in all where there are fewer."""
    documents = _documents()
    family, kit, shop = documents[f"vehicles/{pair[0]}.yaml"], documents[f"kits/{pair[1]}.yaml"], documents["shop.yaml"]
    assert isinstance(family, Vehicle)
    assert isinstance(kit, Kit)
    assert isinstance(shop, Shop)
    records = [d for d in documents.values() if isinstance(d, Evidence) and d.vehicle == family.id]
    built = list(variants(family))
    drawn = random.Random(family.id).sample(built, len(built))
    plans = (match(resolve(family, choice, records), kit, shop) for choice in drawn)
    return tuple(islice((plan for plan in plans if isinstance(plan, Installation)), count))


def family(family_id: str) -> Vehicle:
    """The document of a family."""
    found = _documents()[f"vehicles/{family_id}.yaml"]
    assert isinstance(found, Vehicle)
    return found


@cache
def car_of(family_id: str) -> Car:
    """The first variant of a family, without evidence."""
    found = family(family_id)
    return resolve(found, next(variants(found)))
