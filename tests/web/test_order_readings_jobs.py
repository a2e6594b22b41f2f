"""The order check, the readings with their verdicts, the jobs with what went out, and the search."""

import re
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.papers.bench_page import readings_none
from loomwright.papers.blocks import Quantity, ReadingField, Verdict
from loomwright.papers.job import Job
from loomwright.papers.judging import judge, typed_volts
from loomwright.papers.reading_fields import reading_field
from loomwright.store.store import Store
from tests.demonstration import BASE, installation, shop
from tests.web.conftest import CAR, FIT, token_of

ORDER = "/order/kestrin-fallow/rookery-4"
ALL = "a.year=2013&a.body=sedan&a.engine=2.4&a.trim=base&a.order/keys=2&a.order/parked=street&a.order/place=elsewhere"


class TestOrder:
    def test_one_question_at_a_time_with_what_the_buyer_sees(self, demo: TestClient) -> None:
        text = demo.get(ORDER).text
        assert text.count("<legend>") == 1
        assert "Which model year is it?" in text
        assert "Not sure" in text

    def test_answers_come_to_a_verdict(self, demo: TestClient) -> None:
        text = demo.get(f"{ORDER}?{ALL}").text
        assert "Rookery 4 fits this Kestrin Fallow" in text
        assert "The kit in this car" in text
        assert f'href="{ORDER}?a.year=2013"' in text  # the second answer taken back

    def test_a_wrong_answer_is_told(self, demo: TestClient) -> None:
        page = demo.get(f"{ORDER}?a.year=1899")
        assert (page.status_code, "expected one of: 2011" in page.text) == (400, True)
        assert demo.get(f"{ORDER}?a.wings=2").status_code == 400

    def test_both_are_chosen_first(self, demo: TestClient) -> None:
        assert "Their car" in demo.get("/order").text
        assert demo.get("/order?vehicle=kestrin-fallow&kit=rookery-4").headers["location"] == ORDER
        assert demo.get("/order?vehicle=x&kit=y").status_code == 404


class TestReadings:
    def test_a_reading_gets_its_verdict(self, demo: TestClient) -> None:
        page = f"{FIT}/readings?{CAR}&joint=j:ignition/ignition/2&battery=12.6"
        text = demo.get(page).text
        name = next(n for n in re.findall(r'name="(r\.[^"]+)"', text) if "identify/key on (run)" in n)
        assert "Right" in demo.get(f"{page}&{quote(name)}=12.4").text
        assert "Not right" in demo.get(f"{page}&{quote(name)}=3,1").text
        assert "That is no voltage a meter shows." in demo.get(f"{page}&{quote(name)}=hot").text
        assert "<script>" not in demo.get(f"{page}&{quote(name)}=<script>").text

    def test_battery_and_joint_are_checked(self, demo: TestClient) -> None:
        assert "11 to 15 V" in demo.get(f"{FIT}/readings?{CAR}&battery=24").text
        assert demo.get(f"{FIT}/readings?{CAR}&joint=none").status_code == 400
        assert demo.get("/fit/kestrin-wainage/rookery-4/readings").status_code == 409

    def test_every_reading_of_a_sound_car_is_right(self) -> None:
        # What the network computes must be what the verdicts on the page call right.
        found = installation(BASE)
        table = readings(found, 12.6)
        job = Job(installation=found, proof=prove(found), readings=readings_none(found), shop=shop())
        joints = {j.id: j for j in found.joints}
        judged = 0
        for reading in table.readings:
            if reading.joint in joints and reading.band.driven:
                field = reading_field(job, joints[reading.joint], reading)
                said = judge(field, reading.band.nominal, 12.6)
                assert said is not None, reading.id
                assert said.good, reading.id
                judged += 1
        assert judged > 20

    def test_limits_count_as_volts_below_the_battery_where_they_are_relative(self) -> None:
        def volts(value: float) -> Quantity:
            return Quantity(value=value, unit="V", trace="t", digits=1)

        rows = (
            Verdict(low=None, high=volts(0.4), words="good", good=True),
            Verdict(low=volts(0.4), high=None, words="low", good=False),
        )
        field = ReadingField(
            id="r", clip="", probe="", state="", expect=(), relative=True, verdicts=rows, lamp="", lamp_allowed=False
        )
        # 12.6 - 12.2 is 0.4000000000000004 in binary; on a meter it is 0.4, and still right.
        good, low = judge(field, 12.2, 12.6), judge(field, 12.1, 12.6)
        assert good is not None
        assert low is not None
        assert (good.words, low.words) == ("good", "low")
        assert good.below == Quantity(value=0.4, unit="V", trace="reading:r", digits=2)

    @pytest.mark.parametrize(
        ("text", "volts"),
        [("12.4", 12.4), (" 12,4 V", 12.4), ("\u22120.1", -0.1), ("", None), ("1e9", None), ("nan", None), ("١", None)],
    )
    def test_what_somebody_types_is_read(self, text: str, volts: float | None) -> None:
        assert typed_volts(text) == volts


