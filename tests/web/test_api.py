"""The HTTP interface: what other programs read, compute and save, and the one body of every error."""

import json
from pathlib import Path
from typing import Any

import pytest
from httpx2 import Response
from pydantic import BaseModel
from starlette.testclient import TestClient

from loomwright.cli.main import main
from loomwright.documents.demo import demo_files
from loomwright.health.log import LOG
from loomwright.store.store import Store
from loomwright.web.api import results
from loomwright.web.api.errors import CODES, ErrorBody
from loomwright.web.api.openapi import openapi
from loomwright.web.api.table import API
from loomwright.web.settings import Settings
from tests.web.conftest import client_of
from tools.reference.json_keys import keys_of

CHOICE = {"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"}
PAIR = {"vehicle": "kestrin-fallow", "kit": "rookery-4", "choice": CHOICE}
EVIDENCE = "/api/documents/evidence/kestrin-fallow-evidence"
PAIR_FILES = ("vehicles/kestrin-fallow.yaml", "kits/rookery-4.yaml")


def _error(found: Response, status: int, code: str) -> dict[str, Any]:
    """Return an error, seen to have the one shape."""
    assert found.status_code == status, found.text
    assert found.headers["content-type"] == "application/json"
    body: dict[str, Any] = found.json()
    assert list(body) == ["code", "message", "faults", "conflict"]
    for fault in body["faults"]:
        assert list(fault) == ["file", "line", "field", "found", "expected", "advice"]
    assert body["code"] == code
    assert CODES[code][0] == status
    assert body["message"]
    return body


class TestErrors:
    """Every kind of refusal has the same body."""

    def test_addresses_and_methods(self, demo: TestClient) -> None:
        for path in ("/api/", "/api/nowhere", "/api/health/", "/api/documents/vehicle/a/b", "/api/jobs/..%2f..%2fetc"):
            _error(demo.get(path), 404, "not-found")
        found = demo.delete("/api/documents/vehicle/kestrin-fallow")
        _error(found, 405, "wrong-method")
        assert set(found.headers["allow"].split(", ")) == {"GET", "HEAD", "PUT"}
        assert demo.head("/api/health").status_code == 200

    def test_what_is_not_there(self, demo: TestClient) -> None:
        for path in ("documents/vehicle/none", "documents/kit/none/revisions", "jobs/none", "documents/shop/none",
                     "documents/vehicle/kestrin-fallow/revisions/999999"):  # fmt: skip
            _error(demo.get(f"/api/{path}"), 404, "not-found")
        _error(demo.post("/api/match", json={**PAIR, "vehicle": "none"}), 404, "not-found")

    def test_bodies_that_are_no_json(self, demo: TestClient) -> None:
        for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""):
            found = demo.post("/api/match", content=json.dumps(PAIR), headers={"content-type": kind})
            _error(found, 415, "no-json")
        for content in (b"", b"{", b"\xff\xfe", b"{'a': 1}", b"[" * 100_000, b'{"kit": "\\ud800"}'):
            found = demo.post("/api/match", content=content, headers={"content-type": "application/json"})
            _error(found, 400, "cannot-be-read")

    def test_every_wrong_field_is_told_at_once(self, demo: TestClient) -> None:
        sent = {"vehicle": "A B", "kit": 4, "choice": {"year": 2014}, "wheels": 4}
        told = _error(demo.post("/api/match", json=sent), 422, "faults")
        assert told["message"] == "Found 4 faults. Correct them, then ask again."
        assert [(f["file"], f["field"]) for f in told["faults"]] == [
            ("body", "vehicle"), ("body", "kit"), ("body", "choice.year"), ("body", "wheels"),
        ]  # fmt: skip
        assert told["faults"][1] == {
            "file": "body", "line": None, "field": "kit", "found": "4", "expected": "a valid string",
            "advice": "correct it",
        }  # fmt: skip
        told = _error(demo.get("/api/documents/boat?limit=0&x=1"), 422, "faults")
        assert [(f["file"], f["field"]) for f in told["faults"]] == [
            ("path", "kind"), ("query", "limit"), ("query", "x"),
        ]  # fmt: skip
        _error(demo.get("/api/jobs?limit=1&limit=2"), 422, "faults")
        _error(demo.get("/api/documents/vehicle?kind=kit"), 422, "faults")
        assert _error(demo.post("/api/match", json=[]), 422, "faults")["faults"][0]["field"] == ""

    def test_a_choice_that_names_no_car(self, demo: TestClient) -> None:
        for choice in ({}, {**CHOICE, "year": "1899"}, {**CHOICE, "wings": "2"}, {"year": "2014"}):
            _error(demo.post("/api/match", json={**PAIR, "choice": choice}), 400, "no-such-choice")
        sent = {"vehicle": "kestrin-fallow", "kit": "rookery-4", "answers": {"year": "1899"}}
        _error(demo.post("/api/order-check", json=sent), 400, "no-such-choice")

    def test_sizes_hosts_and_pages_of_other_sites(self, demo_store: Store) -> None:
        client = client_of(demo_store, Settings(largest_upload=2000))
        _error(client.post("/api/match", json={"vehicle": "x" * 3000}), 413, "too-large")

        def parts() -> Any:
            yield from [b"x" * 900] * 4

        json_type = {"content-type": "application/json"}
        _error(client.post("/api/match", content=parts(), headers=json_type), 413, "too-large")
        _error(client.get("/api/health", headers={"host": "evil.example"}), 421, "wrong-host")
        for headers in (
            {"origin": "https://evil.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"},
            {"sec-fetch-site": "same-site"}, {"origin": "http://127.0.0.1:9"},
        ):  # fmt: skip
            _error(client.post("/api/match", json=PAIR, headers=headers), 403, "foreign-page")
        assert client.post("/api/match", json=PAIR, headers={"origin": "http://127.0.0.1"}).status_code == 200
        answer = client.options("/api/match", headers={"origin": "https://evil.example"})
        _error(answer, 405, "wrong-method")
        assert not [name for name in answer.headers if name.startswith("access-control")]

    def test_a_fault_of_the_program_is_told_without_its_insides(
        self, demo_store: Store, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
    ) -> None:
        def broken(*_: Any, **__: Any) -> None:
            raise ZeroDivisionError("the secret of the shop")

        monkeypatch.setattr("loomwright.web.desk.Desk.shop_name", broken)
        with caplog.at_level("INFO", logger=LOG.name):
            told = _error(client_of(demo_store, Settings()).get("/api/health"), 500, "broken")
        assert "secret" not in json.dumps(told)
        assert "GET /api/health ZeroDivisionError at test_api.py" in caplog.text
        assert "secret" not in caplog.text

    def test_a_store_without_a_shop(self, make_store: Any) -> None:
        client = client_of(make_store())
        assert client.get("/api/health").json()["shop"] == ""
        assert client.get("/api/documents/vehicle").json() == {"documents": [], "next": None, "total": 0}
        text = demo_files()["vehicles/kestrin-fallow.yaml"]
        assert client.put("/api/documents/vehicle/kestrin-fallow", json={"text": text, "base": None}).status_code == 200
        text = demo_files()["kits/rookery-4.yaml"]
        assert client.put("/api/documents/kit/rookery-4", json={"text": text, "base": None}).status_code == 200
        _error(client.post("/api/match", json=PAIR), 409, "not-possible")


