"""Cars of the demonstration into which everything would plug and which must be refused all the same."""

from functools import cache

import pytest

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from tests.demonstration import documents

_DOCUMENTS = documents().values()
_FAMILIES = {d.id: d for d in _DOCUMENTS if isinstance(d, Vehicle)}
_KITS = {d.id: d for d in _DOCUMENTS if isinstance(d, Kit)}
_EVIDENCE = [d for d in _DOCUMENTS if isinstance(d, Evidence)]
_SHOP = next(d for d in _DOCUMENTS if isinstance(d, Shop))

# Family, kit, a car that fits, what its refused sibling differs in, and the reason's code.
# Source: 49 CFR 571.102 S3.1.3 asks for a starter interlock of automatic gearboxes only; NHTSA interpretation 24473.drn
# says that none is asked of manual ones. Hybrid and 48 V cars are refused by common practice (49 CFR 571.305).
_SIBLINGS = (
    (
        "larkholm-oxgate", "dunlin-7",
        {"year": "2012", "body-style": "new", "engine": "2.9", "gearbox": "automatic", "trim": "comfort"},
        {"gearbox": "manual"}, "manual-gearbox",
    ),
    (
        "kestrin-sedge", "rookery-4",
        {"year": "2010", "drive": "petrol", "trim": "touring", "history": "untouched"},
        {"drive": "hybrid"}, "hybrid",
    ),
    (
        "velmora-tessel", "dunlin-7",
        {"year": "2020", "drive": "petrol", "lamps": "bulb", "trim": "panel"},
        {"drive": "48 V"}, "mild-hybrid-48-v",
    ),
    (
        "kestrin-wainage", "rookery-4",
        {"year": "2007", "trim": "passenger", "engine": "4.4"},
        {"year": "2006"}, "shifter-lock-only",
    ),
    (
        "kestrin-wainage", "rookery-4",
        {"year": "2008", "trim": "passenger", "engine": "5.8"},
        {"trim": "cargo"}, "shifter-lock-only",
    ),
)  # fmt: skip


@cache
def _car(family: str, choice: tuple[tuple[str, str], ...]) -> Car:
    return resolve(_FAMILIES[family], dict(choice), _EVIDENCE)


@pytest.mark.parametrize(("family", "kit", "fits", "differs", "code"), _SIBLINGS)
def test_a_sibling_with_the_same_plugs_is_refused(
    family: str, kit: str, fits: dict[str, str], differs: dict[str, str], code: str
) -> None:
    sound, sibling = _car(family, tuple(fits.items())), _car(family, tuple({**fits, **differs}.items()))
    housings = {branch.housing for branch in _KITS[kit].branches}
    met = {plug.housing for plug in sound.plugs.values()} & housings
    # The T-harness and the bus plug would go into both.
    assert len(met) >= 2
    assert met <= {plug.housing for plug in sibling.plugs.values()}
    assert isinstance(match(sound, _KITS[kit], _SHOP), Installation)
    found = match(sibling, _KITS[kit], _SHOP)
    assert isinstance(found, Refusal)
    assert found.code == code
    assert found.caution
    assert found.would_fit_if


@pytest.mark.parametrize("family", _FAMILIES)
def test_no_car_that_may_not_be_fitted_is_ever_planned(family: str) -> None:
    for choice in variants(_FAMILIES[family]):
        car = _car(family, tuple(choice.items()))
        traits = car.traits
        never = traits.drive != "combustion" or traits.gearbox != "automatic"
        if never or traits.park_interlock == "shifter lock only":
            assert all(isinstance(match(car, kit, _SHOP), Refusal) for kit in _KITS.values())


def test_what_a_former_owner_left_is_said_where_it_is() -> None:
    rest = {"year": "2009", "drive": "petrol", "trim": "base"}
    old = _car("kestrin-sedge", tuple({**rest, "history": "remains of an old starter"}.items()))
    clean = _car("kestrin-sedge", tuple({**rest, "history": "untouched"}.items()))
    dongle = _car("kestrin-sedge", tuple({**rest, "history": "insurance dongle"}.items()))
    assert "old-relay/87a" in old.pins_of("start")
    assert "cut the relay out" in (old.circuits["start"].note or "")
    assert "old-relay" not in clean.plugs
    assert {hazard.id for hazard in old.hazards} - {hazard.id for hazard in clean.hazards} == {"cut-wires"}
    assert "Tell the insurer" in dongle.plugs["diagnostic"].opening
    assert clean.plugs["diagnostic"].opening != dongle.plugs["diagnostic"].opening
