"""Settings: the shop's facts with a version each, the name of this browser, a backup that can be opened."""

import re
from collections.abc import Callable

import pytest
from starlette.testclient import TestClient

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.shop import Shop
from loomwright.store.store import Store, open_store
from loomwright.web.settings import Settings
from tests.web.conftest import client_of, clock, fill, token_of

_SHOP = {
    "name": "Another Bench", "call": "Weekdays 9 to 5 at 555-0100", "paper": "Letter", "language": "fr",
    "length_unit": "inch", "wire_unit": "AWG", "minute_price": "1,25", "terms": "First term.\n\n  Second term.  \n",
}  # fmt: skip


def _base(client: TestClient) -> str:
    found = re.search(r'name="base" value="(\d+)"', client.get("/settings").text)
    assert found is not None
    return found[1]


def _shop(store: Store) -> Shop:
    text = store.at(store.list("shop", limit=1)[0].number).text
    found = read_document(Source(file="shop", text=text), MODELS).document
    assert isinstance(found, Shop)
    return found


def test_the_shop_is_kept_as_a_new_version(own: tuple[TestClient, Store]) -> None:
    client, store = own
    before = store.list("shop")[0]
    pinned, limits = _shop(store).pinned, _shop(store).local_limits
    answer = client.post("/settings", data={"token": token_of(client), "base": _base(client), **_SHOP})
    assert answer.headers["location"] == "/settings?saved=shop"
    shop = _shop(store)
    assert (shop.name, shop.paper, shop.length_unit, shop.wire_unit) == ("Another Bench", "Letter", "inch", "AWG")
    assert (shop.minute_price, shop.language) == (1.25, "fr")
    assert shop.terms == ("First term.", "Second term.")
    assert (shop.pinned, shop.local_limits) == (pinned, limits)  # what the form does not show stays as it was
    assert store.list("shop")[0].version == before.version + 1
    page = client.get("/settings?saved=shop").text
    assert 'value="Another Bench"' in page
    assert "Saved." in page


def test_two_who_change_the_shop_at_once_are_told(own: tuple[TestClient, Store]) -> None:
    client, _ = own
    base, token = _base(client), token_of(client)
    data = {"token": token, "base": base, **_SHOP}
    assert client.post("/settings", data=data).status_code == 303
    answer = client.post("/settings", data={**data, "name": "A third"})
    assert answer.status_code == 409
    assert "Somebody else saved first" in answer.text


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("minute_price", "much", "such as 0.8"), ("minute_price", "-1", "such as 0.8"), ("paper", "A3", "A4"),
        ("language", "xx", "en"), ("name", "", "name"), ("base", "x", "Load the page again."),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_and_not_kept(
    own: tuple[TestClient, Store], key: str, value: str, said: str
) -> None:
    client, store = own
    before = store.last_number()
    data = {"token": token_of(client), "base": _base(client), **_SHOP, key: value}
    answer = client.post("/settings", data=data)
    assert answer.status_code in (400, 422)
    assert said in answer.text
    assert store.last_number() == before


def test_a_browser_works_under_the_name_that_was_chosen(own: tuple[TestClient, Store]) -> None:
    client, store = own
    answer = client.post("/settings/who", data={"token": token_of(client), "name": "Q. Newcomer"})
    assert answer.headers["location"] == "/settings?saved=who"
    client.post("/settings", data={"token": token_of(client), "base": _base(client), **_SHOP})
    assert store.person(store.list("shop")[0].by).name == "Q. Newcomer"
    assert "Q. Newcomer" in client.get("/settings").text
    # Another browser may choose the same name; one that chose none does not take a buyer's.
    other = client_of(store)
    store.add_person("A. Buyer", contact="nobody's business")
    page = other.get("/settings").text
    assert "A. Buyer" not in page
    assert "None is chosen yet" in page
    other.post("/settings", data={"token": token_of(other, "/settings"), "base": _base(other), **_SHOP, "name": "B"})
    assert store.person(store.list("shop")[0].by).name in {"Q. Newcomer", "R. Bench"}


def test_a_name_that_is_not_of_the_shop_is_not_taken(own: tuple[TestClient, Store]) -> None:
    client, store = own
    buyer = store.add_person("A. Buyer").id
    for wrong in (buyer, "", "p-nobody"):
        answer = client.post("/settings/who", data={"token": token_of(client), "person": wrong})
        assert answer.status_code == 400


def test_a_backup_is_written_and_can_be_opened(own: tuple[TestClient, Store]) -> None:
    client, store = own
    assert "none yet" in client.get("/settings").text
    token = token_of(client)
    for _ in range(2):  # two within a second do not meet
        assert client.post("/settings/backup", data={"token": token}).headers["location"] == "/settings?saved=backup"
    page = client.get("/settings").text
    assert "Last backup:" in page
    assert "2 in all" in page
    folder = next(iter((store.folder or pytest.fail("no folder")).glob("*.kept"))) / "backups"
    with open_store(next(iter(folder.glob("*.store"))), clock=clock) as copy:
        assert copy.last_number() == store.last_number()
        assert copy.check() == store.check()


def test_the_network_is_told_as_it_is(make_store: Callable[[], Store]) -> None:
    store = make_store()
    fill(store)
    assert "This machine only." in client_of(store).get("/settings").text
    client = client_of(store, Settings(hosts=None, passphrase="a long passphrase"))
    client.post("/enter", data={"token": token_of(client, "/enter"), "passphrase": "a long passphrase"})
    assert "Open to the shop" in client.get("/settings").text
