"""Circuits in forms, two people at one circuit, and the wire walk that writes evidence."""

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.vehicle import Circuit, Vehicle
from loomwright.store.store import Store
from loomwright.web.circuit_form import circuit_slots, read_circuit
from loomwright.web.forms.draft import draft_of
from loomwright.web.forms.templates import TEMPLATES
from loomwright.web.forms.typed import typed_of
from loomwright.web.page_vehicles import some_choice
from tests.demonstration import vehicle
from tests.web.conftest import CAR, token_of

PATH = "/vehicles/kestrin-fallow/circuits/ignition-1"
NEW = "/vehicles/kestrin-fallow/circuits/new"
WALK = "/vehicles/kestrin-fallow/walk"


def _sent(text: str) -> dict[str, list[str]]:
    """Return what the big form of a page would send."""
    form = next(f for f in re.findall(r"<form[^>]*>.*?</form>", text, re.DOTALL) if 'name="base"' in f)
    sent: dict[str, list[str]] = {}
    for name, words in re.findall(r'<textarea[^>]*name="([^"]*)"[^>]*>(.*?)</textarea>', form, re.DOTALL):
        sent[unescape(name)] = [unescape(words)]
    for tag in re.findall(r"<input[^>]*>", form):
        name = re.search(r'name="([^"]*)"', tag)
        value = re.search(r'value="([^"]*)"', tag)
        if name is not None and ("checkbox" not in tag or " checked" in tag):
            sent.setdefault(unescape(name[1]), []).append(unescape(value[1]) if value else "")
    for name, options in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', form, re.DOTALL):
        chosen = re.search(r'<option(?: value="([^"]*)")? selected>([^<]*)', options)
        if chosen is not None:
            sent[name] = [unescape(chosen[1] or chosen[2])]
    return sent


def _kept(store: Store, id: str) -> Circuit:
    found = read_document(Source(file="v", text=store.latest("vehicle", "kestrin-fallow").text), MODELS).document
    assert isinstance(found, Vehicle)
    return next(c for c in found.circuits if c.id == id)


@pytest.mark.parametrize("name", sorted(n for n in demo_files() if n.startswith("vehicles/")))
def test_every_circuit_of_the_demo_comes_back_out_of_its_form_as_it_was(name: str) -> None:
    draft = draft_of("vehicle", name[9:-5], demo_files()[name])
    assert len(draft.circuits) == len(draft.items(("circuits",)))
    for index, circuit in draft.circuits:
        template = circuit.behaviour.template
        typed = typed_of(draft.items(("circuits",))[index], circuit_slots(draft, template))
        again, _, wrong = read_circuit(draft, circuit.id, template, typed)
        assert wrong == (), circuit.id
        assert again == circuit, circuit.id


@pytest.mark.parametrize("template", sorted(TEMPLATES))
def test_every_template_has_a_form(demo: TestClient, template: str) -> None:
    page = demo.get(NEW, params={"template": template})
    assert page.status_code == 200
    assert f"Behaves as: {template}" in page.text


def test_a_changed_circuit_is_a_new_version_and_comments_stay(own: tuple[TestClient, Store]) -> None:
    client, store = own
    before = store.latest("vehicle", "kestrin-fallow")
    sent = _sent(client.get(PATH).text)
    sent["note"] = ["Joins twice <b>behind</b> the dash."]
    sent["path.2.colour"], sent["path.2.area_mm2"] = ["white"], ["2,5"]
    found = client.post(PATH, data=sent)
    assert (found.status_code, found.headers["location"]) == (303, PATH)
    after = store.latest("vehicle", "kestrin-fallow")
    assert (after.version, after.base) == (2, before.number)
    circuit = _kept(store, "ignition-1")
    assert circuit.note == "Joins twice <b>behind</b> the dash."
    assert (circuit.path[1].colour, circuit.path[1].area_mm2) == ("white", 2.5)
    assert after.text.splitlines()[:3] == before.text.splitlines()[:3]
    changes = store.compare(before, after)
    # A text that is gone takes its translation along.
    assert {c.path.partition("[")[0] for c in changes} == {"circuits", "translations.fr"}
    assert {c.path.partition("]")[0] for c in changes if c.path.startswith("circuits")} == {"circuits[ignition-1"}
    assert [c.after for c in changes if c.path.startswith("translations")] == [None]
    assert "<b>" not in client.get(PATH).text