class TestJobs:
    def _make(self, client: TestClient, **more: str) -> str:
        sent = {"token": token_of(client), "vehicle": "kestrin-fallow",
                "kit": "rookery-4", **dict(pair.split("=") for pair in CAR.split("&")), **more}  # fmt: skip
        found = client.post("/jobs", data=sent)
        assert found.status_code == 303, found.text
        return str(found.headers["location"])

    def test_a_job_gets_a_serial_and_keeps_the_buyer_apart(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        assert "Give it a serial" in client.get(f"/jobs/new?vehicle=kestrin-fallow&kit=rookery-4&{CAR}").text
        path = self._make(client, buyer="A. Buyer", contact="07700 900123", note="wants it blue <b>")
        assert path == "/jobs/2026-0001"
        text = client.get(path).text
        assert "For A. Buyer." in text
        assert "wants it blue &lt;b&gt;" in text
        assert "Buyer" not in store.latest("job", "2026-0001").text
        assert "2026-0001" in client.get("/jobs").text
        assert "2026-0001" in client.get("/").text
        assert self._make(client) == "/jobs/2026-0002"

    def test_a_guide_stays_as_it_went_out(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        path = self._make(client)
        assert "None yet." in client.get(path).text
        assert client.post(f"{path}/issue", data={"token": token_of(client, path)}).status_code == 303
        name = f"{path}/issues/2026-0001.1/guide-2026-0001.html"
        first = client.get(name)
        assert first.status_code == 200
        assert "2026-0001" in first.text
        base = store.latest("vehicle", "kestrin-fallow")
        changed = base.text.replace("colour: pink", "colour: violet")
        assert changed != base.text
        store.save("vehicle", "kestrin-fallow", changed, by=base.by, base=base)
        assert client.get(name).content == first.content
        assert client.get(f"{path}/issues/2026-0001.1/guide-2026-0001-a4.pdf").content.startswith(b"%PDF-")
        assert client.get(f"{path}/issues/2026-0001.1/none.html").status_code == 404
        assert client.get("/jobs/2026-0009/issues/2026-0001.1/guide-2026-0001.html").status_code == 404

    def test_readings_are_kept_with_the_job(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        path = self._make(client)
        assert "Keep these readings with the job" in client.get(f"{path}/readings").text
        sent = {"token": token_of(client, path), "battery": "12.5", 'r.j:x@"y': "12.1\n: {evil"}
        assert client.post(f"{path}/readings", data=sent).status_code == 303
        assert client.post(f"{path}/readings", data={"token": sent["token"]}).status_code == 400
        kept = store.records("reading", "2026-0001")
        assert [e.id for e in kept] == ["2026-0001.1"]
        assert "12.1: {evil" in store.at(kept[0].number).text
        assert "2026-0001.1" in client.get(path).text

    def test_a_refused_kit_is_not_sold(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        sent = {"token": token_of(client), "vehicle": "kestrin-wainage", "kit": "rookery-4"}
        assert client.post("/jobs", data=sent).status_code == 409
        assert store.count("job") == 0
        assert client.get("/jobs/2026-0001").status_code == 404
        assert client.get("/jobs/2026-0001/readings").status_code == 404


class TestSearch:
    def test_what_is_kept_is_found(self, demo: TestClient) -> None:
        text = demo.get("/search?q=rookery").text
        assert 'href="/kits/rookery-4"' in text
        assert 'href="/vehicles/kestrin-fallow"' in demo.get("/search?q=fallow+evidence").text

    def test_nothing_and_nonsense(self, demo: TestClient) -> None:
        assert "Nothing kept here" in demo.get("/search?q=zzzzzz").text
        assert "whatever you remember" in demo.get("/search").text
        for words in ("%22", "*", "a' OR '1'='1", "<script>alert(1)</script>", "x" * 5000, "(", "AND", "\x00"):
            page = demo.get("/search", params={"q": words})
            assert page.status_code == 200
            assert "<script>alert" not in page.text
