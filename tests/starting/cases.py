"""Installations of the demonstration that differ in what the start asks of them, and settings for the tests."""

from dataclasses import replace
from functools import cache

from loomwright.documents.car import resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from loomwright.starting.modes import Inputs, Mode, Timer
from loomwright.starting.settings import StartSettings, start_settings
from loomwright.starting.wiring import Wiring, wiring_of
from tests.demonstration import documents

__all__ = ["CASES", "everything", "installation", "settings", "wiring"]

CASES: dict[str, tuple[str, str, dict[str, str]]] = {
    "keyed V6, speed by wire": ("rookery-4", "kestrin-fallow", {"engine": "3.3", "year": "2014"}),
    "keyed, speed over the bus": ("rookery-4", "kestrin-fallow", {"engine": "2.4", "year": "2013", "body": "sedan"}),
    "button": ("dunlin-7", "averdahl-siskin", {"engine": "1.8"}),
    "computer cranks": ("dunlin-7", "torvane-eamont", {"year": "2011"}),
    "diesel by lamp over the bus": ("dunlin-7", "norbeck-ploughline", {"engine": "6.6", "year": "2007"}),
    "diesel, speed by voltage": ("dunlin-7", "norbeck-ploughline", {"engine": "6.1"}),
}


@cache
def installation(case: str) -> Installation:
    """The first car of a family that has the values asked for, with the kit in it."""
    kit_id, family_id, wanted = CASES[case]
    kit, family = documents()[f"kits/{kit_id}.yaml"], documents()[f"vehicles/{family_id}.yaml"]
    shop = documents()["shop.yaml"]
    assert isinstance(kit, Kit)
    assert isinstance(family, Vehicle)
    assert isinstance(shop, Shop)
    records = [d for d in documents().values() if isinstance(d, Evidence) and d.vehicle == family_id]
    choice = next(c for c in variants(family) if wanted.items() <= c.items())
    found = match(resolve(family, choice, records), kit, shop)
    assert isinstance(found, Installation)
    return found


@cache
def settings(case: str) -> StartSettings:
    return start_settings(installation(case))


@cache
def wiring(case: str) -> Wiring:
    return wiring_of(installation(case), settings(case))


def everything() -> tuple[StartSettings, Wiring]:
    """A controller that reads all there is, in a car that does not keep its starter off by itself.

    Every guard and limit has something to do there.
    """
    base = settings("diesel by lamp over the bus")
    reads_all = replace(base, senses=base.senses | {"in_park", "parking_brake", "wait_lamp", "key_in", "door_open"})
    return reads_all, replace(wiring("diesel by lamp over the bus"), interlocked=False)


START = Inputs(request="start")
NOTHING: frozenset[Timer] = frozenset()
CRANKING = Mode(name="cranking", attempts=1)
RUNNING = Mode(name="running", attempts=1)
