"""What one pair of the demonstration comes to, as a digest: the same on every machine and in every run.

Run as a program it prints the digest, so that a fresh process can be compared with this one.
"""

import json
import sys
from collections.abc import Mapping
from hashlib import sha256

from loomwright.documents.car import resolve, variants
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.proof import prove
from loomwright.papers.match_object import match_object
from loomwright.planning.installation import Refusal
from loomwright.planning.plan import match

__all__ = ["demo_digest", "demo_summary"]

_VEHICLE, _KIT = "kestrin-fallow", "rookery-4"


def demo_summary() -> Mapping[str, object]:
    """Plan and prove the pair, and return the whole result.

    Raises DocumentError where the demonstration's documents are damaged.
    """
    documents = [one.document for one in load([Source(file=f, text=t) for f, t in demo_files().items()], MODELS)]
    vehicle = next(d for d in documents if isinstance(d, Vehicle) and d.id == _VEHICLE)
    kit = next(d for d in documents if isinstance(d, Kit) and d.id == _KIT)
    shop = next(d for d in documents if isinstance(d, Shop))
    evidence = [d for d in documents if isinstance(d, Evidence) and d.vehicle == vehicle.id]
    found = match(resolve(vehicle, next(iter(variants(vehicle))), evidence), kit, shop)
    if isinstance(found, Refusal):
        return {"refused": found.reason}
    return match_object(found, prove(found), ())


def demo_digest() -> str:
    """Return the SHA-256 of that result."""
    return sha256(json.dumps(demo_summary(), sort_keys=True).encode()).hexdigest()


if __name__ == "__main__":
    sys.stdout.write(demo_digest() + "\n")
