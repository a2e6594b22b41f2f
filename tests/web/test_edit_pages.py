"""Sections of vehicles and kits in forms: entering, changing, removing, undoing, copying, two people, strange input."""

import re
from collections.abc import Callable
from html import unescape
from typing import Any

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.part_checking import check_part
from loomwright.documents.reading import Source, read_document
from loomwright.store.store import Store
from loomwright.web.forms.beside import path_of
from loomwright.web.forms.draft import draft_of
from loomwright.web.forms.sections import SECTIONS, refs_of, section_slots
from loomwright.web.forms.typed import raw_of, typed_of
from tests.web.conftest import client_of, token_of, vehicle_in

EDIT = "/vehicles/kestrin-fallow/edit"
KIT = "/kits/rookery-4/edit"


def _form(text: str) -> dict[str, list[str]]:
    """Return what the form of an entry would send."""
    form = next(
        f for f in re.findall(r"<form[^>]*>.*?</form>", text, re.DOTALL) if 'id="entry"' in f or 'id="wires"' in f
    )
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


@pytest.mark.parametrize("name", sorted(n for n in demo_files() if n.startswith(("vehicles/", "kits/"))))
def test_every_entry_of_the_demo_comes_back_out_of_its_form_as_it_was(name: str) -> None:
    kind = name.split("s/", maxsplit=1)[0]
    draft = draft_of(kind, name, demo_files()[name])
    for section in SECTIONS[kind].values():
        slots = section_slots(section, refs_of(draft, section), is_new=True)
        whole: Any = draft.at(*section.path) if section.path else draft.tree.value
        entries: list[Any] = [whole or {}] if section.single else whole or []
        for raw in entries:
            before = {section.wrapped: raw} if section.wrapped else raw
            kept = {key: value for key, value in before.items() if key in section.leave}
            again = check_part(section.model, {**kept, **raw_of(typed_of(before, slots), slots)})
            assert again.faults == (), (section.key, raw)
            assert again.part == check_part(section.model, before).part, (section.key, raw)


def test_a_vehicle_begins_with_its_badge(make_store: Callable[[], Store]) -> None:
    store = make_store()
    client = client_of(store)
    token = token_of(client, "/begin")
    client.post("/begin", data={"token": token, "choice": "empty", "shop": "Bench"})
    wrong = client.post("/vehicles/new", data={"token": token, "maker": "Aldermoor <i>", "fuel": "steam"})
    assert wrong.status_code == 422
    assert "expected text; fill it in" in unescape(wrong.text)
    assert "&lt;i&gt;" in wrong.text
    sent = {"token": token, "maker": "Aldermoor", "model": "Teal", "fuel": "petrol"}
    for id in ("aldermoor-teal", "aldermoor-teal-2"):
        made = client.post("/vehicles/new", data=sent)
        assert (made.status_code, made.headers["location"]) == (303, f"/vehicles/{id}/edit")
    page = client.get("/vehicles/aldermoor-teal/edit").text
    for words in ("Places: none yet", "Plugs: none yet", "Circuits: none yet"):
        assert words in page
    assert "Go on entering it" in client.get("/vehicles/aldermoor-teal").text
    assert client.get("/vehicles").text.count("Aldermoor Teal") == 2


def test_an_entry_is_added_changed_and_taken_away_and_comes_back(own: tuple[TestClient, Store]) -> None:
    client, store = own
    sent = _form(client.get(f"{EDIT}/places/new").text) | {
        "name": ["behind the glove box"], "words": ["Right of the <b>heater</b>."], "x": ["80"], "y": ["50,5"],
        "tools": ["trim tool\n\nhand lamp"],
    }  # fmt: skip
    assert client.post(f"{EDIT}/places/new", data=sent).headers["location"] == f"{EDIT}#places"
    place = vehicle_in(store, "kestrin-fallow").places[-1]
    assert (place.id, place.y, place.tools) == ("behind-the-glove-box", 50.5, ("trim tool", "hand lamp"))
    nth = len(vehicle_in(store, "kestrin-fallow").places)
    changed = _form(client.get(f"{EDIT}/places/{nth}").text) | {"minutes": ["9"]}
    assert client.post(f"{EDIT}/places/{nth}", data=changed).status_code == 303
    assert vehicle_in(store, "kestrin-fallow").places[-1].minutes == 9
    assert vehicle_in(store, "kestrin-fallow").places[-1].id == "behind-the-glove-box"
    gone = client.post(f"{EDIT}/places/{nth}/remove", data={k: v for k, v in changed.items() if k in ("token",)} | {
        "base": str(store.latest("vehicle", "kestrin-fallow").number)})  # fmt: skip
    assert gone.status_code == 303
    assert len(vehicle_in(store, "kestrin-fallow").places) == nth - 1
    versions = client.get("/vehicles/kestrin-fallow/versions").text
    assert "Bring version 3 back" in versions
    assert "places[behind-the-glove-box].minutes: new, 9.0" in unescape(versions)
    assert "<b>heater" not in versions
    numbers = {e.version: e.number for e in store.revisions("vehicle", "kestrin-fallow")}
    back = {"token": changed["token"], "number": str(numbers[3]), "latest": str(numbers[4])}
    assert client.post("/vehicles/kestrin-fallow/versions", data=back).status_code == 303
    assert vehicle_in(store, "kestrin-fallow").places[-1].minutes == 9
    # The page is too old now, and what it does not know it must not put away.
    assert client.post("/vehicles/kestrin-fallow/versions", data=back).status_code == 409
    assert client.post("/vehicles/kestrin-fallow/versions", data={**back, "number": "x"}).status_code == 400


