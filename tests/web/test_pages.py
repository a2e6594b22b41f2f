"""Every page over the demonstration shop, and what is said where there is nothing to show."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loomwright.store.store import Store
from loomwright.web.routes import ROUTES
from tests.web.conftest import CAR, FIT, client_of, token_of


def test_the_first_run_offers_the_demo_or_an_empty_shop(make_store: Callable[[], Store]) -> None:
    client = client_of(make_store())
    assert client.get("/").headers["location"] == "/begin"
    assert "Open the demonstration shop" in client.get("/begin").text


def test_the_demo_is_kept_with_every_document(make_store: Callable[[], Store]) -> None:
    store = make_store()
    client = client_of(store)
    sent = {"token": token_of(client, "/begin"), "choice": "demo", "name": "R. B."}
    assert client.post("/begin", data=sent).headers["location"] == "/"
    assert (store.count("shop"), store.count("kit"), store.count("vehicle"), store.count("evidence")) == (1, 2, 11, 11)
    assert "Kestrin Fallow" in client.get("/vehicles").text
    assert "saved by R. B. on" in client.get("/vehicles/kestrin-fallow").text
    assert client.get("/begin").headers["location"] == "/"
    assert client.post("/begin", data=sent).status_code == 409


def test_an_empty_shop_needs_a_name(make_store: Callable[[], Store]) -> None:
    store = make_store()
    client = client_of(store)
    token = token_of(client, "/begin")
    again = client.post("/begin", data={"token": token, "choice": "empty"})
    assert (again.status_code, "An empty shop needs a name." in again.text) == (400, True)
    assert client.post("/begin", data={"token": token, "choice": "other"}).status_code == 400
    assert client.post("/begin", data={"token": token, "choice": "empty", "shop": "Wren & Co"}).status_code == 303
    assert "Wren &amp; Co" in client.get("/").text
    assert "None yet." in client.get("/vehicles").text


def test_first_page_is_light(make_store: Callable[[], Store]) -> None:
    client = client_of(make_store())
    page = client.get("/begin")
    loaded = re.findall(r'(?:href|src)="(/static/[^"]+)"', page.text)
    assert len(loaded) == 3
    assert len(page.content) + sum(len(client.get(path).content) for path in loaded) < 150_000


@pytest.mark.parametrize(
    "path",
    ["/", "/vehicles", "/vehicles/kestrin-fallow", "/kits", "/kits/rookery-4", "/documents", "/fit", f"{FIT}?{CAR}"],
)
def test_pages_are_whole(demo: TestClient, path: str) -> None:
    page = demo.get(path)
    assert page.status_code == 200
    text = page.text
    assert "{{" not in text
    assert "{%" not in text
    assert " style=" not in text
    assert "<style" not in text
    assert re.findall(r"<script(?! src)", text) == []
    assert re.findall(r'\son[a-z]+="', text) == []
    assert len(re.findall("<h1", text)) == 1
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    labels = set(re.findall(r'<label[^>]* for="([^"]+)"', text))
    assert labels <= set(ids)
    used = set(re.findall(r'<use href="#([^"]+)"', text))
    assert used <= set(ids)


def test_the_family_is_shown_as_the_car_that_was_chosen(demo: TestClient) -> None:
    base = demo.get("/vehicles/kestrin-fallow?car.trim=base").text
    touring = demo.get(f"/vehicles/kestrin-fallow?{CAR}").text
    assert "Which car" in base
    assert base != touring
    assert 'value="touring" selected' in touring


def test_a_list_is_turned_page_by_page(demo: TestClient) -> None:
    rest = demo.get("/vehicles?after=norbeck-ploughline").text
    assert "Quillen Marram" in rest
    assert "Norbeck" not in rest
    assert "11 in all" in rest


@pytest.mark.parametrize("path", ["/vehicles/none", "/kits/none", "/fit/none/rookery-4", "/fit/kestrin-fallow/none"])
def test_what_is_not_kept_is_said(demo: TestClient, path: str) -> None:
    page = demo.get(path)
    assert page.status_code == 404
    assert "in this shop." in page.text


def test_an_address_that_is_nowhere(demo: TestClient) -> None:
    page = demo.get("/nowhere")
    assert (page.status_code, "There is no such page." in page.text) == (404, True)
    assert demo.get("/static/../app.py").status_code == 404
    assert demo.get("/static/settings.py").status_code == 404


def test_every_address_is_asked_by_some_test() -> None:
    here = "\n".join(path.read_text() for path in sorted(_folder().glob("test_*.py")))
    for name, said in (("FIT", FIT), ("EDIT", "/vehicles/kestrin-fallow/edit"), ("KIT", "/kits/rookery-4/edit"),
                       ("PAGE", "/vehicles/kestrin-fallow/import")):  # fmt: skip
        here = here.replace(f"{{{name}}}", said)
    for pattern in ROUTES:
        words = [re.escape(part) for part in re.split(r"\{[^}]+\}", pattern)]
        assert re.search(r"[^/\"' ]+".join(words), here), pattern


def _folder() -> Path:
    return Path(__file__).parent


class TestInstallation:
    def test_the_verdict_stands_in_two_sentences(self, demo: TestClient) -> None:
        assert "It fits. Nothing was found that must be put right." in demo.get(f"{FIT}?{CAR}").text

    def test_routes_say_why_and_why_not(self, demo: TestClient) -> None:
        text = demo.get(f"{FIT}?{CAR}").text
        assert "Not taken:" in text
        assert "Leads this car does not need" in text

    def test_a_refusal_cannot_be_clicked_away(self, demo: TestClient) -> None:
        page = demo.get("/fit/kestrin-wainage/rookery-4")
        assert page.status_code == 200
        assert "This kit must not be fitted to this car." in page.text
        assert "guide.html" not in page.text
        assert "Make it a job" not in page.text
        sheet = demo.get("/fit/kestrin-wainage/rookery-4/guide.html")
        assert (sheet.status_code, "there is no guide for it" in sheet.text) == (409, True)
        assert demo.get("/fit/kestrin-wainage/rookery-4/wiring-plan-a4.pdf").status_code == 409

    def test_choosing_both_leads_to_the_page(self, demo: TestClient) -> None:
        found = demo.get("/fit?vehicle=kestrin-fallow&kit=rookery-4")
        assert (found.status_code, found.headers["location"]) == (303, FIT)

    def test_states_change_what_wires_do(self, demo: TestClient) -> None:
        rest, crank = (demo.get(f"{FIT}?{CAR}&{more}").text for more in ("key=off", "phase=cranking"))
        said = [re.search(r'class="state-line".*?</p>', text, re.DOTALL) for text in (rest, crank)]
        assert "the kit has" not in said[0][0]  # type: ignore[index]
        assert "the kit has ignition and start on" in said[1][0]  # type: ignore[index]
        assert rest.count("<strong>live</strong>") < crank.count("<strong>live</strong>")

    def test_a_short_blows_its_fuse_and_an_open_wire_kills_what_it_feeds(self, demo: TestClient) -> None:
        short = demo.get(f"{FIT}?{CAR}&phase=running&short=lead:j:ignition/ignition/2").text
        assert "What that changes" in short
        assert re.search(r'class="blown"><strong>Kit fuse .*? opens: ', short)
        cut = demo.get(f"{FIT}?{CAR}&phase=running&open=lead:j:ignition/ignition/2").text
        assert "was live" in cut
        assert "<strong>Stop.</strong>" in cut

    def test_a_meter_shows_its_wire(self, demo: TestClient) -> None:
        text = demo.get(f"{FIT}?{CAR}&meter=pin:ignition/2&key=run").text
        assert "The meter on pin 2, pink" in text

    @pytest.mark.parametrize(
        "query",
        [
            "stage=flying", "key=left", "do=dance", "phase=landing", "open=lead:none", "short=pin:none/1", "meter=x",
            "stage=fitting&joined=99", "joined=²", "open=lead:%3Cscript%3E",
        ],
    )  # fmt: skip
    def test_words_that_name_nothing_are_refused(self, demo: TestClient, query: str) -> None:
        page = demo.get(f"{FIT}?{CAR}&{query}")
        assert page.status_code == 400
        assert "<script>" not in page.text

    def test_a_car_that_was_never_built_becomes_the_nearest_that_was(self, demo: TestClient) -> None:
        assert demo.get(f"{FIT}?car.year=1900&car.nonsense=1").status_code == 200


class TestSheets:
    def test_the_guide_is_one_file_with_its_own_policy(self, demo: TestClient) -> None:
        page = demo.get(f"{FIT}/guide.html?{CAR}")
        assert page.status_code == 200
        assert page.headers["content-security-policy"] == "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
        assert "default-src &#x27;none&#x27;" in page.text
        assert page.headers["content-disposition"].startswith("inline")
        saved = demo.get(f"{FIT}/guide.html?{CAR}&save=1")
        assert saved.headers["content-disposition"] == (
            'attachment; filename="rookery-4-kestrin-fallow-guide.html"'
        )
        assert saved.content == page.content

    def test_the_wiring_plan_is_printed(self, demo: TestClient) -> None:
        page = demo.get(f"{FIT}/wiring-plan-letter.pdf?{CAR}")
        assert page.headers["content-type"] == "application/pdf"
        assert page.content.startswith(b"%PDF-")

    @pytest.mark.parametrize("name", ["guide.exe", "other.html", "-a4.pdf", "guide"])
    def test_no_other_sheet_is_made(self, demo: TestClient, name: str) -> None:
        assert demo.get(f"{FIT}/{name}?{CAR}").status_code == 404