class TestDocuments:
    def test_a_list_comes_page_by_page(self, demo: TestClient, demo_store: Store) -> None:
        ids, after = [], ""
        while True:
            page = demo.get(f"/api/documents/vehicle?limit=4{after}").json()
            ids += [line["id"] for line in page["documents"]]
            if page["next"] is None:
                break
            after = f"&after={page['next']}"
        assert ids == [entry.id for entry in demo_store.list("vehicle")]
        assert len(ids) == page["total"] > 4

    def test_a_document_is_its_text_its_values_and_its_faults(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        found = client.get("/api/documents/vehicle/kestrin-fallow").json()
        assert found["text"] == demo_files()["vehicles/kestrin-fallow.yaml"]
        assert found["document"]["names"][0]["model"] == "Fallow"
        assert found["faults"] == []
        base = store.latest("vehicle", "kestrin-fallow")
        store.save("vehicle", base.id, base.text.replace("kind: vehicle", "kind: vehicle\nwheels: 4", 1), by=base.by,
                   base=base)  # fmt: skip
        found = client.get("/api/documents/vehicle/kestrin-fallow").json()
        assert found["document"] is None
        assert [(f["field"], f["file"]) for f in found["faults"]] == [("wheels", "vehicle/kestrin-fallow")]
        _error(client.post("/api/match", json=PAIR), 422, "faults")

    def test_a_save_is_a_revision_that_can_be_read_and_compared(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        old = client.get(EVIDENCE).json()
        by = store.add_person("Second bench").id
        sent = {"text": old["text"].replace("2024-03-12", "2024-03-13"), "base": old["number"], "by": by}
        new = client.put(EVIDENCE, json=sent).json()
        assert (new["version"], new["base"], new["by"]) == (2, old["number"], by)
        assert new["text"] == sent["text"]
        assert client.put(EVIDENCE, json=sent).json() == new  # no answer heard, asked again: saved once
        listed = client.get(f"{EVIDENCE}/revisions").json()["revisions"]
        assert [r["number"] for r in listed] == [old["number"], new["number"]]
        read = client.get(f"{EVIDENCE}/revisions/{old['number']}").json()
        assert read["text"] == old["text"]
        changes = client.get(f"{EVIDENCE}/compare?before={old['number']}&after={new['number']}").json()["changes"]
        assert changes
        assert {(c["before"], c["after"]) for c in changes} == {("2024-03-12", "2024-03-13")}
        other = store.latest("kit", "rookery-4").number
        _error(client.get(f"{EVIDENCE}/compare?before={old['number']}&after={other}"), 404, "not-found")

    def test_who_is_slower_gets_both_texts_and_can_merge(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        old = client.get(EVIDENCE).json()
        mine = old["text"] + "# mine\n"
        theirs = "# theirs\n" + old["text"]
        saved = client.put(EVIDENCE, json={"text": theirs, "base": old["number"]}).json()
        told = _error(client.put(EVIDENCE, json={"text": mine, "base": old["number"]}), 409, "conflict")
        conflict = told["conflict"]
        assert conflict == {
            "base": old["number"], "theirs": saved["number"], "theirs_text": theirs, "yours_text": mine,
            "merged_text": "# theirs\n" + old["text"] + "# mine\n",
        }  # fmt: skip
        assert store.latest("evidence", old["id"]).text == theirs
        sent = {"text": conflict["merged_text"], "base": conflict["theirs"]}
        assert client.put(EVIDENCE, json=sent).json()["version"] == 3
        new = _error(client.put(EVIDENCE, json={"text": mine, "base": None}), 409, "conflict")
        assert new["conflict"]["merged_text"] is None

    def test_what_is_no_document_is_not_kept(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        last, base = store.recent(limit=1)[0].number, client.get(EVIDENCE).json()["number"]
        told = _error(client.put(EVIDENCE, json={"text": "format: 1\nkind: evidence\n", "base": base}), 422, "faults")
        assert {f["file"] for f in told["faults"]} == {"evidence/kestrin-fallow-evidence"}
        other = demo_files()["kits/rookery-4.yaml"]
        told = _error(client.put(EVIDENCE, json={"text": other, "base": base}), 422, "faults")
        assert [(f["field"], f["found"], f["expected"]) for f in told["faults"]] == [("kind", "'kit'", "'evidence'")]
        own_text = client.get(EVIDENCE).json()["text"]
        _error(client.put(EVIDENCE, json={"text": own_text, "base": 1_000_000}), 404, "not-found")
        _error(client.put(EVIDENCE, json={"text": own_text, "base": base, "by": "p-nobody"}), 404, "not-found")
        _error(client.put(EVIDENCE, json={"text": own_text}), 422, "faults")
        assert store.recent(limit=1)[0].number == last

    def test_json_is_a_document_too(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        found = client.get(EVIDENCE).json()
        sent = {"format": 1, **{k: v for k, v in found["document"].items() if k not in {"format"}}}
        text = json.dumps({"format": sent.pop("format"), **sent}, indent=1)
        saved = client.put(EVIDENCE, json={"text": text, "base": found["number"]})
        assert saved.status_code == 200, saved.text
        assert saved.json()["document"] == found["document"]


class TestComputed:
    def test_match_and_readings_are_what_the_command_line_prints(
        self, demo: TestClient, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        main(["demo", str(tmp_path / "shop")])
        words = [str(tmp_path / "shop" / name) for name in PAIR_FILES]
        chosen = ["--with", *(f"{axis}={value}" for axis, value in CHOICE.items())]
        for command in ("match", "readings"):
            capsys.readouterr()
            main([command, *words, *chosen, "--json"])
            assert demo.post(f"/api/{command}", json=PAIR).json() == json.loads(capsys.readouterr().out)
        capsys.readouterr()
        main(["ask", *words, "--answer", "year=2014", "engine=3.3", "--json"])
        sent = {**PAIR, "answers": {"year": "2014", "engine": "3.3"}}
        del sent["choice"]
        assert demo.post("/api/order-check", json=sent).json() == json.loads(capsys.readouterr().out)

    def test_a_refused_kit(self, demo: TestClient) -> None:
        vehicle = demo.get("/api/documents/vehicle/kestrin-wainage").json()["document"]
        choice = {axis["id"]: axis["values"][0]["value"] for axis in vehicle["axes"]}
        sent = {**PAIR, "vehicle": "kestrin-wainage", "choice": choice}
        found = demo.post("/api/match", json=sent).json()
        assert found["verdict"] == "does-not-fit"
        assert found["refusal"]["reason"]
        _error(demo.post("/api/readings", json=sent), 409, "not-possible")
        _error(demo.post("/api/jobs", json=sent), 409, "not-possible")

    def test_the_battery_counts(self, demo: TestClient) -> None:
        low, high = (demo.post("/api/readings", json={**PAIR, "battery_v": v}).json() for v in (11.8, 12.8))
        assert (low["battery_v"], high["battery_v"]) == (11.8, 12.8)
        assert low["readings"] != high["readings"]
        for volts in ("10.9", "15.1", '"12"', "null", "NaN", "Infinity", "true"):
            sent = json.dumps(PAIR)[:-1] + f', "battery_v": {volts}}}'
            found = demo.post("/api/readings", content=sent, headers={"content-type": "application/json"})
            _error(found, 422, "faults")


class TestJobs:
    def test_a_job_and_its_guide(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        begun = client.post("/api/jobs", json={**PAIR, "buyer": "A. Buyer", "contact": "a@example.org", "note": "n"})
        job = begun.json()
        assert (job["vehicle"], job["choice"], job["verdict"], job["note"]) == ("kestrin-fallow", CHOICE, "fits", "n")
        assert "A. Buyer" not in begun.text
        assert store.person(job["buyer"]).name == "A. Buyer"
        assert job["by"] == store.latest("kit", "rookery-4").by  # not the buyer
        issued = client.post(f"/api/jobs/{job['id']}/issues", json={}).json()
        assert issued["id"] == f"{job['id']}.1"
        names = [sheet["name"] for sheet in issued["sheets"]]
        assert names == [f"guide-{job['id']}{end}" for end in ("-a4.pdf", "-letter.pdf", ".html")]
        assert client.get(issued["sheets"][0]["href"]).content.startswith(b"%PDF")
        read = client.get(f"/api/jobs/{job['id']}").json()
        assert read["issues"] == [issued]
        listed = client.get("/api/jobs").json()
        assert [line["id"] for line in listed["jobs"]] == [job["id"]]
        assert listed["total"] == 1

    def test_jobs_come_page_by_page(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        made = [client.post("/api/jobs", json=PAIR).json()["id"] for _ in range(3)]
        first = client.get("/api/jobs?limit=2").json()
        second = client.get(f"/api/jobs?limit=2&before={first['next']}").json()
        assert [j["id"] for j in (*first["jobs"], *second["jobs"])] == made[::-1]
        assert second["next"] is None


def test_search_and_health(demo: TestClient) -> None:
    hits = demo.get("/api/search?q=fallow").json()["hits"]
    assert ("vehicle", "kestrin-fallow") in {(h["kind"], h["id"]) for h in hits}
    assert demo.get("/api/search?q=").json() == {"hits": []}
    assert demo.get("/api/search?q=%00%e2%80%ae").json() == {"hits": []}
    health = demo.get("/api/health").json()
    assert (health["status"], health["jobs"]) == ("ok", 0)
    assert health["documents"]["vehicle"] > 5


class TestTable:
    def test_each_entry_is_in_the_description_and_nothing_else(self) -> None:
        told = {(m.upper(), path) for path, by in openapi()["paths"].items() for m in by}
        assert told == {(route.method, route.path) for route in API}
        names = [route.name for route in API]
        assert len(names) == len(set(names))

    def test_the_description_is_served(self, demo: TestClient) -> None:
        assert demo.get("/api/openapi.json").json() == json.loads(json.dumps(openapi()))

    def test_a_route_that_writes_takes_a_body(self) -> None:
        # Without one a page of another site could send the request: nothing but the type of the body stops it.
        assert [route.path for route in API if (route.method != "GET") != (route.body is not None)] == []

    def test_every_code_is_one_that_can_be_told(self) -> None:
        for code in CODES:
            ErrorBody(code=code, message="x", faults=[], conflict=None)


# Function that makes a part of the printed objects -> its model here.
_MODELS: dict[str, type[BaseModel]] = {
    "match_object": results.MatchResult, "_route": results.RouteResult, "_joint": results.JointResult,
    "_rejected": results.RejectedWay, "_unserved": results.UnservedResult, "finding_object": results.FindingResult,
    "state_object": results.StateResult, "_lead": results.LeadResult, "_question": results.QuestionResult,
    "_exception": results.ExceptionResult, "_limit": results.LimitResult, "order_object": results.OrderResult,
    "readings_object": results.ReadingsResult,
}  # fmt: skip


@pytest.mark.parametrize("function", _MODELS)
def test_the_models_have_the_keys_that_are_printed(function: str) -> None:
    car = {"vehicle", "choice", "kit", "kit_revision"} if function in {"match_object", "readings_object"} else set()
    printed = {key for key in keys_of(function) if "." not in key} | car
    assert set(_MODELS[function].model_fields) == printed