def test_what_is_in_order_does_not_get_out_of_it_by_accident(own: tuple[TestClient, Store]) -> None:
    client, store = own
    sent = _form(client.get(f"{EDIT}/plugs/1").text)
    sent["face.rows"] = ["1-4\n5 6"]
    told = client.post(f"{EDIT}/plugs/1", data=sent)
    assert told.status_code == 422
    assert "Everything was in order before this change" in told.text
    assert "1-4\n5 6" in told.text
    assert store.latest("vehicle", "kestrin-fallow").version == 1
    kept = client.post(f"{EDIT}/plugs/1", data=_form(told.text) | {"anyway": ["yes"]})
    assert kept.status_code == 303
    page = client.get("/vehicles/kestrin-fallow/edit").text
    assert "Still to be entered or put right" in page
    assert "Go on entering it" in client.get("/vehicles/kestrin-fallow").text


@pytest.mark.parametrize(
    ("section", "key", "value", "words"),
    [
        ("plugs/1", "place", "moon", "'moon'"),
        ("plugs/1", "face.rows", "", "fill it in"),
        ("plugs/1", "housing", "Big One", "write 'big-one'"),
        ("plugs/2", "seen_turn", "45", "expected one of 0, 90, 180, 270"),
        ("hazards/1", "kind", "ghost", "ghost"),
        ("axes/1", "values.2.cue", "", "Row 2, What the buyer can see"),
        ("traits/1", "idle_rpm", "fast", "'fast'"),
        ("places/1", "x", "120", "100"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(
    own: tuple[TestClient, Store], section: str, key: str, value: str, words: str
) -> None:
    client, store = own
    sent = _form(client.get(f"{EDIT}/{section}").text)
    sent[key] = [value]
    told = client.post(f"{EDIT}/{section}", data=sent)
    assert told.status_code == 422
    said = [unescape(re.sub("<[^>]+>", "", fault)) for fault in re.findall(r'<ul class="fault".*?</ul>', told.text)]
    everything = " ".join([*said, unescape(told.text)]) if key == "place" else " ".join(said)
    assert words in everything, said
    assert store.latest("vehicle", "kestrin-fallow").version == 1


def test_a_plug_is_drawn_as_it_was_typed_and_nothing_is_kept(own: tuple[TestClient, Store]) -> None:
    client, store = own
    sent = _form(client.get(f"{EDIT}/plugs/new").text)
    assert "drawn here as soon as" in client.get(f"{EDIT}/plugs/new").text
    drawn = client.post(f"{EDIT}/plugs/new", data=sent | {"face.rows": ["1-3\n4-6"], "do": ["draw"]}).text
    assert "As it is seen with the plug in place" in drawn
    page = "/vehicles/kestrin-fallow/plugs/body-b/fill"
    rows = _form(client.get(page).text)
    assert rows["w.1.colour"] == ["orange"]
    typed = client.post(page, data=rows | {"w.5.colour": ["violet"], "do": ["draw"]})
    assert 'value="violet"' in typed.text
    assert store.latest("vehicle", "kestrin-fallow").version == 1


def test_a_plug_is_filled_and_a_wire_in_it_changed(own: tuple[TestClient, Store]) -> None:
    client, store = own
    page = "/vehicles/kestrin-fallow/plugs/body-b/fill"
    sent = _form(client.get(page).text)
    sent |= {
        "w.1.colour": ["tan"], "w.5.colour": ["violet"], "w.5.stripe": ["white"], "w.5.area_mm2": ["0.8"],
        "w.5.function": ["lighting: foot lamp"], "w.5.fuse_a": ["5"], "do": ["keep"],
    }  # fmt: skip
    assert client.post(page, data=sent).headers["location"] == f"{EDIT}#plug-body-b"
    car = vehicle_in(store, "kestrin-fallow")
    assert next(c for c in car.circuits if c.id == "motor-lock").path[2].colour == "tan"
    lamp = car.circuits[-1]
    assert (lamp.name, lamp.path[0].fuse_a) == ("foot lamp", 5)
    assert (lamp.path[2].from_, lamp.path[2].stripe) == ("body-b/5", "white")
    assert "# Body-module plug B" in store.latest("vehicle", "kestrin-fallow").text
    again = _form(client.get(page).text) | {"w.8.colour": ["red"], "do": ["keep"]}
    told = client.post(page, data=again)
    assert told.status_code == 422
    assert "expected what the wire is for" in told.text
    assert client.get("/vehicles/kestrin-fallow/plugs/none/fill").status_code == 404


def test_circuits_are_entered_in_rows(own: tuple[TestClient, Store]) -> None:
    client, store = own
    page = "/vehicles/kestrin-fallow/circuits"
    sent = _form(client.get(page).text)
    wrong = client.post(page, data=sent | {"w.1.pin": ["body-b/99"], "w.1.colour": ["red"], "w.1.function": ["lock"]})
    assert "expected a pin of this car" in wrong.text
    right = sent | {"w.1.pin": ["body-b/5"], "w.1.colour": ["red"], "w.1.function": ["seat"], "do": ["keep"]}
    assert client.post(page, data=right).status_code == 303
    assert vehicle_in(store, "kestrin-fallow").circuits[-1].id == "seat"


def test_a_circuit_is_taken_away(own: tuple[TestClient, Store]) -> None:
    client, store = own
    sent = {"token": token_of(client, EDIT.replace("/edit", "/circuits/horn")), "template": "relay trigger",
            "base": str(store.latest("vehicle", "kestrin-fallow").number)}  # fmt: skip
    # The evidence speaks of the horn, so without it the vehicle is not in order.
    told = client.post("/vehicles/kestrin-fallow/circuits/horn/remove", data=sent)
    assert told.status_code == 422
    assert "all the same" in told.text
    gone = client.post("/vehicles/kestrin-fallow/circuits/horn/remove", data=sent | {"anyway": "yes"})
    assert gone.status_code == 303
    assert all(c.id != "horn" for c in vehicle_in(store, "kestrin-fallow").circuits)


def test_two_people_at_one_entry_and_at_two(own: tuple[TestClient, Store]) -> None:
    client, store = own
    mine, theirs = _form(client.get(f"{EDIT}/places/1").text), _form(client.get(f"{EDIT}/places/1").text)
    other = _form(client.get(f"{EDIT}/hazards/1").text)
    assert client.post(f"{EDIT}/places/1", data=theirs | {"minutes": ["3"]}).status_code == 303
    assert client.post(f"{EDIT}/hazards/1", data=other | {"words": ["Theirs too."]}).status_code == 303
    told = client.post(f"{EDIT}/places/1", data=mine | {"minutes": ["4"]})
    assert told.status_code == 409
    assert "saved this place first" in told.text
    assert client.post(f"{EDIT}/places/1", data=_form(told.text)).status_code == 303
    car = vehicle_in(store, "kestrin-fallow")
    assert (car.places[0].minutes, car.hazards[0].words) == (4, "Theirs too.")


def _kit(store: Store, id: str) -> Kit:
    found = read_document(Source(file=id, text=store.latest("kit", id).text), MODELS).document
    assert isinstance(found, Kit)
    return found


def test_a_kit_is_copied_and_its_firmware_and_settings_changed(own: tuple[TestClient, Store]) -> None:
    client, store = own
    token = token_of(client, "/kits/new")
    assert client.post("/kits/new", data={"token": token, "of": "rookery-4", "name": "Rookery 5"}).status_code == 422
    made = client.post("/kits/new", data={"token": token, "of": "rookery-4", "name": "Rookery 5", "revision": "A"})
    assert made.headers["location"] == "/kits/rookery-5/edit"
    edit = made.headers["location"]
    sent = _form(client.get(f"{edit}/controller/1").text) | {"version": ["2.7"]}
    assert client.post(f"{edit}/controller/1", data=sent).status_code == 303
    sent = _form(client.get(f"{edit}/settings/2").text) | {
        "choices.4.value": ["25 min"],
        "choices.4.means": ["25 minutes."],
    }
    assert client.post(f"{edit}/settings/2", data=sent).status_code == 303
    sent = _form(client.get(f"{edit}/dialogues/1").text) | {"steps.1.reply": ["The parking lamps flash twice."]}
    assert client.post(f"{edit}/dialogues/1", data=sent).status_code == 303
    sent = _form(client.get(f"{edit}/leads/2").text) | {"label": ["BRAKE IN"], "colour": ["white"], "stripe": ["grey"]}
    assert client.post(f"{edit}/leads/2", data=sent).status_code == 303
    sent = _form(client.get(f"{edit}/kit/1").text) | {"wanted": ["lock", "unlock"]}
    assert client.post(f"{edit}/kit/1", data=sent).status_code == 303
    kit, old = _kit(store, "rookery-5"), _kit(store, "rookery-4")
    assert (kit.name, kit.revision, kit.controller.version, kit.wanted) == ("Rookery 5", "A", "2.7", ("lock", "unlock"))
    assert kit.controller.terminals == old.controller.terminals
    assert [c.value for c in kit.settings[1].choices] == ["10 min", "15 min", "20 min", "25 min"]
    assert kit.dialogues[0].steps[0].reply == "The parking lamps flash twice."
    assert (kit.leads[1].label, kit.leads[1].stripe) == ("BRAKE IN", "grey")
    assert kit.leads[0] == old.leads[0]
    assert "# Plug c1: heavy." in store.latest("kit", "rookery-5").text
    assert client.get("/kits/rookery-5/versions").status_code == 200


def test_a_kit_of_the_demonstration_comes_with_one_press(make_store: Callable[[], Store]) -> None:
    store = make_store()
    client = client_of(store)
    token = token_of(client, "/begin")
    client.post("/begin", data={"token": token, "choice": "empty", "shop": "Bench"})
    assert client.post("/kits/new", data={"token": token, "take": "dunlin-7"}).headers["location"] == "/kits/dunlin-7"
    assert _kit(store, "dunlin-7").name == "Dunlin 7"
    assert client.post("/kits/new", data={"token": token, "take": "dunlin-7"}).status_code == 409
    assert client.post("/kits/new", data={"token": token, "take": "../shop"}).status_code == 404
    empty = client.post("/kits/new", data={"token": token, "name": "Own", "revision": "A"})
    assert "Terminals of the controller: none yet" in client.get(empty.headers["location"]).text


@pytest.mark.parametrize("path", [f"{KIT}/kit/1/remove", f"{KIT}/controller/1/remove"])
def test_what_a_kit_cannot_be_without(own: tuple[TestClient, Store], path: str) -> None:
    client, store = own
    sent = {"token": token_of(client, f"{KIT}/kit/1"), "base": str(store.latest("kit", "rookery-4").number)}
    assert client.post(path, data=sent).status_code == 409
    services = {**sent, "anyway": "yes"}
    assert client.post(f"{KIT}/services/1/remove", data=services).status_code == 303


@pytest.mark.parametrize(
    "path",
    [
        f"{EDIT}/none/new",
        f"{EDIT}/plugs/99",
        f"{EDIT}/plugs/x",
        f"{EDIT}/plugs/0",
        "/vehicles/none/edit",
        f"{KIT}/plugs/new",
    ],
)
def test_forms_of_nothing(demo: TestClient, path: str) -> None:
    assert demo.get(path).status_code == 404


@pytest.mark.parametrize(
    ("field", "path"),
    [
        ("circuits[lock].path[2].colour", ("circuits", "lock", "path", 2, "colour")),
        ("plugs[body-a].face.rows[0][3]", ("plugs", "body-a", "face", "rows", 0, 3)),
        ('only["a b"]', ("only", "a b")),
        ("", ()),
    ],
)
def test_fields_of_messages_are_paths(field: str, path: tuple[str | int, ...]) -> None:
    assert path_of(field) == path


def test_a_changed_text_takes_its_translations_along_and_no_others(own: tuple[TestClient, Store]) -> None:
    client, store = own
    before = store.latest("vehicle", "kestrin-fallow").text
    sent = _form(client.get(f"{EDIT}/places/1").text)
    assert f'text: "{sent["words"][0]}"' in before
    assert client.post(f"{EDIT}/places/1", data=sent | {"words": ["Somewhere else."]}).status_code == 303
    after = store.latest("vehicle", "kestrin-fallow").text
    assert sent["words"][0] not in after
    assert after.count("said:") == before.count("said:") - 1


def test_of_many_versions_the_newest_are_compared_and_any_other_when_asked(own: tuple[TestClient, Store]) -> None:
    client, store = own
    for n in range(7):
        sent = _form(client.get(f"{EDIT}/places/1").text)
        assert client.post(f"{EDIT}/places/1", data=sent | {"minutes": [str(20 + n)]}).status_code == 303
    assert store.latest("vehicle", "kestrin-fallow").version == 8
    page = client.get("/vehicles/kestrin-fallow/versions").text
    assert "25.0 became 26.0" in page
    assert "20.0 became 21.0" not in page
    assert "20.0 became 21.0" in client.get("/vehicles/kestrin-fallow/versions?look=3").text