def test_a_new_circuit_fills_its_pin(own: tuple[TestClient, Store]) -> None:
    client, store = own
    sent = _sent(client.get(f"{NEW}?template=switched+feed&pin=ignition/8").text)
    sent |= {"id": ["seat-heat"], "function": ["seat"], "path.1.colour": ["white"], "behaviour.load_a": ["500 mA"]}
    found = client.post(NEW, data=sent)
    assert found.headers.get("location") == "/vehicles/kestrin-fallow/circuits/seat-heat", found.text
    assert _kept(store, "seat-heat").behaviour.load_a == 0.5  # type: ignore[union-attr]
    assert "seat-heat" in client.get("/vehicles/kestrin-fallow").text
    again = client.post(NEW, data=sent)
    assert (again.status_code, "which another circuit has" in again.text) == (422, True)


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("path.1.to", "ignition/99", "99"),
        ("path.2.closed_when", "moon full", "moon full"),
        ("path.2.length_m", "long", "&#39;long&#39;"),
        ("behaviour.fed_by", "nobody", "nobody"),
        ("behaviour.load_a", "-5", "-5"),
        ("only.year", "1200", "1200"),
        ("function", "flying", "flying"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_lost(
    own: tuple[TestClient, Store], key: str, value: str, words: str
) -> None:
    client, store = own
    sent = _sent(client.get(PATH).text)
    sent[key], sent["name"] = [value], ["typed <i>before</i>"]
    found = client.post(PATH, data=sent)
    assert found.status_code == 422
    assert "Not saved yet" in found.text
    assert words in found.text
    assert "typed &lt;i&gt;before&lt;/i&gt;" in found.text
    assert store.latest("vehicle", "kestrin-fallow").version == 1


def test_two_people_at_one_circuit(own: tuple[TestClient, Store]) -> None:
    client, store = own
    first, second = _sent(client.get(PATH).text), _sent(client.get(PATH).text)
    first["note"], second["note"] = ["the first"], ["the second"]
    assert client.post(PATH, data=first).status_code == 303
    told = client.post(PATH, data=second)
    assert told.status_code == 409
    assert "saved this circuit first" in told.text
    assert "the first" in told.text
    assert "the second" in told.text
    assert _kept(store, "ignition-1").note == "the first"
    assert client.post(PATH, data=_sent(told.text)).status_code == 303
    assert _kept(store, "ignition-1").note == "the second"


def test_two_people_at_two_circuits_do_not_disturb_each_other(own: tuple[TestClient, Store]) -> None:
    client, store = own
    other = "/vehicles/kestrin-fallow/circuits/horn"
    mine, theirs = _sent(client.get(PATH).text), _sent(client.get(other).text)
    mine["note"], theirs["note"] = ["mine"], ["theirs"]
    assert client.post(other, data=theirs).status_code == 303
    assert client.post(PATH, data=mine).status_code == 303
    assert (_kept(store, "ignition-1").note, _kept(store, "horn").note) == ("mine", "theirs")


def test_forms_of_nothing(own: tuple[TestClient, Store]) -> None:
    client, _ = own
    assert client.get("/vehicles/kestrin-fallow/circuits/none").status_code == 404
    assert client.get(f"{NEW}?template=magic").status_code == 400
    token = token_of(client, PATH)
    assert client.post(PATH, data={"token": token, "template": "keyed feed"}).status_code == 400
    assert client.post(PATH, data={"token": token, "base": "1"}).status_code == 400
    assert client.post(NEW, data={"token": token, "template": "magic"}).status_code == 400
    assert client.post(PATH, data={"token": token, "template": "keyed feed", "base": "9" * 12}).status_code == 409


class TestWalk:
    def test_a_look_becomes_evidence_and_the_next_pin_follows(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        page = client.get(f"{WALK}?{CAR}&at=ignition/2").text
        assert "about 12.4 V" in page
        sent = {"token": token_of(client, f"{WALK}?{CAR}&at=ignition/2"), "at": "ignition/2", "seen": "as drawn",
                "reading": "12.4 V key on", "by": "bench, R.B."}  # fmt: skip
        sent |= dict(p.split("=") for p in CAR.split("&"))
        found = client.post(WALK, data=sent)
        assert found.status_code == 303
        assert "at=ignition%2F3" in found.headers["location"]
        text = store.latest("evidence", "kestrin-fallow-evidence").text
        kept = read_document(Source(file="e", text=text), MODELS).document
        assert isinstance(kept, Evidence)
        record = kept.records[-1]
        assert (record.circuit, record.how, record.by, record.on.isoformat()) == (
            "ignition-1", "measured", "bench, R.B.", "2026-03-02"
        )  # fmt: skip
        assert (record.claims.colour, record.claims.pin, record.scope["year"]) == ("pink", "ignition/2", ("2014",))
        assert "# Who measured" in text

    def test_another_colour_contradicts(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        at = f"{WALK}?{CAR}&at=ignition/2"
        car = dict(p.split("=") for p in CAR.split("&"))
        sent = {"token": token_of(client, at), "at": "ignition/2", "seen": "other", "colour": "white <b>", **car}
        assert client.post(WALK, data=sent).status_code == 303
        page = client.get(at).text
        assert "records disagree" in page
        assert "<b>" not in page

    def test_saying_nothing_keeps_nothing(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        sent = {"token": token_of(client, f"{WALK}?at=ignition/2"), "at": "ignition/2", "seen": "other"}
        found = client.post(WALK, data=sent)
        assert (found.status_code, "Nothing was said" in found.text) == (422, True)
        assert store.latest("evidence", "kestrin-fallow-evidence").version == 1

    def test_airbag_pins_are_never_measured(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        page = client.get(f"{WALK}?at=column-airbag/1").text
        assert "An airbag wire." in page
        assert "name=\"reading\"" not in page
        sent = {"token": token_of(client, f"{WALK}?at=ignition/2"), "at": "column-airbag/1", "reading": "1"}
        assert client.post(WALK, data=sent).status_code == 409

    def test_evidence_begins_with_the_first_look(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        latest = store.latest("evidence", "kestrin-fallow-evidence")
        store.remove("evidence", latest.id, by=latest.by, base=latest)
        sent = {"token": token_of(client, f"{WALK}?at=ignition/2"), "at": "ignition/2", "reading": "0 V"}
        assert client.post(WALK, data=sent).status_code == 303
        assert store.has("evidence", latest.id)

    def test_a_pin_that_is_none(self, demo: TestClient) -> None:
        assert demo.get(f"{WALK}?at=ignition/8").status_code == 404
        assert demo.get(f"{WALK}?at=%3Cscript%3E").status_code == 404
        assert demo.get(WALK).status_code == 200


def test_the_nearest_car_is_chosen() -> None:
    assert some_choice(vehicle(), {"trim": "touring"})["trim"] == "touring"
