"""The command `rehearse` from outside: what it prints, writes and returns."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from loomwright.cli.main import BAD_INPUT, FINDINGS, OK, main

TRUCK = ("vehicles/norbeck-ploughline.yaml", "kits/dunlin-7.yaml")
SIX = ("--with", "engine=6.1", "year=2008", "cab=regular", "trim=farm")
SEDAN = ("vehicles/kestrin-fallow.yaml", "kits/rookery-4.yaml")
V6 = ("--with", "engine=3.3", "year=2014", "body=sedan", "trim=touring")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("rehearse") / "shop"
    assert main(["demo", str(folder)]) == OK
    return folder


def _run(shop: Path, pair: tuple[str, str], *words: str) -> int:
    return main(["rehearse", *(str(shop / name) for name in pair), *words])


def _object(capsys: pytest.CaptureFixture[str]) -> Any:
    seen = capsys.readouterr()
    assert seen.err == ""
    return json.loads(seen.out)


def test_exploration_prints_properties_and_silent_faults(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert _run(shop, SEDAN, *V6, "--scenario", "warm", "--explore", "--json") == OK
    found = _object(capsys)
    assert {"properties", "states", "transitions", "silent_faults"} <= found.keys()
    assert all(p["holds"] and p["story"] == [] for p in found["properties"])
    assert found["states"] > 500
    assert {f["function"] for f in found["silent_faults"]} >= {"brake", "hood switch"}
    assert all(f["revealed_by"] for f in found["silent_faults"])


def test_every_scenario_is_rehearsed_where_none_is_named(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert _run(shop, SEDAN, *V6, "--json") == OK
    found = _object(capsys)
    assert len(found["scenarios"]) >= 15
    assert found["properties"] == []
    assert all(v["holds"] for s in found["scenarios"] for v in s["verdicts"])


def test_a_scenario_that_goes_wrong_is_a_finding_with_its_picture(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture, chart = tmp_path / "cold.svg", tmp_path / "wait.svg"
    words = (*SIX, "--scenario", "cold-by-time", "--svg", str(picture), "--chart", str(chart))
    assert _run(shop, TRUCK, *words) == FINDINGS
    assert "the engine never" in " ".join(capsys.readouterr().out.split())
    assert picture.read_text(encoding="utf-8").startswith("<svg")
    assert "set to 12 s" in chart.read_text(encoding="utf-8")


def test_pictures_are_written_in_the_language_that_is_asked_for(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture, chart = tmp_path / "cold.svg", tmp_path / "wait.svg"
    words = (*SIX, "--scenario", "cold", "--language", "fr", "--svg", str(picture), "--chart", str(chart))
    assert _run(shop, TRUCK, *words) == OK
    assert "tr/min" in capsys.readouterr().out
    drawn, waits = picture.read_text(encoding="utf-8"), chart.read_text(encoding="utf-8")
    shown = re.findall(r">([^<]+)</text>", drawn)
    assert {"le démarreur tourne", "[tr/min]"} <= set(shown)
    assert [text for text in shown if re.fullmatch(r"\d+,\d s", text)]
    assert [text for text in shown if re.search(r"\d\.\d", text)] == []
    assert "starter turns" not in drawn
    assert "le kit attend" in waits
    assert "the kit waits" not in waits


def test_what_another_setting_would_do_is_no_finding_of_this_one(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert _run(shop, TRUCK, *SIX, "--json") == OK
    wrong = {s["id"] for s in _object(capsys)["scenarios"] for v in s["verdicts"] if not v["holds"]}
    assert wrong == {"cold-by-time"}


def test_plain_words_say_which_wire_would_leave_the_car_unprotected(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(shop, SEDAN, *V6, "--scenario", "warm", "--explore") == OK
    said = " ".join(capsys.readouterr().out.split())
    assert "If the HOOD lead (grey/blue) has come off" in said
    assert "It would show nothing with a foot on the brake pedal" in said


def test_an_unknown_scenario_is_told_with_those_there_are(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(shop, SEDAN, *V6, "--scenario", "tepid") == BAD_INPUT
    said = capsys.readouterr().err
    assert "'tepid'" in said
    assert "takeover" in said


def test_a_petrol_car_has_no_chart_and_a_missing_folder_no_picture(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(shop, SEDAN, *V6, "--scenario", "warm", "--chart", str(tmp_path / "c.svg")) == BAD_INPUT
    assert "expected a diesel" in capsys.readouterr().err
    assert _run(shop, SEDAN, *V6, "--scenario", "warm", "--svg", str(tmp_path / "no" / "t.svg")) == BAD_INPUT
    assert "name a file in a folder that exists" in capsys.readouterr().err


def test_a_refused_kit_has_no_start(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    manual = ("vehicles/larkholm-oxgate.yaml", "kits/dunlin-7.yaml")
    words = ("--with", "gearbox=manual", "engine=2.9", "year=2011", "body-style=new", "trim=work")
    assert _run(shop, manual, *words, "--json") == FINDINGS
    found = _object(capsys)
    assert found["refusal"] == "manual-gearbox"
    assert found["scenarios"] == []
