"""The demonstration shop as tests of several rooms use it: its documents, its cars, and its kit in each of them."""

from functools import cache

import numpy as np

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.branches import FloatArray
from loomwright.network.compiling import Compiled
from loomwright.network.proof import solved_installation
from loomwright.network.solving import Solved
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match

__all__ = [
    "BASE", "CHOICES", "V6", "Choice", "car", "choice_name", "drawn_parameters", "evidence", "installation", "kit",
    "shop", "solved", "vehicle",
]  # fmt: skip

Choice = tuple[tuple[str, str], ...]
"""A value for every axis, in the order of the axes."""

_DOCUMENTS = {
    one.file: one.document
    for one in load([Source(file=file, text=text) for file, text in demo_files().items()], MODELS)
}


def vehicle() -> Vehicle:
    document = _DOCUMENTS["vehicles/kestrin-fallow.yaml"]
    assert isinstance(document, Vehicle)
    return document


def kit() -> Kit:
    document = _DOCUMENTS["kits/rookery-4.yaml"]
    assert isinstance(document, Kit)
    return document


def shop() -> Shop:
    document = _DOCUMENTS["shop.yaml"]
    assert isinstance(document, Shop)
    return document


def evidence() -> Evidence:
    document = _DOCUMENTS["evidence/kestrin-fallow.yaml"]
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
