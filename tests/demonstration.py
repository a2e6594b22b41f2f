"""The demonstration shop as tests of several rooms use it: its documents, its cars, and its kit in each of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

import numpy as np
from pydantic import BaseModel

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.checking import check_documents
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Loaded, Source, read_document
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.branches import FloatArray
from loomwright.network.compiling import Compiled
from loomwright.network.proof import solved_installation
from loomwright.network.solving import Solved
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match

__all__ = [
    "BASE", "CHOICES", "EVIDENCE_FILE", "FILES", "KIT_FILE", "SHOP_FILE", "V6", "VEHICLE_FILE", "Choice", "Pair", "car",
    "choice_name", "documents", "drawn_parameters", "edited_pair", "evidence", "installation", "kit", "read_once",
    "shop", "solved", "vehicle",
]  # fmt: skip

Choice = tuple[tuple[str, str], ...]
"""A value for every axis, in the order of the axes."""

VEHICLE_FILE = "vehicles/kestrin-fallow.yaml"
KIT_FILE = "kits/rookery-4.yaml"
EVIDENCE_FILE = "evidence/kestrin-fallow.yaml"
SHOP_FILE = "shop.yaml"
FILES = (VEHICLE_FILE, KIT_FILE, EVIDENCE_FILE, SHOP_FILE)
"""The files of the main pair; the demonstration may come with more of them."""


@lru_cache(maxsize=128)
def read_once(file: str, text: str) -> Loaded:
    """Read a document; most tests change one of many, if any."""
    return read_document(Source(file=file, text=text), MODELS)


@cache
def documents() -> Mapping[str, BaseModel]:
    """Every document of the demonstration, by its file."""
    return MappingProxyType({file: read_once(file, text).document for file, text in demo_files().items()})


def _document(file: str) -> BaseModel:
    return read_once(file, demo_files()[file]).document


def vehicle() -> Vehicle:
    document = _document(VEHICLE_FILE)
    assert isinstance(document, Vehicle)
    return document


def kit() -> Kit:
    document = _document(KIT_FILE)
    assert isinstance(document, Kit)
    return document


def shop() -> Shop:
    document = _document(SHOP_FILE)
    assert isinstance(document, Shop)
    return document


def evidence() -> Evidence:
    document = _document(EVIDENCE_FILE)
    assert isinstance(document, Evidence)
    return document


def choice_name(choice: Choice) -> str:
    """A choice as the name of a test: '2013-sedan-2.4-base'."""
    return "-".join(value for _, value in choice)


CHOICES = tuple(tuple(choice.items()) for choice in variants(vehicle()))
"""Every car of the family, as pairs of axis and value."""

BASE = (("year", "2013"), ("body", "sedan"), ("engine", "2.4"), ("trim", "base"))
"""The plain car: engine speed over the bus, no factory alarm."""

V6 = (("year", "2014"), ("body", "wagon"), ("engine", "3.3"), ("trim", "touring"))
"""The car with most circuits: engine speed by wire, factory alarm, unproven wires of the later years."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """The documents of the main pair after somebody changed them."""

    vehicle: Vehicle
    kit: Kit
    shop: Shop
    evidence: Evidence
    messages: tuple[str, ...]  # what checking them tells

    def match(self, choice: Choice) -> Installation | Refusal:
        return match(resolve(self.vehicle, dict(choice), [self.evidence]), self.kit, self.shop)


def edited_pair(*edits: tuple[str, str, str]) -> Pair:
    """The main pair with texts replaced: (file, the text as it is, the text instead), each at its first place."""
    files = {file: demo_files()[file] for file in FILES}
    for file, old, new in edits:
        assert old in files[file], old
        files[file] = files[file].replace(old, new, 1)
    loaded = [read_once(file, text) for file, text in files.items()]
    family, product, records, owner = (one.document for one in loaded)
    assert isinstance(family, Vehicle)
    assert isinstance(product, Kit)
    assert isinstance(records, Evidence)
    assert isinstance(owner, Shop)
    messages = tuple(str(message) for message in check_documents(loaded, whole=False))
    return Pair(vehicle=family, kit=product, shop=owner, evidence=records, messages=messages)


@cache
def car(choice: Choice) -> Car:
    return resolve(vehicle(), dict(choice), [evidence()])


@cache
def installation(choice: Choice) -> Installation:
    """The demonstration's kit in one of its cars."""
    found = match(car(choice), kit(), shop())
    assert isinstance(found, Installation)
    return found


@cache
def solved(choice: Choice) -> Solved:
    """Every state of every story of the installation in one of the cars."""
    return solved_installation(installation(choice))


def drawn_parameters(compiled: Compiled, lanes: int, seed: int) -> tuple[FloatArray, FloatArray]:
    """Factors on the conductances, shape (B, L), and source voltages [V], of sound cars drawn at random.

    Factors are drawn evenly in their logarithm between the `low` and `high` of each element, so that a half and a
    double are as likely; source voltages evenly over their spread.
    """
    rng = np.random.default_rng(seed)
    elements = compiled.netlist.elements
    low = np.log([e.low for e in elements])[:, None]
    high = np.log([e.high for e in elements])[:, None]
    count = len(elements)
    factor: FloatArray = np.exp(low + (high - low) * rng.random((count, lanes)))
    spread = np.array([[e.emf_spread_v] for e in elements])
    emf: FloatArray = compiled.emf + spread * rng.uniform(-1.0, 1.0, (count, lanes))
    return factor, emf
