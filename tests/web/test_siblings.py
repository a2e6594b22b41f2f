"""A vehicle beside a sibling: only what differs, and what is taken over."""

from html import unescape

import pytest
from starlette.testclient import TestClient

from loomwright.documents.car import resolve, variants
from loomwright.documents.demo import demo_files
from loomwright.store.store import Store
from loomwright.web.forms.draft import Draft, draft_of
from loomwright.web.forms.siblings import circuits_in, differences, some_values, taken_over
from tests.demonstration import vehicle
from tests.web.conftest import token_of, vehicle_in

PAGE = "/vehicles/kestrin-fallow/siblings"


def _draft(id: str) -> Draft:
    return draft_of("vehicle", id, demo_files()[f"vehicles/{id}.yaml"])


def test_the_circuits_of_a_car_are_those_that_it_resolves_to() -> None:
    family, draft = vehicle(), _draft("kestrin-fallow")
    for choice in variants(family):
        assert {id: c for id, (_, c) in circuits_in(draft, choice).items()} == dict(resolve(family, choice).circuits)


def test_a_car_does_not_differ_from_itself() -> None:
    draft = _draft("kestrin-fallow")
    circuits = circuits_in(draft, some_values(draft, {}))
    assert differences(circuits, circuits) == ()


def test_two_years_differ_in_what_changed_between_them() -> None:
    draft = _draft("kestrin-fallow")
    old, new = (circuits_in(draft, some_values(draft, {"year": year})) for year in ("2011", "2014"))
    found = differences(old, new)
    assert [d.id for d in found] == ["parking-light"]
    assert ("Pins", "body-a/7", "body-a/20") in found[0].points
    assert ("Load, A", "3.6", "3.9") in found[0].points
    trims = [circuits_in(draft, some_values(draft, {"trim": trim})) for trim in ("base", "touring")]
    assert all(d.there and not d.here for d in differences(*trims))


def test_what_is_taken_over_keeps_id_and_conditions_of_ours() -> None:
    draft = _draft("kestrin-fallow")
    old, new = (circuits_in(draft, some_values(draft, {"year": year})) for year in ("2011", "2014"))
    raw = taken_over(new["parking-light"][1], old["parking-light"][1])
    assert (raw["only"], raw["behaviour"]["load_a"]) == ({"year": ["2011 to 2013"]}, 3.9)
    assert "only" not in taken_over(new["parking-light"][1], None)


def test_a_difference_is_taken_over_with_one_press(own: tuple[TestClient, Store]) -> None:
    client, store = own
    page = client.get(f"{PAGE}?with=kestrin-sedge")
    assert page.status_code == 200
    assert "Take over horn" in page.text
    theirs = {c.id: c for c in vehicle_in(store, "kestrin-sedge").circuits}
    sent = {"token": token_of(client, "/kits/new"), "with": "kestrin-sedge", "take": "horn",
            "base": str(store.latest("vehicle", "kestrin-fallow").number)}  # fmt: skip
    assert client.post(PAGE, data=sent).status_code == 303
    mine = [c for c in vehicle_in(store, "kestrin-fallow").circuits if c.id == "horn"]
    assert [c.path for c in mine] == [theirs["horn"].path]
    # A plug that this car does not have is told before anything is kept.
    sent |= {"take": "reader-feed", "base": str(store.latest("vehicle", "kestrin-fallow").number)}
    told = client.post(PAGE, data=sent)
    assert told.status_code == 422
    assert "Not taken over yet" in told.text
    assert client.post(PAGE, data=sent | {"anyway": "yes"}).status_code == 303
    assert vehicle_in(store, "kestrin-fallow").circuits[-1].path == theirs["reader-feed"].path


def test_another_variant_of_the_same_family(demo: TestClient) -> None:
    page = unescape(demo.get(f"{PAGE}?with=kestrin-fallow&other.year=2014").text)
    assert "1 circuit differs, 52 are the same" in page
    assert "Take over" not in page


@pytest.mark.parametrize("data", [{"with": "none"}, {"with": "kestrin-sedge", "take": "none"}])
def test_what_is_not_there(own: tuple[TestClient, Store], data: dict[str, str]) -> None:
    client, store = own
    sent = {"token": token_of(client, "/kits/new"), "base": str(store.latest("vehicle", "kestrin-fallow").number)}
    assert client.post(PAGE, data=sent | data).status_code == 404
